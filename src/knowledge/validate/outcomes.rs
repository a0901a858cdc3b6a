//! Outcomes of a test as they are written: shares, bounds and defects.

use crate::knowledge::document::check_id;
use crate::knowledge::fields::{Fields, Text};
use crate::knowledge::finding::{Code, Finding, Stretch};
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{Bound, BoundOf, Defect, Outcome, OutcomeIndex, TestKind};
use crate::knowledge::raw::Raw;
use crate::quantity::{Kind, ValueKind};

use super::context::Context;
use super::whole_test::{Written, check};
use super::{effects, facts, inputs};
use crate::knowledge::fields::keys::{defect, outcome as keys};

/// The outcomes of the test with this id.
pub(super) fn outcomes(
    fields: &mut Fields<'_>,
    test: &str,
    kind: &TestKind,
    context: Context<'_>,
) -> Indexed<OutcomeIndex, Outcome> {
    let values = fields.items(crate::knowledge::fields::keys::test::OUTCOME, "a list of tables");
    let mut list: Vec<Written> = Vec::with_capacity(values.len());
    for value in values {
        let mut inner = fields.inner(format!("an outcome of `{test}`"), value);
        let id = inner.text(keys::ID);
        if !id.text.is_empty() {
            check_outcome_id(&id, test, &list, context);
        }
        let label = inner.prose(keys::LABEL);
        let usual = inner.number(keys::USUAL);
        let (bound, bound_place) = match kind {
            TestKind::Reading { unit, symbol, .. } => bound(&mut inner, *unit, symbol, test, context),
            _ => (None, None),
        };
        let outcome = Outcome {
            id: id.owned(),
            label,
            usual,
            bound,
            defect: defect(&mut inner, kind, context),
            raises: context.all(&context.holds, &mut inner, keys::RAISES),
            unheld: inner.prose_if(keys::UNHELD),
            fit: context.fit(&mut inner, [keys::PARTS, keys::WITHOUT]),
            shows: effects::shown(&mut inner, keys::SHOWS, context),
            finds: effects::found(&mut inner, keys::FINDS, context),
            says_nothing: inner.flag(keys::SAYS_NOTHING),
        };
        if outcome.says_nothing && !(outcome.shows.is_empty() && outcome.finds.is_empty()) {
            context.sink.error(
                Code::SilentAndSpeaking,
                inner.place(),
                format!(
                    "outcome `{}` says nothing and shows or finds something",
                    outcome.id
                ),
                "remove `says-nothing`, or what it shows and finds",
            );
        }
        inner.finish();
        list.push(Written {
            outcome,
            id: id.place,
            bound: bound_place,
        });
    }
    if !fields.broken() {
        check(fields, kind, &list, context);
    }
    list.into_iter().map(|written| written.outcome).collect()
}

fn check_outcome_id(id: &Text<'_>, test: &str, before: &[Written], context: Context<'_>) {
    check_id(id.text, id.place.clone(), context.sink);
    if id.text == "unknown" {
        context.sink.error(
            Code::BadId,
            id.place.clone(),
            "`unknown` stands for \"could not check\" in every test",
            "give this outcome another id",
        );
    }
    if let Some(first) = before.iter().find(|other| other.outcome.id == id.text) {
        context.sink.push(
            Finding::error(
                Code::DuplicateId,
                id.place.clone(),
                format!("outcome `{}` stands twice in `{test}`", id.text),
                "give one of them another id, or remove it",
            )
            .also(first.id.clone(), "first here"),
        );
    }
}

/// Where the reading must lie, and where that is written.
fn bound(
    inner: &mut Fields<'_>,
    unit: Kind,
    symbol: &str,
    test: &str,
    context: Context<'_>,
) -> (Option<Bound>, Option<Stretch>) {
    let refuse = |place: Stretch, message: String, fix: &str| {
        context.sink.error(Code::BadFigure, place, message, fix);
    };
    let below = inner.value(keys::BELOW);
    let above = inner.value(keys::ABOVE);
    let fact = inner.text_if(keys::OF);
    let reading = inner.text_if(keys::OF_READING);
    let (key, value) = match (below, above) {
        (Some(value), None) => (keys::BELOW, value),
        (None, Some(value)) => (keys::ABOVE, value),
        (None, None) => {
            if let Some(of) = fact.or(reading) {
                refuse(
                    of.place,
                    "this names what a figure multiplies, but there is no figure".to_owned(),
                    "add `below = 0.9` or `above = 1.1`",
                );
            }
            return (None, None);
        }
        (Some(_), Some(_)) => {
            let place = inner.place_of_key(keys::ABOVE.name);
            refuse(
                place.clone(),
                "an outcome has either `below` or `above`".to_owned(),
                "split it in two outcomes; the first whose bound holds is taken",
            );
            return (None, Some(place));
        }
    };
    let place = inner.at(value);
    if let (Some(_), Some(second)) = (&fact, &reading) {
        refuse(
            second.place.clone(),
            "a figure multiplies either a fact or a reading".to_owned(),
            "remove `of` or `of-reading`",
        );
    }
    let key = key.name;
    let of = bound_of(fact, reading, unit, test, context);
    let figure = match (value.get_ref(), &of) {
        (Raw::Text(text), None) => {
            let place = place.clone();
            facts::figure(&Text { text, place }, unit, symbol, context)
        }
        (Raw::Text(_), Some(_)) => {
            refuse(
                place.clone(),
                format!("`{key}` is a figure with a unit, but it multiplies something"),
                "write a plain multiple such as `0.9`, or remove `of`",
            );
            None
        }
        (number, Some(_)) => number.as_number().filter(|multiple| *multiple > 0.0).or_else(|| {
            refuse(
                place.clone(),
                format!("`{key}` is not a multiple above 0"),
                "write a plain number such as `0.9`",
            );
            None
        }),
        (_, None) => {
            refuse(
                place.clone(),
                format!("`{key}` has no unit and nothing to multiply"),
                &format!("write a figure with its unit, such as `\"187 {symbol}\"`, or add `of = \"FACT\"`"),
            );
            None
        }
    };
    let bound = figure.map(|figure| Bound {
        below: key == keys::BELOW.name,
        figure,
        of: of.flatten(),
    });
    (bound, Some(place))
}

/// What the figure multiplies: nothing when none is written, an inner nothing after a finding.
fn bound_of(
    fact: Option<Text<'_>>,
    reading: Option<Text<'_>>,
    unit: Kind,
    test: &str,
    context: Context<'_>,
) -> Option<Option<BoundOf>> {
    let (is_fact, text) = match (fact, reading) {
        (Some(text), _) => (true, text),
        (None, Some(text)) => (false, text),
        (None, None) => return None,
    };
    let found = if is_fact {
        let fact = context.find(&context.fact_ids, &text);
        fact.map(|fact| (BoundOf::Fact(fact), Some(context.facts[fact].kind)))
    } else {
        let reading = context.find(&context.test_ids, &text);
        reading.map(|test| {
            (
                BoundOf::Reading(test),
                context.measured[test].map(ValueKind::Quantity),
            )
        })
    };
    let Some((found, given)) = found else {
        return Some(None);
    };
    let refuse = |message: String, fix: &str| {
        context
            .sink
            .error(Code::KindMismatch, text.place.clone(), message, fix);
        Some(None)
    };
    if text.text == test {
        return refuse(format!("`{test}` is held against itself"), "name another reading");
    }
    if given != Some(ValueKind::Quantity(unit)) {
        let given = given.map_or_else(|| "no reading".to_owned(), ValueKind::wanted);
        return refuse(
            format!(
                "`{}` is {given}, but the reading is {}",
                text.text,
                unit.with_article()
            ),
            "name something of the same kind",
        );
    }
    Some(Some(found))
}

fn defect(inner: &mut Fields<'_>, kind: &TestKind, context: Context<'_>) -> Option<Defect> {
    let value = inner.value(keys::DEFECT)?;
    let mut fields = inner.inner("a defect".to_owned(), value);
    let name = fields.prose(defect::NAME);
    let hazard = fields.prose(defect::HAZARD);
    let job = fields.word(defect::JOB);
    let correct = fields.text(defect::CORRECT);
    let source = fields.prose(defect::SOURCE);
    fields.finish();
    let calculation = match kind {
        TestKind::Calculation { calculation, .. } => Some(calculation.as_str()),
        _ => None,
    };
    inputs::check_placeholders(&correct, calculation, context);
    Some(Defect {
        name,
        hazard,
        job,
        correct: correct.owned(),
        source,
    })
}
