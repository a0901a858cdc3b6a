//! Rows down the page, and the ways between them.

use super::net::{Knot, Net};
use super::plan::{Area, Laid, Piece, Plan, Point};

/// Pixels between two rows at least.
const LEAST_GAP: f64 = 18.0;
/// Pixels between two rows at most, where a way swings far over.
const MOST_GAP: f64 = 64.0;
/// Part of the distance a way swings over that is added to the gap, so that far swings do not lie flat.
const SLOPE: f64 = 0.08;

/// Puts the rows down the page and draws the ways.
pub(super) fn finish(plan: &Plan, net: &Net, across: &[f64]) -> Laid {
    let height = |knot: usize| match net.knots[knot] {
        Knot::Box(number) => plan.boxes[number].height,
        Knot::Label(number) => plan.links[number].label.map_or(0.0, |label| label.height),
        Knot::Lane(_) => 0.0,
    };
    let mut laid = Laid {
        boxes: vec![Area::default(); plan.boxes.len()],
        labels: vec![None; plan.links.len()],
        ..Laid::default()
    };
    let mut bounds = vec![(0.0, 0.0); net.knots.len()];
    let mut row_ends = vec![0.0; net.knots.len()];
    let mut top = 0.0;
    for (number, row) in net.rows.iter().enumerate() {
        let tallest = row.iter().map(|knot| height(*knot)).fold(0.0, f64::max);
        for knot in row {
            // What stands in a row hangs from its top, so that arrows are short and a label is near its box.
            bounds[*knot] = match net.knots[*knot] {
                Knot::Lane(_) => (top, top + tallest),
                _ => (top, top + height(*knot)),
            };
            row_ends[*knot] = top + tallest;
        }
        let swing = row
            .iter()
            .flat_map(|knot| {
                net.down[*knot]
                    .iter()
                    .map(|lower| (across[*knot] - across[*lower]).abs())
            })
            .fold(0.0, f64::max);
        top += tallest;
        if number + 1 < net.rows.len() {
            top += (LEAST_GAP + SLOPE * swing).min(MOST_GAP);
        }
    }
    for (knot, what) in net.knots.iter().enumerate() {
        let area = Area {
            left: across[knot] - net.widths[knot] / 2.0,
            top: bounds[knot].0,
            width: net.widths[knot],
            height: bounds[knot].1 - bounds[knot].0,
        };
        laid.size.width = laid.size.width.max(area.right());
        laid.size.height = laid.size.height.max(area.bottom());
        match what {
            Knot::Box(number) => laid.boxes[*number] = area,
            Knot::Label(number) => laid.labels[*number] = Some(area),
            Knot::Lane(_) => {}
        }
    }
    laid.routes = net
        .paths
        .iter()
        .map(|path| pieces(net, across, &bounds, &row_ends, path))
        .collect();
    laid
}

fn pieces(net: &Net, across: &[f64], bounds: &[(f64, f64)], row_ends: &[f64], path: &[usize]) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut add = |from: Point, to: Point| {
        if from != to {
            pieces.push(Piece { from, to });
        }
    };
    for (place, pair) in path.windows(2).enumerate() {
        let at = |knot: usize, y: f64| Point { x: across[knot], y };
        let (upper, lower) = (pair[0], pair[1]);
        if place > 0 && net.is_lane(upper) {
            add(at(upper, bounds[upper].0), at(upper, bounds[upper].1));
        }
        add(at(upper, bounds[upper].1), at(upper, row_ends[upper]));
        add(at(upper, row_ends[upper]), at(lower, bounds[lower].0));
    }
    pieces
}
