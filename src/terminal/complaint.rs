//! The complaint: picked from the whole list, or found by the words typed.

use crate::knowledge::search;
use crate::walk::{Reply, RespondentError, Walk};

use super::input::Input;
use super::person::Person;
use super::pick::{List, Picked, Said, pick_or_search};
use super::screen::Mark;

/// Complaints offered for one search.
const MOST_FOUND: usize = 9;

impl Person {
    /// The complaint, from the whole list or from what fits the words typed.
    pub(super) fn complaint(&mut self, walk: &Walk<'_>) -> Result<Reply, RespondentError> {
        let all: Vec<(&str, &str)> = walk
            .knowledge()
            .complaints()
            .into_iter()
            .map(|(tree, complaint)| (tree.id.as_str(), complaint))
            .collect();
        let labels: Vec<String> = all.iter().map(|(_, complaint)| (*complaint).to_owned()).collect();
        // By keys every letter begins a word here, so none can mean anything else.
        let (letters, offers) = if matches!(self.input, Input::Keys(_)) {
            let offers = ["letters: find it by words", "? reason", "Ctrl-C stop and keep"].map(str::to_owned);
            (vec!['?'], offers.to_vec())
        } else {
            (self.letters(false), self.offers_said(false))
        };
        self.complaint_head()?;
        loop {
            let mut list = List {
                entries: &labels,
                letters: &letters,
                offers: &offers,
                ..List::default()
            };
            let words = match pick_or_search(&mut self.screen, &mut self.input, &mut list)? {
                Said::Picked(Picked::Entry(place)) => return Ok(Reply::Answer(all[place].0.to_owned())),
                Said::Picked(Picked::Stop) => return Ok(Reply::Stop),
                Said::Picked(Picked::Letter(letter)) => {
                    if let Some(reply) = self.offer(walk, letter, None)? {
                        return Ok(reply);
                    }
                    self.complaint_head()?;
                    continue;
                }
                Said::Words(words) if words.chars().count() < 2 => continue,
                Said::Words(words) => words,
            };
            match self.complaint_found(walk, &all, &words)? {
                Some(reply) => return Ok(reply),
                None => continue,
            }
        }
    }

    fn complaint_head(&mut self) -> std::io::Result<()> {
        self.screen.rule("the complaint")?;
        let ask = "What is the complaint? Pick it, or type a few words.";
        self.screen.wrapped("", ask, Some(Mark::Strong))
    }

    /// The complaint among those that fit the words; nothing when it is none of them.
    fn complaint_found(
        &mut self,
        walk: &Walk<'_>,
        all: &[(&str, &str)],
        words: &str,
    ) -> Result<Option<Reply>, RespondentError> {
        let found: Vec<&(&str, &str)> = search::complaints(walk.knowledge(), words)
            .into_iter()
            .filter_map(|tree| all.iter().find(|(id, _)| *id == tree.id))
            .take(MOST_FOUND)
            .collect();
        if found.is_empty() {
            let none = format!("No complaint fits \u{201c}{words}\u{201d}. Here are all of them.");
            self.screen.wrapped("  ", &none, None)?;
            return Ok(None);
        }
        self.screen
            .wrapped("  ", &format!("These fit \u{201c}{words}\u{201d}:"), None)?;
        let names: Vec<String> = found
            .iter()
            .map(|(_, complaint)| (*complaint).to_owned())
            .collect();
        match self.pick_or_back(&names, "none of these: show all")? {
            Picked::Entry(place) => {
                words.clone_into(&mut self.words);
                Ok(Some(Reply::Answer(found[place].0.to_owned())))
            }
            Picked::Letter(_) => Ok(None),
            Picked::Stop => Ok(Some(Reply::Stop)),
        }
    }
}
