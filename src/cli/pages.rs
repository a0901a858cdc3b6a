//! `lineside completions` and `lineside manual`: what shells and readers get from the definitions of the commands.

use std::path::PathBuf;

use clap::{Args, Command};
use clap_complete::Shell;

use super::Problem;
use super::printing::print;
use super::problem::Done;

/// Shown at the end of the help of `completions`.
pub(super) const COMPLETIONS_EXAMPLES: &str = "\
Examples:
  lineside completions bash > ~/.local/share/bash-completion/completions/lineside
  lineside completions zsh > ~/.zfunc/_lineside      (a folder of $fpath)
  lineside completions fish > ~/.config/fish/completions/lineside.fish";

/// Shown at the end of the help of `manual`.
pub(super) const MANUAL_EXAMPLES: &str = "\
Examples:
  lineside manual | man -l -                         read the first page
  lineside manual --out ~/.local/share/man/man1      a page for each command; then `man lineside-review`";

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(crate) struct CompletionsArgs {
    /// The shell
    #[arg(value_enum)]
    shell: Shell,
}

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(crate) struct ManualArgs {
    /// Write a page for each command into this folder
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

/// Prints the completions for a shell.
///
/// # Errors
/// When they cannot be written.
pub(super) fn completions(args: &CompletionsArgs, mut command: Command) -> Result<Done, Problem> {
    let mut out = Vec::new();
    clap_complete::generate(args.shell, &mut command, "lineside", &mut out);
    print(&String::from_utf8_lossy(&out))?;
    Ok(Done::Well)
}

/// Prints the first manual page, or writes all of them.
///
/// # Errors
/// When they cannot be written.
pub(super) fn manual(args: &ManualArgs, command: Command) -> Result<Done, Problem> {
    let failed = |error: std::io::Error| Problem::data(format!("cannot write the manual: {error}"));
    let Some(folder) = &args.out else {
        let mut out = Vec::new();
        clap_mangen::Man::new(command).render(&mut out).map_err(failed)?;
        print(&String::from_utf8_lossy(&out))?;
        return Ok(Done::Well);
    };
    let failed = |error| failed(error).hint("`--out` takes a folder that can be written");
    std::fs::create_dir_all(folder).map_err(failed)?;
    clap_mangen::generate_to(command, folder).map_err(failed)?;
    let pages = std::fs::read_dir(folder).map_err(failed)?.count();
    print(&format!("{pages} pages in {}\n", folder.display()))?;
    Ok(Done::Well)
}
