//! What would be read at the tests not yet made, as text for a screen: each test by its outcomes, under each the causes.

use crate::inference::words;
use crate::knowledge::render::count;
use crate::rig::predict::{Aside, Called, Line, Prediction, Reading, TestForeseen, Way};

use super::layout::{Layout, Page};

/// What these figures are and what they are not. Safety stands in it, so it comes first.
const MEANS: &str = "Calculated from plate and typical values: no promises. A live reading is made only after the steps the walk puts \
                     before it. A reading that fits none of them means something is not listed.";

/// What readings already made do here.
const UNTUNED: &str = "No reading of the case changes these figures.";
const TUNED: &str = "Fitted to what was read:";

/// How to read the lines.
const LEGEND: &str = "In parentheses: from mild to severe.";
const LATER: &str = "Running readings are ten minutes on, after an overload protector has opened; at the run capacitor, while it hums.";
const WAYS: &str = "(1/2): one of two ways it can read.";

/// Renders it.
#[must_use]
pub fn render(prediction: &Prediction, layout: Layout) -> String {
    let mut page = Page::new(layout);
    page.item("!", MEANS);
    if let Some(stopped) = &prediction.stopped {
        page.heading("STOPPED FOR SAFETY: NOTHING IS MEASURED NOW");
        page.item("!", stopped);
        return page.text;
    }
    compared(&mut page, prediction);
    held(&mut page, prediction);
    page.heading("READINGS THAT WOULD TELL, THE MOST TELLING FIRST");
    if prediction.tests.is_empty() {
        page.paragraph("", nothing(prediction));
    } else {
        page.paragraph("", LEGEND);
        if prediction.called != Called::Nothing {
            page.paragraph("", LATER);
        }
        let mut lines = prediction.tests.iter().flat_map(|test| &test.lines);
        if lines.any(|line| line.ways.len() > 1) {
            page.paragraph("", WAYS);
        }
    }
    for (number, foreseen) in prediction.tests.iter().enumerate() {
        page.line("");
        test(&mut page, number + 1, foreseen);
    }
    alike(&mut page, prediction);
    taken(&mut page, prediction);
    page.text
}

/// Why there is no reading to show.
fn nothing(prediction: &Prediction) -> &'static str {
    if prediction.causes.is_empty() {
        "None of the leading causes has a model, so there is nothing to compare."
    } else if prediction.held.is_empty() {
        "No reading left to take would differ by more than the meter's error."
    } else {
        "None of the readings that may be taken now would differ by more than the meter's error."
    }
}

fn compared(page: &mut Page, prediction: &Prediction) {
    page.heading(match prediction.called {
        Called::Compressor => "COMPARED, WITH THE COMPRESSOR CALLED FOR",
        Called::Heat => "COMPARED, WITH HEAT CALLED FOR",
        Called::Nothing => "COMPARED",
    });
    for cause in &prediction.causes {
        page.behind(
            "- ",
            &format!("{}: {}", cause.name, words::percent(cause.probability)),
        );
    }
    page.behind("- ", "nothing wrong here");
    asides(page, &prediction.as_sound, "reads as if nothing were wrong");
    asides(page, &prediction.no_model, "no model");
}

fn asides(page: &mut Page, asides: &[Aside], label: &str) {
    for aside in asides {
        let share = words::percent(aside.probability);
        page.behind("- ", &format!("{} ({share}): {label}: {}", aside.name, aside.why));
    }
}

fn held(page: &mut Page, prediction: &Prediction) {
    if prediction.held.is_empty() {
        return;
    }
    page.heading("NOT SHOWN: NOT TO BE MEASURED NOW");
    for held in &prediction.held {
        let readings = count(held.readings, "reading");
        let first = held.first.as_ref().map_or_else(String::new, |first| {
            format!(" First: {}.", first.trim_end_matches('.'))
        });
        page.item("!", &format!("{readings}. {}{first}", held.says));
    }
}

fn test(page: &mut Page, number: usize, test: &TestForeseen) {
    page.strong(&format!("{number}. {}", test.name));
    let whose = test
        .job
        .map_or_else(String::new, |whose| format!(", {}", whose.in_words()));
    page.paragraph(
        "   ",
        &format!(
            "{}, {}, {:.0} min{whose}",
            test.state.in_words(),
            test.hazard.in_words(),
            test.minutes.round().max(1.0)
        ),
    );
    let mut groups: Vec<(String, Vec<(&Line, &Way)>)> = Vec::new();
    for line in &test.lines {
        for way in &line.ways {
            let title = title(way);
            match groups.iter_mut().find(|(known, _)| *known == title) {
                Some((_, all)) => all.push((line, way)),
                None => groups.push((title, vec![(line, way)])),
            }
        }
    }
    let column = groups
        .iter()
        .flat_map(|(_, all)| all)
        .map(|(_, way)| amount(way).chars().count())
        .max()
        .unwrap_or(0);
    for (title, lines) in groups {
        page.paragraph("   ", &title);
        for (line, way) in lines {
            page.behind(&format!("     {:<column$}  ", amount(way)), &who(line, way));
        }
    }
}

/// The outcome a way is read as.
fn title(way: &Way) -> String {
    match (&way.typical, &way.label, &way.no_reading) {
        (Some(_), Some(label), _) => format!("{label}:"),
        (Some(_), None, _) => "Not to be judged without a figure that is missing:".to_owned(),
        (None, _, Some(why)) => format!("No reading: {why}:"),
        (None, _, None) => "No reading:".to_owned(),
    }
}

/// What the meter shows, and in parentheses from mild to severe where that is another figure.
fn amount(way: &Way) -> String {
    let Some(typical) = &way.typical else {
        return "none".to_owned();
    };
    match &way.range {
        Some([low, high]) if low.shown != high.shown => format!("{} ({})", typical.shown, range(low, high)),
        _ => typical.shown.clone(),
    }
}

/// `12 to 15 V`, or `95 mV to 1.6 V`.
fn range(low: &Reading, high: &Reading) -> String {
    let unit = |reading: &Reading| reading.shown.split_once(' ').map(|(_, unit)| unit.to_owned());
    match low.shown.split_once(' ') {
        Some((number, _)) if number == "0" || unit(low) == unit(high) => {
            format!("{number} to {}", high.shown)
        }
        _ => format!("{} to {}", low.shown, high.shown),
    }
}

/// The cause, and what else can be met with it.
fn who(line: &Line, way: &Way) -> String {
    let mut said = line.name.clone();
    if line.ways.len() > 1 {
        said.push_str(&format!(" (1/{})", line.ways.len()));
    }
    if let (Some(_), Some(why)) = (&way.typical, &way.no_reading) {
        said.push_str(&format!("; or none, {why}"));
    }
    said
}

/// What the meter cannot settle; where no test is shown, that says it already.
fn alike(page: &mut Page, prediction: &Prediction) {
    if prediction.tests.is_empty() || prediction.alike.is_empty() {
        return;
    }
    page.heading("NO READING THAT MAY BE TAKEN NOW TELLS THESE APART");
    for group in &prediction.alike {
        page.behind("- ", &format!("{}.", group.join("; ")));
    }
}

fn taken(page: &mut Page, prediction: &Prediction) {
    page.heading("NOT GIVEN, AND TAKEN AS TYPICAL");
    if prediction.assumed.is_empty() {
        page.line("Nothing: every figure was given.");
    }
    let list: Vec<String> = prediction
        .assumed
        .iter()
        .map(|taken| format!("{} {}", taken.name, taken.value))
        .collect();
    if !list.is_empty() {
        page.paragraph("", &format!("{}.", list.join("; ")));
    }
    if prediction.tuned.is_empty() {
        page.paragraph("", UNTUNED);
    } else {
        let names: Vec<&str> = prediction.tuned.iter().map(|tuned| tuned.name.as_str()).collect();
        page.paragraph("", &format!("{TUNED} {}.", names.join("; ")));
    }
}
