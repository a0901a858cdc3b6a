//! What was seen or told, found by the words typed.

use crate::knowledge::model::{OutcomeIndex, State, Test, TestIndex, TestKind};
use crate::knowledge::search;
use crate::walk::{LEANING_WORD, Question, Reply, Resolution, Respondent as _, RespondentError, Walk};

use super::blocks;
use super::entries::{is_by_words, labels, several, turn};
use super::letters::{THINKS_SO, is_back};
use super::line::Begun;
use super::person::Person;
use super::pick::Picked;
use super::screen::Mark;

/// Entries offered for one search.
const MOST: usize = 8;

/// What words came to.
pub(super) enum Found {
    /// An entry of the list they were typed at, by place.
    Entry(usize),
    /// Something else.
    Reply(Reply),
    /// Nothing, or none of what was found.
    Nothing,
}

impl Person {
    /// Asks for words and finds by them what was seen or told; `begun` are words that were typed before.
    pub(super) fn volunteer(
        &mut self,
        walk: &Walk<'_>,
        begun: &str,
    ) -> Result<Option<Reply>, RespondentError> {
        let prompt = "words for what you saw or measured; empty to leave";
        let words = self
            .input
            .text_from(&mut self.screen, prompt, Begun::Offered(begun))?;
        Ok(match self.found(walk, &words, &[])? {
            Found::Reply(reply) => Some(reply),
            Found::Entry(_) | Found::Nothing => None,
        })
    }

    /// Finds by words an entry of the list they were typed at, or else a test that shows what they say. Where more can be told
    /// from the same words, they are kept.
    pub(super) fn found(
        &mut self,
        walk: &Walk<'_>,
        words: &str,
        labels: &[String],
    ) -> Result<Found, RespondentError> {
        if is_back(words) {
            return Ok(Found::Nothing);
        }
        let found = self.among(
            walk,
            words,
            (search::labels(labels, words), tests(walk, words)),
            labels,
        )?;
        if matches!(found, Found::Reply(Reply::Volunteer { .. })) && is_by_words(walk) {
            words.clone_into(&mut self.words);
        }
        Ok(found)
    }

    /// The same for words that were typed before: what was answered since is left out, and nothing is said where no more fits.
    pub(super) fn fitting(
        &mut self,
        walk: &Walk<'_>,
        words: &str,
        labels: &[String],
    ) -> Result<Found, RespondentError> {
        let open = |test: &TestIndex| walk.resolution(*test) == Resolution::Open;
        let mut tests: Vec<_> = tests(walk, words)
            .into_iter()
            .filter(|(test, _)| open(test))
            .collect();
        // Who tells what is known has no meter in hand.
        tests.sort_by_key(|(test, _)| walk.knowledge().tests[*test].state != State::Told);
        let own = search::labels(labels, words);
        if own.is_empty() && tests.is_empty() {
            return Ok(Found::Nothing);
        }
        self.among(walk, words, (own, tests), labels)
    }

    fn among(
        &mut self,
        walk: &Walk<'_>,
        words: &str,
        (own, tests): (Vec<usize>, Vec<(TestIndex, Option<OutcomeIndex>)>),
        labels: &[String],
    ) -> Result<Found, RespondentError> {
        let mut names: Vec<String> = own.iter().map(|place| labels[*place].clone()).collect();
        names.extend(tests.iter().map(|(test, named)| {
            let test = &walk.knowledge().tests[*test];
            match named {
                Some(outcome) => format!("{}: {}", test.name, test.outcomes[*outcome].label),
                None => test.name.clone(),
            }
        }));
        names.truncate(MOST);
        if names.is_empty() {
            let none =
                format!("Nothing fits \u{201c}{words}\u{201d}. Try other words, or keep it as a note.");
            self.screen.wrapped("  ", &none, None)?;
            return Ok(Found::Nothing);
        }
        self.screen.rule("found by words")?;
        self.screen
            .wrapped("  ", &format!("These fit \u{201c}{words}\u{201d}:"), None)?;
        Ok(match self.pick_or_back(&names, "none of these, or no more")? {
            Picked::Entry(place) => match own.get(place) {
                Some(own) => Found::Entry(*own),
                None => {
                    let (test, named) = tests[place - own.len()];
                    self.tell(walk, test, named)?.map_or(Found::Nothing, Found::Reply)
                }
            },
            Picked::Letter(_) => Found::Nothing,
            Picked::Stop => Found::Reply(Reply::Stop),
        })
    }

    /// Tells the outcome of a test that is not the question; `said` is the outcome the person's words already named.
    pub(super) fn tell(
        &mut self,
        walk: &Walk<'_>,
        index: TestIndex,
        said: Option<OutcomeIndex>,
    ) -> Result<Option<Reply>, RespondentError> {
        let test = &walk.knowledge().tests[index];
        if let Some(hold) = held(walk, index) {
            let warning = format!("{hold} What was read before can be told.");
            self.screen
                .wrapped("  ! Do not make it now: ", &warning, Some(Mark::Danger))?;
        }
        if let Some(outcome) = said {
            // What can be true together is told beside what was told before.
            let mut told = if test.several {
                walk.picked(index)
            } else {
                Vec::new()
            };
            told.retain(|known| *known != outcome);
            told.push(outcome);
            let ids: Vec<&str> = told
                .iter()
                .map(|outcome| test.outcomes[*outcome].id.as_str())
                .collect();
            return Ok(Some(Reply::Volunteer {
                test: test.id.clone(),
                answer: Some(ids.join(", ")),
            }));
        }
        self.told_head(test)?;
        let reasons = |person: &Self| blocks::why(&person.screen, walk.knowledge(), test);
        let answer = if let TestKind::Reading { symbol, .. } = &test.kind {
            self.words_taken(test)?;
            let prompt = format!("reading in {symbol}, ? why, empty to leave");
            loop {
                let typed = self.input.text(&mut self.screen, &prompt)?;
                let answer = match typed.as_str() {
                    "?" => {
                        let reasons = reasons(self);
                        if self.page(&reasons, "back")? == Some(Reply::Stop) {
                            return Ok(Some(Reply::Stop));
                        }
                        continue;
                    }
                    "x" | "X" => None,
                    typed if is_back(typed) => return Ok(None),
                    _ => Some(typed),
                };
                let reply = Reply::Volunteer {
                    test: test.id.clone(),
                    answer,
                };
                // What was meant as a danger must not be lost to a figure that could not be taken: it is asked again.
                match walk.receive(&reply) {
                    Ok(_) => return Ok(Some(reply)),
                    Err(refusal) => self.refused(&refusal),
                }
            }
        } else if let Some((nothing, together)) = several(walk, index) {
            let picked = walk.picked(index);
            let mut marked: Vec<&str> = picked
                .iter()
                .map(|outcome| test.outcomes[*outcome].id.as_str())
                .collect();
            marked.retain(|id| *id != nothing.id);
            loop {
                let labels = labels(&together, &marked, &nothing.label);
                match self.pick_or_letter(&labels, &[('b', "none of these")])? {
                    Picked::Entry(0) if marked.is_empty() => break nothing.id.clone(),
                    Picked::Entry(0) => break marked.join(", "),
                    Picked::Entry(place) => turn(&mut marked, together[place - 1].0),
                    Picked::Letter(_) => return Ok(None),
                    Picked::Stop => return Ok(Some(Reply::Stop)),
                }
            }
        } else {
            let offered = walk.outcomes_offered(index);
            let labels: Vec<String> = offered
                .iter()
                .map(|outcome| test.outcomes[*outcome].label.clone())
                .collect();
            let letters = [
                ('t', "think so"),
                ('?', "reason and steps"),
                ('b', "none of these"),
            ];
            let mut lead = "";
            loop {
                match self.pick_or_letter(&labels, &letters)? {
                    Picked::Entry(place) => {
                        break format!("{lead}{}", test.outcomes[offered[place]].id);
                    }
                    Picked::Letter('t') => {
                        lead = LEANING_WORD;
                        self.screen.wrapped("  ", THINKS_SO, None)?;
                    }
                    Picked::Letter('?') => {
                        let reasons = reasons(self);
                        if self.page(&reasons, "back")? == Some(Reply::Stop) {
                            return Ok(Some(Reply::Stop));
                        }
                        self.told_head(test)?;
                    }
                    Picked::Letter(_) => return Ok(None),
                    Picked::Stop => return Ok(Some(Reply::Stop)),
                }
            }
        };
        Ok(Some(Reply::Volunteer {
            test: test.id.clone(),
            answer: Some(answer),
        }))
    }
}

impl Person {
    /// What stands above the answers of a test that is not the question.
    fn told_head(&mut self, test: &Test) -> std::io::Result<()> {
        self.screen.rule("seen or told")?;
        self.screen.wrapped("", &test.ask, Some(Mark::Strong))?;
        if test.caution.is_empty() {
            return Ok(());
        }
        self.screen
            .wrapped("  ! caution: ", &test.caution, Some(Mark::Danger))
    }
}

/// What the hold says that keeps a test from being made now; nothing where none does. One that ends the walk keeps from all but
/// what is told, save its own proof.
fn held<'w>(walk: &'w Walk<'_>, index: TestIndex) -> Option<&'w str> {
    let knowledge = walk.knowledge();
    let ended = || {
        let is_made = knowledge.tests[index].state != State::Told;
        walk.ending_hold().filter(|_| is_made && !walk.is_wanted(index))
    };
    let hold = walk.stopped(index).map(|stopped| stopped.hold).or_else(ended)?;
    Some(&knowledge.holds[hold].says)
}

/// The tests that words fit, each with the outcome the words name. The one that is asked now is never below the second place, since
/// what is seen meanwhile is mostly about it.
fn tests(walk: &Walk<'_>, words: &str) -> Vec<(TestIndex, Option<OutcomeIndex>)> {
    if walk.equipment().is_none() {
        return Vec::new();
    }
    let mut found: Vec<TestIndex> = search::tests(walk.knowledge(), words)
        .into_iter()
        .filter(|test| {
            walk.applies(*test) && !matches!(walk.knowledge().tests[*test].kind, TestKind::Calculation { .. })
        })
        .collect();
    if let Question::Test { test, .. } = walk.question()
        && let Some(place @ 1..) = found.iter().position(|known| known == test)
    {
        found[1..=place].rotate_right(1);
    }
    found
        .into_iter()
        .take(MOST)
        .map(|test| {
            let offered = walk.outcomes_offered(test);
            let named = search::outcome(&walk.knowledge().tests[test], words);
            (test, named.filter(|outcome| offered.contains(outcome)))
        })
        .collect()
}
