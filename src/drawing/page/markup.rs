//! Small pieces of HTML that every part of the page uses.

use std::fmt::Write as _;

use crate::drawing::escape::escape;
use crate::drawing::words::{name_of, spoken};
use crate::knowledge::cited::Source;
use crate::knowledge::model::{
    CauseIndex, Does, EffectIndex, FactIndex, FamilyIndex, Knowledge, TestIndex, TreeIndex,
};
use crate::knowledge::saying::in_words;

/// An arrow to the right, drawn too.
pub(super) const ARROW: &str = "<svg class=\"arrow\" viewBox=\"0 0 10 8\" aria-hidden=\"true\"><path \
                                d=\"M0 3h5V.3L10 4L5 7.7V5H0Z\"/></svg>";

/// Begins a folded entry: `meta` is said in small letters under its name. `live`: it is a test on energized equipment.
pub(super) fn open(page: &mut String, id: &str, name: &str, live: bool, meta: &str) {
    let mark = if live { " live" } else { "" };
    let _ = writeln!(
        page,
        "<details class=\"entry\" id=\"{}\"><summary><span class=\"name{mark}\">{}</span><span class=\"meta\">{}</span></summary>",
        escape(id),
        escape(name),
        escape(meta)
    );
}

/// Ends it.
pub(super) fn close(page: &mut String) {
    page.push_str("</details>\n");
}

/// A heading with a paragraph, unless the text is empty. `find`: the search looks in it.
pub(super) fn part(page: &mut String, heading: &str, text: &str, find: bool) {
    if !text.is_empty() {
        let class = if find { " class=\"find\"" } else { "" };
        let _ = writeln!(page, "<h4>{heading}</h4><p{class}>{}</p>", escape(text));
    }
}

/// A heading with a list of texts, unless there are none.
pub(super) fn list(page: &mut String, heading: &str, kind: List, items: impl IntoIterator<Item = String>) {
    let mut items = items.into_iter().peekable();
    if items.peek().is_none() {
        return;
    }
    let (begin, end) = match kind {
        List::Steps => ("<ol>", "</ol>"),
        List::Points => ("<ul>", "</ul>"),
        List::Links => ("<ul class=\"roomy\">", "</ul>"),
    };
    let _ = write!(page, "<h4>{heading}</h4>{begin}");
    for item in items {
        let _ = write!(page, "<li>{item}</li>");
    }
    let _ = writeln!(page, "{end}");
}

/// Kind of a list.
#[derive(Clone, Copy, Debug)]
pub(super) enum List {
    /// Numbered.
    Steps,
    Points,
    /// Each begins with a link.
    Links,
}

/// A link that is large enough for a finger.
pub(super) fn link(kind: &str, id: &str, name: &str) -> String {
    format!("<a href=\"#{kind}-{}\">{}</a>", escape(id), escape(name))
}

/// A link to a test, marked where it is made on energized equipment: the style sheet draws a bolt after it.
pub(super) fn test_link(knowledge: &Knowledge, test: TestIndex) -> String {
    let test = &knowledge.tests[test];
    let mark = if test.is_powered() { " class=\"live\"" } else { "" };
    format!(
        "<a{mark} href=\"#test-{}\">{}</a>",
        escape(&test.id),
        escape(&test.name)
    )
}

pub(super) fn cause_link(knowledge: &Knowledge, cause: CauseIndex) -> String {
    let cause = &knowledge.causes[cause];
    link("cause", &cause.id, &cause.name)
}

pub(super) fn effect_link(knowledge: &Knowledge, effect: EffectIndex) -> String {
    let effect = &knowledge.effects[effect];
    link("effect", &effect.id, &effect.name)
}

pub(super) fn family_link(knowledge: &Knowledge, family: FamilyIndex) -> String {
    let family = &knowledge.families[family];
    link("family", &family.id, &spoken(&family.id))
}

pub(super) fn fact_link(knowledge: &Knowledge, fact: FactIndex) -> String {
    let fact = &knowledge.facts[fact];
    link("fact", &fact.id, &fact.name)
}

pub(super) fn tree_link(knowledge: &Knowledge, tree: TreeIndex) -> String {
    let tree = &knowledge.trees[tree];
    link("tree", &tree.id, &name_of(tree))
}

/// What is said of an effect: a link to it and how often which state.
pub(super) fn does(knowledge: &Knowledge, does: &Does) -> String {
    let said = in_words(&knowledge.effects[does.effect], &does.shares);
    format!("{} {}", effect_link(knowledge, does.effect), escape(&said))
}

/// Links after a few words, unless there are none.
pub(super) fn says(page: &mut String, what: &str, links: impl IntoIterator<Item = String>) {
    if let Some(links) = side_by_side(links) {
        let _ = writeln!(
            page,
            "<p class=\"links\"><span class=\"what\">{what}</span> {links}</p>"
        );
    }
}

/// Links side by side under a heading, unless there are none.
pub(super) fn links(page: &mut String, heading: &str, links: impl IntoIterator<Item = String>) {
    if let Some(links) = side_by_side(links) {
        let _ = writeln!(page, "<h4>{heading}</h4><p class=\"links\">{links}</p>");
    }
}

fn side_by_side(links: impl IntoIterator<Item = String>) -> Option<String> {
    let links: Vec<String> = links.into_iter().collect();
    (!links.is_empty()).then(|| links.join(" "))
}

/// Words that the search finds an entry by, beside its text.
pub(super) fn words(page: &mut String, words: &[String]) {
    if !words.is_empty() {
        let _ = writeln!(
            page,
            "<p class=\"words find\">Also: {}.</p>",
            escape(&words.join(", "))
        );
    }
}

/// Id and sources at the foot of an entry. An address among the sources is a link only for whoever is online, so it
/// stays text: nothing on the page leads out of it.
pub(super) fn foot(page: &mut String, id: &str, source: &[Source]) {
    let source = source.iter().map(|one| escape(&one.text));
    list(page, "Source", List::Points, source);
    let _ = writeln!(
        page,
        "<p class=\"id\">Id: <code class=\"find\">{}</code></p>",
        escape(id)
    );
}
