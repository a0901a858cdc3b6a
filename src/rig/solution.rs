//! What a circuit comes to.

use super::circuit::{Bridge, Circuit, Complex, ElementIndex, Kind, Node};
use super::error::SolveError;
use super::load::PowerLoad;

/// Share of the current at a node that may be lost in rounding.
const MISSING: f64 = 1e-7;

/// The same against the largest current of the circuit: nanoamperes beside tens of amperes are the last digits of the voltages on
/// either side of a joint of a tenth of a milliohm, and beyond any meter.
const BESIDE: f64 = 1e-10;

/// Voltages and currents of a circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    volts: Vec<Complex>,
    amps: Vec<[Complex; 2]>,
    ohms: Vec<Option<Complex>>,
}

impl Solution {
    /// Voltage of a node against the earth, V.
    #[must_use]
    pub fn volts(&self, node: Node) -> Complex {
        self.volts[node.0]
    }

    /// Voltage of the first node against the second, V.
    #[must_use]
    pub fn between(&self, between: [Node; 2]) -> Complex {
        self.volts(between[0]) - self.volts(between[1])
    }

    /// Current through an element from its first node to its second, A; of a transformer, its primary; of a machine, its
    /// first port.
    #[must_use]
    pub fn amps(&self, element: ElementIndex) -> Complex {
        self.amps[element.0][0]
    }

    /// Current through the second port of a machine or the secondary of a transformer, into its first node, A; zero for what has
    /// one port.
    #[must_use]
    pub fn second_amps(&self, element: ElementIndex) -> Complex {
        self.amps[element.0][1]
    }

    /// What a load of constant power is as an impedance at the voltage it found, ohm; nothing for other elements.
    #[must_use]
    pub fn load_ohms(&self, element: ElementIndex) -> Option<Complex> {
        self.ohms[element.0]
    }

    /// Currents from voltages.
    ///
    /// # Errors
    /// When the currents at a node do not add up.
    pub(super) fn read(
        circuit: &Circuit,
        own: &[Option<usize>],
        found: &[Complex],
        bridge: Option<Bridge>,
    ) -> Result<Self, SolveError> {
        let nodes = circuit.nodes().len();
        let mut volts = Vec::with_capacity(nodes);
        volts.push(Complex::ZERO);
        volts.extend_from_slice(&found[..nodes - 1]);
        let count = circuit.elements().len();
        let mut solution = Self {
            volts,
            amps: Vec::with_capacity(count),
            ohms: vec![None; count],
        };
        for (place, element) in circuit.elements().iter().enumerate() {
            let amps = match (own[place], &element.kind) {
                (Some(own), Kind::Transformer { ratio, .. }) => [found[own], -found[own] * ratio],
                (Some(own), _) => [found[own], Complex::ZERO],
                (None, kind) => solution.current(kind),
            };
            if let Some(load) = PowerLoad::of(place, &element.kind) {
                solution.ohms[place] = Some(load.ohms(solution.between(load.between)));
            }
            solution.amps.push(amps);
        }
        solution.balanced(circuit, bridge)?;
        Ok(solution)
    }

    /// Current of an element that is no unknown.
    fn current(&self, kind: &Kind) -> [Complex; 2] {
        let amps = match kind {
            Kind::Impedance { between, ohms } => self.between(*between) / ohms,
            Kind::Switch {
                between,
                closed: true,
                ohms,
            } => self.between(*between) / ohms,
            Kind::Machine { ports, siemens } => {
                let volts = ports.map(|port| self.between(port));
                return siemens.map(|row| row[0] * volts[0] + row[1] * volts[1]);
            }
            load @ Kind::Load { between, .. } => {
                PowerLoad::of(0, load).map_or(Complex::ZERO, |load| load.drawn(self.between(*between)))
            }
            Kind::Source { .. } | Kind::Transformer { .. } | Kind::Switch { .. } => Complex::ZERO,
        };
        [amps, Complex::ZERO]
    }

    /// Kirchhoff's law of currents at every node, as the last word on whether rounding spoiled the solution.
    fn balanced(&self, circuit: &Circuit, bridge: Option<Bridge>) -> Result<(), SolveError> {
        let mut sums = vec![(Complex::ZERO, 0.0_f64); self.volts.len()];
        let mut flows = |between: [Node; 2], amps: Complex| {
            sums[between[0].0].0 += amps;
            sums[between[1].0].0 -= amps;
            for node in between {
                sums[node.0].1 = sums[node.0].1.max(amps.norm());
            }
        };
        if let Some((between, siemens)) = bridge {
            flows(between, self.between(between) * siemens);
        }
        for (element, amps) in circuit.elements().iter().zip(&self.amps) {
            let (port, second) = element.kind.ports();
            flows(port, amps[0]);
            if let Some(second) = second {
                flows(second, amps[1]);
            }
        }
        let most = sums.iter().map(|(_, most)| *most).fold(0.0, f64::max);
        for (place, (sum, own)) in sums.iter().enumerate().skip(1) {
            let missing = sum.norm() / own;
            let sound = sum.norm() <= BESIDE * most + 1e-9 || missing <= MISSING;
            if !sound {
                return Err(SolveError::IllConditioned {
                    node: circuit.nodes()[place].clone(),
                    missing,
                });
            }
        }
        Ok(())
    }
}
