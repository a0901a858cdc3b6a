//! Everything a fact or the input of a calculation can be.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::read::{mixed_units, written_unit};
use super::{ConductorSize, Kind, Quantity, ReadError, Word};

/// What is typed, and printed, where nothing else is on a circuit.
const NO_LOAD: [&str; 3] = ["none", "nothing", "nothing else"];

/// One load on a circuit, as a technician lists it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Load {
    /// What it is, in the technician's words.
    pub name: String,
    /// Its current in amperes at the circuit's voltage.
    pub amps: f64,
    /// It is expected to run three hours or more.
    #[serde(default)]
    pub continuous: bool,
    /// It is a motor, so the largest one counts at 125 %.
    #[serde(default)]
    pub motor: bool,
}

/// A known value: of a fact, or put into a calculation.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Value {
    /// A number with a unit.
    Quantity(Quantity),
    /// Several numbers of one kind, such as the circuits a nameplate asks for.
    Quantities(Vec<Quantity>),
    /// A conductor size.
    Size(ConductorSize),
    /// One of a few named choices, by id.
    Choice(String),
    /// The loads on a circuit.
    Loads(Vec<Load>),
}

/// What sort of [`Value`] a fact or an input takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum ValueKind {
    /// A number with a unit.
    Quantity(Kind),
    /// Several numbers of one kind.
    Quantities(Kind),
    /// A conductor size.
    Size,
    /// One of a few named choices.
    Choice,
    /// The loads on a circuit.
    Loads,
}

impl ValueKind {
    /// Says what is wanted: `a voltage in V`, `a conductor size`.
    #[must_use]
    pub fn wanted(self) -> String {
        match self {
            Self::Quantity(kind) if kind.usual_symbol().is_empty() => kind.with_article().to_owned(),
            Self::Quantity(kind) => format!("{} in {}", kind.with_article(), kind.usual_symbol()),
            Self::Quantities(kind) => {
                format!(
                    "one or more of {} in {}, such as `60, 30`",
                    kind.word(),
                    kind.usual_symbol()
                )
            }
            Self::Size => "a conductor size, such as `8 AWG`".to_owned(),
            Self::Choice => "one of the choices".to_owned(),
            Self::Loads => "loads, such as `freezer 6 motor; lamp 1.5`".to_owned(),
        }
    }
}

impl Value {
    /// Reads a value of the given kind as a person would type it.
    ///
    /// A bare number is in the unit `default_symbol`, or in the base unit of the kind when that is nothing.
    /// A choice must be one of `choices`, case and usual spellings apart.
    ///
    /// # Errors
    /// Every case of [`ReadError`] but the two of a range.
    pub fn parse(
        text: &str,
        kind: ValueKind,
        default_symbol: Option<&str>,
        choices: &[&str],
    ) -> Result<Self, ReadError> {
        match kind {
            ValueKind::Quantity(kind) => {
                Quantity::parse_in(text, kind, default_symbol.unwrap_or(kind.base_symbol()))
                    .map(Self::Quantity)
            }
            ValueKind::Quantities(kind) => {
                let symbol = default_symbol.unwrap_or(kind.base_symbol());
                let spread = text.replace(" and ", ",");
                let parts: Vec<_> = spread
                    .split([',', ';', '/', '+'])
                    .map(str::trim)
                    .filter(|part| !part.is_empty())
                    .collect();
                if parts.is_empty() {
                    return Err(ReadError::Empty {
                        expected: ValueKind::Quantities(kind).wanted(),
                    });
                }
                let units: Vec<_> = parts.iter().filter_map(|part| written_unit(part, kind)).collect();
                mixed_units(&units, text.trim(), symbol)?;
                parts
                    .into_iter()
                    .map(|part| Quantity::parse_in(part, kind, symbol))
                    .collect::<Result<_, _>>()
                    .map(Self::Quantities)
            }
            ValueKind::Size => ConductorSize::parse(text).map(Self::Size),
            ValueKind::Choice => {
                let typed = text.trim();
                super::choice_among(typed, choices)
                    .map(|choice| Self::Choice(choice.to_owned()))
                    .ok_or_else(|| ReadError::NoSuchChoice {
                        text: typed.to_owned(),
                        choices: match choices.split_last() {
                            Some((last, [])) => format!("`{last}`"),
                            Some((last, rest)) => format!("`{}` or `{last}`", rest.join("`, `")),
                            None => "no choices".to_owned(),
                        },
                    })
            }
            ValueKind::Loads if NO_LOAD.contains(&text.trim().to_lowercase().as_str()) => {
                Ok(Self::Loads(Vec::new()))
            }
            ValueKind::Loads => {
                let loads: Vec<_> = text
                    .split([';', '\n'])
                    .map(str::trim)
                    .filter(|item| !item.is_empty())
                    .map(Load::parse)
                    .collect::<Result<_, _>>()?;
                if loads.is_empty() {
                    return Err(ReadError::Empty {
                        expected: ValueKind::Loads.wanted(),
                    });
                }
                Ok(Self::Loads(loads))
            }
        }
    }

    /// Prints the value without rounding; [`Value::parse`] gives the same value back.
    #[must_use]
    pub fn exact(&self) -> String {
        match self {
            Self::Quantity(quantity) => quantity.exact(),
            Self::Quantities(all) => all.iter().map(Quantity::exact).collect::<Vec<_>>().join(", "),
            Self::Loads(loads) if !loads.is_empty() => loads
                .iter()
                .map(|load| load.text(load.amps.to_string()))
                .collect::<Vec<_>>()
                .join("; "),
            other => other.to_string(),
        }
    }

    /// Returns the quantity, if it is one.
    #[must_use]
    pub fn quantity(&self) -> Option<Quantity> {
        match self {
            Self::Quantity(quantity) => Some(*quantity),
            _ => None,
        }
    }
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Quantity(quantity) => quantity.fmt(f),
            Self::Quantities(all) => {
                f.write_str(&all.iter().map(Quantity::to_string).collect::<Vec<_>>().join(", "))
            }
            Self::Size(size) => size.fmt(f),
            Self::Choice(id) => f.write_str(id),
            Self::Loads(loads) if loads.is_empty() => f.write_str(NO_LOAD[0]),
            Self::Loads(loads) => {
                f.write_str(&loads.iter().map(Load::to_string).collect::<Vec<_>>().join("; "))
            }
        }
    }
}

impl From<Quantity> for Value {
    fn from(quantity: Quantity) -> Self {
        Self::Quantity(quantity)
    }
}

impl From<ConductorSize> for Value {
    fn from(size: ConductorSize) -> Self {
        Self::Size(size)
    }
}

impl Load {
    /// Reads one load: a name, its amperes, and the words `motor` and `continuous` where they apply.
    ///
    /// # Errors
    /// When the name or the current is missing, or power is given instead of current.
    pub fn parse(text: &str) -> Result<Self, ReadError> {
        let typed = text.trim();
        let not_a_load = || ReadError::NotALoad {
            text: typed.to_owned(),
        };
        let mut words: Vec<&str> = typed.split_whitespace().collect();
        let (mut motor, mut continuous) = (false, false);
        while let Some(last) = words.last() {
            match last.trim_matches(',').to_ascii_lowercase().as_str() {
                "motor" => motor = true,
                "continuous" => continuous = true,
                _ => break,
            }
            words.pop();
        }
        // A motor named before its figure is a motor too: `fan motor 6`. Counting it so is the safe side.
        motor |= words.iter().any(|word| word.eq_ignore_ascii_case("motor"));
        continuous |= words.iter().any(|word| word.eq_ignore_ascii_case("continuous"));
        let begins_with_digit =
            |word: &&str| word.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | '-'));
        let at = words.iter().rposition(begins_with_digit).ok_or_else(not_a_load)?;
        let name = words[..at].join(" ");
        let figure = words[at..].join(" ");
        if name.trim_matches(',').is_empty() {
            return Err(not_a_load());
        }
        let current = Quantity::parse(&figure, Kind::Current).map_err(|error| {
            let in_watts = [Kind::Power, Kind::ApparentPower, Kind::ShaftPower]
                .into_iter()
                .any(|kind| Quantity::parse_in(&figure, kind, "").is_ok());
            if in_watts {
                ReadError::LoadInWatts {
                    text: typed.to_owned(),
                }
            } else {
                error
            }
        })?;
        Ok(Self {
            name: name.trim_matches(',').to_owned(),
            amps: current.base,
            continuous,
            motor,
        })
    }

    fn text(&self, amps: String) -> String {
        let mut text = format!("{} {amps} A", self.name);
        if self.motor {
            text.push_str(" motor");
        }
        if self.continuous {
            text.push_str(" continuous");
        }
        text
    }
}

impl fmt::Display for Load {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let amps = super::show::rounded(self.amps, 4, 2);
        f.write_str(&self.text(amps))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn loads(text: &str) -> Vec<Load> {
        match Value::parse(text, ValueKind::Loads, None, &[]) {
            Ok(Value::Loads(loads)) => loads,
            other => panic!("{text}: {other:?}"),
        }
    }

    fn load(name: &str, amps: f64, motor: bool, continuous: bool) -> Load {
        Load {
            name: name.to_owned(),
            amps,
            continuous,
            motor,
        }
    }

    #[test]
    fn loads_are_read_as_they_are_listed() {
        assert_eq!(
            loads("freezer 6 motor; sump pump 9.8 A motor; lamp 1.5"),
            [
                load("freezer", 6.0, true, false),
                load("sump pump", 9.8, true, false),
                load("lamp", 1.5, false, false)
            ]
        );
        assert_eq!(
            loads("heat tape 3.2A continuous"),
            [load("heat tape", 3.2, false, true)]
        );
        assert_eq!(loads("fan motor 6 A"), [load("fan motor", 6.0, true, false)]);
        assert_eq!(loads("lamp 2 0.5 amps;"), [load("lamp 2", 0.5, false, false)]);
        assert_eq!(loads("relay 300 mA"), [load("relay", 0.3, false, false)]);
        for none in ["none", " Nothing else "] {
            assert_eq!(loads(none), []);
        }
    }

    #[test]
    fn loads_that_say_too_little_are_refused_with_a_fix() {
        let refused = |text| {
            Value::parse(text, ValueKind::Loads, None, &[])
                .unwrap_err()
                .to_string()
        };
        assert!(refused("lamp 300 W").contains("watts divided by volts"));
        assert!(refused("pump 1/2 hp motor").contains("type amperes"));
        assert!(refused("lamp").contains("a name and its amperes"));
        assert!(refused("6").contains("a name and its amperes"));
        assert!(refused("lamp -6").contains("below zero"));
        assert!(refused(" ; ").contains("nothing was typed"));
        assert!(refused("lamp 230 V").contains("is a voltage, expected a current"));
    }

    #[test]
    fn lists_choices_and_sizes_are_read() {
        let currents = Value::parse("60, 30", ValueKind::Quantities(Kind::Current), None, &[]).unwrap();
        assert_eq!(currents.to_string(), "60 A, 30 A");
        assert_eq!(
            Value::parse("60 and 30 A", ValueKind::Quantities(Kind::Current), None, &[]),
            Ok(currents)
        );
        assert!(Value::parse(",", ValueKind::Quantities(Kind::Current), None, &[]).is_err());
        // Five watts and five kilowatts, or ten kilowatts? Nobody can tell.
        let powers = |text| Value::parse(text, ValueKind::Quantities(Kind::Power), Some("W"), &[]);
        assert!(
            powers("5, 5 kW")
                .unwrap_err()
                .to_string()
                .contains("behind every number")
        );
        assert!(powers("5 kW, 5 kW").is_ok() && powers("500, 100 W").is_ok());
        let metals = ["copper", "aluminium"];
        assert_eq!(
            Value::parse(" Copper", ValueKind::Choice, None, &metals),
            Ok(Value::Choice("copper".to_owned()))
        );
        assert_eq!(
            Value::parse("tin", ValueKind::Choice, None, &metals)
                .unwrap_err()
                .to_string(),
            "`tin` is none of the choices; expected `copper` or `aluminium`"
        );
        assert_eq!(
            Value::parse("8", ValueKind::Size, None, &[]),
            Ok(Value::Size(ConductorSize::Awg(8)))
        );
    }

    #[test]
    fn exact_text_gives_the_same_value_back() {
        for (text, kind) in [
            ("1/3 hp", ValueKind::Quantity(Kind::ShaftPower)),
            ("60.1, 30.333333333333336", ValueKind::Quantities(Kind::Current)),
            ("freezer 6.123456789 motor; lamp 1.5 continuous", ValueKind::Loads),
            ("none", ValueKind::Loads),
            ("1/0", ValueKind::Size),
        ] {
            let value = Value::parse(text, kind, None, &[]).unwrap();
            assert_eq!(Value::parse(&value.exact(), kind, None, &[]), Ok(value));
        }
    }
}
