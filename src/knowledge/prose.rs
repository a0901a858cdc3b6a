//! The keys that hold words a person reads, each with where the valid form has them.

use super::fields::Key;
use super::fields::keys::{cause, equipment, fact, test};
use super::model::{Cause, Equipment, Fact, Test};

/// A key with the words behind it.
pub(super) type Worded<T> = (Key, fn(&T) -> &str);

pub(super) const OF_EQUIPMENT: &[Worded<Equipment>] = &[(equipment::NAME, |kind| &kind.name)];

pub(super) const OF_FACT: &[Worded<Fact>] = &[
    (fact::NAME, |fact| &fact.name),
    (fact::ASK, |fact| &fact.ask),
    (fact::FIND, |fact| &fact.find),
];

pub(super) const OF_CAUSE: &[Worded<Cause>] = &[
    (cause::NAME, |cause| &cause.name),
    (cause::MECHANISM, |cause| &cause.mechanism),
    (cause::REMEDY, |cause| &cause.remedy),
    (cause::PROOF, |cause| &cause.proof),
    (cause::CAUTION, |cause| &cause.caution),
];

pub(super) const OF_TEST: &[Worded<Test>] = &[
    (test::NAME, |test| &test.name),
    (test::ASK, |test| &test.ask),
    (test::WHY, |test| &test.why),
];
