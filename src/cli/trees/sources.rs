//! `trees sources`: what the claims of the knowledge rest on.

use std::collections::BTreeSet;
use std::io::Write;

use clap::{Args, ValueEnum};
use serde_json::{Map, Value as Json, json};

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::{Format, Printed};
use crate::cli::printing::as_json;
use crate::knowledge::cited::LookedUp;
use crate::knowledge::claims::{Claim, ClaimOf, SourceKind, claims};
use crate::knowledge::render;
use crate::rig::closed_loop::Wanted;

use super::physics::{self, Counts};

/// Arguments of `trees sources`.
#[derive(Debug, Args)]
pub struct SourcesArgs {
    /// List the claims whose best source is of this kind
    #[arg(long, value_enum, value_name = "KIND")]
    pub kind: Option<Kind>,
    /// List the sources that were looked up with this result
    #[arg(long, value_enum, value_name = "RESULT")]
    pub looked_up: Option<LookUp>,
    /// Only claims of this sort
    #[arg(long, value_enum, value_name = "SORT")]
    pub of: Option<Of>,
    /// Count what physics confirms of the causes as well: runs `trees physics`, some minutes
    #[arg(long, conflicts_with_all = ["kind", "looked_up", "of"])]
    pub physics: bool,
    /// Where the knowledge is read from.
    #[command(flatten)]
    pub knowledge: Folder,
    /// The form.
    #[command(flatten)]
    pub print: Printed,
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

/// Result of looking a source up, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum LookUp {
    /// Read, and it says what the claim says
    Supports,
    /// Read, and it says part of it
    Mixed,
    /// Read, and it says otherwise
    Contradicts,
    /// Looked for and not found
    NotFound,
    /// It has an address, and nobody has looked it up
    NotYet,
    /// Claims none of whose sources has an address
    NoAddress,
}

impl LookUp {
    fn meant(self) -> LookedUp {
        match self {
            Self::Supports => LookedUp::Supports,
            Self::Mixed => LookedUp::Mixed,
            Self::Contradicts => LookedUp::Contradicts,
            Self::NotFound => LookedUp::NotFound,
            Self::NotYet => LookedUp::NotYet,
            Self::NoAddress => LookedUp::NoAddress,
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
pub(super) fn run(args: &SourcesArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let knowledge = args.knowledge.load()?;
    let all: Vec<Claim<'_>> = claims(&knowledge)
        .into_iter()
        .filter(|claim| args.of.is_none_or(|of| of.meant() == claim.of))
        .collect();
    let wanted: Vec<&Claim<'_>> = all
        .iter()
        .filter(|claim| args.kind.is_none_or(|kind| kind.meant() == claim.kind))
        .filter(|claim| args.looked_up.is_none_or(|result| has(claim, result.meant())))
        .collect();
    let confirmed = args.physics.then(|| {
        let wanted = Wanted {
            severities: 3,
            seed: 1,
            ..Wanted::default()
        };
        let compared = physics::compared(&knowledge, wanted, None);
        [false, true].map(|tests| physics::counts(&knowledge, &compared, tests))
    });
    match (args.print.form, args.kind, args.looked_up) {
        (Format::Json, ..) => {
            let data = json!({
                "physics": confirmed.map(|[effects, tests]| json!({ "effects": effects, "tests": tests })),
                "knowledge": knowledge.fingerprint,
                "counts": counts(&all),
                "looked-up": look_ups(&all),
                "claims": wanted,
            });
            write!(out, "{}", as_json(&data)?)?;
        }
        (_, None, None) => {
            table(&all, out)?;
            table_of_look_ups(&all, out)?;
            if let Some(counts) = confirmed {
                table_of_physics(&counts, out)?;
            }
        }
        (_, kind, result) => {
            list(&wanted, kind.map(Kind::meant), result.map(LookUp::meant), out)?;
        }
    }
    Ok(())
}

/// Whether a claim has a source looked up with a result; for "no address", whether it has no other.
fn has(claim: &Claim<'_>, result: LookedUp) -> bool {
    match result {
        LookedUp::NoAddress => claim.has_no_address(),
        _ => claim.sources.iter().any(|source| source.looked_up == result),
    }
}

/// Sources of the claims with a result; for "no address", claims without any.
fn with_result(claims: &[Claim<'_>], result: LookedUp, of: Option<ClaimOf>) -> usize {
    let chosen = claims.iter().filter(|claim| of.is_none_or(|of| of == claim.of));
    match result {
        LookedUp::NoAddress => chosen.filter(|claim| claim.has_no_address()).count(),
        _ => chosen
            .flat_map(|claim| &claim.sources)
            .filter(|source| source.looked_up == result)
            .count(),
    }
}

fn look_ups(claims: &[Claim<'_>]) -> Json {
    let rows = LookedUp::ALL.into_iter().map(|result| {
        let by = |of| with_result(claims, result, Some(of));
        let row = json!({
            "causes": by(ClaimOf::Cause),
            "tests": by(ClaimOf::Test),
            "defects": by(ClaimOf::Defect),
            "advice": by(ClaimOf::Advice),
        });
        (result.as_written().to_owned(), row)
    });
    Json::Object(rows.collect())
}

fn table_of_look_ups(claims: &[Claim<'_>], out: &mut dyn Write) -> Result<(), Problem> {
    writeln!(
        out,
        "\nEach source with an address is counted by what looking it up showed; the last line counts claims.\n"
    )?;
    heading("source looked up", out)?;
    for result in LookedUp::ALL {
        let name = match result {
            LookedUp::NoAddress => "claims without any address",
            _ => result.in_words(),
        };
        row(name, |of| with_result(claims, result, of), out)?;
    }
    writeln!(
        out,
        "\nList one result with `lineside trees sources --looked-up not-yet`, for example."
    )?;
    Ok(())
}

fn table_of_physics(counts: &[Counts; 2], out: &mut dyn Write) -> Result<(), Problem> {
    writeln!(
        out,
        "\nWhat a cause does, by its own words, against the physics of a simulated installation (`lineside trees physics`).\n"
    )?;
    writeln!(
        out,
        "{:<30}{:>8}{:>10}",
        "statements with a model", "effects", "readings"
    )?;
    let mut line = |name: &str, of: &dyn Fn(&Counts) -> usize| {
        writeln!(out, "{name:<30}{:>8}{:>10}", of(&counts[0]), of(&counts[1]))
    };
    line("confirmed by physics", &|counts| counts.confirmed)?;
    line("disagree", &|counts| counts.disagree())?;
    line("too few samples to say", &|counts| counts.too_few)?;
    line("not decided by physics alone", &|counts| counts.not_whole)?;
    line("all", &|counts| counts.stated)?;
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

fn table(claims: &[Claim<'_>], out: &mut dyn Write) -> Result<(), Problem> {
    writeln!(out, "Each claim is counted once, by the best source it names.\n")?;
    heading("best source", out)?;
    for kind in SourceKind::ALL {
        row(kind.in_words(), |of| number(claims, Some(kind), of), out)?;
    }
    row("all", |of| number(claims, None, of), out)?;
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

fn heading(first: &str, out: &mut dyn Write) -> Result<(), Problem> {
    writeln!(
        out,
        "{first:<30}{:>8}{:>8}{:>8}{:>8}{:>10}",
        "causes", "tests", "defects", "advice", "together"
    )?;
    Ok(())
}

/// A line of a table: each sort of claim, and all together.
fn row(name: &str, number: impl Fn(Option<ClaimOf>) -> usize, out: &mut dyn Write) -> Result<(), Problem> {
    write!(out, "{name:<30}")?;
    for of in ClaimOf::ALL {
        write!(out, "{:>8}", number(Some(of)))?;
    }
    writeln!(out, "{:>10}", number(None))?;
    Ok(())
}

fn list(
    claims: &[&Claim<'_>],
    kind: Option<SourceKind>,
    result: Option<LookedUp>,
    out: &mut dyn Write,
) -> Result<(), Problem> {
    write!(out, "{}", render::count(claims.len(), "claim"))?;
    if let Some(kind) = kind {
        write!(out, " with nothing better than: {}", kind.in_words())?;
    }
    match result {
        Some(LookedUp::NoAddress) => write!(out, " without any address")?,
        Some(result) => write!(out, " with a source of this result: {}", result.in_words())?,
        None => (),
    }
    writeln!(out, "\n")?;
    for claim in claims {
        let sort = match claim.of {
            ClaimOf::Cause => "cause",
            ClaimOf::Test => "test",
            ClaimOf::Defect => "defect",
            ClaimOf::Advice => "advice",
        };
        writeln!(out, "{sort:<7} {}: {}", claim.id, claim.says)?;
        // Of a claim with several sources only those asked for; all, when the question was their kind.
        let asked = |looked_up| result.is_none_or(|result| result == looked_up);
        for source in claim.sources.iter().filter(|source| asked(source.looked_up)) {
            writeln!(out, "        {}", source.text)?;
        }
    }
    Ok(())
}
