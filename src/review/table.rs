//! A table: what every figure of a review stands in, whatever it is shown as.

/// One entry. Shares and means keep their whole numbers, so that nothing is lost by printing.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum Cell {
    /// Words from a case, to be escaped wherever they are shown.
    Text(String),
    /// Something of the knowledge: its id, and its name for people.
    Named {
        /// The id, as in the case file.
        id: String,
        /// What is shown.
        name: String,
    },
    Count(u64),
    Share {
        /// Those meant.
        part: u64,
        of: u64,
    },
    /// A mean of seconds, shown in minutes.
    Seconds {
        sum: i64,
        of: u64,
    },
    /// A mean of counts.
    Mean {
        sum: i64,
        of: u64,
    },
    /// A mean of probabilities in millionths, shown in percent.
    Millionths {
        sum: i64,
        of: u64,
    },
    /// A probability, 0 to 1, shown in percent.
    Probability(f64),
    /// Nothing to be said.
    Nothing,
}

/// A column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// Kebab-case id: key in JSON, head in CSV.
    pub id: &'static str,
    /// Head for people; short, since ten stand on 80 columns.
    pub title: &'static str,
}

/// A table.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Kebab-case id.
    pub id: &'static str,
    /// Head for people.
    pub title: &'static str,
    /// What its figures are, in a sentence or two.
    pub note: &'static str,
    /// The first names what a row is about.
    pub columns: Vec<Column>,
    /// Its rows, the most telling first.
    pub rows: Vec<Vec<Cell>>,
    /// Column whose counts are also drawn as bars.
    pub bars: Option<usize>,
    /// Rows shown on a screen; the others are counted.
    pub shown: usize,
}

/// Columns from pairs of id and title.
pub(super) fn columns(pairs: &[(&'static str, &'static str)]) -> Vec<Column> {
    pairs.iter().map(|(id, title)| Column { id, title }).collect()
}

/// Below this many, a share is shown as a fraction: a percentage of so few says more than is known. Our choice, no source.
const FEW: u64 = 10;

impl Cell {
    /// Something of the knowledge; what that does not know is called by its id.
    pub(super) fn named(id: &str, name: Option<&str>) -> Self {
        Self::Named {
            id: id.to_owned(),
            name: name.unwrap_or(id).to_owned(),
        }
    }

    pub(super) const fn share(part: u64, of: u64) -> Self {
        Self::Share { part, of }
    }

    /// As it is shown to a person, without what would not fit a column.
    #[must_use]
    pub fn shown(&self) -> String {
        match self {
            Self::Text(text) => text.clone(),
            Self::Named { name, .. } => name.clone(),
            Self::Count(count) => grouped(*count),
            Self::Share { of: 0, .. } | Self::Seconds { of: 0, .. } | Self::Mean { of: 0, .. } => {
                "-".to_owned()
            }
            Self::Millionths { of: 0, .. } | Self::Nothing => "-".to_owned(),
            Self::Share { part, of } if *of < FEW => format!("{part}/{of}"),
            Self::Share { part, of } => format!("{:.0}%", *part as f64 / *of as f64 * 100.0),
            Self::Seconds { sum, of } => format!("{:.0}", *sum as f64 / *of as f64 / 60.0),
            Self::Mean { sum, of } => format!("{:.1}", *sum as f64 / *of as f64),
            Self::Millionths { sum, of } => format!("{:.0}%", *sum as f64 / *of as f64 / 1e4),
            Self::Probability(share) => format!("{:.1}%", share * 100.0),
        }
    }

    /// With what it is made of, where a page has room.
    #[must_use]
    pub fn in_full(&self) -> String {
        match self {
            Self::Share { part, of } if *of >= FEW => {
                format!("{} ({} of {})", self.shown(), grouped(*part), grouped(*of))
            }
            _ => self.shown(),
        }
    }

    /// Whether it is a number, to be set flush right.
    #[must_use]
    pub fn is_number(&self) -> bool {
        !matches!(self, Self::Text(_) | Self::Named { .. })
    }

    /// What a bar would be as long as.
    #[must_use]
    pub fn length(&self) -> f64 {
        match self {
            Self::Count(count) => *count as f64,
            Self::Share { part, of } if *of > 0 => *part as f64 / *of as f64,
            Self::Millionths { sum, of } if *of > 0 => *sum as f64 / *of as f64 / 1e6,
            Self::Probability(share) => *share,
            _ => 0.0,
        }
    }
}

/// Thousands apart.
fn grouped(count: u64) -> String {
    let digits = count.to_string();
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::Cell;

    #[test]
    fn a_share_of_few_is_a_fraction_and_of_none_is_nothing() {
        assert_eq!(Cell::Share { part: 1, of: 3 }.shown(), "1/3");
        assert_eq!(Cell::Share { part: 3, of: 12 }.shown(), "25%");
        assert_eq!(Cell::Share { part: 0, of: 0 }.shown(), "-");
        assert_eq!(Cell::Share { part: 3, of: 1200 }.in_full(), "0% (3 of 1,200)");
        assert_eq!(Cell::Count(1_234_567).shown(), "1,234,567");
        assert_eq!(Cell::Seconds { sum: 600, of: 4 }.shown(), "2");
    }
}
