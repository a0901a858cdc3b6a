//! `trees matrix`: which causes the tests tell apart, and which not.

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use serde_json::{Value as Json, json};

use crate::inference::matrix::{BAR, Field, Matrix, Pair, Telling};
use crate::knowledge::compare::sign_text;
use crate::knowledge::model::{CauseIndex, EquipmentIndex, Knowledge, State, TestIndex, TreeIndex};
use crate::knowledge::nearest::unknown;
use crate::knowledge::{load, render};
use crate::standards::registry::Calculation;

use super::TreesError;

/// Lines shown of each list, unless all are asked for.
const MOST_LINES: usize = 10;

/// Arguments of `trees matrix`.
#[derive(Debug, Args)]
pub struct MatrixArgs {
    /// One cause: what is hardest to tell from it. Two: which test tells them apart best
    #[arg(value_name = "CAUSE", num_args = 0..=2)]
    pub causes: Vec<String>,
    /// Only walks of this complaint
    #[arg(long, value_name = "ID")]
    pub complaint: Option<String>,
    /// Only this equipment
    #[arg(long, value_name = "ID")]
    pub equipment: Option<String>,
    /// Times likelier an answer typically is under the true cause, for a test to count
    #[arg(long, value_name = "TIMES", default_value_t = BAR, value_parser = bar)]
    pub bar: f64,
    /// Show every line instead of the first few
    #[arg(long)]
    pub all: bool,
    /// Folder to read in place of what is built in
    #[arg(long, value_name = "DIR")]
    pub trees: Option<PathBuf>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: MatrixFormat,
}

/// How to print.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum MatrixFormat {
    /// For a person: what to look at
    #[default]
    Text,
    /// The whole matrix: a line for each cause, a column for each test
    Csv,
    /// For a program
    Json,
}

fn bar(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if number > 1.0 && number.is_finite() => Ok(number),
        _ => Err("expected a number above 1".to_owned()),
    }
}

/// Runs the command.
pub(super) fn run(
    args: &MatrixArgs,
    catalog: &'static [Calculation],
    out: &mut dyn Write,
) -> Result<(), TreesError> {
    let knowledge = load(args.trees.as_deref(), catalog)?;
    let field = field(args, &knowledge)?;
    let matrix = Matrix::new(&knowledge, field);
    let causes = args
        .causes
        .iter()
        .map(|id| {
            knowledge.cause(id).ok_or_else(|| {
                let known = knowledge.causes.iter().map(|cause| cause.id.as_str());
                TreesError::NoSuch(unknown("cause", id, known))
            })
        })
        .collect::<Result<Vec<CauseIndex>, _>>()?;
    let page = Page {
        knowledge: &knowledge,
        matrix: &matrix,
        bar: args.bar,
        most: if args.all { usize::MAX } else { MOST_LINES },
    };
    match (args.format, causes.as_slice()) {
        (MatrixFormat::Csv, []) => page.csv(&matrix.causes(), out),
        (MatrixFormat::Csv, some) => page.csv(some, out),
        (MatrixFormat::Json, some) => page.json(some, out),
        (MatrixFormat::Text, [first, second]) => page.two(*first, *second, out),
        (MatrixFormat::Text, [one]) => page.one(*one, out),
        (MatrixFormat::Text, _) => page.all(out),
    }
}

fn field(args: &MatrixArgs, knowledge: &Knowledge) -> Result<Field, TreesError> {
    let complaint = match &args.complaint {
        None => None,
        Some(id) => Some(
            knowledge
                .tree(id)
                .filter(|tree: &TreeIndex| knowledge.trees[tree.0].is_complaint())
                .ok_or_else(|| {
                    let known = knowledge.trees.iter().filter(|tree| tree.is_complaint());
                    TreesError::NoSuch(unknown("complaint", id, known.map(|tree| tree.id.as_str())))
                })?,
        ),
    };
    let equipment: Option<EquipmentIndex> = match &args.equipment {
        None => None,
        Some(id) => Some(knowledge.equipment(id).ok_or_else(|| {
            let known = knowledge.equipment.iter().map(|kind| kind.id.as_str());
            TreesError::NoSuch(unknown("equipment", id, known))
        })?),
    };
    Ok(Field { complaint, equipment })
}

/// What is printed, and of what.
struct Page<'p> {
    knowledge: &'p Knowledge,
    matrix: &'p Matrix<'p>,
    bar: f64,
    most: usize,
}

impl Page<'_> {
    fn cause(&self, cause: CauseIndex) -> &str {
        &self.knowledge.causes[cause.0].id
    }

    fn test(&self, test: TestIndex) -> &str {
        &self.knowledge.tests[test.0].id
    }

    /// The reason written for a pair, whichever of the two it stands with.
    fn reason(&self, first: CauseIndex, second: CauseIndex) -> Option<&str> {
        let written = |of: CauseIndex, about: CauseIndex| {
            self.knowledge.causes[of.0]
                .same_signs_as
                .get(self.cause(about))
                .map(String::as_str)
        };
        written(first, second).or_else(|| written(second, first))
    }

    fn all(&self, out: &mut dyn Write) -> Result<(), TreesError> {
        let causes = self.matrix.causes();
        let tests = self.matrix.tests();
        let mut pairs = self.matrix.pairs(self.bar);
        pairs.sort_by(|a, b| ratio(a).total_cmp(&ratio(b)));
        writeln!(
            out,
            "{} by {}; {} can be behind one complaint on one kind of equipment.",
            render::count(causes.len(), "cause"),
            render::count(tests.len(), "test"),
            render::count(pairs.len(), "pair"),
        )?;
        writeln!(
            out,
            "A test tells two apart when its answer is typically {} times likelier under the\ntrue one, or more. \
             See one pair with `lineside trees matrix CAUSE OTHER`.",
            self.bar
        )?;
        let (none, some): (Vec<&Pair>, Vec<&Pair>) = pairs.iter().partition(|pair| pair.best.is_none());
        let weak: Vec<&Pair> = some.iter().copied().filter(|pair| pair.telling == 0).collect();
        let single: Vec<&Pair> = some.iter().copied().filter(|pair| pair.telling == 1).collect();
        self.pairs("no test tells apart", &none, out)?;
        self.pairs("told apart only weakly", &weak, out)?;
        self.pairs("one test alone tells apart", &single, out)?;
        self.few_signs(&causes, out)?;
        self.say_little(out)
    }

    fn pairs(&self, title: &str, pairs: &[&Pair], out: &mut dyn Write) -> Result<(), TreesError> {
        let noun = if pairs.len() == 1 { "Pair" } else { "Pairs" };
        writeln!(out, "\n{noun} {title}: {}", pairs.len())?;
        for pair in pairs.iter().take(self.most) {
            writeln!(out, "  {} | {}", self.cause(pair.first), self.cause(pair.second))?;
            if let Some(best) = &pair.best {
                writeln!(out, "      {:.1} times by {}", best.ratio, self.test(best.test))?;
            }
            if let Some(reason) = self.reason(pair.first, pair.second) {
                writeln!(out, "      written reason: {reason}")?;
            }
        }
        self.rest(pairs.len(), out)
    }

    fn rest(&self, number: usize, out: &mut dyn Write) -> Result<(), TreesError> {
        if number > self.most {
            writeln!(out, "  and {} more; `--all` shows them", number - self.most)?;
        }
        Ok(())
    }

    fn few_signs(&self, causes: &[CauseIndex], out: &mut dyn Write) -> Result<(), TreesError> {
        let mut counted: Vec<(usize, CauseIndex)> = causes
            .iter()
            .map(|cause| (self.matrix.tests_with_a_sign(*cause), *cause))
            .collect();
        counted.sort();
        writeln!(out, "\nCauses that fewest tests say anything about:")?;
        for (number, cause) in counted.iter().take(self.most) {
            writeln!(out, "  {number:>4}  {}", self.cause(*cause))?;
        }
        Ok(())
    }

    fn say_little(&self, out: &mut dyn Write) -> Result<(), TreesError> {
        let mut told = self.matrix.pairs_told_apart(self.bar);
        told.sort_by_key(|(test, number)| (*number, *test));
        writeln!(out, "\nTests that tell fewest pairs apart:")?;
        for (test, number) in told.iter().take(self.most) {
            let known = &self.knowledge.tests[test.0];
            let also = if known.outcomes.iter().any(|outcome| outcome.defect.is_some()) {
                "  (finds a defect)"
            } else if known.safety {
                "  (safety)"
            } else {
                ""
            };
            writeln!(out, "  {number:>4}  {}{also}", known.id)?;
        }
        Ok(())
    }

    fn one(&self, cause: CauseIndex, out: &mut dyn Write) -> Result<(), TreesError> {
        let mut pairs: Vec<Pair> = self
            .matrix
            .causes()
            .into_iter()
            .filter(|other| *other != cause && self.matrix.can_meet(cause, *other))
            .map(|other| self.matrix.pair(cause, other, self.bar))
            .collect();
        pairs.sort_by(|a, b| ratio(a).total_cmp(&ratio(b)));
        writeln!(
            out,
            "{}: {} it can be taken for, hardest to tell apart first.\n",
            self.cause(cause),
            render::count(pairs.len(), "cause")
        )?;
        for pair in pairs.iter().take(self.most) {
            match &pair.best {
                Some(best) => writeln!(
                    out,
                    "  {:>5.1} times  {:<40} by {}",
                    best.ratio,
                    self.cause(pair.second),
                    self.test(best.test)
                )?,
                None => writeln!(out, "    no test  {}", self.cause(pair.second))?,
            }
            if let Some(reason) = self.reason(pair.first, pair.second) {
                writeln!(out, "      written reason: {reason}")?;
            }
        }
        self.rest(pairs.len(), out)
    }

    fn two(&self, first: CauseIndex, second: CauseIndex, out: &mut dyn Write) -> Result<(), TreesError> {
        writeln!(out, "A: {}\nB: {}\n", self.name(first), self.name(second))?;
        if !self.matrix.can_meet(first, second) {
            writeln!(
                out,
                "They are never behind one complaint on one kind of equipment."
            )?;
            return Ok(());
        }
        if let Some(reason) = self.reason(first, second) {
            writeln!(out, "Written reason why they are not told apart: {reason}\n")?;
        }
        let tellings = self.matrix.tellings(first, second);
        if tellings.is_empty() {
            writeln!(
                out,
                "No test that a walk with both can ask says anything else about them."
            )?;
            return Ok(());
        }
        writeln!(
            out,
            "times  test; the outcome that does most of it, under A and under B"
        )?;
        for telling in tellings.iter().take(self.most) {
            let test = &self.knowledge.tests[telling.test.0];
            writeln!(
                out,
                "{:>5.1}  {} ({} min{})",
                telling.ratio,
                test.id,
                test.minutes,
                match test.state {
                    State::Told | State::Any => "",
                    State::LockedOut => ", locked out",
                    State::Running => ", running",
                    State::Energised => ", energized",
                    State::Firing => ", firing",
                }
            )?;
            writeln!(
                out,
                "       {}: {:.0} % and {:.0} %",
                test.outcomes[telling.outcome.0].id,
                telling.first * 100.0,
                telling.second * 100.0
            )?;
        }
        self.rest(tellings.len(), out)
    }

    fn name(&self, cause: CauseIndex) -> String {
        format!("{} ({})", self.knowledge.causes[cause.0].name, self.cause(cause))
    }

    fn csv(&self, causes: &[CauseIndex], out: &mut dyn Write) -> Result<(), TreesError> {
        let tests = self.matrix.tests();
        write!(out, "cause")?;
        for test in &tests {
            write!(out, ",{}", self.test(*test))?;
        }
        writeln!(out)?;
        for cause in causes {
            // Ids and words hold no comma and no quote, so no cell needs quoting.
            write!(out, "{}", self.cause(*cause))?;
            for test in &tests {
                let signs: Vec<String> = self.knowledge.tests[test.0]
                    .outcomes
                    .iter()
                    .filter_map(|outcome| {
                        let (_, sign) = outcome.signs.iter().find(|(of, _)| of == cause)?;
                        Some(format!("{}:{}", outcome.id, sign_text(*sign)))
                    })
                    .collect();
                write!(out, ",{}", signs.join(" "))?;
            }
            writeln!(out)?;
        }
        Ok(())
    }

    fn json(&self, causes: &[CauseIndex], out: &mut dyn Write) -> Result<(), TreesError> {
        let telling = |telling: &Telling| {
            json!({
                "test": self.test(telling.test),
                "ratio": telling.ratio,
                "outcome": self.knowledge.tests[telling.test.0].outcomes[telling.outcome.0].id,
                "first": telling.first,
                "second": telling.second,
            })
        };
        let pair = |pair: &Pair| {
            json!({
                "first": self.cause(pair.first),
                "second": self.cause(pair.second),
                "tests_telling": pair.telling,
                "best": pair.best.as_ref().map(telling),
                "reason": self.reason(pair.first, pair.second),
            })
        };
        let data: Json = match causes {
            [first, second] => json!({
                "knowledge": self.knowledge.fingerprint,
                "bar": self.bar,
                "can_meet": self.matrix.can_meet(*first, *second),
                "reason": self.reason(*first, *second),
                "tests": self.matrix.tellings(*first, *second).iter().map(telling).collect::<Vec<_>>(),
            }),
            _ => json!({
                "knowledge": self.knowledge.fingerprint,
                "bar": self.bar,
                "causes": self.matrix.causes().iter().map(|cause| json!({
                    "id": self.cause(*cause),
                    "tests_with_a_sign": self.matrix.tests_with_a_sign(*cause),
                })).collect::<Vec<_>>(),
                "tests": self.matrix.pairs_told_apart(self.bar).iter().map(|(test, number)| json!({
                    "id": self.test(*test),
                    "pairs_told_apart": number,
                })).collect::<Vec<_>>(),
                "pairs": self.matrix.pairs(self.bar).iter()
                    .filter(|pair| causes.iter().all(|cause| [pair.first, pair.second].contains(cause)))
                    .map(pair).collect::<Vec<_>>(),
            }),
        };
        writeln!(out, "{}", serde_json::to_string_pretty(&data)?)?;
        Ok(())
    }
}

fn ratio(pair: &Pair) -> f64 {
    pair.best.map_or(1.0, |best| best.ratio)
}
