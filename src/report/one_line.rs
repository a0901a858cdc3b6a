//! The way from the utility to the load as data: what is known at each spot, and which spots are suspected.

use crate::knowledge::model::Place;
use crate::quantity::{Kind, Quantity, Value, Word};
use crate::standards::calculation::Report;

use super::form::{CalculationShown, CauseStanding, DefectShown};
use super::form::{OneLine, Station, Suspect};
use super::given::GivenShown;
use super::spot::{Spot, spot};

/// The least probability, 0 to 1, from which a cause marks its spot.
const SUSPECTED: f64 = 0.10;
/// Spots marked at most.
const MOST_SUSPECTS: usize = 3;

/// What the diagram is made from.
pub(super) struct Known<'r> {
    pub(super) parts: &'r [String],
    pub(super) given: &'r [GivenShown],
    pub(super) calculations: &'r [CalculationShown],
    pub(super) defects: &'r [DefectShown],
    pub(super) standing: &'r [CauseStanding],
}

impl OneLine {
    pub(super) fn new(known: &Known<'_>) -> Self {
        let mut stations: Vec<Station> = Spot::ALL
            .iter()
            .copied()
            .filter(|spot| *spot != Spot::Contactor || has(known.parts, "contactor"))
            .map(|spot| Station {
                spot,
                name: name(spot, known.parts).to_owned(),
                ratings: Vec::new(),
                readings: Vec::new(),
                worked_out: Vec::new(),
                defects: Vec::new(),
                suspects: Vec::new(),
            })
            .collect();
        for one in known.given.iter().filter(|one| one.known) {
            let Some(station) = one.spot.and_then(|spot| at(&mut stations, spot)) else {
                continue;
            };
            match one.kind {
                "fact" => station.ratings.push(format!("{}: {}", one.name, one.said)),
                "reading" => station.readings.push(format!(
                    "{}: {}",
                    short(&one.name),
                    one.value
                        .as_ref()
                        .map_or_else(|| one.said.clone(), Value::to_string)
                )),
                _ => {}
            }
        }
        for made in known.calculations {
            if let Some(report) = &made.report {
                worked_out(&mut stations, &made.name, report);
            }
        }
        for defect in known.defects {
            let place = defect.shown_by.iter().find(|shown| shown.measured);
            let place = spot(&defect.name, &defect.test).or_else(|| spot(&place?.name, ""));
            if let Some(station) = place.and_then(|spot| at(&mut stations, spot)) {
                let doubt = if defect.sure { "" } else { " (check it first)" };
                station.defects.push(format!("{}{doubt}", defect.name));
            }
        }
        let suspects = known.standing.iter().take(MOST_SUSPECTS).enumerate();
        for (number, cause) in suspects.filter(|(_, cause)| cause.probability >= SUSPECTED) {
            let place = Spot::of_cause(cause.place, &cause.name);
            if let Some(station) = place.and_then(|spot| at(&mut stations, spot)) {
                station.suspects.push(Suspect {
                    rank: number + 1,
                    name: cause.name.clone(),
                });
            }
        }
        let leader = known.standing.first();
        Self {
            stations,
            control_apart: is_fed_indoors(known.parts),
            not_electrical: leader
                .filter(|leader| leader.place == Place::NotElectrical && leader.probability >= SUSPECTED)
                .map(|leader| leader.name.clone()),
        }
    }
}

/// The station of a spot; where there is no contactor, what belongs to it stands at the unit.
fn at(stations: &mut [Station], spot: Spot) -> Option<&mut Station> {
    let place = stations
        .iter()
        .position(|station| station.spot == spot)
        .or_else(|| stations.iter().position(|station| station.spot == Spot::Unit))?;
    stations.get_mut(place)
}

fn has(parts: &[String], part: &str) -> bool {
    parts.iter().any(|own| own == part)
}

/// Whether transformer and board of the 24 V side are indoors while the compressor stands outdoors: a cable then brings the
/// 24 V out to it.
fn is_fed_indoors(parts: &[String]) -> bool {
    has(parts, "outdoor-control-cable")
}

fn name(spot: Spot, parts: &[String]) -> &'static str {
    match spot {
        Spot::Source => "Utility transformer",
        Spot::Meter => "Meter and service",
        Spot::Panel => "Panel",
        Spot::Breaker => "Breaker of the circuit",
        Spot::Conductors => "Circuit conductors",
        Spot::Disconnect if has(parts, "cord-and-plug") => "Plug and receptacle",
        Spot::Disconnect => "Disconnect",
        Spot::Unit => "Unit, line terminals",
        Spot::Contactor => "Contactor",
        Spot::Load if has(parts, "compressor") => "Compressor and motors",
        Spot::Load => "Motors and heaters",
        Spot::Control if is_fed_indoors(parts) => {
            "24 V side: board and transformer indoors, cable to the outdoor unit"
        }
        Spot::Control if has(parts, "control-transformer") => "24 V side",
        Spot::Control => "Controls",
    }
}

/// A reading's name without the place it is drawn at.
fn short(name: &str) -> &str {
    match name.split_once(", ") {
        Some((head, rest)) if head.starts_with("Voltage at ") => rest,
        _ => name,
    }
}

/// Puts drops and ohms of a calculation to their spots.
fn worked_out(stations: &mut [Station], name: &str, report: &Report) {
    if report.calculation == "stretch-resistance" {
        stretches(stations, report);
        return;
    }
    let lines: Vec<String> = report
        .outputs
        .iter()
        .filter(|(output, _)| {
            ["drop", "sag", "unbalance", "joint"]
                .iter()
                .any(|word| output.contains(word))
        })
        .map(|(output, value)| format!("{} {value}", output.replace('-', " ")))
        .collect();
    if let Some(station) = spot(name, "")
        .and_then(|spot| at(stations, spot))
        .filter(|_| !lines.is_empty())
    {
        station.worked_out.push(format!("{name}: {}", lines.join(", ")));
    }
}

fn stretches(stations: &mut [Station], report: &Report) {
    let figure = |name: &str| match report.outputs.get(name) {
        Some(Value::Quantity(quantity)) => Some(*quantity),
        _ => None,
    };
    let mut say = |spot, text: String| {
        if let Some(station) = at(stations, spot) {
            station.worked_out.push(text);
        }
    };
    if let Some(ohms) = figure("supply-resistance") {
        say(Spot::Panel, format!("everything ahead of the breaker: {ohms}"));
    }
    if let Some(ohms) = figure("branch-resistance") {
        say(Spot::Conductors, format!("panel to disconnect: {ohms}"));
        if let Some(own) = figure("expected-branch-resistance") {
            let excess = Quantity::new(Kind::Resistance, (ohms.base - own.base).max(0.0));
            let excess = excess.map_or_else(String::new, |excess| format!(", {excess} more than that"));
            say(Spot::Conductors, format!("the conductor's own: {own}{excess}"));
        }
    }
    if let Some(share) = figure("branch-drop-percent") {
        say(
            Spot::Conductors,
            format!("drop from panel on: {share} of the voltage"),
        );
    }
    if let Some(ohms) = figure("whip-resistance") {
        say(Spot::Unit, format!("disconnect to unit: {ohms}"));
    }
    if let Some(heat) = figure("joint-heat").filter(|heat| heat.base > 0.0) {
        let place = match report.verdict {
            "excess-panel-to-disconnect" => Spot::Conductors,
            "excess-disconnect-to-unit" => Spot::Unit,
            _ => Spot::Panel,
        };
        say(place, format!("heat in what is too much: {heat}"));
    }
}
