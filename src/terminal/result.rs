//! The result on one screen, with the rest of it on keys.

use crate::report::CaseResult;
use crate::report::first::{self, Below};
use crate::report::layout::Layout;
use crate::report::text::{self, Section};
use crate::walk::{Reply, RespondentError, Walk};

use super::letters::{Offer, in_few_words};
use super::person::Person;
use super::pick::{ESCAPE, List, Picked, pick};

/// The parts of the result by their keys.
const PARTS: [(char, &str, Section); 8] = [
    ('w', "why", Section::Reasons),
    (REPAIR, "repair in full", Section::Repair),
    ('o', "other causes", Section::Others),
    ('d', "defects", Section::Corrections),
    ('k', "checks", Section::Checks),
    ('c', "facts, working", Section::Working),
    ('p', "prevention", Section::Prevention),
    ('!', "cautions", Section::Cautions),
];

/// The key of the repair, which has one only where it does not stand on the first screen whole.
const REPAIR: char = 'h';

/// The key of the result, which shows it again from its top where it is up already.
const AGAIN: char = 'r';

/// What leaves the result where it was only looked at.
const LEAVE: [Offer; 1] = [('q', "or Esc: leave")];

fn said(offered: &[Offer]) -> Vec<String> {
    offered
        .iter()
        .map(|(letter, words)| format!("{letter} {words}"))
        .collect()
}

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
        besides: &[Offer],
    ) -> Result<Picked, RespondentError> {
        let parts: Vec<(char, &'static str, String)> = PARTS
            .into_iter()
            .map(|(key, words, section)| (key, words, text::section(result, section, self.layout())))
            .filter(|(_, _, text)| !text.is_empty())
            .collect();
        let narrow = self.screen.is_narrow();
        let few = |(letter, words): Offer| {
            (
                letter,
                if narrow {
                    in_few_words(letter, words)
                } else {
                    words
                },
            )
        };
        let of_parts = parts.iter().map(|(key, words, _)| (*key, *words));
        let whole: Vec<Offer> = of_parts.chain(besides.iter().copied().map(few)).collect();
        let mut shown = title.to_owned();
        loop {
            self.screen.rule(&shown)?;
            // Besides it stand the rule, the entries, the letters and the cursor's line.
            let taken = self.screen.head() + entries.len() + 1;
            let rows = self.screen.rows();
            let room = |lines: usize| rows.saturating_sub(taken + lines);
            let left = room(self.screen.wrap_offers(&said(&whole)).len());
            let cut = first::cuts_the_repair(result, self.layout(), left, Below::OnKeys);
            let offered = whole.iter().copied().filter(|(key, _)| cut || *key != REPAIR);
            let offered: Vec<Offer> = offered.collect();
            let offers = said(&offered);
            let mut letters: Vec<char> = offered.iter().map(|(letter, _)| *letter).collect();
            letters.extend([ESCAPE, AGAIN]);
            let room = room(self.screen.wrap_offers(&offers).len());
            let first = first::lines(result, self.layout(), room, Below::OnKeys);
            // Dangers are never cut. Where they leave too little room, what stands above is read by itself first.
            let (above, last) = first.split_at(first.len().saturating_sub(room));
            if !above.is_empty() {
                if self.page(above, "go on")? == Some(Reply::Stop) {
                    return Ok(Picked::Stop);
                }
                self.screen.rule(&shown)?;
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
                    None if letter == AGAIN => shown = format!("again, {title}"),
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
