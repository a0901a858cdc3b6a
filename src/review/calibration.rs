//! Whether the standing kept its word: what it said of the leader, and how often the leader was the proved cause.

use super::cases::Cases;
use super::table::{Cell, Table, columns};

/// Fifths of the leader's probability.
const FIFTHS: u32 = 5;

/// Proved cases by the probability of the cause that led at the end.
pub(super) fn calibration(cases: &Cases<'_>) -> Table {
    let mut bins = [(0_u64, 0_i64, 0_u64); FIFTHS as usize];
    for row in &cases.rows {
        let (Some(right), Some((_, said))) = (cases.named_right(row), row.leader) else {
            continue;
        };
        let bin = (said * FIFTHS / 1_000_000).min(FIFTHS - 1);
        let (all, sum, right_ones) = &mut bins[bin as usize];
        *all += 1;
        *sum += i64::from(said);
        *right_ones += u64::from(right);
    }
    let names = [
        "0 to 20 %",
        "20 to 40 %",
        "40 to 60 %",
        "60 to 80 %",
        "80 to 100 %",
    ];
    Table {
        id: "calibration",
        title: "When it said 90 %, was it right in nine of ten?",
        note: "Proved cases by the probability of the cause that led at the end. Said: its mean. Right: how often it was the \
               true cause: what the case was proved to be, or what a callback proved it to have been. Well calibrated, the \
               two agree.",
        columns: columns(&[
            ("leader", "leader at"),
            ("cases", "cases"),
            ("said", "said"),
            ("right", "right"),
        ]),
        rows: names
            .iter()
            .zip(bins)
            .map(|(name, (all, sum, right))| {
                vec![
                    Cell::Text((*name).to_owned()),
                    Cell::Count(all),
                    Cell::Millionths { sum, of: all },
                    Cell::Share { part: right, of: all },
                ]
            })
            .collect(),
        bars: Some(3),
        shown: FIFTHS as usize,
    }
}
