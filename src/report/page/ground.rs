//! The equipment ground beside the conductors that will be pulled, not beside those that come out.

use crate::quantity::{ConductorSize, Value};
use crate::report::CaseResult;
use crate::standards::calculation::{Inputs, Report};
use crate::standards::registry;

use super::block::{Card, Pair};
use super::pieces::basis;

/// Calculations that say which conductor is wanted.
const CONDUCTORS: [&str; 2] = ["conductor-size-for", "conductor-size-for-drop"];

/// The ground that goes with each size of the hot conductors this page names, the one that must be first; nothing where
/// no such size is named, and then the ground beside what is fitted stands.
///
/// `report` is the ground of the case as it is; it names the device that counts.
pub(super) fn beside(result: &CaseResult, report: &Report) -> Option<String> {
    let sizes = sizes(result, report)?;
    let device = report.outputs.get("counted-device")?;
    let lines: Vec<String> = sizes
        .iter()
        .map(|(hot, ground)| format!("{hot} hots: {ground} ground"))
        .collect();
    Some(format!(
        "{}. Copper, behind a {device} device, unbroken from the unit's frame to the panel. It grows with the hots where \
         these are larger than their current asks for; for heat or bundling alone it does not.",
        lines.join("; ")
    ))
}

/// A ground wire that is smaller than the hots beside it ask for, as something to correct.
pub(super) fn too_small(result: &CaseResult) -> Option<Card> {
    let report = result
        .requirements
        .iter()
        .filter_map(|entry| entry.report.as_ref())
        .find(|report| report.calculation == "grounding-conductor")?;
    let (hot, least) = sizes(result, report)?.into_iter().next()?;
    let there = told(result, "grounding-conductor-size").filter(|there| *there < least)?;
    Some(Card {
        title: "Ground wire smaller than the conductors beside it ask for".to_owned(),
        mark: Some("unless these were enlarged for heat or bundling alone".to_owned()),
        pairs: vec![
            Pair::new("Must be", format!("{least} copper beside {hot} hots")),
            Pair::new("Is now", there.to_string()),
            Pair::new("Basis", basis(report)),
        ],
    })
}

/// Each size of the hots this page names, with the ground that goes with it; the size that must be comes first.
fn sizes(result: &CaseResult, report: &Report) -> Option<Vec<(ConductorSize, ConductorSize)>> {
    let device = report.outputs.get("counted-device")?;
    let wanted = |calculation: &str, output: &str| {
        result
            .requirements
            .iter()
            .filter_map(|entry| entry.report.as_ref())
            .filter(|report| report.calculation == calculation)
            .find_map(|report| size(report, output))
    };
    // What the current asks for: larger than this is an increase, and the ground grows with it.
    let least = wanted("conductor-size-for", "least-size")?;
    let must = CONDUCTORS
        .iter()
        .filter_map(|calculation| wanted(calculation, "least-size"))
        .chain(told(result, "conductor-size"))
        .max()?;
    let mut sizes = vec![must];
    sizes.extend(wanted("conductor-size-for", "preferred-size").filter(|better| *better > must));
    let sizes: Vec<_> = sizes
        .into_iter()
        .filter_map(|hot| Some((hot, ground(device, hot, least)?)))
        .collect();
    (!sizes.is_empty()).then_some(sizes)
}

/// A size that was told, by the id of its fact.
fn told(result: &CaseResult, id: &str) -> Option<ConductorSize> {
    let told = result
        .given
        .iter()
        .find(|one| one.kind == "fact" && one.id == id)?;
    match told.value {
        Some(Value::Size(size)) => Some(size),
        _ => None,
    }
}

fn size(report: &Report, output: &str) -> Option<ConductorSize> {
    match report.outputs.get(output)? {
        Value::Size(size) => Some(*size),
        _ => None,
    }
}

/// The least ground beside hot conductors of this size, of which `least` would be enough.
///
/// *Source* NEC 250.122(A) and (B), by the calculation `grounding-conductor`.
fn ground(device: &Value, hot: ConductorSize, least: ConductorSize) -> Option<ConductorSize> {
    let calculation = registry::find("grounding-conductor")?;
    let mut inputs = Inputs::default();
    for (name, value) in [
        ("protective-device-rating", device.clone()),
        ("conductor-size", Value::Size(hot)),
        ("least-size", Value::Size(least)),
    ] {
        inputs.0.insert(name.to_owned(), value);
    }
    size(&(calculation.run)(&inputs).ok()?, "least-grounding-size")
}
