//! A figure as SVG: by itself, or as part of the page.

use crate::knowledge::model::Knowledge;

use super::escape::escape;
use super::figure::Figure;
use super::layers::{Area, Piece, Point};
use super::marks::{MARGIN, outlined, write_line};
use super::measure::{Weight, width, wrap};
use super::pen::Pen;
use super::step::{Leads, Shape, Step};
use super::way::{LABEL_INSET, LABEL_LEADING, LABEL_SIZE};
use super::{legend, pools, shape};

/// Style sheet of every picture.
pub(super) const STYLE: &str = include_str!("svg.css");
/// On paper the light colors hold whatever the screen shows, so the dark ones are for screens only.
const SCREEN_ONLY: (&str, &str) = (
    "@media (prefers-color-scheme",
    "@media screen and (prefers-color-scheme",
);

/// Narrowest picture, so that the title and the key find room.
const LEAST_WIDTH: f64 = 350.0;
/// Clear pixels between the parts of the whole.
const BETWEEN_PARTS: f64 = 26.0;

/// Where a picture is to stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum For {
    /// In a file of its own, with its style and a title that is seen.
    File,
    /// In the page, which holds the style once; boxes are links.
    Page,
}

/// The style sheet of the pictures, as it goes into a file or the page.
#[must_use]
pub(super) fn style() -> String {
    STYLE.replace(SCREEN_ONLY.0, SCREEN_ONLY.1)
}

/// Writes a figure.
///
/// In a file the title stands above the drawing; the lists of its pools and the key to the shapes stand below it.
/// In the page only the drawing is written, since the page says the rest in its own text.
#[must_use]
pub fn write(knowledge: &Knowledge, figure: &Figure, place: For) -> String {
    let mut pen = Pen::default();
    let full = figure.laid.size.width.max(match place {
        For::File => LEAST_WIDTH,
        For::Page => 0.0,
    });
    let mut top = MARGIN;
    if place == For::File {
        top = title(&mut pen, figure, full, top) + BETWEEN_PARTS;
    }
    let corner = Point {
        x: MARGIN + (full - figure.laid.size.width) / 2.0,
        y: top,
    };
    ways(&mut pen, figure, corner);
    for (place_of, step) in figure.boxes.iter().enumerate() {
        let area = moved(figure.laid.boxes[place_of], corner);
        let met = figure.ways.iter().any(|way| way.drawn && way.to == place_of);
        step_box(&mut pen, figure, step, area, met, place);
    }
    top += figure.laid.size.height;
    if place == For::File {
        if !figure.pools.is_empty() {
            top = pools::write(&mut pen, knowledge, figure, full, top + BETWEEN_PARTS);
        }
        top = legend::write(&mut pen, figure, full, top + BETWEEN_PARTS);
    }
    wrapped(figure, place, full + 2.0 * MARGIN, top + MARGIN, &pen.text)
}

fn wrapped(figure: &Figure, place: For, width: f64, height: f64, body: &str) -> String {
    let id = escape(&figure.tree);
    let (style, size, role) = match place {
        For::File => (
            format!("<style>\n{}{}</style>\n", style(), fitting(width, height)),
            "id=\"full-size\" width=\"100%\" preserveAspectRatio=\"xMidYMin meet\"".to_owned(),
            "img",
        ),
        // The links in it must stay within reach of whoever reads by ear.
        For::Page => (
            String::new(),
            format!("width=\"{width:.0}\" height=\"{height:.0}\""),
            "group",
        ),
    };
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width:.0} {height:.0}\" {size} \
         role=\"{role}\" aria-labelledby=\"picture-{id}-title picture-{id}-desc\">\n\
         <title id=\"picture-{id}-title\">{}</title>\n<desc id=\"picture-{id}-desc\">{}</desc>\n{style}\
         <rect class=\"d-paper\" width=\"100%\" height=\"100%\"/>\n{body}</svg>\n",
        escape(&figure.title),
        escape(&figure.description),
    )
}

/// How a file fills a window: no wider than it, no larger than drawn, the start at the top in the middle. With
/// `#full-size` behind its address it is as large as drawn.
fn fitting(width: f64, height: f64) -> String {
    format!(
        "@media screen {{\n  svg:root {{ display: block; width: 100%; max-width: {width:.0}px; height: auto; margin: 0 \
         auto; }}\n  svg:root:target {{ width: {width:.0}px; max-width: none; height: {height:.0}px; }}\n}}\n"
    )
}

fn moved(area: Area, by: Point) -> Area {
    Area {
        left: area.left + by.x,
        top: area.top + by.y,
        ..area
    }
}

fn title(pen: &mut Pen, figure: &Figure, full: f64, top: f64) -> f64 {
    let mut y = top;
    for line in wrap(&figure.title, full, 20.0, Weight::Bold) {
        y += 24.0;
        pen.text("d-title", MARGIN, y, &line);
    }
    y += 18.0;
    pen.text("d-id", MARGIN, y, &format!("tree {}", figure.tree));
    y
}

/// Draws all ways: one line to each box, with an edge of paper so that it is seen which line passes over which.
fn ways(pen: &mut Pen, figure: &Figure, corner: Point) {
    for (to, step) in figure.boxes.iter().enumerate() {
        let leading: Vec<usize> = (0..figure.ways.len())
            .filter(|way| figure.ways[*way].drawn && figure.ways[*way].to == to)
            .collect();
        if leading.is_empty() {
            continue;
        }
        let from: Vec<String> = leading
            .iter()
            .map(|way| escape(&figure.boxes[figure.ways[*way].from].id))
            .collect();
        let mut pieces: Vec<Piece> = Vec::new();
        for piece in leading.iter().flat_map(|way| &figure.laid.routes[*way]) {
            if !pieces.contains(piece) {
                pieces.push(*piece);
            }
        }
        let path: String = pieces.iter().map(|piece| piece_path(*piece, corner)).collect();
        pen.raw(&format!(
            "<g class=\"d-ways\" data-to=\"{}\" data-from=\"{}\"><path class=\"d-edge\" d=\"{path}\"/>\
             <path class=\"d-line\" d=\"{path}\"/></g>\n",
            escape(&step.id),
            from.join(" ")
        ));
    }
    for (way, label) in figure.ways.iter().zip(&figure.laid.labels) {
        let Some(area) = label else { continue };
        let area = moved(*area, corner);
        pen.raw(&format!(
            "<g class=\"d-outcome\" data-from=\"{}\" data-to=\"{}\">",
            escape(&figure.boxes[way.from].id),
            escape(&figure.boxes[way.to].id)
        ));
        for (number, line) in way.label.iter().enumerate() {
            let free = area.width - width(line, LABEL_SIZE, Weight::Plain);
            let y = area.top + LABEL_INSET.y + LABEL_LEADING * number as f64 + LABEL_SIZE - 0.5;
            pen.centered("d-label", area.middle(), y, line, free);
        }
        pen.raw("</g>\n");
    }
}

/// A piece of a way: straight down, or swung over with both ends straight down.
fn piece_path(piece: Piece, corner: Point) -> String {
    let (x0, y0) = (piece.from.x + corner.x, piece.from.y + corner.y);
    let (x1, y1) = (piece.to.x + corner.x, piece.to.y + corner.y);
    if (x0 - x1).abs() < 0.05 {
        format!("M{x0:.1} {y0:.1}V{y1:.1}")
    } else {
        let half = f64::midpoint(y0, y1);
        format!("M{x0:.1} {y0:.1}C{x0:.1} {half:.1} {x1:.1} {half:.1} {x1:.1} {y1:.1}")
    }
}

fn step_box(pen: &mut Pen, figure: &Figure, step: &Step, area: Area, met: bool, place: For) {
    let tree = figure.tree.as_str();
    let link = (place == For::Page).then(|| href(tree, step));
    if let Some(link) = &link {
        pen.raw(&format!("<a class=\"d-link\" href=\"{}\">", escape(link)));
    }
    pen.raw(&format!(
        "<g class=\"{}\"{} data-node=\"{}\"><title>{}</title>",
        shape::class(step.shape),
        match place {
            For::File => String::new(),
            For::Page => format!(" id=\"box-{}.{}\"", escape(tree), escape(&step.id)),
        },
        escape(&step.id),
        escape(&format!("{}: {}", step.id, step.told)),
    ));
    if step.shape == Shape::Pool
        && let Some(sheets) = shape::strokes(step.shape, area)
    {
        pen.path("d-more", &sheets);
    }
    outlined(pen, step.shape, area);
    let text = shape::text_area(step.shape, area);
    let mut y = text.top;
    for line in &step.lines {
        write_line(pen, line, text.left, &mut y);
    }
    pen.raw("</g>");
    if link.is_some() {
        pen.raw("</a>");
    }
    exits(pen, figure, step, text, y, place);
    if met {
        let (x, y) = (area.middle(), area.top);
        pen.path(
            "d-head",
            &format!("M{x:.1} {y:.1}L{:.1} {:.1}H{:.1}Z", x - 5.0, y - 9.0, x + 5.0),
        );
    }
    pen.raw("\n");
}

/// Writes the ways that are named instead of drawn; on the page each leads to its box.
fn exits(pen: &mut Pen, figure: &Figure, step: &Step, text: Area, top: f64, place: For) {
    if step.exits.is_empty() {
        return;
    }
    let mut y = top + shape::BEFORE_EXITS;
    let rule = top + shape::BEFORE_EXITS / 2.0;
    pen.path(
        "d-rule",
        &format!("M{:.1} {rule:.1}H{:.1}", text.left, text.right()),
    );
    for exit in &step.exits {
        let goal = escape(&figure.boxes[exit.to].id);
        let tree = escape(&figure.tree);
        if place == For::Page {
            pen.raw(&format!("<a class=\"d-link\" href=\"#box-{tree}.{goal}\">"));
        }
        pen.raw(&format!(
            "<g class=\"d-exit\" data-from=\"{}\" data-to=\"{goal}\">",
            escape(&step.id)
        ));
        for line in &exit.lines {
            write_line(pen, line, text.left, &mut y);
        }
        y += shape::AFTER_EXIT;
        pen.raw("</g>");
        if place == For::Page {
            pen.raw("</a>");
        }
    }
}

fn href(tree: &str, step: &Step) -> String {
    match &step.leads {
        Leads::Test(test) => format!("#test-{test}"),
        Leads::Tree(tree) => format!("#tree-{tree}"),
        Leads::Step => format!("#step-{tree}.{}", step.id),
    }
}
