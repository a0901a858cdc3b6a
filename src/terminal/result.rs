//! The result on one screen, with the rest of it on keys.

use crate::report::CaseResult;
use crate::report::first::{self, Below};
use crate::report::layout::Layout;
use crate::report::text::{self, Section};
use crate::walk::{Reply, RespondentError, Walk};

use super::person::Person;
use super::pick::{ESCAPE, List, Picked, pick};

/// The parts of the result by their keys.
const PARTS: [(char, &str, Section); 7] = [
    ('w', "why", Section::Reasons),
    ('o', "other causes", Section::Others),
    ('d', "defects", Section::Corrections),
    ('k', "checks", Section::Checks),
    ('c', "facts, working", Section::Working),
    ('p', "prevention", Section::Prevention),
    ('!', "cautions", Section::Cautions),
];

/// What leaves the result where it was only looked at.
const LEAVE: [(char, &str); 1] = [('q', "or Esc: leave")];

impl Person {
    /// What the case comes to with what is known now; the walk stays where it is.
    pub(super) fn result_so_far(&mut self, walk: &Walk<'_>) -> Result<Option<Reply>, RespondentError> {
        let Some(result) = CaseResult::new(walk) else {
            self.screen
                .wrapped("  ", "A result comes after complaint and equipment.", None)?;
            return Ok(None);
        };
        if self.screen.term().is_none() {
            let lines: Vec<String> = text::render(&result, self.layout())
                .lines()
                .map(str::to_owned)
                .collect();
            return self.page(&lines, "back to the question");
        }
        let back = ["back to the question".to_owned()];
        match self.on_one_screen(&result, "result so far", &back, &LEAVE)? {
            Picked::Stop => Ok(Some(Reply::Stop)),
            Picked::Entry(_) | Picked::Letter(_) => Ok(None),
        }
    }

    /// Shows the first screen until something other than one of its parts is picked. Each part is shown alone, and the first
    /// screen again after it, so that the cause never scrolls away.
    pub(super) fn on_one_screen(
        &mut self,
        result: &CaseResult,
        title: &str,
        entries: &[String],
        besides: &[(char, &str)],
    ) -> Result<Picked, RespondentError> {
        let parts: Vec<(char, &str, String)> = PARTS
            .into_iter()
            .map(|(key, words, section)| (key, words, text::section(result, section, self.layout())))
            .filter(|(_, _, text)| !text.is_empty())
            .collect();
        let offered = parts.iter().map(|(key, words, _)| (*key, *words));
        let offered: Vec<(char, &str)> = offered.chain(besides.iter().copied()).collect();
        let offers: Vec<String> = offered
            .iter()
            .map(|(letter, words)| format!("{letter} {words}"))
            .collect();
        let mut letters: Vec<char> = offered.iter().map(|(letter, _)| *letter).collect();
        letters.push(ESCAPE);
        loop {
            self.screen.rule(title)?;
            // Besides it stand the rule, the entries, the letters and the cursor's line.
            let rule = self.screen.head();
            let lines = self.screen.wrap_offers(&offers).len();
            let room = self
                .screen
                .rows()
                .saturating_sub(entries.len() + lines + rule + 1);
            let first = first::lines(result, self.layout(), room, Below::OnKeys);
            // Dangers are never cut. Where they leave too little room, what stands above is read by itself first.
            let (above, last) = first.split_at(first.len().saturating_sub(room));
            if !above.is_empty() {
                if self.page(above, "go on")? == Some(Reply::Stop) {
                    return Ok(Picked::Stop);
                }
                self.screen.rule(title)?;
            }
            for line in last {
                self.screen.line(line)?;
            }
            let mut list = List {
                entries,
                letters: &letters,
                offers: &offers,
                ..List::default()
            };
            match pick(&mut self.screen, &mut self.input, &mut list)? {
                Picked::Letter(letter) => match parts.iter().find(|(key, _, _)| *key == letter) {
                    Some((_, words, text)) => {
                        self.screen.rule(words)?;
                        let text: Vec<String> = text.lines().map(str::to_owned).collect();
                        if self.page(&text, "back to the result")? == Some(Reply::Stop) {
                            return Ok(Picked::Stop);
                        }
                    }
                    // There is nothing to leave to where the questions end.
                    None if letter == ESCAPE && besides != LEAVE => {}
                    None => return Ok(Picked::Letter(letter)),
                },
                picked => return Ok(picked),
            }
        }
    }

    fn layout(&self) -> Layout {
        Layout {
            width: self.screen.width(),
            color: self.screen.has_color(),
        }
    }
}
