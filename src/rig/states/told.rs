//! What whoever lives there can tell: what opens and how soon, when in the run, in what weather, what brings it on and how it comes back.

use super::super::bench::{Because, Bench, Stage};
use super::super::case::Site;
use super::super::clock::What;
use super::super::course::{Course, Run, Trouble};
use super::super::faults::When;
use super::super::installation::{Call, Operating};
use super::super::plates;
use super::bounds::{AT_ONCE, BRIGHTER, HARD_START, MINUTES, SECONDS, SEEN, UNSEEN, WEAK_CAPACITOR};
use super::fitting::{Fitting, read};
use super::supply;

/// How the lamps of the building behave.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lamps {
    Steady,
    /// Hardly to be seen.
    Doubtful,
    BriefDip,
    LongDim,
    SomeBrighten,
    OneSide,
}

/// Everything the course decides.
pub(super) fn all(site: &Site, course: &Course) -> Vec<Fitting> {
    if site.fault.changes.is_empty() {
        return Vec::new();
    }
    let found = [
        opened(site, course),
        opens_after(site, course),
        moment(site, course),
        weather(site, course),
        comes_back(site, course),
        hot_part(site, course),
        brought_on(site),
        lights(site),
        sound(site),
        start_amps(site),
        stops_hot(site, course, What::FanStops),
        stops_hot(site, course, What::BlowerStops),
    ];
    found.into_iter().flatten().collect()
}

/// A generator or inverter trips its own breaker, or the engine stalls, about as soon as the protector of a motor that it cannot
/// start: which is first, their curves would say (from memory).
fn own_source(site: &Site) -> bool {
    site.bench.installation.values.source >= plates::OWN_SOURCE
}

/// Whether a leak is large enough for a ground-fault device.
pub(super) fn leaks(bench: &Bench) -> bool {
    read(bench, "gfci-leakage").is_some_and(|amps| amps > 0.004)
}

fn opened(site: &Site, course: &Course) -> Option<Fitting> {
    let states: &[&str] = match course.hard.trouble() {
        Trouble::TripsAtRest | Trouble::Trips(_) if leaks(&site.bench) => {
            &["panel-breaker", "unit-fuse", "ground-fault", "arc-fault", "main"]
        }
        Trouble::TripsAtRest | Trouble::Trips(_) => &["panel-breaker", "unit-fuse", "main"],
        Trouble::ControlFuse(_) => &["control-fuse"],
        Trouble::Protector(..) if own_source(site) => &["inside-protector", "main", "none"],
        Trouble::Protector(..) | Trouble::Fan(_) => &["inside-protector", "none"],
        Trouble::Quiet | Trouble::Chatters if site.bench.installation.values.control_fuse > 0.0 => {
            &["control-fuse"]
        }
        Trouble::Quiet | Trouble::Chatters if site.bench.installation.values.fuse_open > 0.0 => {
            &["unit-fuse"]
        }
        Trouble::Quiet | Trouble::Chatters if leaks(&site.bench) => &["ground-fault", "none", "arc-fault"],
        Trouble::Quiet | Trouble::Chatters if supply::opens_main(&site.bench) != Some(false) => {
            &["main", "none"]
        }
        Trouble::Quiet | Trouble::Chatters => &["none"],
    };
    Some(("opened", states))
}

fn opens_after(site: &Site, course: &Course) -> Option<Fitting> {
    let by_time = |at: f64| -> &'static [&'static str] {
        match at {
            _ if site.fault.when == When::Shaken => &["no-pattern"],
            at if at <= AT_ONCE => &["at-once"],
            at if at <= SECONDS => &["seconds", "at-once"],
            at if at <= MINUTES => &["minutes"],
            _ => &["long-run"],
        }
    };
    let states = match course.hard.trouble() {
        Trouble::TripsAtRest => &["at-once"],
        Trouble::Trips(at) | Trouble::ControlFuse(at) => by_time(at),
        Trouble::Quiet | Trouble::Chatters
            if !leaks(&site.bench) && site.bench.installation.values.fuse_open == 0.0 =>
        {
            match supply::opens_main(&site.bench) {
                Some(false) => &["does-not"][..],
                _ => &["long-run", "minutes", "does-not"],
            }
        }
        _ => return None,
    };
    Some(("opens-after", states))
}

/// At what moment of the run the trouble comes.
fn moment(site: &Site, course: &Course) -> Option<Fitting> {
    let heat = site.bench.mode == Call::Heat;
    let states: &[&str] = match (site.fault.when, course.hard.trouble()) {
        (When::Shaken, _) => &["random"],
        (When::Warm, _) => &["after-minutes", "long-run"],
        (When::Loaded, _) => &["other-load", "random"],
        (_, Trouble::TripsAtRest) => &["power-on", "always"],
        (_, Trouble::Trips(at) | Trouble::ControlFuse(at)) if at <= SECONDS && heat => {
            &["heat-stages", "always", "load-start"]
        }
        (_, Trouble::Trips(at) | Trouble::ControlFuse(at) | Trouble::Protector(at, _)) if at <= SECONDS => {
            &["load-start", "always", "power-on"]
        }
        (_, Trouble::Trips(at) | Trouble::Protector(at, _)) if at <= MINUTES => {
            &["after-minutes", "long-run"]
        }
        (_, Trouble::Fan(at)) if at <= MINUTES && !stands(site) => &["after-minutes", "long-run"],
        (_, Trouble::Fan(_)) if !stands(site) => &["long-run", "after-minutes"],
        (_, Trouble::Trips(_) | Trouble::Protector(..)) => &["long-run", "after-minutes"],
        (_, Trouble::Chatters) => &["load-start", "always"],
        (When::Always, _) if stands(site) => &["always", "load-start"],
        _ => return None,
    };
    Some(("moment", states))
}

/// Something that is called stands, always.
pub(super) fn stands(site: &Site) -> bool {
    let bench = &site.bench;
    let plate = &bench.installation.plate;
    let Ok(found) = bench.at(Stage::Running) else {
        return false;
    };
    let compressor = bench.mode == Call::Cooling && plate.rated_load > 0.0 && !found.turns;
    let fan = bench.mode == Call::Cooling
        && plate.fan > 0.0
        && (found.amps("fan") < 0.1 || bench.installation.values.fan_locked > 0.0);
    let idle = read(bench, "blower-current").is_some_and(|amps| amps < 0.05 * plate.blower);
    let blower = plate.blower > 0.0 && (idle || bench.installation.values.blower_locked > 0.0);
    let heat = bench.mode == Call::Heat
        && plate.heater > 0.0
        && read(bench, "heater-amps").is_some_and(|amps| amps < 1.0);
    compressor || fan || blower || heat
}

/// Whether a run has the trouble at all.
fn has(run: &Run) -> bool {
    run.trouble() != Trouble::Quiet
}

fn weather(site: &Site, course: &Course) -> Option<Fitting> {
    let heat = site.bench.mode == Call::Heat;
    let states: &[&str] = match (has(&course.hard), has(&course.mild)) {
        _ if site.fault.when == When::Wet => &["wet"],
        (true, false) if site.fault.when == When::Always || site.fault.when == When::Warm => {
            if heat {
                &["cold", "any"]
            } else {
                &["hot"]
            }
        }
        (true, true) => &["any", "hot", "cold"],
        _ => return None,
    };
    Some(("weather", states))
}

fn comes_back(site: &Site, course: &Course) -> Option<Fitting> {
    let states: &[&str] = match (site.fault.when, course.hard.trouble()) {
        (_, Trouble::TripsAtRest | Trouble::Trips(_) | Trouble::ControlFuse(_)) => match site.fault.when {
            When::Wet => &["after-reset", "stays", "dried"],
            When::Warm => &["after-reset", "after-cooling", "stays"],
            _ => &["after-reset", "stays"],
        },
        (When::Shaken, _) => &["varying", "touched", "at-once"],
        (When::Warm, _) => &["after-cooling", "same-time"],
        (When::Wet, _) => &["dried", "varying"],
        (When::Loaded, _) => &["at-once", "varying"],
        // It tries again once it has cooled, and still does not turn.
        (_, Trouble::Protector(_, true)) if stands(site) && !own_source(site) => {
            &["stays", "after-cooling", "same-time"]
        }
        (_, Trouble::Fan(_)) if stands(site) => &["stays", "after-cooling", "same-time"],
        (_, Trouble::Protector(..)) if own_source(site) => {
            &["after-cooling", "after-reset", "stays", "same-time"]
        }
        (_, Trouble::Protector(_, true) | Trouble::Fan(_)) => &["after-cooling", "same-time"],
        (When::Always, Trouble::Quiet) if stands(site) => &["stays", "after-reset"],
        // A board that a dip resets, or a drive that lets go, starts over by itself.
        (When::Always, Trouble::Quiet) if supply::dips(&site.bench) => {
            &["at-once", "same-time", "varying", "after-reset"]
        }
        _ => return None,
    };
    Some(("comes-back", states))
}

fn hot_part(site: &Site, course: &Course) -> Option<Fitting> {
    let states: &[&str] = match (site.fault.when, course.hard.trouble()) {
        (When::Warm, _) => &["fails-hot"],
        (_, Trouble::Protector(at, _) | Trouble::Trips(at) | Trouble::Fan(at)) if at > SECONDS => {
            &["no", "fails-hot"]
        }
        (When::Always, _) => &["no"],
        _ => return None,
    };
    Some(("hot-part", states))
}

/// A fan or blower that labors stops on its own protector once it is hot; one that cannot turn stands.
fn stops_hot(site: &Site, course: &Course, what: What) -> Option<Fitting> {
    let values = &site.bench.installation.values;
    let stops = course.hard.first(|happened| happened == what).is_some();
    let (locked, fitting): (f64, Fitting) = match what {
        What::FanStops => (
            values.fan_locked,
            ("outdoor-fan-turns", &["stops-hot", "hits-ice"]),
        ),
        _ => (values.blower_locked, ("blower-turns", &["stops-hot"])),
    };
    (stops && locked == 0.0).then_some(fitting)
}

fn brought_on(site: &Site) -> Option<Fitting> {
    let states: &[&str] = match site.fault.when {
        When::Shaken => &["touch", "pressing-cures", "nothing"],
        When::Loaded => &["other-load", "clock"],
        // Its own load dims them; on a generator alone, where the cause says so.
        When::Always if matches!(lamps(site), Some(Lamps::BriefDip | Lamps::LongDim)) => {
            &["own-start", "nothing", "source"]
        }
        When::Always => &["nothing", "own-start", "source"],
        When::Warm | When::Wet => return None,
    };
    Some(("brought-on", states))
}

/// What the lamps on both legs do as the unit starts and runs, or as another load comes on.
pub(super) fn lamps(site: &Site) -> Option<Lamps> {
    let bench = &site.bench;
    if bench.mode != Call::Cooling {
        return None;
    }
    let rest = bench.at(Stage::Rest).ok()?;
    let moments = if site.fault.when == When::Loaded {
        [Stage::TestLoad, Stage::TestLoad]
    } else {
        [Stage::Running, Stage::Starting]
    };
    // What comes on with another load is there at rest as well; the quiet house is the calm one.
    let quiet = site.calm.as_ref().and_then(|calm| calm.at(Stage::Rest).ok());
    let quiet = if site.fault.when == When::Loaded {
        quiet.unwrap_or_else(|| rest.clone())
    } else {
        rest.clone()
    };
    let legs = 1..=bench.installation.lines().min(2);
    let against = |stage: Stage, quiet: &Operating| -> Option<Vec<f64>> {
        let found = bench.at(stage).ok()?;
        let volts = |leg: usize| {
            let [bus, bar] = [format!("bus_{leg}"), "bar".to_owned()];
            found.volts(&bus, &bar) / quiet.volts(&bus, &bar).max(1.0) - 1.0
        };
        Some(legs.clone().map(volts).collect())
    };
    let least = |shares: &[f64]| shares.iter().copied().fold(0.0, f64::min);
    let most = |shares: &[f64]| shares.iter().copied().fold(0.0, f64::max);
    let [running, starting] = moments.map(|stage| against(stage, &quiet).unwrap_or_default());
    // A neutral that is open shows with the loads of the building, not with a unit of 240 V: at rest, and as one leg is loaded.
    let legs_alone = bench.at(Stage::Legs).ok()?;
    let tested = against(Stage::TestLoad, &legs_alone).unwrap_or_default();
    let nominal = |leg: usize| rest.volts(&format!("bus_{leg}"), "bar") / 120.0 - 1.0;
    let (low, high) = legs
        .clone()
        .map(nominal)
        .fold((0.0, 0.0), |(low, high): (f64, f64), share| {
            (low.min(share), high.max(share))
        });
    let split = bench.installation.lines() == 2;
    if split && (most(&tested) > UNSEEN || high > BRIGHTER && low < -UNSEEN) {
        return Some(Lamps::SomeBrighten);
    }
    let (run, start) = (least(&running), least(&starting));
    let uneven = |shares: &[f64]| {
        let best = shares.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        shares.len() > 1 && least(shares) < -SEEN && best > -UNSEEN / 2.0
    };
    Some(if most(&running).max(most(&starting)) > BRIGHTER {
        Lamps::SomeBrighten
    } else if uneven(&running) {
        Lamps::OneSide
    } else if run < -SEEN {
        Lamps::LongDim
    } else if start < -SEEN {
        Lamps::BriefDip
    } else if start.min(run) > -UNSEEN {
        Lamps::Steady
    } else {
        Lamps::Doubtful
    })
}

fn lights(site: &Site) -> Option<Fitting> {
    if site.bench.installation.values.shared > 0.0 {
        return None;
    }
    let loaded = site.fault.when == When::Loaded;
    let states: &[&str] = match lamps(site)? {
        Lamps::Steady => &["steady"],
        Lamps::Doubtful => &["steady", "brief-dip"],
        Lamps::SomeBrighten => &["some-brighten", "one-side"],
        Lamps::OneSide => &["one-side", "some-brighten", "brief-dip"],
        _ if loaded => &["other-start", "brief-dip"],
        Lamps::LongDim => &["long-dim", "brief-dip"],
        Lamps::BriefDip => &["brief-dip", "long-dim"],
    };
    Some(("lights", states))
}

/// A compressor that has volts and cannot turn hums until its protector lets go; one without volts is silent.
fn sound(site: &Site) -> Option<Fitting> {
    let bench = &site.bench;
    if bench.installation.motor.is_none() || bench.mode != Call::Cooling || site.fault.when != When::Always {
        return None;
    }
    let found = bench.at(Stage::Running).ok()?;
    let states: &[&str] = if found.turns || found.chatters {
        return None;
    } else if found.now.protector {
        &["hums-then-clicks", "hums-on"]
    } else {
        &["silent", "clicks-only"]
    };
    Some(("sound", states))
}

fn start_amps(site: &Site) -> Option<Fitting> {
    let bench = &site.bench;
    bench.installation.motor?;
    if bench.mode != Call::Cooling || site.fault.when != When::Always {
        return None;
    }
    let values = &bench.installation.values;
    let states: &[&str] = match bench.at(Stage::Running) {
        Err(Because::Trips) => {
            let start = bench.at(Stage::Starting).ok()?;
            let amps = start.device_amps(&bench.installation);
            if amps > 2.0 * bench.installation.plate.locked_rotor {
                &["far-above"]
            } else {
                return None;
            }
        }
        Err(_) => return None,
        Ok(found) if found.turns && (values.stiff > HARD_START || values.capacity < WEAK_CAPACITOR) => {
            &["slow", "settles"]
        }
        Ok(found) if found.turns => &["settles", "slow"],
        Ok(found) if found.now.protector => &["stays-high"],
        Ok(found) if found.now.pulled_in && found.amps("fan") > 0.1 => return None,
        Ok(_) => &["none"],
    };
    Some(("start-amps", states))
}
