//! The matrix of modified nodal analysis: one row for each node but the earth, and one for the current of each source, ideal contact
//! and transformer.

use super::circuit::{Circuit, Complex, Kind, Node};
use super::load::PowerLoad;
use super::lu::Matrix;

/// The matrix while it is set up.
pub(super) struct Stamps {
    nodes: usize,
    pub(super) matrix: Matrix,
    /// The right-hand side without the loads of constant power.
    pub(super) side: Vec<Complex>,
    /// Unknown that is the current of each element, where there is one.
    pub(super) own: Vec<Option<usize>>,
    /// Element of each unknown beyond the nodes.
    pub(super) owners: Vec<usize>,
}

impl Stamps {
    pub(super) fn new(circuit: &Circuit) -> Self {
        let nodes = circuit.nodes().len() - 1;
        let mut owners = Vec::new();
        let own = circuit
            .elements()
            .iter()
            .enumerate()
            .map(|(place, element)| {
                has_own(&element.kind).then(|| {
                    owners.push(place);
                    nodes + owners.len() - 1
                })
            })
            .collect();
        let size = nodes + owners.len();
        Self {
            nodes,
            matrix: Matrix::new(size),
            side: vec![Complex::ZERO; size],
            own,
            owners,
        }
    }

    /// Puts an element in; false where its value has no meaning.
    pub(super) fn put(&mut self, place: usize, kind: &Kind) -> bool {
        match kind {
            Kind::Impedance { between, ohms } => self.admittance(*between, ohms.inv()),
            Kind::Switch {
                between,
                closed,
                ohms,
            } => {
                if *closed && *ohms > 0.0 {
                    self.admittance(*between, Complex::new(1.0 / ohms, 0.0))
                } else if *closed {
                    self.branch(place, *between, Complex::ZERO) && *ohms == 0.0
                } else {
                    true
                }
            }
            Kind::Source { between, volts } => self.branch(place, *between, *volts),
            Kind::Transformer {
                primary,
                secondary,
                ratio,
            } => self.winding(place, *primary, *secondary, *ratio),
            Kind::Machine { ports, siemens } => self.coupled(*ports, *siemens),
            Kind::Load { between, nominal, .. } => {
                let own = PowerLoad::of(place, kind).map_or(Complex::ZERO, |load| load.siemens());
                *nominal > 0.0 && self.admittance(*between, own)
            }
        }
    }

    /// Row or column of a node; nothing for the earth.
    fn place(&self, node: Node) -> Option<usize> {
        debug_assert!(node.0 <= self.nodes);
        node.0.checked_sub(1)
    }

    fn add(&mut self, row: Option<usize>, column: Option<usize>, amount: Complex) {
        if let (Some(row), Some(column)) = (row, column) {
            self.matrix.add(row, column, amount);
        }
    }

    fn admittance(&mut self, between: [Node; 2], siemens: Complex) -> bool {
        let [from, to] = between.map(|node| self.place(node));
        self.add(from, from, siemens);
        self.add(to, to, siemens);
        self.add(from, to, -siemens);
        self.add(to, from, -siemens);
        siemens.is_finite()
    }

    /// A branch of given voltage whose current is unknown.
    fn branch(&mut self, place: usize, between: [Node; 2], volts: Complex) -> bool {
        let own = self.own[place];
        let [from, to] = between.map(|node| self.place(node));
        for (node, sign) in [(from, Complex::ONE), (to, -Complex::ONE)] {
            self.add(node, own, sign);
            self.add(own, node, sign);
        }
        if let Some(own) = own {
            self.side[own] = volts;
        }
        volts.is_finite()
    }

    /// Primary voltage is `ratio` times the secondary's, secondary current `-ratio` times the primary's.
    fn winding(&mut self, place: usize, primary: [Node; 2], secondary: [Node; 2], ratio: f64) -> bool {
        let turns = Complex::new(ratio, 0.0);
        let own = self.own[place];
        let primary = primary.map(|node| self.place(node));
        let secondary = secondary.map(|node| self.place(node));
        for (nodes, share) in [(primary, Complex::ONE), (secondary, -turns)] {
            for (node, sign) in nodes.into_iter().zip([share, -share]) {
                self.add(node, own, sign);
                self.add(own, node, sign);
            }
        }
        ratio.is_finite() && ratio > 0.0
    }

    fn coupled(&mut self, ports: [[Node; 2]; 2], siemens: [[Complex; 2]; 2]) -> bool {
        for (port, row) in ports.iter().zip(siemens) {
            for (acting, amount) in ports.iter().zip(row) {
                for (node, sign) in port.iter().zip([1.0, -1.0]) {
                    for (other, against) in acting.iter().zip([1.0, -1.0]) {
                        let (node, other) = (self.place(*node), self.place(*other));
                        self.add(node, other, amount * (sign * against));
                    }
                }
            }
        }
        siemens.iter().flatten().all(|amount| amount.is_finite())
    }
}

/// Whether the current of an element is an unknown.
fn has_own(kind: &Kind) -> bool {
    match kind {
        Kind::Source { .. } | Kind::Transformer { .. } => true,
        Kind::Switch { closed, ohms, .. } => *closed && *ohms <= 0.0,
        Kind::Impedance { .. } | Kind::Machine { .. } | Kind::Load { .. } => false,
    }
}
