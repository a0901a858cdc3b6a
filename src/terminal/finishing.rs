//! The end of a walk, shown and left.

use crate::knowledge::model::{FactIndex, TestIndex};
use crate::report::{CaseResult, Step};
use crate::walk::{Reply, RespondentError, Walk};

use super::letters::Offer;
use super::person::Person;
use super::pick::Picked;

/// What else can be done where the questions end.
const AT_THE_END: [Offer; 5] = [
    ('b', "back"),
    ('n', "note"),
    ('v', "saw something else"),
    ('f', "facts"),
    ('s', "stop and keep"),
];

/// What sizes the repair, in a few words.
fn sizing(walk: &Walk<'_>, facts: &[FactIndex]) -> String {
    match facts {
        [only] => format!(
            "Size the repair: {}",
            walk.knowledge().facts[*only].name.to_lowercase()
        ),
        more => format!(
            "Size the repair: {} figures, most from plate and panel",
            more.len()
        ),
    }
}

impl Person {
    /// The end, or going on all the same.
    pub(super) fn finish(&mut self, walk: &Walk<'_>) -> Result<Reply, RespondentError> {
        let (mut entries, mut replies) = (Vec::new(), Vec::new());
        // Going on that leads here again would only draw the same screen once more.
        let goes_on = walk.goes_on();
        if goes_on {
            let name = |test: TestIndex| &walk.knowledge().tests[test].name;
            entries.push(match (walk.to_make_sure(), walk.why_first()) {
                (Some(sure), _) => format!("Make sure: {}", name(sure.test)),
                (None, Some(why)) => format!("See why: {}", name(why.test)),
                (None, None) => "Go on asking".to_owned(),
            });
            replies.push(Reply::Further);
        }
        let facts = walk.sizing_facts();
        if !facts.is_empty() {
            entries.push(sizing(walk, &facts));
            replies.push(Reply::Size);
        }
        // Last, since 1 is what leads back here from every part of the result: pressed twice, it must not end the case.
        entries.push("End here; the case is kept".to_owned());
        replies.push(Reply::Accept);
        loop {
            let picked = match CaseResult::new(walk) {
                Some(result) => {
                    let title = match (result.ending.step, goes_on) {
                        (Step::Repair, _) if result.ending.make_sure.is_some() => {
                            "the result: make sure, then repair"
                        }
                        (Step::Repair, _) if result.ending.why_first.is_some() => {
                            "the result: first why, then repair"
                        }
                        (Step::Repair, _) if result.ending.no_fault => "the result: nothing is wrong",
                        (Step::Repair, _) => "the result: time to repair",
                        (_, true) => "the result: not settled",
                        (_, false) => "the result: not settled; nothing more can be asked now",
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
}
