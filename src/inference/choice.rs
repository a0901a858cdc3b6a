//! Which test to make next: the one chooser of the walk's narrowing and of the score of it.
//!
//! Bits for a minute of cost choose; the expected drop of the cost of repair decides between tests alike. By that drop for a
//! minute alone, walks of 230 accounts ask 16 questions at the median and 24 in nine of ten (by bits 15 and 22) and have 140
//! first and 171 in three after fifteen (143 and 169); in the end 154 and 180 both ways. Sums of the two, a bit taken for 5 to
//! 80 minutes, ask 15 to 16 and 22 to 24, and have 141 to 144 and 170 to 171 after fifteen.

use crate::knowledge::model::{OutcomeIndex, State, TestIndex};

use super::price::Priced;
use super::{Model, Standing, gain, repair, stop};

/// A test that could be made now.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The test itself, also where a reading it lacks comes first.
    pub test: TestIndex,
    /// Expected information in bits.
    pub bits: f64,
    /// Hands-on minutes, with the readings a calculation still needs and the change of state.
    pub minutes: f64,
    /// Charge for the hazard, in minutes.
    pub charge: f64,
    /// Minutes with the charge for hazard and the person's patience: what the choice is made by.
    pub cost: f64,
    /// State the equipment must be in.
    pub state: State,
}

impl Candidate {
    /// Bits for a minute of cost.
    fn rate(&self) -> f64 {
        self.bits / self.cost
    }
}

/// Scores within this share of the best are alike; then the lower hazard and the greater saving decide.
const ALIKE: f64 = 0.9;

/// Cheapest tests tried in pairs where no single test is worth its cost.
const PAIRED: usize = 6;

/// An outcome less likely than this does not count for whether a test would decide. Our choice, no source.
const LIKELY_ENOUGH: f64 = 0.1;

/// What is known when a test is chosen.
#[derive(Clone, Copy, Debug)]
pub struct Position<'a> {
    /// The causes.
    pub model: &'a Model,
    /// How they stand.
    pub standing: &'a Standing,
    /// State the equipment is in; nothing where it was brought into none yet.
    pub state: Option<State>,
    /// Minutes of the repair of each cause, in the order of the model.
    pub repairs: &'a [f64],
}

impl Position<'_> {
    /// The tests from the one that tells most for its cost; ties in the order of the files.
    #[must_use]
    pub fn ranked(&self, tests: impl Iterator<Item = Priced>) -> Vec<Candidate> {
        let mut candidates: Vec<Candidate> = tests
            .map(|priced| Candidate {
                test: priced.test,
                bits: gain::information(self.model, self.standing, priced.test),
                minutes: priced.minutes_from(self.state),
                charge: priced.charge,
                cost: priced.cost(self.state),
                state: priced.state,
            })
            .collect();
        candidates.sort_by(|a, b| b.rate().total_cmp(&a.rate()).then(a.test.cmp(&b.test)));
        candidates
    }

    /// The test to make: the one that tells most for its cost, among those alike the least hazardous, then the one that
    /// saves most repair; where none is worth its cost alone, the first of two that are together.
    #[must_use]
    pub fn best<'c>(&self, ranked: &'c [Candidate]) -> Option<&'c Candidate> {
        let mut worth = ranked
            .iter()
            .filter(|candidate| stop::is_worth(candidate.bits, candidate.cost))
            .peekable();
        let Some(least) = worth.peek().map(|first| ALIKE * first.rate()) else {
            return self.first_of_pair(ranked);
        };
        worth
            .take_while(|candidate| candidate.rate() >= least)
            .min_by(|a, b| {
                a.charge
                    .total_cmp(&b.charge)
                    .then_with(|| self.saves(b.test).total_cmp(&self.saves(a.test)))
                    .then(a.test.cmp(&b.test))
            })
    }

    /// The first of two tests that are worth their cost together, where neither is alone.
    fn first_of_pair<'c>(&self, ranked: &'c [Candidate]) -> Option<&'c Candidate> {
        let mut cheapest: Vec<&Candidate> = ranked.iter().collect();
        cheapest.sort_by(|a, b| a.cost.total_cmp(&b.cost).then(a.test.cmp(&b.test)));
        cheapest.truncate(PAIRED);
        let mut best: Option<(f64, &Candidate)> = None;
        for first in &cheapest {
            for second in cheapest.iter().filter(|second| second.test != first.test) {
                let bits = gain::pair_information(self.model, self.standing, first.test, second.test);
                let cost = first.cost + second.cost;
                if stop::is_worth(bits, cost) && best.is_none_or(|(known, _)| bits / cost > known) {
                    best = Some((bits / cost, first));
                }
            }
        }
        best.map(|(_, first)| first)
    }

    /// Expected drop of the cost of repair by a test, in minutes.
    #[must_use]
    pub fn saves(&self, test: TestIndex) -> f64 {
        repair::value(
            self.model,
            self.standing,
            test,
            self.repairs,
            repair::HAND_OVER_MINUTES,
        )
    }

    /// Whether a test would decide: after one of its likelier outcomes one cause stands clear, or another one leads.
    #[must_use]
    pub fn decides(&self, test: TestIndex) -> bool {
        let Some(chances) = gain::predicted(self.model, self.standing, test) else {
            return false;
        };
        let leader = |shares: &[f64]| {
            let listed = &shares[..shares.len().saturating_sub(1)];
            listed
                .iter()
                .enumerate()
                .max_by(|a, b| a.1.total_cmp(b.1))
                .map(|(place, share)| (place, *share))
        };
        let now = leader(self.standing.probabilities()).map(|(place, _)| place);
        chances.iter().enumerate().any(|(outcome, chance)| {
            *chance >= LIKELY_ENOUGH
                && self
                    .standing
                    .after(self.model, test, OutcomeIndex(outcome))
                    .and_then(|after| leader(&after))
                    .is_some_and(|(place, share)| Some(place) != now || share >= stop::STRONG_ENOUGH)
        })
    }

    /// Why to stop now, given the best test worth making, if any.
    #[must_use]
    pub fn stop_reason(&self, best: Option<&Candidate>) -> Option<stop::Reason> {
        let leader = self.standing.leader()?;
        stop::reason(
            self.standing,
            self.repairs[leader],
            best.map(|candidate| candidate.cost),
        )
    }

    /// The test of these that the narrowing makes now; nothing when it is time to stop.
    #[must_use]
    pub fn next(&self, tests: impl Iterator<Item = Priced>) -> Option<Candidate> {
        let ranked = self.ranked(tests);
        let best = self.best(&ranked);
        if self.stop_reason(best).is_some() {
            return None;
        }
        best.cloned()
    }
}
