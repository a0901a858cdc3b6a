//! `trees score`: how well the knowledge finds its own causes, and at what cost.

use std::fmt::Write as _;
use std::io::Write;

use clap::Args;
use indicatif::ProgressBar;
use serde::Serialize;

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::{Format, Printed};
use crate::cli::printing::as_json;
use crate::cli::progress::progress;
use crate::inference::score::{self, Policy, Score, Subject, Walked};
use crate::inference::{bound, optimal, repair};
use crate::knowledge::model::{EquipmentIndex, Knowledge, TreeIndex};
use crate::rig::closed_loop::Wanted;

use super::{field, rig};

/// Confused pairs shown.
const MOST_PAIRS: usize = 12;

/// Draw cases from the knowledge itself and count how often and how soon the true cause is found
#[derive(Args, Clone, Debug)]
pub struct ScoreArgs {
    #[command(flatten)]
    knowledge: Folder,
    /// Score this complaint only
    #[arg(long, value_name = "ID")]
    complaint: Option<String>,
    /// Score this equipment only
    #[arg(long, value_name = "ID")]
    equipment: Option<String>,
    /// Cases drawn for each complaint on each equipment
    #[arg(long, value_name = "N", default_value_t = 200, value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    cases: u32,
    /// Seed of the drawing; the same seed gives the same score
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// Walk against a simulated installation in place of drawing from the tables
    #[arg(long)]
    rig: bool,
    /// With --rig: severities of each cause on each equipment
    #[arg(long, value_name = "N", default_value_t = 3, requires = "rig", value_parser = clap::value_parser!(u32).range(1..=1000))]
    severities: u32,
    /// With --rig: this cause only
    #[arg(long, value_name = "ID", requires = "rig")]
    cause: Option<String>,
    /// With --rig: print every case that ended wrong, with its whole walk
    #[arg(long, requires = "rig")]
    walks: bool,
    #[command(flatten)]
    print: Printed,
}

/// The score of one complaint on one equipment, or of all together.
#[derive(Clone, Debug, Serialize)]
struct Line {
    complaint: String,
    equipment: String,
    causes: usize,
    tests_available: usize,
    /// Asking what tells most for its cost.
    score: Score,
    /// Asking in authored order.
    in_order: Score,
    /// Minutes of the first over minutes of the second.
    minutes_against_order: f64,
    /// No way of asking needs fewer tests on average.
    least_tests: f64,
    /// Mean tests over that bound.
    tests_against_bound: f64,
    /// On the five likeliest causes and five most telling tests: expected minutes of finding and repairing by one or
    /// two steps of foresight, over those of the optimum.
    minutes_against_optimum: Option<f64>,
}

#[derive(Clone, Debug, Serialize)]
struct Confused {
    truth: String,
    led: String,
    cases: usize,
}

#[derive(Clone, Debug, Serialize)]
struct Scores {
    cases_each: u32,
    seed: u64,
    knowledge: String,
    together: Score,
    together_in_order: Score,
    minutes_against_order: f64,
    tests_against_bound: f64,
    lines: Vec<Line>,
    confused: Vec<Confused>,
    /// What one perfect test between the two most confused causes would win, as a share of all cases.
    best_single_test_wins: f64,
}

/// Runs the command.
///
/// # Errors
/// When the knowledge cannot be used or an id is unknown.
pub(super) fn run(args: &ScoreArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let knowledge = args.knowledge.load()?;
    let pairs = pairs(args, knowledge)?;
    if args.rig {
        return against_rig(args, knowledge, out);
    }
    let bar = progress(pairs.len() as u64 * 2 * u64::from(args.cases));
    let mut lines = Vec::new();
    let (mut all, mut all_in_order): (Vec<Walked>, Vec<Walked>) = (Vec::new(), Vec::new());
    let mut confused: Vec<Confused> = Vec::new();
    let mut bound_weighted = 0.0;
    for (tree, equipment) in pairs {
        let subject = Subject::new(knowledge, tree, &knowledge.equipment[equipment]);
        let walked = sampled(args, &subject, Policy::Gain, &bar);
        let in_order = sampled(args, &subject, Policy::InOrder, &bar);
        for ((truth, led), cases) in score::confusion(&walked) {
            let id = |place: usize| knowledge.causes[subject.model.causes()[place]].id.clone();
            let (truth, led) = (id(truth), id(led));
            match confused
                .iter_mut()
                .find(|known| known.truth == truth && known.led == led)
            {
                Some(known) => known.cases += cases,
                None => confused.push(Confused { truth, led, cases }),
            }
        }
        let line = line(knowledge, tree, equipment, &subject, &walked, &in_order);
        bound_weighted += line.least_tests * walked.len() as f64;
        lines.push(line);
        all.extend(walked);
        all_in_order.extend(in_order);
    }
    bar.finish_and_clear();
    confused.sort_by(|a, b| b.cases.cmp(&a.cases).then(a.truth.cmp(&b.truth)));
    let together = score::sum_up(&all);
    let together_in_order = score::sum_up(&all_in_order);
    let wins = confused.first().map_or(0.0, |first| {
        let both = confused
            .iter()
            .filter(|pair| {
                (pair.truth == first.truth && pair.led == first.led)
                    || (pair.truth == first.led && pair.led == first.truth)
            })
            .map(|pair| pair.cases)
            .sum::<usize>();
        both as f64 / all.len().max(1) as f64
    });
    confused.truncate(MOST_PAIRS);
    let scores = Scores {
        cases_each: args.cases,
        seed: args.seed,
        knowledge: knowledge.fingerprint.clone(),
        minutes_against_order: together.minutes / together_in_order.minutes,
        tests_against_bound: together.tests * all.len() as f64 / bound_weighted,
        together,
        together_in_order,
        lines,
        confused,
        best_single_test_wins: wins,
    };
    match args.print.form {
        Format::Json => write!(out, "{}", as_json(&scores)?)?,
        _ => write!(out, "{}", as_text(&scores))?,
    }
    Ok(())
}

fn against_rig(args: &ScoreArgs, knowledge: &Knowledge, out: &mut dyn Write) -> Result<(), Problem> {
    let cause = args.cause.as_deref().map(|id| field::cause(knowledge, id));
    let wanted = Wanted {
        cause: cause.transpose()?,
        complaint: args.complaint.as_deref().and_then(|id| knowledge.tree(id)),
        equipment: args.equipment.as_deref().and_then(|id| knowledge.equipment(id)),
        severities: args.severities,
        seed: args.seed,
    };
    let score = rig::score(knowledge, wanted, args.walks);
    match args.print.form {
        Format::Json => write!(out, "{}", as_json(&score)?)?,
        _ => write!(out, "{}", rig::as_text(&score))?,
    }
    Ok(())
}

fn pairs(args: &ScoreArgs, knowledge: &Knowledge) -> Result<Vec<(TreeIndex, EquipmentIndex)>, Problem> {
    use crate::knowledge::nearest::unknown;
    if let Some(id) = &args.complaint
        && knowledge
            .tree(id)
            .is_none_or(|tree| knowledge.trees[tree].complaint.is_none())
    {
        let known = knowledge
            .trees
            .iter()
            .filter(|tree| tree.is_complaint())
            .map(|tree| tree.id.as_str());
        return Err(Problem::data(unknown("complaint", id, known)));
    }
    if let Some(id) = &args.equipment
        && knowledge.equipment(id).is_none()
    {
        let known = knowledge.equipment.iter().map(|kind| kind.id.as_str());
        return Err(Problem::data(unknown("equipment", id, known)));
    }
    let wanted = |filter: &Option<String>, id: &str| filter.as_deref().is_none_or(|wanted| wanted == id);
    let mut pairs = Vec::new();
    for (tree, known) in knowledge.trees.iter().enumerate() {
        if known.complaint.is_none() || !wanted(&args.complaint, &known.id) {
            continue;
        }
        for (equipment, kind) in knowledge.equipment.iter().enumerate() {
            if wanted(&args.equipment, &kind.id) {
                pairs.push((TreeIndex(tree), EquipmentIndex(equipment)));
            }
        }
    }
    Ok(pairs)
}

/// A model with at most this many tests is scored exactly; the ways through a larger one are too many.
const FEW_TESTS: usize = 10;

/// Ways a walk can end, up to which a score is worked out exactly.
const MOST_WAYS: usize = 50_000;

/// Every case of a small model, weighted; else cases drawn from the seed.
fn sampled(args: &ScoreArgs, subject: &Subject, policy: Policy, bar: &ProgressBar) -> Vec<Walked> {
    if subject.tests.len() <= FEW_TESTS
        && let Some(mut exact) = score::expand(subject, policy, MOST_WAYS)
    {
        // Counted together with sampled lines, an exact one weighs like them.
        for case in &mut exact {
            case.weight *= f64::from(args.cases);
        }
        bar.inc(u64::from(args.cases));
        return exact;
    }
    score::sample(subject, policy, args.cases as usize, args.seed, &mut |_| {
        bar.inc(1);
        true
    })
}

fn line(
    knowledge: &Knowledge,
    tree: TreeIndex,
    equipment: EquipmentIndex,
    subject: &Subject,
    walked: &[Walked],
    in_order: &[Walked],
) -> Line {
    let (score, in_order) = (score::sum_up(walked), score::sum_up(in_order));
    let Subject { model, tests, .. } = subject;
    let available: Vec<_> = tests.iter().map(|test| test.test).collect();
    let least_tests = bound::least_tests(model, &available, score.left);
    Line {
        complaint: knowledge.trees[tree].id.clone(),
        equipment: knowledge.equipment[equipment].id.clone(),
        causes: model.causes().len(),
        tests_available: tests.len(),
        minutes_against_order: score.minutes / in_order.minutes,
        tests_against_bound: score.tests / least_tests,
        least_tests,
        minutes_against_optimum: against_optimum(subject),
        score,
        in_order,
    }
}

fn against_optimum(subject: &Subject) -> Option<f64> {
    const SMALL: usize = 5;
    let tests = subject.tests.iter();
    let costs: Vec<_> = tests.map(|priced| (priced.test, priced.cost(None))).collect();
    let (small, tests, places) = optimal::reduced(&subject.model, &costs, SMALL, SMALL);
    let repairs: Vec<f64> = places.iter().map(|place| subject.repairs[*place]).collect();
    let best = optimal::least_cost(&small, &tests, &repairs, repair::HAND_OVER_MINUTES)?;
    Some(optimal::policy_cost(&small, &tests, &repairs, repair::HAND_OVER_MINUTES) / best)
}

fn as_text(scores: &Scores) -> String {
    let mut text = String::new();
    // Writing into a string cannot fail.
    let _ = writeln!(
        text,
        "Cases drawn from the knowledge's own tables ({} for each line, seed {}). This measures\n\
         whether the causes can be told apart, not whether what is said is true.\n",
        scores.cases_each, scores.seed
    );
    let _ = writeln!(
        text,
        "{:<18} {:<22} {:>5} {:>6} {:>5} {:>7} {:>7} {:>6}",
        "complaint", "equipment", "first", "in 3", "tests", "minutes", "/order", "/bound"
    );
    for line in &scores.lines {
        let _ = writeln!(
            text,
            "{:<18} {:<22} {:>4.0}% {:>5.0}% {:>5.1} {:>7.0} {:>7.2} {:>6.2}",
            line.complaint,
            line.equipment,
            line.score.first * 100.0,
            line.score.first_three * 100.0,
            line.score.tests,
            line.score.minutes,
            line.minutes_against_order,
            line.tests_against_bound
        );
    }
    let together = &scores.together;
    let _ = writeln!(
        text,
        "\nTogether, where the cause is a listed one: first in {:.1} %, in the first three in {:.1} %.\n\
         Over all cases {:.1} tests, {:.0} minutes,\n\
         {:.1} of the tests energized. In authored order: first in {:.1} %, {:.0} minutes.\n\
         Minutes against authored order {:.2}; tests against the entropy bound {:.2}.",
        together.first * 100.0,
        together.first_three * 100.0,
        together.tests,
        together.minutes,
        together.energised,
        scores.together_in_order.first * 100.0,
        scores.together_in_order.minutes,
        scores.minutes_against_order,
        scores.tests_against_bound
    );
    let ratios: Vec<f64> = scores
        .lines
        .iter()
        .filter_map(|line| line.minutes_against_optimum)
        .collect();
    if !ratios.is_empty() {
        let _ = writeln!(
            text,
            "On the five likeliest causes and five most telling tests of each line, the way of choosing costs\n\
             {:.3} times the optimum on average, at worst {:.3} times.",
            ratios.iter().sum::<f64>() / ratios.len() as f64,
            ratios.iter().copied().fold(0.0, f64::max)
        );
    }
    let _ = writeln!(
        text,
        "\nCalibration: Brier {:.3}, log loss {:.3} nats, expected error {:.1} points",
        together.brier,
        together.log_loss,
        together.calibration_error * 100.0
    );
    for bin in &together.reliability {
        let _ = writeln!(
            text,
            "  leader at {:.0} to {:.0} %: said {:.1} %, right {:.1} % of {} cases",
            bin.from * 100.0,
            bin.from * 100.0 + 20.0,
            bin.said * 100.0,
            bin.right * 100.0,
            bin.cases
        );
    }
    let _ = writeln!(text, "\nMost confused (true cause, taken for):");
    for pair in &scores.confused {
        let _ = writeln!(text, "  {:>5}  {}, {}", pair.cases, pair.truth, pair.led);
    }
    if let Some(first) = scores.confused.first() {
        let _ = writeln!(
            text,
            "\nA test that told `{}` from `{}` would win up to {:.1} % of the cases.",
            first.truth,
            first.led,
            scores.best_single_test_wins * 100.0
        );
    }
    text
}
