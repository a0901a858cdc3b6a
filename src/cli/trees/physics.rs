//! `trees physics`: what the knowledge says of its causes against what the simulated installation does.

use std::fmt::Write as _;
use std::io::Write;

use clap::Args;
use serde::Serialize;

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::{Format, Printed};
use crate::cli::printing::as_json;
use crate::cli::progress::progress;
use crate::knowledge::model::Knowledge;
use crate::knowledge::nearest::unknown;
use crate::rig::agreement::{self, Compared, What};
use crate::rig::closed_loop::Wanted;

use super::field;

/// Disagreements shown, unless more are asked for.
const MOST_LINES: usize = 40;

/// Show where physics disagrees with what is said of a cause, the largest first
#[derive(Args, Clone, Debug)]
pub struct PhysicsArgs {
    /// This cause only
    #[arg(long, value_name = "ID")]
    cause: Option<String>,
    /// This effect only, or this reading test
    #[arg(long, value_name = "ID")]
    effect: Option<String>,
    /// This equipment only
    #[arg(long, value_name = "ID")]
    equipment: Option<String>,
    /// Severities of each cause on each equipment
    #[arg(long, value_name = "N", default_value_t = 3, value_parser = clap::value_parser!(u32).range(1..=1000))]
    severities: u32,
    /// Seed of the drawing
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// Show all, those that agree too
    #[arg(long)]
    all: bool,
    /// Where the knowledge is read from.
    #[command(flatten)]
    knowledge: Folder,
    /// The form.
    #[command(flatten)]
    print: Printed,
}

/// One cause at one effect or test.
#[derive(Debug, Serialize)]
struct Line {
    cause: String,
    /// Id of the effect or the reading test.
    of: String,
    test: bool,
    stated: bool,
    samples: usize,
    /// Half the sum of the differences of all states.
    apart: f64,
    /// The state or outcome that differs most, its two shares, and one standard error of the second.
    state: String,
    said: f64,
    physics: f64,
    chance: f64,
    agrees: bool,
    /// Why physics is not the whole story.
    reason: Option<&'static str>,
}

/// How many statements there are of a sort.
#[derive(Debug, Default, Serialize)]
pub(super) struct Counts {
    /// Stated by name, and with a model.
    pub(super) stated: usize,
    /// Of these confirmed.
    pub(super) confirmed: usize,
    /// Of these with a reason why physics is not the whole story.
    pub(super) not_whole: usize,
    /// Of these with too few samples to say.
    pub(super) too_few: usize,
}

impl Counts {
    /// Stated, and physics says otherwise.
    pub(super) fn disagree(&self) -> usize {
        self.stated - self.confirmed - self.not_whole - self.too_few
    }
}

/// Everything printed.
#[derive(Debug, Serialize)]
struct Report {
    knowledge: String,
    seed: u64,
    severities: u32,
    effects: Counts,
    tests: Counts,
    lines: Vec<Line>,
}

/// Runs the command.
pub(super) fn run(args: &PhysicsArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let knowledge = args.knowledge.load()?;
    let cause = args.cause.as_deref().map(|id| field::cause(knowledge, id));
    let only = args.effect.as_deref().map(|id| what(knowledge, id));
    let wanted = Wanted {
        cause: cause.transpose()?,
        complaint: None,
        equipment: field::field(knowledge, None, args.equipment.as_deref())?.equipment,
        severities: args.severities,
        seed: args.seed,
    };
    let compared = compared(knowledge, wanted, only.transpose()?);
    let report = Report {
        knowledge: knowledge.fingerprint.clone(),
        seed: args.seed,
        severities: args.severities,
        effects: counts(knowledge, &compared, false),
        tests: counts(knowledge, &compared, true),
        lines: compared
            .iter()
            .filter(|compared| args.all || !compared.agrees())
            .map(|compared| line(knowledge, compared))
            .collect(),
    };
    match args.print.form {
        Format::Json => write!(out, "{}", as_json(&report)?)?,
        _ => write!(out, "{}", as_text(&report, args.all))?,
    }
    Ok(())
}

/// An effect or a reading test by its id.
fn what(knowledge: &Knowledge, id: &str) -> Result<What, Problem> {
    if let Some(effect) = knowledge.effect(id) {
        return Ok(What::Effect(effect));
    }
    knowledge.test(id).map(What::Test).ok_or_else(|| {
        let effects = knowledge.effects.iter().map(|effect| effect.id.as_str());
        let known = effects.chain(crate::rig::MODELED.iter().copied());
        Problem::data(unknown("effect or reading test", id, known))
    })
}

/// Compares, with a bar that shows how far it is.
pub(super) fn compared(knowledge: &Knowledge, wanted: Wanted, only: Option<What>) -> Vec<Compared> {
    let bar = progress(0);
    let compared = agreement::compare(knowledge, wanted, only, &|all| {
        bar.set_length(all as u64);
        bar.inc(1);
    });
    bar.finish_and_clear();
    compared
}

/// Counts the statements at effects, or those at tests.
pub(super) fn counts(knowledge: &Knowledge, compared: &[Compared], tests: bool) -> Counts {
    let mut counts = Counts::default();
    let of = |compared: &&Compared| compared.stated && matches!(compared.what, What::Test(_)) == tests;
    for compared in compared.iter().filter(of) {
        counts.stated += 1;
        if why(knowledge, compared).is_some() {
            counts.not_whole += 1;
        } else if compared.is_confirmed() {
            counts.confirmed += 1;
        } else if compared.agrees() {
            counts.too_few += 1;
        }
    }
    counts
}

fn why(knowledge: &Knowledge, compared: &Compared) -> Option<&'static str> {
    agreement::reason(&knowledge.causes[compared.cause].id, compared.id(knowledge))
}

fn line(knowledge: &Knowledge, compared: &Compared) -> Line {
    let most = compared.most();
    Line {
        cause: knowledge.causes[compared.cause].id.clone(),
        of: compared.id(knowledge).to_owned(),
        test: matches!(compared.what, What::Test(_)),
        stated: compared.stated,
        samples: compared.samples,
        apart: compared.apart(),
        state: compared.state(knowledge, most).to_owned(),
        said: compared.said[most],
        physics: compared.physics[most],
        chance: compared.chance(),
        agrees: compared.agrees(),
        reason: why(knowledge, compared),
    }
}

fn as_text(report: &Report, all: bool) -> String {
    let mut text = String::new();
    // Writing into a string cannot fail.
    let _ = writeln!(
        text,
        "What is said of each cause against what the simulated installation does, {} severities of each cause on each\n\
         equipment, seed {}. Apart is the share that would have to be said otherwise; the two shares are of the state or\n\
         outcome that differs most, with one standard error of the second.\n",
        report.severities, report.seed
    );
    for (name, counts) in [("effects", &report.effects), ("readings", &report.tests)] {
        let _ = writeln!(
            text,
            "Statements on {name} that name the cause: {}, {} confirmed, {} disagree, {} too few samples to say, {} where physics\n\
             is not the whole story.",
            counts.stated,
            counts.confirmed,
            counts.disagree(),
            counts.too_few,
            counts.not_whole
        );
    }
    let _ = writeln!(
        text,
        "\n{:>6} {:>7} {:>5} {:>7}        cause: effect or reading, state",
        "apart", "samples", "said", "physics"
    );
    let shown = if all { usize::MAX } else { MOST_LINES };
    for line in report.lines.iter().take(shown) {
        let _ = writeln!(
            text,
            "{:>5.0}% {:>7} {:>4.0}% {:>6.0}% +-{:>2.0}%  {}: {}, {}{}",
            100.0 * line.apart,
            line.samples,
            100.0 * line.said,
            100.0 * line.physics,
            100.0 * line.chance,
            line.cause,
            line.of,
            line.state,
            if line.stated { "" } else { " (not stated)" }
        );
        if let Some(reason) = line.reason {
            let _ = writeln!(text, "{:>38}{reason}", "");
        }
    }
    let left = report.lines.len().saturating_sub(shown);
    if left > 0 {
        let _ = writeln!(
            text,
            "{left} smaller ones are left out; `--all` or `--format json` shows every one."
        );
    }
    text
}
