//! `trees sources`: what the claims of the knowledge rest on.

use std::collections::BTreeSet;
use std::io::Write;

use clap::Args;
use serde_json::{Value as Json, json};

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::{Format, Printed, typed, word};
use crate::cli::printing::as_json;
use crate::knowledge::cited::LookedUp;
use crate::knowledge::claims::{Claim, ClaimOf, SourceKind, claims};
use crate::knowledge::render;
use crate::quantity::Word;
use crate::rig::closed_loop::Wanted;

use super::physics::{self, Counts};

/// Arguments of `trees sources`.
#[derive(Debug, Args)]
pub struct SourcesArgs {
    /// List the claims whose best source is of this kind
    #[arg(long, value_parser = word::<SourceKind>(), value_name = "KIND")]
    pub kind: Option<SourceKind>,
    /// List the sources that were looked up with this result
    #[arg(long, value_parser = word::<LookedUp>(), value_name = "RESULT")]
    pub looked_up: Option<LookedUp>,
    /// Only claims of this sort
    #[arg(long, value_parser = typed(ClaimOf::ALL, claims_of), value_name = "SORT")]
    pub of: Option<ClaimOf>,
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

/// Sort of claim, as typed.
fn claims_of(of: ClaimOf) -> &'static str {
    match of {
        ClaimOf::Cause => "causes",
        ClaimOf::Test => "tests",
        ClaimOf::Defect => "defects",
        ClaimOf::Advice => "advice",
    }
}

/// Runs the command.
pub(super) fn run(args: &SourcesArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let knowledge = args.knowledge.load()?;
    let all: Vec<Claim<'_>> = claims(knowledge)
        .into_iter()
        .filter(|claim| args.of.is_none_or(|of| of == claim.of))
        .collect();
    let wanted: Vec<&Claim<'_>> = all
        .iter()
        .filter(|claim| args.kind.is_none_or(|kind| kind == claim.kind))
        .filter(|claim| args.looked_up.is_none_or(|result| has(claim, result)))
        .collect();
    let confirmed = args.physics.then(|| {
        let wanted = Wanted {
            severities: 3,
            seed: 1,
            ..Wanted::default()
        };
        let compared = physics::compared(knowledge, wanted, None);
        [false, true].map(|tests| physics::counts(knowledge, &compared, tests))
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
            list(&wanted, kind, result, out)?;
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
    let rows = LookedUp::ALL.iter().copied().map(|result| {
        let row = by_sort(|of| with_result(claims, result, Some(of)));
        (result.word().to_owned(), row)
    });
    Json::Object(rows.collect())
}

/// A number for each sort of claim.
fn by_sort(number: impl Fn(ClaimOf) -> usize) -> Json {
    let numbers = ClaimOf::ALL
        .iter()
        .map(|of| (claims_of(*of).to_owned(), json!(number(*of))));
    Json::Object(numbers.collect())
}

fn table_of_look_ups(claims: &[Claim<'_>], out: &mut dyn Write) -> Result<(), Problem> {
    writeln!(
        out,
        "\nEach source with an address is counted by what looking it up showed; the last line counts claims.\n"
    )?;
    heading("source looked up", out)?;
    for result in LookedUp::ALL.iter().copied() {
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
    let rows = SourceKind::ALL.iter().copied().map(|kind| {
        let row = by_sort(|of| number(claims, Some(kind), Some(of)));
        (kind.word().to_owned(), row)
    });
    Json::Object(rows.collect())
}

fn table(claims: &[Claim<'_>], out: &mut dyn Write) -> Result<(), Problem> {
    writeln!(out, "Each claim is counted once, by the best source it names.\n")?;
    heading("best source", out)?;
    for kind in SourceKind::ALL.iter().copied() {
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
    for of in ClaimOf::ALL.iter().copied() {
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
        let sort = claim.of.word();
        writeln!(out, "{sort:<7} {}: {}", claim.id, claim.says)?;
        // Of a claim with several sources only those asked for; all, when the question was their kind.
        let asked = |looked_up| result.is_none_or(|result| result == looked_up);
        for source in claim.sources.iter().filter(|source| asked(source.looked_up)) {
            writeln!(out, "        {}", source.text)?;
        }
    }
    Ok(())
}
