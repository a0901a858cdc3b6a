//! What is said of a cause, for a person at a screen of 80 columns.

use std::io::Write;

use crate::cli::Problem;
use crate::inference::origin::Origin;
use crate::knowledge::model::EffectIndex;
use crate::knowledge::saying::{commonness, in_words, percent};

use super::super::say::{indented, say};
use super::About;

impl About<'_> {
    pub(super) fn text(&self, out: &mut dyn Write) -> Result<(), Problem> {
        self.head(out)?;
        self.effects_text(out)?;
        self.found_text(out)?;
        self.tests_text(out)
    }

    fn head(&self, out: &mut dyn Write) -> Result<(), Problem> {
        let cause = &self.knowledge.causes[self.cause];
        say(out, "", &format!("{} ({})", cause.name, cause.id))?;
        say(out, "", cause.place.in_words())?;
        let base = cause
            .base
            .as_ref()
            .map_or_else(|| "not said, so rare".to_owned(), commonness);
        say(out, "Behind callbacks  ", &base)?;
        if let Some(family) = cause.family {
            say(out, "Family            ", &self.knowledge.families[family].id)?;
        }
        say(out, "Repair            ", cause.job.in_words())?;
        let complaints: Vec<String> = self
            .knowledge
            .complaints_of(self.cause)
            .into_iter()
            .map(|(tree, share)| format!("{} {}", self.knowledge.trees[tree].id, percent(share)))
            .collect();
        say(out, "Called in for     ", &complaints.join(", "))
    }

    fn effects_text(&self, out: &mut dyn Write) -> Result<(), Problem> {
        let effects = self.effects();
        let of = |wanted: fn(&Origin) -> bool| -> Vec<EffectIndex> {
            effects
                .iter()
                .filter(|(effect, origin)| wanted(origin) && !self.is_complaint(*effect))
                .map(|(effect, _)| *effect)
                .collect()
        };
        self.group(out, "What it does", &of(|origin| *origin == Origin::Own))?;
        if let Some(family) = self.knowledge.causes[self.cause].family {
            let heading = format!("From its family, {}", self.knowledge.families[family].id);
            self.group(out, &heading, &of(|origin| *origin == Origin::Family))?;
        }
        let follows = of(|origin| matches!(origin, Origin::Follows(_)));
        self.group(out, "What follows from these", &follows)?;
        let usual = of(|origin| *origin == Origin::Usual).len();
        writeln!(
            out,
            "\nAs usual: {usual} of {} effects.",
            self.knowledge.effects.len()
        )?;
        Ok(())
    }

    /// What it was called in for stands at the head already.
    fn is_complaint(&self, effect: EffectIndex) -> bool {
        self.knowledge.effect(crate::knowledge::behind::COMPLAINT) == Some(effect)
    }

    fn group(&self, out: &mut dyn Write, heading: &str, effects: &[EffectIndex]) -> Result<(), Problem> {
        if effects.is_empty() {
            return Ok(());
        }
        writeln!(out, "\n{heading}")?;
        for effect in effects {
            let known = &self.knowledge.effects[*effect];
            let shares = self.matrix.under().states(Some(self.cause), *effect);
            let text = format!("{}: {}", known.name, in_words(known, shares));
            indented(out, "  ", "      ", &text)?;
        }
        Ok(())
    }

    fn found_text(&self, out: &mut dyn Write) -> Result<(), Problem> {
        let found = self.found();
        writeln!(
            out,
            "\nOutcomes that name this cause, met with it and otherwise: {}",
            found.len()
        )?;
        for one in found.iter().take(self.most) {
            let test = &self.knowledge.tests[one.test];
            let begin = format!("  {:>6} {:>6}  ", percent(one.share), percent(one.otherwise));
            let text = format!("{}: {}", test.id, test.outcomes[one.outcome].label);
            indented(out, &begin, "                   ", &text)?;
        }
        self.rest(out, found.len())
    }

    fn tests_text(&self, out: &mut dyn Write) -> Result<(), Problem> {
        let tellings = self.matrix.tellings_alone(self.cause);
        let under = self.matrix.under();
        writeln!(
            out,
            "\nWhat tests would show, most telling first: {}\n  times  test: the outcome that does most of it, with this cause and as usual",
            tellings.len()
        )?;
        for telling in tellings.iter().take(self.most) {
            let known = &self.knowledge.tests[telling.test];
            let text = format!(
                "{}: {}, {} (usual {})",
                known.id,
                known.outcomes[telling.outcome].label,
                percent(telling.first),
                percent(telling.second)
            );
            indented(out, &format!("  {:>5.1}  ", telling.ratio), "         ", &text)?;
            if let Some(reason) = under.reason(self.cause, telling.test, telling.outcome) {
                say(out, "           ", &under.in_words(reason))?;
            }
        }
        self.rest(out, tellings.len())
    }

    fn rest(&self, out: &mut dyn Write, number: usize) -> Result<(), Problem> {
        if number > self.most {
            writeln!(out, "  and {} more; `--all` shows them", number - self.most)?;
        }
        Ok(())
    }
}
