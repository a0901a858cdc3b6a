//! Whose case it is: who, when and where, and what was done about it, as far as its file says.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use schemars::JsonSchema;
use serde::Serialize;

use crate::journal::Case;
use crate::journal::life::Life;
use crate::knowledge::model::State;
use crate::walk::{Event, Proof};

/// What is known of a case beside its answers. Of a walk that is kept in no file, nothing is.
#[derive(Clone, Debug, Default, Serialize, JsonSchema)]
pub struct Head {
    /// Id of the case.
    pub case: Option<String>,
    /// Nobody ever had it: it was made up to try things with.
    pub invented: bool,
    /// When it was opened, RFC 3339.
    #[schemars(with = "Option<String>", extend("format" = "date-time"))]
    pub opened: Option<Timestamp>,
    /// When its last line was written, RFC 3339.
    #[schemars(with = "Option<String>", extend("format" = "date-time"))]
    pub last: Option<Timestamp>,
    /// How far it got: `open`, `concluded`, `repaired`, `proved` or `closed`.
    pub stage: Option<&'static str>,
    /// Where the equipment is, in free words.
    pub place: Option<String>,
    /// Which unit there, in free words.
    pub unit: Option<String>,
    /// Id of the earlier case whose trouble came back.
    pub callback_of: Option<String>,
    /// The visits, oldest first.
    pub visits: Vec<VisitShown>,
    /// Cautions that were read and accepted, oldest first, those before steps taken back too.
    pub accepted: Vec<AcceptedShown>,
    /// What was repaired or replaced, oldest first.
    pub repairs: Vec<RepairShown>,
    /// What proved the repair, oldest first.
    pub proofs: Vec<ProofShown>,
    /// Photographs, oldest first.
    pub photographs: Vec<PhotographShown>,
    /// Hash at the end of the file of a closed case: paper and file can be compared by it.
    pub seal: Option<String>,
    /// Lines of the file, from the first, that an earlier program wrote: no hash would notice a change in them.
    pub unchained: usize,
    /// What does not agree in the file, so that it may have been altered; empty when all agrees.
    pub doubts: Vec<String>,
    /// The clock by which times are shown; data keeps them in UTC.
    #[serde(skip)]
    pub zone: Zone,
}

/// A visit.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct VisitShown {
    /// When, RFC 3339.
    #[schemars(with = "String", extend("format" = "date-time"))]
    pub at: Timestamp,
    /// Who, in free words.
    pub technician: Option<String>,
}

/// The cautions of a state, read and accepted.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct AcceptedShown {
    /// When, RFC 3339.
    #[schemars(with = "String", extend("format" = "date-time"))]
    pub at: Timestamp,
    /// The state of the equipment they are for.
    pub state: State,
}

/// Something repaired or replaced.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RepairShown {
    /// When it was written down, RFC 3339.
    #[schemars(with = "String", extend("format" = "date-time"))]
    pub at: Timestamp,
    /// What was done, in the person's words.
    pub text: String,
    /// By whom.
    pub by: Option<String>,
}

impl RepairShown {
    /// By whom, as the end of a sentence; nothing where nobody said.
    pub(super) fn by_whom(&self) -> String {
        self.by
            .as_ref()
            .map(|by| format!(", by {by}"))
            .unwrap_or_default()
    }
}

/// What proved a repair.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ProofShown {
    /// When it was written down, RFC 3339.
    #[schemars(with = "String", extend("format" = "date-time"))]
    pub at: Timestamp,
    /// The reading, or how long it ran clean.
    pub text: String,
}

/// A photograph that belongs to the case.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PhotographShown {
    /// When it was attached, RFC 3339.
    #[schemars(with = "String", extend("format" = "date-time"))]
    pub at: Timestamp,
    /// Where it is: from the folder of the case file, or from the root.
    pub path: String,
    /// SHA-256 of its bytes, 64 hexadecimal digits.
    pub sha256: String,
    /// What it shows, in free words.
    pub shows: Option<String>,
    /// The picture, made small, where it was found as it was attached; or why it is not shown.
    #[serde(skip)]
    pub picture: Option<Result<Vec<u8>, String>>,
}

/// A time zone that is UTC unless told.
#[derive(Clone, Debug)]
pub struct Zone(pub TimeZone);

impl Default for Zone {
    fn default() -> Self {
        Self(TimeZone::UTC)
    }
}

/// What proved a repair, in words.
fn proved_by(proof: &Proof) -> String {
    match proof {
        Proof::Recheck { reading } => reading.clone(),
        Proof::CleanRun { ran, needed, .. } => {
            format!("it ran {ran} h without the trouble; {needed} h were needed")
        }
    }
}

impl Head {
    /// What the file of a case says; times are shown by the clock of `zone`.
    #[must_use]
    pub fn of(case: &Case, zone: TimeZone) -> Self {
        let life = Life::of(case);
        Self {
            case: case.header.id.clone(),
            invented: case.header.invented,
            opened: Some(case.header.opened),
            last: case.records.last().map(|record| record.at),
            stage: Some(life.stage().word()),
            place: life.place,
            unit: life.unit,
            callback_of: life.before.map(|before| before.case),
            visits: life
                .visits
                .into_iter()
                .map(|visit| VisitShown {
                    at: visit.began,
                    technician: visit.technician,
                })
                .collect(),
            accepted: case
                .records
                .iter()
                .filter_map(|record| match record.event {
                    Event::Acknowledged { state, .. } => Some(AcceptedShown { at: record.at, state }),
                    _ => None,
                })
                .collect(),
            repairs: life
                .repairs
                .into_iter()
                .map(|repair| RepairShown {
                    at: repair.at,
                    text: repair.what.text,
                    by: repair.what.by,
                })
                .collect(),
            proofs: life
                .proofs
                .into_iter()
                .map(|proof| ProofShown {
                    at: proof.at,
                    text: proved_by(&proof.what),
                })
                .collect(),
            photographs: life
                .photographs
                .into_iter()
                .map(|photograph| PhotographShown {
                    at: photograph.at,
                    path: photograph.what.path,
                    sha256: photograph.what.sha256,
                    shows: photograph.what.shows,
                    picture: None,
                })
                .collect(),
            seal: case
                .head()
                .filter(|_| case.is_closed())
                .map(|head| head.to_string()),
            unchained: case.unchained(),
            doubts: Vec::new(),
            zone: Zone(zone),
        }
    }

    /// A time as the person reads it: `2026-07-03 14:05`.
    #[must_use]
    pub fn clock(&self, at: Timestamp) -> String {
        at.to_zoned_datetime(self.zone.0.clone())
            .strftime("%Y-%m-%d %H:%M")
            .to_string()
    }

    /// A day as a letter says it: `July 3, 2026`.
    #[must_use]
    pub fn long_day(&self, at: Timestamp) -> String {
        at.to_zoned_datetime(self.zone.0.clone())
            .strftime("%B %-d, %Y")
            .to_string()
    }

    /// Who was there at a moment: whoever came last before it.
    #[must_use]
    pub fn technician_at(&self, at: Timestamp) -> Option<&str> {
        let before = self.visits.iter().rev().find(|visit| visit.at <= at)?;
        before.technician.as_deref()
    }

    /// Whether more than one person came, or somebody came whose name nobody wrote down.
    #[must_use]
    pub fn several_came(&self) -> bool {
        let mut all = self.visits.iter().map(|visit| &visit.technician);
        let first = all.next();
        all.any(|technician| Some(technician) != first)
    }

    /// When the cautions for a test in this state were accepted last, before it was made.
    #[must_use]
    pub fn accepted_before(&self, at: Timestamp, state: State) -> Option<Timestamp> {
        let of = |accepted: &&AcceptedShown| accepted.at <= at && accepted.state.covers(state);
        self.accepted.iter().rev().find(of).map(|accepted| accepted.at)
    }

    /// Who was there, each once.
    #[must_use]
    pub fn technicians(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for name in self.visits.iter().filter_map(|visit| visit.technician.as_deref()) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }

    /// Label and text of what is known, in the order a person looks for it.
    #[must_use]
    pub fn lines(&self) -> Vec<(&'static str, String)> {
        let mut lines = Vec::new();
        let mut line = |label, text: Option<String>| {
            if let Some(text) = text {
                lines.push((label, text));
            }
        };
        line(
            "invented",
            self.invented.then(|| "nobody ever had this case".to_owned()),
        );
        line("place", self.place.clone());
        line("unit", self.unit.clone());
        line("opened", self.opened.map(|at| self.clock(at)));
        line("last entry", self.last.map(|at| self.clock(at)));
        for visit in &self.visits {
            let who = visit.technician.as_deref().unwrap_or("technician not named");
            line("visit", Some(format!("{}, {who}", self.clock(visit.at))));
        }
        line(
            "comes after",
            self.callback_of.as_ref().map(|id| format!("case {id}")),
        );
        line("case", self.case.clone());
        line("head", self.seal.clone());
        for doubt in &self.doubts {
            line("DOUBT", Some(doubt.clone()));
        }
        if self.unchained > 0 {
            let text = format!(
                "{} lines of an earlier program: a change in them would not be noticed",
                self.unchained
            );
            line("not chained", Some(text));
        }
        lines
    }
}
