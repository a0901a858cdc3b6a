//! The tables that are one count each.

use std::collections::BTreeMap;

use crate::knowledge::model::{Outcome, TestKind};

use super::cases::Cases;
use super::facts::caution_place;
use super::groups::{cause, id};
use super::names::Name;
use super::returns::day;
use super::row::Row;
use super::skipped::test;
use super::table::{Cell, Table, columns};

/// From this probability of something not listed at the end, in millionths, the knowledge is said to lack something.
const LACKED: u32 = 250_000;

/// The figures a manager looks at first.
pub(super) fn overview(cases: &Cases<'_>) -> Table {
    let rows = &cases.rows;
    let count = |meant: &dyn Fn(&Row) -> bool| rows.iter().filter(|row| meant(row)).count() as u64;
    let all = rows.len() as u64;
    let judged = count(&|row| cases.named_right(row).is_some());
    let line = |text: &str, cell: Cell| vec![Cell::Text(text.to_owned()), cell];
    let share = |text: &str, of: u64, meant: &dyn Fn(&Row) -> bool| line(text, Cell::share(count(meant), of));
    let is_closed = |row: &Row| row.closing.is_some();
    let is_proved = |row: &Row| row.closing.is_some_and(|closing| closing.proved);
    let came_back = |row: &Row| is_closed(row) && cases.came_back.contains_key(&row.id);
    let (closed, proved) = (count(&is_closed), count(&is_proved));
    Table {
        id: "overview",
        title: "In short",
        note: "",
        columns: columns(&[("what", ""), ("figure", "")]),
        rows: vec![
            line("cases", Cell::Count(all)),
            share("closed", all, &is_closed),
            share("of the closed, proved", closed, &is_proved),
            share("of the closed, with a danger standing", closed, &|row| {
                row.closing.is_some_and(|closing| closing.in_danger)
            }),
            share("of the proved, disproved by a callback", proved, &|row| {
                is_proved(row) && cases.disproved_by(row).is_some()
            }),
            share("of the closed, cause not listed", closed, &|row| {
                row.closing.is_some_and(|closing| closing.cause.is_none())
            }),
            share("of the closed, came back", closed, &came_back),
            share("of the closed, overturned", closed, &|row| {
                is_closed(row) && cases.is_overturned(row)
            }),
            share("of the closed, doubted by a later guess", closed, &|row| {
                is_closed(row) && cases.is_doubted(row)
            }),
            share("opened as a callback", all, &|row| row.callback_of.is_some()),
            share("stopped for safety", all, &|row| row.halted),
            share("of those whose cause is known, it led", judged, &|row| {
                cases.named_right(row) == Some(true)
            }),
            share("ended with 25 % or more on something not listed", all, &|row| {
                row.remainder >= LACKED
            }),
        ],
        bars: None,
        shown: 20,
    }
}

/// A part that was replaced: the test that tells, and its outcome.
type Part = (Name, Name);

/// Parts that were replaced without a cure, against what was found in the end.
pub(super) fn replaced(cases: &Cases<'_>) -> Table {
    // By part (test and outcome) and cause: cases, and those of them that were proved.
    let mut counts: BTreeMap<(Part, Option<Name>), (u64, u64)> = BTreeMap::new();
    for row in &cases.rows {
        let Some(closing) = row.closing else { continue };
        let nothing = |part: &&Part| known_outcome(cases, **part).is_some_and(|known| known.says_nothing);
        for part in row.replaced.iter().filter(|part| !nothing(part)) {
            let (all, proved) = counts.entry((*part, closing.cause)).or_default();
            *all += 1;
            *proved += u64::from(closing.proved);
        }
    }
    let mut rows: Vec<(Cell, Cell, u64, u64)> = counts
        .into_iter()
        .map(|((part, found), (all, proved))| (outcome(cases, part), cause(cases, found), all, proved))
        .collect();
    rows.sort_by(|a, b| {
        b.2.cmp(&a.2)
            .then_with(|| id(&a.0).cmp(id(&b.0)))
            .then_with(|| id(&a.1).cmp(id(&b.1)))
    });
    Table {
        id: "replaced",
        title: "Parts replaced in vain, and what it was",
        note: "What had been replaced or tried before without a cure, in closed cases, and the cause they were closed with.",
        columns: columns(&[
            ("part", "replaced before"),
            ("cause", "found in the end"),
            ("cases", "cases"),
            ("proved", "proved"),
        ]),
        rows: rows
            .into_iter()
            .map(|(part, found, all, proved)| vec![part, found, Cell::Count(all), Cell::Count(proved)])
            .collect(),
        bars: Some(2),
        shown: 10,
    }
}

fn known_outcome<'a>(cases: &Cases<'a>, (test, outcome): Part) -> Option<&'a Outcome> {
    let known = &cases.knowledge.tests[cases.knowledge.test(cases.text(test))?];
    Some(&known.outcomes[known.outcome(cases.text(outcome))?])
}

/// An outcome with its label; its id is that of test and outcome.
fn outcome(cases: &Cases<'_>, part: Part) -> Cell {
    let (test, outcome) = (cases.text(part.0), cases.text(part.1));
    let name = known_outcome(cases, part).map_or(outcome, |known| &known.label);
    Cell::Named {
        id: format!("{test}/{outcome}"),
        name: name.to_owned(),
    }
}

/// States of live work, in the order of [`caution_place`].
const STATES: [&str; 4] = ["locked out", "running, covers on", "energized", "burner on"];

/// The place of live parts among them.
const ENERGIZED: usize = 2;

/// Tests made in one state, cautions accepted for it, and cases with such a test and no caution accepted.
#[derive(Clone, Copy, Default)]
struct Live {
    tests: u64,
    accepted: u64,
    without: u64,
}

impl Live {
    fn add(&mut self, other: Self) {
        self.tests += other.tests;
        self.accepted += other.accepted;
        self.without += other.without;
    }

    fn row(self, head: &str) -> Vec<Cell> {
        let counts = [self.tests, self.accepted, self.without].map(Cell::Count);
        [Cell::Text(head.to_owned())].into_iter().chain(counts).collect()
    }
}

/// Says of each test in which state it is made; looks each up once.
struct LiveStates<'c> {
    cases: &'c Cases<'c>,
    known: BTreeMap<Name, Option<usize>>,
}

impl<'c> LiveStates<'c> {
    const fn new(cases: &'c Cases<'c>) -> Self {
        Self {
            cases,
            known: BTreeMap::new(),
        }
    }

    fn of(&mut self, name: Name) -> Option<usize> {
        let cases = self.cases;
        *self.known.entry(name).or_insert_with(|| {
            let known = &cases.knowledge.tests[cases.knowledge.test(cases.text(name))?];
            // A calculation is made at the desk, from readings that count by themselves.
            let made = !matches!(known.kind, TestKind::Calculation { .. });
            made.then(|| caution_place(known.state)).flatten()
        })
    }

    /// The live work that these tests and cautions come to.
    fn work(&mut self, made: &[Name], accepted: &[u32; 4]) -> [Live; 4] {
        let mut work = [Live::default(); 4];
        for place in made.iter().filter_map(|name| self.of(*name)) {
            work[place].tests += 1;
        }
        for (place, one) in work.iter_mut().enumerate() {
            one.accepted = u64::from(accepted[place]);
            // Who accepted the cautions for live parts accepted those for a running unit.
            let covered = accepted[place] > 0 || (place == 1 && accepted[ENERGIZED] > 0);
            one.without = u64::from(one.tests > 0 && !covered);
        }
        work
    }
}

/// Steps made with power or flame on, and the cautions accepted before them.
pub(super) fn live(cases: &Cases<'_>) -> Table {
    let mut rows = [Live::default(); 4];
    let mut states = LiveStates::new(cases);
    for row in &cases.rows {
        for (sum, one) in rows.iter_mut().zip(states.work(&row.made, &row.accepted)) {
            sum.add(one);
        }
    }
    Table {
        id: "live",
        title: "Live work, and cautions accepted",
        note: "Tests made in each state. Cautions are accepted once each time the equipment is brought into the state, and \
               then hold for the tests that follow. Cases without: such a test, and no caution accepted in that case; it was \
               told unasked, or answered from a file.",
        columns: columns(&[
            ("state", "state"),
            ("tests", "tests"),
            ("accepted", "cautions accepted"),
            ("without", "cases without"),
        ]),
        rows: STATES
            .iter()
            .zip(rows)
            .map(|(state, live)| live.row(state))
            .collect(),
        bars: Some(1),
        shown: 4,
    }
}

/// Tests at live parts by the person on whose visit they were made, the most first.
pub(super) fn live_by_technician(cases: &Cases<'_>) -> Table {
    let mut of: BTreeMap<Option<Name>, Live> = BTreeMap::new();
    let mut states = LiveStates::new(cases);
    for row in &cases.rows {
        let mut add = |technician, made: &[Name], accepted| {
            of.entry(technician)
                .or_default()
                .add(states.work(made, accepted)[ENERGIZED]);
        };
        for hand in &row.hands {
            add(hand.technician, &hand.made, &hand.accepted);
        }
        if row.hands.is_empty() {
            add(row.technician, &row.made, &row.accepted);
        }
    }
    let mut rows: Vec<(String, Live)> = of
        .into_iter()
        .filter(|(_, live)| live.tests > 0 || live.accepted > 0)
        .map(|(name, live)| {
            let name = name.map_or_else(|| "(not named)".to_owned(), |name| cases.text(name).to_owned());
            (name, live)
        })
        .collect();
    rows.sort_by(|(a, x), (b, y)| y.tests.cmp(&x.tests).then_with(|| a.cmp(b)));
    Table {
        id: "live-technician",
        title: "Tests at live parts, by technician",
        note: "On whose visit the test was made, or answered last. Cases without: such a test, and no caution accepted by \
               this person in that case.",
        columns: columns(&[
            ("name", "who made them"),
            ("tests", "tests"),
            ("accepted", "cautions accepted"),
            ("without", "cases without"),
        ]),
        rows: rows.into_iter().map(|(name, live)| live.row(&name)).collect(),
        bars: Some(1),
        shown: 10,
    }
}

/// Time and tests of a case: mean, and the values below which half, three quarters and nine tenths of the cases lie.
pub(super) fn effort(cases: &Cases<'_>) -> Table {
    let measure = |name: &str, of: &dyn Fn(&Row) -> i64, as_minutes: bool| {
        let mut values: Vec<i64> = cases.rows.iter().map(|row| of(row)).collect();
        values.sort_unstable();
        let number = values.len() as u64;
        let cell = |sum: i64, of: u64| {
            if as_minutes {
                Cell::Seconds { sum, of }
            } else {
                Cell::Mean { sum, of }
            }
        };
        // Nearest rank: the smallest value that so many in a hundred do not exceed.
        let rank = |hundredths: usize| {
            let place = (values.len() * hundredths).div_ceil(100).max(1) - 1;
            values.get(place).map_or(Cell::Nothing, |value| cell(*value, 1))
        };
        vec![
            Cell::Text(name.to_owned()),
            cell(values.iter().sum(), number),
            rank(50),
            rank(75),
            rank(90),
            rank(100),
        ]
    };
    Table {
        id: "effort",
        title: "Time and tests of a case",
        note: "Half, 3/4 and 9/10 of the cases lie at or below these (nearest rank). Minutes: gaps of up to an hour between \
               two entries.",
        columns: columns(&[
            ("measure", "of a case"),
            ("mean", "mean"),
            ("half", "half"),
            ("three-quarters", "3/4"),
            ("nine-tenths", "9/10"),
            ("most", "most"),
        ]),
        rows: vec![
            measure("minutes worked", &|row| row.seconds, true),
            measure("tests that told", &|row| row.made.len() as i64, false),
            measure("could not be checked", &|row| row.skipped.len() as i64, false),
            measure("visits", &|row| i64::from(row.visits), false),
        ],
        bars: None,
        shown: 4,
    }
}

/// What cases were closed with that the knowledge does not list, in the words of whoever closed them.
pub(super) fn not_listed(cases: &Cases<'_>) -> Table {
    let words = cases.rows.iter().filter_map(|row| {
        let closing = row.closing.filter(|closing| closing.cause.is_none())?;
        Some(closing.not_listed.map_or("(no words)", |words| cases.text(words)))
    });
    Table {
        id: "not-listed",
        title: "What the knowledge lacked",
        note: "Closed cases whose cause is not listed, in the words they were closed with.",
        columns: columns(&[("words", "found"), ("cases", "cases")]),
        rows: most_first(words.map(|words| Cell::Text(words.to_owned()))),
        bars: Some(1),
        shown: 10,
    }
}

/// Tests whose answers were far from what the others led to expect.
pub(super) fn surprising(cases: &Cases<'_>) -> Table {
    let surprising = cases.rows.iter().flat_map(|row| row.surprising.iter());
    Table {
        id: "surprising",
        title: "Answers that surprised",
        note: "Cases in which the answer to this test was far from what the others led to expect: a wrong answer, a wrong \
               sign, or something not listed.",
        columns: columns(&[("test", "test"), ("cases", "cases")]),
        rows: most_first(surprising.map(|name| test(cases, *name))),
        bars: Some(1),
        shown: 8,
    }
}

fn most_first(cells: impl Iterator<Item = Cell>) -> Vec<Vec<Cell>> {
    let mut counts: BTreeMap<String, (Cell, u64)> = BTreeMap::new();
    for cell in cells {
        counts.entry(id(&cell).to_owned()).or_insert((cell, 0)).1 += 1;
    }
    let mut rows: Vec<(Cell, u64)> = counts.into_values().collect();
    // Stable: alike ones stay in the order of their words.
    rows.sort_by_key(|(_, number)| std::cmp::Reverse(*number));
    rows.into_iter()
        .map(|(cell, number)| vec![cell, Cell::Count(number)])
        .collect()
}

/// A line for each case; for spreadsheets and other programs.
pub(super) fn all_cases(cases: &Cases<'_>) -> Table {
    let mut rows: Vec<&Row> = cases.rows.clone();
    rows.sort_by(|a, b| {
        a.opened
            .cmp(&b.opened)
            .then_with(|| cases.text(a.id).cmp(cases.text(b.id)))
    });
    let text =
        |name: Option<Name>| name.map_or(Cell::Nothing, |name| Cell::Text(cases.text(name).to_owned()));
    Table {
        id: "case",
        title: "Every case",
        note: "",
        columns: columns(&[
            ("id", "id"),
            ("opened", "opened"),
            ("complaint", "complaint"),
            ("equipment", "equipment"),
            ("technician", "technician"),
            ("place", "place"),
            ("unit", "unit"),
            ("visits", "visits"),
            ("seconds", "seconds"),
            ("tests", "tests"),
            ("skipped", "skipped"),
            ("leader", "leader"),
            ("said-millionths", "said"),
            ("closed", "closed"),
            ("how", "how"),
            ("callback-of", "callback of"),
            ("overturned", "overturned"),
        ]),
        rows: rows
            .into_iter()
            .map(|row| {
                vec![
                    Cell::Text(cases.text(row.id).to_owned()),
                    Cell::Text(day(row.opened)),
                    text(row.complaint),
                    text(row.equipment),
                    text(row.technician),
                    text(row.place),
                    text(row.unit),
                    Cell::Count(u64::from(row.visits)),
                    Cell::Count(row.seconds.unsigned_abs()),
                    Cell::Count(row.made.len() as u64),
                    Cell::Count(row.skipped.len() as u64),
                    text(row.leader.map(|(cause, _)| cause)),
                    row.leader
                        .map_or(Cell::Nothing, |(_, said)| Cell::Count(u64::from(said))),
                    row.closing
                        .map_or(Cell::Nothing, |closing| cause(cases, closing.cause)),
                    row.closing
                        .map_or(Cell::Nothing, |closing| Cell::Text(closing.how().to_owned())),
                    text(row.callback_of),
                    Cell::Count(u64::from(row.closing.is_some() && cases.is_overturned(row))),
                ]
            })
            .collect(),
        bars: None,
        shown: 0,
    }
}
