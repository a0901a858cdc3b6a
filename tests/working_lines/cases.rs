//! Inputs for every calculation: seeded, of the sizes the trade meets, and now and then at the end of a range.

use lineside::quantity::{ConductorSize, Kind, Quantity, ValueKind, Word};
use lineside::standards::calculation::{Calculation, Input, InputError, Inputs, Report};

/// One case as typed, and what came of it.
pub(crate) struct Case {
    /// `name=text` pairs.
    pub(crate) typed: String,
    /// The report.
    pub(crate) report: Report,
}

/// Draws cases for a calculation and keeps those it accepts.
pub(crate) fn draw(calculation: &'static Calculation, tries: usize, seed: u64) -> Vec<Case> {
    let mut random = fastrand::Rng::with_seed(seed);
    (0..tries).filter_map(|_| one(calculation, &mut random)).collect()
}

fn one(calculation: &'static Calculation, random: &mut fastrand::Rng) -> Option<Case> {
    let share = random.f64();
    let scale = Scale::draw(random);
    let mut typed: Vec<(&str, String)> = Vec::new();
    let mut inputs = Inputs::default();
    let mut give = |input: &Input, inputs: &mut Inputs, random: &mut fastrand::Rng| {
        // A text that is refused is drawn again, for some ranges are narrow.
        (0..20).any(|_| {
            let text = scale.text(input, random);
            let taken = inputs.parse(calculation, input.name, &text).is_ok();
            if taken {
                typed.push((input.name, text));
            }
            taken
        })
    };
    for input in calculation.inputs {
        // Two inputs that say the same thing are refused, so one is given.
        if input.matters(calculation, &inputs) && (input.required || random.f64() < share) {
            give(input, &mut inputs, random);
        }
    }
    for _ in 0..6 {
        match (calculation.run)(&inputs) {
            Ok(report) => {
                let typed: Vec<_> = typed
                    .iter()
                    .map(|(name, text)| format!("{name}={text}"))
                    .collect();
                return Some(Case {
                    typed: typed.join(" "),
                    report,
                });
            }
            Err(InputError::Missing { input, .. }) => {
                let wanted = calculation.input(input)?;
                if !give(wanted, &mut inputs, random) {
                    return None;
                }
            }
            Err(_) => return None,
        }
    }
    None
}

/// Amounts that belong together: readings of one voltage lie near each other.
struct Scale {
    near: Vec<(Kind, f64)>,
    loose: bool,
}

impl Scale {
    fn draw(random: &mut fastrand::Rng) -> Self {
        let near = Kind::ALL
            .iter()
            .map(|kind| (*kind, usual(*kind)[random.usize(..usual(*kind).len())]))
            .collect();
        Self {
            near,
            loose: random.f64() < 0.3,
        }
    }

    fn text(&self, input: &Input, random: &mut fastrand::Rng) -> String {
        match input.kind {
            ValueKind::Quantity(kind) => self.amount(input, kind, random),
            ValueKind::Quantities(kind) => {
                let count = [1, 2, 3, 3, 3, 5][random.usize(..6)];
                let all: Vec<_> = (0..count).map(|_| self.amount(input, kind, random)).collect();
                all.join(", ")
            }
            ValueKind::Size => ConductorSize::ALL[random.usize(..ConductorSize::ALL.len())].to_string(),
            ValueKind::Choice => input.choices[random.usize(..input.choices.len())].to_owned(),
            ValueKind::Loads => [
                "freezer 6 motor; lamp 1.5",
                "heat tape 3.27 continuous",
                "pump 9.8 motor; fan 2.1 motor",
            ][random.usize(..3)]
            .to_owned(),
        }
    }

    fn amount(&self, input: &Input, kind: Kind, random: &mut fastrand::Rng) -> String {
        let (low, high) = input.range.unwrap_or((f64::MIN, f64::MAX));
        let near = self
            .near
            .iter()
            .find(|pair| pair.0 == kind)
            .map_or(1.0, |pair| pair.1);
        let usual = usual(kind);
        let number = match random.u8(..100) {
            0..=2 if input.range.is_some() => low,
            3..=5 if input.range.is_some() => high,
            6..=40 => usual[random.usize(..usual.len())],
            41..=60 => near,
            _ if self.loose => usual[random.usize(..usual.len())] * 10f64.powf(random.f64() - 0.5),
            _ => near * (0.94 + 0.12 * random.f64()),
        };
        // A person types three or four figures.
        let number = figures(number, 3 + random.i32(..2));
        let number = if kind == Kind::Count && number.abs() > 0.5 {
            number.round()
        } else {
            number
        };
        Quantity {
            kind,
            base: number.clamp(low, high),
        }
        .exact()
    }
}

fn figures(number: f64, figures: i32) -> f64 {
    if number == 0.0 {
        return number;
    }
    let places = figures - 1 - number.abs().log10().floor() as i32;
    format!("{number:.*}", places.clamp(0, 15) as usize)
        .parse()
        .unwrap_or(number)
}

/// Amounts a technician meets, in base units.
const fn usual(kind: Kind) -> &'static [f64] {
    match kind {
        Kind::Voltage => &[
            0.035, 0.9, 2.6, 12.0, 24.0, 27.3, 117.4, 120.0, 208.0, 230.0, 240.0, 277.0, 460.0, 480.0,
        ],
        Kind::Current => &[
            3.1e-6, 0.004, 0.4, 1.1, 6.7, 12.0, 18.5, 20.0, 30.0, 48.0, 60.0, 98.0, 212.0,
        ],
        Kind::Resistance => &[
            0.003, 0.05, 0.36, 0.8, 2.3, 11.7, 42.0, 1200.0, 15e3, 3.3e6, 100e6,
        ],
        Kind::Power | Kind::ApparentPower | Kind::ReactivePower => {
            &[25.0, 40.0, 75.0, 746.0, 1500.0, 4800.0, 9600.0, 18_000.0]
        }
        Kind::Capacitance => &[5e-6, 7.5e-6, 45e-6, 88e-6, 270e-6],
        Kind::Inductance => &[0.012, 0.4],
        Kind::Frequency => &[50.0, 60.0],
        Kind::Length => &[0.3, 1.07, 7.6, 15.2, 30.48, 61.0, 107.0],
        Kind::Temperature => &[-12.0, 20.0, 25.0, 30.0, 40.0, 46.0, 75.0],
        Kind::TemperatureRise => &[11.0, 17.5, 30.0],
        Kind::Time => &[0.02, 1.0, 12.0, 90.0, 1800.0, 7200.0, 86_400.0, 400_000.0],
        Kind::Ratio => &[0.02, 0.03, 0.05, 0.1, 0.5, 0.8, 0.85, 0.9, 1.0, 1.15],
        Kind::Count => &[1.0, 2.0, 3.0, 4.0, 6.0, 10.0],
        Kind::ShaftPower => &[186.4, 745.7, 2237.1, 3728.5, 7457.0],
        Kind::AirFlow => &[0.378, 0.566, 0.755],
        Kind::Area => &[2e-6, 5.26e-6, 33.6e-6],
        Kind::JouleIntegral => &[1200.0, 5400.0],
        Kind::Angle => &[18.0, 31.8, 36.9, 60.0],
    }
}
