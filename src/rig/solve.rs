//! The voltages and currents of a circuit: modified nodal analysis.
//!
//! Unknown are the voltage of every node against the earth, and the current of every source, ideal contact and transformer. Loads of
//! constant power stand in the matrix as an impedance, and what they take beside it is added as a current until it stands still; so the matrix is factored once. A small change, such as a meter put between two points, needs
//! no new factors either ([`Factored::bridged`]).

use super::circuit::{Bridge, Circuit, Complex, Node};
use super::error::SolveError;
use super::load::PowerLoad;
use super::lu::Lu;
use super::solution::Solution;
use super::stamp::Stamps;

/// Rounds for loads of constant power; a sound circuit needs five to fifteen.
const ROUNDS: usize = 400;

/// Change of a load's voltage, against its nominal, at which it stands still.
const STEADY: f64 = 1e-12;

/// Solves a circuit once.
///
/// # Errors
/// When it is singular or ill-conditioned, a load finds no voltage, or a value has no meaning.
pub fn solve(circuit: &Circuit) -> Result<Solution, SolveError> {
    Factored::of(circuit)?.solve()
}

/// A circuit with its matrix factored.
#[derive(Clone, Debug)]
pub struct Factored<'c> {
    circuit: &'c Circuit,
    lu: Lu,
    /// Right-hand side without the loads.
    side: Vec<Complex>,
    /// Unknown that is the current of an element.
    own: Vec<Option<usize>>,
}

impl<'c> Factored<'c> {
    /// Sets up and factors the matrix of a circuit.
    ///
    /// # Errors
    /// When it is singular, or a value has no meaning.
    pub fn of(circuit: &'c Circuit) -> Result<Self, SolveError> {
        let mut stamps = Stamps::new(circuit);
        for (place, element) in circuit.elements().iter().enumerate() {
            if !stamps.put(place, &element.kind) {
                return Err(SolveError::BadValue {
                    element: element.name.clone(),
                    node: circuit.name(element.kind.first()).to_owned(),
                });
            }
        }
        let Stamps {
            matrix,
            side,
            own,
            owners,
            ..
        } = stamps;
        let lu = Lu::of(matrix).map_err(|vanished| {
            let nodes = circuit.nodes().len() - 1;
            let node = match vanished.row.checked_sub(nodes) {
                None => Node(vanished.row + 1),
                Some(row) => circuit.elements()[owners[row]].kind.first(),
            };
            SolveError::Singular {
                node: circuit.name(node).to_owned(),
            }
        })?;
        Ok(Self {
            circuit,
            lu,
            side,
            own,
        })
    }

    /// Voltages and currents.
    ///
    /// # Errors
    /// When the circuit is ill-conditioned or a load finds no voltage.
    pub fn solve(&self) -> Result<Solution, SolveError> {
        self.steady(None, |side| self.lu.solve(side))
    }

    /// The impedance seen between two nodes with every source dead, ohm: what an added current there would meet.
    #[must_use]
    pub fn thevenin(&self, between: [Node; 2]) -> Complex {
        let pushed = self.lu.solve(&self.across(between));
        volt(&pushed, between[0]) - volt(&pushed, between[1])
    }

    /// Voltages and currents with an admittance more between two nodes, siemens (less, where negative): a meter put there, or one
    /// resistance changed. The change is of rank one, so the factors are kept (Sherman and Morrison, 1950).
    ///
    /// # Errors
    /// As for [`Factored::solve`].
    pub fn bridged(&self, between: [Node; 2], siemens: Complex) -> Result<Solution, SolveError> {
        let pushed = self.lu.solve(&self.across(between));
        let against = volt(&pushed, between[0]) - volt(&pushed, between[1]);
        let share = siemens / (1.0 + siemens * against);
        self.steady(Some((between, siemens)), |side| {
            let mut found = self.lu.solve(side);
            let amount = share * (volt(&found, between[0]) - volt(&found, between[1]));
            for (found, pushed) in found.iter_mut().zip(&pushed) {
                *found -= amount * pushed;
            }
            found
        })
    }

    /// One ampere from the second node to the first.
    fn across(&self, between: [Node; 2]) -> Vec<Complex> {
        let mut side = vec![Complex::ZERO; self.side.len()];
        push(&mut side, between, Complex::ONE);
        side
    }

    /// Lets the loads of constant power come to rest.
    fn steady(
        &self,
        bridge: Option<Bridge>,
        solved: impl Fn(&[Complex]) -> Vec<Complex>,
    ) -> Result<Solution, SolveError> {
        let loads = PowerLoad::all(self.circuit);
        let mut volts = vec![Complex::ZERO; loads.len()];
        let mut found = solved(&self.side);
        let mut rounds = 0;
        loop {
            let mut moved = None;
            let mut with_loads = self.side.clone();
            for (load, before) in loads.iter().zip(&mut volts) {
                let now = volt(&found, load.between[0]) - volt(&found, load.between[1]);
                if (now - *before).norm() > STEADY * load.nominal {
                    moved = Some(load);
                }
                *before = now;
                push(&mut with_loads, load.between, load.beside(now));
            }
            let Some(load) = moved else {
                return Solution::read(self.circuit, &self.own, &found, bridge);
            };
            if rounds == ROUNDS || !found.iter().all(|found| found.is_finite()) {
                return Err(SolveError::NoSteadyLoad {
                    load: self.circuit.elements()[load.place].name.clone(),
                    node: self.circuit.name(load.between[0]).to_owned(),
                    rounds,
                });
            }
            found = solved(&with_loads);
            rounds += 1;
        }
    }
}

/// Voltage of a node among the unknowns.
fn volt(found: &[Complex], node: Node) -> Complex {
    node.0.checked_sub(1).map_or(Complex::ZERO, |place| found[place])
}

/// Adds a current into the first node and out of the second.
fn push(side: &mut [Complex], between: [Node; 2], amps: Complex) {
    if let Some(place) = between[0].0.checked_sub(1) {
        side[place] += amps;
    }
    if let Some(place) = between[1].0.checked_sub(1) {
        side[place] -= amps;
    }
}
