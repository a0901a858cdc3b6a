//! A review on the terminal: tables of 80 columns with small bars of characters.

use std::fmt::Write as _;

use unicode_width::UnicodeWidthStr;

use crate::report::visible::visible;

use super::figures::Review;
use super::table::{Cell, Table};

/// Columns of the screen.
const WIDTH: usize = 80;

/// Longest bar.
const BAR: usize = 6;

/// Files named that were not counted.
const MOST_NAMED: usize = 10;

/// Asks for every table at its usual length.
pub const ALL: &str = "all";

/// The review as text. `only` names the tables shown, each whole, or [`ALL`]; without any it fits one small screen: the
/// figures looked at first and the tables there are. `bars` draws bars.
#[must_use]
pub fn text(review: &Review, only: &[String], bars: bool) -> String {
    let mut text = head(review);
    let all = only.iter().any(|id| id == ALL);
    for table in &review.tables {
        if only.iter().any(|id| id == table.id) {
            put_table(&mut text, table, usize::MAX, bars);
        } else if (all && !table.rows.is_empty()) || (only.is_empty() && table.id == "overview") {
            put_table(&mut text, table, table.shown, bars);
        }
    }
    if only.is_empty() {
        put_tables(&mut text, review);
    }
    put_broken(&mut text, review);
    text
}

/// An entry; with what it is made of where there is room.
fn entry(table: &Table, cell: &Cell) -> String {
    if table.columns.len() <= 2 {
        cell.in_full()
    } else {
        cell.shown()
    }
}

/// Which tables there are to be asked for.
fn put_tables(text: &mut String, review: &Review) {
    let ids: Vec<&str> = review
        .tables
        .iter()
        .filter(|table| !table.rows.is_empty() && table.id != "overview")
        .map(|table| table.id)
        .collect();
    text.push('\n');
    let words = format!(
        "More with `--table NAME`, all with `--table all`: {}.",
        ids.join(", ")
    );
    put_wrapped(text, &words, "");
    put_wrapped(text, "A page with charts: `--format html --out review.html`.", "");
}

fn head(review: &Review) -> String {
    let scope = &review.scope;
    let mut text = String::from("REVIEW OF MANY CASES\n");
    // Writing into a string cannot fail.
    if scope.invented {
        text.push_str("INVENTED CASES: nobody was there; these figures say nothing about any shop.\n");
    }
    let months = scope.opened();
    let _ = writeln!(text, "{} cases{months}", scope.cases);
    if !scope.filter.is_empty() {
        let words = format!("only {}; {} others left out", scope.filter, scope.filtered_out);
        put_wrapped(&mut text, &visible(&words), "");
    }
    if scope.invented_left_out > 0 {
        let _ = writeln!(text, "{} invented cases left out", scope.invented_left_out);
    }
    if !review.broken.is_empty() {
        let _ = writeln!(
            text,
            "{} files not counted, named at the end",
            review.broken.len()
        );
    }
    text
}

fn put_broken(text: &mut String, review: &Review) {
    if review.broken.is_empty() {
        return;
    }
    let _ = writeln!(text, "\nNOT COUNTED");
    for broken in review.broken.iter().take(MOST_NAMED) {
        put_wrapped(text, &visible(&broken.why), "  ");
    }
    if review.broken.len() > MOST_NAMED {
        let more = review.broken.len() - MOST_NAMED;
        let _ = writeln!(text, "  and {more} more (`--format json` names all)");
    }
}

fn put_wrapped(text: &mut String, words: &str, indent: &str) {
    let options = textwrap::Options::new(WIDTH)
        .initial_indent(indent)
        .subsequent_indent(indent)
        .break_words(true);
    let _ = writeln!(text, "{}", textwrap::fill(words, options));
}

fn put_table(text: &mut String, table: &Table, most: usize, bars: bool) {
    let _ = writeln!(text, "\n{}", table.title.to_uppercase());
    if !table.note.is_empty() {
        put_wrapped(text, table.note, "");
    }
    if table.rows.is_empty() {
        text.push_str("none\n");
        return;
    }
    let rows: Vec<Vec<String>> = table
        .rows
        .iter()
        .take(most)
        .map(|row| {
            row.iter()
                .map(|cell| visible(&one_line(&entry(table, cell))).into_owned())
                .collect()
        })
        .collect();
    if is_of_words(table) {
        put_blocks(text, table, &rows);
        put_more(text, table, most);
        return;
    }
    let bars = table.bars.filter(|_| bars);
    let widths = widths(table, &rows, bars.is_some());
    let heads: Vec<String> = table
        .columns
        .iter()
        .map(|column| column.title.to_owned())
        .collect();
    if heads.iter().any(|head| !head.is_empty()) {
        put_row(
            text,
            table,
            &heads,
            &widths,
            bars.map(|column| (column, String::new())),
        );
    }
    let longest = bars.map_or(0.0, |column| {
        table
            .rows
            .iter()
            .take(most)
            .map(|row| row[column].length())
            .fold(0.0, f64::max)
    });
    for (row, cells) in rows.iter().zip(&table.rows) {
        let bar = bars.map(|column| (column, bar(&cells[column], longest)));
        put_row(text, table, row, &widths, bar);
    }
    put_more(text, table, most);
}

fn put_more(text: &mut String, table: &Table, most: usize) {
    if table.rows.len() > most {
        let more = table.rows.len() - most;
        let _ = writeln!(text, "and {more} more (`--table {}` shows all)", table.id);
    }
}

/// Whether most of a table is words, which no column of a small screen holds.
fn is_of_words(table: &Table) -> bool {
    const MOST_WORDS: usize = 3;
    (0..table.columns.len())
        .filter(|column| is_words(table, *column))
        .count()
        > MOST_WORDS
}

fn is_words(table: &Table, column: usize) -> bool {
    table
        .rows
        .iter()
        .any(|row| matches!(row[column], Cell::Text(_) | Cell::Named { .. }))
}

/// Each row as some lines: what it is, then every other entry behind its head.
fn put_blocks(text: &mut String, table: &Table, rows: &[Vec<String>]) {
    for row in rows {
        let [first, second, rest @ ..] = row.as_slice() else {
            continue;
        };
        put_wrapped(text, &format!("{first}  {second}"), "");
        for (cell, column) in rest.iter().zip(&table.columns[2..]) {
            if cell != "-" {
                let options = textwrap::Options::new(WIDTH)
                    .subsequent_indent("                    ")
                    .break_words(true);
                let line = format!("  {:<16}  {cell}", column.title);
                let _ = writeln!(text, "{}", textwrap::fill(&line, options));
            }
        }
    }
}

fn one_line(text: &str) -> String {
    text.replace(['\n', '\t'], " ")
}

/// Widths of the columns: numbers as wide as they are, words share what is left, each at least as wide as its head.
fn widths(table: &Table, rows: &[Vec<String>], bars: bool) -> Vec<usize> {
    let natural: Vec<usize> = (0..table.columns.len())
        .map(|column| {
            let cells = rows.iter().map(|row| row[column].width());
            cells
                .chain([table.columns[column].title.width()])
                .max()
                .unwrap_or(0)
        })
        .collect();
    let gaps: usize = (1..natural.len()).map(|column| gap(table, column)).sum();
    let gaps = gaps + if bars { BAR + 1 } else { 0 };
    let mut widths = natural.clone();
    let mut over = (natural.iter().sum::<usize>() + gaps).saturating_sub(WIDTH);
    // The widest words give way first.
    while over > 0 {
        let Some(widest) = (0..widths.len())
            .filter(|column| is_words(table, *column) && widths[*column] > 8)
            .max_by_key(|column| widths[*column])
        else {
            break;
        };
        widths[widest] -= 1;
        over -= 1;
    }
    widths
}

/// Spaces before a column: one between numbers where there are many, else two.
fn gap(table: &Table, column: usize) -> usize {
    const MANY: usize = 7;
    if table.columns.len() > MANY && column > 1 {
        1
    } else {
        2
    }
}

fn put_row(
    text: &mut String,
    table: &Table,
    cells: &[String],
    widths: &[usize],
    bar: Option<(usize, String)>,
) {
    let mut line = String::new();
    for (column, (cell, width)) in cells.iter().zip(widths).enumerate() {
        if column > 0 {
            line.push_str(&" ".repeat(gap(table, column)));
        }
        let cell = cut(cell, *width);
        let room = " ".repeat(width - cell.width().min(*width));
        let is_number = table
            .rows
            .iter()
            .any(|row| row[column].is_number() && row[column] != Cell::Nothing);
        if is_number {
            line.push_str(&room);
            line.push_str(&cell);
        } else {
            line.push_str(&cell);
            line.push_str(&room);
        }
        if let Some((of, bar)) = &bar
            && *of == column
        {
            let room = " ".repeat(BAR - bar.width().min(BAR));
            let _ = write!(line, " {bar}{room}");
        }
    }
    let _ = writeln!(text, "{}", line.trim_end());
}

/// A text cut to a width, with dots for what is gone.
fn cut(text: &str, width: usize) -> String {
    if text.width() <= width {
        return text.to_owned();
    }
    let mut kept = String::new();
    for letter in text.chars() {
        if kept.width() + 2 + letter.to_string().width() > width {
            break;
        }
        kept.push(letter);
    }
    format!("{}..", kept.trim_end())
}

/// A bar of blocks, to half a column.
fn bar(cell: &Cell, longest: f64) -> String {
    if longest <= 0.0 {
        return String::new();
    }
    let halves = (cell.length() / longest * (2 * BAR) as f64).round() as usize;
    let mut bar = "\u{2588}".repeat(halves / 2);
    if halves % 2 == 1 {
        bar.push('\u{258c}');
    }
    bar
}

#[cfg(test)]
mod tests {
    use super::{bar, cut};
    use crate::review::Cell;

    #[test]
    fn a_bar_is_as_long_as_its_share_of_the_longest() {
        assert_eq!(bar(&Cell::Count(100), 100.0).chars().count(), 6);
        assert_eq!(bar(&Cell::Count(45), 100.0), "\u{2588}\u{2588}\u{258c}");
        assert_eq!(bar(&Cell::Count(0), 100.0), "");
        assert_eq!(bar(&Cell::Count(0), 0.0), "");
    }

    #[test]
    fn what_is_cut_says_so_and_fits() {
        assert_eq!(cut("A breaker trips", 9), "A break..");
        assert_eq!(cut("fits", 4), "fits");
    }
}
