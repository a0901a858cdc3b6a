//! Marks that more than one part of a picture is drawn with.

use super::layers::Area;
use super::pen::Pen;
use super::shape;
use super::step::{Line, Shape, Style};

/// Clear pixels around the whole.
pub(super) const MARGIN: f64 = 20.0;

/// Writes a line of a box or list from `left` on, and moves `y` to the next.
pub(super) fn write_line(pen: &mut Pen, line: &Line, left: f64, y: &mut f64) {
    let base = *y + line.style.size();
    match line.style {
        Style::ListedEnergised => pen.path("d-bolt", &shape::bolt(left, base - 9.5, 0.9)),
        Style::Goal => pen.path("d-head", &shape::arrow(left, base)),
        _ => {}
    }
    pen.text(
        shape::line_class(line.style),
        left + line.style.indent(),
        base,
        &line.text,
    );
    *y += line.style.leading();
}

/// Outline of a shape with its band or second strokes.
pub(super) fn outlined(pen: &mut Pen, what: Shape, area: Area) {
    pen.path("d-out", &shape::outline(what, area));
    match what {
        Shape::Energised => {
            pen.path(
                "d-strip",
                &format!(
                    "M{:.1} {:.1}h{:.1}v{:.1}h-{:.1}Z",
                    area.left,
                    area.top,
                    area.width,
                    shape::BAND,
                    area.width
                ),
            );
            pen.path(
                "d-strip-bolt",
                &shape::bolt(area.left + 9.0, area.top + 3.0, 1.15),
            );
            if area.width > shape::BAND_INDENT + 60.0 {
                pen.text(
                    "d-band",
                    area.left + shape::BAND_INDENT,
                    area.top + shape::BAND - 6.0,
                    shape::BAND_TEXT,
                );
            }
        }
        Shape::Pool => {}
        _ => {
            if let Some(strokes) = shape::strokes(what, area) {
                pen.path("d-more", &strokes);
            }
        }
    }
}
