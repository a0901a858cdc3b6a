//! Where the walk stands in the graph, worked out from what is known.

use crate::inference::choice::Candidate;
use crate::inference::{gain, stop};
use crate::knowledge::model::{At, FactIndex, Node, NodeKind, TestIndex, TestKind};
use crate::quantity::Word;

use super::answers::Answer;
use super::calculate::{Depth, Resolution, Wanting, wanting};
use super::holds::Leave;
use super::needs::{held_against, needed_facts, needed_reading};
use super::posterior::Posterior;
use super::question::{Because, Question};
use super::{Ability, worth};

/// More nodes than any sound set of trees passes in one walk; a set with a cycle ends here instead of hanging.
const MOST_NODES: usize = 10_000;

/// The next question, and the tests of the nodes passed on the way there.
pub(super) fn question(walk: &Posterior<'_>) -> (Question, Vec<TestIndex>) {
    let mut passed = Vec::new();
    let mut question = follow(walk, &mut passed);
    if question == Question::Finish
        && walk.pace.sizing
        && let Some(fact) = walk.sizing_facts().first()
    {
        question = Question::Fact {
            fact: *fact,
            wanted_by: None,
        };
    }
    passed.sort_unstable();
    passed.dedup();
    (question, passed)
}

fn follow(walk: &Posterior<'_>, passed: &mut Vec<TestIndex>) -> Question {
    let knowledge = walk.knowledge;
    let Some(complaint) = walk.complaint() else {
        return Question::Complaint;
    };
    if walk.equipment().is_none() {
        return Question::Equipment;
    }
    if walk.wants_accessories() {
        return Question::Accessories;
    }
    if let Some((index, proof)) = walk.ending_holds().into_iter().next() {
        let wanted = proof.and_then(|proof| ask(walk, proof, &Because::Clears(index), Depth::RequiredOnly));
        let hold = &knowledge.holds[index];
        return wanted.unwrap_or_else(|| Question::Halt {
            advice: hold.says.clone(),
            call: hold.call.clone().unwrap_or_default(),
        });
    }
    let tests = walk.account_lines();
    if !tests.is_empty() {
        return Question::Offer { tests, known: true };
    }
    let in_order = knowledge.trees[complaint].in_order;
    let mut callers: Vec<At> = Vec::new();
    let mut at = At {
        tree: complaint,
        node: knowledge.trees[complaint].start,
    };
    for _ in 0..MOST_NODES {
        let Node { kind, .. } = &knowledge.trees[at.tree].nodes[at.node];
        at = match kind {
            NodeKind::Test { test, absent, .. } if !walk.applies(*test) => {
                passed.push(*test);
                *absent
            }
            NodeKind::Test {
                test, to, unknown, ..
            } => {
                passed.push(*test);
                let own = callers.is_empty() && at.tree == complaint;
                let guards = guards_life(walk, at);
                if !guards && let Some(question) = first_of_all(walk, in_order) {
                    return question;
                }
                match pass(walk, *test, in_order) {
                    Pass::Ask(_) if !guards && is_over(walk, in_order) => return Question::Finish,
                    Pass::Ask(_) if own && !in_order && is_idle(walk, *test) => *unknown,
                    Pass::Ask(question) => return or_able(walk, question, guards || in_order),
                    Pass::By(Resolution::Known(outcome)) => to[outcome],
                    Pass::By(_) => *unknown,
                }
            }
            NodeKind::Narrow { pool, then, .. } => {
                passed.extend(pool);
                let guards = guards_life(walk, at);
                if !guards {
                    if let Some(question) = first_of_all(walk, in_order) {
                        return question;
                    }
                    if is_over(walk, in_order) {
                        return Question::Finish;
                    }
                }
                match narrow(walk, pool) {
                    Some(question) => return or_able(walk, question, guards || in_order),
                    None => *then,
                }
            }
            NodeKind::Through { start, then } => {
                callers.push(*then);
                *start
            }
            NodeKind::Leave => match callers.pop() {
                Some(caller) => caller,
                None => return Question::Finish,
            },
            NodeKind::Halt { advice, call } => {
                return Question::Halt {
                    advice: advice.clone(),
                    call: call.clone(),
                };
            }
            NodeKind::Close => return Question::Finish,
        };
    }
    Question::Finish
}

/// What is asked before the tree goes on, wherever it stands but where it guards life.
fn first_of_all(walk: &Posterior<'_>, in_order: bool) -> Option<Question> {
    unjudged(walk)
        .or_else(|| taken(walk))
        .or_else(|| made_sure(walk, in_order))
        .or_else(|| why_first(walk, in_order))
}

/// The next of what the person said can be told or made. Hazards are asked before any of it; and where enough was asked, a
/// few of these still are.
pub(super) fn taken(walk: &Posterior<'_>) -> Option<Question> {
    let pace = &walk.pace;
    let mut taken = pace
        .taken
        .iter()
        .filter(|_| pace.asked < pace.most + stop::MARKED_BESIDES);
    taken.find_map(|test| ask(walk, *test, &Because::Taken, Depth::RequiredOnly))
}

/// What a reading that was given is held against and was not asked yet: until then it tells nothing.
fn unjudged(walk: &Posterior<'_>) -> Option<Question> {
    let mut readings = walk
        .knowledge
        .tests
        .indices()
        .filter(|test| walk.reading(*test).is_some());
    readings.find_map(|test| {
        let mut wanted = held_against(walk, test).filter(|fact| walk.fact(*fact).is_none());
        wanted.next().map(|fact| Question::Fact {
            fact,
            wanted_by: Some(test),
        })
    })
}

/// What makes sure of the cause that stands clear: where it rests on what was told alone, and once the person would rather go on
/// than begin its repair. What shows the rest sound where it means that nothing is wrong.
fn made_sure(walk: &Posterior<'_>, in_order: bool) -> Option<Question> {
    let pace = &walk.pace;
    if pace.is_over() || in_order {
        return None;
    }
    let told_only = !pace.stuck && !walk.rests_on_a_finding();
    let sure = (pace.further || told_only).then(|| walk.to_make_sure()).flatten();
    let sound = || (!pace.stuck).then(|| walk.to_show_sound()).flatten();
    ask(
        walk,
        sure.or_else(sound)?.test,
        &Because::MakesSure,
        Depth::RequiredOnly,
    )
}

/// Why what stands clear burnt or failed, once the person would rather go on than repair it so that it comes again.
fn why_first(walk: &Posterior<'_>, in_order: bool) -> Option<Question> {
    let wanted = walk.pace.further && !walk.pace.is_over() && !in_order;
    let test = wanted.then(|| walk.why_first())??.test;
    ask(walk, test, &Because::WhyFirst, Depth::RequiredOnly)
}

/// Whether a place is in a tree that guards life: its questions are asked however much was asked before.
fn guards_life(walk: &Posterior<'_>, at: At) -> bool {
    let knowledge = walk.knowledge;
    let tree = &knowledge.trees[at.tree];
    !tree.is_complaint()
        && tree
            .nodes
            .iter()
            .any(|node| matches!(node.kind, NodeKind::Test { test, .. } if knowledge.tests[test].safety))
}

/// Whether it is time to conclude: one cause stands clear of all others, not as an all-clear by word alone, or was seen itself and
/// the answers fit it, and the person did not go on all the same; or enough was asked.
fn is_over(walk: &Posterior<'_>, in_order: bool) -> bool {
    let found = || {
        walk.standing().is_some_and(|standing| {
            let fits = standing.remainder() < stop::DOES_NOT_FIT;
            let clear = stop::is_settled(standing) && !walk.is_clear_by_word_only();
            clear || (fits && walk.seen_itself().is_some())
        })
    };
    walk.pace.is_over() || (!in_order && !walk.pace.further && found())
}

/// Whether a step of the tree is passed by: it would tell nothing, the person cannot make it, or it waits until it would
/// decide.
fn is_idle(walk: &Posterior<'_>, test: TestIndex) -> bool {
    let waits = walk.is_told_enough(test) && !walk.decides(test);
    if walk.is_unable(test) || walk.is_told_already(test) || waits {
        return true;
    }
    let (Some(model), Some(standing)) = (walk.model(), walk.standing()) else {
        return false;
    };
    gain::information(model, standing, test) < stop::LEAST_BITS
}

/// The question, or, where several in a row could not be checked, what can be done now. Not before the hazards are asked.
fn or_able(walk: &Posterior<'_>, question: Question, guards: bool) -> Question {
    let pace = &walk.pace;
    if !pace.stuck || guards {
        return question;
    }
    if pace.able.is_none() {
        return Question::Able {
            among: Ability::ALL.to_vec(),
        };
    }
    let tests = worth::offered(walk);
    if tests.is_empty() {
        return question;
    }
    Question::Offer { tests, known: false }
}

enum Pass {
    Ask(Question),
    By(Resolution),
}

/// What to do about a test the tree puts here: ask something, or pass by.
///
/// What a list to go through can work out in full, it does; elsewhere a fact that only makes a figure finer is not asked.
fn pass(walk: &Posterior<'_>, test: TestIndex, in_order: bool) -> Pass {
    let depth = if in_order {
        Depth::AllFacts
    } else {
        Depth::RequiredOnly
    };
    match ask(walk, test, &Because::Authored, depth) {
        Some(question) => Pass::Ask(question),
        None => Pass::By(walk.resolution(test)),
    }
}

/// The question that brings a test forward: a fact it needs, a reading it needs, a caution, or itself.
fn ask(walk: &Posterior<'_>, test: TestIndex, because: &Because, depth: Depth) -> Option<Question> {
    if let TestKind::Calculation { .. } = walk.knowledge.tests[test].kind {
        return match *wanting(walk, test, depth).first()? {
            Wanting::Fact(fact) => Some(Question::Fact {
                fact,
                wanted_by: Some(test),
            }),
            Wanting::Reading(reading) => ask(walk, reading, &Because::InputOf(test), depth),
        };
    }
    let missing = |mut facts: Box<dyn Iterator<Item = FactIndex> + '_>| {
        facts
            .find(|fact| walk.fact(*fact).is_none())
            .map(|fact| Question::Fact {
                fact,
                wanted_by: Some(test),
            })
    };
    match walk.answers.get(&test) {
        // What a reading is held against is asked once there is a reading.
        Some(Answer::Reading(_)) => return missing(Box::new(held_against(walk, test))),
        Some(_) => return None,
        None => {}
    }
    if let Some(question) = missing(Box::new(needed_facts(walk, test))) {
        return Some(question);
    }
    if let Some(other) = needed_reading(walk, test) {
        return ask(walk, other, &Because::InputOf(test), depth);
    }
    // A hold outranks the order of the tree: what would clear it is asked first, and what it bars is passed by.
    match walk.leave(test) {
        Leave::Free => {}
        Leave::After(proof, hold) => return ask_again(walk, proof, &Because::Clears(hold)),
        Leave::Barred => return None,
    }
    present(walk, test, because)
}

/// A proof that clears a hold. One that was answered before the hold was raised is asked anew.
fn ask_again(walk: &Posterior<'_>, proof: TestIndex, because: &Because) -> Option<Question> {
    let unasked = needed_facts(walk, proof).find(|fact| walk.fact(*fact).is_none());
    if let Some(fact) = unasked {
        return Some(Question::Fact {
            fact,
            wanted_by: Some(proof),
        });
    }
    present(walk, proof, because)
}

/// The question itself, or the cautions that come before it.
fn present(walk: &Posterior<'_>, test: TestIndex, because: &Because) -> Option<Question> {
    let needed = walk.knowledge.tests[test].state;
    if needed.is_prepared() && !walk.state().is_some_and(|now| now.covers(needed)) {
        return Some(Question::Caution { state: needed, test });
    }
    Some(Question::Test {
        test,
        because: because.clone(),
    })
}

/// What brings on the test the cautions were accepted for, as long as that is still worth its cost: once its state is there
/// another may tell more for less, but the person agreed to this one.
fn agreed(walk: &Posterior<'_>, pool: &[TestIndex]) -> Option<Candidate> {
    let agreed = walk.pace.agreed?;
    let brings = |test: &TestIndex| {
        let question = ask(walk, *test, &Because::Authored, Depth::RequiredOnly);
        matches!(question, Some(Question::Test { test, .. }) if test == agreed)
    };
    let bringing: Vec<TestIndex> = pool.iter().copied().filter(brings).collect();
    worth::next(walk, &bringing)
}

/// Picks the test of a pool that tells most for its cost, or nothing when it is time to go on.
fn narrow(walk: &Posterior<'_>, pool: &[TestIndex]) -> Option<Question> {
    let best = agreed(walk, pool).or_else(|| worth::next(walk, pool))?;
    let because = Because::Gain {
        bits: best.bits,
        line: worth::reason(walk, &best),
    };
    ask(walk, best.test, &because, Depth::RequiredOnly)
}
