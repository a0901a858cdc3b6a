//! A list in which any number of entries is marked.

use crate::walk::{Question, Reply, RespondentError, Walk};

use super::entries::{is_by_words, labels, turn};
use super::person::Person;
use super::pick::{List, Picked, Said};
use super::words::Found;

/// What is said of an Enter where nothing is marked: none may be taken for "nothing" unseen.
const NONE_MARKED: &str = "nothing is marked; Enter again goes on so";

/// An entry that ends a list in which entries are marked.
pub(super) struct Ending<'a> {
    /// Its words while nothing is marked.
    pub(super) none: &'a str,
    /// The answer it then gives.
    pub(super) nothing: &'a str,
}

impl Person {
    /// Any number of entries, by id and words: picking one marks it or takes the mark back, and the first entry ends it.
    pub(super) fn marked(
        &mut self,
        walk: &Walk<'_>,
        choices: &[(&str, &str)],
        ending: &Ending<'_>,
    ) -> Result<Reply, RespondentError> {
        // What was marked before something else was told is still marked.
        let earlier = std::mem::take(&mut self.marks);
        let mut marked: Vec<&str> = choices
            .iter()
            .map(|(id, _)| *id)
            .filter(|id| earlier.iter().any(|known| known == id))
            .collect();
        let names: Vec<String> = choices.iter().map(|(_, words)| (*words).to_owned()).collect();
        if is_by_words(walk)
            && let Some(reply) = self.by_words(walk, choices, &mut marked)?
        {
            self.marks = marked.into_iter().map(str::to_owned).collect();
            return Ok(reply);
        }
        let mut at = 0;
        loop {
            let mut labels = labels(choices, &marked, ending.none);
            if is_by_words(walk) {
                labels.push("Something else that was told or seen, by words".to_owned());
            }
            let letters = self.letters(false);
            let offers = self.offers_and_words(false);
            let (said, next) = self.pick_in(List {
                entries: &labels,
                letters: &letters,
                offers: &offers,
                at,
                words: true,
                doubt: marked.is_empty().then_some(NONE_MARKED),
                ..List::default()
            })?;
            at = next;
            let reply = match said {
                Said::Picked(Picked::Entry(0)) if marked.is_empty() => {
                    return Ok(Reply::Answer(ending.nothing.to_owned()));
                }
                Said::Picked(Picked::Entry(0)) => return Ok(Reply::Answer(marked.join(", "))),
                Said::Picked(Picked::Entry(place)) if place > choices.len() => self.volunteer(walk, "")?,
                Said::Picked(Picked::Entry(place)) => {
                    turn(&mut marked, choices[place - 1].0);
                    continue;
                }
                Said::Picked(Picked::Stop) => return Ok(Reply::Stop),
                Said::Picked(Picked::Letter(letter)) => {
                    let about = match walk.question() {
                        Question::Test { test, .. } => Some(*test),
                        _ => None,
                    };
                    self.offer(walk, letter, about)?
                }
                Said::Words(words) => match self.found(walk, &words, &names)? {
                    Found::Entry(place) => {
                        turn(&mut marked, choices[place].0);
                        None
                    }
                    Found::Reply(reply) => Some(reply),
                    Found::Nothing => None,
                },
            };
            if let Some(reply) = reply {
                if !matches!(reply, Reply::Back(_) | Reply::CouldNotCheck) {
                    self.marks = marked.into_iter().map(str::to_owned).collect();
                }
                return Ok(reply);
            }
            self.head(walk)?;
        }
    }
}

impl Person {
    /// What else the words say that were typed before: each thing they fit is offered until none is left or the person says
    /// that it is all. Nothing of a sentence is lost because one thing in it was taken up.
    fn by_words<'c>(
        &mut self,
        walk: &Walk<'_>,
        choices: &[(&'c str, &str)],
        marked: &mut Vec<&'c str>,
    ) -> Result<Option<Reply>, RespondentError> {
        let words = std::mem::take(&mut self.words);
        while !words.is_empty() {
            let open: Vec<(&str, &str)> = choices
                .iter()
                .copied()
                .filter(|(id, _)| !marked.contains(id))
                .collect();
            let names: Vec<String> = open.iter().map(|(_, name)| (*name).to_owned()).collect();
            match self.fitting(walk, &words, &names)? {
                Found::Entry(place) => marked.push(open[place].0),
                Found::Reply(reply) => {
                    self.words = words;
                    return Ok(Some(reply));
                }
                Found::Nothing => break,
            }
        }
        if !words.is_empty() {
            self.head(walk)?;
        }
        Ok(None)
    }
}
