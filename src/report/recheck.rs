//! Which test settles a doubted answer.

use std::collections::BTreeSet;

use crate::knowledge::model::{EffectIndex, TestIndex};
use crate::walk::Walk;

/// The check that best settles a doubted finding: the open test that shows most of the same effects, or the same test once
/// more.
pub(super) fn recheck(walk: &Walk<'_>, test: TestIndex) -> String {
    let knowledge = walk.knowledge();
    let shown = |test: TestIndex| -> BTreeSet<EffectIndex> { knowledge.tests[test].effects().collect() };
    let own = shown(test);
    let mut best = (0.0, None);
    for candidate in walk.candidates() {
        let other = shown(candidate.test);
        let alike = own.intersection(&other).count() as f64 / own.union(&other).count().max(1) as f64;
        if candidate.test != test && alike > best.0 {
            best = (alike, Some(candidate.test));
        }
    }
    match best {
        (_, Some(other)) => knowledge.tests[other].name.clone(),
        (_, None) => format!("{}, once more", knowledge.tests[test].name),
    }
}
