//! What the outcomes of a test must keep together: shares, bounds, and the verdicts of its calculation.

use crate::knowledge::fields::Fields;
use crate::knowledge::finding::{Code, Finding, Stretch};
use crate::knowledge::model::{Outcome, TestKind};
use crate::knowledge::nearest;
use crate::standards::calculation::Calculation;

use super::context::Context;
use super::inputs;

/// How far the shares of a test may be from 1 before it is a slip rather than rounding.
const SUM_TOLERANCE: f64 = 0.001;

/// The verdict every calculation can reach; it moves nothing and has no outcome of its own.
const CANNOT_TELL: &str = "cannot-tell";

/// One outcome with where its parts stand.
pub(super) struct Written {
    pub(super) outcome: Outcome,
    pub(super) id: Stretch,
    pub(super) bound: Option<Stretch>,
}

pub(super) fn check(fields: &Fields<'_>, kind: &TestKind, list: &[Written], context: Context<'_>) {
    check_sum(fields, list, context);
    match kind {
        TestKind::Look => {}
        TestKind::Reading { .. } => check_bounds(fields, list, context),
        TestKind::Calculation { calculation, .. } => {
            if let Some(known) = inputs::find(calculation, context) {
                check_verdicts(fields, known, list, context);
            }
        }
    }
}

fn check_sum(fields: &Fields<'_>, list: &[Written], context: Context<'_>) {
    if list.len() < 2 {
        context.sink.error(
            Code::TooFewOutcomes,
            fields.place(),
            format!(
                "{} has {} outcomes, expected 2 or more",
                fields.what(),
                list.len()
            ),
            "a test that can end in one way only tells nothing; add the other outcomes",
        );
        return;
    }
    let sum: f64 = list.iter().map(|written| written.outcome.usual).sum();
    if (sum - 1.0).abs() > SUM_TOLERANCE {
        context.sink.error(
            Code::UsualSum,
            fields.place(),
            format!(
                "the `usual` shares of {} add up to {sum:.3}, expected 1",
                fields.what()
            ),
            "correct the shares; they are those met among all callbacks",
        );
    }
    for written in list.iter().filter(|written| written.outcome.usual <= 0.0) {
        context.sink.error(
            Code::BadFigure,
            written.id.clone(),
            format!("outcome `{}` is never met: its `usual` is 0", written.outcome.id),
            "give it a small share, such as 0.01; what cannot happen cannot count as evidence",
        );
    }
}

fn check_bounds(fields: &Fields<'_>, list: &[Written], context: Context<'_>) {
    let open: Vec<&Written> = list.iter().filter(|written| written.bound.is_none()).collect();
    match open.as_slice() {
        [] if !list.is_empty() => context.sink.error(
            Code::OpenOutcome,
            fields.place(),
            format!(
                "every outcome of {} has a bound, so a reading may fit none",
                fields.what()
            ),
            "leave one outcome without `below` and `above`; it takes the rest",
        ),
        [] => {}
        [first, others @ ..] => {
            for other in others {
                context.sink.push(
                    Finding::error(
                        Code::OpenOutcome,
                        other.id.clone(),
                        format!(
                            "outcome `{}` has no bound, and another has none either",
                            other.outcome.id
                        ),
                        "give it `below` or `above`; only one takes the rest",
                    )
                    .also(first.id.clone(), "takes the rest"),
                );
            }
        }
    }
    for (index, later) in list.iter().enumerate() {
        let (Some(bound), Some(place)) = (&later.outcome.bound, &later.bound) else {
            continue;
        };
        for earlier in &list[..index] {
            let (Some(first), Some(first_place)) = (&earlier.outcome.bound, &earlier.bound) else {
                continue;
            };
            if first.of != bound.of || first.below != bound.below {
                continue;
            }
            let hidden = if bound.below {
                bound.figure <= first.figure
            } else {
                bound.figure >= first.figure
            };
            if hidden {
                context.sink.push(
                    Finding::error(
                        Code::HiddenBound,
                        place.clone(),
                        format!(
                            "outcome `{}` is never taken: `{}` stands before it and takes all it would",
                            later.outcome.id, earlier.outcome.id
                        ),
                        "put the narrower bound first",
                    )
                    .also(first_place.clone(), "taken first"),
                );
            }
        }
    }
    if let [rest] = open.as_slice() {
        check_rest(rest, list, context);
    }
}

/// A `below` above an `above` leaves nothing for the outcome that takes the rest.
fn check_rest(rest: &Written, list: &[Written], context: Context<'_>) {
    let bounded = |below: bool| {
        list.iter().filter_map(move |written| {
            let bound = written.outcome.bound.as_ref()?;
            (bound.below == below).then_some((&written.outcome.id, bound))
        })
    };
    for (low, below) in bounded(true) {
        for (high, above) in bounded(false) {
            if below.of == above.of && below.figure > above.figure {
                context.sink.error(
                    Code::HiddenBound,
                    rest.id.clone(),
                    format!(
                        "outcome `{}` is never taken: `{low}` and `{high}` overlap and leave nothing",
                        rest.outcome.id
                    ),
                    "set `below` under `above`",
                );
            }
        }
    }
}

fn check_verdicts(fields: &Fields<'_>, calculation: &Calculation, list: &[Written], context: Context<'_>) {
    let verdicts = || {
        let all = calculation.verdicts.iter();
        all.filter(|verdict| verdict.id != CANNOT_TELL)
    };
    let listed: Vec<&str> = verdicts().map(|verdict| verdict.id).collect();
    for written in list {
        let id = written.outcome.id.as_str();
        if !listed.contains(&id) && !id.is_empty() {
            let fix = if id == CANNOT_TELL {
                "remove it; `cannot-tell` is always possible and moves nothing".to_owned()
            } else {
                nearest::did_you_mean(
                    id,
                    listed.iter().copied(),
                    &format!("use {}", nearest::one_of(&listed)),
                )
            };
            context.sink.error(
                Code::UnknownVerdict,
                written.id.clone(),
                format!("`{}` has no verdict `{id}`", calculation.name),
                fix,
            );
        }
    }
    for verdict in verdicts() {
        match list.iter().find(|written| written.outcome.id == verdict.id) {
            None => context.sink.error(
                Code::MissingVerdict,
                fields.place(),
                format!(
                    "{} has no outcome for the verdict `{}`",
                    fields.what(),
                    verdict.id
                ),
                format!(
                    "add an outcome with `id = \"{}\"`: {}",
                    verdict.id, verdict.meaning
                ),
            ),
            Some(written) if verdict.violates && written.outcome.defect.is_none() => context.sink.error(
                Code::UndeclaredDefect,
                written.id.clone(),
                format!(
                    "the verdict `{}` breaks a published limit, but no `defect` stands here",
                    verdict.id
                ),
                "add `defect = { name, hazard, job, correct, source }`",
            ),
            Some(_) => {}
        }
    }
}
