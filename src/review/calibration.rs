//! Whether the standing kept its word: what it said of the leader, and how often the leader was the proved cause.

use super::cases::Cases;
use super::table::{Cell, Table, columns};

/// Where the probability of a leader is divided, in millionths, and the names of what lies between: finer at the top, where it
/// is acted on.
const EDGES: [u32; 6] = [200_000, 400_000, 600_000, 800_000, 900_000, 990_000];
const NAMES: [&str; EDGES.len() + 1] = [
    "0 to 20 %",
    "20 to 40 %",
    "40 to 60 %",
    "60 to 80 %",
    "80 to 90 %",
    "90 to 99 %",
    "99 % and more",
];

/// Proved cases by the probability of the cause that led at the end.
pub(super) fn calibration(cases: &Cases<'_>) -> Table {
    let mut bins = [(0_u64, 0_i64, 0_u64); NAMES.len()];
    for row in &cases.rows {
        let (Some(right), Some((_, said))) = (cases.named_right(row), row.leader) else {
            continue;
        };
        let bin = EDGES.iter().filter(|edge| said >= **edge).count();
        let (all, sum, right_ones) = &mut bins[bin];
        *all += 1;
        *sum += i64::from(said);
        *right_ones += u64::from(right);
    }
    Table {
        id: "calibration",
        title: "When it said 90 %, was it right in nine of ten?",
        note: "Cases whose true cause is known, by the probability of the cause that led at the end. Said: its mean. Right: how often it was the \
               true cause: what the case was proved to be, or what a callback proved it to have been. Well calibrated, the \
               two agree.",
        columns: columns(&[
            ("leader", "leader at"),
            ("cases", "cases"),
            ("said", "said"),
            ("right", "right"),
        ]),
        rows: NAMES
            .iter()
            .zip(bins)
            .map(|(name, (all, sum, right))| {
                vec![
                    Cell::Text((*name).to_owned()),
                    Cell::Count(all),
                    Cell::Millionths { sum, of: all },
                    Cell::share(right, all),
                ]
            })
            .collect(),
        bars: Some(3),
        shown: NAMES.len(),
    }
}
