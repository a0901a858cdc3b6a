//! A table as CSV, for spreadsheets (RFC 4180).
//!
//! A cell that begins with `=`, `+`, `-`, `@`, a tab or a carriage return would be taken for a formula by a spreadsheet that
//! opens the file, and words of a case could then run one. Such a cell gets an apostrophe before it, inside its quotes.
//! *Source* CSV Injection, Open Worldwide Application Security Project,
//! <https://owasp.org/www-community/attacks/CSV_Injection>.

use super::table::{Cell, Table};

/// The table, its heads first. A share is two columns, `x` and `x-of`, and so is a mean.
#[must_use]
pub fn csv(table: &Table) -> String {
    let paired: Vec<bool> = (0..table.columns.len())
        .map(|column| {
            table
                .rows
                .iter()
                .any(|row| row.get(column).is_some_and(is_paired))
        })
        .collect();
    let mut text = String::new();
    let heads = table.columns.iter().zip(&paired).flat_map(|(column, paired)| {
        let of = paired.then(|| format!("{}-of", column.id));
        [Some(column.id.to_owned()), of]
    });
    line(&mut text, heads.flatten());
    for row in &table.rows {
        let cells = row
            .iter()
            .zip(&paired)
            .flat_map(|(cell, paired)| fields(cell, *paired));
        line(&mut text, cells);
    }
    text
}

fn is_paired(cell: &Cell) -> bool {
    matches!(
        cell,
        Cell::Share { .. } | Cell::Seconds { .. } | Cell::Mean { .. } | Cell::Millionths { .. }
    )
}

fn fields(cell: &Cell, paired: bool) -> Vec<String> {
    let (first, second) = match cell {
        Cell::Text(text) => (text.clone(), String::new()),
        Cell::Named { id, .. } => (id.clone(), String::new()),
        Cell::Count(count) => (count.to_string(), String::new()),
        Cell::Share { part, of } => (part.to_string(), of.to_string()),
        Cell::Seconds { sum, of } | Cell::Mean { sum, of } | Cell::Millionths { sum, of } => {
            (sum.to_string(), of.to_string())
        }
        Cell::Probability(share) => (share.to_string(), String::new()),
        Cell::Nothing => (String::new(), String::new()),
    };
    if paired { vec![first, second] } else { vec![first] }
}

fn line(text: &mut String, fields: impl Iterator<Item = String>) {
    for (place, field) in fields.enumerate() {
        if place > 0 {
            text.push(',');
        }
        text.push_str(&quoted(&field));
    }
    text.push_str("\r\n");
}

/// A field, quoted where it must be and defused where it could be a formula.
fn quoted(field: &str) -> String {
    let is_formula = field.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let defused = if is_formula {
        format!("'{field}")
    } else {
        field.to_owned()
    };
    if is_formula || defused.contains([',', '"', '\n', '\r', '\t']) {
        return format!("\"{}\"", defused.replace('"', "\"\""));
    }
    defused
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn no_cell_begins_a_formula() {
        for start in ["=1+1", "+1", "-1", "@sum", "\tx", "\rx"] {
            let cell = quoted(start);
            assert!(cell.starts_with("\"'"), "{cell}");
        }
        assert_eq!(quoted("a \"b\", c"), "\"a \"\"b\"\", c\"");
        assert_eq!(quoted("plain"), "plain");
    }
}
