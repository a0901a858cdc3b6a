//! Characters that steer a terminal instead of being read, made visible: the one gate before every screen and stream.
//!
//! Notes, file names, case files, answer files and knowledge come from elsewhere. An escape sequence in them could clear
//! the screen or rename the window, a change of direction could turn a figure around, and what has no width could hide
//! a word. Each is written as `\u001b`, the form of JSON, so that the text stays what it was where a program reads it.

use std::borrow::Cow;
use std::fmt::Write;

/// Makes every character visible that steers a terminal or cannot be seen; line ends and tabs stay.
#[must_use]
pub fn visible(text: &str) -> Cow<'_, str> {
    written(text, |_| None)
}

/// The same, but sequences that only set weight and color stay: those of our own marks.
///
/// For text whose data went through [`visible`] before it was marked.
#[must_use]
pub fn visible_beside_marks(text: &str) -> Cow<'_, str> {
    written(text, mark)
}

/// The length in bytes of a sequence at the start of a text that sets weight or color and nothing else.
fn mark(text: &str) -> Option<usize> {
    let inner = text.strip_prefix("\u{1b}[")?;
    let figures = inner.find(|c: char| !c.is_ascii_digit() && c != ';')?;
    inner[figures..].starts_with('m').then_some(2 + figures + 1)
}

fn written(text: &str, kept: impl Fn(&str) -> Option<usize>) -> Cow<'_, str> {
    if !text.chars().any(steers) {
        return Cow::Borrowed(text);
    }
    let mut seen = String::with_capacity(text.len() + 16);
    let mut rest = text;
    while let Some(letter) = rest.chars().next() {
        let length = letter.len_utf8();
        if let Some(kept) = kept(rest) {
            seen.push_str(&rest[..kept]);
            rest = &rest[kept..];
            continue;
        }
        // A line end of another system is a line end.
        if steers(letter) && !rest.starts_with("\r\n") {
            for unit in letter.encode_utf16(&mut [0; 2]) {
                // Writing to a string cannot fail.
                let _ = write!(seen, "\\u{unit:04x}");
            }
        } else {
            seen.push(letter);
        }
        rest = &rest[length..];
    }
    Cow::Owned(seen)
}

/// Controls (C0, delete, C1), marks and changes of direction, what has no width, other line ends, and tags.
///
/// *Source* Unicode 16.0: general category Cc; Bidi_Control and Default_Ignorable_Code_Point of the character
/// database (variation selectors apart, which only choose a picture). List from memory.
fn steers(letter: char) -> bool {
    match letter {
        '\n' | '\t' => false,
        letter if letter.is_control() => true,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' | '\u{180e}' => {
            true
        }
        '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' => true,
        '\u{3164}' | '\u{feff}' | '\u{ffa0}' | '\u{fff0}'..='\u{fffb}' => true,
        '\u{1bca0}'..='\u{1bca3}' | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e00ff}' => true,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::{visible, visible_beside_marks};

    #[test]
    fn what_steers_a_terminal_is_written_out() {
        assert_eq!(visible("a\u{1b}]0;t\u{7}b"), "a\\u001b]0;t\\u0007b");
        assert_eq!(visible("x\ry\r\nz\tq"), "x\\u000dy\r\nz\tq");
        assert_eq!(visible("\u{9b}2J\u{7f}"), "\\u009b2J\\u007f");
        assert_eq!(
            visible("12\u{202e}34\u{2066}\u{200b}\u{feff}"),
            "12\\u202e34\\u2066\\u200b\\ufeff"
        );
        assert_eq!(visible("\u{e0041}"), "\\udb40\\udc41");
        assert_eq!(visible("Ω µ 35 °C, \u{e9}"), "Ω µ 35 °C, \u{e9}");
    }

    #[test]
    fn only_marks_of_weight_and_color_stay_beside_them() {
        let marked = "\u{1b}[1;31mSTOP\u{1b}[0m";
        assert_eq!(visible_beside_marks(marked), marked);
        assert_eq!(
            visible_beside_marks("\u{1b}[2J\u{1b}[?25l"),
            "\\u001b[2J\\u001b[?25l"
        );
        assert_eq!(visible(marked), "\\u001b[1;31mSTOP\\u001b[0m");
    }

    /// What is written out inside a JSON text reads back as what it was.
    #[test]
    fn json_stays_the_same_for_who_reads_it() {
        let text = "a\u{1b}[1m\u{202e}\u{9b}\u{7f}\u{e0041}";
        let json = serde_json::to_string(text).unwrap();
        let read: String = serde_json::from_str(&visible(&json)).unwrap();
        assert_eq!(read, text);
    }
}
