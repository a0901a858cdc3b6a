//! The matrix for a program.

use std::io::Write;

use serde_json::{Value as Json, json};

use crate::cli::Problem;
use crate::cli::printing::as_json;
use crate::inference::matrix::Pair;
use crate::inference::telling::Telling;
use crate::knowledge::model::CauseIndex;

use super::Page;

/// How many times more or less often than usual an outcome is met, for a cell of the table to name it.
const WORTH_A_CELL: f64 = 1.5;

impl Page<'_> {
    /// A line for each cause, a column for each test; in the cells the outcomes that are met clearly more or less often
    /// than usual, each with P(outcome | cause).
    pub(super) fn csv(&self, causes: &[CauseIndex], out: &mut dyn Write) -> Result<(), Problem> {
        let tests = self.matrix.tests();
        let under = self.matrix.under();
        write!(out, "cause")?;
        for test in &tests {
            write!(out, ",{}", self.test(*test))?;
        }
        writeln!(out)?;
        for cause in causes {
            // Ids and figures hold no comma and no quote, so no cell needs quoting.
            write!(out, "{}", self.cause(*cause))?;
            for test in &tests {
                let own = under.row(Some(*cause), *test);
                let cells: Vec<String> = own
                    .iter()
                    .zip(under.row(None, *test))
                    .zip(&self.knowledge.tests[*test].outcomes)
                    .filter(|((own, usual), _)| (*own / *usual).max(*usual / *own) >= WORTH_A_CELL)
                    .map(|((own, _), outcome)| format!("{}:{own:.3}", outcome.id))
                    .collect();
                write!(out, ",{}", cells.join(" "))?;
            }
            writeln!(out)?;
        }
        Ok(())
    }

    pub(super) fn json(&self, causes: &[CauseIndex], out: &mut dyn Write) -> Result<(), Problem> {
        let telling = |telling: &Telling| {
            json!({
                "test": self.test(telling.test),
                "ratio": telling.ratio,
                "outcome": self.knowledge.tests[telling.test].outcomes[telling.outcome].id,
                "first": telling.first,
                "second": telling.second,
            })
        };
        let pair = |pair: &Pair| {
            json!({
                "first": self.cause(pair.first),
                "second": self.cause(pair.second),
                "tests_telling": pair.telling.len(),
                "best": pair.best.as_ref().map(telling),
            })
        };
        let data: Json = match causes {
            [first, second] => json!({
                "knowledge": self.knowledge.fingerprint,
                "bar": self.bar,
                "can_meet": self.matrix.can_meet(*first, *second),
                "tests": self.matrix.tellings(*first, *second).iter().map(telling).collect::<Vec<_>>(),
            }),
            _ => {
                let pairs = self.matrix.pairs(self.bar);
                json!({
                    "knowledge": self.knowledge.fingerprint,
                    "bar": self.bar,
                    "causes": self.matrix.causes().iter().map(|cause| json!({
                        "id": self.cause(*cause),
                        "tests_telling": self.tests_telling(*cause),
                    })).collect::<Vec<_>>(),
                    "tests": self.matrix.told_apart(&pairs).iter().map(|(test, number)| json!({
                        "id": self.test(*test),
                        "pairs_told_apart": number,
                    })).collect::<Vec<_>>(),
                    "pairs": pairs.iter()
                        .filter(|pair| causes.iter().all(|cause| [pair.first, pair.second].contains(cause)))
                        .map(pair).collect::<Vec<_>>(),
                })
            }
        };
        write!(out, "{}", as_json(&data)?)?;
        Ok(())
    }
}
