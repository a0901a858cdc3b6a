//! The pages of a case: well-formed, nothing from outside, nothing of a case becomes markup, each reader finds what he
//! needs, plain words for the customer, contrast, and one sheet of paper where one is promised.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::convert::Infallible;
use std::fs;
use std::path::Path;
use std::process::Command;

use jiff::Timestamp;
use lineside::drawing::case;
use lineside::knowledge::exposure::Exposure;
use lineside::knowledge::model::{Knowledge, NodeKind, State};
use lineside::knowledge::{self, readability};
use lineside::quantity::Word;
use lineside::report::layout::Layout;
use lineside::report::page::{Block, Page, Reader, plain, render};
use lineside::report::{AcceptedShown, CaseResult, ClosedShown, GivenShown, Spot, VisitShown};
use lineside::walk::{AnswerFile, Event, Walk, drive};
use roxmltree::{Document, ParsingOptions};

fn walked<'k>(knowledge: &'k Knowledge, text: &str) -> Walk<'k> {
    let mut answers = AnswerFile::parse(text, knowledge).unwrap();
    let mut walk = Walk::new(knowledge);
    drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(())).unwrap();
    walk
}

fn example(knowledge: &Knowledge, name: &str) -> CaseResult {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name);
    CaseResult::new(&walked(knowledge, &fs::read_to_string(path).unwrap())).unwrap()
}

fn examples() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.ends_with(".toml"))
        .collect();
    names.sort();
    names
}

fn page(result: &CaseResult, reader: Reader) -> String {
    case::write(&Page::new(result, reader, Timestamp::UNIX_EPOCH), result)
}

fn parse(page: &str) -> Document<'_> {
    let options = ParsingOptions {
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    Document::parse_with_options(page, options).unwrap()
}

/// The text a person reads: of elements that are shown.
fn text_of(document: &Document<'_>) -> String {
    document
        .descendants()
        .filter(|node| node.is_text())
        .filter(|node| {
            !node
                .ancestors()
                .any(|above| matches!(above.tag_name().name(), "style" | "head"))
        })
        .filter_map(|node| node.text())
        .collect::<Vec<_>>()
        .join(" ")
}

/// The words with every probability taken out: they move with each edit of the knowledge.
fn without_shares(words: &str) -> String {
    let word = |word: &str| {
        let share = word.trim_start_matches('(');
        let is_share = !share.is_empty() && share.chars().all(|c| c.is_ascii_digit() || c == '.');
        is_share.then(|| word.replace(share, "[share]"))
    };
    let line = |line: &str| {
        let words: Vec<&str> = line.split(' ').collect();
        let shown = words.iter().enumerate().map(|(place, text)| {
            let is_before = words.get(place + 1).is_some_and(|next| next.starts_with('%'));
            word(text)
                .filter(|_| is_before)
                .unwrap_or_else(|| (*text).to_owned())
        });
        shown.collect::<Vec<_>>().join(" ")
    };
    words.lines().map(line).collect::<Vec<_>>().join("\n")
}

/// What each reader reads on the page of one case, an element a line.
#[test]
fn the_words_of_each_page() {
    let knowledge = knowledge::embedded().unwrap();
    let result = example(&knowledge, "attic-at-noon.toml");
    for reader in Reader::ALL.iter().copied() {
        let page = page(&result, reader);
        let document = parse(&page);
        let lines: Vec<String> = document
            .descendants()
            .filter(|node| {
                node.is_element() && node.ancestors().all(|above| above.tag_name().name() != "head")
            })
            .map(|node| {
                let own = node.children().filter(roxmltree::Node::is_text);
                own.filter_map(|text| text.text()).collect::<Vec<_>>().join(" ")
            })
            .map(|text| text.split_whitespace().collect::<Vec<_>>().join(" "))
            .filter(|text| !text.is_empty())
            .collect();
        let words = lines.join("\n").replace(&knowledge.fingerprint, "[fingerprint]");
        insta::assert_snapshot!(
            format!("words-for-{reader:?}").to_lowercase(),
            without_shares(&words)
        );
    }
}

#[test]
fn every_page_of_every_example_is_well_formed_and_takes_nothing_from_outside() {
    let knowledge = knowledge::embedded().unwrap();
    for name in examples() {
        let result = example(&knowledge, &name);
        for reader in Reader::ALL.iter().copied() {
            let page = page(&result, reader);
            let document = parse(&page);
            for element in document.descendants().filter(roxmltree::Node::is_element) {
                let tag = element.tag_name().name();
                assert!(
                    !["script", "link", "iframe", "object", "embed", "base", "form", "a"].contains(&tag),
                    "{name}: {tag}"
                );
                for attribute in element.attributes() {
                    assert!(
                        !attribute.name().starts_with("on"),
                        "{name}: {}",
                        attribute.name()
                    );
                    assert!(attribute.name() != "href", "{name}: a link");
                    if attribute.name() == "src" {
                        assert!(attribute.value().starts_with("data:image/jpeg;base64,"), "{name}");
                    }
                }
            }
            assert!(!case::STYLE.contains("url(") && !case::STYLE.contains("@import"));
        }
    }
}

/// Markup, quotes, escapes, changes of direction, schemes, and what only XML minds.
const HOSTILE: &str = "</p><script>alert(1)</script>\\\" onload='x' &amp; ]]> <!-- javascript:alert(2) \
                       data:text/html,<b> \\u001b[2J\\u001b]0;own\\u0007 \\u202eevil\\u2066 \\u200b \\u009b31m \\ufffe \\uffff \\u0000x";

#[test]
fn nothing_of_a_note_becomes_markup_or_steers() {
    let knowledge = knowledge::embedded().unwrap();
    // TOML takes no null character, so that one stands as text.
    let note = HOSTILE.replace("\\u0000", "NUL");
    let text = format!(
        "complaint = \"breaker-opens\"\nequipment = \"room-unit\"\nnote = \"{note}\"\n[facts]\nprotective-device-rating = \
         \"15 A\"\ncircuit-loads = \"<img src=x onerror=alert(3)> 6; \\u202elamp 1.5\"\n[answers]\nhazard-look = \"none\"\n"
    );
    let result = CaseResult::new(&walked(&knowledge, &text)).unwrap();
    assert!(result.notes[0].contains("<script>"), "the note arrived as it is");
    for reader in Reader::ALL.iter().copied() {
        let page = page(&result, reader);
        let document = parse(&page);
        assert!(document.descendants().all(|node| {
            !["script", "b0", "onerror"].contains(&node.tag_name().name())
                && node
                    .attributes()
                    .all(|attribute| !attribute.name().starts_with("on"))
        }));
        for raw in [
            '\u{1b}', '\u{202e}', '\u{2066}', '\u{200b}', '\u{9b}', '\u{fffe}', '\u{ffff}', '\u{7}',
        ] {
            assert!(!page.contains(raw), "{reader:?}: {raw:?}");
        }
        assert!(!page.contains("<script") && !page.contains("<img"), "{reader:?}");
        if reader == Reader::Manager {
            let shown = text_of(&document);
            assert!(
                shown.contains("</p><script>alert(1)</script>"),
                "it is shown as it was written: {shown}"
            );
            assert!(
                shown.contains("\\u001b[2J") && shown.contains("\\u202eevil"),
                "{shown}"
            );
        }
    }
}

#[test]
fn nothing_of_a_case_steers_the_terminal() {
    let knowledge = knowledge::embedded().unwrap();
    let text = "complaint = \"breaker-opens\"\nequipment = \"room-unit\"\nnote = \"\\u001b[2J\"\n[facts]\n\
                circuit-loads = \"\\u001b[2J\\u0007 6; \\u202elamp 1.5\"\nprotective-device-rating = \"15 A\"\n\
                unit-running-current = \"14 A\"\n[answers]\nhazard-look = \"none\"\n";
    let result = CaseResult::new(&walked(&knowledge, text)).unwrap();
    let layout = Layout {
        width: 80,
        color: false,
    };
    for reader in Reader::ALL.iter().copied() {
        let text = render(
            &Page::new(&result, reader, Timestamp::UNIX_EPOCH),
            &result,
            layout,
        );
        for raw in ['\u{1b}', '\u{7}', '\u{202e}'] {
            assert!(!text.contains(raw), "{reader:?}: {raw:?}");
        }
        assert_eq!(
            text.contains("\\u202elamp"),
            reader != Reader::Customer,
            "{reader:?}: {text}"
        );
    }
}

/// An open neutral of the service is beyond the meter and still the first thing an electrician is called for.
#[test]
fn what_is_beyond_the_meter_is_on_the_electricians_page_too() {
    let knowledge = knowledge::embedded().unwrap();
    let result = example(&knowledge, "two-boards-later.toml");
    let electrician = page(&result, Reader::Electrician);
    assert!(electrician.contains(": Open or loose service neutral"));
    assert!(!electrician.contains("nothing on the line side has to be corrected"));
    assert!(page(&result, Reader::Customer).contains("1. Unplug televisions, computers"));
}

#[test]
fn the_diagram_carries_readings_at_their_places_and_marks_the_suspected_spot() {
    let knowledge = knowledge::embedded().unwrap();
    let result = example(&knowledge, "unit-behind-the-barn.toml");
    let at = |spot: Spot| {
        result
            .one_line
            .stations
            .iter()
            .find(|station| station.spot == spot)
            .unwrap()
    };
    assert!(
        at(Spot::Panel)
            .readings
            .iter()
            .any(|line| line == "unit running: 240 V")
    );
    assert!(
        at(Spot::Disconnect)
            .readings
            .iter()
            .any(|line| line == "unit running: 231 V")
    );
    assert!(
        at(Spot::Conductors)
            .ratings
            .iter()
            .any(|line| line.ends_with("190 ft"))
    );
    // (241 - 231) V less (241 - 240) V over 18.8 A, by hand: 0.4787 ohm from panel to disconnect.
    assert!(
        at(Spot::Conductors)
            .worked_out
            .iter()
            .any(|line| line == "panel to disconnect: 0.479 ohm")
    );
    assert!(!at(Spot::Conductors).suspects.is_empty());
    let page = page(&result, Reader::Electrician);
    let document = parse(&page);
    let marked: Vec<String> = document
        .descendants()
        .filter(|node| {
            node.attribute("class")
                .is_some_and(|class| class.contains("o-suspected"))
        })
        .map(|node| {
            node.descendants()
                .filter_map(|inner| inner.text())
                .collect::<Vec<_>>()
                .join(" ")
        })
        .collect();
    assert_eq!(marked.len(), 1, "{marked:?}");
    assert!(
        marked[0].contains("Circuit conductors") && marked[0].contains("SUSPECTED"),
        "{marked:?}"
    );
}

#[test]
fn the_electrician_finds_each_figure_with_basis_and_what_showed_it() {
    let knowledge = knowledge::embedded().unwrap();
    let result = example(&knowledge, "larger-heat-pump-old-wire.toml");
    let page = page(&result, Reader::Electrician);
    let document = parse(&page);
    let cards: Vec<String> = document
        .descendants()
        .filter(|node| node.tag_name().name() == "article")
        .map(|node| text_of_node(&node))
        .collect();
    let card = |title: &str| {
        cards
            .iter()
            .find(|card| card.contains(title))
            .unwrap_or_else(|| panic!("{title}: {cards:#?}"))
    };
    for (title, wants) in [
        (
            "Conductor too small for the nameplate",
            &["Must be", "Shown by", "10 AWG", "Basis", "NEC"][..],
        ),
        (
            "Breaker or fuse below what the unit needs",
            &["Must be", "30 A", "33.1 A", "Basis", "NEC"],
        ),
        (
            "Branch-circuit conductor for the nameplate",
            &["Must be", "AWG or larger", "Is now", "10 AWG", "Limit", "margin"],
        ),
    ] {
        for want in wants {
            assert!(
                card(title).contains(want),
                "{title} lacks {want}: {}",
                card(title)
            );
        }
    }
}

fn text_of_node(node: &roxmltree::Node<'_, '_>) -> String {
    node.descendants()
        .filter_map(|inner| inner.text())
        .collect::<Vec<_>>()
        .join(" ")
}

/// Words of the trade, of electricity and of statistics that a customer would have to ask about, by their beginnings.
const NOT_FOR_CUSTOMERS: &[&str] = &[
    "amp",
    "volt",
    "ohm",
    "neutral",
    "conductor",
    "disconnect",
    "contactor",
    "capacitor",
    "compressor",
    "receptacle",
    "nameplate",
    "terminal",
    "transformer",
    "relay",
    "circuit",
    "overcurrent",
    "probab",
    "percent",
    "awg",
    "branch",
    "lug",
    "splice",
    "whip",
    "winding",
    "sequencer",
    "condenser",
    "refrigerant",
    "inverter",
    "hvac",
];

/// The first word of a text that is not for customers.
fn trade_word(text: &str) -> Option<String> {
    let lower = text.to_lowercase();
    if lower.contains('%') {
        return Some("%".to_owned());
    }
    lower
        .split(|letter: char| !letter.is_alphanumeric())
        .find(|word| NOT_FOR_CUSTOMERS.iter().any(|begins| word.starts_with(begins)))
        .map(str::to_owned)
}

/// The reading level plain-language guides for the public ask for: grade 6 to 8.
///
/// *Source* National Institutes of Health, "Clear Communication: Clear & Simple" (grade 6 to 7), and the measure in
/// `knowledge/readability.rs`; both from memory.
const HIGHEST_GRADE: f64 = 8.0;

#[test]
fn the_customer_reads_plain_words_without_figures() {
    let knowledge = knowledge::embedded().unwrap();
    for name in examples() {
        let result = example(&knowledge, &name);
        let page = Page::new(&result, Reader::Customer, Timestamp::UNIX_EPOCH);
        let markup = case::write(&page, &result);
        let document = parse(&markup);
        let main = document
            .descendants()
            .find(|node| node.tag_name().name() == "main")
            .unwrap();
        let paragraphs: Vec<String> = main
            .descendants()
            .filter(|node| matches!(node.tag_name().name(), "p" | "li"))
            .map(|node| text_of_node(&node))
            .collect();
        let shown = paragraphs.join(" ");
        assert_eq!(trade_word(&shown), None, "{name}: {shown}");
        let grade = readability::measure(&shown, |_| false).grade;
        assert!(
            grade <= HIGHEST_GRADE,
            "{name} reads like school year {grade:.1}: {shown}"
        );
    }
}

/// Readers took an answer for a contradiction that the cause nearly always brings, only because a rival brings it too.
#[test]
fn what_a_cause_brings_as_often_as_usual_does_not_stand_against_it() {
    let knowledge = knowledge::embedded().unwrap();
    let mut looked_at = 0;
    for name in examples() {
        for standing in &example(&knowledge, &name).standing {
            let index = knowledge.cause(&standing.cause).unwrap();
            for against in &standing.against {
                let test = &knowledge.tests[knowledge.test(&against.test).unwrap()];
                let outcome = &test.outcomes[test.outcome(&against.outcome).unwrap()];
                let Some((_, chance)) = outcome.finds.iter().find(|(of, _)| *of == index) else {
                    continue;
                };
                looked_at += 1;
                assert!(
                    *chance < outcome.usual,
                    "{name}: {} against {}, met in {chance}, usually in {}",
                    against.text,
                    standing.cause,
                    outcome.usual
                );
            }
        }
    }
    assert!(looked_at > 3, "{looked_at}");
}

/// Every live test stands with who made it, in which state, and when its cautions were accepted, or that they were not.
#[test]
fn the_manager_sees_live_work_with_its_cautions() {
    let knowledge = knowledge::embedded().unwrap();
    let mut result = example(&knowledge, "one-side-of-the-house.toml");
    let minute = |minutes: i64| Timestamp::from_second(minutes * 60).unwrap();
    for (number, one) in result.given.iter_mut().enumerate() {
        one.at = Some(minute(100 + i64::try_from(number).unwrap()));
    }
    result.head.opened = Some(minute(1));
    result.head.visits = vec![VisitShown {
        at: minute(1),
        technician: Some("Invented 07".to_owned()),
    }];
    let live = |result: &CaseResult| -> Vec<Vec<String>> {
        let page = Page::new(result, Reader::Manager, Timestamp::UNIX_EPOCH);
        let section = page
            .sections
            .iter()
            .find(|section| section.title.starts_with("Live work"));
        match section.unwrap().blocks.as_slice() {
            [Block::Table(table)] => table.rows.clone(),
            other => panic!("{other:?}"),
        }
    };
    let powered = |one: &&GivenShown| one.known && one.state.is_some_and(|state| state.is_powered());
    let made = result.given.iter().filter(powered).count();
    assert!(made > 0);
    let rows = live(&result);
    assert_eq!(rows.len(), made);
    for row in &rows {
        assert_eq!(row[1], "Invented 07");
        assert!(row[4].starts_with("NONE"), "{row:?}");
    }
    // Accepted for live parts before the first: that holds for live parts and for a running unit, not for a fire.
    result.head.accepted = vec![AcceptedShown {
        at: minute(50),
        state: State::Energised,
    }];
    for row in live(&result) {
        assert_eq!(
            row[4] == "1970-01-01 00:50",
            !row[2].contains("BURNER"),
            "{row:?}"
        );
    }
    // Accepted only afterward is not accepted before.
    result.head.accepted[0].at = minute(5000);
    assert!(live(&result).iter().all(|row| row[4].starts_with("NONE")));
}

/// Where several people came, each answer stands with the one on whose visit it was given; where one came, nothing is added.
#[test]
fn the_manager_sees_who_answered_where_several_came() {
    let knowledge = knowledge::embedded().unwrap();
    let mut result = example(&knowledge, "one-side-of-the-house.toml");
    let minute = |minutes: i64| Timestamp::from_second(minutes * 60).unwrap();
    let visit = |at: i64, name: Option<&str>| VisitShown {
        at: minute(at),
        technician: name.map(str::to_owned),
    };
    for (number, one) in result.given.iter_mut().enumerate() {
        one.at = Some(minute(100 + i64::try_from(number).unwrap()));
    }
    result.head.opened = Some(minute(1));
    let table = |result: &CaseResult| {
        let page = Page::new(result, Reader::Manager, Timestamp::UNIX_EPOCH);
        let title = "Answers and readings, in order";
        let section = page.sections.iter().find(|section| section.title == title);
        match section.unwrap().blocks.as_slice() {
            [Block::Table(table)] => (table.heads.clone(), table.rows.clone()),
            other => panic!("{other:?}"),
        }
    };
    result.head.visits = vec![visit(1, Some("Invented 07")), visit(50, Some("Invented 07"))];
    assert_eq!(table(&result).0, ["When", "Asked", "Answered"]);
    result.head.visits = vec![
        visit(1, Some("Invented 07")),
        visit(102, Some("Invented 08")),
        visit(103, None),
    ];
    let (heads, rows) = table(&result);
    assert_eq!(heads, ["When", "Who", "Asked", "Answered"]);
    let who: Vec<&str> = rows.iter().map(|row| row[1].as_str()).collect();
    assert_eq!(
        who[..4],
        ["Invented 07", "Invented 07", "Invented 08", "not named"]
    );
}

/// What is still to be proved must not read as if it were.
#[test]
fn a_proof_to_be_made_does_not_read_as_made() {
    let knowledge = knowledge::embedded().unwrap();
    let mut told = 0;
    for name in examples() {
        let result = example(&knowledge, &name);
        assert!(result.head.proofs.is_empty() && result.closed.is_none());
        told += usize::from(
            result
                .conclusion
                .text
                .contains("To prove the repair, once it is made:"),
        );
        for reader in Reader::ALL.iter().copied() {
            let text = text_of(&parse(&page(&result, reader))).to_lowercase();
            for done in ["proved by:", "proved by ", "is proved by"] {
                // "The first is proved or ruled out by" is no such claim and stands on no page.
                assert!(!text.contains(done), "{name}, {reader:?}: {done}");
            }
        }
    }
    assert!(told > 3, "{told}");
}

/// Whoever opens a disconnect that may be burnt reads one order of steps, which stands once, and the people there are told to
/// keep their hands off it.
#[test]
fn a_disconnect_that_may_be_burnt_is_opened_in_one_order() {
    let knowledge = knowledge::embedded().unwrap();
    let order = Exposure::Disconnect.caution();
    let at = |part: &str| order.find(part).unwrap_or_else(|| panic!("no {part}: {order}"));
    let steps = [
        "thermostat off",
        "breaker off and locked",
        "proved dead",
        "pull-out drawn",
    ];
    assert!(steps.map(at).is_sorted(), "{order}");
    for id in ["burnt-disconnect-pullout", "loose-disconnect-lug"] {
        let cause = &knowledge.causes[knowledge.cause(id).unwrap()];
        assert!(cause.caution.ends_with(order), "{id}");
        assert!(
            plain::meanwhile(id)
                .unwrap()
                .contains("do not touch its shut-off switch"),
            "{id}"
        );
    }
    let look = &knowledge.tests[knowledge.test("disconnect-look").unwrap()];
    assert!(look.caution.ends_with(order));
    // Nobody is told to pull anything before that.
    assert!(
        look.how.iter().all(|step| !step.contains("pull-out")),
        "{:?}",
        look.how
    );
}

/// The 24 V side hangs on the unit only where it is fed there.
#[test]
fn the_24_v_side_hangs_on_no_unit_it_is_not_fed_at() {
    let knowledge = knowledge::embedded().unwrap();
    let mut seen = [0, 0];
    for equipment in &knowledge.equipment {
        let text = format!(
            "complaint = \"breaker-opens\"\nequipment = \"{}\"\n[answers]\nhazard-look = \"none\"\n",
            equipment.id
        );
        let Some(result) = CaseResult::new(&walked(&knowledge, &text)) else {
            continue;
        };
        let apart = equipment.parts.iter().any(|part| part == "outdoor-control-cable");
        assert_eq!(result.one_line.control_apart, apart, "{}", equipment.id);
        let page = page(&result, Reader::Manager);
        assert_eq!(
            page.contains("class=\"o-line o-dashed\""),
            !apart,
            "{}",
            equipment.id
        );
        seen[usize::from(apart)] += 1;
    }
    assert!(seen.iter().all(|count| *count > 3), "{seen:?}");
}

/// What a cause asks for until it is put right takes the place of no stop: a hold that was raised keeps it off all the same.
#[test]
fn what_is_done_meanwhile_stands_beside_leaving_it_off() {
    let knowledge = knowledge::embedded().unwrap();
    let mut result = example(&knowledge, "one-side-of-the-house.toml");
    result.held.clear();
    let without = sheet(&result);
    assert!(
        without.contains("One main wire may be loose") && !without.contains("Leave it off (Air conditioner)")
    );
    assert!(!without.contains("You may use it as usual"), "{without}");
    let held = example(&knowledge, "larger-heat-pump-old-wire.toml").held;
    result.held = held.into_iter().filter(|hold| !hold.from_start).collect();
    assert!(!result.held.is_empty());
    let with = sheet(&result);
    assert!(
        with.contains("One main wire may be loose") && with.contains("Leave it off (Air conditioner)"),
        "{with}"
    );
}

/// The customer's sheet as text.
fn sheet(result: &CaseResult) -> String {
    let layout = Layout {
        width: 400,
        color: false,
    };
    render(
        &Page::new(result, Reader::Customer, Timestamp::UNIX_EPOCH),
        result,
        layout,
    )
}

fn sheet_of(knowledge: &Knowledge, complaint: &str, equipment: &str, answers: &[(&str, &str)]) -> String {
    let answers: Vec<String> = answers
        .iter()
        .map(|(test, answer)| format!("{test} = \"{answer}\"\n"))
        .collect();
    let text = format!(
        "# Invented case.\ncomplaint = \"{complaint}\"\nequipment = \"{equipment}\"\n[answers]\n{}",
        answers.concat()
    );
    sheet(&CaseResult::new(&walked(knowledge, &text)).unwrap())
}

/// A contactor that chatters can weld whatever leads, and a callback of which nothing was looked at fits nothing yet.
#[test]
fn what_was_told_keeps_it_off_and_nothing_looked_at_fits_nothing() {
    let knowledge = knowledge::embedded().unwrap();
    let none = ("hazard-look", "none");
    for (complaint, answers) in [
        ("contactor-chatters", &[none][..]),
        ("lights-dim", &[none, ("sound-at-start", "contactor-buzz")]),
    ] {
        let text = sheet_of(&knowledge, complaint, "heat-pump", answers);
        assert!(
            !text.contains(USE_IT) && text.contains("Leave it off"),
            "{complaint}: {text}"
        );
    }
    let text = sheet_of(&knowledge, "contactor-chatters", "heat-pump", &[none]);
    assert!(text.contains("Leave it off at the thermostat"), "{text}");
    for complaint in [
        "weak-cooling-or-heating",
        "contactor-chatters",
        "lights-dim",
        "since-a-change",
    ] {
        let text = sheet_of(&knowledge, complaint, "heat-pump", &[]);
        assert!(!text.contains("does not fit any"), "{complaint}: {text}");
    }
    for (test, outcome) in plain::told_keeps_off() {
        let known = knowledge.test(test).map(|index| &knowledge.tests[index]);
        assert!(
            known.is_some_and(|test| test.outcome(outcome).is_some()),
            "{test}/{outcome}"
        );
    }
}

/// A winding that reads to ground is no fault of the ground wire, and three phases have three legs.
#[test]
fn a_low_reading_is_told_of_the_equipment_and_three_phases_have_three_legs() {
    let knowledge = knowledge::embedded().unwrap();
    let answers = "# Invented case.\ncomplaint = \"breaker-opens\"\nequipment = \"three-phase-split\"\n[answers]\n\
                   hazard-look = \"none\"\nunit-to-ground = \"low\"\n";
    let mut result = CaseResult::new(&walked(&knowledge, answers)).unwrap();
    let layout = Layout {
        width: 400,
        color: false,
    };
    let mut at_the_panel = result.clone();
    let panel = at_the_panel
        .standing
        .iter()
        .position(|one| one.cause == "loose-breaker-terminal");
    at_the_panel.standing.swap(0, panel.unwrap());
    at_the_panel.standing[0].probability = 0.9;
    let page = Page::new(&at_the_panel, Reader::Electrician, Timestamp::UNIX_EPOCH);
    let page = render(&page, &at_the_panel, layout);
    assert!(page.contains("leg 3 is"), "{page}");
    result.standing.clear();
    let text = sheet(&result);
    assert!(
        text.contains("inside the equipment can give an electric shock")
            && !text.contains("safety (ground) wire"),
        "{text}"
    );
}

/// What still stands behind the first cause keeps it off as well, and what is done until then comes from the worst.
#[test]
fn the_second_cause_keeps_it_off_too() {
    let knowledge = knowledge::embedded().unwrap();
    let mut result = example(&knowledge, "one-side-of-the-house.toml");
    result.held.clear();
    result.not_looked_at.clear();
    result.defects.clear();
    let mut second = result.standing[0].clone();
    result.standing[0].cause = "outdoor-fan-capacitor".to_owned();
    result.standing[0].caution.clear();
    result.standing[0].probability = 0.85;
    second.probability = 0.12;
    result.standing.truncate(1);
    result.standing.push(second);
    let text = sheet(&result);
    assert!(!text.contains(USE_IT) && text.contains("Leave it off"), "{text}");
    result.standing[0].cause = "loose-splice".to_owned();
    result.standing[0].probability = 0.55;
    result.standing[1].cause = "open-or-loose-service-neutral".to_owned();
    result.standing[1].probability = 0.40;
    let text = sheet(&result);
    let (call, fire) = (text.find("emergency line now"), text.find("start a fire"));
    assert!(call.is_some() && call < fire, "{text}");
}

const USE_IT: &str = "You may use it as usual";

/// It is signed and handed over: nobody is told to use what was not looked over, is held, or may hurt.
#[test]
fn nobody_is_told_to_use_what_is_not_known_to_be_safe() {
    let knowledge = knowledge::embedded().unwrap();
    let none = ("hazard-look", "none");
    let of = |complaint: &str, equipment: &str, answers: &[(&str, &str)]| {
        sheet_of(&knowledge, complaint, equipment, answers)
    };
    // Nothing looked at, or nobody sure of it.
    for answers in [&[][..], &[("hazard-look", "likely none")]] {
        let text = of("weak-cooling-or-heating", "split-air-conditioner", answers);
        assert!(
            !text.contains(USE_IT) && text.contains("until we have checked it"),
            "{text}"
        );
    }
    let text = of("weak-cooling-or-heating", "split-air-conditioner", &[none]);
    assert!(text.contains(USE_IT), "{text}");
    // A burner nobody looked at.
    let text = of("weak-cooling-or-heating", "gas-furnace", &[none]);
    assert!(
        !text.contains(USE_IT) && text.contains("gas and fumes yet. Leave it off"),
        "{text}"
    );
    for unsure in ["likely none", "none"] {
        let text = of(
            "display-blank",
            "gas-furnace",
            &[none, ("fuel-hazard-look", unsure)],
        );
        assert_eq!(text.contains(USE_IT), unsure == "none", "{text}");
    }
    // The complaint forbids it, however well all was proved.
    let proofs = [
        none,
        ("made-safe", "safe"),
        ("metal-volts-breaker-off", "0.2 V"),
        ("ground-conductor-look", "whole"),
        ("ground-resistance", "0.2 ohm"),
        ("unit-to-ground", "open"),
        ("unit-hot-to-hot", "no-short"),
        ("cable-to-ground", "clear"),
    ];
    for complaint in [
        "shock-or-hot-metal",
        "ground-fault-device-opens",
        "part-burnt",
        "breaker-opens",
    ] {
        let own: Vec<_> = proofs
            .into_iter()
            .filter(|(test, _)| *test != "fuel-hazard-look")
            .collect();
        let text = of(complaint, "split-air-conditioner", &own);
        assert!(!text.contains(USE_IT), "{complaint}: {text}");
    }
    let text = of("flame-lost", "gas-furnace", &[none, ("fuel-hazard-look", "none")]);
    assert!(!text.contains(USE_IT), "{text}");
    // A cause that burns, though no defect and no hold says so.
    let mut result = example(&knowledge, "two-contactors-for-one-fuse.toml");
    assert!(sheet(&result).contains(USE_IT), "{}", sheet(&result));
    result.standing[0].cause = "undersized-branch-conductor".to_owned();
    assert!(!sheet(&result).contains(USE_IT), "{}", sheet(&result));
}

/// That it runs now proves nothing about what it was stopped for; and what was repaired without proof is still held.
#[test]
fn a_closed_case_with_a_stop_does_not_read_as_checked() {
    let knowledge = knowledge::embedded().unwrap();
    let closed = |proved| ClosedShown {
        cause: Some("rollout-or-burner-safety-opening".to_owned()),
        name: "invented".to_owned(),
        proved,
        text: "runs now".to_owned(),
        standing: Vec::new(),
        cleared: Vec::new(),
    };
    let answers = "# Invented case.\ncomplaint = \"flame-lost\"\nequipment = \"gas-furnace\"\n[answers]\nhazard-look = \"none\"\n";
    let fumes = format!("{answers}fuel-hazard-look = \"fumes\"\n");
    let mut result = CaseResult::new(&walked(&knowledge, &fumes)).unwrap();
    result.closed = Some(closed(true));
    let text = sheet(&result);
    assert!(
        !text.contains("We checked") && text.contains("still holds, until somebody has written"),
        "{text}"
    );
    let held = format!("{answers}fuel-hazard-look = \"none\"\nunit-to-ground = \"low\"\n");
    let mut result = CaseResult::new(&walked(&knowledge, &held)).unwrap();
    result.closed = Some(closed(false));
    result.defects.clear();
    assert!(
        !result.held.is_empty() && !sheet(&result).contains(USE_IT),
        "{}",
        sheet(&result)
    );
}

/// Nothing reads as repaired where nobody wrote a repair down; what no proof says was put right, gas and fumes above all, stays on the
/// sheet; and what was cleared is signed for.
#[test]
fn a_closed_case_claims_no_more_than_was_written_down() {
    let knowledge = knowledge::embedded().unwrap();
    let closed = |cause: &str, proved| ClosedShown {
        cause: Some(cause.to_owned()),
        name: "invented".to_owned(),
        proved,
        text: String::new(),
        standing: vec!["a smell of gas".to_owned()],
        cleared: vec!["a wet cable: dried, and it reads open".to_owned()],
    };
    let told = "# Invented case.\ncomplaint = \"part-burnt\"\nequipment = \"heat-pump\"\n[answers]\n\
                hazard-look = \"none\"\nburnt-part = \"contactor\"\n";
    let mut result = CaseResult::new(&walked(&knowledge, told)).unwrap();
    let cause = result.standing[0].cause.clone();
    assert!(
        result.standing[0]
            .supporting
            .iter()
            .any(|item| item.test == "burnt-part")
    );
    let burnt = "A part inside the equipment can overheat and start a fire";
    for (proved, stays) in [(false, true), (true, false)] {
        result.closed = Some(closed(&cause, proved));
        let text = sheet(&result);
        assert!(
            !text.contains("was repaired") && !text.contains("the repair"),
            "{text}"
        );
        assert_eq!(text.contains(burnt), stays, "{text}");
        for said in ["dried, and it reads open", "Made safe on ___", "Leave it off"] {
            assert!(text.contains(said), "{said}: {text}");
        }
    }
    let page = page(&result, Reader::Manager);
    let text = text_of(&parse(&page));
    assert!(
        text.contains("STILL STANDING: a smell of gas.") && text.contains("Cleared: a wet cable"),
        "{text}"
    );
    // Where nothing burns by itself, it came from elsewhere in the building, and stands there though the cause was proved.
    let fumes = told.replace("hazard-look = \"none\"", "hazard-look = \"gas-or-fumes\"");
    let mut result = CaseResult::new(&walked(&knowledge, &fumes)).unwrap();
    result.closed = Some(closed(&cause, true));
    let text = sheet(&result);
    assert!(
        text.contains("Something in the building can let gas or poisonous fumes into the rooms")
            && text.contains("Smell of gas: touch no switch"),
        "{text}"
    );
}

/// What bursts or scalds is a danger, not wear, and not called a fire.
#[test]
fn a_boiler_that_can_burst_is_no_matter_of_wear() {
    let knowledge = knowledge::embedded().unwrap();
    for found in ["low-or-surging", "high-or-relief"] {
        let told = format!(
            "# Invented case.\ncomplaint = \"flame-lost\"\nequipment = \"boiler\"\n[answers]\nhazard-look = \"none\"\n\
             fuel-hazard-look = \"none\"\nlow-water-look = \"{found}\"\n"
        );
        let mut result = CaseResult::new(&walked(&knowledge, &told)).unwrap();
        result.closed = Some(ClosedShown {
            cause: Some("boiler-safety-opening".to_owned()),
            name: "invented".to_owned(),
            proved: false,
            text: String::new(),
            standing: Vec::new(),
            cleared: Vec::new(),
        });
        let text = sheet(&result);
        for said in ["This can become a danger", "can burst or scald", "Leave it off"] {
            assert!(text.contains(said), "{found}, {said}: {text}");
        }
    }
}

/// Uneven phases burn motors out, however well it runs just now.
#[test]
fn an_uneven_supply_is_left_off() {
    let text = sheet_of(
        &knowledge::embedded().unwrap(),
        "weak-cooling-or-heating",
        "rooftop-three-phase",
        &[
            ("hazard-look", "none"),
            ("voltage-phase-ab", "239 V"),
            ("voltage-phase-bc", "231 V"),
            ("voltage-phase-ca", "226 V"),
        ],
    );
    assert!(
        text.contains("is uneven and can burn out the motors")
            && text.contains("Leave it off (Unit on the roof) until it has been put right"),
        "{text}"
    );
}

#[test]
fn every_cause_and_complaint_is_told_in_plain_words() {
    let knowledge = knowledge::embedded().unwrap();
    let lacks: Vec<&str> = knowledge
        .causes
        .iter()
        .map(|cause| cause.id.as_str())
        .filter(|id| plain::known_cause(id).is_none())
        .collect();
    assert!(
        lacks.is_empty(),
        "`src/report/page/plain.toml` lacks a sentence for the customer under `cause` for {lacks:?}"
    );
    for cause in &knowledge.causes {
        let text = plain::known_cause(&cause.id).unwrap();
        assert_eq!(trade_word(text), None, "{}: {text}", cause.id);
        let reading = readability::measure(text, |_| false);
        assert!(reading.longest_sentence <= 20, "{}: {text}", cause.id);
    }
    for id in plain::with_meanwhile() {
        assert!(knowledge.cause(id).is_some(), "no cause `{id}`");
        let text = plain::meanwhile(id).unwrap();
        assert_eq!(trade_word(text), None, "{id}: {text}");
        let reading = readability::measure(text, |_| false);
        assert!(reading.longest_sentence <= 20, "{id}: {text}");
    }
    let (complaints, causes) = plain::kept_off();
    for id in causes {
        assert!(knowledge.cause(id).is_some(), "no cause `{id}`");
    }
    for id in complaints {
        assert!(knowledge.tree(id).is_some(), "no complaint `{id}`");
    }
    for (tree, _) in knowledge.complaints() {
        assert_ne!(
            plain::complaint(&tree.id),
            plain::complaint("no such complaint"),
            "{}",
            tree.id
        );
    }
}

/// What the people of the building do at a stop is told for each stop by itself, in words that need no asking.
#[test]
fn every_stop_and_every_equipment_is_told_in_plain_words() {
    let knowledge = knowledge::embedded().unwrap();
    let stops: Vec<&str> = knowledge
        .trees
        .iter()
        .flat_map(|tree| &tree.nodes)
        .filter(|node| matches!(node.kind, NodeKind::Halt { .. }))
        .map(|node| node.id.as_str())
        .chain(
            knowledge
                .holds
                .iter()
                .filter(|hold| hold.call.is_some())
                .map(|hold| hold.id.as_str()),
        )
        .collect();
    assert!(stops.len() > 15, "{stops:?}");
    for stop in stops {
        let orders = plain::stop(stop);
        assert_ne!(
            orders,
            plain::stop("no such stop"),
            "report/page/plain.toml lacks {stop}"
        );
        for order in orders {
            assert_eq!(trade_word(order), None, "{stop}: {order}");
            let reading = readability::measure(order, |_| false);
            assert!(reading.longest_sentence <= 20, "{stop}: {order}");
        }
    }
    for kind in &knowledge.equipment {
        let name = plain::equipment(&kind.id);
        assert_eq!(trade_word(name), None, "{}: {name}", kind.id);
        let is_written = name != plain::equipment("no such equipment") || kind.id == "three-phase-split";
        assert!(is_written, "report/page/plain.toml lacks {}", kind.id);
        let burns = kind.parts.iter().any(|part| part == "burner");
        assert_eq!(
            plain::burns_fuel(&kind.id, "no such complaint"),
            burns,
            "{}: `fuel` of report/page/plain.toml",
            kind.id
        );
    }
    let said = knowledge
        .holds
        .iter()
        .filter(|hold| plain::unlooked(&hold.id).is_some());
    assert!(
        said.count() > 0,
        "`unlooked` of report/page/plain.toml names no hold"
    );
    assert!(plain::burns_fuel("no such equipment", "on-generator"));
    let mut nodes = knowledge.trees.iter().flat_map(|tree| &tree.nodes);
    assert!(
        nodes.any(|node| plain::is_stop_unproven(&node.id)),
        "`unproven` of report/page/plain.toml names no stop"
    );
}

/// A stop for danger to life: what to do comes before anything else, and nothing beside it says that all is right.
#[test]
fn at_a_stop_the_customer_reads_first_what_to_do() {
    let knowledge = knowledge::embedded().unwrap();
    let page = Page::new(
        &example(&knowledge, "pool-ladder-tingle.toml"),
        Reader::Customer,
        Timestamp::UNIX_EPOCH,
    );
    assert_eq!(page.sections[0].title, "Do this now");
    let layout = Layout {
        width: 80,
        color: false,
    };
    let text = render(&page, &example(&knowledge, "pool-ladder-tingle.toml"), layout);
    for wanted in ["1. Stay out of the pool", "emergency line now", "Leave it off"] {
        assert!(text.contains(wanted), "{wanted}: {text}");
    }
    assert!(
        !text.contains("right now") && !text.contains("as usual"),
        "{text}"
    );
}

/// The ground beside the wire that is pulled, not beside the one that comes out.
///
/// *Source* NEC 2023 250.122(A) and (B): 10 AWG behind 35 A or 40 A, larger in the proportion of circular mils where the
/// hots are larger than their current asks for, never larger than the hots. By hand: 12 AWG (6,530 cmil) would carry it
/// and 8 AWG (16,510) is pulled for the drop: 10,380 x 16,510 / 6,530 = 26,244 cmil, more than the hots, so 8 AWG.
#[test]
fn the_ground_grows_with_the_conductor_that_is_pulled() {
    let knowledge = knowledge::embedded().unwrap();
    let long = page(
        &example(&knowledge, "unit-behind-the-barn.toml"),
        Reader::Electrician,
    );
    assert!(long.contains("8 AWG hots: 8 AWG ground"), "{long}");
    // 8 AWG for the current: no increase; 6 AWG (26,240): 10,380 x 26,240 / 16,510 = 16,497 cmil, which 8 AWG has.
    let old = page(
        &example(&knowledge, "larger-heat-pump-old-wire.toml"),
        Reader::Electrician,
    );
    assert!(
        old.contains("8 AWG hots: 10 AWG ground; 6 AWG hots: 8 AWG ground"),
        "{old}"
    );
}

/// Who has nothing to correct reads that first, and signs nothing; what was not looked at is not called right.
#[test]
fn an_electrician_with_nothing_to_correct_is_spared() {
    let knowledge = knowledge::embedded().unwrap();
    let page_of = |knowledge: &Knowledge, name: &str| page(&example(knowledge, name), Reader::Electrician);
    let page = page_of(&knowledge, "wet-basement.toml");
    assert!(
        page.contains("Nothing for the electrician is known yet"),
        "{page}"
    );
    assert!(page.contains("Condensate float switch opens"), "{page}");
    // A ground that is smaller than the hots beside it ask for is something to correct, whatever the rest is.
    let proving = page_of(&knowledge, "proved-before-the-doors-open.toml");
    assert!(
        proving.contains("Ground wire smaller") && proving.contains("8 AWG copper beside 8 AWG hots"),
        "{proving}"
    );
    for spared in ["license number", "Calculations", "has to be corrected"] {
        assert!(!page.contains(spared), "{spared}: {page}");
    }
}

/// Relative luminance and contrast ratio.
///
/// *Source* W3C, Web Content Accessibility Guidelines 2.2, "relative luminance" and "contrast ratio",
/// <https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio>, from memory: 1.4.3 asks 4.5 for text, 1.4.11 asks 3 for graphics.
fn contrast(one: &str, other: &str) -> f64 {
    let luminance = |color: &str| {
        let channel = |at: usize| {
            let value = f64::from(u8::from_str_radix(&color[at..at + 2], 16).unwrap()) / 255.0;
            if value <= 0.04045 {
                value / 12.92
            } else {
                ((value + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
    };
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn contrast_holds_in_light_and_dark() {
    assert!(
        (contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9,
        "the published extreme"
    );
    let colors = |block: &str| {
        block
            .split(';')
            .filter_map(|rule| {
                rule.trim()
                    .trim_start_matches(":root {")
                    .trim()
                    .strip_prefix("--")
            })
            .filter_map(|rule| rule.split_once(": "))
            .map(|(name, color)| (name.to_owned(), color.trim().to_owned()))
            .collect::<std::collections::BTreeMap<_, _>>()
    };
    let roots: Vec<_> = case::STYLE
        .lines()
        .filter(|line| line.trim().starts_with(":root {"))
        .map(colors)
        .collect();
    assert_eq!(roots.len(), 2, "light and dark");
    for root in roots {
        for ground in ["paper", "card"] {
            for ink in ["ink", "pale", "must", "warn"] {
                let ratio = contrast(&root[ink], &root[ground]);
                assert!(ratio >= 4.5, "{ink} on {ground}: {ratio:.2}");
            }
        }
        assert!(
            contrast(&root["warn"], &root["paper"]) >= 3.0,
            "the frame of the suspected spot"
        );
    }
}

/// The customer's page is one sheet, on A4 and on Letter; the pages of the others print as well.
///
/// Chromium prints them; where it is missing this says so and checks nothing. Pages are counted as objects of type
/// `Page` in the file, which Chromium does not compress.
#[test]
#[expect(clippy::print_stderr, reason = "what was not tried is said")]
fn pages_print() {
    let Some(browser) = ["chromium", "chromium-browser", "google-chrome"]
        .into_iter()
        .find(|name| {
            Command::new(name)
                .arg("--version")
                .output()
                .is_ok_and(|out| out.status.success())
        })
    else {
        assert!(
            std::env::var_os("LINESIDE_PRINT").is_none(),
            "LINESIDE_PRINT is set and there is no chromium"
        );
        eprintln!("not printed: there is no chromium here");
        return;
    };
    let knowledge = knowledge::embedded().unwrap();
    let home = tempfile::tempdir().unwrap();
    let result = example(&knowledge, "unit-behind-the-barn.toml");
    for reader in Reader::ALL.iter().copied() {
        for paper in ["A4", "letter"] {
            let html = home.path().join("case.html");
            let pdf = home.path().join("case.pdf");
            let sized = page(&result, reader).replace("@page {", &format!("@page {{ size: {paper};"));
            fs::write(&html, sized).unwrap();
            let out = Command::new(browser)
                .args([
                    "--headless",
                    "--no-sandbox",
                    "--disable-gpu",
                    "--disable-background-networking",
                    "--no-first-run",
                    "--disable-quic",
                    "--no-pdf-header-footer",
                ])
                .arg(format!(
                    "--user-data-dir={}",
                    home.path().join("profile").display()
                ))
                .arg(format!("--print-to-pdf={}", pdf.display()))
                .arg(format!("file://{}", html.display()))
                .output()
                .unwrap();
            let bytes = fs::read(&pdf).unwrap_or_else(|_| panic!("{}", String::from_utf8_lossy(&out.stderr)));
            let text = String::from_utf8_lossy(&bytes);
            let pages = text.matches("/Type /Page\n").count() + text.matches("/Type /Page ").count();
            let most = match reader {
                Reader::Customer => 1,
                Reader::Electrician => 12,
                Reader::Manager => 20,
            };
            assert!(
                (1..=most).contains(&pages),
                "{reader:?} on {paper}: {pages} pages"
            );
        }
    }
}
