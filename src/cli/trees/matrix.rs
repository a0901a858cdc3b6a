//! `trees matrix`: which causes the tests tell apart, and which not.

mod data;
mod text;

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::inference::matrix::{BAR, Matrix, Pair};
use crate::knowledge::load;
use crate::knowledge::model::{CauseIndex, Knowledge, TestIndex};
use crate::standards::calculation::Calculation;

use super::error::TreesError;
use super::field;

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
    let field = field::field(&knowledge, args.complaint.as_deref(), args.equipment.as_deref())?;
    let matrix = Matrix::new(&knowledge, field);
    let causes = args
        .causes
        .iter()
        .map(|id| field::cause(&knowledge, id))
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

/// What is printed, and of what.
struct Page<'p> {
    knowledge: &'p Knowledge,
    matrix: &'p Matrix<'p>,
    bar: f64,
    most: usize,
}

impl Page<'_> {
    fn cause(&self, cause: CauseIndex) -> &str {
        &self.knowledge.causes[cause].id
    }

    fn test(&self, test: TestIndex) -> &str {
        &self.knowledge.tests[test].id
    }

    /// Tests that tell a cause from what is usual.
    fn tests_telling(&self, cause: CauseIndex) -> usize {
        let tellings = self.matrix.tellings_alone(cause);
        tellings
            .iter()
            .filter(|telling| telling.ratio >= self.bar)
            .count()
    }
}

fn ratio(pair: &Pair) -> f64 {
    pair.best.map_or(1.0, |best| best.ratio)
}
