//! Where the keys or lines come from.

use std::io::{self, BufRead, Read};

use dialoguer::Input as TextPrompt;

use crate::walk::RespondentError;

use super::screen::Screen;
use super::signals::Signals;
use super::theme::Plain;

/// The longest line read, in bytes. A device or a wrong file without line ends must not fill the memory.
const LONGEST: u64 = 65_536;

/// Source of what the person types.
pub enum Input {
    /// A terminal: single keys, and lines with editing; and the signals that end the session there.
    Keys(Signals),
    /// Anything else, read line by line.
    Lines(Box<dyn BufRead>),
}

impl Input {
    /// Whether a signal told the session to end.
    pub(super) fn told_to_end(&self) -> bool {
        matches!(self, Self::Keys(signals) if signals.ending().is_some())
    }

    /// Reads one line of text. An empty line is an empty text.
    pub(super) fn text(&mut self, screen: &mut Screen, prompt: &str) -> Result<String, RespondentError> {
        match self {
            Self::Keys(signals) => {
                let Some(term) = screen.term().cloned() else {
                    return Err(RespondentError::InputEnded);
                };
                unless_told_to_end(signals)?;
                let typed = TextPrompt::<String>::with_theme(&Plain)
                    .with_prompt(prompt)
                    .allow_empty(true)
                    .interact_text_on(&term);
                match typed {
                    Ok(typed) => Ok(typed.trim().to_owned()),
                    Err(dialoguer::Error::IO(error)) => {
                        // What comes next must not stand in the line of the prompt.
                        screen.line("")?;
                        Err(ended(error))
                    }
                }
            }
            Self::Lines(lines) => {
                screen.part(&format!("{prompt} > "))?;
                let mut bytes = Vec::new();
                let read = lines.by_ref().take(LONGEST + 1).read_until(b'\n', &mut bytes)?;
                screen.line("")?;
                if bytes.len() as u64 > LONGEST {
                    let what = format!("a line of the input is longer than {LONGEST} bytes");
                    return Err(io::Error::new(io::ErrorKind::InvalidData, what).into());
                }
                if read == 0 {
                    return Err(RespondentError::InputEnded);
                }
                // A byte that is no text becomes a mark; no answer has one, so the line is refused, not the run.
                Ok(String::from_utf8_lossy(&bytes).trim().to_owned())
            }
        }
    }
}

/// Waiting for a key after a signal came would wait for ever.
pub(super) fn unless_told_to_end(signals: &Signals) -> Result<(), RespondentError> {
    match signals.ending() {
        Some(_) => Err(RespondentError::Interrupted),
        None => Ok(()),
    }
}

/// A closed input and a signal are told apart from a terminal that does not work.
pub(super) fn ended(error: io::Error) -> RespondentError {
    match error.kind() {
        io::ErrorKind::Interrupted => RespondentError::Interrupted,
        io::ErrorKind::UnexpectedEof | io::ErrorKind::NotConnected => RespondentError::InputEnded,
        _ => RespondentError::Io(error),
    }
}
