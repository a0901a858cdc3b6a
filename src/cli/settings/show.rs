//! `lineside settings`: where the settings stand, what they say, and what else could be said.

use std::fmt::Write as _;

use clap::Args;
use serde_json::json;
use textwrap::Options;

use crate::cli::Problem;
use crate::cli::options::Printed;
use crate::cli::options::{Color, Format};
use crate::cli::printing::print;
use crate::cli::problem::Done;

use super::Choice;
use super::form::Settings;
use super::keys::KEYS;
use super::read::{self, Found};

/// Shown at the end of the command's help.
pub(in crate::cli) const EXAMPLES: &str = "\
Examples:
  lineside settings                       where the file is, and what holds
  lineside settings --template            a file to begin with, every key explained
  lineside --settings FILE.toml           one run with another file
  lineside --no-settings                  one run without any";

/// Columns the text is wrapped to.
const WIDTH: usize = 80;

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(crate) struct SettingsArgs {
    /// Print a file of settings to begin with, every key explained
    #[arg(long)]
    template: bool,
    #[command(flatten)]
    print: Printed,
}

/// Runs the command. It ends with [`Done::Findings`] when something in the file is unknown or wrong.
///
/// # Errors
/// When the file cannot be read or is no TOML.
pub(in crate::cli) fn run(args: &SettingsArgs, choice: &Choice) -> Result<Done, Problem> {
    if args.template {
        print(&template())?;
        return Ok(Done::Well);
    }
    let file = choice.file()?;
    let is_there = |path: &std::path::Path| std::fs::symlink_metadata(path).is_ok();
    let found = match &file {
        Some((path, named)) if *named || is_there(path) => read::file(path)?,
        _ => Found::default(),
    };
    let place = match &file {
        None => "none read (--no-settings, or no home folder)".to_owned(),
        Some((path, _)) if is_there(path) => path.display().to_string(),
        Some((path, _)) => format!("{} (not there yet)", path.display()),
    };
    let text = match args.print.form {
        Format::Json => {
            let rows = KEYS.map(|key| {
                json!({ "key": key.name, "value": said(&found.settings, key.name), "built-in": key.built_in,
                        "option": key.option, "meaning": key.meaning })
            });
            let all = json!({
                "file": file.as_ref().map(|(path, _)| path.display().to_string()),
                "keys": rows, "unknown": found.unknown, "wrong": found.wrong,
            });
            format!("{all:#}\n")
        }
        _ => as_text(&place, &found),
    };
    print(&text)?;
    let sound = found.unknown.is_empty() && found.wrong.is_empty();
    Ok(if sound { Done::Well } else { Done::Findings })
}

fn as_text(place: &str, found: &Found) -> String {
    let mut text = format!("Settings file: {place}\n");
    for fault in found.unknown.iter().chain(&found.wrong) {
        let _ = writeln!(text, "  {fault}");
    }
    for key in &KEYS {
        let held = said(&found.settings, key.name);
        let (value, from) = match &held {
            Some(value) => (value.as_str(), "from the file"),
            None => (key.built_in, "built in"),
        };
        let _ = writeln!(text, "\n{:<13} {value} ({from})", key.name);
        let indent = Options::new(WIDTH).initial_indent("  ").subsequent_indent("  ");
        let _ = writeln!(text, "{}", textwrap::fill(key.meaning, indent));
        let _ = writeln!(
            text,
            "  in the file: {}; for one run: {}",
            key.example, key.option
        );
    }
    text
}

/// What the file says for a key.
fn said(settings: &Settings, key: &str) -> Option<String> {
    let path = |path: &Option<std::path::PathBuf>| path.as_ref().map(|path| path.display().to_string());
    match key {
        "cases-folder" => path(&settings.cases_folder),
        "shop-file" => path(&settings.shop_file),
        "edition" => settings.edition.clone(),
        "technician" => settings.technician.clone(),
        "plain-screen" => settings.plain_screen.map(|plain| plain.to_string()),
        _ => settings.color.map(|color| {
            match color {
                Color::Auto => "auto",
                Color::Always => "always",
                Color::Never => "never",
            }
            .to_owned()
        }),
    }
}

fn template() -> String {
    let mut text = String::from(
        "# Settings of lineside. Take the `# ` away before a key to use it. An option overrides a key for one run.\n",
    );
    for key in &KEYS {
        let indent = Options::new(100).initial_indent("# ").subsequent_indent("# ");
        let _ = writeln!(text, "\n{}", textwrap::fill(key.meaning, indent));
        let _ = writeln!(text, "# Built in: {}. Option: {}", key.built_in, key.option);
        let _ = writeln!(text, "# {}", key.example);
    }
    text
}
