//! Time of one answer: update of the standing and choice of the next question, on the knowledge compiled in and on
//! a model of 200 causes and 250 tests; and of the whole process up to the first prompt.

use std::process::{Command, Stdio};

use criterion::{Criterion, criterion_group, criterion_main};
use lineside::inference::evidence::Likelihoods;
use lineside::inference::gain::information;
use lineside::inference::price::Priced;
use lineside::inference::score::{Policy, Subject, sample};
use lineside::inference::{Answered, Model, Standing};
use lineside::knowledge::model::{OutcomeIndex, State, TestIndex};
use lineside::walk::{Reply, Walk};

/// A model of the shape the design names, from a fixed sequence of numbers.
fn large_model(causes: usize, tests: usize) -> Model {
    let mut seed = 0x2545_f491_4f6c_dd1d_u64;
    let mut next = move || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed % 1000) as f64 / 1000.0 + 0.01
    };
    let mut shares = |n: usize| {
        let weights: Vec<f64> = (0..n).map(|_| next()).collect();
        let total: f64 = weights.iter().sum();
        weights.iter().map(|weight| weight / total).collect::<Vec<f64>>()
    };
    let priors = shares(causes + 1);
    let tests = (0..tests)
        .map(|_| Likelihoods::from_rows(shares(3), (0..causes).map(|_| shares(3)).collect()))
        .collect();
    Model::from_tables(priors, tests)
}

fn update_and_choice(c: &mut Criterion) {
    let mut group = c.benchmark_group("standing, and gain of every test, all rows full");
    for (causes, tests) in [(50, 75), (100, 150), (200, 250), (400, 500)] {
        let model = large_model(causes, tests);
        let findings: Vec<Answered> = (0..30)
            .map(|test| Answered::certain(TestIndex(test), OutcomeIndex(test % 3)))
            .collect();
        group.bench_function(format!("{causes} causes x {tests} tests"), |b| {
            b.iter(|| {
                let standing = Standing::new(&model, &findings);
                (30..tests)
                    .map(|test| information(&model, &standing, TestIndex(test)))
                    .fold(0.0, f64::max)
            });
        });
    }
    group.finish();

    let knowledge = lineside::knowledge::embedded().expect("the knowledge compiled in is sound");
    let mut walk = Walk::new(&knowledge);
    for answer in ["breaker-opens", "split-air-conditioner"] {
        let taken = walk
            .receive(&Reply::Answer(answer.to_owned()))
            .expect("a valid answer");
        walk.apply(&taken.event).expect("a known id");
    }
    let reply = Reply::Volunteer {
        test: "when-does-it-happen".to_owned(),
        answer: Some("after-minutes".to_owned()),
    };
    let taken = walk.receive(&reply).expect("a valid answer");
    c.bench_function("one answer of a walk: update, calculations, next question", |b| {
        b.iter(|| {
            let mut walk = walk.clone();
            walk.apply(&taken.event).expect("a known id");
            walk
        });
    });
    c.bench_function("all open tests of a walk by gain for their cost", |b| {
        b.iter(|| walk.candidates())
    });
}

fn whole_process(c: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut number = 0;
    c.bench_function("whole process to the first prompt (input closed there)", |b| {
        b.iter(|| {
            number += 1;
            // The first prompt meets the end of the input, so the process ends where a person would start.
            Command::new(env!("CARGO_BIN_EXE_lineside"))
                .args(["diagnose", "--case"])
                .arg(folder.path().join(format!("{number}.jsonl")))
                .stdin(Stdio::null())
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .status()
        });
    });
}

/// Scoring of 10,000 sampled cases, and how it grows with causes and tests.
fn scoring(c: &mut Criterion) {
    let mut group = c.benchmark_group("scoring 10,000 sampled cases");
    group.sample_size(10);
    for (causes, tests) in [(25, 40), (50, 75), (100, 150)] {
        let model = large_model(causes, tests);
        let subject = Subject {
            model,
            tests: (0..tests)
                .map(|test| Priced {
                    test: TestIndex(test),
                    minutes: 1.0 + (test % 9) as f64,
                    charge: 0.0,
                    questions: 1,
                    state: State::Any,
                })
                .collect(),
            first: None,
            repairs: (0..causes)
                .map(|cause| 30.0 + (cause % 7) as f64 * 15.0)
                .collect(),
        };
        group.bench_function(format!("{causes} causes x {tests} tests"), |b| {
            b.iter(|| sample(&subject, Policy::Gain, 10_000, 1, &mut |_| true));
        });
    }
    group.finish();
    let knowledge = lineside::knowledge::embedded().expect("the knowledge compiled in is sound");
    let (tree, equipment) = (
        knowledge.tree("breaker-opens").expect("a complaint"),
        knowledge
            .equipment("split-air-conditioner")
            .expect("an equipment"),
    );
    let subject = Subject::new(&knowledge, tree, &knowledge.equipment[equipment]);
    let mut group = c.benchmark_group("scoring 10,000 sampled cases of the knowledge");
    group.sample_size(10);
    group.bench_function("breaker-opens on a split air conditioner", |b| {
        b.iter(|| sample(&subject, Policy::Gain, 10_000, 1, &mut |_| true));
    });
    group.finish();
}

criterion_group!(benches, update_and_choice, scoring, whole_process);
criterion_main!(benches);
