//! The list of calculations in groups, and finding one by words.

use serde_json::json;

use crate::cli::printing::as_json;
use crate::knowledge::nearest::did_you_mean;
use crate::standards::calculation::Calculation;
use crate::standards::catalog::{self, GROUPS};
use crate::standards::registry;

use super::json::calculation_json;
use super::text::wrapped;
use super::{Format, Problem};

/// Width of the column of names.
const NAMES: usize = 27;

/// Every calculation under its heading.
pub(super) fn listed(format: Format) -> Result<String, Problem> {
    if format == Format::Json {
        let all: Vec<_> = registry::all().iter().map(calculation_json).collect();
        return as_json(&json!({ "calculations": all }));
    }
    let mut text = String::new();
    for group in GROUPS {
        text.push_str(&format!("{}\n", group.title));
        for calculation in group.names.iter().filter_map(|name| registry::find(name)) {
            text.push_str(&line(calculation));
        }
        text.push('\n');
    }
    text.push_str("Be asked for the inputs of one with `lineside figure NAME`.\n");
    text.push_str("Find one by words of the trade with `lineside figure mca`.\n");
    Ok(text)
}

/// The calculations that speak of the words typed.
///
/// # Errors
/// Wrong usage when none does, with the nearest name.
pub(super) fn found(words: &[String], format: Format) -> Result<String, Problem> {
    let typed: Vec<&str> = words.iter().map(String::as_str).collect();
    let found = catalog::search(&typed);
    if found.is_empty() {
        return Err(unknown(&typed.join(" ")));
    }
    if format == Format::Json {
        let all: Vec<_> = found.into_iter().map(calculation_json).collect();
        return as_json(&json!({ "calculations": all }));
    }
    let meant: Vec<String> = typed
        .iter()
        .map(|word| match catalog::stands_for(word) {
            Some(long) if long != *word => format!("{word} ({long})"),
            _ => (*word).to_owned(),
        })
        .collect();
    let mut text = format!(
        "Calculations that speak of {}, the closest first\n",
        meant.join(", ")
    );
    for calculation in found {
        text.push_str(&line(calculation));
    }
    text.push_str("\nBe asked for the inputs of one with `lineside figure NAME`.\n");
    Ok(text)
}

/// The problem of a name that is none.
pub(super) fn unknown(name: &str) -> Problem {
    let known = registry::all().iter().map(|calculation| calculation.name);
    Problem::usage(format!("no calculation `{name}`")).hint(did_you_mean(
        name,
        known,
        "`lineside figure` lists them, `lineside figure WORD` finds them by what they speak of",
    ))
}

fn line(calculation: &Calculation) -> String {
    let first = format!("  {:<NAMES$}", calculation.name);
    wrapped(calculation.title, &first, &" ".repeat(NAMES + 2)) + "\n"
}
