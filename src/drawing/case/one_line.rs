//! The one-line diagram: one spine from the source down to the load, each spot with its symbol, readings and ohms.
//!
//! It stands upright so that a phone shows it whole, and carries its figures as text, so that it can be read aloud,
//! searched and copied. What is suspected is told by a heavy frame and by words, never by color alone.

use maud::{Markup, html};

use crate::drawing::measure::{Weight, wrap};
use crate::report::{OneLine, Spot, Station};

use crate::drawing::said;

const WIDTH: f64 = 400.0;
/// The spine, and where the 24 V side leaves it.
const SPINE: f64 = 50.0;
const BRANCH: f64 = 16.0;
/// Where text begins and ends.
const TEXT: (f64, f64) = (92.0, 392.0);
const SIZE: f64 = 13.5;
const LEADING: f64 = 18.0;
/// Clear pixels between two spots, and from the edge.
const BETWEEN: f64 = 16.0;
const MARGIN: f64 = 8.0;
/// Height of a symbol with the spine above and below it.
const SYMBOL: f64 = 44.0;
/// Depth of the middle of a symbol under the top of its spot.
const MIDDLE: f64 = 16.0;

/// A line of text with its class.
struct Line {
    class: &'static str,
    text: String,
}

/// Takes a figure down to its unit where the unit would stand alone on the last line.
fn keep_unit(lines: &mut [String]) {
    let [.., before, last] = lines else { return };
    let is_unit = last.chars().count() <= 4 && !last.contains(' ');
    if let Some((rest, figure)) = before.rsplit_once(' ')
        && is_unit
        && figure.ends_with(|letter: char| letter.is_ascii_digit())
    {
        *last = format!("{figure} {last}");
        *before = rest.to_owned();
    }
}

/// Where a spot lies.
struct Placed<'r> {
    station: &'r Station,
    top: f64,
    height: f64,
    lines: Vec<Line>,
}

impl Placed<'_> {
    fn middle(&self) -> f64 {
        self.top + MIDDLE
    }
}

pub(super) fn picture(one_line: &OneLine) -> Markup {
    let mut y = MARGIN;
    let mut placed: Vec<Placed<'_>> = Vec::new();
    for station in &one_line.stations {
        let lines = lines(station);
        let height = (lines.len() as f64 * LEADING + 6.0).max(SYMBOL);
        placed.push(Placed {
            station,
            top: y,
            height,
            lines,
        });
        y += height + BETWEEN;
    }
    let height = y - BETWEEN + MARGIN;
    html! {
        figure class="one-line" {
            svg xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {WIDTH:.0} {height:.0}"))
                role="img" aria-labelledby="one-line-title one-line-description" {
                title id="one-line-title" { "One-line diagram from the source to the load" }
                desc id="one-line-description" { (said(&described(one_line))) }
                (spine(&placed, one_line.control_apart))
                @for spot in &placed { (station(spot)) }
            }
            figcaption {
                "From the source down to the load. "
                "\u{201c}=\u{201d} is worked out, \u{201c}!\u{201d} is a defect, a heavy frame is the suspected spot."
                @if let Some(name) = &one_line.not_electrical {
                    " " b { "The leading cause is not electrical: " (said(name)) "." }
                }
            }
        }
    }
}

/// What the diagram shows, in a sentence for whoever does not see it.
fn described(one_line: &OneLine) -> String {
    let suspects: Vec<String> = one_line
        .stations
        .iter()
        .flat_map(|station| {
            station
                .suspects
                .iter()
                .map(|suspect| format!("{} ({})", station.name, suspect.name))
        })
        .collect();
    if suspects.is_empty() {
        "No spot is marked as suspected.".to_owned()
    } else {
        format!("Suspected: {}.", suspects.join("; "))
    }
}

fn lines(station: &Station) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut add = |class: &'static str, text: &str, weight| {
        // Hanging indent: what a line runs on with stands under its text, not under its mark.
        let mut wrapped = wrap(text, TEXT.1 - TEXT.0 - 8.0, SIZE, weight);
        keep_unit(&mut wrapped);
        for line in wrapped {
            lines.push(Line { class, text: line });
        }
    };
    add("o-name", &station.name, Weight::Bold);
    for suspect in &station.suspects {
        add(
            "o-suspect",
            &format!("SUSPECTED {}: {}", suspect.rank, suspect.name),
            Weight::Bold,
        );
    }
    for defect in &station.defects {
        add("o-defect", &format!("! {defect}"), Weight::Bold);
    }
    for reading in &station.readings {
        add("o-reading", reading, Weight::Plain);
    }
    for worked_out in &station.worked_out {
        add("o-reading", &format!("= {worked_out}"), Weight::Plain);
    }
    for rating in &station.ratings {
        add("o-rating", rating, Weight::Plain);
    }
    lines
}

/// The line all hangs on; the 24 V side leaves it at the unit and is dashed, unless it is fed elsewhere and stands apart.
fn spine(placed: &[Placed<'_>], control_apart: bool) -> Markup {
    let on_spine: Vec<&Placed<'_>> = placed
        .iter()
        .filter(|spot| spot.station.spot != Spot::Control)
        .collect();
    let control = placed
        .iter()
        .find(|spot| spot.station.spot == Spot::Control && !control_apart);
    let unit = placed.iter().find(|spot| spot.station.spot == Spot::Unit);
    html! {
        @if let (Some(first), Some(last)) = (on_spine.first(), on_spine.last()) {
            path class="o-line" d=(format!("M{SPINE} {:.1}V{:.1}", first.middle(), last.middle())) {}
        }
        @if let (Some(control), Some(unit)) = (control, unit) {
            path class="o-line o-dashed" d=(format!(
                "M{SPINE} {:.1}H{BRANCH}V{:.1}H{SPINE}",
                unit.middle() + 20.0,
                control.middle()
            )) {}
        }
    }
}

fn station(placed: &Placed<'_>) -> Markup {
    let suspected = !placed.station.suspects.is_empty();
    html! {
        g class=(if suspected { "o-spot o-suspected" } else { "o-spot" }) {
            @if suspected {
                rect class="o-frame" x="4" y=(format!("{:.1}", placed.top - 6.0)) rx="6"
                    width=(format!("{:.1}", WIDTH - 8.0)) height=(format!("{:.1}", placed.height + 8.0)) {}
            }
            (symbol(placed.station.spot, placed.middle()))
            @for (number, line) in placed.lines.iter().enumerate() {
                text class=(line.class) x=(format!("{:.1}", TEXT.0))
                    y=(format!("{:.1}", placed.top + LEADING * number as f64 + SIZE)) { (said(&line.text)) }
            }
        }
    }
}

/// The usual symbols, as drawn on service and control diagrams.
///
/// *Source* IEEE Std 315 (transformer as two windings, fused and plain switches, contact as two bars, motor as a circle
/// with M), from memory; drawn plainly.
fn symbol(spot: Spot, y: f64) -> Markup {
    let x = SPINE;
    let clear = |half: f64| {
        html! { rect class="o-clear" x=(format!("{:.1}", x - half)) y=(format!("{:.1}", y - half))
        width=(format!("{:.1}", 2.0 * half)) height=(format!("{:.1}", 2.0 * half)) {} }
    };
    let path = |d: String| html! { path class="o-symbol" d=(d) {} };
    let circle = |cy: f64, r: f64| {
        html! { circle class="o-symbol o-solid" cx=(format!("{x:.1}")) cy=(format!("{cy:.1}")) r=(format!("{r:.1}")) {} }
    };
    let lettered = |r: f64, letters: &'static str| {
        html! {
            (circle(y, r))
            text class="o-letter" text-anchor="middle" x=(format!("{x:.1}")) y=(format!("{:.1}", y + 4.0)) { (letters) }
        }
    };
    match spot {
        Spot::Source | Spot::Control => html! {
            (circle(y + 6.0, 9.0))
            circle class="o-symbol" cx=(format!("{x:.1}")) cy=(format!("{:.1}", y - 6.0)) r="9" {}
        },
        Spot::Meter => lettered(13.0, "kWh"),
        Spot::Panel => html! {
            rect class="o-symbol o-solid" x=(format!("{:.1}", x - 18.0)) y=(format!("{:.1}", y - 12.0)) width="36" height="24" {}
            (path(format!("M{:.1} {y:.1}h28", x - 14.0)))
        },
        Spot::Breaker => html! {
            (clear(9.0))
            (path(format!("M{x:.1} {:.1}C{:.1} {:.1} {:.1} {:.1} {x:.1} {:.1}", y - 9.0, x + 14.0, y - 7.0, x + 14.0, y + 7.0, y + 9.0)))
        },
        Spot::Conductors => path(format!(
            "M{:.1} {:.1}l16 -8M{:.1} {:.1}l16 -8",
            x - 8.0,
            y + 2.0,
            x - 8.0,
            y + 10.0
        )),
        Spot::Disconnect => html! {
            (clear(11.0))
            (path(format!("M{x:.1} {:.1}L{:.1} {:.1}", y + 10.0, x + 15.0, y - 9.0)))
            (circle(y - 11.0, 2.5))
            (circle(y + 11.0, 2.5))
        },
        Spot::Unit => html! {
            (circle(y - 6.0, 4.0))
            (circle(y + 8.0, 4.0))
        },
        Spot::Contactor => html! {
            (clear(5.0))
            (path(format!("M{:.1} {:.1}h22M{:.1} {:.1}h22", x - 11.0, y - 5.0, x - 11.0, y + 5.0)))
        },
        Spot::Load => lettered(14.0, "M"),
    }
}

#[cfg(test)]
mod tests {
    use super::keep_unit;

    #[test]
    fn a_unit_stands_on_no_line_without_its_figure() {
        let mut lines = ["while the load is on: 122.3", "V"].map(str::to_owned);
        keep_unit(&mut lines);
        assert_eq!(lines, ["while the load is on:", "122.3 V"]);
        let mut lines = ["SUSPECTED 1", "lug"].map(str::to_owned);
        keep_unit(&mut lines[..1]);
        assert_eq!(lines[0], "SUSPECTED 1");
    }
}
