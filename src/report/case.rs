//! The result of a case as data. Documented and versioned: what `--format json` prints.

use serde::Serialize;

use crate::inference::standing::weight_of_evidence;
use crate::inference::{Standing, conflict, pair, sensitivity, stop, words};
use crate::knowledge::model::{
    CauseIndex, Hazard, InputFrom, Job, Knowledge, OutcomeIndex, Place, State, TestIndex, TestKind,
};
use crate::standards::registry::Report;
use crate::walk::{Question, Walk, caution};

/// Version of the result's form. Rises when a field changes meaning or goes; a new field does not raise it.
pub const SCHEMA: u32 = 1;

/// Evidence weaker than this many bits is not worth a line.
const LEAST_BITS_SHOWN: f64 = 0.2;

/// Tests shown as worth making next.
const MOST_NEXT: usize = 5;

/// Leader from which a cause is called likely rather than open.
const LIKELY: f64 = 0.55;

/// Everything to be said about a case.
#[derive(Clone, Debug, Serialize)]
pub struct CaseResult {
    /// Version of this form.
    pub schema: u32,
    /// Version of the program.
    pub program: &'static str,
    /// Fingerprint of the knowledge used.
    pub knowledge: String,
    /// Id of the complaint.
    pub complaint: String,
    /// Id of the equipment.
    pub equipment: String,
    /// How the walk stands: `finished`, `halted` or `open`.
    pub state: &'static str,
    /// Closed cases the frequencies were learnt from; nothing when they are the authored ones.
    pub learned_from: Option<usize>,
    /// Why it is time to conclude; nothing while a test is worth making.
    pub stop_reason: Option<stop::Reason>,
    /// The answers with how unexpected each was.
    pub answers: Vec<AnswerShown>,
    /// What it comes to.
    pub conclusion: Conclusion,
    /// Causes from most to least probable.
    pub standing: Vec<CauseStanding>,
    /// What the listed causes leave over.
    pub unexplained: Unexplained,
    /// Whether the conclusion is firm.
    pub firmness: Firmness,
    /// Limits violated and damage found.
    pub defects: Vec<DefectShown>,
    /// Tests worth making next.
    pub next: Vec<NextTest>,
    /// Calculations with their working.
    pub calculations: Vec<CalculationShown>,
    /// What would keep the trouble from coming back.
    pub prevention: Vec<PreventionShown>,
    /// What to mind before any of it is done.
    pub cautions: Vec<String>,
    /// Remarks of the person.
    pub notes: Vec<String>,
}

/// What the case comes to.
#[derive(Clone, Debug, Serialize)]
pub struct Conclusion {
    /// `found`, `likely`, `open`, `unlisted` or `halted`.
    pub kind: &'static str,
    /// One or two sentences.
    pub text: String,
}

/// A cause in the result.
#[derive(Clone, Debug, Serialize)]
pub struct CauseStanding {
    /// Its id.
    pub cause: String,
    /// Its name.
    pub name: String,
    /// Its probability, 0 to 1.
    pub probability: f64,
    /// The same in words.
    pub words: &'static str,
    /// Where it sits on the way from the utility to the load.
    #[serde(rename = "where")]
    pub place: Place,
    /// Whose job the repair is.
    pub trade: Job,
    /// What speaks for it, strongest first.
    #[serde(rename = "for")]
    pub supporting: Vec<EvidenceItem>,
    /// What speaks against it, strongest first.
    pub against: Vec<EvidenceItem>,
    /// How it makes the trouble.
    pub mechanism: String,
    /// The repair.
    pub remedy: String,
    /// The reading that proves the repair.
    pub proof: String,
    /// What can hurt.
    pub caution: String,
}

/// One finding and how much it weighs.
#[derive(Clone, Debug, Serialize)]
pub struct EvidenceItem {
    /// Id of the test.
    pub test: String,
    /// Id of the outcome.
    pub outcome: String,
    /// The finding in words.
    pub text: String,
    /// Weight of evidence in bits against "something not listed"; positive speaks for the cause.
    pub bits: f64,
}

/// What the listed causes leave over.
#[derive(Clone, Debug, Serialize)]
pub struct Unexplained {
    /// Probability that the cause is none of those listed.
    pub probability: f64,
    /// The findings that fit the leading cause least.
    pub clashes: Vec<EvidenceItem>,
    /// Conflict of the findings in bits: above 0 they are rarer together than by chance.
    pub conflict: f64,
    /// The findings clash under every listed cause.
    pub contradictory: bool,
    /// The finding to doubt and check again, when there is one.
    pub doubt: Option<DoubtShown>,
    /// Two causes that together explain the findings far better than any one.
    pub pair: Option<PairShown>,
}

/// A finding to doubt.
#[derive(Clone, Debug, Serialize)]
pub struct DoubtShown {
    /// Id of the test.
    pub test: String,
    /// The finding in words.
    pub text: String,
    /// How far the conflict drops without it, in bits.
    pub drop: f64,
    /// Id of the cause that would lead without it.
    pub leads_without: String,
    /// Its name.
    pub leads_without_name: String,
    /// The check that would settle it.
    pub recheck: String,
}

/// An answer and how unexpected it was after all the others.
#[derive(Clone, Debug, Serialize)]
pub struct AnswerShown {
    /// Id of the test.
    pub test: String,
    /// Id of the outcome, or of the one most leant to.
    pub outcome: String,
    /// Share of the answer on that outcome: 1 when it is certain.
    pub certainty: f64,
    /// Surprise in bits.
    pub surprise: f64,
    /// What was to be expected on average, in bits.
    pub expected: f64,
}

/// Two causes at once.
#[derive(Clone, Debug, Serialize)]
pub struct PairShown {
    /// Ids of the causes.
    pub causes: [String; 2],
    /// Their names.
    pub names: [String; 2],
    /// How many times more probable the pair is than the best single cause.
    pub times: f64,
}

/// Whether the conclusion stands when one strength moves a step.
#[derive(Clone, Debug, Serialize)]
pub struct Firmness {
    /// No single step makes another cause lead.
    pub firm: bool,
    /// What it hangs on, in words; empty when it is firm.
    pub hangs_on: Vec<String>,
}

/// A defect in the result.
#[derive(Clone, Debug, Serialize)]
pub struct DefectShown {
    /// Id of the test that showed it.
    pub test: String,
    /// Id of its outcome.
    pub outcome: String,
    /// What is wrong.
    pub name: String,
    /// The numbers, when it was calculated.
    pub finding: Option<String>,
    /// What it can do.
    pub hazard: String,
    /// Whose job it is.
    pub trade: Job,
    /// What it must become.
    pub correct: String,
    /// The rule, or "common practice, no source".
    pub source: String,
}

/// A test worth making.
#[derive(Clone, Debug, Serialize)]
pub struct NextTest {
    /// Its id.
    pub test: String,
    /// Its name.
    pub name: String,
    /// Expected information in bits.
    pub bits: f64,
    /// Expected drop of the cost of repair, in minutes.
    pub saves: f64,
    /// Minutes, with the change of state and the readings a calculation still needs.
    pub minutes: f64,
    /// State the equipment must be in.
    pub state: State,
    /// What it can do to the person.
    pub hazard: Hazard,
    /// What to mind.
    pub caution: String,
    /// Names of the facts and readings a calculation still needs.
    pub needs: Vec<String>,
}

/// A calculation in the result.
#[derive(Clone, Debug, Serialize)]
pub struct CalculationShown {
    /// Id of the test.
    pub test: String,
    /// Its name.
    pub name: String,
    /// The report with its working, or nothing when it could not be made.
    pub report: Option<Report>,
    /// Why it could not be made.
    pub problem: Option<String>,
}

/// Advice in the result.
#[derive(Clone, Debug, Serialize)]
pub struct PreventionShown {
    /// Id of the cause it belongs to.
    pub cause: String,
    /// What to do.
    pub text: String,
    /// The rule that asks for it; nothing when it is good practice.
    pub rule: Option<String>,
}

impl CaseResult {
    /// Builds the result of a walk.
    ///
    /// Returns nothing before complaint and equipment are known.
    #[must_use]
    pub fn new(walk: &Walk<'_>) -> Option<Self> {
        let knowledge = walk.knowledge();
        let complaint = &knowledge.trees[walk.complaint()?.0];
        let equipment = &knowledge.equipment[walk.equipment()?.0];
        let standing = walk.standing()?;
        let causes: Vec<CauseStanding> = standing
            .ranked()
            .into_iter()
            .map(|(cause, probability)| cause_standing(walk, cause, probability))
            .collect();
        let next = next_tests(walk);
        let halted = matches!(walk.question(), Question::Halt { .. });
        let state = match walk.question() {
            Question::Halt { .. } => "halted",
            Question::Finish => "finished",
            _ => "open",
        };
        Some(Self {
            schema: SCHEMA,
            program: env!("CARGO_PKG_VERSION"),
            knowledge: knowledge.fingerprint.clone(),
            complaint: complaint.id.clone(),
            equipment: equipment.id.clone(),
            state,
            stop_reason: walk.stop_reason(),
            answers: answers(walk),
            learned_from: walk.counts().map(|counts| counts.cases),
            conclusion: conclude(walk, &causes, standing.remainder(), &next, halted),
            unexplained: unexplained(walk, &causes, standing.remainder()),
            firmness: firmness(walk),
            defects: defects(walk),
            calculations: calculations(walk),
            prevention: prevention(knowledge, &causes),
            cautions: cautions(&causes, &next),
            notes: walk.notes().to_vec(),
            standing: causes,
            next,
        })
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

fn conclude(
    walk: &Walk<'_>,
    causes: &[CauseStanding],
    remainder: f64,
    next: &[NextTest],
    halted: bool,
) -> Conclusion {
    if let (true, Question::Halt { advice, call }) = (halted, walk.question()) {
        return Conclusion {
            kind: "halted",
            text: format!("Stopped for safety. {advice} Call: {call}"),
        };
    }
    let Some(leader) = causes.first() else {
        return Conclusion {
            kind: "unlisted",
            text: "No cause is listed for this equipment.".to_owned(),
        };
    };
    let electrical = leader.place != Place::NotElectrical;
    let settle = next
        .iter()
        .max_by(|a, b| a.bits.total_cmp(&b.bits))
        .map_or(String::new(), |next| format!(" What would tell: {}.", next.name));
    if remainder >= stop::DOES_NOT_FIT || remainder > leader.probability {
        return Conclusion {
            kind: "unlisted",
            text: format!(
                "Cannot tell: the answers do not fit the listed causes well ({} is left for something not listed).{settle}",
                words::percent(remainder)
            ),
        };
    }
    let name = &leader.name;
    let percent = words::percent(leader.probability);
    let (kind, text) = if leader.probability >= stop::STRONG_ENOUGH {
        let lead = if electrical {
            "Cause"
        } else {
            "Not electrical. Cause"
        };
        (
            "found",
            format!(
                "{lead}, as far as the answers tell: {name} ({percent}). The repair is proved by: {}",
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
    Conclusion { kind, text }
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
            let test = &walk.knowledge().tests[finding.test.0];
            Some(AnswerShown {
                test: test.id.clone(),
                outcome: test.outcomes[finding.outcome.0].id.clone(),
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
    if unexplained.contradictory || remainder >= stop::DOES_NOT_FIT {
        unexplained.doubt = conflict::doubt(model, findings).and_then(|doubt| {
            let finding = &findings[doubt.finding];
            let mut others = findings.to_vec();
            others.remove(doubt.finding);
            let (leader, _) = *Standing::new(model, &others).ranked().first()?;
            let cause = &knowledge.causes[leader.0];
            Some(DoubtShown {
                test: knowledge.tests[finding.test.0].id.clone(),
                text: finding_text(walk, finding.test, finding.outcome),
                drop: doubt.drop,
                leads_without: cause.id.clone(),
                leads_without_name: cause.name.clone(),
                recheck: recheck(walk, finding.test),
            })
        });
    }
    unexplained.pair = pair::better_pair(model, findings).map(|found| PairShown {
        causes: found.causes.map(|cause| knowledge.causes[cause.0].id.clone()),
        names: found.causes.map(|cause| knowledge.causes[cause.0].name.clone()),
        times: found.times,
    });
    unexplained
}

/// The check that best settles a doubted finding: an open test that sees the same, or the same test once more.
fn recheck(walk: &Walk<'_>, test: TestIndex) -> String {
    let knowledge = walk.knowledge();
    let echo = knowledge.tests[test.0].echo.as_deref();
    let variant = walk.candidates().into_iter().find(|candidate| {
        echo.is_some() && candidate.test != test && knowledge.tests[candidate.test.0].echo.as_deref() == echo
    });
    match variant {
        Some(candidate) => knowledge.tests[candidate.test.0].name.clone(),
        None => format!("{}, once more", knowledge.tests[test.0].name),
    }
}

fn firmness(walk: &Walk<'_>) -> Firmness {
    let knowledge = walk.knowledge();
    let findings = walk.findings();
    let hinges = walk
        .model()
        .map(|model| sensitivity::hinges(knowledge, model, findings))
        .unwrap_or_default();
    let mut hangs_on: Vec<String> = Vec::new();
    for hinge in &hinges {
        let finding = &findings[hinge.finding];
        let text = format!(
            "how much \"{}\" says about \"{}\"; one step away, \"{}\" leads",
            finding_text(walk, finding.test, finding.outcome),
            knowledge.causes[hinge.cause.0].name,
            knowledge.causes[hinge.then_leads.0].name,
        );
        if !hangs_on.contains(&text) {
            hangs_on.push(text);
        }
    }
    Firmness {
        firm: hangs_on.is_empty(),
        hangs_on,
    }
}

fn cause_standing(walk: &Walk<'_>, index: CauseIndex, probability: f64) -> CauseStanding {
    let cause = &walk.knowledge().causes[index.0];
    let mut evidence = evidence(walk, index);
    evidence.sort_by(|a, b| b.bits.total_cmp(&a.bits));
    let (supporting, mut against): (Vec<_>, Vec<_>) = evidence
        .into_iter()
        .filter(|item| item.bits.abs() >= LEAST_BITS_SHOWN)
        .partition(|item| item.bits > 0.0);
    against.reverse();
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

fn evidence(walk: &Walk<'_>, cause: CauseIndex) -> Vec<EvidenceItem> {
    let Some(model) = walk.model() else {
        return Vec::new();
    };
    let Some(place) = model.causes().iter().position(|c| *c == cause) else {
        return Vec::new();
    };
    walk.findings()
        .iter()
        .map(|finding| EvidenceItem {
            test: walk.knowledge().tests[finding.test.0].id.clone(),
            outcome: walk.knowledge().tests[finding.test.0].outcomes[finding.outcome.0]
                .id
                .clone(),
            text: finding_text(walk, finding.test, finding.outcome),
            bits: weight_of_evidence(model, walk.findings(), finding, place),
        })
        .collect()
}

fn finding_text(walk: &Walk<'_>, test: TestIndex, outcome: OutcomeIndex) -> String {
    let knowledge = walk.knowledge();
    let label = &knowledge.tests[test.0].outcomes[outcome.0].label;
    let name = &knowledge.tests[test.0].name;
    match walk.reading(test) {
        Some(reading) => format!("{name}: {reading}, {}", lower_first(label)),
        None => format!("{name}: {}", lower_first(label)),
    }
}

/// Lowers a first letter that only begins a sentence; an abbreviation keeps its capitals.
pub(super) fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if !second.is_uppercase() => first
            .to_lowercase()
            .chain(std::iter::once(second))
            .chain(letters)
            .collect(),
        _ => text.to_owned(),
    }
}

fn defects(walk: &Walk<'_>) -> Vec<DefectShown> {
    let knowledge = walk.knowledge();
    walk.defects()
        .into_iter()
        .filter_map(|found| {
            let test = &knowledge.tests[found.test.0];
            let outcome = &test.outcomes[found.outcome.0];
            let defect = outcome.defect.as_ref()?;
            let report = walk
                .calculated()
                .iter()
                .find(|made| made.test == found.test)
                .and_then(|made| made.result.as_ref().ok());
            Some(DefectShown {
                test: test.id.clone(),
                outcome: outcome.id.clone(),
                name: defect.name.clone(),
                finding: report.map(|report| report.finding.clone()).or_else(|| {
                    walk.reading(found.test)
                        .map(|reading| format!("{}: {reading}.", test.name))
                }),
                hazard: defect.hazard.clone(),
                trade: defect.job,
                correct: fill(&defect.correct, report),
                source: defect.source.clone(),
            })
        })
        .collect()
}

/// Puts the outputs of a calculation into the wording of a defect.
fn fill(text: &str, report: Option<&Report>) -> String {
    let Some(report) = report else {
        return text.to_owned();
    };
    report
        .outputs
        .iter()
        .fold(text.to_owned(), |text, (name, value)| {
            text.replace(&format!("{{{name}}}"), &value.to_string())
        })
}

fn next_tests(walk: &Walk<'_>) -> Vec<NextTest> {
    let knowledge = walk.knowledge();
    walk.candidates()
        .into_iter()
        .filter(|candidate| stop::is_worth(candidate.bits, candidate.cost))
        .take(MOST_NEXT)
        .map(|candidate| {
            let test = &knowledge.tests[candidate.test.0];
            NextTest {
                test: test.id.clone(),
                name: test.name.clone(),
                bits: candidate.bits,
                saves: walk.saves(candidate.test),
                minutes: candidate.minutes,
                state: candidate.state,
                hazard: test.hazard,
                caution: test.caution.clone(),
                needs: missing_inputs(walk, candidate.test),
            }
        })
        .collect()
}

fn missing_inputs(walk: &Walk<'_>, test: TestIndex) -> Vec<String> {
    let knowledge = walk.knowledge();
    let TestKind::Calculation { inputs, .. } = &knowledge.tests[test.0].kind else {
        return Vec::new();
    };
    inputs
        .values()
        .filter_map(|from| match from {
            InputFrom::Fact(fact) if walk.fact(*fact).is_none() => Some(knowledge.facts[fact.0].name.clone()),
            InputFrom::Reading(reading) if walk.reading(*reading).is_none() => {
                Some(knowledge.tests[reading.0].name.clone())
            }
            _ => None,
        })
        .collect()
}

fn calculations(walk: &Walk<'_>) -> Vec<CalculationShown> {
    walk.calculated()
        .iter()
        .map(|made| {
            let test = &walk.knowledge().tests[made.test.0];
            CalculationShown {
                test: test.id.clone(),
                name: test.name.clone(),
                report: made.result.as_ref().ok().cloned(),
                problem: made.result.as_ref().err().map(ToString::to_string),
            }
        })
        .collect()
}

/// Advice of the causes that lead, each piece once.
fn prevention(knowledge: &Knowledge, causes: &[CauseStanding]) -> Vec<PreventionShown> {
    let mut advice: Vec<PreventionShown> = Vec::new();
    for shown in causes.iter().take(3).filter(|cause| cause.probability >= 0.10) {
        let Some(cause) = knowledge.cause(&shown.cause) else {
            continue;
        };
        for piece in &knowledge.causes[cause.0].prevent {
            if advice.iter().all(|known| known.text != piece.text) {
                advice.push(PreventionShown {
                    cause: shown.cause.clone(),
                    text: piece.text.clone(),
                    rule: piece.rule.clone(),
                });
            }
        }
    }
    advice
}

fn cautions(causes: &[CauseStanding], next: &[NextTest]) -> Vec<String> {
    let mut cautions = vec![caution::STANDING_STATEMENT.to_owned()];
    cautions.extend(
        caution::cautions(State::LockedOut)
            .iter()
            .map(|&text| text.to_owned()),
    );
    if next.iter().any(|next| next.state == State::Energised) {
        cautions.extend(
            caution::cautions(State::Energised)
                .iter()
                .map(|&text| text.to_owned()),
        );
    }
    for cause in causes.iter().take(3).filter(|cause| cause.probability >= 0.10) {
        if !cause.caution.is_empty() && !cautions.contains(&cause.caution) {
            cautions.push(cause.caution.clone());
        }
    }
    cautions
}
