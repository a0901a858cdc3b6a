//! A case taken up: who came and where to is written before the first thing that happens.

use std::path::{Path, PathBuf};

use clap::Args;
use jiff::Timestamp;

use crate::journal::life::Life;
use crate::journal::{Case, Journal, JournalError};
use crate::report::visible::visible;
use crate::walk::{Event, UnknownId, Walk};

use super::{Problem, settings};

/// Who works on the case, and where.
#[derive(Args, Clone, Debug, Default)]
pub(super) struct Whereabouts {
    /// Your name or initials, kept with this visit
    #[arg(long, value_name = "NAME")]
    pub(super) technician: Option<String>,
    /// Where it is: a street, a customer, a job number
    #[arg(long, value_name = "TEXT")]
    pub(super) place: Option<String>,
    /// Which unit there
    #[arg(long, value_name = "TEXT")]
    pub(super) unit: Option<String>,
}

impl Whereabouts {
    /// Nothing was said.
    pub(super) fn is_empty(&self) -> bool {
        self.technician.is_none() && self.place.is_none() && self.unit.is_none()
    }

    /// What was said, for a person.
    pub(super) fn in_words(&self) -> String {
        let parts = [
            ("place", &self.place),
            ("unit", &self.unit),
            ("technician", &self.technician),
        ];
        let said: Vec<String> = parts
            .into_iter()
            .filter_map(|(name, part)| Some(format!("{name}: {}", part.as_ref()?)))
            .collect();
        said.join("; ")
    }
}

/// What one line asks of a new case, where neither options nor settings say it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct AskedWhere {
    /// The technician, too.
    technician: bool,
}

impl AskedWhere {
    /// What is to be asked besides what was given; nothing where the options say where it is.
    pub(super) fn besides(given: &Whereabouts) -> Option<Self> {
        (given.place.is_none() && given.unit.is_none()).then(|| Self {
            technician: given.technician.is_none() && settings::held().technician.is_none(),
        })
    }

    /// The question, and the parts of its answer.
    pub(super) fn in_words(self) -> (&'static str, &'static str) {
        if self.technician {
            (
                "Job or address, unit, your name? All in one line, or Enter to skip it.",
                "place / unit / technician",
            )
        } else {
            (
                "Job or address, unit? Both in one line, or Enter to skip it.",
                "place / unit",
            )
        }
    }

    /// Reads the line. A slash between two digits is part of an address such as `12 1/2`.
    pub(super) fn read(self, line: &str) -> Whereabouts {
        let most = if self.technician { 3 } else { 2 };
        let mut parts = vec![String::new()];
        let mut before = ' ';
        let mut characters = line.chars().peekable();
        while let Some(character) = characters.next() {
            let is_number = before.is_ascii_digit() && characters.peek().is_some_and(char::is_ascii_digit);
            if character == '/' && !is_number && parts.len() < most {
                parts.push(String::new());
            } else if let Some(last) = parts.last_mut() {
                last.push(character);
            }
            before = character;
        }
        let mut parts = parts.into_iter().map(|part| {
            let part = part.trim().to_owned();
            (!part.is_empty()).then_some(part)
        });
        let mut next = || parts.next().flatten();
        Whereabouts {
            place: next(),
            unit: next(),
            technician: next(),
        }
    }
}

/// Whoever takes a case up again within these seconds is on the same visit. Our choice, no source.
const SAME_VISIT: i64 = 3600;

/// An open case file with what is to be written before the next event.
pub(super) struct CaseFile {
    journal: Journal,
    pending: Vec<Event>,
}

/// What was said when a case was taken up.
pub(super) struct TakenUp {
    pub(super) file: CaseFile,
    /// What the person must know, a line each.
    pub(super) told: Vec<String>,
    /// It is closed: nothing is asked any more.
    pub(super) closed: bool,
    /// Nothing was written into it yet.
    pub(super) fresh: bool,
    /// What the file said of it before.
    pub(super) case: Life,
}

impl CaseFile {
    /// Opens the case and walks it to where it stood, or starts a new one.
    ///
    /// # Errors
    /// When the file cannot be made or read.
    pub(super) fn take_up(path: &Path, who: &Whereabouts, walk: &mut Walk<'_>) -> Result<TakenUp, Problem> {
        // A link that leads nowhere is there, too; opening says what it is.
        let there = std::fs::symlink_metadata(path).is_ok();
        let opened = match there.then(|| Journal::open(path)) {
            Some(Err(JournalError::NoHeader { .. })) => {
                // Killed before the first answer: nothing is lost when it begins anew.
                std::fs::remove_file(path).map_err(|error| {
                    Problem::data(format!("cannot begin `{}` anew: {error}", path.display()))
                })?;
                None
            }
            other => other,
        };
        let Some(opened) = opened else {
            let id = format!("{:032x}", fastrand::u128(..));
            let journal = Journal::create(path, &walk.knowledge().fingerprint, &id, Timestamp::now())?;
            let pending = pending(None, who, walk, Timestamp::now());
            return Ok(TakenUp {
                file: Self { journal, pending },
                told: vec![format!("New case, kept in {}", path.display())],
                closed: false,
                fresh: true,
                case: Life::default(),
            });
        };
        let (journal, case) = opened?;
        let mut told = vec![format!("Going on with the case of {}", path.display())];
        told.extend(differences(&case, walk, path));
        let closed = case.is_closed();
        // Only the closing can still be corrected, and it stays the last line.
        let pending = if closed {
            Vec::new()
        } else {
            pending(Some(&case), who, walk, Timestamp::now())
        };
        // A visit names no id that could be unknown.
        walk.apply_all(&pending);
        Ok(TakenUp {
            file: Self { journal, pending },
            told,
            closed,
            fresh: case.records.is_empty(),
            case: Life::of(&case),
        })
    }

    /// Appends an event, after what was to be written before it.
    pub(super) fn append(&mut self, event: &Event) -> Result<(), JournalError> {
        self.write_pending()?;
        self.journal.append(event, Timestamp::now())
    }

    /// Puts events before the first visit of a case nothing was written into yet.
    pub(super) fn begin_with(&mut self, events: Vec<Event>) {
        self.pending.splice(0..0, events);
    }

    /// Takes in where the case is and who came, of a case nothing was written into yet.
    pub(super) fn say_where(&mut self, who: &Whereabouts) {
        for event in &mut self.pending {
            if let (Event::Visit { technician, .. }, Some(name)) = (event, &who.technician) {
                *technician = Some(name.clone());
            }
        }
        if who.place.is_some() || who.unit.is_some() {
            self.pending.push(Event::Site {
                place: who.place.clone(),
                unit: who.unit.clone(),
            });
        }
    }

    /// Writes what was to be written before the next event.
    pub(super) fn write_pending(&mut self) -> Result<(), JournalError> {
        while let Some(first) = self.pending.first() {
            self.journal.append(first, Timestamp::now())?;
            self.pending.remove(0);
        }
        Ok(())
    }

    /// Whether the case is closed.
    pub(super) fn is_closed(&self) -> bool {
        self.journal.is_closed()
    }

    /// Lets go of the file, and says where it is.
    pub(super) fn done(self) -> PathBuf {
        self.journal.path().to_owned()
    }

    /// The journal itself.
    pub(super) fn journal(&mut self) -> &mut Journal {
        &mut self.journal
    }
}

/// What stands between the case as it is and this visit of it.
fn pending(case: Option<&Case>, who: &Whereabouts, walk: &Walk<'_>, now: Timestamp) -> Vec<Event> {
    let mut events = Vec::new();
    let records = case.map_or(&[][..], |case| &case.records);
    let visit = Event::Visit {
        technician: who
            .technician
            .as_ref()
            .or(settings::held().technician.as_ref())
            .cloned(),
        program: env!("CARGO_PKG_VERSION").to_owned(),
        knowledge: walk.knowledge().fingerprint.clone(),
        learned: walk.learned_from(),
    };
    let last = records.last().map(|record| record.at.as_second());
    let begun = records
        .iter()
        .rev()
        .map(|record| &record.event)
        .find(|event| matches!(event, Event::Visit { .. }));
    let lately = last.is_some_and(|last| (now.as_second() - last).abs() <= SAME_VISIT);
    if !(lately && begun.is_some_and(|begun| is_same(begun, &visit))) {
        events.push(visit);
    }
    let (mut place, mut unit) = (None, None);
    for record in records {
        if let Event::Site { place: p, unit: u } = &record.event {
            place = p.as_ref().or(place);
            unit = u.as_ref().or(unit);
        }
    }
    let place = who.place.clone().filter(|given| Some(given) != place);
    let unit = who.unit.clone().filter(|given| Some(given) != unit);
    if place.is_some() || unit.is_some() {
        events.push(Event::Site { place, unit });
    }
    events
}

/// Whether a visit goes on: the same program and knowledge, and nobody else by name.
fn is_same(begun: &Event, visit: &Event) -> bool {
    let mut visit = visit.clone();
    if let (
        Event::Visit {
            technician: nobody @ None,
            ..
        },
        Event::Visit { technician, .. },
    ) = (&mut visit, begun)
    {
        nobody.clone_from(technician);
    }
    visit == *begun
}

/// Brings the walk to where the case stood, and says what is otherwise than it was.
fn differences(case: &Case, walk: &mut Walk<'_>, path: &Path) -> Vec<String> {
    let mut told = Vec::new();
    if case.torn > 0 {
        told.push(format!(
            "The last line was cut off in the middle ({} bytes) and is dropped; that answer is asked again.",
            case.torn
        ));
    }
    if case.unchained() > 0 {
        told.push(format!(
            "An earlier program wrote the first {} lines of {}; a change to them cannot be noticed.",
            case.unchained(),
            path.display()
        ));
    }
    if case.header.knowledge != walk.knowledge().fingerprint {
        told.push(
            "The knowledge has changed since this case was opened; everything is worked out anew.".to_owned(),
        );
    }
    let unknown: Vec<UnknownId> = case.replay(walk);
    told.extend(
        unknown
            .iter()
            .map(|unknown| format!("An earlier answer is left out: {unknown}.")),
    );
    told
}

/// Makes sure of the file of a case nobody is asked about, and says on the error stream when it went elsewhere.
pub(super) fn secured(file: &mut CaseFile) -> Result<(), Problem> {
    use std::io::Write as _;
    file.journal().secure()?;
    for moved in file.journal().take_moved() {
        // Nothing can be said about a closed error stream.
        let _ = writeln!(std::io::stderr(), "{}", visible(&moved.to_string()));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::AskedWhere;

    fn read(line: &str, technician: bool) -> [Option<String>; 3] {
        let who = AskedWhere { technician }.read(line);
        [who.place, who.unit, who.technician]
    }

    #[test]
    fn one_line_is_place_unit_and_technician() {
        let some = |text: &str| Some(text.to_owned());
        assert_eq!(
            read(" 14 Oak St / RTU 2 / first shift ", true),
            [some("14 Oak St"), some("RTU 2"), some("first shift")]
        );
        assert_eq!(
            read("12 1/2 Oak St/2", true),
            [some("12 1/2 Oak St"), some("2"), None]
        );
        assert_eq!(read("// first shift", true), [None, None, some("first shift")]);
        assert_eq!(
            read("job 7 / roof / east", false),
            [some("job 7"), some("roof / east"), None]
        );
        assert_eq!(read("", true), [None, None, None]);
    }
}
