//! Where each knot stands across the page.
//!
//! The method is that of Brandes and Koepf, "Fast and simple horizontal coordinate assignment" (2001): four layouts,
//! each pushed to one side, in which knots stand straight under one another where they can, lanes first; then the
//! mean of the middle two for each knot. Blocks are compacted by longest path instead of the paper's classes.
//! Each of the four keeps the distances between neighbors, and so does the mean of the middle two.

use std::collections::BTreeSet;

use super::net::Net;

/// Clear pixels between two boxes or labels.
const BETWEEN_BOXES: f64 = 18.0;
/// Clear pixels between a lane and what stands beside it.
const BESIDE_LANE: f64 = 14.0;

/// Works out the middle of each knot, the leftmost edge at 0.
pub(super) fn across(net: &Net) -> Vec<f64> {
    if net.knots.is_empty() {
        return Vec::new();
    }
    let conflicts = conflicts(net);
    let mut four: Vec<Vec<f64>> = Vec::new();
    for from_above in [true, false] {
        for to_left in [true, false] {
            let mut rows = net.rows.clone();
            if !from_above {
                rows.reverse();
            }
            if !to_left {
                rows.iter_mut().for_each(|row| row.reverse());
            }
            let joined = if from_above { &net.up } else { &net.down };
            let roots = align(net, &rows, joined, &conflicts);
            let mut places = compact(net, &rows, &roots);
            if !to_left {
                places.iter_mut().for_each(|place| *place = -*place);
            }
            four.push(places);
        }
    }
    settle(net, &mut four)
}

/// Middle to middle of two neighbors of a row, at least.
fn apart(net: &Net, one: usize, other: usize) -> f64 {
    let clear = if net.is_lane(one) || net.is_lane(other) {
        BESIDE_LANE
    } else {
        BETWEEN_BOXES
    };
    (net.widths[one] + net.widths[other]) / 2.0 + clear
}

/// Ways that may not be made straight, since they cross one between two lanes.
fn conflicts(net: &Net) -> BTreeSet<(usize, usize)> {
    let positions = net.positions();
    let mut conflicts = BTreeSet::new();
    for row in &net.rows {
        let ways: Vec<(usize, usize)> = row
            .iter()
            .flat_map(|upper| net.down[*upper].iter().map(|lower| (*upper, *lower)))
            .collect();
        let inner = |way: &(usize, usize)| net.is_lane(way.0) && net.is_lane(way.1);
        for lane in ways.iter().filter(|way| inner(way)) {
            for way in ways.iter().filter(|way| !inner(way)) {
                let above = positions[way.0].cmp(&positions[lane.0]);
                let below = positions[way.1].cmp(&positions[lane.1]);
                if above != below && above.is_ne() && below.is_ne() {
                    conflicts.insert(*way);
                }
            }
        }
    }
    conflicts
}

/// Stands each knot under the middle one of those it is joined to, where no other such pair is in the way; the
/// answer is the top knot of the block each belongs to.
fn align(
    net: &Net,
    rows: &[Vec<usize>],
    joined: &[Vec<usize>],
    conflicts: &BTreeSet<(usize, usize)>,
) -> Vec<usize> {
    let mut positions = vec![0; net.knots.len()];
    for row in rows {
        for (position, knot) in row.iter().enumerate() {
            positions[*knot] = position;
        }
    }
    let mut roots: Vec<usize> = (0..net.knots.len()).collect();
    let mut taken = vec![false; net.knots.len()];
    for row in rows {
        let mut free_from = 0;
        for knot in row {
            let mut others: Vec<usize> = joined[*knot].clone();
            if net.is_lane(*knot) && others.iter().any(|other| net.is_lane(*other)) {
                others.retain(|other| net.is_lane(*other));
            }
            others.sort_by_key(|other| positions[*other]);
            let Some(last) = others.len().checked_sub(1) else {
                continue;
            };
            for other in [others[last / 2], others[last.div_ceil(2)]] {
                let barred = conflicts.contains(&(other, *knot)) || conflicts.contains(&(*knot, other));
                if roots[*knot] == *knot && !barred && !taken[other] && positions[other] >= free_from {
                    roots[*knot] = roots[other];
                    taken[other] = true;
                    free_from = positions[other] + 1;
                }
            }
        }
    }
    roots
}

/// Pushes the blocks together to the left, then those that can move back toward their right neighbors.
fn compact(net: &Net, rows: &[Vec<usize>], roots: &[usize]) -> Vec<f64> {
    let number = net.knots.len();
    let mut after: Vec<Vec<(usize, f64)>> = vec![Vec::new(); number];
    let mut waits_for = vec![0usize; number];
    for row in rows {
        for pair in row.windows(2) {
            let (left, right) = (roots[pair[0]], roots[pair[1]]);
            after[left].push((right, apart(net, pair[0], pair[1])));
            waits_for[right] += 1;
        }
    }
    let mut order: Vec<usize> = (0..number)
        .filter(|knot| roots[*knot] == *knot && waits_for[*knot] == 0)
        .collect();
    let mut places = vec![0.0f64; number];
    let mut next = 0;
    while let Some(block) = order.get(next).copied() {
        next += 1;
        for (right, distance) in &after[block] {
            places[*right] = places[*right].max(places[block] + distance);
            waits_for[*right] -= 1;
            if waits_for[*right] == 0 {
                order.push(*right);
            }
        }
    }
    for block in order.iter().rev() {
        let room = after[*block]
            .iter()
            .map(|(right, distance)| places[*right] - distance)
            .fold(f64::INFINITY, f64::min);
        if room.is_finite() {
            places[*block] = places[*block].max(room);
        }
    }
    (0..number).map(|knot| places[roots[knot]]).collect()
}

/// Brings the four layouts over the narrowest one and takes the mean of the middle two places of each knot.
fn settle(net: &Net, four: &mut [Vec<f64>]) -> Vec<f64> {
    let ends = |places: &[f64]| {
        let left = (0..places.len()).map(|knot| places[knot] - net.widths[knot] / 2.0);
        let right = (0..places.len()).map(|knot| places[knot] + net.widths[knot] / 2.0);
        (
            left.fold(f64::INFINITY, f64::min),
            right.fold(f64::NEG_INFINITY, f64::max),
        )
    };
    let narrowest = four
        .iter()
        .map(|places| ends(places))
        .min_by(|one, other| (one.1 - one.0).total_cmp(&(other.1 - other.0)))
        .unwrap_or((0.0, 0.0));
    for (number, places) in four.iter_mut().enumerate() {
        let (left, right) = ends(places);
        let shift = if number % 2 == 0 {
            narrowest.0 - left
        } else {
            narrowest.1 - right
        };
        places.iter_mut().for_each(|place| *place += shift);
    }
    let mut middle: Vec<f64> = (0..net.knots.len())
        .map(|knot| {
            let mut places: Vec<f64> = four.iter().map(|places| places[knot]).collect();
            places.sort_by(f64::total_cmp);
            f64::midpoint(places[1], places[2])
        })
        .collect();
    let (left, _) = ends(&middle);
    middle.iter_mut().for_each(|place| *place -= left);
    middle
}

#[cfg(test)]
mod tests {
    use super::super::net::Knot;
    use super::super::{Link, Plan, Size, rank};
    use super::*;

    /// A way past two rows runs straight down, though boxes of those rows are wide.
    #[test]
    fn a_long_way_is_straight() {
        let link = |from, to| Link {
            from,
            to,
            label: None,
            drawn: true,
        };
        let plan = Plan {
            boxes: vec![
                Size {
                    width: 100.0,
                    height: 10.0
                };
                4
            ],
            links: vec![link(0, 1), link(1, 2), link(2, 3), link(0, 3)],
        };
        let net = Net::new(&plan, &rank::rank(&plan).expect("no rounds"));
        let across = across(&net);
        let lane: Vec<f64> = (0..net.knots.len())
            .filter(|knot| net.knots[*knot] == Knot::Lane(3))
            .map(|knot| across[knot])
            .collect();
        assert!(lane.len() > 2);
        assert!(
            lane.windows(2)
                .filter(|pair| (pair[0] - pair[1]).abs() > 0.01)
                .count()
                <= 1
        );
    }
}
