//! A figure in the DOT language, for programs that lay out graphs themselves.

use std::fmt::Write as _;

use super::figure::Figure;
use super::step::Shape;

/// Writes a figure as a directed graph.
///
/// *Source* of the syntax: The DOT Language, <https://graphviz.org/doc/info/lang.html>; in a quoted string only the
/// quote is escaped, and a backslash begins an escape of the label.
#[must_use]
pub fn write(figure: &Figure) -> String {
    let mut text = String::new();
    // Writing to a string cannot fail.
    let _ = writeln!(text, "digraph {} {{", quoted(&figure.tree));
    let _ = writeln!(text, "  graph [label={}, labelloc=t]", quoted(&figure.title));
    text.push_str(
        "  node [fontname=\"Helvetica\", fontsize=11]\n  edge [fontname=\"Helvetica\", fontsize=10]\n",
    );
    for step in &figure.boxes {
        let lines: Vec<&str> = step.lines.iter().map(|line| line.text.as_str()).collect();
        let mut label = lines.join("\n");
        if step.shape == Shape::Energised {
            label = format!("ENERGIZED\n{label}");
        }
        let _ = writeln!(
            text,
            "  {} [{}, label={}, tooltip={}]",
            quoted(&step.id),
            attributes(step.shape),
            quoted(&label),
            quoted(&step.told)
        );
    }
    for way in &figure.ways {
        let (from, to) = (&figure.boxes[way.from].id, &figure.boxes[way.to].id);
        let _ = write!(text, "  {} -> {}", quoted(from), quoted(to));
        if !way.label.is_empty() {
            let _ = write!(text, " [label={}]", quoted(&way.label.join("\n")));
        }
        text.push('\n');
    }
    text.push_str("}\n");
    text
}

fn attributes(shape: Shape) -> &'static str {
    match shape {
        Shape::Test => "shape=box",
        Shape::Energised => "shape=box, peripheries=2, penwidth=2",
        Shape::Pool => "shape=folder",
        Shape::Through => "shape=box3d",
        Shape::Halt => "shape=octagon, penwidth=3",
        Shape::Close => "shape=oval, style=filled, fillcolor=gray85",
        Shape::Leave => "shape=oval, peripheries=2",
        Shape::Elsewhere => "shape=invhouse",
    }
}

fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            letter if letter.is_control() => {}
            letter => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}
