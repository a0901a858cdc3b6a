//! A line being typed: `dialoguer` lets it be typed and changed, and it is then shown once, wrapped as everything is.

use std::fmt;

use console::Term;
use dialoguer::Input as TextPrompt;
use dialoguer::theme::Theme;

use crate::report::visible::visible;
use crate::walk::RespondentError;

use super::screen::Screen;
use super::signals::{Signals, ended, unless_told_to_end};

/// Text that stands ready before anything is typed.
#[derive(Clone, Copy)]
pub(super) enum Begun<'a> {
    /// Typing goes on behind it.
    Typed(&'a str),
    /// Enter alone takes it; what is typed takes its place.
    Offered(&'a str),
}

/// A prompt without marks or color: its words, what Enter alone takes, an angle bracket.
struct Plain;

impl Theme for Plain {
    fn format_input_prompt(
        &self,
        f: &mut dyn fmt::Write,
        prompt: &str,
        default: Option<&str>,
    ) -> fmt::Result {
        write!(f, "{}", visible(prompt))?;
        if let Some(offered) = default {
            write!(f, " (Enter alone: {})", visible(offered))?;
        }
        f.write_str(" > ")
    }
}

/// Lets a line be typed and changed until Enter.
pub(super) fn edited(
    screen: &mut Screen,
    term: &Term,
    signals: &Signals,
    prompt: &str,
    begun: Begun<'_>,
) -> Result<String, RespondentError> {
    let prompt = above(screen, prompt)?;
    unless_told_to_end(signals)?;
    let asked = TextPrompt::<String>::with_theme(&Plain)
        .with_prompt(&prompt)
        .allow_empty(true)
        .report(false);
    let (asked, before) = match begun {
        Begun::Typed(text) => (asked.with_initial_text(text), String::new()),
        Begun::Offered("") => (asked, String::new()),
        Begun::Offered(text) => (asked.default(text.to_owned()), format!(" (Enter alone: {text})")),
    };
    let typed = match asked.interact_text_on(term) {
        Ok(typed) => typed.trim().to_owned(),
        Err(dialoguer::Error::IO(error)) => {
            // What comes next must not stand in the line of the prompt.
            screen.passing_line("")?;
            return Err(ended(error));
        }
    };
    // Of a line longer than the screen only the last row is cleared when Enter is pressed.
    let columns = console::measure_text_width(&visible(&format!("{prompt}{before} > {typed}")));
    term.clear_last_lines(columns / usize::from(term.size().1).max(1))?;
    let shown = screen.wrap(&format!("{prompt} > "), &typed);
    if shown.is_empty() {
        screen.passing_line(&format!("{prompt} >"))?;
    }
    for shown in shown {
        screen.passing_line(&shown)?;
    }
    Ok(typed)
}

/// Writes all of a long prompt but its last words, and gives those back.
fn above(screen: &mut Screen, prompt: &str) -> std::io::Result<String> {
    /// Columns left for what is typed.
    const LEAST_ROOM: usize = 14;
    let options =
        crate::report::layout::plain_wrap(screen.width().saturating_sub(LEAST_ROOM).max(LEAST_ROOM));
    let mut lines = textwrap::wrap(prompt, options);
    let last = lines.pop().unwrap_or_default().into_owned();
    for line in lines {
        screen.line(&line)?;
    }
    Ok(last)
}
