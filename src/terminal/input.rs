//! Where the keys or lines come from.

use std::io::{self, BufRead, Read};

use console::{Key, Term};

use crate::report::visible::visible;
use crate::walk::RespondentError;

use super::screen::Screen;
use super::signals::Signals;

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

    /// Drops keys that were pressed before there was anything to press them for.
    pub(super) fn drain(&self) {
        #[cfg(unix)]
        if matches!(self, Self::Keys(_)) {
            // Where it cannot be done, the keys count as they did before.
            let _ = rustix::termios::tcflush(rustix::stdio::stdin(), rustix::termios::QueueSelector::IFlush);
        }
    }

    /// Reads one line of text. An empty line is an empty text.
    pub(super) fn text(&mut self, screen: &mut Screen, prompt: &str) -> Result<String, RespondentError> {
        self.text_from(screen, prompt, "")
    }

    /// Reads one line of text that is begun already: by keys it can be changed, in plain lines Enter alone takes it.
    pub(super) fn text_from(
        &mut self,
        screen: &mut Screen,
        prompt: &str,
        begun: &str,
    ) -> Result<String, RespondentError> {
        match self {
            Self::Keys(signals) => {
                let Some(term) = screen.term().cloned() else {
                    return Err(RespondentError::InputEnded);
                };
                let typed = edited(screen, &term, signals, prompt, begun);
                // What comes next must not stand in the line of the prompt.
                screen.passing_line("")?;
                typed
            }
            Self::Lines(lines) => {
                let offer = if begun.is_empty() {
                    String::new()
                } else {
                    format!(" (Enter alone: {begun})")
                };
                screen.part(&format!("{prompt}{offer} > "))?;
                let mut bytes = Vec::new();
                let read = lines.by_ref().take(LONGEST + 1).read_until(b'\n', &mut bytes)?;
                screen.passing_line("")?;
                if bytes.len() as u64 > LONGEST {
                    let what = format!("a line of the input is longer than {LONGEST} bytes");
                    return Err(io::Error::new(io::ErrorKind::InvalidData, what).into());
                }
                if read == 0 {
                    return Err(RespondentError::InputEnded);
                }
                // A byte that is no text becomes a mark; no answer has one, so the line is refused, not the run.
                let typed = String::from_utf8_lossy(&bytes).trim().to_owned();
                Ok(if typed.is_empty() { begun.to_owned() } else { typed })
            }
        }
    }
}

/// Lets a line be typed and changed until Enter.
fn edited(
    screen: &mut Screen,
    term: &Term,
    signals: &Signals,
    prompt: &str,
    begun: &str,
) -> Result<String, RespondentError> {
    /// Columns left for what is typed; a longer prompt begins on lines of its own.
    const LEAST_ROOM: usize = 14;
    let mut typed: Vec<char> = begun.chars().collect();
    let mut at = typed.len();
    let options = crate::report::text::plain_wrap(screen.width().saturating_sub(LEAST_ROOM).max(LEAST_ROOM));
    let mut lines: Vec<String> = textwrap::wrap(&visible(prompt), options)
        .into_iter()
        .map(|line| line.into_owned())
        .collect();
    let prompt = &lines.pop().unwrap_or_default();
    for line in lines {
        screen.line(&line)?;
    }
    loop {
        show_line(screen, term, prompt, &typed, at)?;
        unless_told_to_end(signals)?;
        match term.read_key_raw().map_err(ended)? {
            // A wait that a signal broke off comes back as this key.
            Key::CtrlC if signals.take_resized() => {
                screen.said_again()?;
            }
            Key::CtrlC => return Err(RespondentError::Interrupted),
            Key::Enter => return Ok(typed.into_iter().collect::<String>().trim().to_owned()),
            Key::Backspace if at > 0 => {
                at -= 1;
                typed.remove(at);
            }
            Key::Del if at < typed.len() => {
                typed.remove(at);
            }
            Key::ArrowLeft => at = at.saturating_sub(1),
            Key::ArrowRight => at = (at + 1).min(typed.len()),
            Key::Home => at = 0,
            Key::End => at = typed.len(),
            Key::Char(character) if !character.is_control() && (typed.len() as u64) < LONGEST => {
                typed.insert(at, character);
                at += 1;
            }
            _ => {}
        }
    }
}

/// Shows the prompt and as much of the line as one line of the screen holds, the cursor where the next character comes.
fn show_line(screen: &Screen, term: &Term, prompt: &str, typed: &[char], at: usize) -> io::Result<()> {
    let shown = |part: &[char]| visible(&part.iter().collect::<String>()).into_owned();
    let width = |part: &[char]| console::measure_text_width(&shown(part));
    let prompt = format!("{} > ", visible(prompt));
    let room = screen
        .width()
        .saturating_sub(console::measure_text_width(&prompt))
        .max(4);
    let mut from = 0;
    while from < at && width(&typed[from..at]) >= room {
        from += 1;
    }
    let mut to = typed.len();
    while to > at && width(&typed[from..to]) > room {
        to -= 1;
    }
    term.clear_line()?;
    term.write_str(&format!("{prompt}{}", shown(&typed[from..to])))?;
    term.move_cursor_left(width(&typed[at..to]))?;
    term.flush()
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
