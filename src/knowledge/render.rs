//! Findings as text with the place underlined, and as data.

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use serde::Serialize;

use super::files::Files;
use super::finding::{Finding, Label, Severity, Stretch};

/// "1 error", "2 errors".
#[must_use]
pub fn count(number: usize, noun: &str) -> String {
    if number == 1 {
        format!("1 {noun}")
    } else {
        format!("{number} {noun}s")
    }
}

/// One finding in one line: `file:line: [code] message (fix)`.
#[must_use]
pub fn line(files: &Files, finding: &Finding) -> String {
    let file = files
        .list
        .get(finding.primary.place.file)
        .map_or("", |file| file.shown.as_str());
    let (row, _) = position(files, &finding.primary.place);
    format!(
        "{file}:{row}: [{}] {} ({})",
        finding.code, finding.message, finding.fix
    )
}

/// One finding with the text it points at, as a compiler shows it.
#[must_use]
pub fn snippet(files: &Files, finding: &Finding, color: bool) -> String {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let mut group = level
        .primary_title(finding.message.as_str())
        .id(finding.code.as_str());
    let mut snippets: Vec<(usize, Vec<(AnnotationKind, &Label)>)> = Vec::new();
    let labels = std::iter::once((AnnotationKind::Primary, &finding.primary)).chain(
        finding
            .secondary
            .iter()
            .map(|label| (AnnotationKind::Context, label)),
    );
    for (kind, label) in labels {
        match snippets.iter_mut().find(|(file, _)| *file == label.place.file) {
            Some((_, list)) => list.push((kind, label)),
            None => snippets.push((label.place.file, vec![(kind, label)])),
        }
    }
    let mut elements = Vec::new();
    for (file, list) in snippets {
        let Some(file) = files.list.get(file) else {
            continue;
        };
        let mut snippet = Snippet::source(file.text.as_ref()).path(file.shown.as_str());
        for (kind, label) in list {
            // Findings about a whole file have an empty span; there is nothing to underline.
            let span = fit(&file.text, &label.place);
            snippet = snippet.annotation(
                kind.span(span)
                    .label((!label.text.is_empty()).then_some(label.text.as_str())),
            );
        }
        elements.push(snippet);
    }
    let report = [group_of(&mut group, elements, &finding.fix)];
    let renderer = if color {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    renderer.render(&report)
}

fn group_of<'a>(
    title: &mut annotate_snippets::Title<'a>,
    elements: Vec<Snippet<'a, annotate_snippets::Annotation<'a>>>,
    fix: &'a str,
) -> annotate_snippets::Group<'a> {
    title.clone().elements(elements).element(Level::HELP.message(fix))
}

/// The span within the text and on character borders, so that no file can make the renderer fail.
fn fit(text: &str, place: &Stretch) -> std::ops::Range<usize> {
    let border = |mut at: usize| {
        at = at.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = border(place.span.start);
    start..border(place.span.end).max(start)
}

/// Line and column of a place, both counted from 1, columns in characters.
#[must_use]
pub fn position(files: &Files, place: &Stretch) -> (usize, usize) {
    let Some(file) = files.list.get(place.file) else {
        return (1, 1);
    };
    let before = &file.text[..fit(&file.text, place).start];
    let line_start = before.rfind('\n').map_or(0, |at| at + 1);
    (
        before.matches('\n').count() + 1,
        before[line_start..].chars().count() + 1,
    )
}

/// A label as data.
#[derive(Debug, Serialize)]
pub struct LabelData<'a> {
    /// File as shown.
    pub file: &'a str,
    /// Line from 1.
    pub line: usize,
    /// Column from 1, in characters.
    pub column: usize,
    /// Underlined text.
    pub text: &'a str,
    /// What is said about it.
    #[serde(skip_serializing_if = "str::is_empty")]
    pub says: &'a str,
}

/// A finding as data, for `--format json`.
#[derive(Debug, Serialize)]
pub struct FindingData<'a> {
    /// The rule.
    pub code: &'static str,
    /// `error` or `warning`.
    pub severity: Severity,
    /// What is wrong.
    pub message: &'a str,
    /// The fault itself.
    pub at: LabelData<'a>,
    /// Related places.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub also: Vec<LabelData<'a>>,
    /// What to do.
    pub fix: &'a str,
}

/// A finding as data.
#[must_use]
pub fn data<'a>(files: &'a Files, finding: &'a Finding) -> FindingData<'a> {
    let label = |label: &'a Label| {
        let (line, column) = position(files, &label.place);
        let file = files.list.get(label.place.file);
        LabelData {
            file: file.map_or("", |file| file.shown.as_str()),
            line,
            column,
            text: file.map_or("", |file| &file.text[fit(&file.text, &label.place)]),
            says: &label.text,
        }
    };
    FindingData {
        code: finding.code.as_str(),
        severity: finding.severity,
        message: &finding.message,
        at: label(&finding.primary),
        also: finding.secondary.iter().map(label).collect(),
        fix: &finding.fix,
    }
}
