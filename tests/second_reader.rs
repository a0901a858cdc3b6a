//! Invented accounts of callbacks, ranked by signs, by effects, and by a reader who had the same answers.
//!
//! What they are and how they came about stands in `second_reader/README.md`. The odd ones may be studied; the even ones are
//! only counted. To see the table: `cargo test --test all second_reader:: -- --nocapture`.

#![expect(clippy::unwrap_used, reason = "a failed unwrap fails the test")]
#![expect(clippy::print_stdout, reason = "the table is what the measure is read from")]

use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::thread;

use indexmap::IndexMap;
use serde::Deserialize;

use lineside::inference::{Answered, Model, Standing, conflict};
use lineside::knowledge;
use lineside::knowledge::model::{CauseIndex, Knowledge, OutcomeIndex};
use lineside::walk::{AnswerFile, Event, Walk, drive};

#[derive(Deserialize)]
struct File {
    account: Vec<Account>,
}

#[derive(Deserialize)]
struct Account {
    number: usize,
    cause: String,
    equipment: String,
    complaint: String,
    reader: Vec<String>,
    answers: IndexMap<String, String>,
}

/// All that an account tells is told.
#[derive(Debug, thiserror::Error)]
#[error("all is told")]
struct Told;

/// Right in first place and within the first three.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Score {
    first: usize,
    three: usize,
}

impl Score {
    fn add(&mut self, place: Option<usize>) {
        self.first += usize::from(place == Some(0));
        self.three += usize::from(place.is_some_and(|place| place < 3));
    }
}

/// What was measured on the even ones on 30 November 2026; two may be lost to a change that is right in general. It was 97 and 125
/// before twenty-two pairs of questions became one each: answers to a pair, which were one fact, had counted twice. The public
/// accounts kept back gained as much by the same changes (`callbacks.rs`). It was 95 and 125 until the mends of that evening, which were made
/// for their own reasons and not kept or dropped by this figure.
const MEASURED: Score = Score {
    first: 91,
    three: 122,
};
const ALLOWED: usize = 2;

fn accounts() -> Vec<Account> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/second_reader");
    (1..=4)
        .flat_map(|part| {
            let text = fs::read_to_string(folder.join(format!("accounts-{part}.toml"))).unwrap();
            toml::from_str::<File>(&text).unwrap().account
        })
        .collect()
}

/// What an account tells, and the model that weighs it, once everything it tells is told and nothing is asked.
struct Heard {
    model: Model,
    findings: Vec<Answered>,
    cause: CauseIndex,
}

impl Heard {
    fn of(knowledge: &Knowledge, account: &Account) -> Self {
        let mut text = format!(
            "complaint = {:?}\nequipment = {:?}\n[answers]\n",
            account.complaint, account.equipment
        );
        for (test, answer) in &account.answers {
            let _ = writeln!(text, "{test} = {answer:?}");
        }
        let mut answers = AnswerFile::parse(&text, knowledge).unwrap_or_else(|errors| {
            let errors: String = errors.iter().map(|error| format!("\n{error}")).collect();
            panic!("account {}: {errors}", account.number)
        });
        let mut walk = Walk::new(knowledge);
        let _ = drive(&mut walk, &mut answers, &mut |event: &Event| match event {
            Event::Answer {
                volunteered: false, ..
            } => Err(Told),
            _ => Ok(()),
        });
        assert!(!walk.findings().is_empty(), "account {}", account.number);
        Self {
            model: walk.model().unwrap().clone(),
            findings: walk.findings().to_vec(),
            cause: knowledge.cause(&account.cause).unwrap(),
        }
    }

    /// Place of the true cause, from 0, and what the leader is given.
    fn place(&self, findings: &[Answered]) -> (usize, f64) {
        let ranked = Standing::new(&self.model, findings).ranked();
        let place = ranked.iter().position(|(listed, _)| *listed == self.cause);
        (place.unwrap_or(usize::MAX), ranked[0].1)
    }
}

/// Something worked out for every account, on two threads.
fn over_all<T: Send>(accounts: &[Account], of: impl Fn(&Account) -> T + Sync) -> Vec<T> {
    let of = &of;
    thread::scope(|scope| {
        let (one, other) = accounts.split_at(accounts.len() / 2);
        let runs = [one, other].map(|part| scope.spawn(move || part.iter().map(of).collect::<Vec<T>>()));
        runs.into_iter().flat_map(|run| run.join().unwrap()).collect()
    })
}

#[test]
fn effects_rank_about_as_a_reader_of_the_same_answers() {
    let knowledge = knowledge::embedded().unwrap();
    let accounts = accounts();
    assert_eq!(accounts.len(), 320);
    let places = over_all(&accounts, |account| {
        let heard = Heard::of(&knowledge, account);
        heard.place(&heard.findings).0
    });
    let mut scores = [[Score::default(); 2]; 2];
    for (account, place) in accounts.iter().zip(places) {
        let reader = account.reader.iter().position(|cause| *cause == account.cause);
        let [ours, readers] = &mut scores[account.number % 2];
        ours.add(Some(place));
        readers.add(reader);
        // Of the even ones nobody is to know which are missed.
        if account.number % 2 == 1 && place != 0 {
            println!("{:3} {:40} place {}", account.number, account.cause, place + 1);
        }
    }
    for (name, [ours, reader]) in ["even, only counted", "odd, there to learn from"]
        .iter()
        .zip(scores)
    {
        println!("{name}, of 160:");
        for (who, score) in [("lineside", ours), ("the reader", reader)] {
            println!("  {who}: {} first, {} within three", score.first, score.three);
        }
    }
    let [counted, _] = scores[0];
    assert!(
        counted.first + ALLOWED >= MEASURED.first && counted.three + ALLOWED >= MEASURED.three,
        "{counted:?}, measured before: {MEASURED:?}"
    );
}

/// One answer of an account is made wrong, another outcome being sampled by how usual it is. Where that takes the lead
/// from the true cause the answer may be named as the one to doubt; where all is right hardly ever.
///
/// Measured over all accounts on 29 November 2026, at twelve to one: about 1 in 20 sound ones named an answer; of 286 wrong leads
/// 50 named the wrong answer and 25 another. Every fourth account is tried here.
#[test]
fn an_answer_is_doubted_where_it_wrongly_took_the_lead_and_seldom_where_all_is_right() {
    let knowledge = knowledge::embedded().unwrap();
    let accounts: Vec<Account> = accounts().into_iter().step_by(4).collect();
    let counts = over_all(&accounts, |account| {
        let heard = Heard::of(&knowledge, account);
        if heard.place(&heard.findings).0 != 0 {
            return [0; 4];
        }
        let doubted =
            |findings: &[Answered]| conflict::doubt(&heard.model, findings).map(|doubt| doubt.finding);
        let alarm = usize::from(doubted(&heard.findings).is_some());
        let mut random = fastrand::Rng::with_seed(account.number as u64);
        let (mut taken, mut named) = (0, 0);
        for place in 0..heard.findings.len() {
            let finding = &heard.findings[place];
            let mut usual = heard.model.likelihoods(finding.test).unwrap().usual().to_vec();
            usual[finding.outcome.place()] = 0.0;
            let mut left = random.f64() * usual.iter().sum::<f64>();
            let Some(sampled) = usual.iter().position(|share| {
                left -= share;
                left < 0.0
            }) else {
                continue;
            };
            let mut findings = heard.findings.clone();
            findings[place] = Answered::certain(finding.test, OutcomeIndex(sampled));
            if heard.place(&findings).0 != 0 {
                taken += 1;
                named += usize::from(doubted(&findings) == Some(place));
            }
        }
        [1, alarm, taken, named]
    });
    let [sound, alarms, taken, named] = counts.into_iter().fold([0; 4], |mut sum, one| {
        sum.iter_mut().zip(one).for_each(|(sum, one)| *sum += one);
        sum
    });
    println!("{alarms} of {sound} sound ones doubted; of {taken} wrong leads {named} doubted rightly");
    assert!(alarms * 10 <= sound, "{alarms} of {sound} sound ones doubted");
    assert!(
        named * 10 >= taken,
        "of {taken} wrong leads only {named} doubted rightly"
    );
}
