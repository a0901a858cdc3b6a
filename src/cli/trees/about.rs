//! `trees about`: all that is said of one cause, and what each test would show under it.

mod text;

use std::io::Write;

use clap::Args;
use serde_json::{Map, Value as Json, json};

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::{Format, Printed};
use crate::cli::printing::as_json;
use crate::inference::matrix::Matrix;
use crate::inference::origin::{Origin, origin};
use crate::inference::telling::Telling;
use crate::inference::under::Reason;
use crate::knowledge::model::{CauseIndex, EffectIndex, Knowledge, OutcomeIndex, TestIndex};

use super::field;
use super::list::complaints_json;

/// Lines shown of each list of tests, unless all are asked for.
const MOST_LINES: usize = 12;

/// Arguments of `trees about`.
#[derive(Debug, Args)]
pub struct AboutArgs {
    /// The cause
    #[arg(value_name = "CAUSE")]
    pub cause: String,
    /// Under this complaint, and only tests it asks; without it, nothing is taken from a complaint
    #[arg(long, value_name = "ID")]
    pub complaint: Option<String>,
    /// Only tests this equipment can have
    #[arg(long, value_name = "ID")]
    pub equipment: Option<String>,
    /// Show every test instead of the most telling
    #[arg(long)]
    pub all: bool,
    /// Where the knowledge is read from.
    #[command(flatten)]
    pub knowledge: Folder,
    /// The form.
    #[command(flatten)]
    pub print: Printed,
}

/// Runs the command.
pub(super) fn run(args: &AboutArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let knowledge = args.knowledge.load()?;
    let cause = field::cause(knowledge, &args.cause)?;
    let field = field::field(knowledge, args.complaint.as_deref(), args.equipment.as_deref())?;
    let about = About {
        knowledge,
        matrix: &Matrix::new(knowledge, field),
        cause,
        most: if args.all { usize::MAX } else { MOST_LINES },
    };
    match args.print.form {
        Format::Json => Ok(write!(out, "{}", as_json(&about.json())?)?),
        _ => about.text(out),
    }
}

/// Everything that is said of one cause.
struct About<'a> {
    knowledge: &'a Knowledge,
    matrix: &'a Matrix<'a>,
    cause: CauseIndex,
    most: usize,
}

/// An outcome that finds the cause itself.
struct Found {
    test: TestIndex,
    outcome: OutcomeIndex,
    /// P(outcome | cause).
    share: f64,
    /// P(outcome) as usual.
    otherwise: f64,
}

impl About<'_> {
    /// Effects by who speaks of them, in the order they are said.
    fn effects(&self) -> Vec<(EffectIndex, Origin)> {
        let under = self.matrix.under();
        let said = self.knowledge.causes[self.cause]
            .does
            .iter()
            .map(|does| does.effect);
        let mut order: Vec<EffectIndex> = said.collect();
        let others = self.knowledge.effects.indices();
        order.extend(
            others
                .filter(|effect| !order.contains(effect))
                .collect::<Vec<_>>(),
        );
        order
            .into_iter()
            .map(|effect| (effect, origin(self.knowledge, under, self.cause, effect)))
            .collect()
    }

    /// Outcomes that find it, the one that stands out most first.
    fn found(&self) -> Vec<Found> {
        let under = self.matrix.under();
        let mut found = Vec::new();
        for test in self.matrix.tests() {
            for (number, outcome) in self.knowledge.tests[test].outcomes.iter().enumerate() {
                if outcome.finding(self.cause).is_some() {
                    found.push(Found {
                        test,
                        outcome: OutcomeIndex(number),
                        share: under.row(Some(self.cause), test)[number],
                        otherwise: under.row(None, test)[number],
                    });
                }
            }
        }
        let times = |found: &Found| found.share / found.otherwise;
        found.sort_by(|a, b| times(b).total_cmp(&times(a)));
        found
    }

    fn json(&self) -> Json {
        let knowledge = self.knowledge;
        let under = self.matrix.under();
        let cause = &knowledge.causes[self.cause];
        let effect_id = |effect: EffectIndex| knowledge.effects[effect].id.as_str();
        let effects: Vec<Json> = self
            .effects()
            .into_iter()
            .map(|(effect, origin)| {
                let states = &knowledge.effects[effect].states;
                let shares = under.states(Some(self.cause), effect);
                let states: Map<String, Json> = states
                    .iter()
                    .zip(shares)
                    .map(|(state, share)| (state.id.clone(), json!(share)))
                    .collect();
                let (from, follows) = match origin {
                    Origin::Own => ("cause", None),
                    Origin::Family => ("family", None),
                    Origin::Follows(other) => ("follows", Some(effect_id(other))),
                    Origin::Usual => ("usual", None),
                };
                json!({ "id": effect_id(effect), "from": from, "follows": follows, "states": states })
            })
            .collect();
        let outcome_id =
            |test: TestIndex, outcome: OutcomeIndex| knowledge.tests[test].outcomes[outcome].id.as_str();
        let found: Vec<Json> = self
            .found()
            .iter()
            .map(|found| {
                json!({
                    "test": knowledge.tests[found.test].id,
                    "outcome": outcome_id(found.test, found.outcome),
                    "share": found.share, "otherwise": found.otherwise,
                })
            })
            .collect();
        let test = |telling: &Telling| {
            let reason = match under.reason(self.cause, telling.test, telling.outcome) {
                None => json!(null),
                Some(Reason::Finds) => json!({ "finds": cause.id }),
                Some(Reason::Shows {
                    effect,
                    state,
                    share,
                    usual,
                }) => json!({
                    "effect": effect_id(effect),
                    "state": knowledge.effects[effect].states[state].id,
                    "share": share, "usual": usual,
                }),
            };
            json!({
                "test": knowledge.tests[telling.test].id, "ratio": telling.ratio,
                "outcome": outcome_id(telling.test, telling.outcome),
                "share": telling.first, "usual": telling.second, "reason": reason,
            })
        };
        let tests: Vec<Json> = self.matrix.tellings_alone(self.cause).iter().map(test).collect();
        let complaints = complaints_json(knowledge, self.cause);
        json!({
            "knowledge": knowledge.fingerprint,
            "id": cause.id, "name": cause.name, "base": cause.base,
            "family": cause.family.map(|family| knowledge.families[family].id.as_str()),
            "complaints": complaints, "effects": effects, "finds": found, "tests": tests,
        })
    }
}
