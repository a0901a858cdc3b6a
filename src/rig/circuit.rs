//! A circuit of phasors at 60 Hz: nodes by name, and the elements between them.

use std::collections::HashMap;

use uom::si::electrical_resistance::ohm;
use uom::si::f64::{Capacitance, Frequency};
use uom::si::frequency::hertz;

use crate::electrical::capacitor;

/// A phasor or an impedance. Voltages and currents are effective (RMS) values.
pub type Complex = num_complex::Complex64;

/// Frequency of every circuit, Hz.
pub const HERTZ: f64 = 60.0;

/// Place of a node in its circuit. The first is always the earth, to which all voltages refer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Node(pub(super) usize);

impl Node {
    /// The earth: zero volts.
    pub const EARTH: Self = Self(0);
}

/// Place of an element in its circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ElementIndex(pub(super) usize);

/// What an element is. Current counts positive from the first node to the second, through the element.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// Resistance and reactance in series.
    Impedance {
        /// Its two ends.
        between: [Node; 2],
        /// Ohm; the imaginary part is positive for a coil, negative for a capacitor. Not zero.
        ohms: Complex,
    },
    /// An ideal source of voltage: the first node against the second.
    Source {
        /// Plus, minus.
        between: [Node; 2],
        /// V.
        volts: Complex,
    },
    /// A contact.
    Switch {
        /// Its two sides.
        between: [Node; 2],
        /// An open one carries nothing.
        closed: bool,
        /// Ohm of the closed contact; 0 for an ideal one.
        ohms: f64,
    },
    /// An ideal transformer: no loss, no leakage, no magnetizing current. A center tap is two of them on one primary.
    Transformer {
        /// Dotted end first.
        primary: [Node; 2],
        /// Dotted end first.
        secondary: [Node; 2],
        /// Primary turns over secondary turns, above 0.
        ratio: f64,
    },
    /// A machine of two ports whose windings act on each other through the turning rotor, so that what one does to the other is
    /// not what the other does to it. Current into the first node of a port is the sum of `siemens` times the port voltages.
    Machine {
        /// Both ports, each with the end where current counts as going in first.
        ports: [[Node; 2]; 2],
        /// Row: the port whose current it is; column: the port whose voltage acts. Siemens.
        siemens: [[Complex; 2]; 2],
    },
    /// A load that takes the same power at any voltage above [`LEAST_VOLTAGE`] of its nominal, and is an impedance below.
    Load {
        /// Its two ends.
        between: [Node; 2],
        /// W + j VAr.
        power: Complex,
        /// Nominal V, above 0.
        nominal: f64,
    },
}

impl Kind {
    /// Its pairs of nodes; the second only of what has two ports.
    #[must_use]
    pub fn ports(&self) -> ([Node; 2], Option<[Node; 2]>) {
        match self {
            Self::Impedance { between, .. }
            | Self::Source { between, .. }
            | Self::Switch { between, .. }
            | Self::Load { between, .. } => (*between, None),
            Self::Transformer {
                primary, secondary, ..
            } => (*primary, Some(*secondary)),
            Self::Machine { ports, .. } => (ports[0], Some(ports[1])),
        }
    }

    /// The node an error names it by.
    pub(super) fn first(&self) -> Node {
        let ([first, second], _) = self.ports();
        if first == Node::EARTH { second } else { first }
    }
}

/// Share of the nominal voltage below which a load of constant power counts as an impedance: electronics let go there, and without
/// such a bound a circuit with too weak a supply has no solution. A judgment; power-flow programs take 0.7 to 0.95.
pub const LEAST_VOLTAGE: f64 = 0.7;

/// An element with its name.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// Unique in its circuit: small letters, digits, `_`.
    pub name: String,
    /// With its nodes and values.
    pub kind: Kind,
}

/// Nodes and elements.
#[derive(Clone, Debug)]
pub struct Circuit {
    nodes: Vec<String>,
    by_name: HashMap<String, Node>,
    elements: Vec<Element>,
}

impl Default for Circuit {
    fn default() -> Self {
        Self {
            nodes: vec!["0".to_owned()],
            by_name: HashMap::from([("0".to_owned(), Node::EARTH)]),
            elements: Vec::new(),
        }
    }
}

impl Circuit {
    /// An empty circuit: only the earth, whose name is `0`.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// The node of a name, made if it is not there yet.
    pub fn node(&mut self, name: &str) -> Node {
        if let Some(node) = self.by_name.get(name) {
            return *node;
        }
        let node = Node(self.nodes.len());
        self.nodes.push(name.to_owned());
        self.by_name.insert(name.to_owned(), node);
        node
    }

    /// The node of a name, if it is there.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<Node> {
        self.by_name.get(name).copied()
    }

    /// The element of a name, if it is there.
    #[must_use]
    pub fn element(&self, name: &str) -> Option<ElementIndex> {
        let place = self.elements.iter().position(|element| element.name == name)?;
        Some(ElementIndex(place))
    }

    /// Name of a node.
    #[must_use]
    pub fn name(&self, node: Node) -> &str {
        &self.nodes[node.0]
    }

    /// Names of all nodes, the earth first.
    #[must_use]
    pub fn nodes(&self) -> &[String] {
        &self.nodes
    }

    /// All elements in the order they were added.
    #[must_use]
    pub fn elements(&self) -> &[Element] {
        &self.elements
    }

    /// Adds an element.
    pub fn add(&mut self, name: &str, kind: Kind) -> ElementIndex {
        self.elements.push(Element {
            name: name.to_owned(),
            kind,
        });
        ElementIndex(self.elements.len() - 1)
    }

    /// Both nodes of a pair of names.
    fn pair(&mut self, between: [&str; 2]) -> [Node; 2] {
        between.map(|name| self.node(name))
    }

    /// Adds resistance and reactance, ohm.
    pub fn impedance(&mut self, name: &str, between: [&str; 2], ohms: Complex) -> ElementIndex {
        let between = self.pair(between);
        self.add(name, Kind::Impedance { between, ohms })
    }

    /// Adds a resistance, ohm.
    pub fn resistance(&mut self, name: &str, between: [&str; 2], ohms: f64) -> ElementIndex {
        self.impedance(name, between, Complex::new(ohms, 0.0))
    }

    /// Adds a capacitor, microfarad, with a loss of 0.1 % of its reactance (a film capacitor's loss factor).
    pub fn capacitor(&mut self, name: &str, between: [&str; 2], microfarad: f64) -> ElementIndex {
        let capacitance = Capacitance::new::<uom::si::capacitance::microfarad>(microfarad);
        let reactance = capacitor::reactance(capacitance, Frequency::new::<hertz>(HERTZ)).get::<ohm>();
        self.impedance(name, between, Complex::new(1e-3 * reactance, -reactance))
    }

    /// Adds a source of voltage: V and degrees.
    pub fn source(&mut self, name: &str, between: [&str; 2], volts: f64, degrees: f64) -> ElementIndex {
        let between = self.pair(between);
        let volts = Complex::from_polar(volts, degrees.to_radians());
        self.add(name, Kind::Source { between, volts })
    }

    /// Adds a contact with its resistance closed, ohm.
    pub fn switch(&mut self, name: &str, between: [&str; 2], closed: bool, ohms: f64) -> ElementIndex {
        let between = self.pair(between);
        self.add(
            name,
            Kind::Switch {
                between,
                closed,
                ohms,
            },
        )
    }

    /// Adds an ideal transformer: primary turns over secondary turns.
    pub fn transformer(
        &mut self,
        name: &str,
        primary: [&str; 2],
        secondary: [&str; 2],
        ratio: f64,
    ) -> ElementIndex {
        let (primary, secondary) = (self.pair(primary), self.pair(secondary));
        self.add(
            name,
            Kind::Transformer {
                primary,
                secondary,
                ratio,
            },
        )
    }

    /// Adds a machine of two ports.
    pub fn machine(&mut self, name: &str, ports: [[&str; 2]; 2], siemens: [[Complex; 2]; 2]) -> ElementIndex {
        let ports = ports.map(|port| self.pair(port));
        self.add(name, Kind::Machine { ports, siemens })
    }

    /// Adds a load of constant power: W, VAr, nominal V.
    pub fn load(&mut self, name: &str, between: [&str; 2], power: Complex, nominal: f64) -> ElementIndex {
        let between = self.pair(between);
        self.add(
            name,
            Kind::Load {
                between,
                power,
                nominal,
            },
        )
    }
}

/// An admittance put between two nodes beside the elements, siemens.
pub(super) type Bridge = ([Node; 2], Complex);
