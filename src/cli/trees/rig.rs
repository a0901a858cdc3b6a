//! `trees score --rig`: the closed loop, as a table.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use rayon::prelude::*;
use serde::Serialize;

use crate::cli::progress::progress;
use crate::knowledge::model::{CauseIndex, Knowledge};
use crate::rig::closed_loop::{self, Ended, Wanted};
use crate::rig::faults::{self, Model};
use crate::rig::{NoRig, states};

/// Figures over some cases.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Line {
    name: String,
    cases: usize,
    first: f64,
    first_three: f64,
    questions_median: usize,
    questions_nine_in_ten: usize,
    minutes_median: f64,
    live: f64,
    halted: usize,
}

/// The score of the closed loop.
#[derive(Clone, Debug, Serialize)]
pub(super) struct LoopScore {
    seed: u64,
    severities: u32,
    knowledge: String,
    together: Line,
    by_severity: Vec<Line>,
    by_equipment: Vec<Line>,
    by_complaint: Vec<Line>,
    /// Causes that do not come first as often as they should, the worst first.
    held_back: Vec<Line>,
    /// True cause, taken for, cases.
    confused: Vec<(String, String, usize)>,
    /// Causes without a model, with the reason.
    without_model: Vec<(String, String)>,
    /// Looks and things asked that no installation decides, with the effects they show: drawn once with each fault.
    looks_without_model: Vec<(String, Vec<String>)>,
    /// Cases that could not be built.
    not_built: usize,
    /// Cases left out: the fault brings nothing anybody calls for, even at its gravest.
    not_felt: usize,
    not_felt_by_cause: Vec<(String, usize)>,
    /// Every case that ended wrong, with its walk.
    wrong: Vec<String>,
}

/// Share of cases in which the true cause is to come first.
const FIRST_BAR: f64 = 0.9;

/// Causes and confused pairs shown in the text.
const MOST_LISTED: usize = 20;

/// Walks every case, in parallel.
pub(super) fn score(knowledge: &Knowledge, wanted: Wanted, walks: bool) -> LoopScore {
    let cases = closed_loop::cases(knowledge, wanted);
    let bar = progress(cases.len() as u64);
    let walked: Vec<Result<Result<Ended, NoRig>, CauseIndex>> = cases
        .par_iter()
        .map(|case| {
            let called = closed_loop::called(knowledge, *case, wanted);
            let ended = if called.felt {
                Ok(closed_loop::walk(knowledge, &called))
            } else {
                Err(called.truth)
            };
            bar.inc(1);
            ended
        })
        .collect();
    bar.finish_and_clear();
    let mut unfelt: BTreeMap<String, usize> = BTreeMap::new();
    for truth in walked.iter().filter_map(|walked| walked.as_ref().err()) {
        *unfelt.entry(knowledge.causes[*truth].id.clone()).or_default() += 1;
    }
    let walked: Vec<Result<Ended, NoRig>> = walked.into_iter().flatten().collect();
    let not_built = walked.iter().filter(|ended| ended.is_err()).count();
    let ended: Vec<Ended> = walked.into_iter().flatten().collect();
    let cause = |ended: &Ended| knowledge.causes[ended.case.truth].id.clone();
    let third = |ended: &Ended| {
        let names = ["slight", "middling", "grave"];
        let place = ((ended.case.severity * 3.0) as usize).min(2);
        format!("{} {}", place + 1, names[place])
    };
    let mut held_back = grouped(&ended, &cause);
    held_back.sort_by(|a, b| a.first.total_cmp(&b.first).then(b.cases.cmp(&a.cases)));
    held_back.retain(|line| line.first < FIRST_BAR);
    LoopScore {
        seed: wanted.seed,
        severities: wanted.severities,
        knowledge: knowledge.fingerprint.clone(),
        together: line("together", &ended.iter().collect::<Vec<_>>()),
        by_severity: grouped(&ended, &third),
        by_equipment: grouped(&ended, &|ended| {
            knowledge.equipment[ended.case.equipment].id.clone()
        }),
        by_complaint: grouped(&ended, &|ended| knowledge.trees[ended.case.complaint].id.clone()),
        held_back,
        confused: confused(knowledge, &ended),
        without_model: without_model(),
        looks_without_model: states::looks_without_model(knowledge),
        not_built,
        not_felt: unfelt.values().sum(),
        not_felt_by_cause: unfelt.into_iter().collect(),
        wrong: if walks {
            wrong(knowledge, &ended)
        } else {
            Vec::new()
        },
    }
}

fn grouped(ended: &[Ended], name: &dyn Fn(&Ended) -> String) -> Vec<Line> {
    let mut groups: BTreeMap<String, Vec<&Ended>> = BTreeMap::new();
    for case in ended {
        groups.entry(name(case)).or_default().push(case);
    }
    groups.iter().map(|(name, cases)| line(name, cases)).collect()
}

fn line(name: &str, cases: &[&Ended]) -> Line {
    let share = |of: &dyn Fn(&Ended) -> bool| {
        cases.iter().filter(|case| of(case)).count() as f64 / cases.len().max(1) as f64
    };
    let at = |sorted: &[usize], part: f64| {
        let place = (sorted.len() as f64 * part) as usize;
        sorted
            .get(place.min(sorted.len().saturating_sub(1)))
            .copied()
            .unwrap_or(0)
    };
    let mut questions: Vec<usize> = cases.iter().map(|case| case.questions).collect();
    questions.sort_unstable();
    let mut minutes: Vec<usize> = cases.iter().map(|case| case.minutes.round() as usize).collect();
    minutes.sort_unstable();
    Line {
        name: name.to_owned(),
        cases: cases.len(),
        first: share(&|case| case.rank == 1),
        first_three: share(&|case| (1..=3).contains(&case.rank)),
        questions_median: at(&questions, 0.5),
        questions_nine_in_ten: at(&questions, 0.9),
        minutes_median: at(&minutes, 0.5) as f64,
        live: cases.iter().map(|case| case.live as f64).sum::<f64>() / cases.len().max(1) as f64,
        halted: cases.iter().filter(|case| case.halted).count(),
    }
}

fn confused(knowledge: &Knowledge, ended: &[Ended]) -> Vec<(String, String, usize)> {
    let mut counts: BTreeMap<(String, String), usize> = BTreeMap::new();
    for case in ended.iter().filter(|case| case.rank != 1) {
        let Some(led) = case.led else { continue };
        let id = |cause: crate::knowledge::model::CauseIndex| knowledge.causes[cause].id.clone();
        *counts.entry((id(case.case.truth), id(led))).or_default() += 1;
    }
    let mut pairs: Vec<_> = counts
        .into_iter()
        .map(|((truth, led), cases)| (truth, led, cases))
        .collect();
    pairs.sort_by(|a, b| b.2.cmp(&a.2).then(a.0.cmp(&b.0)));
    pairs
}

fn without_model() -> Vec<(String, String)> {
    let models = faults::all().into_iter().flatten();
    models
        .filter_map(|(cause, model)| match model {
            Model::Nothing(why) => Some((cause.clone(), why.clone())),
            _ => None,
        })
        .collect()
}

fn wrong(knowledge: &Knowledge, ended: &[Ended]) -> Vec<String> {
    let told = |case: &Ended| {
        let id = |cause: crate::knowledge::model::CauseIndex| knowledge.causes[cause].id.as_str();
        let mut text = format!(
            "{} on {}, {}, severity {:.2}, seed {}: rank {}, led {} at {:.0} %\n",
            id(case.case.truth),
            knowledge.equipment[case.case.equipment].id,
            knowledge.trees[case.case.complaint].id,
            case.case.severity,
            case.case.seed,
            case.rank,
            case.led.map_or("nothing", id),
            100.0 * case.share,
        );
        for step in &case.way {
            let _ = writeln!(text, "    {step}");
        }
        text
    };
    ended.iter().filter(|case| case.rank != 1).map(told).collect()
}

pub(super) fn as_text(score: &LoopScore) -> String {
    let mut text = String::new();
    // Writing into a string cannot fail.
    let _ = writeln!(
        text,
        "The walk against the rig: {} cases, {} severities of each cause on each equipment, seed {}.\n\
         Readings come from physics with the meter's error, looks from its states; what physics does not decide is drawn\n\
         once for each hidden fault. {} cases could not be built; {} causes have no model. {} cases are left out: their fault\n\
         brings nothing anybody calls for, even at its gravest.\n",
        score.together.cases,
        score.severities,
        score.seed,
        score.not_built,
        score.without_model.len(),
        score.not_felt
    );
    head(&mut text);
    row(&mut text, &score.together);
    for (title, lines) in [
        ("By severity", &score.by_severity),
        ("By equipment", &score.by_equipment),
        ("By complaint", &score.by_complaint),
        ("Causes found least often", &score.held_back),
    ] {
        let _ = writeln!(text, "\n{title}");
        for line in lines.iter().take(MOST_LISTED.max(score.by_equipment.len())) {
            row(&mut text, line);
        }
    }
    let _ = writeln!(
        text,
        "\nAgainst the bars: first >= 90 %, first three >= 98 %, questions 15 / 25."
    );
    let _ = writeln!(text, "\nMost confused (true cause, taken for):");
    for (truth, led, cases) in score.confused.iter().take(MOST_LISTED) {
        let _ = writeln!(text, "  {cases:>5}  {truth}, {led}");
    }
    let _ = writeln!(text, "\nNo model:");
    for (cause, why) in &score.without_model {
        let _ = writeln!(text, "  {cause}: {why}");
    }
    let _ = writeln!(
        text,
        "\n{} looks and things asked are decided by no installation, but drawn with each fault (`--format json` lists them).",
        score.looks_without_model.len()
    );
    for case in &score.wrong {
        let _ = write!(text, "\n{case}");
    }
    text
}

fn head(text: &mut String) {
    let _ = writeln!(
        text,
        "{:<44} {:>6} {:>6} {:>6} {:>9} {:>7} {:>5} {:>6}",
        "", "cases", "first", "in 3", "questions", "minutes", "live", "halted"
    );
}

fn row(text: &mut String, line: &Line) {
    let _ = writeln!(
        text,
        "{:<44} {:>6} {:>5.1}% {:>5.1}% {:>4} /{:>3} {:>7.0} {:>5.1} {:>6}",
        line.name,
        line.cases,
        100.0 * line.first,
        100.0 * line.first_three,
        line.questions_median,
        line.questions_nine_in_ten,
        line.minutes_median,
        line.live,
        line.halted
    );
}
