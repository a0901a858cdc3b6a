//! Times told in words.

use super::{Kind, unit};

/// Puts a figure for the words by which a time is told: `a day`, `half an hour`, `two weeks`.
pub(super) fn as_told(text: String, kind: Kind) -> String {
    const WORDS: [(&str, &str); 17] = [
        ("half an", "0.5"),
        ("half a", "0.5"),
        ("a half", "0.5"),
        ("half", "0.5"),
        ("a", "1"),
        ("an", "1"),
        ("one", "1"),
        ("two", "2"),
        ("three", "3"),
        ("four", "4"),
        ("five", "5"),
        ("six", "6"),
        ("seven", "7"),
        ("eight", "8"),
        ("nine", "9"),
        ("ten", "10"),
        ("twelve", "12"),
    ];
    if kind != Kind::Time {
        return text;
    }
    let lower = text.to_ascii_lowercase();
    if let Some(hours) = how_often(&lower, &WORDS) {
        return format!("{hours} h");
    }
    let figure = WORDS.iter().find_map(|(word, figure)| {
        let unit = lower.strip_prefix(word)?.strip_prefix(' ')?.trim();
        // Only where nothing is left but a unit: `a few days` is no figure.
        unit::find(kind, unit.trim_end_matches('.')).map(|_| format!("{figure} {unit}"))
    });
    figure.unwrap_or(text)
}

/// Hours between two of what is told by how often it comes: `twice a week`, `every other day`, `daily`.
fn how_often(lower: &str, words: &[(&str, &str)]) -> Option<f64> {
    /// Months and years as long as they are on average (Gregorian calendar).
    const HOURS: [(&str, f64); 5] = [
        ("hour", 1.0),
        ("day", 24.0),
        ("week", 168.0),
        ("month", 730.5),
        ("year", 8766.0),
    ];
    let hours = |unit: &str| {
        let unit = unit.trim().trim_end_matches('s');
        HOURS
            .iter()
            .find(|(word, _)| *word == unit)
            .map(|(_, hours)| *hours)
    };
    let number = |told: &str| -> Option<f64> {
        let figure = match told {
            "once" => Some("1"),
            "twice" => Some("2"),
            "other" => Some("2"),
            _ => words
                .iter()
                .find(|(word, _)| *word == told)
                .map(|(_, figure)| *figure),
        };
        let number: f64 = figure.unwrap_or(told).parse().ok()?;
        (number > 0.0).then_some(number)
    };
    match lower {
        "hourly" => return hours("hour"),
        "daily" => return hours("day"),
        "weekly" => return hours("week"),
        "monthly" => return hours("month"),
        _ => {}
    }
    if let Some(span) = lower.strip_prefix("every ") {
        return match span.trim().split_once(' ') {
            Some((count, unit)) => Some(number(count)? * hours(unit)?),
            None => hours(span),
        };
    }
    let (count, unit) = [" a ", " an ", " per ", " each ", " every "]
        .iter()
        .find_map(|between| lower.split_once(between))?;
    // Half a day is a length of time and no count of times.
    let count = match count.trim() {
        count @ ("once" | "twice") => count,
        times => times
            .strip_suffix("times")
            .or_else(|| times.strip_suffix('x'))?
            .trim(),
    };
    Some(hours(unit)? / number(count)?)
}

#[cfg(test)]
mod tests {
    use crate::quantity::{Kind, Quantity};

    #[test]
    fn how_often_is_a_time_between() {
        let hours = |text| Quantity::parse_in(text, Kind::Time, "h").unwrap().base / 3600.0;
        for (told, between) in [
            ("twice a week", 84.0),
            ("once a day", 24.0),
            ("3 times a week", 56.0),
            ("Three times per day", 8.0),
            ("every 2 days", 48.0),
            ("every other day", 48.0),
            ("every week", 168.0),
            ("daily", 24.0),
            ("once a month", 730.5),
            ("a day", 24.0),
            ("half an hour", 0.5),
            ("half a day", 12.0),
        ] {
            assert!((hours(told) - between).abs() < 1e-9, "{told}");
        }
        for text in [
            "often",
            "twice",
            "a few times a week",
            "every now and then",
            "0 times a day",
            "twice a V",
        ] {
            assert!(Quantity::parse_in(text, Kind::Time, "h").is_err(), "{text}");
        }
        assert!(Quantity::parse_in("twice a week", Kind::Voltage, "V").is_err());
    }
}
