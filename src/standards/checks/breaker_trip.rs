//! Whether a breaker should trip on a current, and within what time.

use super::prelude::*;

calculation! {
    "breaker-trip": "Whether a breaker should have tripped: current and time against its calibration";
    inputs {
        DEVICE "rating" = Current("protective-device-rating", "Number on the breaker's handle.").between(1.0, 2000.0);
        LOAD_CURRENT "I" = Current("load-current", "Steady current through it.").read();
        TIME_TO_TRIP = Time("time-to-trip", "How long it carried that current before it tripped.")
            .between(0.0, 1e6).optional();
        BREAKER_AMBIENT = Temperature("breaker-ambient", "Air around the breaker.")
            .between(-40.0, 85.0).or("25 C");
        LOCKED_ROTOR = Current("locked-rotor-current", "Locked-rotor current of what starts on it.")
            .optional();
        TRIPPED = OneOf<Tripped>("tripped", "When it tripped.").or("while-running");
        MAGNETIC_BAND = OneOf<MagneticBand>("magnetic-band", "Ordinary: 5 to 10 times rating; high-inrush: 10 to 20 times.").or("ordinary");
        METER_ERROR;
    }
    outputs {
        MULTIPLE "multiple" = Ratio("multiple", "Current over rating.").plain();
        LONGEST_TIME = Time("longest-time", "Longest it may take by its calibration.");
        FIRST_PEAK = Ratio("first-peak", "First half-cycle of the start over rating, at its worst.");
        MAGNETIC_LOW = Ratio("magnetic-low", "Lowest multiple at which it may open at once.");
    }
    verdicts {
        LEGITIMATE = plain("legitimate", "It had every reason to trip: the current is above what it must hold.");
        INRUSH = plain("inrush", "It tripped at start, and the start reaches its magnetic band.");
        WEAK_BREAKER = plain("weak-breaker", "It tripped on a current it must hold.");
        SLOW_BREAKER = plain("slow-breaker", "It did not trip within the time its calibration allows.");
        HOLDS = plain("holds", "It holds, as it must.");
    }
}

choice! { Tripped { AtStart = "at-start", WhileRunning = "while-running", Not = "did-not-trip" } }
choice! { MagneticBand { Ordinary = "ordinary", HighInrush = "high-inrush" } }

/// Below its magnetic band a breaker heats for seconds before it opens; sooner than this it was not heat, in seconds.
///
/// *Source* common practice, no source: curves of small breakers begin at some 10 s for twice the rating.
const SOONEST: f64 = 3.0;

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (rating, current) = (sheet.need(DEVICE)?, sheet.need(LOAD_CURRENT)?);
    let ambient = sheet.need(BREAKER_AMBIENT)?;
    let locked = sheet.maybe(LOCKED_ROTOR);
    if let Some(locked) = locked.filter(|locked| current.exceeds(*locked)) {
        return Err(contradiction(format!(
            "`load-current` {current} is above `locked-rotor-current` {locked}; read both again"
        )));
    }
    let calibration = &table::OVERCURRENT.breaker_calibration;
    let name = sheet.table(calibration);
    let hold = calibration.more.hold_percent / 100.0;
    let multiple = sheet.give(MULTIPLE, current / rating).number();
    sheet.at_most("current it must hold", current, rating * hold, name.clone());
    let hot = ambient.number() > calibration.more.hold_ambient_c;
    if hot {
        sheet.note(format!("at {ambient} around it a good breaker may trip below its rating: the maker's rerating curve tells"));
    }
    let (point, longest) = if multiple >= 2.0 - 1e-9 {
        ("200 %", lookup::trip_time_at_200_percent(rating.get()))
    } else if multiple >= 1.35 - 1e-9 {
        ("135 %", lookup::trip_time_at_135_percent(rating.get()))
    } else {
        ("", None)
    };
    let longest = longest.map(Known::fixed);
    if let Some(longest) = longest {
        let put_in = format!("{point}, {} breaker, {name}", keyed(rating));
        sheet.line("longest time at this point or above", put_in, keyed(longest));
        sheet.output(LONGEST_TIME, longest);
    }
    let magnetic = &table::OVERCURRENT.instantaneous;
    let band = &magnetic.more;
    let (low, high) = match sheet.need_one(MAGNETIC_BAND)? {
        MagneticBand::HighInrush => (band.high_inrush_low_multiple, band.high_inrush_high_multiple),
        MagneticBand::Ordinary => (band.typical_low_multiple, band.typical_high_multiple),
    };
    sheet.output(MAGNETIC_LOW, Quantity::ratio(low));
    let peak = locked.map(|locked| {
        let peak = share(locked.get(), rating.get()) * band.asymmetry_high;
        sheet.table(magnetic);
        sheet.output(FIRST_PEAK, Quantity::ratio(peak));
        sheet.line(
            &format!("first peak = LRA x asymmetry / rating, against a band from {low} to {high} times"),
            format!("{} x {} / {}", keyed(locked), band.asymmetry_high, keyed(rating)),
            keyed_number(peak),
        );
        peak
    });
    let shown = format!("{current} is {multiple:.2} times the {rating} rating");
    let tripped = sheet.need_one(TRIPPED)?;
    // At a start the time tells nothing.
    let time = if tripped == Tripped::AtStart {
        None
    } else {
        sheet.maybe(TIME_TO_TRIP)
    };
    let late = time.zip(longest).filter(|(time, longest)| time.exceeds(*longest));
    match (tripped, peak) {
        (Tripped::Not, _) => {
            if let Some((time, longest)) = late {
                let found = format!("{shown}; it held for {time} and should open within {longest}: replace it");
                return sheet.verdict(SLOW_BREAKER, found);
            }
            if exceeds(multiple, 1.35) && time.is_none() {
                return sheet.cannot_tell(format!("{shown}: how long it has held tells whether it is slow"));
            }
            sheet.verdict(HOLDS, format!("{shown}, and it holds"))
        }
        (Tripped::AtStart, None) => {
            sheet.cannot_tell("the locked-rotor current tells whether the start reaches the magnetic trip")
        }
        (Tripped::AtStart, Some(peak)) if peak >= low => {
            sheet.verdict(INRUSH, format!("the first peak of the start is {peak:.1} times its rating, and its magnetic trip may act from {low} times"))
        }
        (Tripped::AtStart, Some(_)) if exceeds(multiple, hold) => {
            sheet.verdict(LEGITIMATE, format!("{shown}, above what it must hold"))
        }
        (Tripped::AtStart, Some(peak)) => {
            sheet.verdict(WEAK_BREAKER, format!("{shown}, and the start peaks at {peak:.1} times, below the {low} times its magnetic trip may act from"))
        }
        (Tripped::WhileRunning, _) => {
            if let Some(time) = time
                && multiple < low
                && time.number() < SOONEST
            {
                return sheet.cannot_tell(format!(
                    "{shown}, and it opened after {time}: heat takes longer to open it there ({COMMON}), and its magnetic trip acts from {low} times. \
                     Either the current was far higher for a moment, so catch the peak with a clamp's inrush function, or the breaker is weak"
                ));
            }
            if exceeds(multiple, hold) {
                if let Some((time, longest)) = late {
                    return sheet.verdict(SLOW_BREAKER, format!("{shown}; it took {time} and should open within {longest}"));
                }
                let in_time = time.zip(longest).map_or_else(String::new, |(time, longest)| {
                    format!(", after {time} where it has up to {longest}")
                });
                let certain = if longest.is_some() { "it must trip" } else { "it may trip or hold" };
                sheet.verdict(LEGITIMATE, format!("{shown}{in_time}: above 100 % and {certain}, so a trip is no fault of the breaker"))
            } else if hot {
                sheet.cannot_tell(format!("{shown}, which it must hold up to 40 C, but it is {ambient} around it: cool it or move it, then see"))
            } else if multiple > 0.95 {
                sheet.cannot_tell(format!("{shown}: too near its rating to say; clamp it through the whole time until it trips"))
            } else {
                sheet.verdict(WEAK_BREAKER, format!("{shown}, which it must hold for ever: a loose joint heating it, or the breaker itself"))
            }
        }
    }
}
