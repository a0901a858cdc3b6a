//! The life of a case, read off its lines: who came when, and how far it got.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::quantity::words;
use crate::walk::{Event, Proof, Share, Stood, standing};

use super::{Case, Record};

/// How far a case got.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Stage {
    /// Something is left to be asked.
    #[default]
    Open,
    /// The end of the walk was accepted.
    Concluded,
    /// Something was repaired.
    Repaired,
    /// The repair was proved.
    Proved,
    /// It was said what it was in the end.
    Closed,
}

impl Stage {
    /// The word a person reads.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Concluded => "concluded",
            Self::Repaired => "repaired",
            Self::Proved => "proved",
            Self::Closed => "closed",
        }
    }
}

words! {
    /// How far a case got, as somebody asks for it.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
    pub enum Reached {
        /// Begun and not concluded: something is left to be asked
        Open = "open" => "not concluded yet",
        /// The walk came to its end
        Concluded = "concluded" => "concluded",
        /// Something was repaired
        Repaired = "repaired" => "repaired",
        /// The repair was proved
        Proved = "proved" => "proved",
        /// It was said what it was
        Closed = "closed" => "closed",
        /// Closed by a guess, nothing proved
        Guessed = "guessed" => "closed by a guess",
        /// The walk was stopped for safety
        Halted = "halted" => "stopped for safety",
    }
}

impl Reached {
    /// Whether a case got exactly so far; `proved` says it of its last closing.
    #[must_use]
    pub fn takes(self, stage: Stage, proved: Option<bool>, halted: bool) -> bool {
        match self {
            Self::Open => stage == Stage::Open,
            Self::Concluded => stage == Stage::Concluded,
            Self::Repaired => stage == Stage::Repaired,
            Self::Proved => stage == Stage::Proved,
            Self::Closed => stage == Stage::Closed,
            Self::Guessed => stage == Stage::Closed && proved == Some(false),
            Self::Halted => halted,
        }
    }
}

/// Something of the record with its time.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Dated<T> {
    pub at: Timestamp,
    pub what: T,
}

/// A visit: the lines from its beginning to the next one.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// Time of its first line.
    pub began: Timestamp,
    /// Time of its last line.
    pub ended: Timestamp,
    /// Who came, when it was said.
    pub technician: Option<String>,
    /// Answers given on it, those taken back again among them.
    pub answers: usize,
}

/// What was repaired.
#[derive(Clone, Debug, PartialEq)]
pub struct Repair {
    /// What was done.
    pub text: String,
    /// By whom, when it was said.
    pub by: Option<String>,
}

/// What it was in the end.
#[derive(Clone, Debug, PartialEq)]
pub struct Closing {
    /// Id of the cause; nothing when the knowledge does not list it.
    pub cause: Option<String>,
    /// What it was, where the knowledge does not list it.
    pub not_listed: Option<String>,
    /// It was proved; otherwise it is a guess.
    pub proved: bool,
    /// What proved it or what was done.
    pub text: String,
    /// Dangers that stood by the answers, each with what was said to have cleared it.
    pub standing: Vec<Stood>,
}

impl Closing {
    /// Ids of the holds that stood and of which nobody said what cleared them.
    pub fn left_standing(&self) -> impl Iterator<Item = &str> {
        let left = self.standing.iter().filter(|stood| stood.cleared.is_none());
        left.map(|stood| stood.hold.as_str())
    }
}

/// What the walk had come to.
#[derive(Clone, Debug, PartialEq)]
pub struct Conclusion {
    /// The leading cause.
    pub leader: Option<Share>,
    /// It was stopped for safety.
    pub halted: bool,
}

/// A photograph of the case.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Photograph {
    /// Where it is: from the folder of the case file, or from the root.
    pub path: String,
    /// SHA-256 of its bytes.
    pub sha256: String,
    /// What it shows, in free words.
    pub shows: Option<String>,
}

/// The case before, when this one is a callback.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Before {
    /// Its id.
    pub case: String,
    /// Head of its chain as it stood.
    pub head: Option<String>,
}

/// The life of a case. What was corrected stands here as it was said last.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Life {
    /// Visits, oldest first; in a case of an earlier program there is one, without a name.
    pub visits: Vec<Visit>,
    /// Address or name of the place, in free words.
    pub place: Option<String>,
    /// Which unit there, in free words.
    pub unit: Option<String>,
    /// Id of the complaint.
    pub complaint: Option<String>,
    /// Id of the equipment.
    pub equipment: Option<String>,
    /// The case before.
    pub before: Option<Before>,
    /// What the walk had come to when its end was accepted; nothing once an answer came after that.
    pub concluded: Option<Dated<Option<Conclusion>>>,
    /// Repairs, oldest first.
    pub repairs: Vec<Dated<Repair>>,
    /// Proofs of repair, oldest first.
    pub proofs: Vec<Dated<Proof>>,
    /// Photographs, oldest first.
    pub photographs: Vec<Dated<Photograph>>,
    /// Remarks, oldest first.
    pub notes: Vec<Dated<String>>,
    /// The last closing.
    pub closing: Option<Dated<Closing>>,
    /// The last line is the closing.
    closed: bool,
}

impl Life {
    /// Reads it off a case.
    #[must_use]
    pub fn of(case: &Case) -> Self {
        let mut life = Self {
            closed: case.is_closed(),
            ..Self::default()
        };
        for record in &case.records {
            life.visit(case.header.opened, record);
            life.take(record);
        }
        for step in standing(case.records.iter().map(|record| &record.event)) {
            match step {
                Event::Complaint { complaint } => life.complaint = Some(complaint.clone()),
                Event::Equipment { equipment } => life.equipment = Some(equipment.clone()),
                _ => {}
            }
        }
        life
    }

    /// How far it got.
    #[must_use]
    pub fn stage(&self) -> Stage {
        let repaired = self.repairs.last().map(|repair| repair.at);
        let proved = self.proofs.last().map(|proof| proof.at);
        if self.closed {
            Stage::Closed
        } else if proved.is_some() && proved >= repaired {
            Stage::Proved
        } else if repaired.is_some() {
            Stage::Repaired
        } else if self.concluded.is_some() {
            Stage::Concluded
        } else {
            Stage::Open
        }
    }

    /// When the last thing happened; nothing in a case of a header alone.
    #[must_use]
    pub fn last(&self) -> Option<Timestamp> {
        self.visits.last().map(|visit| visit.ended)
    }

    fn visit(&mut self, opened: Timestamp, record: &Record) {
        if let Event::Visit { technician, .. } = &record.event {
            self.visits.push(Visit {
                began: record.at,
                ended: record.at,
                technician: technician.clone(),
                answers: 0,
            });
        }
        if self.visits.is_empty() {
            self.visits.push(Visit {
                began: opened,
                ended: record.at,
                technician: None,
                answers: 0,
            });
        }
        if let Some(visit) = self.visits.last_mut() {
            visit.ended = record.at;
            visit.answers += usize::from(matches!(record.event, Event::Answer { .. }));
        }
    }

    fn take(&mut self, record: &Record) {
        let at = record.at;
        match &record.event {
            Event::Site { place, unit } => {
                self.place = place.clone().or_else(|| self.place.take());
                self.unit = unit.clone().or_else(|| self.unit.take());
            }
            Event::Callback { case, head } => {
                self.before = Some(Before {
                    case: case.clone(),
                    head: head.clone(),
                });
            }
            Event::Photograph { path, sha256, shows } => self.photographs.push(Dated {
                at,
                what: Photograph {
                    path: path.clone(),
                    sha256: sha256.clone(),
                    shows: shows.clone(),
                },
            }),
            Event::Repaired { text, by } => self.repairs.push(Dated {
                at,
                what: Repair {
                    text: text.clone(),
                    by: by.clone(),
                },
            }),
            Event::Proved { by } => self.proofs.push(Dated { at, what: by.clone() }),
            Event::Note { text } => self.notes.push(Dated {
                at,
                what: text.clone(),
            }),
            Event::Closed {
                cause,
                not_listed,
                proved,
                text,
                standing,
            } => {
                self.closing = Some(Dated {
                    at,
                    what: Closing {
                        cause: cause.clone(),
                        not_listed: not_listed.clone(),
                        proved: *proved,
                        text: text.clone(),
                        standing: standing.clone(),
                    },
                });
            }
            Event::Finished => self.concluded = Some(Dated { at, what: None }),
            Event::Concluded { leader, halted, .. } => {
                self.concluded = Some(Dated {
                    at,
                    what: Some(Conclusion {
                        leader: leader.clone(),
                        halted: *halted,
                    }),
                });
            }
            event if event.is_step() || matches!(event, Event::Undone { .. }) => self.concluded = None,
            _ => {}
        }
    }
}
