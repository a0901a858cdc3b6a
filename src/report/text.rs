//! The result of a case as text for a screen or a file.

use crate::inference::words;
use crate::standards::calculation::Report;

use super::closed::{against, how_proved};
use super::first;
use super::form::{CalculationShown, RequirementShown, made_safe_first};
use super::layout::{Layout, Page};
use super::repair::must;
use super::wording::lower_first;
use super::{CaseResult, CauseStanding, DefectShown};

/// Pieces of evidence shown for and against a cause.
const MOST_EVIDENCE: usize = 4;

/// A part of the result, as it stands below the first screen and is shown by itself on its key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Section {
    /// What speaks for the causes that lead, and against.
    Reasons,
    /// The repair of the first cause and its proof, whole.
    Repair,
    /// The causes behind the first.
    Others,
    /// Defects, and what the repair must come to.
    Corrections,
    /// Checks that would change what is done.
    Checks,
    /// Facts, readings, notes, and calculations with their working.
    Working,
    /// What keeps it from coming back.
    Prevention,
    /// What to mind before any of it is done.
    Cautions,
}

/// Renders the whole result: what fits one screen first, then everything in full.
#[must_use]
pub fn render(result: &CaseResult, layout: Layout) -> String {
    let mut page = Page::new(layout);
    // A closed case says first what it was; an open one what to do.
    if let Some(closed) = &result.closed {
        head(&mut page, result);
        page.heading("FOUND IN THE END");
        page.paragraph("", &format!("{}, {}.", closed.name, how_proved(result)));
        page.paragraph("", &closed.text);
        for cleared in &closed.cleared {
            page.paragraph("", &format!("Said to be cleared: {cleared}."));
        }
        if let Some(said) = against(result) {
            page.paragraph("", &said);
        }
    }
    page.heading("RESULT");
    for line in first::lines(result, layout, usize::MAX, first::Below::Printed) {
        page.line(&line);
    }
    if result.closed.is_none() {
        head(&mut page, result);
    }
    if result.shows_causes() {
        causes(&mut page, result);
    }
    closing(&mut page, result);
    defects(&mut page, &result.defects);
    requirements(&mut page, &result.requirements);
    checks(&mut page, result);
    given(&mut page, result);
    calculations(&mut page, result);
    prevention(&mut page, result);
    cautions(&mut page, result);
    notes(&mut page, result);
    page.text
}

/// Renders one part of the result; nothing when there is none of it.
#[must_use]
pub fn section(result: &CaseResult, section: Section, layout: Layout) -> String {
    let mut page = Page::new(layout);
    match section {
        Section::Reasons if result.shows_causes() => reasons(&mut page, result),
        Section::Others if result.shows_causes() => others(&mut page, result),
        Section::Repair if result.shows_causes() => repair(&mut page, result),
        Section::Reasons | Section::Repair | Section::Others => {}
        Section::Corrections if result.defects.is_empty() && result.requirements.is_empty() => {}
        Section::Corrections => {
            defects(&mut page, &result.defects);
            requirements(&mut page, &result.requirements);
        }
        Section::Checks => checks(&mut page, result),
        Section::Working => {
            given(&mut page, result);
            notes(&mut page, result);
            calculations(&mut page, result);
        }
        Section::Prevention => prevention(&mut page, result),
        Section::Cautions => cautions(&mut page, result),
    }
    page.text
}

/// What it is about; where a file keeps the case, also who, when and where.
fn head(page: &mut Page, result: &CaseResult) {
    page.heading("CASE");
    page.labeled("complaint", &result.complaint_name);
    page.labeled("equipment", &result.equipment_name);
    for (label, text) in result.head.lines() {
        page.labeled(label, &text);
    }
    for repair in &result.head.repairs {
        page.labeled("repaired", &format!("{}{}", repair.text, repair.by_whom()));
    }
    for proof in &result.head.proofs {
        page.labeled("proved", &proof.text);
    }
    for photograph in &result.head.photographs {
        let shows = photograph
            .shows
            .as_deref()
            .map_or_else(String::new, |shows| format!(": {shows}"));
        page.labeled("photograph", &format!("{}{shows}", photograph.path));
    }
}

/// Facts and readings, in the order given: what the figures above and the calculations below rest on.
fn given(page: &mut Page, result: &CaseResult) {
    for (heading, kind) in [("FACTS", "fact"), ("READINGS", "reading")] {
        let mut listed = result
            .given
            .iter()
            .filter(|one| one.kind == kind && one.known)
            .peekable();
        if listed.peek().is_none() {
            continue;
        }
        page.heading(heading);
        for one in listed {
            page.item("-", &format!("{}: {}", one.name, one.said));
        }
    }
}

fn causes(page: &mut Page, result: &CaseResult) {
    page.heading("CAUSES, FOR AND AGAINST");
    for (number, cause) in result.leaders().iter().enumerate() {
        if number > 0 {
            page.line("");
        }
        cause_block(page, number + 1, cause, number < 3);
    }
    page.line("");
    unlisted(page, result);
    for line in trust(result) {
        page.paragraph("", &line);
    }
}

fn unlisted(page: &mut Page, result: &CaseResult) {
    let percent = words::percent(result.unexplained.probability);
    page.paragraph("", &format!("Something not listed here: {percent}."));
}

/// What speaks for and against: for the first cause once it is decided, else for the three that lead.
fn reasons(page: &mut Page, result: &CaseResult) {
    page.heading("FOR AND AGAINST");
    let most = if result.ending.is_decided() { 1 } else { 3 };
    for (number, cause) in result.leaders().iter().take(most).enumerate() {
        cause_title(page, number + 1, cause);
        evidence(page, cause);
    }
    for line in trust(result) {
        page.paragraph("", &line);
    }
}

/// The repair of the first cause, behind what is to be minded in it.
fn repair(page: &mut Page, result: &CaseResult) {
    let Some(cause) = result.standing.first() else {
        return;
    };
    page.heading("REPAIR AND PROOF");
    cause_title(page, 1, cause);
    page.labeled("whose job", cause.trade.in_words());
    if !cause.caution.is_empty() {
        page.labeled("caution", &cause.caution);
    }
    page.labeled("remedy", &cause.remedy);
    page.labeled("to prove it", &cause.proof);
}

fn others(page: &mut Page, result: &CaseResult) {
    /// Causes shown at least, however little probable: who doubts the first wants to see what else was weighed.
    const LEAST: usize = 3;
    page.heading("OTHER CAUSES");
    let shown = result.leaders().len().max(LEAST);
    for (number, cause) in result.standing.iter().take(shown).enumerate().skip(1) {
        cause_block(page, number + 1, cause, number < 3);
    }
    unlisted(page, result);
}

/// How a kept case is closed.
fn closing(page: &mut Page, result: &CaseResult) {
    if result.head.case.is_none() || result.closed.is_some() {
        return;
    }
    page.heading("TO CLOSE THE CASE, ONCE IT IS REPAIRED");
    page.line("lineside case close NAME --cause WHAT");
    page.paragraph(
        "",
        "NAME is the file of the case, or `last`. WHAT is the number of a leading cause, words of another, or \
         `not listed: WHAT IT WAS`; without --cause you choose.",
    );
}

/// How far the standing can be trusted, in sentences.
pub(super) fn trust(result: &CaseResult) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(cases) = result.learned_from {
        said.push(format!(
            "Frequencies are learned from {cases} closed cases of this shop."
        ));
    }
    let unexplained = &result.unexplained;
    if unexplained.contradictory {
        said.push("The answers contradict each other under every listed cause.".to_owned());
    }
    if let Some(doubt) = &unexplained.doubt {
        said.push(format!(
            "Check again: {}. Without it, {} would lead. What would settle it: {}.",
            lower_first(&doubt.text),
            lower_first(&doubt.leads_without_name),
            lower_first(&doubt.recheck)
        ));
    }
    if let Some(pair) = &unexplained.pair {
        said.push(format!(
            "Two faults at once fit far better than any one: {}, and {}.",
            lower_first(&pair.names[0]),
            lower_first(&pair.names[1])
        ));
    }
    if let Some(reason) = result.stop_reason {
        said.push(format!("Time to conclude: {}.", reason.in_words()));
    }
    said.push(match result.firmness.hangs_on.first() {
        None => {
            let words = "no single answer, left out, makes another cause lead.";
            // A leader that is only likely is not firm because its answers agree; it is the first of several.
            if result.conclusion.kind == "found" {
                format!("Firm: {words}")
            } else {
                format!("Not settled, though {words}")
            }
        }
        Some(hinge) => format!("Hangs on {hinge}."),
    });
    said
}

/// How long it must run clean before it is called fixed, where that could be worked out.
pub(super) fn clean_time(result: &CaseResult) -> Option<String> {
    let reports = result
        .requirements
        .iter()
        .filter_map(|entry| entry.report.as_ref());
    reports
        .filter(|report| report.calculation == "clean-run")
        .find_map(|report| report.outputs.get("clean-time-needed"))
        .map(ToString::to_string)
}

fn cause_title(page: &mut Page, number: usize, cause: &CauseStanding) {
    page.strong(&format!(
        "{number}. {}: {}, {}",
        cause.name,
        words::percent(cause.probability),
        cause.words
    ));
}

fn evidence(page: &mut Page, cause: &CauseStanding) {
    for (label, evidence) in [("for", &cause.supporting), ("against", &cause.against)] {
        if evidence.is_empty() {
            page.labeled(label, "nothing yet");
        }
        for item in evidence.iter().take(MOST_EVIDENCE) {
            page.labeled(label, &item.said());
        }
    }
}

fn cause_block(page: &mut Page, number: usize, cause: &CauseStanding, whole: bool) {
    cause_title(page, number, cause);
    page.labeled("where", cause.place.in_words());
    page.labeled("whose job", cause.trade.in_words());
    evidence(page, cause);
    if whole {
        page.labeled("remedy", &cause.remedy);
        page.labeled("to prove it", &cause.proof);
        if !cause.caution.is_empty() {
            page.labeled("caution", &cause.caution);
        }
    }
}

fn defects(page: &mut Page, defects: &[DefectShown]) {
    page.heading("DEFECTS TO CORRECT, WHATEVER THE CAUSE");
    if defects.is_empty() {
        page.line("None found by what was checked.");
    }
    for defect in defects {
        let doubt = if defect.sure {
            ""
        } else {
            " (not sure: check it first)"
        };
        page.strong(&format!("* {}{doubt}", defect.name));
        if let Some(finding) = &defect.finding {
            page.labeled("found", finding);
        }
        page.labeled("hazard", &defect.hazard);
        page.labeled("whose job", defect.trade.in_words());
        page.labeled("must be", &defect.correct);
        page.labeled("source", &defect.source);
    }
}

/// Tests that would change what is done; where there is none, nothing is said of any.
fn checks(page: &mut Page, result: &CaseResult) {
    let worth = result.ending.worth_making(&result.next);
    if worth.is_empty() || result.closed.is_some() {
        return;
    }
    page.heading("CHECKS THAT WOULD CHANGE WHAT IS DONE");
    for (number, test) in worth.into_iter().enumerate() {
        page.strong(&format!("{}. {}", number + 1, test.name));
        page.labeled(
            "cost",
            &format!(
                "{:.0} min, {}, {}",
                test.minutes.round().max(1.0),
                test.state.in_words(),
                test.hazard.in_words()
            ),
        );
        if let Some(by) = test.made_safe_by {
            page.labeled("before that", &made_safe_first(by));
        }
        let saves = test.saves.round();
        if saves >= 1.0 {
            page.labeled("saves", &format!("about {saves:.0} min of wrong repair"));
        }
        if !test.needs.is_empty() {
            page.labeled("needs", &test.needs.join("; "));
        }
        if !test.caution.is_empty() {
            page.labeled("caution", &test.caution);
        }
    }
}

fn notes(page: &mut Page, result: &CaseResult) {
    if result.notes.is_empty() {
        return;
    }
    page.heading("NOTES");
    for note in &result.notes {
        page.item("-", note);
    }
}

fn cautions(page: &mut Page, result: &CaseResult) {
    page.heading("BEFORE ANY OF THIS IS DONE");
    for caution in &result.cautions {
        page.item("!", caution);
    }
}

fn calculations(page: &mut Page, result: &CaseResult) {
    // A requirement worked out by a calculation that also judged a reading has the same working.
    let required = result.requirements.iter().filter_map(|entry| {
        let report = entry.report.as_ref()?;
        let shown = |made: &CalculationShown| {
            made.report.as_ref().is_some_and(|other| {
                other.calculation == report.calculation && other.outputs == report.outputs
            })
        };
        (!result.calculations.iter().any(shown)).then_some((&entry.name, report))
    });
    let required: Vec<_> = required.collect();
    if result.calculations.is_empty() && required.is_empty() {
        return;
    }
    page.heading("CALCULATIONS, WITH THEIR WORKING");
    for made in &result.calculations {
        page.strong(&format!("* {}", made.name));
        if let Some(problem) = &made.problem {
            page.labeled("cannot tell", problem);
        }
        let Some(report) = &made.report else { continue };
        working(page, report);
    }
    for (name, report) in required {
        page.strong(&format!("* {name}"));
        working(page, report);
    }
}

fn requirements(page: &mut Page, required: &[RequirementShown]) {
    if required.is_empty() {
        return;
    }
    page.heading("WHAT THE REPAIR MUST COME TO");
    for entry in required {
        page.strong(&format!("* {}", entry.name));
        if let Some(must_be) = &entry.must_be {
            page.labeled(must(entry), must_be);
        }
        if let Some(problem) = &entry.problem {
            page.labeled("cannot tell", problem);
        }
        if !entry.needs.is_empty() {
            page.labeled(
                "not yet",
                &format!("give {} to have it worked out", entry.needs.join("; ")),
            );
        }
        page.labeled("whose job", entry.trade.in_words());
        if let Some(report) = &entry.report {
            page.labeled("finding", &report.finding);
        }
    }
}

/// A margin in percent. One under a percent keeps a digit, so that a limit just broken does not read as kept.
pub(super) fn margin(share: f64) -> String {
    let percent = share * 100.0;
    if percent != 0.0 && percent.abs() < 1.0 {
        format!("{percent:+.1} %")
    } else {
        format!("{percent:+.0} %")
    }
}

/// The finding of a calculation with its formulas, limits, assumptions and sources.
fn working(page: &mut Page, report: &Report) {
    page.labeled("finding", &report.finding);
    for line in &report.working {
        page.labeled("formula", &line.formula);
        if !line.substituted.is_empty() {
            page.labeled("numbers", &line.substituted);
        }
        page.labeled("result", &line.result);
    }
    for limit in &report.limits {
        page.labeled(
            "limit",
            &format!("{}; margin {}", limit.text, margin(limit.margin)),
        );
        page.labeled("source", &limit.source);
    }
    for assumption in &report.assumptions {
        page.labeled("assumed", assumption);
    }
    if report.limits.is_empty() {
        for source in &report.sources {
            page.labeled("source", source);
        }
    }
}

fn prevention(page: &mut Page, result: &CaseResult) {
    if result.prevention.is_empty() {
        return;
    }
    page.heading("WHAT KEEPS IT FROM COMING BACK");
    for advice in &result.prevention {
        let basis = advice
            .rule
            .as_deref()
            .map_or_else(|| "good practice".to_owned(), |rule| rule.to_owned());
        page.item("-", &format!("{} ({basis})", advice.text.trim_end_matches('.')));
    }
}
