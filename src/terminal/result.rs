//! The result on one screen, with the rest of it on keys.

use crate::knowledge::model::FactIndex;
use crate::report::first::{self, Below};
use crate::report::layout::Layout;
use crate::report::text::{self, Section};
use crate::report::{CaseResult, Step};
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

/// What else can be done where the questions end.
const AT_THE_END: [(char, &str); 4] = [
    ('b', "back"),
    ('n', "note"),
    ('f', "facts"),
    ('s', "stop and keep"),
];

/// What leaves the result where it was only looked at.
const LEAVE: [(char, &str); 1] = [('q', "or Esc: leave")];

/// What sizes the repair, in a few words.
fn sizing(walk: &Walk<'_>, facts: &[FactIndex]) -> String {
    match facts {
        [only] => format!(
            "Size the repair: {}",
            walk.knowledge().facts[only.0].name.to_lowercase()
        ),
        more => format!(
            "Size the repair: {} figures, most from plate and panel",
            more.len()
        ),
    }
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

    /// The end, or going on all the same.
    pub(super) fn finish(&mut self, walk: &Walk<'_>) -> Result<Reply, RespondentError> {
        let mut entries = vec!["End here; the case is kept".to_owned()];
        let mut replies = vec![Reply::Accept];
        // Going on that leads here again would only draw the same screen once more.
        let goes_on = walk.goes_on();
        if goes_on {
            entries.push("Go on asking".to_owned());
            replies.push(Reply::Further);
        }
        let facts = walk.sizing_facts();
        if !facts.is_empty() {
            entries.push(sizing(walk, &facts));
            replies.push(Reply::Size);
        }
        loop {
            let picked = match CaseResult::new(walk) {
                Some(result) => {
                    let title = match (result.ending.step, goes_on) {
                        (Step::Repair, _) => "the result: time to repair",
                        (_, true) => "the result: not settled",
                        (_, false) => "the result: not settled, and nothing left would change it",
                    };
                    self.on_one_screen(&result, title, &entries, &AT_THE_END)?
                }
                None => self.pick(&entries)?,
            };
            match picked {
                Picked::Entry(place) => return Ok(replies.swap_remove(place)),
                Picked::Stop => return Ok(Reply::Stop),
                Picked::Letter(letter) => {
                    if let Some(reply) = self.offer(walk, letter, None)? {
                        return Ok(reply);
                    }
                }
            }
        }
    }

    /// Shows the first screen until something other than one of its parts is picked. Each part is shown alone, and the first
    /// screen again after it, so that the cause never scrolls away.
    fn on_one_screen(
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
