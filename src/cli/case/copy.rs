//! `case export` and `case mend`: copies of a case. The case itself is only read.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use clap::Args;

use crate::cli::Problem;
use crate::cli::printing::print;
use crate::cli::problem::Done;
use crate::files;
use crate::journal::{self, Case, Link};

use super::named;

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside case export last -o case.jsonl              the same lines, the same head
  lineside case export last --anonymous -o case.jsonl  without place, unit, technician, notes, photographs

An anonymous copy keeps the answers, readings, times and the id, which was drawn by chance. Nothing
somebody wrote in free words is in it.";

/// What was typed after `export`.
#[derive(Args, Clone, Debug)]
pub(super) struct ExportArgs {
    /// The case
    #[arg(value_name = "NAME")]
    name: PathBuf,
    /// The new file
    #[arg(short = 'o', long, value_name = "FILE")]
    out: PathBuf,
    /// Leave out place, unit, technician, notes, photographs and everything else in free words
    #[arg(long)]
    anonymous: bool,
}

/// What was typed after `mend`.
#[derive(Args, Clone, Debug)]
pub(super) struct MendArgs {
    /// The damaged case
    #[arg(value_name = "NAME")]
    name: PathBuf,
    /// The new file
    #[arg(short = 'o', long, value_name = "FILE")]
    out: PathBuf,
}

/// Runs `case export`.
pub(super) fn export(args: &ExportArgs) -> Result<Done, Problem> {
    let path = named::file(&args.name)?;
    let sound = journal::sound_file(&path)?;
    if let Some(damage) = sound.damage {
        return Err(Problem::from(damage).hint(format!(
            "`lineside case mend {} -o NEW.jsonl` copies the sound lines; export that",
            named::called(&path)
        )));
    }
    let bytes = if args.anonymous {
        let (header, records) = journal::anonymous(&sound.case);
        journal::chained(&header, &records)
            .map_err(|error| Problem::data(format!("cannot write the copy: {error}")))?
    } else {
        sound.bytes[..whole(&sound.case)].to_vec()
    };
    write_new(&args.out, &bytes)?;
    let copy = journal::read(&bytes, &args.out)?;
    let head = copy
        .head()
        .as_ref()
        .map_or(String::new(), |head: &Link| format!(", head {}", head.printed()));
    print(&format!(
        "Kept in {}: {} lines{head}.\n",
        args.out.display(),
        copy.links.len()
    ))?;
    Ok(Done::Well)
}

/// Runs `case mend`.
pub(super) fn mend(args: &MendArgs) -> Result<Done, Problem> {
    let path = named::file(&args.name)?;
    let bytes = journal::bytes(&path)?;
    let Some(mended) = journal::mended(&bytes, &path)? else {
        return Err(
            Problem::data(format!("nothing is damaged in `{}`", path.display()))
                .hint("go on with it as it is"),
        );
    };
    let copy = journal::chained(&mended.header, &mended.records)
        .map_err(|error| Problem::data(format!("cannot write the copy: {error}")))?;
    write_new(&args.out, &copy)?;
    let left_out = match mended.left_out.as_slice() {
        [] => "none is left out".to_owned(),
        [line] => format!("line {line} cannot be read and is left out"),
        lines => {
            let lines: Vec<String> = lines.iter().take(20).map(ToString::to_string).collect();
            let count = mended.left_out.len();
            format!(
                "{count} cannot be read and are left out: lines {}",
                lines.join(", ")
            )
        }
    };
    print(&format!(
        "{} lines are in {}; {left_out}.\nThe old file stays as it is, and the new one says that {}.\nGo on with: lineside \
         --case {}\n",
        mended.records.len() + 1,
        args.out.display(),
        mended.header.mended.unwrap_or_default(),
        args.out.display(),
    ))?;
    Ok(Done::Well)
}

/// Bytes of the lines that count.
fn whole(case: &Case) -> usize {
    usize::try_from(case.whole).unwrap_or(usize::MAX)
}

/// Writes a new private file whole, or leaves none.
fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Problem> {
    let failed = |error: std::io::Error| {
        Problem::data(format!("cannot write `{}`: {error}", path.display()))
            .hint("give a name that does not exist yet, in a folder that may be written and has room")
    };
    let mut file = files::create_private(path).map_err(failed)?;
    file.write_all(bytes)
        .and_then(|()| file.sync_all())
        .map_err(|error| {
            // Half a case under a name that looks whole would mislead; if it cannot be removed, so be it.
            let _ = fs::remove_file(path);
            failed(error)
        })
}
