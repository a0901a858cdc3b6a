//! Where the keys or lines come from.

use std::io::{self, BufRead, Read};
use std::time::Duration;

use dialoguer::Input as TextPrompt;

use crate::walk::RespondentError;

use super::screen::Screen;
use super::theme::Plain;

/// The longest line read, in bytes. A device or a wrong file without line ends must not fill the memory.
const LONGEST: u64 = 65_536;

/// Source of what the person types.
pub enum Input {
    /// A terminal: single keys, and lines with editing.
    Keys,
    /// Anything else, read line by line.
    Lines(Box<dyn BufRead>),
}

impl Input {
    /// Reads one line of text. An empty line is an empty text.
    pub(super) fn text(&mut self, screen: &mut Screen, prompt: &str) -> Result<String, RespondentError> {
        match self {
            Self::Keys => {
                let Some(term) = screen.term() else {
                    return Err(RespondentError::InputEnded);
                };
                let typed: String = TextPrompt::with_theme(&Plain)
                    .with_prompt(prompt)
                    .allow_empty(true)
                    .interact_text_on(term)
                    .map_err(|dialoguer::Error::IO(error)| ended(error))?;
                Ok(typed.trim().to_owned())
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

/// Longer than the program's own handler of Ctrl-C takes to say that the case is kept, and to end.
const HANDLER: Duration = Duration::from_secs(2);

/// A closed input is told apart from a terminal that does not work.
pub(super) fn ended(error: io::Error) -> RespondentError {
    match error.kind() {
        // A text prompt raises the interrupt itself. Its handler ends the program from a thread of its own, and this
        // one must not be first with an error. Where nobody handles it, the system has ended the program already.
        io::ErrorKind::Interrupted => {
            std::thread::sleep(HANDLER);
            RespondentError::InputEnded
        }
        io::ErrorKind::UnexpectedEof | io::ErrorKind::NotConnected => RespondentError::InputEnded,
        _ => RespondentError::Io(error),
    }
}
