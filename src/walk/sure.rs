//! Whether the cause that leads was seen or measured itself, and the test that would make sure of it.

use crate::inference::choice::Candidate;
use crate::inference::{Answered, Standing, stop};
use crate::knowledge::model::{CauseIndex, Outcome, OutcomeIndex, Shown, State, Test, TestIndex};
use crate::knowledge::order;

use super::calculate::Resolution;
use super::holds::Leave;
use super::posterior::Posterior;
use super::worth;

/// Share of a cause from which an outcome is the fault itself, how far no other cause may come near, and how far the share
/// usual on callbacks must stay behind. Our choice, no source.
const FAULT_ITSELF: f64 = 0.8;
const NO_OTHER: f64 = 0.5;
const RARE: f64 = 0.2;

/// How many times oftener than usual a finding comes with a cause that it carries. Our choice, no source.
const CARRIES: f64 = 8.0;

/// Share of a cause from which a test that finds it makes sure of it. Our choice, no source.
const MAKES_SURE: f64 = 0.5;

/// So many things seen or measured stand behind an all-clear, of which so many name it where they can be made. Our choice, no source.
const SOUND: usize = 2;

/// Share of all callbacks from which an outcome is the common one, and shows no reason why a part burnt. Our choice, no source.
const COMMON: f64 = 0.5;

/// Share from which the repair of a cause may come next, and with it why it burnt or failed. Our choice, no source.
const COMES_NEXT: f64 = 0.8;

/// How much oftener the cause must prove itself at it than its nearest rival would give the same, after what is known. Our choice,
/// no source.
const RIVAL_DIFFERS: f64 = 0.3;

impl Posterior<'_> {
    /// Whether the first cause means that nothing is wrong, and too little was seen or measured that goes with it. An all-clear
    /// from what was told alone is none: a failing neutral begins as an ordinary dip does. Hazards that were not seen do not count.
    #[must_use]
    pub fn is_clear_by_word_only(&self) -> bool {
        self.no_fault().is_some() && (self.fitting().len() < SOUND || self.to_show_sound().is_some())
    }

    /// The test that shows the rest sound where the first cause stands clear and means that nothing is wrong: one that names it, and
    /// can be made now. Nothing where two such were made, or none is left.
    #[must_use]
    pub fn to_show_sound(&self) -> Option<Candidate> {
        let leader = self.no_fault()?;
        stop::is_settled(self.standing()?).then_some(())?;
        let names = |test: TestIndex| -> f64 {
            let outcomes = self.knowledge.tests[test].outcomes.iter();
            outcomes.filter_map(|outcome| outcome.finding(leader)).sum()
        };
        if self
            .fitting()
            .into_iter()
            .filter(|test| names(*test) >= MAKES_SURE)
            .count()
            >= SOUND
        {
            return None;
        }
        let pool = order::authored(self.knowledge, self.complaint()?);
        let naming: Vec<TestIndex> = pool
            .into_iter()
            .filter(|test| self.knowledge.tests[*test].state != State::Told && names(*test) >= MAKES_SURE)
            .collect();
        worth::ranked(self, worth::open_now(self, &naming))
            .into_iter()
            .filter(|candidate| self.leave(candidate.test) == Leave::Free)
            .min_by(|a, b| a.cost.total_cmp(&b.cost))
    }

    /// The first cause, where it means that nothing is wrong and was not seen itself.
    fn no_fault(&self) -> Option<CauseIndex> {
        let (leader, _) = *self.standing()?.ranked().first()?;
        (self.knowledge.is_all_clear(leader) && self.seen_itself().is_none()).then_some(leader)
    }

    /// Tests seen or measured for sure that go with the first cause, hazards left out.
    fn fitting(&self) -> Vec<TestIndex> {
        let fitting = self
            .seen_oftener(1.0)
            .into_iter()
            .filter(|(test, _)| !test.safety);
        fitting.map(|(_, finding)| finding.test).collect()
    }

    /// What was seen or measured for sure and comes so many times as often with the first cause as is usual.
    fn seen_oftener(&self, times: f64) -> Vec<(&Test, &Answered)> {
        let (Some(model), Some(place)) = (self.model(), self.standing().and_then(Standing::leader)) else {
            return Vec::new();
        };
        let comes = |(_, finding): &(&Test, &Answered)| {
            model.likelihoods(finding.test).is_some_and(|known| {
                known.given(place, finding.outcome) >= times * known.usual()[finding.outcome.place()]
            })
        };
        self.seen().filter(comes).collect()
    }

    /// What was seen or measured for sure, each with its test.
    fn seen(&self) -> impl Iterator<Item = (&Test, &Answered)> {
        let findings = self
            .findings()
            .iter()
            .filter(|finding| finding.certainty() >= 1.0);
        let with_test = findings.map(|finding| (&self.knowledge.tests[finding.test], finding));
        with_test.filter(|(test, _)| test.state != State::Told)
    }

    /// The finding that is the first cause itself: sure, seen or measured, and what that cause nearly always shows and no
    /// other does as often. Nothing where the cause is only concluded.
    #[must_use]
    pub fn seen_itself(&self) -> Option<&Answered> {
        let (leader, share) = *self.standing()?.ranked().first()?;
        if share < stop::TRIAL {
            return None;
        }
        self.seen()
            .find(|(test, finding)| is_itself(&test.outcomes[finding.outcome], leader))
            .map(|(_, finding)| finding)
    }

    /// Whether something seen or measured for sure carries the first cause: a finding that comes with it many times oftener
    /// than on callbacks at large. Without one it rests on what was told.
    #[must_use]
    pub fn rests_on_a_finding(&self) -> bool {
        !self.seen_oftener(CARRIES).is_empty()
    }

    /// The test that makes sure of the first cause where it stands clear but is only concluded: one that finds it, at which its
    /// nearest rival would answer otherwise, that shows what was not seen yet, can be made now and takes no longer than the
    /// repair it may save. Nothing where there is none.
    #[must_use]
    pub fn to_make_sure(&self) -> Option<Candidate> {
        let position = self.position()?;
        let (leader, _) = *position.standing.ranked().first()?;
        if !stop::is_settled(position.standing) || self.seen_itself().is_some() {
            return None;
        }
        let repair = position.repairs[position.model.place(leader)?];
        let finders: Vec<TestIndex> = order::authored(self.knowledge, self.complaint()?)
            .into_iter()
            .filter(|test| {
                let known = &self.knowledge.tests[*test];
                let finds: f64 = proofs(known, leader).map(|(_, chance)| chance).sum();
                known.state != State::Told && finds >= MAKES_SURE && !self.shows_what_was_seen(*test, leader)
            })
            .collect();
        worth::ranked(self, worth::open_now(self, &finders))
            .into_iter()
            .filter(|candidate| {
                self.is_free_after_the_visits_looks(candidate.test) && candidate.minutes <= repair
            })
            .filter(|candidate| self.parts_from_rival(candidate.test, leader) >= RIVAL_DIFFERS)
            .max_by(|a, b| {
                // One whose cautions were accepted is not put off for another.
                let agreed = |test| self.pace.agreed == Some(test);
                let rate = |one: &Candidate| self.parts_from_rival(one.test, leader) / one.cost;
                agreed(a.test)
                    .cmp(&agreed(b.test))
                    .then_with(|| rate(a).total_cmp(&rate(b)))
            })
    }

    /// The look at why the first cause burnt or failed that comes before its repair, once that was seen or leads far and need not
    /// be made sure of: the first of those its author names that can be made now. Nothing where one of them showed a reason: an
    /// outcome that is not the common one. All sound so far, and the next is looked at: done again, it would only burn again.
    #[must_use]
    pub fn why_first(&self) -> Option<Candidate> {
        let position = self.position()?;
        let (leader, share) = *position.standing.ranked().first()?;
        if self.knowledge.trees[self.complaint()?].in_order {
            return None;
        }
        let whys = &self.knowledge.causes[leader].why_first;
        let showed_a_reason = whys.iter().any(|test| match self.resolution(*test) {
            Resolution::Known(outcome) => {
                let outcome = &self.knowledge.tests[*test].outcomes[outcome];
                outcome.usual < COMMON && !outcome.says_nothing
            }
            _ => false,
        });
        let stands = share >= COMES_NEXT || self.seen_itself().is_some();
        if showed_a_reason || !stands || self.to_make_sure().is_some() {
            return None;
        }
        whys.iter()
            .filter_map(|test| worth::ranked(self, worth::open_now(self, &[*test])).pop())
            .find(|candidate| self.is_free_after_the_visits_looks(candidate.test))
    }

    /// How much oftener a cause proves itself by a test than the nearest of what stands beside it would give the same, after
    /// what is known.
    fn parts_from_rival(&self, test: TestIndex, leader: CauseIndex) -> f64 {
        let parted = || {
            let (model, standing) = (self.model()?, self.standing()?);
            let expected = standing.expected(model, test)?;
            let rival = standing
                .ranked()
                .get(1)
                .filter(|(_, share)| *share >= standing.remainder())
                .copied();
            let beside = match rival {
                Some((cause, _)) => expected.row(model.place(cause)?),
                None => &expected.usual,
            };
            let own = expected.row(model.place(leader)?);
            let proofs = proofs(&self.knowledge.tests[test], leader);
            Some(
                proofs
                    .map(|(outcome, _)| own[outcome.place()] - beside[outcome.place()])
                    .sum(),
            )
        };
        parted().unwrap_or(0.0)
    }

    /// Whether all by which a test would prove a cause was seen or measured already, by another test.
    fn shows_what_was_seen(&self, test: TestIndex, cause: CauseIndex) -> bool {
        let seen = |wanted: &Shown| {
            self.seen().any(|(of, finding)| {
                finding.test != test
                    && of.outcomes[finding.outcome].shows.iter().any(|shown| {
                        shown.effect == wanted.effect
                            && shown.states.iter().any(|state| wanted.states.contains(state))
                    })
            })
        };
        let known = &self.knowledge.tests[test];
        let mut wanted = proofs(known, cause)
            .flat_map(|(outcome, _)| &known.outcomes[outcome].shows)
            .peekable();
        wanted.peek().is_some() && wanted.all(seen)
    }
}

/// How often a cause brings an outcome that finds it, where the outcome is rare enough otherwise to prove the cause: that all is as
/// it mostly is proves nothing.
fn proof(outcome: &Outcome, cause: CauseIndex) -> Option<f64> {
    outcome
        .finding(cause)
        .filter(|chance| outcome.usual <= RARE * chance)
}

/// The outcomes of a test that prove a cause, and how often it brings each.
fn proofs(test: &Test, cause: CauseIndex) -> impl Iterator<Item = (OutcomeIndex, f64)> {
    let outcomes = test.outcomes.indexed();
    outcomes.filter_map(move |(index, outcome)| Some((index, proof(outcome, cause)?)))
}

fn is_itself(outcome: &Outcome, cause: CauseIndex) -> bool {
    proof(outcome, cause).is_some_and(|own| {
        let apart = |(other, chance): &(CauseIndex, f64)| *other == cause || *chance <= NO_OTHER * own;
        own >= FAULT_ITSELF && outcome.finds.iter().all(apart)
    })
}
