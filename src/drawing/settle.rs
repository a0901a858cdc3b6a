//! Which ways are lines, and which are named in the box they leave.
//!
//! A line that runs far across the page is lost on the way, above all on a phone that shows a part of it. So a way
//! is a line when it is short, and otherwise the box it leaves says where it leads. Every box but the start keeps one
//! line to it, the shortest from the row above, so that nothing floats.

use super::layers::{self, Laid, LayoutError, Link, Plan};
use super::measure::wrap;
use super::shape;
use super::step::{BOX_WIDTH, Exit, Line, Shape, Step, Style};
use super::way::{Way, label_size};

/// Pixels a line may run sideways.
const MOST_ASIDE: f64 = 280.0;
/// Rows a line may lead down.
const MOST_DOWN: usize = 2;
/// Layouts tried; each names more ways than the one before, so few are needed.
const ROUNDS: usize = 5;

/// Lays boxes and ways out, choosing which ways are lines.
///
/// # Errors
/// When the ways go round.
pub(super) fn settle(boxes: &mut [Step], ways: &mut [Way]) -> Result<Laid, LayoutError> {
    let mut laid = lay_out(boxes, ways)?;
    let mut kept = vec![false; ways.len()];
    for round in 0..ROUNDS {
        if round == 0 {
            keep_one_each(boxes.len(), ways, &laid, &mut kept);
        }
        let mut changed = false;
        for (number, way) in ways.iter_mut().enumerate() {
            let down = laid.rows[way.to] - laid.rows[way.from];
            let far = down > MOST_DOWN || aside(way, &laid) > MOST_ASIDE;
            if way.drawn && far && !kept[number] {
                way.drawn = false;
                changed = true;
            }
        }
        if !changed {
            break;
        }
        name_exits(boxes, ways);
        laid = lay_out(boxes, ways)?;
    }
    Ok(laid)
}

fn aside(way: &Way, laid: &Laid) -> f64 {
    (laid.boxes[way.from].middle() - laid.boxes[way.to].middle()).abs()
}

/// Marks the line that every box keeps.
fn keep_one_each(boxes: usize, ways: &[Way], laid: &Laid, kept: &mut [bool]) {
    for to in 0..boxes {
        let nearest = (0..ways.len())
            .filter(|way| ways[*way].to == to && laid.rows[ways[*way].from] + 1 == laid.rows[to])
            .min_by(|one, other| aside(&ways[*one], laid).total_cmp(&aside(&ways[*other], laid)));
        if let Some(nearest) = nearest {
            kept[nearest] = true;
        }
    }
}

fn name_exits(boxes: &mut [Step], ways: &[Way]) {
    for step in boxes.iter_mut() {
        step.exits.clear();
    }
    for way in ways.iter().filter(|way| !way.drawn) {
        let outcomes = match (way.otherwise, way.label.is_empty()) {
            (_, true) => "then".to_owned(),
            (true, false) => "otherwise".to_owned(),
            (false, false) => way.outcomes.join("; "),
        };
        let goal = goal_of(&boxes[way.to]);
        let mut lines = Vec::new();
        for (text, first, more) in [
            (outcomes, Style::Outcome, Style::Outcome),
            (goal, Style::Goal, Style::GoalMore),
        ] {
            let room = BOX_WIDTH - first.indent();
            for (place, text) in wrap(&text, room, first.size(), first.weight())
                .into_iter()
                .enumerate()
            {
                let style = if place == 0 { first } else { more };
                lines.push(Line { text, style });
            }
        }
        boxes[way.from].exits.push(Exit { to: way.to, lines });
    }
}

/// What an exit says of its goal: the id it bears in the drawing, and whether the walk ends there.
fn goal_of(step: &Step) -> String {
    match step.shape {
        Shape::Halt => format!("{} (STOP)", step.id),
        Shape::Close => format!("{} (conclude)", step.id),
        Shape::Leave => format!("{} (back)", step.id),
        _ => step.id.clone(),
    }
}

fn lay_out(boxes: &[Step], ways: &[Way]) -> Result<Laid, LayoutError> {
    let plan = Plan {
        boxes: boxes.iter().map(shape::size_of).collect(),
        links: ways
            .iter()
            .map(|way| Link {
                from: way.from,
                to: way.to,
                label: label_size(&way.label),
                drawn: way.drawn,
            })
            .collect(),
    };
    layers::lay_out(&plan)
}
