//! The loop that joins a walk, a respondent and whoever keeps the events.

use thiserror::Error;

use crate::inference::{Answered, conflict};

use super::{Event, Prompt, Question, Reply, Respondent, RespondentError, Share, UnknownId, Walk};

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The person stopped; the case can be continued.
    Stopped,
    /// Nothing was left to ask.
    Finished,
    /// It was stopped for safety.
    Halted,
}

/// Why a run broke off. Everything answered before is kept.
#[derive(Debug, Error)]
pub enum DriveError<K: std::error::Error + 'static> {
    /// No reply could be had.
    #[error(transparent)]
    Respondent(#[from] RespondentError),
    /// An event could not be kept, so the answer does not count.
    #[error(transparent)]
    Keep(K),
}

/// Asks until the walk ends. Every event is kept before it counts.
///
/// `keep` is given each event in order; when it fails, the event is not applied and the run breaks off.
///
/// # Errors
/// When the respondent has no reply, or an event cannot be kept.
pub fn drive<K: std::error::Error + 'static>(
    walk: &mut Walk<'_>,
    respondent: &mut dyn Respondent,
    keep: &mut dyn FnMut(&Event) -> Result<(), K>,
) -> Result<End, DriveError<K>> {
    loop {
        let question = walk.question().clone();
        let reply = respondent.respond(Prompt {
            question: &question,
            walk,
        })?;
        let taken = match walk.receive(&reply) {
            Ok(taken) => taken,
            Err(refusal) => {
                respondent.refused(&refusal);
                continue;
            }
        };
        keep(&taken.event).map_err(DriveError::Keep)?;
        // The event was made by this walk from its own knowledge, so its ids are known to it.
        let follows = follow(walk, &taken.event);
        debug_assert!(follows.is_ok(), "{follows:?}");
        respondent.observe(&taken.event, taken.understood.as_deref(), walk);
        for event in follows.unwrap_or_default() {
            keep(&event).map_err(DriveError::Keep)?;
            respondent.observe(&event, None, walk);
        }
        match (&reply, &question) {
            (Reply::Stop, _) => return Ok(End::Stopped),
            (Reply::Accept, Question::Halt { .. }) => return Ok(End::Halted),
            (Reply::Accept, Question::Finish) => return Ok(End::Finished),
            _ => {}
        }
    }
}

/// Takes a given event into a walk and says what follows from it: derived events in the order in which they are kept.
///
/// # Errors
/// When the event names an id the knowledge does not have; the walk is then unchanged.
pub fn follow(walk: &mut Walk<'_>, event: &Event) -> Result<Vec<Event>, UnknownId> {
    let before = Consequences::of(walk);
    walk.apply(event)?;
    Ok(before.news(walk, event))
}

/// What follows from a walk at one moment, to be compared with a later one.
struct Consequences {
    calculated: Vec<Event>,
    defects: Vec<Event>,
    findings: Vec<Answered>,
    standing: Option<Event>,
}

impl Consequences {
    fn of(walk: &Walk<'_>) -> Self {
        let knowledge = walk.knowledge();
        let calculated = walk
            .calculated()
            .iter()
            .map(|made| {
                let (verdict, finding) = match &made.result {
                    Ok(report) => (report.verdict.to_owned(), report.finding.clone()),
                    Err(error) => ("cannot-tell".to_owned(), error.to_string()),
                };
                Event::Calculated {
                    test: knowledge.tests[made.test].id.clone(),
                    verdict,
                    finding,
                }
            })
            .collect();
        let defects = walk
            .defects()
            .iter()
            .filter_map(|found| {
                let test = &knowledge.tests[found.test];
                let outcome = &test.outcomes[found.outcome];
                Some(Event::DefectFound {
                    test: test.id.clone(),
                    outcome: outcome.id.clone(),
                    name: outcome.defect.as_ref()?.name.clone(),
                })
            })
            .collect();
        let standing = walk.standing().map(|standing| Event::Standing {
            leaders: standing
                .ranked()
                .into_iter()
                .take(3)
                .map(|(cause, probability)| Share {
                    cause: knowledge.causes[cause].id.clone(),
                    probability,
                })
                .collect(),
            remainder: standing.remainder(),
        });
        Self {
            calculated,
            defects,
            findings: walk.findings().to_vec(),
            standing,
        }
    }

    /// What is new after an event was taken into the walk.
    fn news(self, walk: &Walk<'_>, event: &Event) -> Vec<Event> {
        let now = Self::of(walk);
        let mut news: Vec<Event> = Vec::new();
        news.extend(
            now.calculated
                .into_iter()
                .filter(|event| !self.calculated.contains(event)),
        );
        news.extend(
            now.defects
                .into_iter()
                .filter(|event| !self.defects.contains(event)),
        );
        news.extend(surprises(walk, &self.findings));
        if now.standing != self.standing {
            news.extend(now.standing);
        }
        if *event == Event::Finished {
            news.extend(concluded(walk));
        }
        news
    }
}

/// What the walk has come to; nothing before complaint and equipment are known.
fn concluded(walk: &Walk<'_>) -> Option<Event> {
    let standing = walk.standing()?;
    Some(Event::Concluded {
        leader: standing.ranked().first().map(|(cause, probability)| Share {
            cause: walk.knowledge().causes[*cause].id.clone(),
            probability: *probability,
        }),
        remainder: standing.remainder(),
        halted: matches!(walk.question(), Question::Halt { .. }),
    })
}

/// New findings that are far from what those before led to expect.
fn surprises(walk: &Walk<'_>, before: &[Answered]) -> Vec<Event> {
    let Some(model) = walk.model() else {
        return Vec::new();
    };
    walk.findings()
        .iter()
        .filter(|finding| !before.contains(finding))
        .filter_map(|finding| {
            // What stood before without this test's own earlier answer, should it have been corrected.
            let others: Vec<Answered> = before
                .iter()
                .filter(|other| other.test != finding.test)
                .cloned()
                .collect();
            let surprise = conflict::surprise(model, &others, finding)?;
            surprise.is_high().then(|| Event::Surprising {
                test: walk.knowledge().tests[finding.test].id.clone(),
                bits: surprise.bits,
                expected: surprise.expected,
            })
        })
        .collect()
}
