//! Boxes, labels and place holders in their rows, joined only from each row to the next.

use std::collections::BTreeMap;

use super::plan::Plan;

/// What a knot of the net stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Knot {
    /// A box of the plan.
    Box(usize),
    /// The label of a way.
    Label(usize),
    /// A row that the lane to a box passes.
    Lane(usize),
}

/// The net: even rows hold boxes, odd ones their labels, and lanes pass both.
#[derive(Clone, Debug, Default)]
pub(super) struct Net {
    /// What each knot stands for.
    pub(super) knots: Vec<Knot>,
    /// Width of each knot.
    pub(super) widths: Vec<f64>,
    /// Knots of each row, from the left.
    pub(super) rows: Vec<Vec<usize>>,
    /// Knots above that each is joined to.
    pub(super) up: Vec<Vec<usize>>,
    /// Knots below that each is joined to.
    pub(super) down: Vec<Vec<usize>>,
    /// The knots each way passes, from box to box.
    pub(super) paths: Vec<Vec<usize>>,
}

impl Net {
    /// Makes the net of a plan whose boxes stand in these rows.
    pub(super) fn new(plan: &Plan, rows: &[usize]) -> Self {
        let most = rows.iter().max().map_or(0, |row| 2 * row + 1);
        let mut net = Self {
            rows: vec![Vec::new(); most],
            ..Self::default()
        };
        for (number, size) in plan.boxes.iter().enumerate() {
            net.add(Knot::Box(number), size.width, 2 * rows[number]);
        }
        let mut lanes: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        for (number, link) in plan.links.iter().enumerate() {
            if !link.drawn {
                net.paths.push(Vec::new());
                continue;
            }
            let mut path = vec![link.from];
            let mut row = 2 * rows[link.from] + 1;
            if let Some(label) = link.label {
                path.push(net.add(Knot::Label(number), label.width, row));
                row += 1;
            }
            for row in row..2 * rows[link.to] {
                let knot = *lanes
                    .entry((link.to, row))
                    .or_insert_with(|| net.add(Knot::Lane(link.to), 0.0, row));
                path.push(knot);
            }
            path.push(link.to);
            for pair in path.windows(2) {
                net.join(pair[0], pair[1]);
            }
            net.paths.push(path);
        }
        net
    }

    fn add(&mut self, knot: Knot, width: f64, row: usize) -> usize {
        let place = self.knots.len();
        self.knots.push(knot);
        self.widths.push(width);
        self.up.push(Vec::new());
        self.down.push(Vec::new());
        self.rows[row].push(place);
        place
    }

    fn join(&mut self, upper: usize, lower: usize) {
        if !self.down[upper].contains(&lower) {
            self.down[upper].push(lower);
            self.up[lower].push(upper);
        }
    }

    /// Whether a knot is a place holder.
    pub(super) fn is_lane(&self, knot: usize) -> bool {
        matches!(self.knots[knot], Knot::Lane(_))
    }

    /// Place of each knot in its row, by knot.
    pub(super) fn positions(&self) -> Vec<usize> {
        let mut positions = vec![0; self.knots.len()];
        for row in &self.rows {
            for (position, knot) in row.iter().enumerate() {
                positions[*knot] = position;
            }
        }
        positions
    }
}
