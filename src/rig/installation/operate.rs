//! What really runs when something is called: contactor, motor and supply act on each other until they agree.

use super::super::circuit::{Circuit, Complex};
use super::super::error::SolveError;
use super::super::motor::Running;
use super::super::solution::Solution;
use super::super::solve::solve;
use super::whole::{Installation, RATED_AIR, Situation};

/// What is asked of the unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Call {
    /// Nothing.
    Rest,
    /// Cooling (or heat by the heat pump): compressor, fans.
    Cooling,
    /// Heat by burner or heater.
    Heat,
    /// Only the blower.
    Fan,
}

/// Volts of 24 at which a contactor pulls in (common practice: 75 to 80 %).
const PULLS_IN: f64 = 0.75 * 24.0;

/// Volts of 24 under which it lets go (common practice: 50 to 60 %).
pub const LETS_GO: f64 = 0.56 * 24.0;

/// Share by which the load of a compressor grows with each degree C of outdoor air: makers' tables of power by outdoor
/// temperature rise by about that much. A judgment.
const HARDER: f64 = 0.012;

/// Current that opens the control fuse of 3 or 5 A.
const CONTROL_FUSE: f64 = 5.0;

/// An installation at work, with its voltages and currents.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Operating {
    pub now: Situation,
    pub circuit: Circuit,
    pub solution: Solution,
    /// The compressor turns.
    pub turns: bool,
    /// The contactor pulls in and lets go again and again.
    pub chatters: bool,
}

impl Operating {
    /// Voltage between two named nodes, V; 0 where there is no such node.
    #[must_use]
    pub fn volts(&self, from: &str, to: &str) -> f64 {
        self.phasor(from, to).norm()
    }

    /// The same as a phasor.
    #[must_use]
    pub fn phasor(&self, from: &str, to: &str) -> Complex {
        match (self.circuit.find(from), self.circuit.find(to)) {
            (Some(from), Some(to)) => self.solution.between([from, to]),
            _ => Complex::ZERO,
        }
    }

    /// Current of an element, A; 0 where there is no such element.
    #[must_use]
    pub fn amps(&self, name: &str) -> f64 {
        self.current(name).norm()
    }

    /// The same as a phasor.
    #[must_use]
    pub fn current(&self, name: &str) -> Complex {
        self.circuit
            .element(name)
            .map_or(Complex::ZERO, |element| self.solution.amps(element))
    }

    /// Current in the compressor's common lead, A.
    #[must_use]
    pub fn compressor_amps(&self) -> f64 {
        let Some(element) = self.circuit.element("compressor") else {
            return self.amps("inverter");
        };
        let (first, second) = (self.solution.amps(element), self.solution.second_amps(element));
        if self.circuit.find("m_3").is_some() {
            first.norm().max(second.norm()).max((first + second).norm())
        } else {
            (first + second).norm()
        }
    }

    /// Watts lost in a resistance.
    #[must_use]
    pub fn watts(&self, name: &str) -> f64 {
        let Some(element) = self.circuit.element(name) else {
            return 0.0;
        };
        let (between, _) = self.circuit.elements()[element.0].kind.ports();
        (self.solution.between(between) * self.solution.amps(element).conj()).re
    }
}

impl Installation {
    /// Solves one situation.
    ///
    /// # Errors
    /// When the circuit has no solution.
    pub fn solved(&self, now: Situation) -> Result<Operating, SolveError> {
        let circuit = self.circuit(&now);
        let solution = solve(&circuit)?;
        Ok(Operating {
            now,
            circuit,
            solution,
            turns: false,
            chatters: false,
        })
    }

    /// What runs, some seconds after a call; `from` holds what has tripped and how warm the wire is.
    ///
    /// # Errors
    /// When the circuit has no solution.
    pub fn operate(&self, call: Call, from: Situation) -> Result<Operating, SolveError> {
        let lost = self.values.call_lost > 0.0 || self.values.protector > 0.0;
        let call = if lost && !self.plate.has("contactor") && call != Call::Fan {
            Call::Rest
        } else {
            call
        };
        let mut now = Situation {
            cooling: call == Call::Cooling,
            heat: call == Call::Heat,
            blower: call == Call::Fan,
            stages: if call == Call::Heat || call == Call::Cooling && self.values.heat_with_cooling > 0.0 {
                1.0
            } else {
                self.values.heat_stuck
            },
            pulled_in: false,
            slip: 1.0,
            ..from
        };
        self.blow_control_fuse(&mut now)?;
        let (pulled_in, mut chatters) = self.contactor(&mut now)?;
        now.pulled_in = pulled_in;
        let running = self.motor_runs(&mut now)?;
        let mut found = self.solved(now)?;
        // A contactor that lets go as the motor starts tries again at once.
        if now.cooling && pulled_in && self.has_coil() {
            let started = self.solved(Situation { slip: 1.0, ..now })?;
            chatters |= started.volts("coil_1", "coil_2") < LETS_GO;
            if found.volts("coil_1", "coil_2") < LETS_GO {
                chatters = true;
            }
        }
        found.turns = running.turns;
        found.chatters = chatters;
        Ok(found)
    }

    fn has_coil(&self) -> bool {
        self.plate.has("contactor") && self.plate.transformer > 0.0
    }

    /// The fuse of the control circuit opens where a short draws more than it stands.
    fn blow_control_fuse(&self, now: &mut Situation) -> Result<(), SolveError> {
        if self.plate.transformer > 0.0 && !now.control_fuse {
            now.control_fuse = self.solved(*now)?.amps("secondary") > CONTROL_FUSE;
        }
        Ok(())
    }

    /// Whether the contactor closes and holds, and whether it cannot decide.
    fn contactor(&self, now: &mut Situation) -> Result<(bool, bool), SolveError> {
        // Without a contactor the board switches what is called.
        if !self.plate.has("contactor") {
            return Ok((now.cooling || now.heat || now.blower, false));
        }
        if !now.cooling {
            return Ok((false, false));
        }
        if self.values.coil_open > 0.0 {
            return Ok((false, false));
        }
        let coil = |at: &Operating| at.volts("coil_1", "coil_2");
        let standing = coil(&self.solved(*now)?);
        if standing < PULLS_IN || self.values.armature > 0.0 {
            // Nearly enough: it jumps and falls back.
            return Ok((false, standing > 0.6 * PULLS_IN && self.values.armature == 0.0));
        }
        let seated = coil(&self.solved(Situation {
            pulled_in: true,
            ..*now
        })?);
        Ok((seated >= LETS_GO, seated < LETS_GO))
    }

    /// Where the motor settles at the voltages the whole installation leaves it.
    fn motor_runs(&self, now: &mut Situation) -> Result<Running, SolveError> {
        let stands = Running {
            slip: 1.0,
            turns: false,
        };
        let on = now.pulled_in || self.values.contact_welded > 0.0;
        let Some(motor) = self.motor.filter(|_| on && self.values.winding_open == 0.0) else {
            return Ok(Running {
                slip: 1.0,
                turns: self.plate.has("inverter") && now.cooling,
            });
        };
        if now.protector || self.values.locked > 0.0 {
            return Ok(stands);
        }
        let mut failed = None;
        let base = *now;
        let mut torque = |slip: f64| match self.solved(Situation { slip, ..base }) {
            Ok(found) => {
                let Some(element) = found.circuit.element("compressor") else {
                    return 0.0;
                };
                let (first, second) = (found.solution.amps(element), found.solution.second_amps(element));
                motor.torque_of(slip, first, second)
            }
            Err(error) => {
                failed = Some(error);
                0.0
            }
        };
        let head = self.values.head * (1.0 + HARDER * (base.air - RATED_AIR));
        let running = motor.settles(head, self.values.stiff, &mut torque);
        if let Some(error) = failed {
            return Err(error);
        }
        // A millionth: so that the circuit does not hang on the last digits of the search.
        now.slip = (1e6 * running.slip).round() / 1e6;
        Ok(Running {
            slip: now.slip,
            ..running
        })
    }
}
