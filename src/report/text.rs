//! The result of a case as text for a screen or a file.

use crate::inference::words;
use crate::knowledge::model::{Hazard, Job, State};
use crate::standards::registry::Report;

use super::case::lower_first;
use super::first;
use super::form::{CalculationShown, RequirementShown};
use super::repair::must;
use super::visible::visible;
use super::{CaseResult, CauseStanding, DefectShown, picture};

/// How the text is laid out.
#[derive(Clone, Copy, Debug)]
pub struct Layout {
    /// Columns available, at least 40.
    pub width: usize,
    /// Marks headings with escape sequences.
    pub color: bool,
}

/// Pieces of evidence shown for and against a cause.
const MOST_EVIDENCE: usize = 4;

/// A part of the result, as it stands below the first screen and is shown by itself on its key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Section {
    /// What speaks for the causes that lead, and against.
    Reasons,
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
    if shows_causes(result) {
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
        Section::Reasons if shows_causes(result) => reasons(&mut page, result),
        Section::Others if shows_causes(result) => others(&mut page, result),
        Section::Reasons | Section::Others => {}
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

/// After a stop for safety a cause that hardly stands out would only be in the way.
pub(super) fn shows_causes(result: &CaseResult) -> bool {
    result.conclusion.kind != "halted" || result.leaders().iter().any(|cause| cause.probability > 0.3)
}

/// How a closed case was proved: by its last proof, or not at all.
pub(super) fn how_proved(result: &CaseResult) -> String {
    let proved = result.closed.as_ref().is_some_and(|closed| closed.proved);
    match result.head.proofs.last() {
        _ if !proved => "not proved: a guess".to_owned(),
        Some(proof) => format!("proved: {}", proof.text.trim_end_matches('.')),
        None => "proved".to_owned(),
    }
}

/// That a case was closed with another cause than the answers lead to, where it was.
pub(super) fn against(result: &CaseResult) -> Option<String> {
    let closed = result.closed.as_ref()?;
    let leader = result.standing.first()?;
    if closed.cause.as_ref() == Some(&leader.cause) {
        return None;
    }
    let own = result
        .standing
        .iter()
        .find(|cause| Some(&cause.cause) == closed.cause.as_ref())
        .map_or_else(
            || "what it was closed with is not listed".to_owned(),
            |cause| {
                format!(
                    "what it was closed with stands at {}",
                    words::percent(cause.probability)
                )
            },
        );
    Some(format!(
        "Closed against what the answers say: they lead to {} ({}); {own}.",
        leader.name,
        words::percent(leader.probability)
    ))
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
        let by = repair
            .by
            .as_deref()
            .map_or_else(String::new, |by| format!(", by {by}"));
        page.labeled("repaired", &format!("{}{by}", repair.text));
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

fn others(page: &mut Page, result: &CaseResult) {
    page.heading("OTHER CAUSES");
    for (number, cause) in result.leaders().iter().enumerate().skip(1) {
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
    page.line(&format!("   {}", picture(cause.place)));
    page.labeled("whose job", job(cause.trade));
    evidence(page, cause);
    if whole {
        page.labeled("remedy", &cause.remedy);
        page.labeled("proved by", &cause.proof);
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
        page.labeled("whose job", job(defect.trade));
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
                state(test.state),
                hazard(test.hazard)
            ),
        );
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
        page.labeled("whose job", job(entry.trade));
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

/// Says whose job it is.
#[must_use]
pub fn job(job: Job) -> &'static str {
    match job {
        Job::Utility => "the utility (beyond the meter)",
        Job::Electrician => "licensed electrician (line side of the disconnect)",
        Job::HvacTechnician => "HVAC technician (load side of the disconnect)",
        Job::UtilityOrElectrician => "utility up to the meter; licensed electrician behind it",
        Job::GasFitter => "gas supplier or licensed gas fitter",
        Job::SourceDealer => "dealer or installer of the generator, battery or inverter",
        Job::CheckLocally => "electrician or HVAC technician; check local rules",
    }
}

/// Says what state the equipment must be in.
#[must_use]
pub fn state(state: State) -> &'static str {
    match state {
        State::Told => "told",
        State::Any => "nothing to open",
        State::LockedOut => "locked out",
        State::Running => "RUNNING",
        State::Energised => "ENERGIZED",
        State::Firing => "BURNER ON",
    }
}

/// Says what a test can do to the person.
#[must_use]
pub fn hazard(hazard: Hazard) -> &'static str {
    match hazard {
        Hazard::None => "no hazard",
        Hazard::Low => "low hazard",
        Hazard::Burn => "burn hazard",
        Hazard::StoredEnergy => "stored-energy hazard",
        Hazard::Shock => "shock hazard",
        Hazard::ShockAndArc => "shock and arc hazard",
    }
}

/// Wrapping that fills each line before the next: what a technician reads is not set for looks.
pub(crate) fn plain_wrap<'a>(width: usize) -> textwrap::Options<'a> {
    textwrap::Options::new(width)
        .wrap_algorithm(textwrap::WrapAlgorithm::FirstFit)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
}

pub(super) struct Page {
    layout: Layout,
    pub(super) text: String,
}

impl Page {
    pub(super) fn new(layout: Layout) -> Self {
        Self {
            layout,
            text: String::new(),
        }
    }

    pub(super) fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    pub(super) fn heading(&mut self, title: &str) {
        if !self.text.is_empty() {
            self.line("");
        }
        self.emphasized(title);
    }

    fn emphasized(&mut self, line: &str) {
        if self.layout.color {
            self.line(&format!("\u{1b}[1m{line}\u{1b}[0m"));
        } else {
            self.line(line);
        }
    }

    pub(super) fn strong(&mut self, text: &str) {
        let text = visible(text).replace(" %", "\u{a0}%");
        let options = plain_wrap(self.layout.width).subsequent_indent("   ");
        for line in textwrap::wrap(&text, options) {
            self.emphasized(&line.replace('\u{a0}', " "));
        }
    }

    pub(super) fn paragraph(&mut self, indent: &str, text: &str) {
        let text = &visible(text);
        let options = plain_wrap(self.layout.width)
            .initial_indent(indent)
            .subsequent_indent(indent);
        for line in textwrap::wrap(text, options) {
            self.line(&line);
        }
    }

    pub(super) fn item(&mut self, mark: &str, text: &str) {
        let text = &visible(text);
        let first = format!("{mark} ");
        let options = plain_wrap(self.layout.width)
            .initial_indent(&first)
            .subsequent_indent("  ");
        for line in textwrap::wrap(text, options) {
            self.line(&line);
        }
    }

    fn labeled(&mut self, label: &str, text: &str) {
        self.behind(&format!("   {label:<12}"), &lower_label(label, text));
    }

    /// Wrapped text behind a lead, which its further lines are set in by.
    pub(super) fn behind(&mut self, lead: &str, text: &str) {
        for line in self.hung(lead, text) {
            self.line(&line);
        }
    }

    /// The same, emphasized.
    pub(super) fn strong_behind(&mut self, lead: &str, text: &str) {
        for line in self.hung(lead, text) {
            self.emphasized(&line);
        }
    }

    fn hung(&self, lead: &str, text: &str) -> Vec<String> {
        let rest = " ".repeat(lead.chars().count());
        let options = plain_wrap(self.layout.width)
            .initial_indent(lead)
            .subsequent_indent(&rest);
        // A figure keeps its percent sign on its line.
        let text = visible(text).replace(" %", "\u{a0}%");
        textwrap::wrap(&text, options)
            .into_iter()
            .map(|line| line.replace('\u{a0}', " "))
            .collect()
    }
}

/// Evidence reads on from its label; everything else is a sentence of its own.
fn lower_label(label: &str, text: &str) -> String {
    match label {
        "for" | "against" => lower_first(text),
        _ => text.to_owned(),
    }
}
