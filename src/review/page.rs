//! A review as one HTML page: no script, no network, made for a phone, a desk and paper.

mod chart;
mod safe;

use std::fmt::Write as _;

use safe::safe;

use super::figures::Review;
use super::table::{Cell, Table};

/// Rows of a table on the page; the whole is in CSV and JSON.
const MOST_ROWS: usize = 30;

/// Files named that were not counted.
const MOST_NAMED: usize = 200;

const STYLE: &str = include_str!("page.css");

/// The page.
#[must_use]
pub fn page(review: &Review) -> String {
    let mut html = String::new();
    // Writing into a string cannot fail.
    let _ = write!(
        html,
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n<title>Review of many cases</title>\n<style>\n{STYLE}</style>\n\
         </head>\n<body>\n<h1>Review of many cases</h1>\n"
    );
    head(&mut html, review);
    let shown: Vec<&Table> = review
        .tables
        .iter()
        .filter(|table| !table.rows.is_empty() && !matches!(table.id, "overview" | "case"))
        .collect();
    if let Some(overview) = review.table("overview") {
        put_overview(&mut html, overview);
    }
    html.push_str("<nav aria-label=\"Tables\">\n");
    for table in &shown {
        let _ = writeln!(html, "<a href=\"#{}\">{}</a>", table.id, safe(table.title));
    }
    html.push_str("</nav>\n");
    for table in shown {
        put_table(&mut html, table);
    }
    put_broken(&mut html, review);
    let _ = write!(
        html,
        "<p class=\"note\">Made by lineside {} with knowledge {}. A closing is what people wrote; a proof may be wrong.</p>\n\
         </body>\n</html>\n",
        env!("CARGO_PKG_VERSION"),
        safe(&review.knowledge)
    );
    html
}

fn head(html: &mut String, review: &Review) {
    let scope = &review.scope;
    if scope.invented {
        html.push_str(
            "<p class=\"invented\">Invented cases: nobody was there. These figures say nothing about any shop.</p>\n",
        );
    }
    let months = match &scope.months {
        Some((first, last)) if first == last => format!(", opened in {first}"),
        Some((first, last)) => format!(", opened {first} to {last}"),
        None => String::new(),
    };
    let _ = writeln!(html, "<p>{} cases{}</p>", scope.cases, safe(&months));
    if !scope.filter.is_empty() {
        let _ = writeln!(
            html,
            "<p>Only {}; {} others left out.</p>",
            safe(&scope.filter),
            scope.filtered_out
        );
    }
    if scope.invented_left_out > 0 {
        let _ = writeln!(
            html,
            "<p>{} invented cases left out.</p>",
            scope.invented_left_out
        );
    }
    if !review.broken.is_empty() {
        let _ = writeln!(
            html,
            "<p class=\"lost\">{} files not counted: <a href=\"#not-counted\">which and why</a>.</p>",
            review.broken.len()
        );
    }
}

fn put_overview(html: &mut String, table: &Table) {
    html.push_str("<dl>\n");
    for row in &table.rows {
        let [what, figure] = row.as_slice() else { continue };
        let of = match figure {
            Cell::Share { part, of } => format!("<small>{part} of {of}</small>"),
            _ => String::new(),
        };
        let _ = writeln!(
            html,
            "<div><dt>{}</dt><dd>{}{of}</dd></div>",
            safe(&what.shown()),
            safe(&figure.shown())
        );
    }
    html.push_str("</dl>\n");
}

fn put_table(html: &mut String, table: &Table) {
    let _ = writeln!(
        html,
        "<section id=\"{}\">\n<h2>{}</h2>",
        table.id,
        safe(table.title)
    );
    if !table.note.is_empty() {
        let _ = writeln!(html, "<p class=\"note\">{}</p>", safe(table.note));
    }
    html.push_str(&chart::of(table));
    let words = table.rows[0].iter().filter(|cell| !cell.is_number()).count();
    let class = if words > 1 { "wide words" } else { "wide" };
    const FIT: usize = 4;
    if words <= 1 && table.columns.len() > FIT {
        html.push_str("<p class=\"slide\">Slide the table sideways for its other columns.</p>\n");
    }
    // What can be scrolled must be reachable by keyboard.
    let _ = write!(
        html,
        "<div class=\"{class}\" tabindex=\"0\" role=\"group\" aria-label=\"{}\">\n<table>\n<thead><tr>",
        safe(table.title)
    );
    for (place, column) in table.columns.iter().enumerate() {
        let class = if is_number(table, place) {
            " class=\"n\""
        } else {
            ""
        };
        let _ = write!(html, "<th scope=\"col\"{class}>{}</th>", safe(column.title));
    }
    html.push_str("</tr></thead>\n<tbody>\n");
    let longest = table.bars.map_or(0.0, |column| {
        table
            .rows
            .iter()
            .take(MOST_ROWS)
            .map(|row| row[column].length())
            .fold(0.0, f64::max)
    });
    for row in table.rows.iter().take(MOST_ROWS) {
        html.push_str("<tr>");
        for (place, cell) in row.iter().enumerate() {
            put_cell(html, table, place, cell, longest);
        }
        html.push_str("</tr>\n");
    }
    html.push_str("</tbody>\n</table>\n</div>\n");
    if table.rows.len() > MOST_ROWS {
        let _ = writeln!(
            html,
            "<p class=\"more\">and {} more: <code>lineside review --table {} --format csv</code></p>",
            table.rows.len() - MOST_ROWS,
            table.id
        );
    }
    html.push_str("</section>\n");
}

fn is_number(table: &Table, column: usize) -> bool {
    table
        .rows
        .iter()
        .any(|row| row[column].is_number() && row[column] != Cell::Nothing)
}

fn put_cell(html: &mut String, table: &Table, place: usize, cell: &Cell, longest: f64) {
    if place == 0 {
        let _ = write!(html, "<th scope=\"row\">{}</th>", safe(&cell.shown()));
        return;
    }
    let class = if is_number(table, place) {
        " class=\"n\""
    } else {
        ""
    };
    let _ = write!(
        html,
        "<td{class} data-head=\"{}\">",
        safe(table.columns[place].title)
    );
    if table.bars == Some(place) && longest > 0.0 {
        let _ = write!(
            html,
            "<svg class=\"bar\" viewBox=\"0 0 100 10\" preserveAspectRatio=\"none\" aria-hidden=\"true\">\
             <rect width=\"{:.1}\" height=\"10\"/></svg>",
            cell.length() / longest * 100.0
        );
    }
    let shown = safe(&cell.shown());
    if table.bars == Some(place) {
        let _ = write!(html, "<span class=\"v\">{shown}</span>");
    } else {
        html.push_str(&shown);
    }
    if let Cell::Share { part, of } = cell
        && cell.in_full() != cell.shown()
    {
        let _ = write!(html, "<small>{part} of {of}</small>");
    }
    html.push_str("</td>");
}

fn put_broken(html: &mut String, review: &Review) {
    if review.broken.is_empty() {
        return;
    }
    html.push_str("<section id=\"not-counted\">\n<h2>Files not counted</h2>\n<ul class=\"files\">\n");
    for broken in review.broken.iter().take(MOST_NAMED) {
        let _ = writeln!(html, "<li>{}</li>", safe(&broken.why));
    }
    html.push_str("</ul>\n");
    if review.broken.len() > MOST_NAMED {
        let more = review.broken.len() - MOST_NAMED;
        let _ = writeln!(
            html,
            "<p class=\"more\">and {more} more: <code>--format json</code> names all</p>"
        );
    }
    html.push_str("</section>\n");
}
