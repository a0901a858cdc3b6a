//! The order within each row, so that few ways cross.
//!
//! Barycenter sweeps (Sugiyama, Tagawa and Toda 1981) down and up, keeping the best order met, each followed by
//! exchanges of neighbors while that helps. No chance is drawn: the same plan always gives the same picture.

use super::net::Net;

/// Pairs of sweeps, enough for the order to settle on graphs of a few hundred knots.
const SWEEPS: usize = 24;

/// Orders the rows.
pub(super) fn untangle(net: &mut Net) {
    first_order(net);
    let mut best = net.rows.clone();
    let mut fewest = crossings(net);
    for sweep in 0..SWEEPS {
        let rows = net.rows.len();
        if sweep % 2 == 0 {
            (1..rows).for_each(|row| by_barycenter(net, row, true));
        } else {
            (0..rows.saturating_sub(1))
                .rev()
                .for_each(|row| by_barycenter(net, row, false));
        }
        exchange(net);
        let now = crossings(net);
        if now < fewest {
            fewest = now;
            best.clone_from(&net.rows);
        }
        if fewest == 0 {
            break;
        }
    }
    net.rows = best;
}

/// The order in which a walk from the top first meets each knot, taking the ways as they are listed.
fn first_order(net: &mut Net) {
    let mut met = vec![usize::MAX; net.knots.len()];
    let mut count = 0;
    let tops: Vec<usize> = net
        .rows
        .iter()
        .flatten()
        .copied()
        .filter(|knot| net.up[*knot].is_empty())
        .collect();
    for top in tops {
        let mut waiting = vec![top];
        while let Some(knot) = waiting.pop() {
            if met[knot] == usize::MAX {
                met[knot] = count;
                count += 1;
                waiting.extend(net.down[knot].iter().rev());
            }
        }
    }
    for row in &mut net.rows {
        row.sort_by_key(|knot| met[*knot]);
    }
}

fn by_barycenter(net: &mut Net, row: usize, from_above: bool) {
    let positions = net.positions();
    let joined = if from_above { &net.up } else { &net.down };
    let mut keyed: Vec<(f64, usize)> = net.rows[row]
        .iter()
        .enumerate()
        .map(|(position, knot)| {
            let sum: usize = joined[*knot].iter().map(|other| positions[*other]).sum();
            let key = match joined[*knot].len() {
                0 => position as f64,
                number => sum as f64 / number as f64,
            };
            (key, *knot)
        })
        .collect();
    keyed.sort_by(|one, other| one.0.total_cmp(&other.0));
    net.rows[row] = keyed.into_iter().map(|(_, knot)| knot).collect();
}

/// Exchanges neighbors of a row while that takes crossings away.
fn exchange(net: &mut Net) {
    let mut positions = net.positions();
    for row in 0..net.rows.len() {
        let mut again = true;
        while again {
            again = false;
            for place in 1..net.rows[row].len() {
                let (left, right) = (net.rows[row][place - 1], net.rows[row][place]);
                let cost = |one: usize, other: usize| {
                    between(&net.up[one], &net.up[other], &positions)
                        + between(&net.down[one], &net.down[other], &positions)
                };
                if cost(right, left) < cost(left, right) {
                    net.rows[row].swap(place - 1, place);
                    positions[left] = place;
                    positions[right] = place - 1;
                    again = true;
                }
            }
        }
    }
}

/// Crossings between the ways of two knots when the first stands left of the second.
fn between(left: &[usize], right: &[usize], positions: &[usize]) -> usize {
    left.iter()
        .map(|one| {
            right
                .iter()
                .filter(|other| positions[**other] < positions[*one])
                .count()
        })
        .sum()
}

fn crossings(net: &Net) -> usize {
    let positions = net.positions();
    net.rows
        .iter()
        .map(|row| {
            let mut sum = 0;
            for (place, left) in row.iter().enumerate() {
                for right in &row[place + 1..] {
                    sum += between(&net.down[*left], &net.down[*right], &positions);
                }
            }
            sum
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::super::{Link, Plan, Size, rank};
    use super::*;

    /// Two boxes over two, joined crosswise: turning one row round takes the crossing away.
    #[test]
    fn a_needless_crossing_goes() {
        let link = |from, to| Link {
            from,
            to,
            label: None,
            drawn: true,
        };
        let plan = Plan {
            boxes: vec![Size::default(); 4],
            links: vec![link(0, 3), link(1, 2)],
        };
        let mut net = Net::new(&plan, &rank::rank(&plan).expect("no rounds"));
        assert_eq!(crossings(&net), 1 + usize::from(net.rows[1].len() > 2));
        untangle(&mut net);
        assert_eq!(crossings(&net), 0);
    }
}
