//! `trees matrix`: which causes the tests tell apart, and which not.

mod data;
mod text;

use std::io::Write;

use clap::Args;

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::{Format, OrTable, Printed};
use crate::inference::matrix::{BAR, Matrix, Pair};
use crate::knowledge::model::{CauseIndex, Knowledge, TestIndex};

use super::field;

/// Lines shown of each list, unless all are asked for.
const MOST_LINES: usize = 10;

/// What one of the forms holds.
pub(super) const CSV: &str = "csv is the whole matrix: a line for each cause, a column for each test";

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
    /// Where the knowledge is read from.
    #[command(flatten)]
    pub knowledge: Folder,
    /// The form.
    #[command(flatten)]
    pub print: Printed<OrTable>,
}

fn bar(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if number > 1.0 && number.is_finite() => Ok(number),
        _ => Err("expected a number above 1".to_owned()),
    }
}

/// Runs the command.
pub(super) fn run(args: &MatrixArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let knowledge = args.knowledge.load()?;
    let field = field::field(knowledge, args.complaint.as_deref(), args.equipment.as_deref())?;
    let matrix = Matrix::new(knowledge, field);
    let causes = args
        .causes
        .iter()
        .map(|id| field::cause(knowledge, id))
        .collect::<Result<Vec<CauseIndex>, _>>()?;
    let page = Page {
        knowledge,
        matrix: &matrix,
        bar: args.bar,
        most: if args.all { usize::MAX } else { MOST_LINES },
    };
    match (args.print.form, causes.as_slice()) {
        (Format::Csv, []) => page.csv(&matrix.causes(), out),
        (Format::Csv, some) => page.csv(some, out),
        (Format::Json, some) => page.json(some, out),
        (_, [first, second]) => page.two(*first, *second, out),
        (_, [one]) => page.one(*one, out),
        (_, _) => page.all(out),
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
