//! Charts of a review as SVG. What they show stands in the table below them, too.

use std::fmt::Write as _;

use maud::html;

use crate::drawing::said;
use crate::review::table::{Cell, Table};

/// The chart of a table; empty for one that has none.
pub(super) fn of(table: &Table) -> String {
    match table.id {
        "month" if table.rows.len() > 1 => months(table),
        "calibration" if table.rows.iter().any(|row| row[1] != Cell::Count(0)) => kept_word(table),
        _ => String::new(),
    }
}

const WIDTH: f64 = 360.0;

/// Months charted: the newest.
const MOST_MONTHS: usize = 36;

/// Cases by month, those of them that came back in the softer shade.
fn months(table: &Table) -> String {
    const TOP: f64 = 18.0;
    const FOOT: f64 = 132.0;
    let rows = &table.rows[table.rows.len().saturating_sub(MOST_MONTHS)..];
    let most = rows.iter().map(|row| row[1].length()).fold(1.0, f64::max);
    let step = (WIDTH - 40.0) / rows.len() as f64;
    let height = |count: f64| (FOOT - TOP) * count / most;
    let mut marks = String::new();
    let every = rows.len().div_ceil(6);
    for (place, row) in rows.iter().enumerate() {
        let x = 34.0 + place as f64 * step;
        let cases = row[1].length();
        let back = match row[4] {
            Cell::Share { part, .. } => part as f64,
            _ => 0.0,
        };
        // Writing into a string cannot fail.
        let _ = write!(
            marks,
            "<rect class=\"bars\" x=\"{x:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{:.1}\"/>\
             <rect class=\"soft\" x=\"{x:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{:.1}\"/>",
            FOOT - height(cases),
            step * 0.8,
            height(cases),
            FOOT - height(back),
            step * 0.8,
            height(back)
        );
        if place % every == 0
            && let Cell::Text(month) = &row[0]
        {
            let _ = write!(
                marks,
                "<text x=\"{:.1}\" y=\"148\" text-anchor=\"middle\">{}</text>",
                x + step * 0.4,
                html! { (said(month)) }.into_string()
            );
        }
    }
    format!(
        "<figure>\n<svg viewBox=\"0 0 {WIDTH} 154\" role=\"img\" aria-label=\"Cases by month\">\
         <path class=\"axis\" d=\"M30 {FOOT}H{WIDTH}\"/><text x=\"26\" y=\"{:.0}\" text-anchor=\"end\">{most:.0}</text>\
         <text x=\"26\" y=\"{FOOT}\" text-anchor=\"end\">0</text>{marks}</svg>\n\
         <figcaption>Cases by month; the pale foot is those that came back.</figcaption>\n</figure>\n",
        TOP + 8.0
    )
}

/// What was said against what was right; on the broken line they agree.
fn kept_word(table: &Table) -> String {
    const LEFT: f64 = 44.0;
    const SIDE: f64 = 240.0;
    const TOP: f64 = 12.0;
    let most = table.rows.iter().map(|row| row[1].length()).fold(1.0, f64::max);
    let mut marks = String::new();
    for row in &table.rows {
        if row[1].length() == 0.0 {
            continue;
        }
        let (x, y) = (
            LEFT + row[2].length() * SIDE,
            TOP + (1.0 - row[3].length()) * SIDE,
        );
        // By area, so that twice the cases look like twice the cases.
        let size = 3.0 + 12.0 * (row[1].length() / most).sqrt();
        let _ = write!(
            marks,
            "<circle class=\"bars\" cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{size:.1}\"/>\
             <text x=\"{:.1}\" y=\"{:.1}\">{} cases</text>",
            x + size + 3.0,
            y + 4.0,
            html! { (said(&row[1].shown())) }.into_string()
        );
    }
    let foot = TOP + SIDE;
    let right = LEFT + SIDE;
    format!(
        "<figure>\n<svg viewBox=\"0 0 {WIDTH} 292\" role=\"img\" aria-label=\"Said against right\">\
         <path class=\"axis\" d=\"M{LEFT} {TOP}V{foot}H{right}\"/><path class=\"even\" d=\"M{LEFT} {foot}L{right} {TOP}\"/>\
         <text x=\"40\" y=\"{:.0}\" text-anchor=\"end\">100 %</text><text x=\"40\" y=\"{foot}\" text-anchor=\"end\">0</text>\
         <text x=\"{right}\" y=\"{:.0}\" text-anchor=\"end\">said 100 %</text>\
         <text x=\"{LEFT}\" y=\"{:.0}\">said 0</text>{marks}</svg>\n\
         <figcaption>Across: what was said of the leader. Up: how often it was right. On the broken line the two agree; above \
         it the standing is too modest, below it too sure.</figcaption>\n</figure>\n",
        TOP + 8.0,
        foot + 18.0,
        foot + 18.0
    )
}
