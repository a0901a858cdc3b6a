//! What the apprentice can choose, as data and as a line of a file.

use std::fmt;

/// One choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choice {
    /// Go with the walk: do what it asks, the steps before it included; or do the steps before the test picked.
    Walk,
    /// Of what the walk offers to ask, these: ids of tests.
    Ask(Vec<String>),
    /// A look or reading, by its id.
    Test(String),
    /// Straight to the test that waits, without the steps before it. Never carried out.
    Straight,
    /// A fact, by its id.
    Fact(String),
    /// A calculation, by the id of its test.
    Calculation(String),
    /// See what leads.
    Hint,
    /// Name a cause, by its id: the end.
    Name(String),
    /// See the truth without naming a cause: the end.
    GiveUp,
}

const NOBODY: &str = "none";

impl Choice {
    /// Reads a line of a file.
    ///
    /// # Errors
    /// What is wrong with it and what would be taken.
    pub fn parse(line: &str) -> Result<Self, String> {
        let (word, rest) = line.trim().split_once(' ').unwrap_or((line.trim(), ""));
        let rest = rest.trim();
        let with = |make: fn(String) -> Self, what: &str| {
            if rest.is_empty() {
                Err(format!("`{word}` takes {what}"))
            } else {
                Ok(make(rest.to_owned()))
            }
        };
        let alone = |choice: Self| {
            if rest.is_empty() {
                Ok(choice)
            } else {
                Err(format!("`{word}` stands alone, found `{rest}` behind it"))
            }
        };
        match word {
            "walk" => alone(Self::Walk),
            "ask" => Ok(Self::Ask(
                rest.split(',')
                    .map(str::trim)
                    .filter(|id| !id.is_empty() && *id != NOBODY)
                    .map(str::to_owned)
                    .collect(),
            )),
            "test" => with(Self::Test, "the id of a test"),
            "straight" => alone(Self::Straight),
            "fact" => with(Self::Fact, "the id of a fact"),
            "calculate" => with(Self::Calculation, "the id of a calculated test"),
            "hint" => alone(Self::Hint),
            "name" => with(Self::Name, "the id of a cause"),
            "give-up" => alone(Self::GiveUp),
            _ => Err(format!(
                "`{word}` is no choice, expected walk, ask, test, straight, fact, calculate, hint, name or give-up"
            )),
        }
    }
}

impl fmt::Display for Choice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Walk => f.write_str("walk"),
            Self::Ask(ids) if ids.is_empty() => write!(f, "ask {NOBODY}"),
            Self::Ask(ids) => write!(f, "ask {}", ids.join(", ")),
            Self::Test(id) => write!(f, "test {id}"),
            Self::Straight => f.write_str("straight"),
            Self::Fact(id) => write!(f, "fact {id}"),
            Self::Calculation(id) => write!(f, "calculate {id}"),
            Self::Hint => f.write_str("hint"),
            Self::Name(id) => write!(f, "name {id}"),
            Self::GiveUp => f.write_str("give-up"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Choice;

    #[test]
    fn what_is_written_is_read_back_and_the_rest_refused() {
        for line in [
            "walk",
            "ask none",
            "ask when-it-opens, what-changed",
            "test disconnect-look",
            "straight",
            "fact conductor-size",
            "calculate legs-compared",
            "hint",
            "name loose-splice",
            "give-up",
        ] {
            let choice = Choice::parse(line).unwrap();
            assert_eq!(choice.to_string(), line);
        }
        for (line, wrong) in [
            ("walk on", "stands alone"),
            ("test", "the id of a test"),
            ("jump", "is no choice"),
            ("", "is no choice"),
        ] {
            let error = Choice::parse(line).unwrap_err();
            assert!(error.contains(wrong), "{line}: {error}");
        }
    }
}
