//! A review as one HTML page: no script, no network, made for a phone, a desk and paper.

mod chart;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::drawing::said;

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
    let is_shown = |table: &&Table| !table.rows.is_empty() && !matches!(table.id, "overview" | "case");
    let shown: Vec<&Table> = review.tables.iter().filter(is_shown).collect();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { "Review of many cases" }
                style { (PreEscaped(STYLE)) }
            }
            body {
                h1 { "Review of many cases" }
                (head(review))
                @if let Some(overview) = review.table("overview") { (figures(overview)) }
                nav aria-label="Tables" {
                    @for table in &shown { a href={ "#" (table.id) } { (said(table.title)) } "\n" }
                }
                @for table in shown { (section(table)) }
                @if !review.broken.is_empty() { (broken(review)) }
                p class="note" {
                    "Made by lineside " (env!("CARGO_PKG_VERSION")) " with knowledge " (said(&review.knowledge))
                    ". A closing is what people wrote; a proof may be wrong."
                }
            }
        }
    };
    page.into_string()
}

fn head(review: &Review) -> Markup {
    let scope = &review.scope;
    let months = scope.opened();
    html! {
        @if scope.invented {
            p class="invented" {
                "Invented cases: nobody was there. These figures say nothing about any shop."
            }
        }
        p { (scope.cases) " cases" (said(&months)) }
        @if !scope.filter.is_empty() {
            p { "Only " (said(&scope.filter)) "; " (scope.filtered_out) " others left out." }
        }
        @if scope.invented_left_out > 0 { p { (scope.invented_left_out) " invented cases left out." } }
        @if !review.broken.is_empty() {
            p class="lost" {
                (review.broken.len()) " files not counted: " a href="#not-counted" { "which and why" } "."
            }
        }
    }
}

/// The figures a manager looks at first.
fn figures(table: &Table) -> Markup {
    html! {
        dl {
            @for row in &table.rows {
                @if let [what, figure] = row.as_slice() {
                    div {
                        dt { (said(&what.shown())) }
                        dd {
                            (said(&figure.shown()))
                            @if let Cell::Share { part, of } = figure { (small(*part, *of)) }
                        }
                    }
                }
            }
        }
    }
}

fn small(part: u64, of: u64) -> Markup {
    html! { small { (part) " of " (of) } }
}

fn section(table: &Table) -> Markup {
    /// Columns that stand beside each other on a phone.
    const FIT: usize = 4;
    let words = table.rows[0].iter().filter(|cell| !cell.is_number()).count();
    let rows = &table.rows[..table.rows.len().min(MOST_ROWS)];
    let longest = table.bars.map_or(0.0, |column| {
        rows.iter().map(|row| row[column].length()).fold(0.0, f64::max)
    });
    html! {
        section id=(table.id) {
            h2 { (said(table.title)) }
            @if !table.note.is_empty() { p class="note" { (said(table.note)) } }
            (PreEscaped(chart::of(table)))
            @if words <= 1 && table.columns.len() > FIT {
                p class="slide" { "Slide the table sideways for its other columns." }
            }
            // What can be scrolled must be reachable by keyboard.
            div class=(if words > 1 { "wide words" } else { "wide" }) tabindex="0" role="group"
                aria-label=(said(table.title)) {
                table {
                    thead {
                        tr {
                            @for (place, column) in table.columns.iter().enumerate() {
                                th scope="col" class=[class_of(table, place)] { (said(column.title)) }
                            }
                        }
                    }
                    tbody {
                        @for row in rows {
                            tr { @for (place, cell) in row.iter().enumerate() { (cell_of(table, place, cell, longest)) } }
                        }
                    }
                }
            }
            @if table.rows.len() > MOST_ROWS {
                p class="more" {
                    "and " (table.rows.len() - MOST_ROWS) " more: "
                    code { "lineside review --table " (table.id) " --format csv" }
                }
            }
        }
    }
}

/// Numbers stand to the right.
fn class_of(table: &Table, column: usize) -> Option<&'static str> {
    let mut cells = table.rows.iter().map(|row| &row[column]);
    let is_number = cells.any(|cell| cell.is_number() && *cell != Cell::Nothing);
    is_number.then_some("n")
}

fn cell_of(table: &Table, place: usize, cell: &Cell, longest: f64) -> Markup {
    let shown = cell.shown();
    if place == 0 {
        return html! { th scope="row" { (said(&shown)) } };
    }
    let has_bar = table.bars == Some(place);
    html! {
        td class=[class_of(table, place)] data-head=(said(table.columns[place].title)) {
            @if has_bar && longest > 0.0 {
                svg class="bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true" {
                    rect width=(format!("{:.1}", cell.length() / longest * 100.0)) height="10" {}
                }
            }
            @if has_bar { span class="v" { (said(&shown)) } } @else { (said(&shown)) }
            @if let Cell::Share { part, of } = cell {
                @if cell.in_full() != shown { (small(*part, *of)) }
            }
        }
    }
}

fn broken(review: &Review) -> Markup {
    html! {
        section id="not-counted" {
            h2 { "Files not counted" }
            ul class="files" { @for broken in review.broken.iter().take(MOST_NAMED) { li { (said(&broken.why)) } } }
            @if review.broken.len() > MOST_NAMED {
                p class="more" {
                    "and " (review.broken.len() - MOST_NAMED) " more: " code { "--format json" } " names all"
                }
            }
        }
    }
}
