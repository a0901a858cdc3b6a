//! The entry of an effect: its states, what it follows from, and who speaks of it.

use std::fmt::Write as _;

use crate::drawing::escape::escape;
use crate::drawing::words;
use crate::knowledge::behind::COMPLAINT;
use crate::knowledge::chance::{self, CHANCES};
use crate::knowledge::model::{Effect, EffectIndex, Knowledge};
use crate::knowledge::render::count;
use crate::knowledge::saying::{in_words, percent};

use super::links::Links;
use super::markup;

/// Writes the entry.
pub(super) fn write(page: &mut String, knowledge: &Knowledge, links: &Links<'_>, index: EffectIndex) {
    let effect = &knowledge.effects[index];
    markup::open(
        page,
        &format!("effect-{}", effect.id),
        &effect.name,
        false,
        &count(effect.states.len(), "state"),
    );
    for (number, state) in effect.states.iter().enumerate() {
        let _ = writeln!(
            page,
            "<div class=\"outcome\"><p class=\"label find\"><b>{}</b> <span class=\"said\">usual {}</span></p>",
            escape(&words::capital(&state.says)),
            percent(state.usual)
        );
        causes(page, knowledge, links, index, number);
        page.push_str("</div>\n");
    }
    follows(page, knowledge, effect);
    let following = links.effects_of_effect[index].iter();
    let following = following.map(|other| markup::effect_link(knowledge, *other));
    markup::links(page, "What follows from it", following);
    let tests = links.tests_of_effect[index].iter();
    let tests = tests.map(|test| markup::test_link(knowledge, *test));
    markup::links(page, "Tests that show it", tests);
    let families = links.families_of_effect[index].iter();
    let families = families.map(|family| markup::family_link(knowledge, *family));
    markup::links(page, "Families that speak of it", families);
    markup::foot(page, &effect.id, &[]);
    markup::close(page);
}

/// The causes that raise a state most, by how often they bring it. The complaints have their causes with their trees.
fn causes(page: &mut String, knowledge: &Knowledge, links: &Links<'_>, index: EffectIndex, state: usize) {
    for (word, _) in CHANCES {
        let here = links.causes_of_effect[index]
            .iter()
            .filter(|brought| brought.state == state && chance::word(brought.share) == *word)
            .map(|brought| markup::cause_link(knowledge, brought.cause));
        markup::says(page, &format!("{word} with"), here);
    }
}

fn follows(page: &mut String, knowledge: &Knowledge, effect: &Effect) {
    let mut rows = Vec::new();
    if let Some(complaint) = knowledge.effect(COMPLAINT) {
        for (state, shares) in &effect.on_complaint {
            let given = &knowledge.effects[complaint].states[*state].says;
            rows.push(escape(&format!(
                "Called in for {given}: {}",
                in_words(effect, shares)
            )));
        }
    }
    if let Some(follows) = &effect.follows {
        let other = &knowledge.effects[follows.effect];
        markup::links(
            page,
            "It follows from",
            [markup::effect_link(knowledge, follows.effect)],
        );
        for (state, shares) in other.states.iter().zip(&follows.given) {
            if let Some(shares) = shares {
                rows.push(escape(&format!(
                    "Where {}: {}",
                    state.says,
                    in_words(effect, shares)
                )));
            }
        }
    }
    markup::list(
        page,
        "How it is shared, besides as usual",
        markup::List::Points,
        rows,
    );
}
