//! Being told to end from outside: by a service manager, a closed window, or Ctrl-C.
//!
//! A key is waited for with the terminal in raw mode and the cursor hidden, so a signal must not end the program there
//! and then. It only leaves a mark; the wait is broken off by the system, the terminal is put back on the usual
//! way out, and whoever started the session finds the mark and ends with the code that is usual for the signal.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use signal_hook::consts;

use crate::walk::RespondentError;

/// Signals that end the session, whatever is asked.
#[cfg(unix)]
const ENDING: [i32; 2] = [consts::SIGTERM, consts::SIGHUP];
#[cfg(not(unix))]
const ENDING: [i32; 1] = [consts::SIGTERM];

/// The marks the signals leave.
#[derive(Clone, Debug)]
pub struct Signals {
    ending: Vec<(i32, Arc<AtomicBool>)>,
    stop: Arc<AtomicBool>,
}

impl Signals {
    /// Listens from now on. SIGINT is caught as well, and then means what Ctrl-C means: stop, and keep the case.
    ///
    /// # Errors
    /// When the system does not let us listen.
    pub fn listen() -> io::Result<Self> {
        let stop = Arc::new(AtomicBool::new(false));
        signal_hook::flag::register(consts::SIGINT, Arc::clone(&stop))?;
        let mut ending = Vec::with_capacity(ENDING.len());
        for signal in ENDING {
            let mark = Arc::new(AtomicBool::new(false));
            signal_hook::flag::register(signal, Arc::clone(&mark))?;
            ending.push((signal, mark));
        }
        Ok(Self { ending, stop })
    }

    /// Whether a SIGINT came since this was last asked.
    pub(super) fn take_stop(&self) -> bool {
        self.stop.swap(false, Ordering::SeqCst)
    }

    /// The signal that told the session to end, if one did.
    #[must_use]
    pub fn ending(&self) -> Option<i32> {
        self.ending
            .iter()
            .find(|(_, mark)| mark.load(Ordering::SeqCst))
            .map(|(signal, _)| *signal)
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
