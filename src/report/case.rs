//! From a walk to the result of its case.

use jiff::Timestamp;
use jiff::tz::TimeZone;

use crate::inference::standing::{Weight, weigh};
use crate::inference::{Standing, conflict, pair, sensitivity, stop, words};
use crate::journal::Case;
use crate::knowledge::model::{CauseIndex, Hold, Job, Knowledge, NodeKind, Place, State, TestIndex};
use crate::walk::{Event, Question, Resolution, Walk, caution};

use super::basis::inputs;
use super::ending::{self, NEIGHBOR};
use super::form::{
    AnswerShown, CalculationShown, CaseResult, CauseStanding, ClosedShown, Conclusion, DoubtShown, Ending,
    Firmness, HeldShown, LeftOut, NextTest, OneLine, PairShown, SCHEMA, Step, Unexplained, made_safe_first,
};
use super::given::{self, GivenShown};
use super::head::Head;
use super::one_line::Known;
use super::page::made_safe_by;
use super::reasons;
use super::recheck::recheck;
use super::repair::{defects, prevention, requirements};
use super::wording::{finding_text, missing_inputs};

/// Evidence weaker than this many bits is not worth a line.
const LEAST_BITS_SHOWN: f64 = 0.2;

/// Tests shown as worth making next.
const MOST_NEXT: usize = 5;

const MOST_NEIGHBORS: usize = 3;

/// Leader from which a cause is called likely rather than open.
const LIKELY: f64 = 0.55;

/// Causes listed in the data unless all are asked for.
const MOST_LISTED: usize = 10;

/// A cause less probable than this is not listed then.
const LEAST_LISTED: f64 = 0.01;

impl CaseResult {
    /// Builds the result of a walk that is kept in no file: nobody knows who, when and where.
    ///
    /// Returns nothing before complaint and equipment are known. Every cause is listed.
    #[must_use]
    pub fn new(walk: &Walk<'_>) -> Option<Self> {
        Self::with(walk, Head::default(), &[])
    }

    /// Builds the result of a case from its file and the walk replayed from it; times are shown by the clock of `zone`.
    ///
    /// Returns nothing before complaint and equipment are known. Every cause is listed.
    #[must_use]
    pub fn of_case(walk: &Walk<'_>, case: &Case, zone: TimeZone) -> Option<Self> {
        Self::with(walk, Head::of(case, zone), &given::times(walk, case))
    }

    /// The same with the causes that count only: those of 1 % and more, ten at most, the first in any case.
    #[must_use]
    pub fn shortened(mut self) -> Self {
        let listed = self
            .standing
            .iter()
            .take(MOST_LISTED)
            .take_while(|cause| cause.probability >= LEAST_LISTED)
            .count()
            .max(1)
            .min(self.standing.len());
        let cut = self.standing.split_off(listed);
        self.left_out.causes += cut.len();
        self.left_out.probability += cut.iter().map(|cause| cause.probability).sum::<f64>();
        self
    }

    fn with(walk: &Walk<'_>, head: Head, times: &[Option<Timestamp>]) -> Option<Self> {
        let knowledge = walk.knowledge();
        let complaint = &knowledge.trees[walk.complaint()?];
        let equipment = &knowledge.equipment[walk.equipment()?];
        let standing = walk.standing()?;
        let weights = walk
            .model()
            .map_or_else(Vec::new, |model| weigh(model, walk.findings()));
        let causes: Vec<CauseStanding> = standing
            .ranked()
            .into_iter()
            .map(|(cause, probability)| cause_standing(walk, &weights, cause, probability))
            .collect();
        let held = shown(&walk.holds());
        let defects = defects(walk);
        let closed = closed(walk);
        // What was told until the repair no longer holds of a closed case.
        let made_safe_by = made_safe_by(&held, &defects, &causes).filter(|_| closed.is_none());
        let next = next_tests(walk, made_safe_by);
        let halted = matches!(walk.question(), Question::Halt { .. });
        let state = match walk.question() {
            Question::Halt { .. } => "halted",
            Question::Finish => "finished",
            _ => "open",
        };
        let ending = Ending::new(walk, standing, state, made_safe_by);
        let given = given::given(walk, times);
        let calculations = calculations(walk);
        let one_line = OneLine::new(&Known {
            parts: &walk.installation()?.parts,
            given: &given,
            calculations: &calculations,
            defects: &defects,
            standing: &causes,
        });
        Some(Self {
            schema: SCHEMA,
            program: env!("CARGO_PKG_VERSION"),
            knowledge: knowledge.fingerprint.clone(),
            head,
            complaint: complaint.id.clone(),
            complaint_name: complaint.complaint.clone().unwrap_or_default(),
            equipment: equipment.id.clone(),
            equipment_name: equipment_name(walk, &equipment.name, &given),
            state,
            stop_reason: walk.stop_reason(),
            answers: answers(walk),
            learned_from: walk.counts().map(|counts| counts.cases),
            conclusion: conclude(walk, &causes, standing.remainder(), &ending, halted),
            unexplained: unexplained(walk, &causes, standing.remainder()),
            firmness: firmness(walk),
            held,
            not_looked_at: shown(&walk.not_looked_at()),
            defects,
            requirements: requirements(walk, &causes),
            calculations,
            one_line,
            given,
            left_out: LeftOut::default(),
            prevention: prevention(walk, &causes),
            cautions: cautions(walk, &causes, &next),
            notes: walk.notes().to_vec(),
            closed,
            standing: causes,
            next,
            ending,
        })
    }

    /// After a stop for safety a cause that hardly stands out would only be in the way.
    pub(super) fn shows_causes(&self) -> bool {
        self.conclusion.kind != "halted" || self.leaders().iter().any(|cause| cause.probability > 0.3)
    }

    /// The causes a person should see: the leaders, at most five, none below 3 %; at least the first.
    #[must_use]
    pub fn leaders(&self) -> &[CauseStanding] {
        let shown = self
            .standing
            .iter()
            .take(5)
            .take_while(|cause| cause.probability >= 0.03)
            .count();
        &self.standing[..shown.max(1).min(self.standing.len())]
    }
}

fn shown(holds: &[&Hold]) -> Vec<HeldShown> {
    holds
        .iter()
        .map(|hold| HeldShown {
            hold: hold.id.clone(),
            name: hold.name.clone(),
            says: hold.says.clone(),
            from_start: hold.from_start,
            off: hold.stops.contains(&State::Running),
            of_the_work: hold.of_the_work,
            unlooked: hold.unlooked.clone(),
        })
        .collect()
}

/// The equipment with what is fitted to it.
fn equipment_name(walk: &Walk<'_>, name: &str, given: &[GivenShown]) -> String {
    let fitted = given
        .iter()
        .find(|one| one.kind == "accessories" && one.known && one.said != "none");
    match (fitted, walk.installation()) {
        (Some(fitted), Some(_)) => format!("{name}; fitted: {}", fitted.said),
        _ => name.to_owned(),
    }
}

fn conclude(
    walk: &Walk<'_>,
    causes: &[CauseStanding],
    remainder: f64,
    ending: &Ending,
    halted: bool,
) -> Conclusion {
    if let (true, Question::Halt { advice, call }) = (halted, walk.question()) {
        return Conclusion {
            kind: "halted",
            text: format!("Stopped for safety. {advice} Call: {call}"),
            stop: stop_id(walk, advice),
        };
    }
    let Some(leader) = causes.first() else {
        return Conclusion {
            kind: "unlisted",
            text: "No cause is listed for this equipment.".to_owned(),
            stop: None,
        };
    };
    let electrical = leader.place != Place::NotElectrical;
    let settle = ending.check.as_ref().map(|check| {
        let first = check.made_safe_by.map_or_else(String::new, |by| {
            format!(" Before that: {}.", made_safe_first(by))
        });
        format!(" What would tell: {}.{first}", check.name)
    });
    let settle = settle.unwrap_or_else(|| {
        if ending.is_decided() && leader.probability < stop::STRONG_ENOUGH {
            " The repair of the first costs less than any further test: make it, then prove it.".to_owned()
        } else {
            String::new()
        }
    });
    if remainder >= stop::DOES_NOT_FIT || remainder > leader.probability {
        return Conclusion {
            kind: "unlisted",
            text: format!(
                "Cannot tell: the answers do not fit the listed causes well ({} is left for something not listed).{settle}",
                words::percent(remainder)
            ),
            stop: None,
        };
    }
    let percent = words::percent(leader.probability);
    if let Some(seen) = ending
        .seen
        .as_ref()
        .filter(|_| leader.probability < stop::STRONG_ENOUGH)
    {
        return ending::found(&leader.name, &percent, seen, &leader.proof);
    }
    if let Some(text) = somewhere_in(causes, &settle) {
        return Conclusion {
            kind: "likely",
            text,
            stop: None,
        };
    }
    let name = &leader.name;
    let stands = ending.is_decided() || ending.step == Step::Call;
    let (kind, text) = if stands && leader.probability >= stop::STRONG_ENOUGH {
        let lead = if ending.no_fault {
            "No fault"
        } else if electrical {
            "Cause"
        } else {
            "Not electrical. Cause"
        };
        (
            "found",
            format!(
                "{lead}, as far as the answers tell: {name} ({percent}). {} {}",
                if ending.no_fault {
                    "To prove it:"
                } else {
                    "To prove the repair, once it is made:"
                },
                leader.proof
            ),
        )
    } else if leader.probability >= LIKELY {
        let lead = if electrical {
            "Likely"
        } else {
            "Likely not electrical"
        };
        (
            "likely",
            format!("{lead}: {name} ({percent}), not yet proved.{settle}"),
        )
    } else {
        let lead = if electrical {
            "Cannot tell yet"
        } else {
            "Cannot tell yet, and it may not be electrical"
        };
        (
            "open",
            format!("{lead}. First among several: {name} ({percent}).{settle}"),
        )
    };
    Conclusion {
        kind,
        text,
        stop: None,
    }
}

/// The node or the hold that stops with this advice.
fn stop_id(walk: &Walk<'_>, stops: &str) -> Option<String> {
    let knowledge = walk.knowledge();
    let hold = || {
        let ends = knowledge
            .holds
            .iter()
            .find(|hold| hold.call.is_some() && hold.says == stops);
        ends.map(|hold| hold.id.clone())
    };
    knowledge
        .trees
        .iter()
        .flat_map(|tree| &tree.nodes)
        .find(|node| matches!(&node.kind, NodeKind::Halt { advice, .. } if advice == stops))
        .map(|node| node.id.clone())
        .or_else(hold)
}

/// Two or three neighbors that hold nearly everything between them, while a test would still tell them apart: none of them is
/// called found before it is made.
fn somewhere_in(causes: &[CauseStanding], settle: &str) -> Option<String> {
    let near: Vec<&CauseStanding> = causes
        .iter()
        .take(MOST_NEIGHBORS)
        .filter(|cause| cause.probability >= NEIGHBOR)
        .collect();
    let together: f64 = near.iter().map(|cause| cause.probability).sum();
    if near.len() < 2 || together < stop::STRONG_ENOUGH || settle.is_empty() {
        return None;
    }
    let names: Vec<String> = near
        .iter()
        .map(|cause| format!("{} ({})", cause.name, words::percent(cause.probability)))
        .collect();
    Some(format!("Somewhere in: {}.{settle}", names.join("; ")))
}

/// The name of a hold, by its id.
fn hold_name(knowledge: &Knowledge, id: &str) -> String {
    let known = knowledge.holds.iter().find(|hold| hold.id == id);
    known.map_or_else(|| id.to_owned(), |hold| hold.name.clone())
}

fn closed(walk: &Walk<'_>) -> Option<ClosedShown> {
    let Event::Closed {
        cause,
        not_listed,
        proved,
        text,
        standing,
    } = walk.closing()?
    else {
        return None;
    };
    let knowledge = walk.knowledge();
    Some(ClosedShown {
        cause: cause.clone(),
        name: match cause {
            Some(id) => knowledge
                .cause(id)
                .map_or_else(|| id.clone(), |cause| knowledge.causes[cause].name.clone()),
            None => not_listed.as_ref().map_or_else(
                || "None of the causes listed here".to_owned(),
                |what| format!("Not listed: {what}"),
            ),
        },
        proved: *proved,
        text: text.clone(),
        standing: standing
            .iter()
            .filter(|stood| stood.cleared.is_none())
            .map(|stood| hold_name(knowledge, &stood.hold))
            .collect(),
        cleared: standing
            .iter()
            .filter_map(|stood| {
                let cleared = stood.cleared.as_ref()?;
                Some(format!("{}: {cleared}", hold_name(knowledge, &stood.hold)))
            })
            .collect(),
    })
}

fn answers(walk: &Walk<'_>) -> Vec<AnswerShown> {
    let Some(model) = walk.model() else {
        return Vec::new();
    };
    let findings = walk.findings();
    findings
        .iter()
        .enumerate()
        .filter_map(|(place, finding)| {
            let mut others = findings.to_vec();
            others.remove(place);
            let surprise = conflict::surprise(model, &others, finding)?;
            let test = &walk.knowledge().tests[finding.test];
            Some(AnswerShown {
                test: test.id.clone(),
                outcome: test.outcomes[finding.outcome].id.clone(),
                certainty: finding.certainty(),
                surprise: surprise.bits,
                expected: surprise.expected,
            })
        })
        .collect()
}

fn unexplained(walk: &Walk<'_>, causes: &[CauseStanding], remainder: f64) -> Unexplained {
    let knowledge = walk.knowledge();
    let findings = walk.findings();
    let mut unexplained = Unexplained {
        probability: remainder,
        clashes: causes
            .first()
            .map(|leader| leader.against.clone())
            .unwrap_or_default(),
        conflict: 0.0,
        contradictory: false,
        doubt: None,
        pair: None,
    };
    let Some(model) = walk.model() else {
        return unexplained;
    };
    unexplained.conflict = conflict::conflict(model, findings);
    unexplained.contradictory = conflict::is_contradictory(model, findings);
    unexplained.doubt = conflict::doubt(model, findings).and_then(|doubt| {
        let finding = &findings[doubt.finding];
        let mut others = findings.to_vec();
        others.remove(doubt.finding);
        let (leader, _) = *Standing::new(model, &others).ranked().first()?;
        let cause = &knowledge.causes[leader];
        Some(DoubtShown {
            test: knowledge.tests[finding.test].id.clone(),
            text: finding_text(walk, finding.test, finding.outcome),
            bits: doubt.bits,
            leads_without: cause.id.clone(),
            leads_without_name: cause.name.clone(),
            recheck: recheck(walk, finding.test),
        })
    });
    unexplained.pair = pair::better_pair(model, findings).map(|found| PairShown {
        causes: found.causes.map(|cause| knowledge.causes[cause].id.clone()),
        names: found.causes.map(|cause| knowledge.causes[cause].name.clone()),
        times: found.times,
    });
    unexplained
}

fn firmness(walk: &Walk<'_>) -> Firmness {
    let knowledge = walk.knowledge();
    let findings = walk.findings();
    let hinges = walk
        .model()
        .map(|model| sensitivity::hinges(model, findings))
        .unwrap_or_default();
    let mut hangs_on: Vec<String> = Vec::new();
    for hinge in &hinges {
        let finding = &findings[hinge.finding];
        let told = finding_text(walk, finding.test, finding.outcome);
        let then = &knowledge.causes[hinge.then_leads].name;
        let text = format!("\"{told}\"; without it, \"{then}\" leads");
        if !hangs_on.contains(&text) {
            hangs_on.push(text);
        }
    }
    Firmness {
        firm: hangs_on.is_empty(),
        hangs_on,
    }
}

fn cause_standing(
    walk: &Walk<'_>,
    weights: &[Vec<Weight>],
    index: CauseIndex,
    probability: f64,
) -> CauseStanding {
    let cause = &walk.knowledge().causes[index];
    let mut evidence = reasons::evidence(walk, weights, index);
    evidence.retain(|reason| reason.item.bits.abs() >= LEAST_BITS_SHOWN && (reason.raises || !reason.fits));
    evidence.sort_by(|a, b| b.item.bits.abs().total_cmp(&a.item.bits.abs()));
    // What makes it more probable stands for it, also where it only fits its rivals still less.
    let (supporting, against): (Vec<_>, Vec<_>) = evidence.into_iter().partition(|reason| reason.raises);
    let items = |reasons: Vec<reasons::Reason>| reasons.into_iter().map(|reason| reason.item).collect();
    let (supporting, against) = (items(supporting), items(against));
    CauseStanding {
        cause: cause.id.clone(),
        name: cause.name.clone(),
        probability,
        words: words::in_words(probability),
        place: cause.place,
        trade: cause.job,
        supporting,
        against,
        mechanism: cause.mechanism.clone(),
        remedy: cause.remedy.clone(),
        proof: cause.proof.clone(),
        caution: cause.caution.clone(),
    }
}

fn next_tests(walk: &Walk<'_>, made_safe_by: Option<Job>) -> Vec<NextTest> {
    let knowledge = walk.knowledge();
    walk.candidates()
        .into_iter()
        .filter(|candidate| stop::is_worth(candidate.bits, candidate.cost))
        .take(MOST_NEXT)
        .map(|candidate| {
            let test = &knowledge.tests[candidate.test];
            NextTest {
                test: test.id.clone(),
                name: test.name.clone(),
                bits: candidate.bits,
                saves: walk.saves(candidate.test),
                decides: walk.decides(candidate.test),
                minutes: candidate.minutes,
                state: candidate.state,
                hazard: test.hazard,
                caution: test.caution.clone(),
                needs: missing_inputs(walk, candidate.test),
                made_safe_by: made_safe_by.filter(|_| candidate.state.is_powered()),
            }
        })
        .collect()
}

/// The calculations made that the walk passed or that weigh something: one that belongs to another complaint and says
/// nothing here would only be in the way.
fn calculations(walk: &Walk<'_>) -> Vec<CalculationShown> {
    let weighs = |test: TestIndex| match walk.resolution(test) {
        Resolution::Known(outcome) => {
            let outcome = &walk.knowledge().tests[test].outcomes[outcome];
            outcome.defect.is_some() || !outcome.shows.is_empty() || !outcome.finds.is_empty()
        }
        _ => false,
    };
    walk.calculated()
        .iter()
        .filter(|made| walk.passed().contains(&made.test) || weighs(made.test))
        .map(|made| {
            let test = &walk.knowledge().tests[made.test];
            CalculationShown {
                test: test.id.clone(),
                name: test.name.clone(),
                inputs: inputs(walk, made.test),
                report: made.result.as_ref().ok().cloned(),
                problem: made.result.as_ref().err().map(ToString::to_string),
            }
        })
        .collect()
}

fn cautions(walk: &Walk<'_>, causes: &[CauseStanding], next: &[NextTest]) -> Vec<String> {
    let mut cautions = vec![caution::STANDING_STATEMENT.to_owned()];
    cautions.extend(walk.holds().iter().map(|hold| hold.says.clone()));
    cautions.extend(
        caution::cautions(State::LockedOut)
            .iter()
            .map(|&text| text.to_owned()),
    );
    let mut powered: Vec<State> = next
        .iter()
        .map(|next| next.state)
        .filter(|state| state.is_powered())
        .collect();
    powered.sort_unstable();
    powered.dedup();
    for text in powered.into_iter().flat_map(caution::cautions) {
        if !cautions.iter().any(|said| said == text) {
            cautions.push((*text).to_owned());
        }
    }
    for cause in causes.iter().take(3).filter(|cause| cause.probability >= 0.10) {
        if !cause.caution.is_empty() && !cautions.contains(&cause.caution) {
            cautions.push(cause.caution.clone());
        }
    }
    cautions
}
