//! A small knowledge that loads, and answers for it: what is spoiled in it is read on, where the whole knowledge would
//! take too long.

use std::fs;
use std::path::Path;

/// Answers a case of the small knowledge is made of.
pub(crate) const ANSWERS: &str = "complaint = \"weak-heat\"\nequipment = \"heater\"\n[facts]\nrated-current = \"20 A\"\n\
                                  metal = \"copper\"\n[answers]\nburnt-smell = \"nothing\"\nelement-current = \"12 A\"\n\
                                  joint-drop = \"250 mV\"\n";

/// The sound folder of the bad examples names a calculation only their own tests have; here it is one of the program.
const IN_TESTS: [(&str, &str); 6] = [
    ("\"share-check\"", "\"room-unit-circuit\""),
    ("measured = \"test", "unit-running-current = \"test"),
    ("rated = \"fact", "protective-device-rating = \"fact"),
    ("\"over\"", "\"too-much\""),
    ("{limit}", "{least-circuit}"),
    ("usual = 0.1\ndefect", "usual = 0.09\ndefect"),
];

const ONE_MORE_OUTCOME: &str =
    "\n[[test.current-against-rating.outcome]]\nid = \"worked-out\"\nlabel = \"Worked out\"\nusual = 0.01\n";

/// Makes a copy of the sound folder loadable.
pub(crate) fn mend(folder: &Path) {
    let path = folder.join("tests/bench.toml");
    let mut text = fs::read_to_string(&path).expect("text");
    for (from, to) in IN_TESTS {
        assert_eq!(text.matches(from).count(), 1, "{from}");
        text = text.replace(from, to);
    }
    fs::write(path, text + ONE_MORE_OUTCOME).expect("written");
}
