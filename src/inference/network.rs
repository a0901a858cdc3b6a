//! Causes, the effects they bring, and what answers say of these: exact inference over the effects.
//!
//! Effects form a forest: each follows from the complaint and from one other effect at most. Given the complaint, P(state |
//! cause, state of the effect it follows from) is proportional to what is usual, times what the complaint, the other
//! effect and the cause each say of the state relative to usual. An answer weighs each state of the effects it shows; states
//! are summed out from the leaves upward (variable elimination, exact in a forest: Probabilistic Graphical
//! Models (2009), chapter 9, from memory). So two answers about one effect, or about effects in one chain, count
//! as dependent as they are.

use std::ops::Range;

use crate::knowledge::behind::COMPLAINT;
use crate::knowledge::model::{Cause, Effect, EffectIndex, Knowledge, TreeIndex};

/// The forest of effects with what each cause says of them, for one complaint.
#[derive(Clone, Debug)]
pub(super) struct Network {
    nodes: Vec<Node>,
    /// P(state | cause, complaint) where nothing is known of the effect it follows from, by place of the cause; the
    /// remainder last. All effects one after the other.
    own: Vec<Vec<f64>>,
    /// Effects, those that follow from others before what they follow from.
    leaves_first: Vec<usize>,
    /// For each effect the one at the beginning of its chain.
    roots: Vec<usize>,
}

/// One effect.
#[derive(Clone, Debug)]
struct Node {
    /// Where its states begin in a row of all states.
    at: usize,
    /// How many states it has.
    width: usize,
    /// The effect it follows from, and what each of that one's states says relative to usual.
    follows: Option<(usize, Vec<Option<Vec<f64>>>)>,
}

/// What answers say of the states: a weight for each state of each effect they show.
#[derive(Clone, Debug)]
pub(super) struct Weights {
    states: Vec<f64>,
    touched: Vec<bool>,
}

/// What goes from the leaves upward.
struct Upward {
    /// Log of the whole weight.
    log: f64,
    /// What comes to each state from what follows from its effect.
    incoming: Vec<f64>,
    /// What effects say of the states of those they follow from, and where each begins.
    messages: Vec<f64>,
    from: Vec<Option<usize>>,
}

impl Weights {
    /// Multiplies the weights of one effect's states.
    pub(super) fn times(&mut self, network: &Network, effect: EffectIndex, column: &[f64]) {
        let node = &network.nodes[effect.place()];
        for (weight, factor) in self.states[node.at..node.at + node.width].iter_mut().zip(column) {
            *weight *= factor;
        }
        self.touched[effect.place()] = true;
    }
}

impl Network {
    /// The network of some causes under a complaint, or under none.
    pub(super) fn new(knowledge: &Knowledge, causes: &[&Cause], complaint: Option<TreeIndex>) -> Self {
        let complaint = complaint.and_then(|complaint| complaint_state(knowledge, complaint));
        let mut at = 0;
        let nodes: Vec<Node> = knowledge
            .effects
            .iter()
            .map(|effect| {
                let node = Node {
                    at,
                    width: effect.states.len(),
                    follows: effect.follows.as_ref().map(|follows| {
                        let rows = follows
                            .given
                            .iter()
                            .map(|row| row.as_ref().map(|row| relative(effect, row)))
                            .collect();
                        (follows.effect.place(), rows)
                    }),
                };
                at += node.width;
                node
            })
            .collect();
        let base: Vec<f64> = knowledge
            .effects
            .iter()
            .flat_map(|effect| {
                let row = complaint.and_then(|state| {
                    let row = effect.on_complaint.iter().find(|(of, _)| *of == state);
                    row.map(|(_, shares)| relative(effect, shares))
                });
                effect
                    .states
                    .iter()
                    .enumerate()
                    .map(move |(state, known)| known.usual * row.as_ref().map_or(1.0, |row| row[state]))
            })
            .collect();
        let mut own: Vec<Vec<f64>> = causes
            .iter()
            .map(|cause| {
                let mut row = base.clone();
                for does in &cause.does {
                    let effect = &knowledge.effects[does.effect];
                    let node = &nodes[does.effect.place()];
                    for (share, factor) in row[node.at..].iter_mut().zip(relative(effect, &does.shares)) {
                        *share *= factor;
                    }
                }
                row
            })
            .collect();
        own.push(base);
        for row in &mut own {
            for node in &nodes {
                normalize(&mut row[node.at..node.at + node.width]);
            }
        }
        let leaves_first = leaves_first(&nodes);
        Self {
            roots: roots(&nodes, &leaves_first),
            nodes,
            own,
            leaves_first,
        }
    }

    /// Weights of nothing answered.
    pub(super) fn nothing(&self) -> Weights {
        Weights {
            states: vec![1.0; self.own[0].len()],
            touched: vec![false; self.nodes.len()],
        }
    }

    /// Causes, the remainder among them.
    pub(super) fn causes(&self) -> usize {
        self.own.len()
    }

    /// States of all effects of one cause, as they stand alone; the remainder is the last.
    pub(super) fn own(&self, place: usize) -> &[f64] {
        &self.own[place]
    }

    /// Shares of two causes present together, effect by effect: as under the one that makes a state likelier than usual,
    /// else as under the one that makes it least likely.
    pub(super) fn together(&self, first: usize, second: usize) -> Vec<f64> {
        let usual = &self.own[self.own.len() - 1];
        let mut row: Vec<f64> = usual
            .iter()
            .zip(self.own[first].iter().zip(&self.own[second]))
            .map(|(usual, (a, b))| if a.max(*b) > *usual { a.max(*b) } else { a.min(*b) })
            .collect();
        for node in &self.nodes {
            normalize(&mut row[node.at..node.at + node.width]);
        }
        row
    }

    /// Natural log of the expected weight of the answers, over the states a cause brings.
    pub(super) fn log_weight(&self, own: &[f64], weights: &Weights) -> f64 {
        self.upward(own, weights).log
    }

    /// Samples one state of every effect from what a cause brings together; `pick` samples a place by shares that need
    /// not add up to 1. What others follow from is sampled before them, so the sample is exact in a forest.
    pub(super) fn sample(&self, own: &[f64], pick: &mut dyn FnMut(&[f64]) -> usize) -> Vec<usize> {
        let mut states = vec![0; self.nodes.len()];
        for effect in self.leaves_first.iter().rev() {
            let node = &self.nodes[*effect];
            let mut shares = own[node.at..node.at + node.width].to_vec();
            if let Some((parent, rows)) = &node.follows
                && let Some(row) = &rows[states[*parent]]
            {
                shares
                    .iter_mut()
                    .zip(row)
                    .for_each(|(share, tilt)| *share *= tilt);
            }
            states[*effect] = pick(&shares);
        }
        states
    }

    /// P(state | cause, answers) of every effect.
    pub(super) fn beliefs(&self, own: &[f64], weights: &Weights) -> Vec<f64> {
        self.beliefs_over(own, weights, vec![true; self.nodes.len()], vec![0.0; own.len()])
    }

    /// The same, where `alone` is what is believed with nothing answered: only effects in a chain with an answered one are worked
    /// out anew.
    pub(super) fn beliefs_from(&self, alone: &[f64], own: &[f64], weights: &Weights) -> Vec<f64> {
        let mut answered = vec![false; self.nodes.len()];
        for (effect, touched) in weights.touched.iter().enumerate() {
            answered[self.roots[effect]] |= touched;
        }
        let anew = self.roots.iter().map(|root| answered[*root]).collect();
        self.beliefs_over(own, weights, anew, alone.to_vec())
    }

    fn beliefs_over(
        &self,
        own: &[f64],
        weights: &Weights,
        anew: Vec<bool>,
        mut beliefs: Vec<f64>,
    ) -> Vec<f64> {
        let upward = self.upward(own, weights);
        let mut local = Vec::new();
        for effect in self.leaves_first.iter().rev().filter(|effect| anew[**effect]) {
            let node = &self.nodes[*effect];
            let range = node.at..node.at + node.width;
            beliefs[range.clone()].fill(0.0);
            local.clear();
            local.extend(local_of(own, weights, &upward.incoming, range.clone()));
            match &node.follows {
                None => beliefs[range.clone()].copy_from_slice(&local),
                Some((parent, rows)) => {
                    let above = &self.nodes[*parent];
                    for (number, row) in rows.iter().enumerate() {
                        let message = upward.from[*effect].map_or(1.0, |from| upward.messages[from + number]);
                        let outside = beliefs[above.at + number] / message.max(f64::MIN_POSITIVE);
                        let whole = whole(&own[range.clone()], row.as_deref());
                        for (place, local) in local.iter().enumerate() {
                            let tilt = row.as_ref().map_or(1.0, |row| row[place]);
                            beliefs[node.at + place] += outside * local * tilt / whole;
                        }
                    }
                }
            }
            normalize(&mut beliefs[range]);
        }
        beliefs
    }

    /// Goes from the leaves upward: what is answered is asked for by the thousand, so all messages stand in one room.
    fn upward(&self, own: &[f64], weights: &Weights) -> Upward {
        let mut incoming = vec![1.0; own.len()];
        let mut touched = weights.touched.clone();
        let mut messages = Vec::with_capacity(own.len());
        let mut from = vec![None; self.nodes.len()];
        let mut local = Vec::new();
        let mut log = 0.0;
        for effect in &self.leaves_first {
            if !touched[*effect] {
                continue;
            }
            let node = &self.nodes[*effect];
            let range = node.at..node.at + node.width;
            local.clear();
            local.extend(local_of(own, weights, &incoming, range.clone()));
            match &node.follows {
                None => log += local.iter().sum::<f64>().ln(),
                Some((parent, rows)) => {
                    let above = self.nodes[*parent].at;
                    from[*effect] = Some(messages.len());
                    for (number, row) in rows.iter().enumerate() {
                        let message = match row {
                            None => local.iter().sum(),
                            Some(row) => {
                                local
                                    .iter()
                                    .zip(row)
                                    .map(|(share, tilt)| share * tilt)
                                    .sum::<f64>()
                                    / whole(&own[range.clone()], Some(row))
                            }
                        };
                        messages.push(message);
                        incoming[above + number] *= message;
                    }
                    touched[*parent] = true;
                }
            }
        }
        Upward {
            log,
            incoming,
            messages,
            from,
        }
    }

    /// Expected weight of one effect's column under some beliefs.
    pub(super) fn expected(&self, beliefs: &[f64], effect: EffectIndex, column: &[f64]) -> f64 {
        let node = &self.nodes[effect.place()];
        beliefs[node.at..node.at + node.width]
            .iter()
            .zip(column)
            .map(|(share, factor)| share * factor)
            .sum()
    }
}

/// What each state of an effect weighs by itself and by what follows from it.
fn local_of<'w>(
    own: &'w [f64],
    weights: &'w Weights,
    incoming: &'w [f64],
    range: Range<usize>,
) -> impl Iterator<Item = f64> + use<'w> {
    range.map(move |state| own[state] * weights.states[state] * incoming[state])
}

/// P(complaint | cause), from what the cause does to the effect `complaint`; the usual share where it is silent.
pub(super) fn of_complaint(
    knowledge: &Knowledge,
    does: &[crate::knowledge::model::Does],
    complaint: TreeIndex,
) -> f64 {
    let Some(state) = complaint_state(knowledge, complaint) else {
        return 1.0;
    };
    let Some(effect) = knowledge.effect(COMPLAINT) else {
        return 1.0;
    };
    does.iter()
        .find(|does| does.effect == effect)
        .map_or(knowledge.effects[effect].states[state].usual, |does| {
            does.shares[state]
        })
}

fn complaint_state(knowledge: &Knowledge, complaint: TreeIndex) -> Option<usize> {
    let effect = &knowledge.effects[knowledge.effect(COMPLAINT)?];
    let id = &knowledge.trees[complaint].id;
    effect.states.iter().position(|state| state.id == *id)
}

/// Shares relative to what is usual.
fn relative(effect: &Effect, shares: &[f64]) -> Vec<f64> {
    effect
        .states
        .iter()
        .zip(shares)
        .map(|(state, share)| share / state.usual)
        .collect()
}

fn whole(own: &[f64], row: Option<&[f64]>) -> f64 {
    row.map_or(1.0, |row| {
        own.iter().zip(row).map(|(share, tilt)| share * tilt).sum()
    })
}

fn normalize(shares: &mut [f64]) {
    let total: f64 = shares.iter().sum();
    shares.iter_mut().for_each(|share| *share /= total);
}

/// For each effect the one at the beginning of its chain.
fn roots(nodes: &[Node], leaves_first: &[usize]) -> Vec<usize> {
    let mut roots: Vec<usize> = (0..nodes.len()).collect();
    for effect in leaves_first.iter().rev() {
        if let Some((parent, _)) = &nodes[*effect].follows {
            roots[*effect] = roots[*parent];
        }
    }
    roots
}

fn leaves_first(nodes: &[Node]) -> Vec<usize> {
    let depth = |effect: usize| {
        let mut steps = 0;
        let mut at = effect;
        while let Some((parent, _)) = &nodes[at].follows {
            at = *parent;
            steps += 1;
        }
        steps
    };
    let mut order: Vec<usize> = (0..nodes.len()).collect();
    order.sort_by_key(|effect| std::cmp::Reverse(depth(*effect)));
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A forest: effect 0 alone, 2 and 3 follow from 1, 4 from 3.
    fn forest(random: &mut fastrand::Rng) -> Network {
        let widths = [2, 3, 2, 3, 2];
        let parents = [None, None, Some(1), Some(1), Some(3)];
        let mut at = 0;
        let nodes: Vec<Node> = widths
            .iter()
            .zip(parents)
            .map(|(width, parent)| {
                let follows = parent.map(|parent: usize| {
                    let rows = (0..widths[parent])
                        .map(|_| {
                            random
                                .bool()
                                .then(|| (0..*width).map(|_| 0.1 + 3.0 * random.f64()).collect())
                        })
                        .collect();
                    (parent, rows)
                });
                at += width;
                Node {
                    at: at - width,
                    width: *width,
                    follows,
                }
            })
            .collect();
        let mut own: Vec<f64> = (0..at).map(|_| 0.05 + random.f64()).collect();
        for node in &nodes {
            normalize(&mut own[node.at..node.at + node.width]);
        }
        let leaves_first = leaves_first(&nodes);
        Network {
            roots: roots(&nodes, &leaves_first),
            nodes,
            own: vec![own],
            leaves_first,
        }
    }

    /// Every combination of states with its probability and the product of its weights.
    fn enumerated(network: &Network, weights: &Weights) -> (f64, Vec<f64>) {
        let own = network.own(0);
        let mut whole = 0.0;
        let mut beliefs = vec![0.0; own.len()];
        let combinations: usize = network.nodes.iter().map(|node| node.width).product();
        for mut number in 0..combinations {
            let mut states = Vec::new();
            for node in &network.nodes {
                states.push(number % node.width);
                number /= node.width;
            }
            let mut product = 1.0;
            for (effect, node) in network.nodes.iter().enumerate() {
                let row = node
                    .follows
                    .as_ref()
                    .and_then(|(parent, rows)| rows[states[*parent]].clone())
                    .unwrap_or_else(|| vec![1.0; node.width]);
                let shares: Vec<f64> = (0..node.width)
                    .map(|state| own[node.at + state] * row[state])
                    .collect();
                product *= shares[states[effect]] / shares.iter().sum::<f64>();
                product *= weights.states[node.at + states[effect]];
            }
            whole += product;
            for (effect, node) in network.nodes.iter().enumerate() {
                beliefs[node.at + states[effect]] += product;
            }
        }
        beliefs.iter_mut().for_each(|share| *share /= whole);
        (whole, beliefs)
    }

    #[test]
    fn what_is_summed_out_is_what_enumeration_gives() {
        let mut random = fastrand::Rng::with_seed(7);
        for _ in 0..200 {
            let network = forest(&mut random);
            let mut weights = network.nothing();
            for effect in 0..network.nodes.len() {
                if random.bool() {
                    let column: Vec<f64> = (0..network.nodes[effect].width)
                        .map(|_| random.f64() + 0.01)
                        .collect();
                    weights.times(&network, EffectIndex(effect), &column);
                }
            }
            let (whole, beliefs) = enumerated(&network, &weights);
            let log = network.log_weight(network.own(0), &weights);
            assert!((log - whole.ln()).abs() < 1e-12, "{log} {whole}");
            let alone = network.beliefs(network.own(0), &network.nothing());
            let from = network.beliefs_from(&alone, network.own(0), &weights);
            let all = network.beliefs(network.own(0), &weights);
            for ((ours, from), counted) in all.iter().zip(&from).zip(&beliefs) {
                assert!((ours - counted).abs() < 1e-12, "{ours} {counted}");
                assert!((from - counted).abs() < 1e-12, "{from} {counted}");
            }
        }
    }

    /// What a sample brings together is as likely as summing out says, also for a state and what follows from it.
    #[test]
    fn states_are_sampled_as_often_as_they_are_likely() {
        const SAMPLES: usize = 60_000;
        let mut random = fastrand::Rng::with_seed(11);
        let network = forest(&mut random);
        let mut pick = |shares: &[f64]| crate::inference::shares::pick(&mut random, shares);
        let sampled: Vec<Vec<usize>> = (0..SAMPLES)
            .map(|_| network.sample(network.own(0), &mut pick))
            .collect();
        // Of the forest: one alone, one with what follows from it, one with what follows from that.
        for effects in [vec![0], vec![1, 2], vec![3, 4], vec![1, 4]] {
            let widths: Vec<usize> = effects
                .iter()
                .map(|effect| network.nodes[*effect].width)
                .collect();
            for number in 0..widths.iter().product() {
                let (mut rest, mut weights) = (number, network.nothing());
                let mut wanted = Vec::new();
                for (effect, width) in effects.iter().zip(&widths) {
                    let column: Vec<f64> = (0..*width)
                        .map(|s| f64::from(u8::from(s == rest % width)))
                        .collect();
                    weights.times(&network, EffectIndex(*effect), &column);
                    wanted.push((*effect, rest % width));
                    rest /= width;
                }
                let likely = network.log_weight(network.own(0), &weights).exp();
                let met = sampled
                    .iter()
                    .filter(|states| wanted.iter().all(|(effect, state)| states[*effect] == *state))
                    .count() as f64
                    / SAMPLES as f64;
                // Five standard deviations of a share counted in so many samples.
                let room = 5.0 * (likely * (1.0 - likely) / SAMPLES as f64).sqrt() + 1e-9;
                assert!((met - likely).abs() < room, "{wanted:?}: {met} against {likely}");
            }
        }
    }
}
