//! Outlines of boxes: each kind of step has its own, told apart without color.

use super::layers::{Area, Size};
use super::measure::{Weight, width};
use super::step::{Shape, Step, Style};

/// Clear pixels left and right, above and below.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Inset {
    /// Left and right.
    pub(super) x: f64,
    /// Above and below.
    pub(super) y: f64,
}

/// Height of the band over a test on energized equipment.
pub(super) const BAND: f64 = 20.0;
/// What the band says.
pub(super) const BAND_TEXT: &str = "ENERGIZED";
/// Font size in the band.
pub(super) const BAND_SIZE: f64 = 11.0;
/// From the left edge to the text of the band, where the bolt stands.
pub(super) const BAND_INDENT: f64 = 24.0;
/// How far each sheet of a pool looks out behind the one before.
pub(super) const SHEET: f64 = 4.0;
/// How deep the tip of a way into another tree reaches.
pub(super) const TIP: f64 = 16.0;
/// Clear pixels around the line between text and exits.
pub(super) const BEFORE_EXITS: f64 = 9.0;
/// Clear pixels under each exit.
pub(super) const AFTER_EXIT: f64 = 4.0;
/// Corner cut off a stop.
const CORNER: f64 = 14.0;
/// From the edge to the second upright of a way through a shared tree.
pub(super) const UPRIGHT: f64 = 7.0;

fn inset(shape: Shape) -> Inset {
    match shape {
        Shape::Test | Shape::Energised | Shape::Pool => Inset { x: 11.0, y: 8.0 },
        Shape::Through => Inset { x: 17.0, y: 8.0 },
        Shape::Halt => Inset { x: 16.0, y: 13.0 },
        Shape::Close | Shape::Leave => Inset { x: 24.0, y: 10.0 },
        Shape::Elsewhere => Inset { x: 12.0, y: 8.0 },
    }
}

/// What a shape needs besides text and inset: right of it, above it and below it.
fn trimmings(shape: Shape) -> (f64, f64, f64) {
    match shape {
        Shape::Energised => (0.0, BAND, 0.0),
        Shape::Pool => (2.0 * SHEET, 2.0 * SHEET, 0.0),
        Shape::Elsewhere => (0.0, 0.0, TIP),
        _ => (0.0, 0.0, 0.0),
    }
}

/// Size of a box that holds its text.
pub(super) fn size_of(step: &Step) -> Size {
    let inset = inset(step.shape);
    let (right, above, below) = trimmings(step.shape);
    let text = step.all_lines().map(super::Line::width).fold(0.0, f64::max);
    let band = match step.shape {
        Shape::Energised => BAND_INDENT + width(BAND_TEXT, BAND_SIZE, Weight::Bold) + 8.0,
        _ => 0.0,
    };
    let mut lines: f64 = step.all_lines().map(|line| line.style.leading()).sum();
    if !step.exits.is_empty() {
        lines += BEFORE_EXITS + AFTER_EXIT * step.exits.len() as f64;
    }
    Size {
        width: (text + 2.0 * inset.x + right).max(band).ceil(),
        height: (lines + 2.0 * inset.y + above + below).ceil(),
    }
}

/// The part of a box in which its text lies.
#[must_use]
pub fn text_area(shape: Shape, area: Area) -> Area {
    let inset = inset(shape);
    let (right, above, below) = trimmings(shape);
    Area {
        left: area.left + inset.x,
        top: area.top + above + inset.y,
        width: area.width - 2.0 * inset.x - right,
        height: area.height - 2.0 * inset.y - above - below,
    }
}

/// Path data of the outline; a pool's is that of its front sheet.
pub(super) fn outline(shape: Shape, area: Area) -> String {
    let Area {
        left,
        top,
        width,
        height,
    } = area;
    let (right, bottom) = (area.right(), area.bottom());
    match shape {
        Shape::Halt => {
            // The sample in the key is low.
            let corner = CORNER.min(height / 3.0);
            format!(
                "M{:.1} {top:.1}H{:.1}L{right:.1} {:.1}V{:.1}L{:.1} {bottom:.1}H{:.1}L{left:.1} {:.1}V{:.1}Z",
                left + corner,
                right - corner,
                top + corner,
                bottom - corner,
                right - corner,
                left + corner,
                bottom - corner,
                top + corner,
            )
        }
        Shape::Close | Shape::Leave => {
            let radius = (height / 2.0).min(24.0);
            format!(
                "M{:.1} {top:.1}h{:.1}a{radius:.1} {radius:.1} 0 0 1 {radius:.1} {radius:.1}v{:.1}\
                 a{radius:.1} {radius:.1} 0 0 1 -{radius:.1} {radius:.1}h-{:.1}\
                 a{radius:.1} {radius:.1} 0 0 1 -{radius:.1} -{radius:.1}v-{:.1}\
                 a{radius:.1} {radius:.1} 0 0 1 {radius:.1} -{radius:.1}Z",
                left + radius,
                width - 2.0 * radius,
                height - 2.0 * radius,
                width - 2.0 * radius,
                height - 2.0 * radius,
            )
        }
        Shape::Elsewhere => format!(
            "M{left:.1} {top:.1}H{right:.1}V{:.1}L{:.1} {bottom:.1}L{left:.1} {:.1}Z",
            bottom - TIP,
            area.middle(),
            bottom - TIP,
        ),
        Shape::Pool => rectangle(Area {
            top: top + 2.0 * SHEET,
            width: width - 2.0 * SHEET,
            height: height - 2.0 * SHEET,
            ..area
        }),
        Shape::Test | Shape::Energised | Shape::Through => rectangle(area),
    }
}

fn rectangle(area: Area) -> String {
    format!(
        "M{:.1} {:.1}h{:.1}v{:.1}h-{:.1}Z",
        area.left, area.top, area.width, area.height, area.width
    )
}

/// Path data of what a shape shows besides its outline, in the same pen.
pub(super) fn strokes(shape: Shape, area: Area) -> Option<String> {
    let (right, bottom) = (area.right(), area.bottom());
    match shape {
        Shape::Through => Some(format!(
            "M{:.1} {:.1}V{bottom:.1}M{:.1} {:.1}V{bottom:.1}",
            area.left + UPRIGHT,
            area.top,
            right - UPRIGHT,
            area.top,
        )),
        // The two sheets behind look out above and to the right.
        Shape::Pool => Some(
            [1.0, 2.0]
                .map(|sheet| {
                    let (low, high) = (SHEET * (sheet - 1.0), SHEET * sheet);
                    format!(
                        "M{:.1} {:.1}V{:.1}H{:.1}V{:.1}H{:.1}",
                        area.left + high,
                        area.top + 2.0 * SHEET - low,
                        area.top + 2.0 * SHEET - high,
                        right - 2.0 * SHEET + high,
                        bottom - high,
                        right - 2.0 * SHEET + low,
                    )
                })
                .concat(),
        ),
        // A second pill inside the first.
        Shape::Leave => Some(outline(
            Shape::Close,
            Area {
                left: area.left + 4.0,
                top: area.top + 4.0,
                width: area.width - 8.0,
                height: area.height - 8.0,
            },
        )),
        _ => None,
    }
}

/// Path data of a bolt whose upper left corner lies here, 8 pixels wide at scale 1 and 12 high.
pub(super) fn bolt(left: f64, top: f64, scale: f64) -> String {
    let at = |x: f64, y: f64| format!("{:.1} {:.1}", left + x * scale, top + y * scale);
    format!(
        "M{}L{}L{}L{}L{}L{}Z",
        at(5.0, 0.0),
        at(0.0, 7.0),
        at(3.4, 7.0),
        at(2.6, 12.0),
        at(8.0, 4.6),
        at(4.4, 4.6),
    )
}

/// Path data of a small arrow to the right on a base line, 10 pixels wide.
pub(super) fn arrow(left: f64, base: f64) -> String {
    let y = base - 4.0;
    format!("M{left:.1} {:.1}h5v-2.7l5 3.7l-5 3.7v-2.7h-5Z", y - 1.0)
}

/// Class of a shape in the style sheet.
pub(super) fn class(shape: Shape) -> &'static str {
    match shape {
        Shape::Test => "d-test",
        Shape::Energised => "d-energised",
        Shape::Pool => "d-pool",
        Shape::Through => "d-through",
        Shape::Halt => "d-halt",
        Shape::Close => "d-close",
        Shape::Leave => "d-leave",
        Shape::Elsewhere => "d-elsewhere",
    }
}

/// Whether a line of a box is written in the pale hue.
pub(super) fn line_class(style: Style) -> &'static str {
    match style {
        Style::Id => "d-id",
        Style::Name => "d-name",
        Style::Small | Style::Listed | Style::ListedEnergised | Style::Outcome => "d-small",
        Style::Goal | Style::GoalMore => "d-goal",
    }
}
