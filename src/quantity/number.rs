//! One number of a text, and the unit behind it.

use super::Kind;
use super::refused::{ReadError, example, expected, noun};
use super::unit::{self, Unit};

/// Finds where the next number of `5 ft 6 in` begins; a digit right after a letter belongs to the unit (`mm2`).
pub(super) fn next_number(after: &str) -> usize {
    let bytes = after.as_bytes();
    (1..bytes.len())
        .find(|&at| bytes[at].is_ascii_digit() && matches!(bytes[at - 1], b' ' | b'\'' | b'"'))
        .unwrap_or(bytes.len())
}

/// Finds the unit written behind a number; the default one where none is.
pub(super) fn find_unit(
    text: &str,
    typed: &str,
    kind: Kind,
    default_symbol: &str,
) -> Result<&'static Unit, ReadError> {
    let mut written: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    if written.len() > 1 && written.ends_with('.') && written != "in." {
        written.pop();
    }
    if let Some(degrees) = written
        .strip_prefix("deg")
        .or_else(|| written.strip_prefix("Deg"))
        && degrees.len() == 1
    {
        written = degrees.to_owned();
    }
    // Spelled either way.
    written = written.replace("metre", "meter");
    let written = if written.is_empty() {
        default_symbol
    } else {
        written.as_str()
    };
    if kind == Kind::Capacitance && written.eq_ignore_ascii_case("mf") {
        return Err(ReadError::Ambiguous {
            text: typed.to_owned(),
            fix: format!("`{written}` is millifarad by the book and microfarad on old labels: write uF"),
        });
    }
    // Where megohm are asked, a small `m` is far more often a slip than a milliohm.
    if kind == Kind::Resistance
        && default_symbol == "Mohm"
        && matches!(written, "mohm" | "mohms" | "mOhm" | "mOhms" | "mOHM" | "m")
    {
        return Err(ReadError::Ambiguous {
            text: typed.to_owned(),
            fix: format!(
                "`{written}` is milliohm by the book, and megohm are asked here: is it `megohm` or `milliohm`? write the word"
            ),
        });
    }
    unit::find(kind, written).ok_or_else(|| match unit::find_elsewhere(kind, written) {
        Some(other) => ReadError::OtherKind {
            text: typed.to_owned(),
            found: other.kind.with_article(),
            expected: expected(kind, default_symbol),
        },
        None => ReadError::UnknownUnit {
            text: typed.to_owned(),
            unit: written.to_owned(),
            kind: noun(kind),
            expected: unit::listed(kind),
        },
    })
}

/// Reads the number at the start of `text`; returns it and what follows.
pub(super) fn number<'t>(
    text: &'t str,
    typed: &str,
    kind: Kind,
    default_symbol: &str,
) -> Result<(f64, &'t str), ReadError> {
    let no_number = || ReadError::NoNumber {
        text: typed.to_owned(),
        expected: expected(kind, default_symbol),
        example: example(kind, default_symbol),
    };
    let bytes = text.as_bytes();
    let mut at = usize::from(matches!(bytes.first(), Some(b'+' | b'-')));
    let digits_from = at;
    while at < bytes.len() && (bytes[at].is_ascii_digit() || matches!(bytes[at], b'.' | b',')) {
        at += 1;
    }
    // A full stop or comma after the last digit ends a sentence, it is not part of the number.
    while at > digits_from && matches!(bytes[at - 1], b'.' | b',') {
        at -= 1;
    }
    if at == digits_from {
        return Err(no_number());
    }
    if at < bytes.len() && matches!(bytes[at], b'e' | b'E') {
        let sign = usize::from(matches!(bytes.get(at + 1), Some(b'+' | b'-')));
        let mut end = at + 1 + sign;
        while end < bytes.len() && bytes[end].is_ascii_digit() {
            end += 1;
        }
        if end > at + 1 + sign {
            at = end;
        }
    }
    let digits = without_thousands(&text[..at], typed)?;
    let whole: f64 = digits.parse().map_err(|_| no_number())?;
    let after = &text[at..];
    if matches!(kind, Kind::ShaftPower | Kind::Length)
        && let Some((value, rest)) = fraction(whole, after)
    {
        return Ok((value, rest));
    }
    Ok((whole, after))
}

/// Takes out thousands commas, which must stand before groups of three.
fn without_thousands(digits: &str, typed: &str) -> Result<String, ReadError> {
    if !digits.contains(',') {
        return Ok(digits.to_owned());
    }
    let (whole, _) = digits.split_once('.').unwrap_or((digits, ""));
    let mut groups = whole.trim_start_matches(['+', '-']).split(',');
    let first = groups.next().unwrap_or("");
    let grouped = (1..=3).contains(&first.len()) && groups.all(|group| group.len() == 3);
    let comma_in_decimals = digits.rfind(',') > digits.find('.') && digits.contains('.');
    if !grouped || comma_in_decimals {
        return Err(ReadError::Ambiguous {
            text: typed.to_owned(),
            fix: "write decimals with a point, such as `1.5`, and thousands as `1,200`".to_owned(),
        });
    }
    Ok(digits.replace(',', ""))
}

/// Reads `/2` after `1`, or ` 1/2` or `-1/2` after `1`: fractions as nameplates and tapes print them.
fn fraction(whole: f64, after: &str) -> Option<(f64, &str)> {
    let digits = |text: &str| text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let below = |text: &str| -> Option<(f64, usize)> {
        let rest = text.strip_prefix('/')?;
        let end = digits(rest);
        let divisor: f64 = rest[..end].parse().ok()?;
        (divisor > 0.0).then_some((divisor, end + 1))
    };
    if let Some((divisor, used)) = below(after) {
        return Some((whole / divisor, &after[used..]));
    }
    let mixed = after.strip_prefix('-').unwrap_or_else(|| after.trim_start());
    let end = digits(mixed);
    let top: f64 = mixed[..end].parse().ok()?;
    let (divisor, used) = below(&mixed[end..])?;
    Some((whole + whole.signum() * top / divisor, &mixed[end + used..]))
}
