//! How many questions a callback takes, and how soon the confirmed cause leads, when everything is told only once it is
//! asked.
//!
//! The accounts are those of `callbacks/`, `second_reader/` and `../examples/`; what an account does not tell cannot be
//! checked. To see the table: `cargo test --release --test all questions:: -- --nocapture`.

#![expect(clippy::unwrap_used, reason = "a failed unwrap fails the test")]
#![expect(clippy::print_stdout, reason = "the table is what the measure is read from")]

use std::convert::Infallible;
use std::fs;
use std::path::Path;

use rayon::prelude::*;

use lineside::knowledge::indexed::Indexed;
use lineside::knowledge::model::{Knowledge, Test, TestIndex};
use lineside::knowledge::{self};
use lineside::walk::{
    AnswerFile, Prompt, Question, Refusal, Reply, Respondent, RespondentError, Walk, drive,
};

/// Questions after which the standing is looked at.
const MARKS: [usize; 5] = [5, 10, 15, 20, 25];

/// One account: the causes that are right, and the file in which all is told only when asked.
struct Account {
    group: &'static str,
    name: String,
    right: Vec<String>,
    file: String,
}

/// What a walk came to.
struct Walked {
    /// Places of the right cause, from 0, before each question and at the end.
    places: Vec<usize>,
    minutes: f64,
    live: usize,
    asked: Vec<String>,
    /// Questions until the walk concluded by itself, and the place of the right cause once all that is left was asked too.
    concluded: Option<usize>,
    gone_on: usize,
    /// Questions asked after the conclusion, and how many at most.
    further: usize,
    at_most: usize,
}

/// Answers from a file and keeps where the right cause stands before each question.
struct Watched<'a> {
    file: AnswerFile,
    right: &'a [String],
    walked: Walked,
    noted: usize,
}

impl Watched<'_> {
    fn answer(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        let tests = &prompt.walk.knowledge().tests;
        let (test, is_caution) = match prompt.question {
            Question::Test { test, .. } => (*test, false),
            Question::Caution { test, .. } => (*test, true),
            _ => return self.file.respond(prompt),
        };
        let safe = self.safe(tests, test);
        let together = !tests[test].at_once.is_empty();
        Ok(match (self.file.respond(prompt)?, safe) {
            (_, Some(_)) if is_caution => Reply::Accept,
            (reply, Some(safe)) if together || reply == Reply::CouldNotCheck => {
                Reply::Answer(safe.to_owned())
            }
            (reply, _) => reply,
        })
    }

    /// What whoever stands before the equipment says of a test, unless the account says otherwise of what it answers at once.
    fn safe(&self, tests: &Indexed<TestIndex, Test>, test: TestIndex) -> Option<&'static str> {
        let test = &tests[test];
        let (_, safe) = SAFE.iter().find(|(id, _)| *id == test.id)?;
        let well = test.at_once.iter().all(|(other, outcome)| {
            let other = &tests[*other];
            let said = self.file.if_asked().get(&other.id);
            said.is_none_or(|said| *said == other.outcomes[*outcome].id)
        });
        well.then_some(safe)
    }

    /// Asks on after the conclusion, for what a walk without an end would come to.
    fn go_on(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        self.walked.gone_on = self.place(prompt.walk);
        match prompt.question {
            Question::Finish if prompt.walk.goes_on() && self.walked.further < self.walked.at_most => {
                Ok(Reply::Further)
            }
            Question::Finish | Question::Halt { .. } => self.answer(prompt),
            _ if self.walked.further >= self.walked.at_most => Ok(Reply::Stop),
            _ => {
                self.walked.further += 1;
                self.answer(prompt)
            }
        }
    }

    fn place(&self, walk: &Walk<'_>) -> usize {
        walk.standing()
            .and_then(|standing| {
                standing
                    .ranked()
                    .iter()
                    .position(|(cause, _)| self.right.contains(&walk.knowledge().causes[*cause].id))
            })
            .unwrap_or(usize::MAX)
    }
}

impl Respondent for Watched<'_> {
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        let knowledge = prompt.walk.knowledge();
        if self.walked.concluded.is_some() {
            return self.go_on(prompt);
        }
        match prompt.question {
            _ if self.noted < 1 && self.file.note().is_some() => {
                self.noted += usize::from(!matches!(
                    prompt.question,
                    Question::Complaint | Question::Equipment | Question::Accessories
                ))
            }
            Question::Test { test, .. } => {
                let test = &knowledge.tests[*test];
                self.walked.places.push(self.place(prompt.walk));
                self.walked.minutes += test.minutes + 0.5;
                self.walked.live += usize::from(test.state.is_powered());
                self.walked.asked.push(test.id.clone());
            }
            Question::Fact { fact, .. } => {
                self.walked.places.push(self.place(prompt.walk));
                self.walked.minutes += 0.5;
                self.walked.asked.push(knowledge.facts[*fact].id.clone());
            }
            Question::Offer { .. } => {
                self.walked.places.push(self.place(prompt.walk));
                self.walked.asked.push("offer".to_owned());
                self.walked.minutes += 0.5;
            }
            Question::Able { .. } => {
                self.walked.places.push(self.place(prompt.walk));
                self.walked.asked.push("able".to_owned());
                self.walked.minutes += 0.5;
            }
            Question::Finish | Question::Halt { .. } => {
                self.walked.places.push(self.place(prompt.walk));
                self.walked.concluded = Some(self.walked.asked.len());
                return self.go_on(prompt);
            }
            _ => {}
        }
        let reply = self.answer(prompt)?;
        // A caution declined is a question too: it names the test that cannot be made.
        if let (Question::Caution { test, .. }, Reply::CouldNotCheck) = (prompt.question, &reply) {
            self.walked.places.push(self.place(prompt.walk));
            self.walked.asked.push(format!("({})", knowledge.tests[*test].id));
        }
        Ok(reply)
    }

    fn refused(&mut self, refusal: &Refusal) {
        self.file.refused(refusal);
    }
}

/// What whoever stands before the equipment can always say, and an account leaves out where nothing was amiss.
const SAFE: [(&str, &str); 8] = [
    ("before-flame-look", "all-well"),
    ("hazard-look", "none"),
    ("fuel-hazard-look", "none"),
    ("made-safe", "safe"),
    ("safety-bridged-look", "none"),
    ("vent-and-air-checked", "clear"),
    ("rollout-look", "not-tripped"),
    ("low-water-look", "right"),
];

/// Moves everything answered under `[if-asked]`.
fn told_when_asked(text: &str) -> (toml::Table, Option<String>) {
    let mut table: toml::Table = toml::from_str(text).unwrap();
    let mut asked = toml::Table::new();
    for key in ["facts", "answers", "if-asked"] {
        if let Some(toml::Value::Table(part)) = table.remove(key) {
            asked.extend(part);
        }
    }
    let expect = table
        .remove("expect")
        .and_then(|expect| Some(expect.get("cause")?.as_str()?.to_owned()));
    table.insert("if-asked".to_owned(), toml::Value::Table(asked));
    (table, expect)
}

fn accounts() -> Vec<Account> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut accounts = Vec::new();
    for (folder, examples) in [("tests/callbacks", false), ("examples", true)] {
        let mut paths: Vec<_> = fs::read_dir(root.join(folder))
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
            .collect();
        paths.sort();
        for path in paths {
            let text = fs::read_to_string(&path).unwrap();
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            let (table, cause) = told_when_asked(&text);
            let mut right: Vec<String> = text
                .lines()
                .filter_map(|line| line.strip_prefix("# acceptable:"))
                .flat_map(|ids| ids.split(','))
                .map(|id| id.trim().to_owned())
                .collect();
            right.extend(cause);
            let odd = || {
                name.strip_prefix("pub-")?
                    .parse::<usize>()
                    .ok()
                    .map(|number| number % 2 == 1)
            };
            let group = match odd() {
                _ if examples => "examples",
                None => "public 25",
                Some(true) => "public odd",
                Some(false) => "public even",
            };
            accounts.push(Account {
                group,
                name,
                right,
                file: table.to_string(),
            });
        }
    }
    for part in 1..=4 {
        let text =
            fs::read_to_string(root.join(format!("tests/second_reader/accounts-{part}.toml"))).unwrap();
        let table: toml::Table = toml::from_str(&text).unwrap();
        for account in table["account"].as_array().unwrap() {
            let number = account["number"].as_integer().unwrap();
            let mut file = toml::Table::new();
            for key in ["complaint", "equipment"] {
                file.insert(key.to_owned(), account[key].clone());
            }
            file.insert("if-asked".to_owned(), account["answers"].clone());
            accounts.push(Account {
                group: if number % 2 == 1 {
                    "invented odd"
                } else {
                    "invented even"
                },
                name: number.to_string(),
                right: vec![account["cause"].as_str().unwrap().to_owned()],
                file: file.to_string(),
            });
        }
    }
    accounts
}

fn walked(knowledge: &Knowledge, account: &Account, further: usize) -> Walked {
    let file = AnswerFile::parse(&account.file, knowledge).unwrap_or_else(|errors| {
        let errors: String = errors.iter().map(|error| format!("\n{error}")).collect();
        panic!("{}: {errors}", account.name)
    });
    let mut watched = Watched {
        file,
        right: &account.right,
        noted: 0,
        walked: Walked {
            places: Vec::new(),
            minutes: 0.0,
            live: 0,
            asked: Vec::new(),
            concluded: None,
            gone_on: usize::MAX,
            further: 0,
            at_most: further,
        },
    };
    let mut walk = Walk::new(knowledge);
    drive::<Infallible>(&mut walk, &mut watched, &mut |_| Ok(())).unwrap();
    watched.walked
}

/// The middle one, and the one that nine in ten do not exceed.
fn middle_and_ninth(mut figures: Vec<f64>) -> [f64; 2] {
    figures.sort_by(f64::total_cmp);
    [
        figures[figures.len() / 2],
        figures[(figures.len() * 9).div_ceil(10) - 1],
    ]
}

/// Groups whose walks are printed; the even ones are only counted.
const STUDIED: [&str; 4] = ["public 25", "public odd", "invented odd", "examples"];

/// Right in first place and within three when the walk concludes, as measured on 30 November 2026: public accounts and
/// examples, then invented accounts. It was 155 and 180 of 230, 171 and 240 of 320, before what strangers found was put right in
/// general, told things alone no longer ended a walk, and a reading's plate was asked; 155 and 183, 169 and 237 before forty more
/// dangers held: what an account does not prove safe is not made. Two may be lost to a change that is right in general.
const MEASURED: [[usize; 2]; 2] = [[155, 181], [166, 236]];
const ALLOWED: usize = 2;

fn hits(walks: &[&Walked], mark: usize) -> [usize; 2] {
    let places = || {
        walks
            .iter()
            .map(|walked| *walked.places.get(mark).unwrap_or(walked.places.last().unwrap()))
    };
    [
        places().filter(|place| *place == 0).count(),
        places().filter(|place| *place < 3).count(),
    ]
}

fn line(title: &str, walks: &[&Walked]) -> String {
    let figures = |of: fn(&Walked) -> f64| middle_and_ninth(walks.iter().map(|walked| of(walked)).collect());
    let [middle, ninth] = figures(|walked| walked.asked.len() as f64);
    let most = walks.iter().map(|walked| walked.asked.len()).max().unwrap();
    let [minutes, long] = figures(|walked| walked.minutes);
    let [live, hot] = figures(|walked| walked.live as f64);
    let mut line = format!(
        "{title:<19} {:>3} | {middle:>4} {ninth:>4} {most:>4} | {minutes:>5} {long:>5} | {live:>3} {hot:>3} |",
        walks.len()
    );
    for mark in MARKS.into_iter().chain([usize::MAX]) {
        let [first, three] = hits(walks, mark);
        line.push_str(&format!(" {first:>3}/{three:<3}"));
    }
    let on = |places: usize| walks.iter().filter(|walked| walked.gone_on < places).count();
    line.push_str(&format!(" | {:>3}/{:<3}", on(1), on(3)));
    line
}

/// Walks all accounts, asks `further` questions after each conclusion, and prints the table.
fn table(further: usize) -> [Vec<Walked>; 2] {
    let knowledge = knowledge::embedded().unwrap();
    let accounts = accounts();
    let walks: Vec<Walked> = accounts
        .par_iter()
        .map(|account| walked(&knowledge, account, further))
        .collect();
    for (account, walked) in accounts.iter().zip(&walks) {
        if STUDIED.contains(&account.group) {
            println!(
                "{} {} {:?} place {} on {} after {}: {}",
                account.group,
                account.name,
                account.right,
                walked.places.last().unwrap().wrapping_add(1),
                walked.gone_on.wrapping_add(1),
                walked.asked.len(),
                walked.asked.join(" ")
            );
        }
    }
    println!(
        "{:<23} | questions 50 % 90 % most | minutes 50 % 90 % | live 50 % 90 % | first/three after 5, 10, 15, 20, 25, end | after {further} more",
        ""
    );
    let of = |belongs: &dyn Fn(&str) -> bool| -> Vec<&Walked> {
        let both = accounts.iter().zip(&walks);
        both.filter(|(account, _)| belongs(account.group))
            .map(|(_, walked)| walked)
            .collect()
    };
    for group in [
        "public 25",
        "public odd",
        "public even",
        "invented odd",
        "invented even",
        "examples",
    ] {
        println!("{}", line(group, &of(&|own| own == group)));
    }
    let is_invented = |group: &str| group.starts_with("invented");
    println!(
        "{}\n{}",
        line("public and examples", &of(&|group| !is_invented(group))),
        line("invented", &of(&is_invented))
    );
    let (mut told, mut invented) = (Vec::new(), Vec::new());
    for (account, walked) in accounts.iter().zip(walks) {
        let group = if is_invented(account.group) {
            &mut invented
        } else {
            &mut told
        };
        group.push(walked);
    }
    [told, invented]
}

#[test]
fn a_callback_is_finished_in_questions_a_person_answers() {
    let [told, invented] = table(0);
    let [middle, ninth] = middle_and_ninth(told.iter().map(|walked| walked.asked.len() as f64).collect());
    assert!(middle <= 15.0 && ninth <= 25.0, "{middle} and {ninth} questions");
    let both = told.iter().chain(&invented);
    let most = both.map(|walked| walked.asked.len()).max().unwrap();
    assert!(most <= 30, "{most} questions");
    for (walks, measured) in [told, invented].iter().zip(MEASURED) {
        let [first, three] = hits(&walks.iter().collect::<Vec<_>>(), usize::MAX);
        assert!(
            first + ALLOWED >= measured[0] && three + ALLOWED >= measured[1],
            "{first}/{three}, was {}/{}",
            measured[0],
            measured[1]
        );
    }
}

/// Public accounts and examples of which a walk that asks on to its end has the right cause first, or in three, and the walk
/// that concludes by itself has not: at most one of 230.
const LOST: usize = 1;

#[test]
#[ignore = "some minutes: asks up to sixty questions after each conclusion"]
fn little_is_lost_by_concluding() {
    let [told, _] = table(60);
    for places in [1, 3] {
        let on = told.iter().filter(|walked| walked.gone_on < places).count();
        let concluded = told
            .iter()
            .filter(|walked| *walked.places.last().unwrap() < places)
            .count();
        assert!(on <= concluded + LOST, "{on} against {concluded} within {places}");
    }
}
