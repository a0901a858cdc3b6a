//! A line being typed, always on one row of the screen: what is longer is moved along under the prompt.

use console::{Key, Term};

use crate::report::visible::visible;
use crate::walk::RespondentError;

use super::input::{KeyByKey, key_unless_resized};
use super::screen::Screen;
use super::signals::Signals;

/// Text that stands in the line before anything is typed.
#[derive(Clone, Copy)]
pub(super) enum Begun<'a> {
    /// Typing goes on behind it.
    Typed(&'a str),
    /// Enter takes it; the first letter typed takes its place.
    Offered(&'a str),
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
    let mut line = Line::of(begun);
    let keys = KeyByKey::begin();
    let mut size = term.size();
    let typed = loop {
        line.draw(screen, term, &prompt)?;
        match key_unless_resized(term, signals, size) {
            Ok(Some(Key::Enter)) => break Ok(line.text()),
            Ok(Some(Key::CtrlC)) => break Err(RespondentError::Interrupted),
            Ok(Some(key)) => line.press(&key),
            Ok(None) => {
                size = term.size();
                screen.said_again()?;
            }
            Err(told) => break Err(told),
        }
    };
    drop(keys);
    term.clear_line()?;
    // What comes next must not stand in the line of the prompt.
    let shown = screen.wrap(&format!("{prompt} > "), &line.text());
    if shown.is_empty() {
        screen.passing_line(&format!("{prompt} >"))?;
    }
    for shown in shown {
        screen.passing_line(&shown)?;
    }
    typed.map(|typed| typed.trim().to_owned())
}

/// Writes all of a long prompt but its last words, and gives those back.
fn above(screen: &mut Screen, prompt: &str) -> std::io::Result<String> {
    /// Columns left for what is typed.
    const LEAST_ROOM: usize = 14;
    let options = crate::report::text::plain_wrap(screen.width().saturating_sub(LEAST_ROOM).max(LEAST_ROOM));
    let mut lines = textwrap::wrap(prompt, options);
    let last = lines.pop().unwrap_or_default().into_owned();
    for line in lines {
        screen.line(&line)?;
    }
    Ok(last)
}

struct Line {
    text: Vec<char>,
    /// Where the next letter goes.
    at: usize,
    /// The first letter takes the place of the text.
    offered: bool,
}

impl Line {
    fn of(begun: Begun<'_>) -> Self {
        let (text, offered) = match begun {
            Begun::Typed(text) => (text, false),
            Begun::Offered(text) => (text, !text.is_empty()),
        };
        let text: Vec<char> = text.chars().collect();
        Self {
            at: text.len(),
            text,
            offered,
        }
    }

    fn text(&self) -> String {
        self.text.iter().collect()
    }

    fn press(&mut self, key: &Key) {
        let offered = std::mem::take(&mut self.offered);
        match key {
            Key::Char(letter) if !letter.is_control() => {
                if offered {
                    self.text.clear();
                    self.at = 0;
                }
                self.text.insert(self.at, *letter);
                self.at += 1;
            }
            Key::Backspace if self.at > 0 => {
                self.at -= 1;
                self.text.remove(self.at);
            }
            Key::Del if self.at < self.text.len() => {
                self.text.remove(self.at);
            }
            Key::ArrowLeft => self.at = self.at.saturating_sub(1),
            Key::ArrowRight => self.at = (self.at + 1).min(self.text.len()),
            Key::Home => self.at = 0,
            Key::End => self.at = self.text.len(),
            _ => {}
        }
    }

    /// What of the text is shown in so many columns, and how many of them stand before the cursor.
    fn window(&self, columns: usize) -> (String, usize) {
        let width = |letters: &[char]| -> usize {
            console::measure_text_width(&visible(&letters.iter().collect::<String>()))
        };
        let mut from = 0;
        while from < self.at && width(&self.text[from..self.at]) >= columns {
            from += 1;
        }
        let mut to = self.at;
        while to < self.text.len() && width(&self.text[from..=to]) < columns {
            to += 1;
        }
        (
            self.text[from..to].iter().collect(),
            width(&self.text[from..self.at]),
        )
    }

    fn draw(&self, screen: &mut Screen, term: &Term, prompt: &str) -> std::io::Result<()> {
        let lead = format!("{prompt} > ");
        let room = screen
            .width()
            .saturating_sub(console::measure_text_width(&visible(&lead)));
        let (shown, before) = self.window(room.max(2));
        let behind = console::measure_text_width(&visible(&shown)) - before;
        term.clear_line()?;
        screen.part(&format!("{lead}{shown}"))?;
        if behind > 0 {
            term.move_cursor_left(behind)?;
            term.flush()?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(line: &mut Line, text: &str) {
        for letter in text.chars() {
            line.press(&Key::Char(letter));
        }
    }

    #[test]
    fn the_cursor_is_always_in_what_is_shown_and_that_always_fits() {
        let mut line = Line::of(Begun::Typed(""));
        typed(&mut line, "sump pump dead with the breaker off");
        for at in 0..=line.text.len() {
            line.at = at;
            for columns in 2..50 {
                let (shown, before) = line.window(columns);
                assert!(
                    shown.chars().count() < columns && before <= shown.chars().count(),
                    "{columns} {at}"
                );
            }
        }
        assert_eq!(line.window(60), (line.text(), line.text.len()));
    }

    #[test]
    fn what_is_offered_gives_way_to_what_is_typed_and_what_was_typed_does_not() {
        let mut line = Line::of(Begun::Offered("breaker trips"));
        typed(&mut line, "rain");
        assert_eq!(line.text(), "rain");
        let mut line = Line::of(Begun::Offered("breaker trips"));
        line.press(&Key::Backspace);
        typed(&mut line, "d");
        assert_eq!(line.text(), "breaker tripd");
        let mut line = Line::of(Begun::Typed("r"));
        typed(&mut line, "ain");
        line.press(&Key::Home);
        line.press(&Key::Del);
        line.press(&Key::ArrowRight);
        line.press(&Key::Backspace);
        assert_eq!(line.text(), "in");
    }
}
