//! The review of many cases: figures worked out by hand, what spoils a folder, the index, and words of cases as data.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use jiff::{SignedDuration, Timestamp};
use lineside::journal::{Draft, Header, Record, SCHEMA};
use lineside::knowledge::model::State;
use lineside::walk::{Event, Given, Share};
use serde_json::{Value, json};
use tempfile::TempDir;

/// A folder with cases in it, and the program started there.
struct Shop(TempDir);

impl Shop {
    fn new() -> Self {
        let home = tempfile::tempdir().expect("a folder can be made");
        fs::create_dir(home.path().join("cases")).expect("it can be made");
        Self(home)
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join("cases").join(name)
    }

    fn put(&self, case: Made) -> PathBuf {
        let path = self.path(&format!("{}.jsonl", case.id));
        fs::write(&path, case.bytes()).expect("it can be written");
        path
    }

    fn run(&self, args: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_lineside"))
            .args(["review", "cases"])
            .args(args)
            .env_clear()
            .env("HOME", self.0.path())
            .current_dir(self.0.path())
            .output()
            .expect("the program starts")
    }

    fn json(&self, args: &[&str]) -> Value {
        let run = self.run(&[args, &["--format", "json"]].concat());
        serde_json::from_slice(&run.stdout).unwrap_or_else(|error| panic!("{error}: {}", said(&run)))
    }
}

fn said(output: &Output) -> String {
    format!(
        "{}{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    )
}

/// A case written by hand: a line a minute, from midnight on its day.
struct Made {
    id: &'static str,
    day: &'static str,
    invented: bool,
    place: &'static str,
    technician: &'static str,
    events: Vec<Event>,
}

fn case(id: &'static str, day: &'static str, events: Vec<Event>) -> Made {
    Made {
        id,
        day,
        invented: false,
        place: "1 Test Row",
        technician: "A",
        events,
    }
}

impl Made {
    fn bytes(self) -> Vec<u8> {
        let opened: Timestamp = format!("{}T00:00:00Z", self.day).parse().expect("it is a day");
        let mut draft = Draft::new(&Header {
            schema: SCHEMA,
            program: "0.1.0".to_owned(),
            knowledge: "of a test".to_owned(),
            id: Some(self.id.to_owned()),
            opened,
            anonymous: false,
            invented: self.invented,
            mended: None,
        })
        .expect("it is JSON");
        let visit = Event::Visit {
            technician: Some(self.technician.to_owned()),
            program: "0.1.0".to_owned(),
            knowledge: "of a test".to_owned(),
            learned: None,
        };
        let site = Event::Site {
            place: Some(self.place.to_owned()),
            unit: None,
        };
        let complaint = Event::Complaint {
            complaint: "breaker-opens".to_owned(),
        };
        let equipment = Event::Equipment {
            equipment: "split-air-conditioner".to_owned(),
        };
        for (minute, event) in [visit, site, complaint, equipment]
            .into_iter()
            .chain(self.events)
            .enumerate()
        {
            let at = opened + SignedDuration::from_mins(minute as i64);
            draft.append(&Record { at, event }).expect("it is JSON");
        }
        draft.into_bytes()
    }
}

fn closed(cause: &str, proved: bool) -> Event {
    Event::Closed {
        cause: (cause != "not-listed").then(|| cause.to_owned()),
        not_listed: (cause == "not-listed").then(|| "=HYPERLINK(\"x\") <script>alert(1)</script>".to_owned()),
        proved,
        text: String::new(),
        standing: Vec::new(),
    }
}

fn answer(test: &str, outcome: Option<&str>) -> Event {
    Event::Answer {
        test: test.to_owned(),
        given: outcome.map_or(Given::CouldNotCheck, |outcome| Given::Outcome(outcome.to_owned())),
        volunteered: false,
        typed: String::new(),
    }
}

fn leads(cause: &str, probability: f64) -> Event {
    Event::Standing {
        leaders: vec![Share {
            cause: cause.to_owned(),
            probability,
        }],
        remainder: 1.0 - probability,
    }
}

fn callback(of: &str) -> Event {
    Event::Callback {
        case: of.to_owned(),
        head: None,
    }
}

const SHARED: &str = "shared-circuit-overload";
const LUG: &str = "loose-disconnect-lug";

/// Five cases: `a` guessed wrong and came back as `b`, which was proved; `c` proved and led by another; `d` open; `e`
/// proved not to be listed.
fn five() -> Shop {
    let shop = Shop::new();
    shop.put(case(
        "a",
        "2025-01-05",
        vec![leads(SHARED, 0.9), closed(SHARED, false)],
    ));
    shop.put(case(
        "b",
        "2025-01-20",
        vec![
            callback("a"),
            answer("replaced-without-cure", Some("breaker-or-fuse")),
            leads(LUG, 0.95),
            closed(LUG, true),
        ],
    ));
    shop.put(Made {
        technician: "B",
        ..case(
            "c",
            "2025-02-01",
            vec![
                answer("what-else-on-circuit", None),
                answer("hazard-look", Some("none")),
                leads(LUG, 0.7),
                closed(SHARED, true),
            ],
        )
    });
    shop.put(Made {
        place: "9 Other Row",
        ..case(
            "d",
            "2025-02-10",
            vec![answer("hazard-look", None), answer("hazard-look", Some("none"))],
        )
    });
    shop.put(case(
        "e",
        "2025-03-01",
        vec![leads(LUG, 0.5), closed("not-listed", true)],
    ));
    shop
}

/// The entry of a table whose first column says so.
fn row<'v>(review: &'v Value, table: &str, first: &str) -> &'v Value {
    let rows = review["tables"][table].as_array().expect("it is a table");
    rows.iter()
        .find(|row| {
            row.as_object()
                .expect("rows are objects")
                .values()
                .any(|value| value == first)
        })
        .unwrap_or_else(|| panic!("no {first} in {table}: {rows:?}"))
}

fn share(part: u64, of: u64) -> Value {
    json!({ "part": part, "of": of })
}

#[test]
fn the_figures_are_those_worked_out_by_hand() {
    let review = five().json(&[]);
    for (what, figure) in [
        ("cases", json!(5)),
        ("closed", share(4, 5)),
        ("of the closed, proved", share(3, 4)),
        ("of the closed, cause not listed", share(1, 4)),
        ("of the closed, came back", share(1, 4)),
        ("of the closed, overturned", share(1, 4)),
        ("of the closed, doubted by a later guess", share(0, 4)),
        ("opened as a callback", share(1, 5)),
        ("of the proved, disproved by a callback", share(0, 3)),
        // `a` was guessed, and the callback proved what it was: another one led.
        ("of those whose cause is known, it led", share(1, 4)),
        // c ended at 0.3 and e at 0.5 on something not listed; a case without a standing counts as 0.
        ("ended with 25 % or more on something not listed", share(2, 5)),
    ] {
        assert_eq!(row(&review, "overview", what)["figure"], figure, "{what}");
    }
    let lug = row(&review, "cause", LUG);
    assert_eq!(
        (&lug["cases"], &lug["proved"], &lug["guessed"]),
        (&json!(1), &json!(1), &json!(0))
    );
    let shared = row(&review, "cause", SHARED);
    assert_eq!(
        (&shared["cases"], &shared["proved"], &shared["guessed"]),
        (&json!(2), &json!(1), &json!(1))
    );
    assert_eq!(shared["overturned"], share(1, 2));
    let mine = row(&review, "technician", "A");
    assert_eq!((&mine["cases"], &mine["closed"]), (&json!(4), &share(3, 4)));
    assert_eq!(row(&review, "month", "2025-01")["cases"], 2);
    // Lines a minute apart: 5 lines after the first in `a`, 7, 7, 5 and 5 in the others.
    assert_eq!(mine["seconds"], json!({ "sum": 60 * (5 + 7 + 5 + 5), "of": 4 }));
    let back = row(&review, "callback", "2025-01-20");
    assert_eq!(
        (
            &back["before"],
            &back["how-before"],
            &back["now"],
            &back["verdict"]
        ),
        (&json!(SHARED), &json!("guess"), &json!(LUG), &json!("disproved"))
    );
    assert_eq!(row(&review, "callback-place", "1 Test Row")["callbacks"], 1);
    let part = row(&review, "replaced", "replaced-without-cure/breaker-or-fuse");
    assert_eq!((&part["cause"], &part["cases"]), (&json!(LUG), &json!(1)));
    // Said 95 % and right, 90 % and wrong as the callback showed; said 70 % and wrong; said 50 % and wrong.
    let kept = |bin: &str| row(&review, "calibration", bin).clone();
    assert_eq!(kept("90 to 99 %")["right"], share(1, 2));
    assert_eq!(kept("60 to 80 %")["said"], json!({ "sum": 700_000, "of": 1 }));
    assert_eq!(kept("40 to 60 %")["right"], share(0, 1));
    // What was answered in the end counts: in `d` the hazards were looked at after all.
    let skipped = row(&review, "skipped", "what-else-on-circuit");
    assert_eq!(skipped["skipped"], 1);
    let rows = review["tables"]["skipped"].as_array().expect("it is a table");
    assert_eq!(rows.len(), 1, "{rows:?}");
    assert_eq!(
        row(&review, "effort", "visits")["mean"],
        json!({ "sum": 5, "of": 5 })
    );
}

/// A later guess overturns nothing: not the case before, nor the same case closed anew.
#[test]
fn a_guess_overturns_nothing_and_is_counted_apart() {
    let shop = Shop::new();
    shop.put(case("a", "2025-01-05", vec![closed(SHARED, true)]));
    shop.put(case("b", "2025-01-20", vec![callback("a"), closed(LUG, false)]));
    shop.put(case(
        "c",
        "2025-02-01",
        vec![closed(SHARED, true), closed(LUG, false)],
    ));
    shop.put(case(
        "d",
        "2025-02-05",
        vec![closed(SHARED, false), closed(LUG, true)],
    ));
    let review = shop.json(&["--table", "case"]);
    let figure = |what: &str| row(&review, "overview", what)["figure"].clone();
    assert_eq!(figure("of the closed, overturned"), share(1, 4));
    assert_eq!(figure("of the closed, doubted by a later guess"), share(2, 4));
    for (id, overturned) in [("a", 0), ("b", 0), ("c", 0), ("d", 1)] {
        assert_eq!(row(&review, "case", id)["overturned"], overturned, "{id}");
    }
    let back = row(&review, "came-back", SHARED);
    assert_eq!((&back["other"], &back["guessed"]), (&json!(0), &json!(1)));
    assert_eq!(row(&review, "callback-place", "1 Test Row")["overturned"], 1);
}

/// Ids of causes stay good when one is merged into another: a case closed under the old one is closed, and counts under the new one.
#[test]
fn a_case_closed_under_an_earlier_id_of_a_cause_counts_under_the_one_it_has_now() {
    let earlier = "air-cleaner-or-duct-heater-added";
    let shop = Shop::new();
    shop.put(case(
        "a",
        "2025-01-05",
        vec![leads(earlier, 0.7), closed(earlier, true)],
    ));
    shop.put(case("b", "2025-01-06", vec![closed(SHARED, true)]));
    let review = shop.json(&[]);
    assert_eq!(row(&review, "cause", SHARED)["proved"], 2);
    let causes = review["tables"]["cause"].as_array().expect("it is a table");
    assert_eq!(causes.len(), 1, "{causes:?}");
    let shown = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(["case", "list", "--cases", "cases"])
        .env_clear()
        .env("HOME", shop.0.path())
        .current_dir(shop.0.path())
        .output()
        .expect("it runs");
    assert!(!String::from_utf8_lossy(&shown.stdout).contains(earlier));
    let learned = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(["learn", "cases", "--out", "shop.toml"])
        .env_clear()
        .env("HOME", shop.0.path())
        .current_dir(shop.0.path())
        .output()
        .expect("it runs");
    assert!(learned.status.success(), "{learned:?}");
    let counts = fs::read_to_string(shop.0.path().join("shop.toml")).expect("it is written");
    assert!(counts.contains(SHARED) && !counts.contains(earlier), "{counts}");
}

/// Live work is charged to whoever was there when it was made, not to whoever came last.
#[test]
fn a_live_test_is_that_of_the_person_on_whose_visit_it_was_made() {
    let visit = |technician: Option<&str>| Event::Visit {
        technician: technician.map(str::to_owned),
        program: "0.1.0".to_owned(),
        knowledge: "of a test".to_owned(),
        learned: None,
    };
    let live = |state| Event::Acknowledged { state, test: None };
    let shop = Shop::new();
    shop.put(case(
        "a",
        "2025-01-05",
        vec![
            live(State::Energised),
            answer("voltage-at-unit-rest", Some("normal")),
            answer("voltage-at-panel-rest", Some("normal")),
            visit(Some("B")),
            // Given anew on this visit: it counts here.
            answer("voltage-at-panel-rest", Some("normal")),
            visit(None),
            answer("voltage-at-disconnect-rest", Some("normal")),
            visit(Some("C")),
        ],
    ));
    let review = shop.json(&[]);
    let of = |name: &str| {
        let row = row(&review, "live-technician", name);
        [&row["tests"], &row["accepted"], &row["without"]].map(|cell| cell.as_u64().expect("a count"))
    };
    assert_eq!(of("A"), [1, 1, 0]);
    assert_eq!(of("B"), [1, 0, 1]);
    assert_eq!(of("(not named)"), [1, 0, 1]);
    let rows = review["tables"]["live-technician"]
        .as_array()
        .expect("it is a table");
    assert!(
        rows.iter().all(|row| row["name"] != "C"),
        "C measured nothing: {rows:?}"
    );
    // By state it is one case, whose cautions were accepted.
    let live = row(&review, "live", "energized");
    assert_eq!((&live["tests"], &live["without"]), (&json!(3), &json!(0)));
    // The index keeps it.
    assert_eq!(shop.json(&[]), review);
}

#[test]
fn how_far_a_case_got_can_be_asked_for() {
    let shop = five();
    let end = |halted| Event::Concluded {
        leader: None,
        remainder: 0.2,
        halted,
    };
    shop.put(case("f", "2025-03-02", vec![end(true)]));
    shop.put(case("g", "2025-03-03", vec![end(false)]));
    let cases = |stage: &str| shop.json(&["--stage", stage])["scope"]["cases"].clone();
    let found = ["open", "concluded", "repaired", "closed", "guessed", "halted"].map(cases);
    assert_eq!(found, [1, 2, 0, 4, 1, 1].map(Value::from));
    let text = said(&shop.run(&["--stage", "guessed"]));
    assert!(
        text.contains("only closed by a guess; 6 others left out"),
        "{text}"
    );
}

/// Frequencies are those of `lineside learn`: 50 authored cases against 1 for a proved and 1/2 for a guessed one.
#[test]
fn learned_frequencies_follow_the_formula_of_learning() {
    let review = five().json(&[]);
    let lug = row(&review, "learned", LUG);
    let number = |key: &str| lug[key].as_f64().expect("it is a number");
    // Weights 1 for the shared circuit, 1 for the lug, 1 not listed; the guess the callback disproved counts nothing.
    let expected = (50.0 * number("before") + 1.0) / 53.0;
    assert!((number("after") - expected).abs() < 1e-12, "{lug}");
}

#[test]
fn filters_leave_out_and_say_so() {
    let shop = five();
    let cases = |args: &[&str]| shop.json(args)["scope"]["cases"].clone();
    assert_eq!(cases(&["--technician", "b"]), 1);
    assert_eq!(cases(&["--from", "2025-02"]), 3);
    assert_eq!(cases(&["--until", "2025-01-20"]), 1);
    assert_eq!(cases(&["--place", "other"]), 1);
    assert_eq!(cases(&["--cause", "not-listed"]), 1);
    // The case before is known though the filter leaves it out.
    let back = shop.json(&["--from", "2025-01-10"]);
    assert_eq!(row(&back, "callback", "2025-01-20")["verdict"], "disproved");
    let text = said(&shop.run(&["--technician", "B"]));
    assert!(text.contains("only technician B; 4 others left out"), "{text}");
    for wrong in [["--cause", "nonsense"], ["--from", "June"]] {
        assert_eq!(shop.run(&wrong).status.code(), Some(2), "{wrong:?}");
    }
}

#[test]
fn what_cannot_be_read_is_named_and_the_rest_counts() {
    let shop = five();
    fs::write(shop.path("foreign.jsonl"), "{\"some\":\"thing\"}\n").expect("it can be written");
    let sound = fs::read_to_string(shop.path("c.jsonl")).expect("it is text");
    let broken = sound.replacen("\"hazard-look\"", "\"hazard-l00k\"", 1);
    fs::write(shop.path("edited.jsonl"), broken).expect("it can be written");
    fs::copy(shop.path("b.jsonl"), shop.path("copy.jsonl")).expect("it can be copied");
    let torn = sound.replacen("\"c\"", "\"t\"", 1);
    fs::write(shop.path("newer.jsonl"), torn.replacen(":2,", ":99,", 1)).expect("it can be written");
    fs::write(shop.path("big.jsonl"), vec![b'x'; 17 * 1024 * 1024]).expect("it can be written");
    #[cfg(unix)]
    std::os::unix::fs::symlink(shop.path("."), shop.path("loop")).expect("it can be made");
    let run = shop.run(&[]);
    assert_eq!(run.status.code(), Some(1));
    let text = said(&run);
    assert!(text.contains("5 cases"), "{text}");
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "foreign.jsonl` is not a case file",
        "edited.jsonl",
        "copy.jsonl",
        "newer.jsonl` has schema 99",
        "big.jsonl` has",
    ] {
        assert!(flat.contains(part), "{part}: {text}");
    }
    // The edited line is named by its number: header, four lines, one answer, then this.
    assert!(
        flat.contains("line 7 of the case file `cases/edited.jsonl`"),
        "{text}"
    );
    #[cfg(unix)]
    assert!(flat.contains("is a link and is not followed"), "{text}");
}

#[test]
fn the_index_changes_no_figure_and_may_be_lost_or_spoiled() {
    let shop = five();
    let first = shop.json(&[]);
    let place = index_of(shop.0.path());
    assert_eq!(shop.json(&[]), first);
    // A case that changed is read anew.
    shop.put(case(
        "a",
        "2025-01-05",
        vec![leads(SHARED, 0.9), closed(LUG, false)],
    ));
    let second = shop.json(&[]);
    assert_eq!(
        row(&second, "overview", "of the closed, overturned")["figure"],
        share(0, 4)
    );
    let mut bytes = fs::read(&place).expect("there is an index");
    let middle = bytes.len() / 2;
    bytes[middle] ^= 0xff;
    fs::write(&place, bytes).expect("it can be written");
    assert_eq!(shop.json(&[]), second);
    fs::remove_file(&place).expect("it can be deleted");
    assert_eq!(shop.json(&[]), second);
    fs::remove_file(shop.path("e.jsonl")).expect("it can be deleted");
    assert_eq!(shop.json(&[])["scope"]["cases"], 4);
    assert_eq!(shop.json(&["--no-index"]), shop.json(&[]));
}

/// The one index below a home folder.
fn index_of(home: &Path) -> PathBuf {
    let mut folders = vec![home.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("it can be read") {
            let path = entry.expect("it can be read").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "index") {
                return path;
            }
        }
    }
    panic!("there is no index");
}

#[test]
fn a_second_run_opens_no_case_that_is_as_it_was() {
    let shop = five();
    shop.json(&[]);
    // Held by a writer: whoever opened it now would be refused.
    let held = fs::File::open(shop.path("a.jsonl")).expect("it is there");
    held.lock().expect("nobody else has it");
    assert_eq!(shop.json(&[])["scope"]["cases"], 5);
    let read = shop.json(&["--no-index"]);
    assert_eq!(read["scope"]["cases"], 4, "{read}");
}

#[test]
fn words_of_a_case_are_data_everywhere() {
    let shop = Shop::new();
    shop.put(Made {
        place: "\u{1b}]0;x\u{7}=cmd|'/c x'!A1 <img src=x onerror=alert(1)>",
        technician: "@SUM(A1)",
        ..case("a", "2025-01-05", vec![closed("not-listed", false)])
    });
    shop.put(Made {
        place: "-2+3",
        technician: "+1",
        ..case("b", "2025-01-05", vec![callback("a"), closed("not-listed", true)])
    });
    for table in ["callback", "not-listed", "technician", "case", "callback-place"] {
        let run = shop.run(&["--table", table, "--format", "csv"]);
        let text = String::from_utf8(run.stdout).expect("it is text");
        assert!(text.lines().count() >= 2, "{table}: {text}");
        for cell in text.split([',', '\n']) {
            let inside = cell.trim_start_matches('"');
            assert!(!inside.starts_with(['=', '+', '-', '@', '\t']), "{table}: {cell}");
        }
    }
    let page = String::from_utf8(shop.run(&["--format", "html"]).stdout).expect("it is text");
    assert!(!page.contains("<script") && !page.contains("<img"), "{page}");
    assert!(page.contains("&lt;script&gt;"), "it is shown all the same");
    let text = shop.run(&["--table", "all"]).stdout;
    assert!(!text.contains(&0x1b) && !text.contains(&7));
}

#[test]
fn invented_cases_count_only_by_themselves() {
    let shop = five();
    shop.put(Made {
        invented: true,
        ..case("i", "2025-01-05", vec![closed(LUG, true)])
    });
    let review = shop.json(&[]);
    assert_eq!(review["scope"]["cases"], 5);
    assert_eq!(review["scope"]["invented-left-out"], 1);
    for id in ["a", "b", "c", "d", "e"] {
        fs::remove_file(shop.path(&format!("{id}.jsonl"))).expect("it can be deleted");
    }
    assert_eq!(shop.json(&[])["scope"]["invented"], true);
    assert!(said(&shop.run(&[])).contains("INVENTED CASES"));
}

#[test]
fn no_line_is_wider_than_the_screen_and_the_page_needs_nothing() {
    let shop = five();
    for table in [
        &[][..],
        &["--table", "all"],
        &["--table", "case"],
        &["--table", "callback"],
    ] {
        let run = shop.run(table);
        for line in String::from_utf8_lossy(&run.stdout).lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
    }
    let page = String::from_utf8(shop.run(&["--format", "html"]).stdout).expect("it is text");
    for outside in ["http:", "https:", "<script", "url(", "@import", "src="] {
        assert!(!page.contains(outside), "{outside}");
    }
    // What is written as XHTML could be read as XML, so that no element is left open.
    let body = &page[page.find("<body>").expect("there is one")..page.find("</html>").expect("there is one")];
    roxmltree::Document::parse(body).unwrap_or_else(|error| panic!("{error}"));
}

#[test]
fn without_a_table_it_fits_one_small_screen() {
    let text = said(&five().run(&[]));
    assert!(text.lines().count() <= 24, "{text}");
    assert!(text.contains("80%") || text.contains("4/5"), "{text}");
}

#[test]
fn a_folder_without_cases_says_how_to_get_some() {
    let shop = Shop::new();
    let run = shop.run(&[]);
    assert_eq!(run.status.code(), Some(1));
    assert!(said(&run).contains("lineside invent"), "{}", said(&run));
}
