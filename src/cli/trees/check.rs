//! `trees check`: every fault with its place and how to fix it.

use std::io::{self, IsTerminal, Write};

use clap::Args;
use serde_json::json;

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::{Format, OrLines, Printed};
use crate::cli::printing::as_json;
use crate::cli::problem::Done;
use crate::knowledge::finding::{Code, Severity};
use crate::knowledge::nearest::did_you_mean;
use crate::knowledge::{Files, check, render, waiting_words};
use crate::report::visible::visible;
use crate::standards::registry;

use super::Color;

/// Arguments of `trees check`.
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// Where the knowledge is read from.
    #[command(flatten)]
    pub knowledge: Folder,
    /// The form.
    #[command(flatten)]
    pub print: Printed<OrLines>,
    /// Show findings with this code only (may be repeated)
    #[arg(long = "only", value_name = "CODE")]
    pub only: Vec<String>,
    /// Color: auto, always or never; auto obeys `NO_COLOR`
    #[arg(long, value_enum, value_name = "WHEN", hide_possible_values = true)]
    pub color: Option<Color>,
}

impl CheckArgs {
    /// Whether what is printed carries marks of weight and color.
    pub(super) fn is_marked(&self) -> bool {
        self.print.form == Format::Text && Color::held(self.color).decide(io::stdout().is_terminal())
    }
}

/// Findings shown at most. Nobody reads more at once, and each is looked up in the whole of its file: ten thousand in one
/// file took more than two seconds.
const MOST_SHOWN: usize = 200;

/// Runs the command: well, or with findings.
pub(super) fn run(args: &CheckArgs, out: &mut dyn Write) -> Result<Done, Problem> {
    for code in &args.only {
        if !Code::ALL.iter().any(|known| known.as_str() == code) {
            let hint = did_you_mean(
                code,
                Code::ALL.iter().map(|known| known.as_str()),
                "see the table of rules",
            );
            return Err(Problem::data(format!("no rule `{code}` ({hint})")));
        }
    }
    let files = args
        .knowledge
        .trees
        .as_deref()
        .map_or_else(|| Ok(Files::embedded()), Files::read)?;
    let mut checked = check(files, registry::all());
    if !args.only.is_empty() {
        checked
            .findings
            .retain(|finding| args.only.iter().any(|code| code == finding.code.as_str()));
    }
    let number = |severity| {
        checked
            .findings
            .iter()
            .filter(|finding| finding.severity == severity)
            .count()
    };
    // The renderer takes care of texts and sources, not of the names of files.
    for file in &mut checked.files.list {
        file.shown = visible(&file.shown).into_owned();
    }
    let (errors, warnings) = (number(Severity::Error), number(Severity::Warning));
    let shown = &checked.findings[..checked.findings.len().min(MOST_SHOWN)];
    let left_out = checked.findings.len() - shown.len();
    match args.print.form {
        Format::Json => {
            let findings: Vec<_> = shown
                .iter()
                .map(|finding| render::data(&checked.files, finding))
                .collect();
            let all = json!({
                "files": checked.files.list.len(),
                "errors": errors,
                "warnings": warnings,
                "partial": checked.partial,
                "waiting": checked.waiting,
                "findings": findings,
                "left-out": left_out,
            });
            write!(out, "{}", as_json(&all)?)?;
        }
        form => {
            for finding in shown {
                if form == Format::Short {
                    writeln!(out, "{}", render::line(&checked.files, finding))?;
                } else {
                    writeln!(
                        out,
                        "{}\n",
                        render::snippet(
                            &checked.files,
                            finding,
                            Color::held(args.color).decide(io::stdout().is_terminal())
                        )
                    )?;
                }
            }
            if left_out > 0 {
                writeln!(
                    out,
                    "{} not shown; fix these first.",
                    render::count(left_out, "more finding")
                )?;
            }
            if let Some(words) = waiting_words(checked.waiting) {
                writeln!(out, "{words}.")?;
            }
            if checked.partial {
                writeln!(
                    out,
                    "The rules about routes and effects were left out; they run when the errors above are fixed."
                )?;
            }
            writeln!(
                out,
                "{} checked: {}, {}",
                render::count(checked.files.list.len(), "file"),
                render::count(errors, "error"),
                render::count(warnings, "warning")
            )?;
        }
    }
    Ok(if checked.findings.is_empty() {
        Done::Well
    } else {
        Done::Findings
    })
}
