//! From the text of a file of settings to what holds.

use std::path::{Path, PathBuf};

use clap::ValueEnum;
use indexmap::IndexMap;
use toml::{Spanned, Value};

use crate::cli::Problem;
use crate::cli::options::Color;
use crate::files;
use crate::files::Limit;
use crate::knowledge::nearest::did_you_mean;

use super::form::Settings;
use super::keys::{EDITIONS, KEYS};

/// The largest file of settings read. A real one has a few lines.
const LARGEST: Limit = Limit {
    what: "a file of settings",
    bytes: 100_000,
};

/// A path as written in a file of settings: `~/` is the home folder, and what is not absolute starts at the folder of
/// that file, so that it means the same wherever the program is started.
fn path_as_written(text: &str, file: &Path) -> PathBuf {
    if let Some(inside) = text.strip_prefix("~/")
        && let Ok(home) = etcetera::home_dir()
    {
        return home.join(inside);
    }
    file.parent().unwrap_or(Path::new("")).join(text)
}

/// The longest name of a technician, in characters: it must fit a line of a report.
const LONGEST_NAME: usize = 60;

/// What a file of settings holds.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub(super) settings: Settings,
    /// Keys nobody knows, each with its line and the nearest known one.
    pub(super) unknown: Vec<String>,
    /// Values that cannot be, each with its line.
    pub(super) wrong: Vec<String>,
}

/// Reads a file.
///
/// # Errors
/// When it cannot be read or is no TOML.
pub(super) fn file(path: &Path) -> Result<Found, Problem> {
    let text = files::read_text(path, LARGEST)?;
    parse(&text, path).map_err(|fault| {
        Problem::data(format!("{}: {fault}", path.display()))
            .hint("`lineside settings --template` prints a file to begin with; `--no-settings` goes without")
    })
}

fn parse(text: &str, path: &Path) -> Result<Found, String> {
    let line = |at: usize| text.bytes().take(at).filter(|byte| *byte == b'\n').count() + 1;
    let entries: IndexMap<Spanned<String>, Spanned<Value>> = toml::from_str(text).map_err(|error| {
        let at = error.span().map_or(0, |span| span.start);
        format!("line {}: {}", line(at), error.message())
    })?;
    let mut found = Found::default();
    for (key, value) in &entries {
        let name = key.get_ref().as_str();
        if !KEYS.iter().any(|known| known.name == name) {
            let known = KEYS.iter().map(|known| known.name);
            found.unknown.push(format!(
                "line {}: unknown key `{name}` is left out; {}",
                line(key.span().start),
                did_you_mean(name, known, "`lineside settings` shows the keys")
            ));
        } else if let Err(expected) = take(&mut found.settings, name, value.get_ref(), path) {
            found.wrong.push(format!(
                "line {}: `{name}` takes {expected}",
                line(value.span().start)
            ));
        }
    }
    Ok(found)
}

/// Takes one value, or says what would be right.
fn take(settings: &mut Settings, name: &str, value: &Value, file: &Path) -> Result<(), &'static str> {
    let text = match value {
        Value::String(text) if !text.trim().is_empty() => Some(text.trim()),
        _ => None,
    };
    match name {
        "cases-folder" => {
            let text = text.ok_or("the path of a folder, in quotes")?;
            settings.cases_folder = Some(path_as_written(text, file));
        }
        "shop-file" => {
            let text = text.ok_or("the path of a file made by `lineside learn`, in quotes")?;
            settings.shop_file = Some(path_as_written(text, file));
        }
        "edition" => {
            let year = match value {
                Value::Integer(year) => year.to_string(),
                _ => text.unwrap_or_default().to_owned(),
            };
            if !EDITIONS.contains(&year.as_str()) {
                return Err("2014, 2017, 2020, 2023 or 2026");
            }
            settings.edition = Some(year);
        }
        "technician" => {
            let fits = |name: &&str| name.chars().count() <= LONGEST_NAME && !name.contains(char::is_control);
            let name = text
                .filter(fits)
                .ok_or("a name of at most 60 characters on one line, in quotes")?;
            settings.technician = Some(name.to_owned());
        }
        "plain-screen" => {
            settings.plain_screen = Some(value.as_bool().ok_or("true or false, without quotes")?);
        }
        _ => {
            let color = text.and_then(|text| Color::from_str(text, true).ok());
            settings.color = Some(color.ok_or("\"auto\", \"always\" or \"never\"")?);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::path::{Path, PathBuf};

    use super::{KEYS, Settings, parse};

    #[test]
    fn every_example_of_the_list_is_taken() {
        for key in &KEYS {
            let found = parse(key.example, Path::new("/etc/settings.toml")).unwrap();
            assert!(found.wrong.is_empty() && found.unknown.is_empty(), "{found:?}");
            assert_ne!(found.settings, Settings::default(), "{}", key.name);
        }
    }

    #[test]
    fn what_nobody_knows_and_what_cannot_be_is_said_with_its_line() {
        let text = "# mine\ncolour = \"never\"\n\nedition = 2021\nplain-screen = \"yes\"\n";
        let found = parse(text, Path::new("s.toml")).unwrap();
        assert_eq!(
            found.unknown,
            ["line 2: unknown key `colour` is left out; did you mean `color`?"]
        );
        assert_eq!(
            found.wrong,
            [
                "line 4: `edition` takes 2014, 2017, 2020, 2023 or 2026",
                "line 5: `plain-screen` takes true or false, without quotes"
            ]
        );
        assert!(
            parse("a = \n", Path::new("s.toml"))
                .unwrap_err()
                .starts_with("line 1: ")
        );
    }

    #[test]
    fn a_path_starts_at_the_folder_of_the_file() {
        let found = parse("shop-file = \"shop.toml\"", Path::new("/home/x/settings.toml")).unwrap();
        assert_eq!(found.settings.shop_file, Some(PathBuf::from("/home/x/shop.toml")));
    }
}
