//! Outcomes of a test: shares, bounds and defects.

use crate::knowledge::document::{Entry, check_id};
use crate::knowledge::fields::{Fields, Text};
use crate::knowledge::finding::{Code, Finding, Stretch};
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{
    Bound, BoundOf, Defect, Fact, FactIndex, Outcome, OutcomeIndex, TestIndex, TestKind,
};
use crate::knowledge::nearest;
use crate::knowledge::raw::Raw;
use crate::quantity::{Kind, ValueKind};
use crate::standards::calculation::Calculation;

use super::context::{Context, Measured};
use super::effects::{self, States};
use super::{facts, holds, inputs, words};

/// How far the shares of a test may be from 1 before it is a slip rather than rounding.
const SUM_TOLERANCE: f64 = 0.001;

/// The verdict every calculation can reach; it moves nothing and has no outcome of its own.
const CANNOT_TELL: &str = "cannot-tell";

/// One outcome with where its parts stand.
struct Written {
    outcome: Outcome,
    id: Stretch,
    bound: Option<Stretch>,
}

#[expect(
    clippy::too_many_arguments,
    reason = "one reader of one table; a struct would only rename them"
)]
pub(super) fn outcomes(
    fields: &mut Fields<'_>,
    entry: &Entry<'_>,
    kind: &TestKind,
    facts: &[Fact],
    measured: &Measured,
    states: &States<'_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Indexed<OutcomeIndex, Outcome> {
    let values = fields.tables("outcome", findings);
    let mut list: Vec<Written> = Vec::with_capacity(values.len());
    for value in values {
        let place = Stretch {
            file: entry.file,
            span: value.span(),
        };
        let what = format!("an outcome of `{}`", entry.id());
        let mut inner = Fields::new(what, place, value, fields.broken(), findings);
        let id = inner.text("id", findings);
        if !id.text.is_empty() {
            check_id(id.text, id.place.clone(), findings);
            if id.text == "unknown" {
                findings.push(Finding::error(
                    Code::BadId,
                    id.place.clone(),
                    "`unknown` stands for \"could not check\" in every test",
                    "give this outcome another id",
                ));
            }
            if let Some(first) = list.iter().find(|other| other.outcome.id == id.text) {
                findings.push(
                    Finding::error(
                        Code::DuplicateId,
                        id.place.clone(),
                        format!("outcome `{}` stands twice in `{}`", id.text, entry.id()),
                        "give one of them another id, or remove it",
                    )
                    .also(first.id.clone(), "first here"),
                );
            }
        }
        let label = inner.prose("label", findings);
        let usual = inner.number("usual", 0.0, 1.0, findings);
        let (bound, bound_place) = match kind {
            TestKind::Reading { unit, symbol, .. } => bound(
                &mut inner,
                *unit,
                symbol,
                entry.id(),
                facts,
                measured,
                context,
                findings,
            ),
            _ => (None, None),
        };
        let defect = defect(&mut inner, kind, context, findings);
        let raises = holds::raised(&mut inner, context, findings);
        let fit = context.fit(&mut inner, findings);
        let mut outcome = Outcome {
            id: id.text.to_owned(),
            label,
            usual,
            bound,
            shows: Vec::new(),
            finds: Vec::new(),
            says_nothing: false,
            defect,
            raises,
            fit,
        };
        effects::of_outcome(&mut inner, &mut outcome, states, context, findings);
        inner.finish(findings);
        list.push(Written {
            outcome,
            id: id.place,
            bound: bound_place,
        });
    }
    if !fields.broken() {
        check_sum(fields, &list, findings);
        match kind {
            TestKind::Look => {}
            TestKind::Reading { .. } => check_bounds(fields, &list, findings),
            TestKind::Calculation { calculation, .. } => {
                if let Some(known) = inputs::find(calculation, context) {
                    check_verdicts(fields, known, &list, findings);
                }
            }
        }
    }
    list.into_iter().map(|written| written.outcome).collect()
}

fn check_sum(fields: &Fields<'_>, list: &[Written], findings: &mut Vec<Finding>) {
    if list.len() < 2 {
        findings.push(Finding::error(
            Code::TooFewOutcomes,
            fields.place(),
            format!(
                "{} has {} outcomes, expected 2 or more",
                fields.what(),
                list.len()
            ),
            "a test that can end in one way only tells nothing; add the other outcomes",
        ));
        return;
    }
    let sum: f64 = list.iter().map(|written| written.outcome.usual).sum();
    if (sum - 1.0).abs() > SUM_TOLERANCE {
        let finding = Finding::error(
            Code::UsualSum,
            fields.place(),
            format!(
                "the `usual` shares of {} add up to {sum:.3}, expected 1",
                fields.what()
            ),
            "correct the shares; they are those met among all callbacks",
        );
        findings.push(finding);
    }
    for written in list.iter().filter(|written| written.outcome.usual <= 0.0) {
        findings.push(Finding::error(
            Code::BadFigure,
            written.id.clone(),
            format!("outcome `{}` is never met: its `usual` is 0", written.outcome.id),
            "give it a small share, such as 0.01; what cannot happen cannot count as evidence",
        ));
    }
}

#[expect(
    clippy::too_many_arguments,
    reason = "one reader of one table; a struct would only rename them"
)]
fn bound(
    inner: &mut Fields<'_>,
    unit: Kind,
    symbol: &str,
    test: &str,
    facts: &[Fact],
    measured: &Measured,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> (Option<Bound>, Option<Stretch>) {
    let below = inner.value("below");
    let above = inner.value("above");
    let fact = inner.text_if("of", findings);
    let reading = inner.text_if("of-reading", findings);
    let (is_below, key, value) = match (below, above) {
        (Some(value), None) => (true, "below", value),
        (None, Some(value)) => (false, "above", value),
        (None, None) => {
            if let Some(of) = fact.or(reading) {
                findings.push(Finding::error(
                    Code::BadFigure,
                    of.place,
                    "this names what a figure multiplies, but there is no figure",
                    "add `below = 0.9` or `above = 1.1`",
                ));
            }
            return (None, None);
        }
        (Some(_), Some(_)) => {
            findings.push(Finding::error(
                Code::BadFigure,
                inner.place_of_key("above"),
                "an outcome has either `below` or `above`",
                "split it in two outcomes; the first whose bound holds is taken",
            ));
            return (None, Some(inner.place_of_key("above")));
        }
    };
    let place = inner.place_of(key);
    if let (Some(_), Some(second)) = (&fact, &reading) {
        findings.push(Finding::error(
            Code::BadFigure,
            second.place.clone(),
            "a figure multiplies either a fact or a reading",
            "remove `of` or `of-reading`",
        ));
    }
    let of = bound_of(fact, reading, unit, test, facts, measured, context, findings);
    let figure = match (value.get_ref(), &of) {
        (Raw::Text(text), None) => {
            let text = Text {
                text: text.as_ref(),
                place: place.clone(),
            };
            facts::figure(&text, unit, symbol, findings)
        }
        (Raw::Text(_), Some(_)) => {
            findings.push(Finding::error(
                Code::BadFigure,
                place.clone(),
                format!("`{key}` is a figure with a unit, but it multiplies something"),
                "write a plain multiple such as `0.9`, or remove `of`",
            ));
            None
        }
        (number, Some(_)) => number.as_number().filter(|multiple| *multiple > 0.0).or_else(|| {
            findings.push(Finding::error(
                Code::BadFigure,
                place.clone(),
                format!("`{key}` is not a multiple above 0"),
                "write a plain number such as `0.9`",
            ));
            None
        }),
        (_, None) => {
            findings.push(Finding::error(
                Code::BadFigure,
                place.clone(),
                format!("`{key}` has no unit and nothing to multiply"),
                format!("write a figure with its unit, such as `\"187 {symbol}\"`, or add `of = \"FACT\"`"),
            ));
            None
        }
    };
    let bound = figure.map(|figure| Bound {
        below: is_below,
        figure,
        of: of.flatten(),
    });
    (bound, Some(place))
}

/// What the figure multiplies: nothing when none is written, an inner nothing after a finding.
#[expect(
    clippy::too_many_arguments,
    reason = "one reader of one table; a struct would only rename them"
)]
fn bound_of(
    fact: Option<Text<'_>>,
    reading: Option<Text<'_>>,
    unit: Kind,
    test: &str,
    facts: &[Fact],
    measured: &Measured,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Option<BoundOf>> {
    let (text, found, given) = match (fact, reading) {
        (Some(text), _) => {
            let Some(index) = context.facts.find(&text, findings) else {
                return Some(None);
            };
            (text, BoundOf::Fact(FactIndex(index)), Some(facts[index].kind))
        }
        (None, Some(text)) => {
            let Some(index) = context.tests.find(&text, findings) else {
                return Some(None);
            };
            (
                text,
                BoundOf::Reading(TestIndex(index)),
                measured[index].map(ValueKind::Quantity),
            )
        }
        (None, None) => return None,
    };
    if text.text == test {
        findings.push(Finding::error(
            Code::KindMismatch,
            text.place,
            format!("`{test}` is held against itself"),
            "name another reading",
        ));
        return Some(None);
    }
    if given != Some(ValueKind::Quantity(unit)) {
        let given = given.map_or_else(|| "no reading".to_owned(), ValueKind::wanted);
        findings.push(Finding::error(
            Code::KindMismatch,
            text.place,
            format!(
                "`{}` is {given}, but the reading is {}",
                text.text,
                unit.with_article()
            ),
            "name something of the same kind",
        ));
        return Some(None);
    }
    Some(Some(found))
}

fn check_bounds(fields: &Fields<'_>, list: &[Written], findings: &mut Vec<Finding>) {
    let open: Vec<&Written> = list.iter().filter(|written| written.bound.is_none()).collect();
    match open.as_slice() {
        [_] => {}
        [] if list.is_empty() => {}
        [] => findings.push(Finding::error(
            Code::OpenOutcome,
            fields.place(),
            format!(
                "every outcome of {} has a bound, so a reading may fit none",
                fields.what()
            ),
            "leave one outcome without `below` and `above`; it takes the rest",
        )),
        [first, others @ ..] => {
            for other in others {
                findings.push(
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
                findings.push(
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
    check_rest(&open, list, findings);
}

/// A `below` above an `above` leaves nothing for the outcome that takes the rest.
fn check_rest(open: &[&Written], list: &[Written], findings: &mut Vec<Finding>) {
    let [rest] = open else { return };
    for low in list
        .iter()
        .filter(|written| written.outcome.bound.as_ref().is_some_and(|bound| bound.below))
    {
        for high in list
            .iter()
            .filter(|written| written.outcome.bound.as_ref().is_some_and(|bound| !bound.below))
        {
            let (Some(below), Some(above)) = (&low.outcome.bound, &high.outcome.bound) else {
                continue;
            };
            if below.of == above.of && below.figure > above.figure {
                findings.push(Finding::error(
                    Code::HiddenBound,
                    rest.id.clone(),
                    format!(
                        "outcome `{}` is never taken: `{}` and `{}` overlap and leave nothing",
                        rest.outcome.id, low.outcome.id, high.outcome.id
                    ),
                    "set `below` under `above`",
                ));
            }
        }
    }
}

fn check_verdicts(
    fields: &Fields<'_>,
    calculation: &Calculation,
    list: &[Written],
    findings: &mut Vec<Finding>,
) {
    let listed: Vec<&str> = calculation
        .verdicts
        .iter()
        .map(|verdict| verdict.id)
        .filter(|id| *id != CANNOT_TELL)
        .collect();
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
            findings.push(Finding::error(
                Code::UnknownVerdict,
                written.id.clone(),
                format!("`{}` has no verdict `{id}`", calculation.name),
                fix,
            ));
        }
    }
    for verdict in calculation
        .verdicts
        .iter()
        .filter(|verdict| verdict.id != CANNOT_TELL)
    {
        match list.iter().find(|written| written.outcome.id == verdict.id) {
            None => findings.push(Finding::error(
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
            )),
            Some(written) if verdict.violates && written.outcome.defect.is_none() => {
                findings.push(Finding::error(
                    Code::UndeclaredDefect,
                    written.id.clone(),
                    format!(
                        "the verdict `{}` breaks a published limit, but no `defect` stands here",
                        verdict.id
                    ),
                    "add `defect = { name, hazard, job, correct, source }`",
                ));
            }
            Some(_) => {}
        }
    }
}

fn defect(
    inner: &mut Fields<'_>,
    kind: &TestKind,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Defect> {
    let value = inner.value("defect")?;
    let place = inner.place_of("defect");
    let mut fields = Fields::new("a defect".to_owned(), place, value, inner.broken(), findings);
    let name = fields.prose("name", findings);
    let hazard = fields.prose("hazard", findings);
    let job = fields.word("job", words::JOBS, findings);
    let correct = fields.text("correct", findings);
    let source = fields.prose("source", findings);
    fields.finish(findings);
    let calculation = match kind {
        TestKind::Calculation { calculation, .. } => Some(calculation.as_str()),
        _ => None,
    };
    inputs::check_placeholders(&correct, calculation, context, findings);
    Some(Defect {
        name,
        hazard,
        job,
        correct: correct.text.to_owned(),
        source,
    })
}
