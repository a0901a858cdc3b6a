//! How far a long command is: a bar on a terminal, lines elsewhere, nothing within the first second.

use std::io::{self, IsTerminal, Write};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Mutex, OnceLock, PoisonError};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressStyle};

/// Nothing is shown before.
const PATIENCE: Duration = Duration::from_secs(1);

/// Time between two lines where there is no terminal.
const BETWEEN_LINES: Duration = Duration::from_secs(10);

/// How far it is, told from any thread.
pub(super) struct Progress {
    /// What is counted, such as "cases read".
    what: &'static str,
    total: u64,
    done: AtomicU64,
    begun: Instant,
    /// When the last line was said; at first, when it began.
    said: Mutex<Instant>,
    bar: OnceLock<ProgressBar>,
    on_terminal: bool,
}

impl Progress {
    pub(super) fn new(what: &'static str, total: usize) -> Self {
        let now = Instant::now();
        Self {
            what,
            total: total as u64,
            done: AtomicU64::new(0),
            begun: now,
            said: Mutex::new(now),
            bar: OnceLock::new(),
            on_terminal: io::stderr().is_terminal(),
        }
    }

    /// So many more are done.
    pub(super) fn more(&self, number: usize) {
        let done = self.done.fetch_add(number as u64, Ordering::Relaxed) + number as u64;
        if self.begun.elapsed() < PATIENCE {
            return;
        }
        if self.on_terminal {
            self.bar
                .get_or_init(|| bar(self.what, self.total))
                .set_position(done);
            return;
        }
        let mut said = self.said.lock().unwrap_or_else(PoisonError::into_inner);
        if said.elapsed() >= BETWEEN_LINES || *said <= self.begun {
            *said = Instant::now();
            // Nothing can be said about a closed error stream.
            let _ = writeln!(io::stderr(), "{done} of {} {}", self.total, self.what);
        }
    }

    /// It is done: the bar goes.
    pub(super) fn finish(&self) {
        if let Some(bar) = self.bar.get() {
            bar.finish_and_clear();
        }
    }
}

fn bar(what: &str, total: u64) -> ProgressBar {
    let bar = ProgressBar::new(total);
    match ProgressStyle::with_template(&format!("{{wide_bar}} {{pos}} of {{len}} {what}, {{eta}} left")) {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}

pub(super) fn progress(length: u64) -> ProgressBar {
    if !std::io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let style = ProgressStyle::with_template("{wide_bar} {pos} of {len} cases, {eta} left");
    let bar = ProgressBar::new(length);
    match style {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}
