//! The error of the instrument, carried through a calculation.
//!
//! The calculation is worked out once as read, and once more at every corner of the error. Readings of one kind are
//! taken to be off by the same share, as one meter would be, so comparing two of them loses nothing.

use indexmap::IndexMap;

use super::calculation::{CANNOT_TELL, Calculation, Inputs};
use super::sheet::{Answer, METER_ERROR, Sheet};
use crate::quantity::{Kind, Quantity, Value, ValueKind};

/// Works a calculation out, and, where it takes the instrument's error, once more at the ends of that.
///
/// Readings of one kind are taken to be off by the same share, as one meter would be. A verdict that does not
/// hold over the whole error band becomes "too close to call".
pub(super) fn judge(
    calculation: &'static Calculation,
    inputs: &Inputs,
    work: fn(Sheet<'_>) -> Answer,
) -> Answer {
    let mut report = work(Sheet::begin(calculation, inputs)?)?;
    if calculation.input(METER_ERROR).is_none() {
        return Ok(report);
    }
    let readings = || {
        calculation
            .inputs
            .iter()
            .filter(|input| input.measured && inputs.get(input.name).is_some())
    };
    let Some(error) = inputs
        .get(METER_ERROR)
        .and_then(Value::quantity)
        .map(|error| error.base)
    else {
        if readings().next().is_some() {
            report.assumptions.push(format!(
                "`{METER_ERROR}` not given: readings taken as exact; give the meter's error to see whether it matters"
            ));
        }
        return Ok(report);
    };
    let mut kinds: Vec<Kind> = Vec::new();
    for input in readings() {
        if let ValueKind::Quantity(kind) = input.kind
            && !kinds.contains(&kind)
        {
            kinds.push(kind);
        }
    }
    if error <= 0.0 || kinds.is_empty() || report.verdict == CANNOT_TELL {
        return Ok(report);
    }
    let mut spread: IndexMap<&'static str, (f64, f64)> = IndexMap::new();
    let mut other = None;
    for corner in 0..1u32 << kinds.len() {
        let mut shifted = inputs.clone();
        for input in readings() {
            if let Some(Value::Quantity(quantity)) = shifted.0.get_mut(input.name) {
                let up = kinds
                    .iter()
                    .position(|kind| *kind == quantity.kind)
                    .is_some_and(|at| corner >> at & 1 == 1);
                let off = if up { 1.0 + error } else { 1.0 - error };
                let (low, high) = input.range.unwrap_or((f64::MIN, f64::MAX));
                quantity.base = (quantity.base * off).clamp(low, high);
            }
        }
        let Ok(at_corner) = Sheet::begin(calculation, &shifted).and_then(work) else {
            continue;
        };
        for (name, value) in &at_corner.outputs {
            if let Value::Quantity(quantity) = value {
                let ends = spread.entry(name).or_insert((quantity.base, quantity.base));
                *ends = (ends.0.min(quantity.base), ends.1.max(quantity.base));
            }
        }
        if at_corner.verdict != report.verdict {
            other = Some(at_corner.verdict);
        }
    }
    let error = Quantity::ratio(error);
    for (name, (low, high)) in spread {
        if let Some(Value::Quantity(quantity)) = report.outputs.get(name) {
            let end = |base| Quantity {
                kind: quantity.kind,
                base,
            };
            if high - low > 1e-9 * high.abs() {
                report.notes.push(format!(
                    "with the meter off by up to {error}, `{name}` lies between {} and {}",
                    end(low),
                    end(high)
                ));
            }
        }
    }
    if let Some(other) = other {
        report.finding = format!(
            "too close to call with this meter: {} by the reading, but `{other}` if the meter is off by {error}. {}",
            report.verdict, report.finding
        );
        report.verdict = CANNOT_TELL;
    }
    Ok(report)
}
