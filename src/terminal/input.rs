//! Where the keys or lines come from.

use std::io::{self, BufRead, Read};
#[cfg(unix)]
use std::time::Duration;

use console::{Key, Term};

use crate::walk::RespondentError;

use super::line::{Begun, edited};
use super::screen::Screen;
use super::signals::{Signals, ended, unless_told_to_end};

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
        self.text_from(screen, prompt, Begun::Typed(""))
    }

    /// Reads one line of text that is begun already: by keys it can be changed, in plain lines Enter alone takes it.
    pub(super) fn text_from(
        &mut self,
        screen: &mut Screen,
        prompt: &str,
        begun: Begun<'_>,
    ) -> Result<String, RespondentError> {
        match self {
            Self::Keys(signals) => {
                let Some(term) = screen.term().cloned() else {
                    return Err(RespondentError::InputEnded);
                };
                edited(screen, &term, signals, prompt, begun)
            }
            Self::Lines(lines) => {
                let (Begun::Typed(begun) | Begun::Offered(begun)) = begun;
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

/// Waits for a key; nothing comes back when the window has another size than this first.
///
/// The size is looked at now and then. A signal that tells of it would break off a line that is being typed.
pub(super) fn key_unless_resized(
    term: &Term,
    signals: &Signals,
    size: (u16, u16),
) -> Result<Option<Key>, RespondentError> {
    unless_told_to_end(signals)?;
    #[cfg(unix)]
    while !key_waits(MOMENT)? {
        unless_told_to_end(signals)?;
        if signals.take_stop() {
            return Ok(Some(Key::CtrlC));
        }
        if term.size() != size {
            return Ok(None);
        }
    }
    match term.read_key_raw() {
        // A wait that a signal broke off comes back as this key.
        Ok(Key::CtrlC) => unless_told_to_end(signals).map(|()| Some(Key::CtrlC)),
        Ok(key) => Ok(Some(key)),
        Err(error) => Err(ended(error)),
    }
}

/// Keys come one by one, and unseen, as long as this is held; then the terminal is as it was.
///
/// Reading a key does so only while it waits, and nothing could be waited for beside it.
pub(super) struct KeyByKey {
    #[cfg(unix)]
    before: Option<rustix::termios::Termios>,
}

impl KeyByKey {
    pub(super) fn begin() -> Self {
        Self {
            #[cfg(unix)]
            before: Self::set(),
        }
    }

    #[cfg(unix)]
    fn set() -> Option<rustix::termios::Termios> {
        use rustix::termios::{OptionalActions, tcgetattr, tcsetattr};
        let before = tcgetattr(rustix::stdio::stdin()).ok()?;
        let mut raw = before.clone();
        raw.make_raw();
        raw.output_modes = before.output_modes;
        tcsetattr(rustix::stdio::stdin(), OptionalActions::Drain, &raw).ok()?;
        Some(before)
    }
}

#[cfg(unix)]
impl Drop for KeyByKey {
    fn drop(&mut self) {
        use rustix::termios::{OptionalActions, tcsetattr};
        if let Some(before) = &self.before {
            // A terminal that is gone needs nothing put back.
            let _ = tcsetattr(rustix::stdio::stdin(), OptionalActions::Drain, before);
        }
    }
}

/// The key that comes at once after a letter, if one does: then the letter may have begun a word. One that was waited for
/// longer has nothing to do with it.
pub(super) fn key_at_once(term: &Term) -> Result<Option<Key>, RespondentError> {
    #[cfg(unix)]
    if key_waits(WITHIN_A_WORD)? {
        return term.read_key_raw().map(Some).map_err(ended);
    }
    Ok(None)
}

/// How soon a new size is seen. Our choice, no source.
#[cfg(unix)]
const MOMENT: Duration = Duration::from_millis(200);

/// Letters of one word follow each other within this, typed with one finger. Our choice, no source.
#[cfg(unix)]
const WITHIN_A_WORD: Duration = Duration::from_millis(450);

/// Whether a key can be read, waited for so long.
#[cfg(unix)]
fn key_waits(wait: Duration) -> io::Result<bool> {
    use rustix::event::{PollFd, PollFlags, Timespec, poll};
    let wait = Timespec {
        tv_sec: 0,
        tv_nsec: i64::from(wait.subsec_nanos()),
    };
    let keys = rustix::stdio::stdin();
    match poll(&mut [PollFd::new(&keys, PollFlags::IN)], Some(&wait)) {
        Ok(ready) => Ok(ready > 0),
        Err(rustix::io::Errno::INTR) => Ok(false),
        Err(error) => Err(error.into()),
    }
}
