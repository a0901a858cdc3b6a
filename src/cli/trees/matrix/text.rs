//! The matrix for a person.

use std::io::Write;

use crate::cli::Problem;
use crate::inference::matrix::Pair;
use crate::knowledge::model::{CauseIndex, State};
use crate::knowledge::render;

use super::{Page, ratio};

impl Page<'_> {
    pub(super) fn all(&self, out: &mut dyn Write) -> Result<(), Problem> {
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
        let telling = |number: usize| move |pair: &&Pair| pair.telling.len() == number;
        let weak: Vec<&Pair> = some.iter().copied().filter(telling(0)).collect();
        let single: Vec<&Pair> = some.iter().copied().filter(telling(1)).collect();
        self.pairs("no test tells apart", &none, out)?;
        self.pairs("told apart only weakly", &weak, out)?;
        self.pairs("one test alone tells apart", &single, out)?;
        self.fewest_tests(&causes, out)?;
        self.say_little(&pairs, out)
    }

    fn pairs(&self, title: &str, pairs: &[&Pair], out: &mut dyn Write) -> Result<(), Problem> {
        let noun = if pairs.len() == 1 { "Pair" } else { "Pairs" };
        writeln!(out, "\n{noun} {title}: {}", pairs.len())?;
        for pair in pairs.iter().take(self.most) {
            writeln!(out, "  {} | {}", self.cause(pair.first), self.cause(pair.second))?;
            if let Some(best) = &pair.best {
                writeln!(out, "      {:.1} times by {}", best.ratio, self.test(best.test))?;
            }
        }
        self.rest(pairs.len(), out)
    }

    fn rest(&self, number: usize, out: &mut dyn Write) -> Result<(), Problem> {
        if number > self.most {
            writeln!(out, "  and {} more; `--all` shows them", number - self.most)?;
        }
        Ok(())
    }

    fn fewest_tests(&self, causes: &[CauseIndex], out: &mut dyn Write) -> Result<(), Problem> {
        let mut counted: Vec<(usize, CauseIndex)> = causes
            .iter()
            .map(|cause| (self.tests_telling(*cause), *cause))
            .collect();
        counted.sort();
        writeln!(out, "\nCauses that fewest tests tell from what is usual:")?;
        for (number, cause) in counted.iter().take(self.most) {
            writeln!(out, "  {number:>4}  {}", self.cause(*cause))?;
        }
        Ok(())
    }

    fn say_little(&self, pairs: &[Pair], out: &mut dyn Write) -> Result<(), Problem> {
        let mut told = self.matrix.told_apart(pairs);
        told.sort_by_key(|(test, number)| (*number, *test));
        writeln!(out, "\nTests that tell fewest pairs apart:")?;
        for (test, number) in told.iter().take(self.most) {
            let known = &self.knowledge.tests[*test];
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

    pub(super) fn one(&self, cause: CauseIndex, out: &mut dyn Write) -> Result<(), Problem> {
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
        }
        self.rest(pairs.len(), out)
    }

    pub(super) fn two(
        &self,
        first: CauseIndex,
        second: CauseIndex,
        out: &mut dyn Write,
    ) -> Result<(), Problem> {
        writeln!(out, "A: {}\nB: {}\n", self.name(first), self.name(second))?;
        if !self.matrix.can_meet(first, second) {
            writeln!(
                out,
                "They are never behind one complaint on one kind of equipment."
            )?;
            return Ok(());
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
            let test = &self.knowledge.tests[telling.test];
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
                test.outcomes[telling.outcome].id,
                telling.first * 100.0,
                telling.second * 100.0
            )?;
        }
        self.rest(tellings.len(), out)
    }

    fn name(&self, cause: CauseIndex) -> String {
        format!("{} ({})", self.knowledge.causes[cause].name, self.cause(cause))
    }
}
