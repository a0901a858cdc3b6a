//! Asking for the inputs of one calculation at the keyboard.

use std::collections::BTreeMap;
use std::io::{self, BufRead, Write};

use super::Problem;
use super::text::{Typed, understood, wrapped};
use crate::quantity::{Kind, ValueKind};
use crate::report::visible::visible;
use crate::standards::calculation::{Calculation, Input, Inputs};

/// Asks for every input of a calculation; an empty line, or `x` for what is not known, leaves an optional one out.
///
/// # Errors
/// When the input ends or the screen cannot be written to.
pub fn ask(
    calculation: &Calculation,
    keyboard: &mut dyn BufRead,
    screen: &mut dyn Write,
) -> Result<(Inputs, Typed), Problem> {
    let broken = |error: io::Error| Problem::data(format!("cannot ask: {error}"));
    let mut inputs = Inputs::default();
    let mut typed: Typed = BTreeMap::new();
    super::from_settings(calculation, &mut inputs, &mut typed)?;
    writeln!(screen, "{}", calculation.title).map_err(broken)?;
    for input in calculation.inputs {
        if !input.matters(calculation, &inputs) || typed.contains_key(input.name) {
            continue;
        }
        loop {
            writeln!(screen, "\n{}", wrapped(input.meaning, "", "")).map_err(broken)?;
            write!(screen, "{} ({}): ", input.name, wanted(input)).map_err(broken)?;
            screen.flush().map_err(broken)?;
            let mut line = String::new();
            if keyboard.read_line(&mut line).map_err(broken)? == 0 {
                return Err(Problem::data(
                    "the input ended before every question was answered",
                ));
            }
            let line = line.trim();
            let unknown = line.eq_ignore_ascii_case("x") && !input.choices.contains(&"x");
            if (line.is_empty() || unknown) && !input.is_required() {
                break;
            }
            if unknown {
                let without = format!(
                    "`{}` is needed; nothing can be worked out without it.",
                    input.name
                );
                writeln!(screen, "{}", visible(&without)).map_err(broken)?;
                continue;
            }
            match inputs.parse(calculation, input.name, line) {
                Ok(()) => {
                    if let Some(value) = inputs.get(input.name) {
                        let shown = understood(value);
                        if !same(&shown, line) {
                            writeln!(screen, "    = {}", visible(&shown)).map_err(broken)?;
                        }
                    }
                    typed.insert(input.name.to_owned(), line.to_owned());
                    break;
                }
                Err(error) => {
                    writeln!(screen, "{}", visible(&error.to_string())).map_err(broken)?;
                }
            }
        }
    }
    writeln!(screen).map_err(broken)?;
    Ok((inputs, typed))
}

/// Whether the screen would only repeat what was typed.
fn same(shown: &str, typed: &str) -> bool {
    let bare = |text: &str| text.to_lowercase().replace(' ', "");
    bare(shown) == bare(typed)
}

/// What an input takes, in a few words for a prompt.
fn wanted(input: &Input) -> String {
    let mut words = match input.kind {
        ValueKind::Choice => input.choices.join(", "),
        ValueKind::Quantity(Kind::Temperature | Kind::TemperatureRise) if input.symbol == "C" => {
            "C, or write F behind it".to_owned()
        }
        _ if input.symbol.is_empty() => input.kind.wanted(),
        _ => input.symbol.to_owned(),
    };
    if let Some(default) = input.default {
        words.push_str(&format!("; Enter for {default}"));
    } else if let Some(other) = input.same_as {
        words.push_str(&format!("; Enter for the same as {other}"));
    } else if !input.required {
        words.push_str("; Enter to leave out");
    }
    words
}
