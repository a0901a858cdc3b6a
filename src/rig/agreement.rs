//! What the knowledge says of its causes against what physics makes of them: effects with a model, and what the reading tests show.
//!
//! Cases are those of the closed loop: each cause with a model, on each equipment that can have it, over severities, under a complaint the
//! fault brings. Said is P(state | cause, complaint) or P(outcome | cause, complaint) with nothing answered. Physics is the state the
//! quantity lies in: where several fit, what is said is kept among them, and what is said of the others goes to the one that fits best.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use rayon::prelude::*;
use serde::Deserialize;

use crate::inference::under::Under;
use crate::knowledge::model::{
    BoundOf, CauseIndex, EffectIndex, Knowledge, OutcomeIndex, TestIndex, TestKind, TreeIndex,
};
use crate::quantity::{Quantity, Value};
use crate::walk::Walk;

use super::case::Site;
use super::closed_loop::{self, Case, Wanted};
use super::course::Course;
use super::{plates, states};

/// What is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    /// The states of an effect.
    Effect(EffectIndex),
    /// The outcomes of a reading test.
    Test(TestIndex),
}

/// One cause at one effect or test.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// The true one in every sample.
    pub cause: CauseIndex,
    /// The effect or test.
    pub what: What,
    /// The knowledge states it of this cause by name, and does not leave it to what is usual.
    pub stated: bool,
    /// Shares of the states or outcomes by the knowledge, the mean over the samples.
    pub said: Vec<f64>,
    /// The same by physics.
    pub physics: Vec<f64>,
    /// Cases that were solved for it, each called in for.
    pub samples: usize,
}

/// Share up to which said and physics agree, whatever the chance error: the words of the knowledge lie farther apart. Our choice, no source.
const NEAR: f64 = 0.1;

/// Chance errors within which they agree.
const ERRORS: f64 = 2.0;

/// Samples from which a statement counts as confirmed. Our choice, no source.
const ENOUGH: usize = 8;

impl Compared {
    /// Id of its effect or test.
    #[must_use]
    pub fn id<'k>(&self, knowledge: &'k Knowledge) -> &'k str {
        match self.what {
            What::Effect(effect) => &knowledge.effects[effect].id,
            What::Test(test) => &knowledge.tests[test].id,
        }
    }

    /// Id of a state of its effect, or an outcome of its test.
    #[must_use]
    pub fn state<'k>(&self, knowledge: &'k Knowledge, place: usize) -> &'k str {
        match self.what {
            What::Effect(effect) => &knowledge.effects[effect].states[place].id,
            What::Test(test) => &knowledge.tests[test].outcomes[OutcomeIndex(place)].id,
        }
    }

    /// How far apart: half the sum of all differences, the share that has to be said otherwise.
    #[must_use]
    pub fn apart(&self) -> f64 {
        let apart = self.said.iter().zip(&self.physics).map(|(a, b)| (a - b).abs());
        apart.sum::<f64>() / 2.0
    }

    /// Place of the state or outcome that differs most.
    #[must_use]
    pub fn most(&self) -> usize {
        let off = |place: &usize| (self.said[*place] - self.physics[*place]).abs();
        let places = 0..self.said.len();
        places.max_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(0)
    }

    /// Chance error of the share that differs most: one standard error of as many samples.
    #[must_use]
    pub fn chance(&self) -> f64 {
        let share =
            self.physics[self.most()].clamp(0.5 / self.samples as f64, 1.0 - 0.5 / self.samples as f64);
        (share * (1.0 - share) / self.samples as f64).sqrt()
    }

    /// Physics confirms what is said: nothing of it is farther off than what is near, or than chance explains.
    #[must_use]
    pub fn agrees(&self) -> bool {
        self.apart() <= NEAR.max(ERRORS * self.chance())
    }

    /// Said by name, with enough samples, and confirmed.
    #[must_use]
    pub fn is_confirmed(&self) -> bool {
        self.stated && self.samples >= ENOUGH && self.agrees()
    }
}

/// Where physics is not the whole story: by cause and effect or test, and by effect or test alone.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Reasons {
    of_cause: BTreeMap<String, BTreeMap<String, String>>,
    of_all: BTreeMap<String, String>,
}

static REASONS: LazyLock<Result<Reasons, String>> =
    LazyLock::new(|| toml::from_str(include_str!("agreement.toml")).map_err(|error| error.to_string()));

/// Every pair of a cause (nothing for all) and an effect or test, by id, of which physics is not the whole story.
///
/// # Errors
/// When the table compiled in cannot be read: which line.
pub fn reasons() -> Result<Vec<(Option<&'static str>, &'static str)>, &'static str> {
    let reasons = REASONS.as_ref().map_err(String::as_str)?;
    let of_cause = reasons
        .of_cause
        .iter()
        .flat_map(|(cause, of)| of.keys().map(|what| (Some(cause.as_str()), what.as_str())));
    let of_all = reasons.of_all.keys().map(|what| (None, what.as_str()));
    Ok(of_cause.chain(of_all).collect())
}

/// Why physics is not the whole story of a cause at an effect or test, by their ids.
#[must_use]
pub fn reason(cause: &str, what: &str) -> Option<&'static str> {
    let reasons = REASONS.as_ref().ok()?;
    let own = reasons.of_cause.get(cause).and_then(|of| of.get(what));
    own.or_else(|| reasons.of_all.get(what)).map(String::as_str)
}

/// One sample: what is compared, and the shares physics makes of what is said.
type Sampled = (What, Vec<f64>, Vec<f64>);

/// What physics makes of said shares: kept where the state fits, the rest to the one that fits best.
fn fitted(said: &[f64], fits: &[usize]) -> Vec<f64> {
    let mut shares = vec![0.0; said.len()];
    for place in fits {
        shares[*place] = said[*place];
    }
    if let Some(best) = fits.first() {
        shares[*best] += 1.0 - shares.iter().sum::<f64>();
    }
    shares
}

fn sampled(knowledge: &Knowledge, under: &Under<'_>, case: &Case, only: Option<What>) -> Vec<Sampled> {
    let Some(walk) = closed_loop::begun(knowledge, case) else {
        return Vec::new();
    };
    let Some(equipment) = walk.installation() else {
        return Vec::new();
    };
    let cause = &knowledge.causes[case.truth];
    let Ok(site) = Site::sample(equipment, cause, Some(case.severity), case.seed) else {
        return Vec::new();
    };
    let wants = |what: What| only.is_none_or(|only| only == what);
    let mut all = Vec::new();
    if !matches!(only, Some(What::Test(_)))
        && let Ok(course) = Course::of(&site)
    {
        let mut fitting = states::of(&site, &course);
        // That a unit has no 24 V at all is said by its kind, not by the cause.
        fitting.retain(|(_, states)| states.first() != Some(&"none-used"));
        for (effect, fits) in states::placed(knowledge, &fitting) {
            if wants(What::Effect(effect)) && !fits.is_empty() {
                let said = under.states(Some(case.truth), effect).to_vec();
                let physics = fitted(&said, &fits);
                all.push((What::Effect(effect), said, physics));
            }
        }
    }
    for test in knowledge.tests.indices() {
        let reads = matches!(knowledge.tests[test].kind, TestKind::Reading { .. });
        if !reads || !wants(What::Test(test)) || !walk.applies(test) {
            continue;
        }
        if let Some(outcome) = outcome(&walk, &site, test) {
            let said = under.row(Some(case.truth), test).to_vec();
            let mut physics = vec![0.0; said.len()];
            physics[outcome] = 1.0;
            all.push((What::Test(test), said, physics));
        }
    }
    all
}

/// The outcome a reading at a site comes to.
fn outcome(walk: &Walk<'_>, site: &Site, test: TestIndex) -> Option<usize> {
    let knowledge = walk.knowledge();
    let reading = site.read(knowledge, test).ok()?;
    let facts = plates::facts(walk, &site.bench.installation, &site.fault);
    let of = |what: BoundOf| -> Option<Quantity> {
        match what {
            BoundOf::Reading(other) => site.read(knowledge, other).ok(),
            BoundOf::Fact(fact) => facts.get(fact)?.as_ref().and_then(Value::quantity),
        }
    };
    Some(walk.would_be(test, reading, &of)?.place())
}

/// Whether the knowledge states something of a cause by name.
fn is_stated(knowledge: &Knowledge, cause: CauseIndex, what: What) -> bool {
    match what {
        What::Effect(effect) => knowledge.causes[cause]
            .does
            .iter()
            .any(|does| does.effect == effect),
        What::Test(test) => knowledge.tests[test]
            .outcomes
            .iter()
            .any(|outcome| outcome.finding(cause).is_some()),
    }
}

/// Compares everything wanted, or only one effect or test; `done` is told the number of cases after each.
#[must_use]
pub fn compare(
    knowledge: &Knowledge,
    wanted: Wanted,
    only: Option<What>,
    done: &(dyn Fn(usize) + Sync),
) -> Vec<Compared> {
    let cases: Vec<Case> = closed_loop::cases(knowledge, wanted)
        .into_par_iter()
        .map(|case| closed_loop::called(knowledge, case, wanted))
        .filter(|case| case.felt)
        .collect();
    let all = cases.len();
    let mut under: BTreeMap<TreeIndex, Under<'_>> = BTreeMap::new();
    for case in &cases {
        under
            .entry(case.complaint)
            .or_insert_with(|| Under::new(knowledge, Some(case.complaint), None));
    }
    let samples: Vec<(CauseIndex, Vec<Sampled>)> = cases
        .par_iter()
        .map(|case| {
            let found = sampled(knowledge, &under[&case.complaint], case, only);
            done(all);
            (case.truth, found)
        })
        .collect();
    let mut sums: BTreeMap<(CauseIndex, What), Compared> = BTreeMap::new();
    for (cause, found) in samples {
        for (what, said, physics) in found {
            let sum = sums.entry((cause, what)).or_insert_with(|| Compared {
                cause,
                what,
                stated: is_stated(knowledge, cause, what),
                said: vec![0.0; said.len()],
                physics: vec![0.0; said.len()],
                samples: 0,
            });
            sum.samples += 1;
            sum.said
                .iter_mut()
                .zip(&said)
                .for_each(|(sum, share)| *sum += share);
            sum.physics
                .iter_mut()
                .zip(&physics)
                .for_each(|(sum, share)| *sum += share);
        }
    }
    let mut compared: Vec<Compared> = sums
        .into_values()
        .map(|mut compared| {
            let samples = compared.samples as f64;
            compared.said.iter_mut().for_each(|share| *share /= samples);
            compared.physics.iter_mut().for_each(|share| *share /= samples);
            compared
        })
        .collect();
    compared.sort_by(|a, b| b.apart().total_cmp(&a.apart()));
    compared
}

#[cfg(test)]
mod tests {
    use super::*;

    fn compared(said: [f64; 3], physics: [f64; 3], samples: usize) -> Compared {
        Compared {
            cause: CauseIndex(0),
            what: What::Effect(EffectIndex(0)),
            stated: true,
            said: said.to_vec(),
            physics: physics.to_vec(),
            samples,
        }
    }

    #[test]
    fn what_does_not_fit_goes_to_the_best() {
        let shares = fitted(&[0.5, 0.3, 0.2], &[2, 1]);
        assert!((shares[2] - 0.7).abs() < 1e-12 && shares[0] == 0.0 && shares[1] == 0.3);
    }

    #[test]
    fn apart_is_the_share_to_be_said_otherwise() {
        let far = compared([0.5, 0.3, 0.2], [0.0, 0.3, 0.7], 100);
        assert!((far.apart() - 0.5).abs() < 1e-12 && !far.agrees());
        let near = compared([0.5, 0.3, 0.2], [0.45, 0.35, 0.2], 100);
        assert!(near.is_confirmed());
        // Few samples leave more to chance, but too few confirm nothing.
        assert!(compared([0.5, 0.5, 0.0], [0.75, 0.25, 0.0], 4).agrees());
        assert!(!compared([0.5, 0.5, 0.0], [0.75, 0.25, 0.0], 4).is_confirmed());
    }
}
