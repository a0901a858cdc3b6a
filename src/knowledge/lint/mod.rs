//! The rules a knowledge must keep, each with a code.
//!
//! The rules on single files, values, ids and routes are kept by the loader, so that nothing broken can be used;
//! the deeper ones here need the whole and run only in `lineside trees check`. Codes are stable. A test compares
//! this table with the codes and demands a bad example under `tests/bad-trees/` for each.
//!
//! | code | what is wrong |
//! |---|---|
//! | `no-files` | the folder has no file to read |
//! | `unreadable-file` | a file that the system will not let us read |
//! | `not-utf-8` | a file that is not text in UTF-8 |
//! | `file-too-large` | a file beyond [`LARGEST_FILE`](crate::knowledge::folder::LARGEST_FILE) |
//! | `misplaced-file` | a file in a folder the format does not have |
//! | `toml-syntax` | text that is not TOML, a key written twice among it |
//! | `unknown-key` | a key the format does not have there |
//! | `missing-key` | a key that must be written and is not |
//! | `wrong-type` | a number where a text belongs, and the like |
//! | `bad-id` | an id that is not kebab-case |
//! | `duplicate-id` | one id for two things of a kind, or a test twice in a pool |
//! | `unknown-word` | a word that is none of the few that may stand there |
//! | `bad-figure` | a figure that cannot be read, has the wrong unit, or is out of range |
//! | `unknown-part` | a part no equipment has |
//! | `unknown-fact` | a fact that is not defined |
//! | `unknown-requirement` | a requirement that is not defined |
//! | `unknown-hold` | a hold that is not defined |
//! | `unknown-cause` | a cause that is not defined |
//! | `unknown-effect` | an effect that is not defined |
//! | `unknown-state` | a state the effect does not have |
//! | `unknown-family` | a family that is not defined |
//! | `effect-circle` | an effect that follows from itself, or from two others |
//! | `silent-and-speaking` | an outcome that says nothing and shows or finds something |
//! | `unknown-test` | a test that is not defined |
//! | `unknown-tree` | a route into a tree that does not exist |
//! | `unknown-node` | a route to a node that does not exist |
//! | `unknown-outcome` | a route for an outcome the test does not have |
//! | `usual-sum` | shares of a test's outcomes that do not add up to 1 |
//! | `too-few-outcomes` | a test with fewer than two outcomes |
//! | `open-outcome` | a reading with no outcome, or more than one, that takes the rest |
//! | `hidden-bound` | an outcome never taken because others take all it would |
//! | `bound-out-of-range` | a bound no believed reading lies beyond |
//! | `label-against-bound` | a label that opens with another figure than its bound |
//! | `chance-sum` | chances of one cause that cannot hold together |
//! | `kind-mismatch` | volts where amperes belong, and the like |
//! | `unknown-calculation` | a calculation that is not in the catalog |
//! | `unknown-input` | an input the calculation does not take |
//! | `missing-input` | an input the calculation needs |
//! | `unknown-verdict` | an outcome the calculation never reaches |
//! | `missing-verdict` | a verdict of the calculation without an outcome |
//! | `unknown-output` | a `{name}` that is no output of the calculation |
//! | `undeclared-defect` | a verdict that breaks a published limit without a `defect` |
//! | `node-kind` | a node that does nothing, or two things |
//! | `missing-route` | an outcome with no way on |
//! | `dead-end` | a node with no way on, or a pool with no test |
//! | `not-shared` | coming back from where nothing comes back |
//! | `cycle` | a way that leads back to where it was |
//! | `unreachable-node` | a node no walk meets |
//! | `unused-tree` | a shared tree no complaint leads into |
//! | `ends-without-close` | a complaint that can run into a `leave` with nowhere to come back to |
//! | `no-caution` | a test on live parts or stored energy without a word of caution |
//! | `energised-before-safety` | a test on live parts on a way without a safety look before it |
//! | `hold-stops-its-proof` | a hold that keeps from being made what would clear one |
//! | `untrue-state` | a test whose words switch, start or light something its state says is off or only told |
//! | `inseparable-causes` | causes of which every test shows the same |
//! | `unreachable-cause` | a cause no test asked under a complaint it comes under can raise |
//! | `unused-test` | a test no tree asks |
//! | `unused-fact` | a fact no test uses |
//! | `unused-requirement` | a requirement no cause and no complaint names |
//! | `unused-hold` | a hold nothing raises |
//! | `unused-part` | a part of some equipment that nothing asks about |
//! | `tells-nothing` | a test that shows no effect, finds no cause, proves no defect and parts no ways |
//! | `one-sided` | a test of which all outcomes but one say nothing |
//! | `no-direct-finding` | a cause that no outcome finds |
//! | `idle-finding` | an outcome that finds a cause no equipment shares with the test |
//! | `idle-statement` | a share that says what follows anyway from family or usual |
//! | `unread-effect` | an effect no test shows anything of |
//! | `unshown-state` | a state of an effect that no outcome shows |
//! | `unlisted-complaint` | a complaint that is no state of the effect `complaint`, or the other way around |
//! | `idle-choice` | a choice, an outcome or a complaint no equipment is offered |
//! | `special-instrument` | a special instrument with no ordinary test beside it |
//! | `never-judged` | a test that applies to equipment without what it is held against |
//! | `no-source` | a claim without a source |
//! | `contradicted-source` | a source that was looked up and says otherwise than its claim |
//! | `empty-prose` | words that must be there and are empty |
//! | `prompt-too-long` | a question beyond two lines of 60 columns |
//! | `hard-to-read` | a question with long sentences or long words, by [`readability`](crate::knowledge::readability) |
//! | `text-too-wide` | a name or label that does not fit its line |

mod cautions;
mod cycles;
mod effects;
mod figures;
mod findings;
mod instruments;
mod judging;
mod offered;
pub(super) mod prompts;
mod prose;
mod reach_of_causes;
mod reach_of_nodes;
mod reading_level;
mod safety;
mod scope;
mod separation;
mod sources;
mod statements;
mod states;
mod telling;
mod unused;
mod weights;
mod widths;

use super::document::Documents;
use super::finding::Sink;
use super::graph::Reached;
use super::model::Knowledge;

use scope::Scope;
use weights::Weights;

use crate::standards::calculation::Calculation;

/// Rules about one entry at a time; they hold also while some ids are unknown.
pub(super) fn each_entry(knowledge: &Knowledge, documents: &Documents<'_>, sink: &Sink) {
    let scope = Scope {
        knowledge,
        documents,
        sink,
        catalog: &[],
        reached: Vec::new(),
        weights: Weights::default(),
    };
    for rule in [
        prose::check,
        sources::check,
        prompts::check,
        reading_level::check,
        widths::check,
        figures::check,
        cautions::check,
        states::check,
    ] {
        rule(&scope);
    }
}

/// Rules about the whole; every id must be known.
pub(super) fn whole(
    knowledge: &Knowledge,
    documents: &Documents<'_>,
    catalog: &'static [Calculation],
    sink: &Sink,
) {
    let complaints = knowledge.trees.indices();
    let reached = complaints
        .filter(|tree| knowledge.trees[*tree].is_complaint())
        .map(|tree| (tree, Reached::from(knowledge, tree)))
        .collect();
    let scope = Scope {
        knowledge,
        documents,
        sink,
        catalog,
        reached,
        weights: Weights::of(knowledge),
    };
    for rule in [
        cycles::check,
        reach_of_nodes::check,
        safety::check,
        separation::check,
        reach_of_causes::check,
        unused::check,
        telling::check,
        judging::check,
        findings::check,
        statements::check,
        effects::check,
        offered::check,
        instruments::check,
    ] {
        rule(&scope);
    }
}

#[cfg(test)]
mod tests {
    use crate::knowledge::finding::Code;

    #[test]
    fn table_lists_every_code_once_and_no_other() {
        let mut rows: Vec<&str> = include_str!("mod.rs")
            .lines()
            .filter_map(|line| line.strip_prefix("//! | `")?.split('`').next())
            .collect();
        rows.sort_unstable();
        let mut codes: Vec<&str> = Code::ALL.iter().map(|code| code.as_str()).collect();
        codes.sort_unstable();
        assert_eq!(rows, codes);
    }
}
