//! `trees sources`: what the claims of the knowledge rest on.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use serde_json::{Map, Value as Json, json};

use crate::cli::Format;
use crate::knowledge::claims::{Claim, ClaimOf, SourceKind, claims};
use crate::knowledge::{load, render};
use crate::standards::registry::Calculation;

use super::TreesError;

/// Arguments of `trees sources`.
#[derive(Debug, Args)]
pub struct SourcesArgs {
    /// List the claims whose best source is of this kind
    #[arg(long, value_enum, value_name = "KIND")]
    pub kind: Option<Kind>,
    /// Only claims of this sort
    #[arg(long, value_enum, value_name = "SORT")]
    pub of: Option<Of>,
    /// Folder to read in place of what is built in
    #[arg(long, value_name = "DIR")]
    pub trees: Option<PathBuf>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// Kind of source, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Kind {
    /// A standard, code or regulation with its section
    Standard,
    /// The maker's instructions, manual, nameplate or label
    Maker,
    /// A publication or page with its address
    Publication,
    /// Arithmetic anybody can repeat
    Arithmetic,
    /// Something named that cannot be looked up
    Unplaced,
    /// Common practice, no source
    CommonPractice,
    /// From memory
    FromMemory,
}

impl Kind {
    fn meant(self) -> SourceKind {
        match self {
            Self::Standard => SourceKind::Standard,
            Self::Maker => SourceKind::Maker,
            Self::Publication => SourceKind::Publication,
            Self::Arithmetic => SourceKind::Arithmetic,
            Self::Unplaced => SourceKind::Unplaced,
            Self::CommonPractice => SourceKind::CommonPractice,
            Self::FromMemory => SourceKind::FromMemory,
        }
    }
}

/// Sort of claim, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Of {
    /// What can be wrong
    Causes,
    /// What an outcome says
    Tests,
    /// Limits broken and damage, with what they must become
    Defects,
    /// What keeps a trouble from coming back
    Advice,
}

impl Of {
    fn meant(self) -> ClaimOf {
        match self {
            Self::Causes => ClaimOf::Cause,
            Self::Tests => ClaimOf::Test,
            Self::Defects => ClaimOf::Defect,
            Self::Advice => ClaimOf::Advice,
        }
    }
}

/// Runs the command.
pub(super) fn run(
    args: &SourcesArgs,
    catalogue: &'static [Calculation],
    out: &mut dyn Write,
) -> Result<(), TreesError> {
    let knowledge = load(args.trees.as_deref(), catalogue)?;
    let all: Vec<Claim<'_>> = claims(&knowledge)
        .into_iter()
        .filter(|claim| args.of.is_none_or(|of| of.meant() == claim.of))
        .collect();
    let wanted: Vec<&Claim<'_>> = all
        .iter()
        .filter(|claim| args.kind.is_none_or(|kind| kind.meant() == claim.kind))
        .collect();
    match (args.format, args.kind) {
        (Format::Json, _) => {
            let data = json!({
                "knowledge": knowledge.fingerprint,
                "counts": counts(&all),
                "claims": wanted,
            });
            writeln!(out, "{}", serde_json::to_string_pretty(&data)?)?;
        }
        (Format::Text, Some(kind)) => list(&wanted, kind.meant(), out)?,
        (Format::Text, None) => table(&all, out)?,
    }
    Ok(())
}

fn number(claims: &[Claim<'_>], kind: Option<SourceKind>, of: Option<ClaimOf>) -> usize {
    claims
        .iter()
        .filter(|claim| kind.is_none_or(|kind| kind == claim.kind) && of.is_none_or(|of| of == claim.of))
        .count()
}

fn counts(claims: &[Claim<'_>]) -> Json {
    let mut rows = Map::new();
    for kind in SourceKind::ALL {
        let by = |of| number(claims, Some(kind), Some(of));
        rows.insert(
            serde_json::to_value(kind)
                .ok()
                .and_then(|name| name.as_str().map(str::to_owned))
                .unwrap_or_default(),
            json!({
                "causes": by(ClaimOf::Cause),
                "tests": by(ClaimOf::Test),
                "defects": by(ClaimOf::Defect),
                "advice": by(ClaimOf::Advice),
            }),
        );
    }
    Json::Object(rows)
}

fn table(claims: &[Claim<'_>], out: &mut dyn Write) -> Result<(), TreesError> {
    let row = |out: &mut dyn Write, name: &str, kind: Option<SourceKind>| {
        write!(out, "{name:<30}")?;
        for of in ClaimOf::ALL {
            write!(out, "{:>8}", number(claims, kind, Some(of)))?;
        }
        writeln!(out, "{:>10}", number(claims, kind, None))
    };
    writeln!(out, "Each claim is counted once, by the best source it names.\n")?;
    writeln!(
        out,
        "{:<30}{:>8}{:>8}{:>8}{:>8}{:>10}",
        "best source", "causes", "tests", "defects", "advice", "together"
    )?;
    for kind in SourceKind::ALL {
        row(out, kind.in_words(), Some(kind))?;
    }
    row(out, "all", None)?;
    let different: BTreeSet<&str> = claims
        .iter()
        .flat_map(|claim| &claim.sources)
        .map(|source| source.text)
        .collect();
    let named: usize = claims.iter().map(|claim| claim.sources.len()).sum();
    writeln!(
        out,
        "\n{} named, {} of them different.\nList one kind with `lineside trees sources --kind from-memory`, for example.",
        render::count(named, "source"),
        different.len()
    )?;
    Ok(())
}

fn list(claims: &[&Claim<'_>], kind: SourceKind, out: &mut dyn Write) -> Result<(), TreesError> {
    writeln!(
        out,
        "{} with nothing better than: {}\n",
        render::count(claims.len(), "claim"),
        kind.in_words()
    )?;
    for claim in claims {
        let sort = match claim.of {
            ClaimOf::Cause => "cause",
            ClaimOf::Test => "test",
            ClaimOf::Defect => "defect",
            ClaimOf::Advice => "advice",
        };
        writeln!(out, "{sort:<7} {}: {}", claim.id, claim.says)?;
        for source in &claim.sources {
            writeln!(out, "        {}", source.text)?;
        }
    }
    Ok(())
}
