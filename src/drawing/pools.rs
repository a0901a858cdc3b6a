//! The lists of long pools under a drawing, in columns.

use crate::knowledge::model::Knowledge;

use super::build::{PoolList, style_in_pool};
use super::figure::Figure;
use super::marks::{MARGIN, write_line};
use super::measure::wrap;
use super::pen::Pen;
use super::step::{Line, Style};

/// Width of a column at least.
const COLUMN: f64 = 260.0;
/// Clear pixels between two columns.
const BETWEEN: f64 = 20.0;
/// Clear pixels between two lists of a column.
const BETWEEN_LISTS: f64 = 12.0;

/// Writes the lists from `top` on and says where they end.
pub(super) fn write(pen: &mut Pen, knowledge: &Knowledge, figure: &Figure, full: f64, top: f64) -> f64 {
    let columns = ((full + BETWEEN) / (COLUMN + BETWEEN)).floor().max(1.0);
    let column = (full - BETWEEN * (columns - 1.0)) / columns;
    let lists: Vec<Vec<Line>> = figure
        .pools
        .iter()
        .map(|pool| lines(knowledge, figure, pool, column))
        .collect();
    let height = |lines: &[Line]| lines.iter().map(|line| line.style.leading()).sum::<f64>();
    let whole: f64 = lists.iter().map(|list| height(list) + BETWEEN_LISTS).sum();
    // A column is as high as an even share; a list goes on in the next one where it is full.
    let share = whole / columns + 2.0 * Style::Name.leading();
    let mut y = top + 18.0;
    pen.raw("<g class=\"d-pools\">");
    pen.text("d-name", MARGIN, y, "Pools");
    y += 10.0;
    let first = y;
    let mut lowest = y;
    let mut number = 0.0;
    for (pool, list) in figure.pools.iter().zip(&lists) {
        for (place, line) in list.iter().enumerate() {
            let room = if place == 0 {
                // A heading does not stand alone at the foot of a column.
                3.0 * line.style.leading()
            } else {
                line.style.leading()
            };
            if y + room > first + share && number + 1.0 < columns {
                number += 1.0;
                y = first;
                if place > 0 {
                    let left = MARGIN + number * (column + BETWEEN);
                    pen.text("d-id", left, y + 12.0, &format!("{}, continued", pool.letter));
                    y += Style::Id.leading();
                }
            }
            let left = MARGIN + number * (column + BETWEEN);
            write_line(pen, line, left, &mut y);
            lowest = lowest.max(y);
        }
        y += BETWEEN_LISTS;
    }
    pen.raw("</g>\n");
    lowest
}

fn lines(knowledge: &Knowledge, figure: &Figure, pool: &PoolList, column: f64) -> Vec<Line> {
    let heading = format!("{}: {}", pool.letter, figure.boxes[pool.of].id);
    let mut lines: Vec<Line> = wrap(&heading, column, Style::Name.size(), Style::Name.weight())
        .into_iter()
        .map(|text| Line {
            text,
            style: Style::Name,
        })
        .collect();
    for test in &pool.tests {
        let test = &knowledge.tests[*test];
        let style = style_in_pool(test);
        for (place, text) in wrap(&test.name, column - style.indent(), style.size(), style.weight())
            .into_iter()
            .enumerate()
        {
            let style = if place == 0 { style } else { Style::Listed };
            lines.push(Line { text, style });
        }
    }
    lines
}
