//! Over all causes: its own direct finding makes a cause lead on top of what its strongest look-alike tells. Over all tests: an
//! outcome that says nothing moves no cause.

#![expect(clippy::unwrap_used, reason = "a failed unwrap fails the test")]
#![expect(clippy::print_stdout, reason = "what was tried is told with --nocapture")]

use lineside::inference::{Answered, Model, Standing, standing};
use lineside::knowledge::model::{
    CauseIndex, EquipmentIndex, Knowledge, OutcomeIndex, State, TestIndex, TreeIndex,
};
use lineside::knowledge::{self, graph::Reached};

/// Told answers typical of the look-alike that stand before the direct finding.
const TOLD: usize = 5;

/// An outcome is a direct finding of a cause from this share of its callbacks on, and from so many times what is usual.
const OFTEN: f64 = 0.5;
const ABOVE_USUAL: f64 = 10.0;
/// Where another cause is met with it nearly as often it is not the finding of one.
const NEARLY: f64 = 1.25;

/// Findings that do not make their cause lead: 91 of 405 as last counted. It was 79 of 407 before every look-alike that gives a
/// finding too was named with it (a burnt contactor has many killers), and 52 of 416 while pairs of questions asked one
/// thing twice: the five told answers of a look-alike are five different facts now, and most that are left contradict the
/// finding (the utility found its fault, and a fuse is blown), or two causes bring the same sight. A ground, a nail and another
/// motor that stand where they were missing made it 94 of 414. It must come down.
const MISSED: usize = 94;

/// The complaint a cause comes under most, on the first equipment that can have it there.
fn field(knowledge: &Knowledge, cause: CauseIndex) -> (TreeIndex, EquipmentIndex) {
    let known = &knowledge.causes[cause];
    let effect = knowledge.effect("complaint").unwrap();
    let shares = &known
        .does
        .iter()
        .find(|does| does.effect == effect)
        .unwrap()
        .shares;
    let most = (0..shares.len())
        .max_by(|a, b| shares[*a].total_cmp(&shares[*b]))
        .unwrap();
    let tree = knowledge
        .tree(&knowledge.effects[effect].states[most].id)
        .unwrap();
    let kind = knowledge.equipment.find(|kind| known.applies_to(kind)).unwrap();
    (tree, kind)
}

/// The told answers that speak most for a cause, one a test, the strongest first.
fn typical(knowledge: &Knowledge, model: &Model, tests: &[TestIndex], place: usize) -> Vec<Answered> {
    let mut told: Vec<(f64, Answered)> = tests
        .iter()
        .filter(|test| knowledge.tests[**test].state == State::Told)
        .filter_map(|test| {
            let likelihoods = model.likelihoods(*test)?;
            let row = likelihoods.row(place);
            let usual = likelihoods.usual();
            // The answer one mostly gets, weighed by how much it says.
            let (outcome, says) = (0..row.len())
                .map(|outcome| (outcome, row[outcome] * (row[outcome] / usual[outcome]).log2()))
                .max_by(|a, b| a.1.total_cmp(&b.1))?;
            Some((says, Answered::certain(*test, OutcomeIndex(outcome))))
        })
        .collect();
    told.sort_by(|a, b| b.0.total_cmp(&a.0));
    told.into_iter().take(TOLD).map(|(_, finding)| finding).collect()
}

#[test]
fn the_direct_finding_of_a_cause_makes_it_lead_whatever_its_look_alike_tells() {
    let knowledge = knowledge::embedded().unwrap();
    let (mut missed, mut without, mut tried) = (Vec::new(), Vec::new(), 0);
    for (number, cause) in knowledge.causes.iter().enumerate() {
        let index = CauseIndex(number);
        let (tree, kind) = field(&knowledge, index);
        let model = Model::new(&knowledge, tree, &knowledge.equipment[kind]);
        let place = model.place(index).unwrap();
        let tests: Vec<TestIndex> = Reached::from(&knowledge, tree)
            .tests(&knowledge)
            .into_iter()
            .filter(|test| model.likelihoods(*test).is_some())
            .collect();
        let own = typical(&knowledge, &model, &tests, place);
        let standing = Standing::new(&model, &own);
        let Some((rival, _)) = standing.ranked().into_iter().find(|(other, _)| *other != index) else {
            continue;
        };
        let told = typical(&knowledge, &model, &tests, model.place(rival).unwrap());
        let direct: Vec<Answered> = knowledge
            .tests
            .indices()
            .filter(|test| knowledge.tests[*test].state != State::Told)
            .filter_map(|test| Some((test, model.likelihoods(test)?.usual().to_vec())))
            .flat_map(|(test, usual)| {
                let outcomes = &knowledge.tests[test].outcomes;
                let found = |outcome: &OutcomeIndex| {
                    let chance = |of: CauseIndex| {
                        outcomes[*outcome]
                            .finds
                            .iter()
                            .find(|(c, _)| *c == of)
                            .map_or(0.0, |(_, chance)| *chance)
                    };
                    let own = chance(index);
                    own >= OFTEN
                        && own > ABOVE_USUAL * usual[outcome.place()]
                        && outcomes[*outcome]
                            .finds
                            .iter()
                            .all(|(of, chance)| *of == index || chance * NEARLY <= own)
                };
                outcomes
                    .indices()
                    .filter(found)
                    .map(|outcome| Answered::certain(test, outcome))
                    .collect::<Vec<_>>()
            })
            .collect();
        if direct.is_empty() {
            without.push(cause.id.clone());
        }
        for finding in direct {
            tried += 1;
            let mut all: Vec<Answered> = told
                .iter()
                .filter(|told| told.test != finding.test)
                .cloned()
                .collect();
            all.push(finding.clone());
            let ranked = Standing::new(&model, &all).ranked();
            let (leader, share) = ranked[0];
            if leader != index {
                let test = &knowledge.tests[finding.test];
                missed.push(format!(
                    "{} by {} = {} beside {}: {} leads with {share:.2}, it has {:.2}; told: {}",
                    cause.id,
                    test.id,
                    test.outcomes[finding.outcome].id,
                    knowledge.causes[rival].id,
                    knowledge.causes[leader].id,
                    ranked.iter().find(|(other, _)| *other == index).unwrap().1,
                    told.iter()
                        .map(|told| {
                            let test = &knowledge.tests[told.test];
                            format!("{} = {}", test.id, test.outcomes[told.outcome].id)
                        })
                        .collect::<Vec<_>>()
                        .join(", "),
                ));
            }
        }
    }
    println!(
        "{tried} direct findings tried; without one: {}",
        without.join(", ")
    );
    assert!(tried > 250, "{tried}");
    println!("{} of {tried} do not lead:\n{}", missed.len(), missed.join("\n"));
    assert!(missed.len() <= MISSED, "{} of {tried} do not lead", missed.len());
}

/// At most a tenth of a bit, on top of nothing, for every complaint.
#[test]
fn an_outcome_that_says_nothing_moves_no_cause() {
    const BITS: f64 = 0.1;
    let knowledge = knowledge::embedded().unwrap();
    let mut silent = 0;
    for (tree, known) in knowledge.trees.indexed().filter(|(_, tree)| tree.is_complaint()) {
        let kind = &knowledge.equipment[EquipmentIndex(0)];
        let model = Model::new(&knowledge, tree, kind);
        for (test, of) in knowledge.tests.indexed() {
            for (outcome, _) in of.outcomes.indexed().filter(|(_, outcome)| outcome.says_nothing) {
                silent += 1;
                let finding = Answered::certain(test, outcome);
                for weight in standing::weigh(&model, &[finding]).concat() {
                    let bits = weight.bits;
                    assert!(
                        bits.abs() <= BITS,
                        "{}, {} in {}: {bits}",
                        of.id,
                        of.outcomes[outcome].id,
                        known.id
                    );
                }
            }
        }
    }
    assert!(silent > 500, "{silent}");
}
