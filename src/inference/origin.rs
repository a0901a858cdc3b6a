//! Where what is known of an effect under a cause comes from.

use crate::knowledge::model::{CauseIndex, EffectIndex, Knowledge};

use super::under::Under;

/// Who says what a cause brings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The cause itself.
    Own,
    /// Its family, where the cause is silent.
    Family,
    /// Another effect, from which this one follows.
    Follows(EffectIndex),
    /// Nobody: it is as usual.
    Usual,
}

/// How many times likelier or less likely than usual a state must be, and how often it must be met, before it counts as
/// following from something.
const WORTH_SAYING: f64 = 1.5;
const LEAST: f64 = 0.05;

/// Who says what a cause brings of an effect.
#[must_use]
pub fn origin(knowledge: &Knowledge, under: &Under<'_>, cause: CauseIndex, effect: EffectIndex) -> Origin {
    let known = &knowledge.causes[cause].does;
    if let Some(does) = known.iter().find(|does| does.effect == effect) {
        return if does.from_family {
            Origin::Family
        } else {
            Origin::Own
        };
    }
    let Some(follows) = &knowledge.effects[effect].follows else {
        return Origin::Usual;
    };
    let own = under.states(Some(cause), effect);
    let differs = own
        .iter()
        .zip(under.states(None, effect))
        .any(|(own, usual)| own.max(*usual) >= LEAST && (own / usual).max(usual / own) >= WORTH_SAYING);
    if differs {
        Origin::Follows(follows.effect)
    } else {
        Origin::Usual
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every effect has one origin, and those of the cause and its family are the ones written there.
    #[test]
    fn what_is_written_is_told_from_what_follows() {
        let knowledge = crate::knowledge::embedded().unwrap();
        let under = Under::new(&knowledge, None, None);
        let (mut own, mut family, mut follows) = (0, 0, 0);
        for cause in knowledge.causes.indices() {
            for effect in knowledge.effects.indices() {
                match origin(&knowledge, &under, cause, effect) {
                    Origin::Own => own += 1,
                    Origin::Family => family += 1,
                    Origin::Follows(_) => follows += 1,
                    Origin::Usual => (),
                }
            }
        }
        let written: usize = knowledge.causes.iter().map(|cause| cause.does.len()).sum();
        assert_eq!(own + family, written);
        assert!(own > 0 && family > 0 && follows > 0, "{own} {family} {follows}");
    }
}
