//! `trees diff`: what an edited folder changes.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use serde_json::json;

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::{Format, Printed};
use crate::cli::printing::as_json;
use crate::inference::words::percent;
use crate::knowledge::compare::{Change, Sort, changes};
use crate::knowledge::render;

use super::standing::{EndsAt, Example, examples};

/// Where answer files are looked for when no folder is given.
const EXAMPLES: &str = "examples";

/// Arguments of `trees diff`.
#[derive(Debug, Args)]
pub struct DiffArgs {
    /// The edited folder, compared with what is built in or with `--trees`
    #[arg(value_name = "DIR")]
    pub edited: PathBuf,
    /// Where the knowledge is read from.
    #[command(flatten)]
    pub knowledge: Folder,
    /// Folder of answer files to walk before and after; `examples` when there is one
    #[arg(long, value_name = "DIR")]
    pub with: Option<PathBuf>,
    /// The form.
    #[command(flatten)]
    pub print: Printed,
}

/// Runs the command.
pub(super) fn run(args: &DiffArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let before = args.knowledge.load()?;
    let after = Folder {
        trees: Some(args.edited.clone()),
    }
    .load()?;
    let changes = changes(before, after);
    let folder = match &args.with {
        Some(folder) => Some(folder.as_path()),
        None => Some(Path::new(EXAMPLES)).filter(|folder| folder.is_dir()),
    };
    let examples = match folder {
        Some(folder) => Some(examples(folder, before, after)?),
        None => None,
    };
    match args.print.form {
        Format::Json => {
            let examples = examples.iter().flatten().map(|example| {
                let side = |side: &Result<EndsAt, String>| match side {
                    Ok(place) => json!(place),
                    Err(error) => json!({ "error": error }),
                };
                json!({
                    "name": example.name,
                    "cause": example.cause,
                    "moved": example.moved(),
                    "before": side(&example.before),
                    "after": side(&example.after),
                })
            });
            let data = json!({
                "before": before.fingerprint,
                "after": after.fingerprint,
                "changes": changes,
                "examples": examples.collect::<Vec<_>>(),
            });
            write!(out, "{}", as_json(&data)?)?;
        }
        _ => {
            print_changes(&changes, out)?;
            match examples {
                Some(examples) => print_examples(&examples, out)?,
                None => writeln!(
                    out,
                    "\nNo folder `{EXAMPLES}` here; give one with `--with DIR` to see what the edit does to cases."
                )?,
            }
        }
    }
    Ok(())
}

fn print_changes(changes: &[Change], out: &mut dyn Write) -> Result<(), Problem> {
    if changes.is_empty() {
        writeln!(out, "Nothing is changed.")?;
        return Ok(());
    }
    let mut title = "";
    for change in changes {
        let (heading, line) = said(change);
        if heading != title {
            let gap = if title.is_empty() { "" } else { "\n" };
            writeln!(out, "{gap}{heading}")?;
            title = heading;
        }
        writeln!(out, "  {line}")?;
    }
    Ok(())
}

/// The heading a change stands under, and its line.
fn said(change: &Change) -> (&'static str, String) {
    let was = |text: &Option<String>| text.clone().unwrap_or_else(|| "nothing".to_owned());
    match change {
        Change::Added { sort, id } => (heading(*sort), format!("new      {id}")),
        Change::Removed { sort, id } => (heading(*sort), format!("gone     {id}")),
        Change::Route {
            tree,
            node,
            way,
            from,
            to,
        } => (
            "Trees",
            match (way.strip_prefix("pool "), from) {
                (Some(test), None) => format!("{tree}/{node}: `{test}` into the pool"),
                (Some(test), Some(_)) => format!("{tree}/{node}: `{test}` out of the pool"),
                (None, _) => format!("{tree}/{node}, {way}: {} -> {}", was(from), was(to)),
            },
        ),
        Change::Shares {
            sort,
            id,
            of,
            from,
            to,
        } => (
            heading(*sort),
            format!("{id}, {of}: {} -> {}", was(from), was(to)),
        ),
        Change::Shows {
            test,
            outcome,
            effect,
            from,
            to,
        } => (
            "Tests",
            format!("{test}/{outcome} shows of {effect}: {} -> {}", was(from), was(to)),
        ),
        Change::Finds {
            test,
            outcome,
            cause,
            from,
            to,
        } => (
            "Tests",
            format!("{test}/{outcome} finds {cause}: {} -> {}", was(from), was(to)),
        ),
        Change::Usual {
            test,
            outcome,
            from,
            to,
        } => ("Tests", format!("{test}/{outcome}, usual: {from} -> {to}")),
        Change::Bound {
            test,
            outcome,
            from,
            to,
        } => (
            "Tests",
            format!("{test}/{outcome}, bound: {} -> {}", was(from), was(to)),
        ),
        Change::Setting {
            sort,
            id,
            key,
            from,
            to,
        } => (
            heading(*sort),
            if LISTS.contains(key) {
                format!("{id}, {key}: {}", list_said(from, to))
            } else {
                format!("{id}, {key}: `{from}` -> `{to}`")
            },
        ),
        Change::Reworded { sort, id } => (heading(*sort), format!("reworded {id}")),
    }
}

/// Settings that are lists, of which only what differs is worth reading.
const LISTS: [&str; 4] = ["parts", "requires", "needs", "stand-in"];

fn list_said(from: &str, to: &str) -> String {
    let only = |one: &str, other: &str| -> Vec<String> {
        one.split(", ")
            .filter(|item| !item.is_empty() && other.split(", ").all(|known| known != *item))
            .map(|item| format!("`{item}`"))
            .collect()
    };
    let said: Vec<String> = [("gone", only(from, to)), ("new", only(to, from))]
        .into_iter()
        .filter(|(_, items)| !items.is_empty())
        .map(|(word, items)| format!("{word} {}", items.join(", ")))
        .collect();
    if said.is_empty() {
        "another order".to_owned()
    } else {
        said.join("; ")
    }
}

fn heading(sort: Sort) -> &'static str {
    match sort {
        Sort::Equipment => "Equipment",
        Sort::Accessory => "Accessories",
        Sort::Fact => "Facts",
        Sort::Requirement => "Requirements",
        Sort::Hold => "Holds",
        Sort::Effect | Sort::State => "Effects",
        Sort::Family => "Families",
        Sort::Cause => "Causes",
        Sort::Test | Sort::Outcome => "Tests",
        Sort::Tree | Sort::Node => "Trees",
    }
}

fn print_examples(examples: &[Example], out: &mut dyn Write) -> Result<(), Problem> {
    let moved: Vec<&Example> = examples.iter().filter(|example| example.moved()).collect();
    writeln!(
        out,
        "\nExamples: {} walked, {} moved",
        examples.len(),
        moved.len()
    )?;
    for example in &moved {
        writeln!(
            out,
            "  {} (intended: {})",
            example.name,
            example.cause.as_deref().unwrap_or("none named")
        )?;
        writeln!(out, "    before  {}", place_text(&example.before))?;
        writeln!(out, "    after   {}", place_text(&example.after))?;
    }
    let first = |side: fn(&Example) -> &Result<EndsAt, String>, within: usize| {
        examples
            .iter()
            .filter(|example| {
                side(example)
                    .as_ref()
                    .is_ok_and(|place| place.place.is_some_and(|place| place <= within))
            })
            .count()
    };
    let intended = examples.iter().filter(|example| example.cause.is_some()).count();
    writeln!(
        out,
        "Of {} the intended cause is first in {} before, {} after; in the first three in {} before, {} after.",
        render::count(intended, "example"),
        first(|example| &example.before, 1),
        first(|example| &example.after, 1),
        first(|example| &example.before, 3),
        first(|example| &example.after, 3),
    )?;
    Ok(())
}

fn place_text(side: &Result<EndsAt, String>) -> String {
    match side {
        Err(error) => format!("cannot be walked: {error}"),
        Ok(place) => {
            let intended = match place.place {
                Some(1) => "the intended cause leads".to_owned(),
                Some(number) => format!(
                    "the intended one at place {number}, {}",
                    percent(place.probability)
                ),
                None => "the intended one does not apply".to_owned(),
            };
            match &place.leader {
                Some(leader) => format!("{leader} {}; {intended}", percent(place.leader_probability)),
                None => "no cause applies".to_owned(),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::list_said;

    #[test]
    fn of_a_list_only_what_differs_is_said() {
        assert_eq!(
            list_said("blower, igniter", "blower, gas-valve"),
            "gone `igniter`; new `gas-valve`"
        );
        assert_eq!(list_said("", "blower"), "new `blower`");
        assert_eq!(list_said("a, b", "b, a"), "another order");
    }
}
