//! Loads that take the same power at any voltage.

use super::circuit::{Circuit, Complex, Kind, LEAST_VOLTAGE, Node};

/// A load of constant power.
pub(super) struct PowerLoad {
    pub(super) place: usize,
    pub(super) between: [Node; 2],
    pub(super) power: Complex,
    pub(super) nominal: f64,
}

impl PowerLoad {
    /// The load an element is, if it is one.
    pub(super) fn of(place: usize, kind: &Kind) -> Option<Self> {
        match *kind {
            Kind::Load {
                between,
                power,
                nominal,
            } => Some(Self {
                place,
                between,
                power,
                nominal,
            }),
            _ => None,
        }
    }

    /// Every load of a circuit.
    pub(super) fn all(circuit: &Circuit) -> Vec<Self> {
        let elements = circuit.elements().iter().enumerate();
        elements
            .filter_map(|(place, element)| Self::of(place, &element.kind))
            .collect()
    }

    /// Its admittance at the least voltage at which it still takes its power: the largest it ever has. With this in the matrix what is
    /// added beside it shrinks from round to round, also where almost nothing feeds the load.
    pub(super) fn siemens(&self) -> Complex {
        let least = LEAST_VOLTAGE * self.nominal;
        self.power.conj() / (least * least)
    }

    /// The current it draws at a voltage.
    pub(super) fn drawn(&self, volts: Complex) -> Complex {
        if volts.norm() >= LEAST_VOLTAGE * self.nominal {
            (self.power / volts).conj()
        } else {
            self.siemens() * volts
        }
    }

    /// What is to be pushed in beside the admittance that stands in the matrix.
    pub(super) fn beside(&self, volts: Complex) -> Complex {
        self.siemens() * volts - self.drawn(volts)
    }

    /// The impedance it is at a voltage.
    pub(super) fn ohms(&self, volts: Complex) -> Complex {
        let amps = self.drawn(volts);
        if amps.norm() > 0.0 {
            volts / amps
        } else {
            self.siemens().inv()
        }
    }
}
