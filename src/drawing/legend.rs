//! The key to the shapes under a drawing.

use super::figure::Figure;
use super::layers::Area;
use super::marks::{MARGIN, outlined};
use super::measure::{Weight, width};
use super::pen::Pen;
use super::step::{Shape, Style};
use super::{marks, shape};

/// Width and height of a sample.
const SAMPLE: (f64, f64) = (44.0, 26.0);
/// From one row of samples to the next.
const ROW: f64 = 38.0;

/// Every shape with its meaning, in the order in which the key lists them.
const MEANINGS: [(Shape, &str); 8] = [
    (Shape::Test, "test: ask, look, measure dead"),
    (Shape::Energised, "test on energized equipment"),
    (Shape::Pool, "pool: the next best test is picked"),
    (Shape::Through, "through a shared tree and back"),
    (Shape::Halt, "stop for safety, and call"),
    (Shape::Close, "conclude"),
    (Shape::Leave, "back to where it was entered"),
    (Shape::Elsewhere, "goes on in another tree"),
];

/// Writes the key from `top` on and says where it ends.
pub(super) fn write(pen: &mut Pen, figure: &Figure, full: f64, top: f64) -> f64 {
    let mut y = top + 18.0;
    pen.raw("<g class=\"d-key\">");
    pen.text("d-name", MARGIN, y, "Key");
    y += 14.0;
    let mut x = 0.0;
    for (what, meaning) in MEANINGS {
        if !figure.boxes.iter().any(|step| step.shape == what) {
            continue;
        }
        let wide = SAMPLE.0 + 8.0 + width(meaning, Style::Small.size(), Weight::Plain) + 24.0;
        if x > 0.0 && x + wide > full {
            x = 0.0;
            y += ROW;
        }
        pen.raw(&format!("<g class=\"{}\">", shape::class(what)));
        let area = Area {
            left: MARGIN + x,
            top: y,
            width: SAMPLE.0,
            height: SAMPLE.1,
        };
        if what == Shape::Pool
            && let Some(sheets) = shape::strokes(what, area)
        {
            pen.path("d-more", &sheets);
        }
        outlined(pen, what, area);
        pen.raw("</g>");
        pen.text("d-small", MARGIN + x + SAMPLE.0 + 8.0, y + 17.0, meaning);
        x += wide;
    }
    y += ROW + 6.0;
    let notes = "Ways lead down. An arrow in a box names the step where a way goes on that is too far off for a line. \
                 \"Otherwise\" is every outcome not named beside it, and \"could not check\". In a pool a bolt marks a \
                 test on energized equipment.";
    for line in super::measure::wrap(notes, full, Style::Small.size(), Weight::Plain) {
        pen.text("d-small", marks::MARGIN, y, &line);
        y += Style::Small.leading();
    }
    pen.raw("</g>\n");
    y
}
