//! Leakage to ground against the device that watches it.

use super::prelude::*;

calculation! {
    "ground-fault-leakage": "Leakage current against a ground-fault device, and its trip time";
    inputs {
        LEAKAGE_CURRENTS "sum of leakages" = List<Current>("leakage-currents", "Leakage of each load and of the wiring, or the total measured.")
            .in_unit("mA").between(0.0, 100.0);
        DEVICE_CLASS = OneOf<DeviceClass>("device-class", "class-a: personnel, 4 to 6 mA; special-purpose: 15 to 20 mA; equipment: 30 mA.");
    }
    outputs {
        TOTAL_LEAKAGE "I" = Current("total-leakage", "All together, as if in step.");
        MUST_HOLD = Current("must-hold", "Below this the device must not trip.");
        TRIPS_FROM = Current("must-trip", "From this on it must.");
        LONGEST_TIME = Time("longest-time", "Longest it may take.");
    }
    verdicts {
        HOLDS = plain("holds", "Below what the device may trip on.");
        MAY_TRIP = plain("may-trip", "Between what it must hold and what it must trip on.");
        MUST_TRIP = plain("must-trip", "At or above what it must trip on.");
    }
}

choice! { DeviceClass { ClassA = "class-a", SpecialPurpose = "special-purpose", Equipment = "equipment" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    let leaks = sheet.list(LEAKAGE_CURRENTS);
    let devices = &*table::OVERCURRENT;
    let class = sheet.need_one(DEVICE_CLASS)?;
    let (name, hold, trip) = match class {
        DeviceClass::SpecialPurpose => {
            let class = &devices.gfci_special_purpose;
            (
                sheet.table(class),
                class.more.must_not_trip_below_ma,
                class.more.must_trip_at_ma,
            )
        }
        DeviceClass::Equipment => {
            let class = &devices.equipment_protection;
            sheet.assume("a 30 mA device may trip from half of its setting on (from memory)");
            (
                sheet.table(class),
                class.more.typical_ma / 2.0,
                class.more.typical_ma,
            )
        }
        DeviceClass::ClassA => {
            let class = &devices.gfci_class_a;
            (
                sheet.table(class),
                class.more.must_not_trip_below_ma,
                class.more.must_trip_at_ma,
            )
        }
    };
    let [hold, trip] = [hold, trip].map(|milliamperes| Known::fixed(amps(milliamperes / 1000.0)));
    let all = sheet.give(TOTAL_LEAKAGE, leaks.sum());
    sheet.output(MUST_HOLD, hold);
    sheet.output(TRIPS_FROM, trip);
    sheet.at_most("leakage", all, hold, name);
    let allowed = &devices.cooling_equipment_leakage;
    sheet.note(format!(
        "hard-wired cooling equipment may leak up to {} by its product standard ({}), more than a personnel device holds: it can trip with nothing wrong",
        text(amps(allowed.more.max_leakage_ma / 1000.0)),
        allowed.edition
    ));
    sheet.source(allowed.citation());
    let found = format!("{all} of leakage");
    if all.get() >= trip.get() * (1.0 - 1e-9) {
        if class != DeviceClass::Equipment {
            // UL 943: T = (20 / I)^1.43, I in mA, from 6 mA to 264 mA; above that it stays at 25 ms.
            let milliamperes = (all.number() * 1000.0).min(264.0);
            let time = Time::of((20.0 / milliamperes).powf(1.43).max(0.02));
            let put_in = format!("(20 / {})^1.43", keyed_number(milliamperes));
            sheet.line("T = (20 / I)^1.43, I in mA", put_in, keyed(time));
            sheet.output(LONGEST_TIME, time);
        }
        return sheet.verdict(MUST_TRIP, format!("{found}: the device must trip from {trip} on"));
    }
    if all.get() >= hold.get() * (1.0 - 1e-9) {
        return sheet.verdict(MAY_TRIP, format!("{found}, between {hold} and {trip}"));
    }
    sheet.verdict(HOLDS, format!("{found}, below {hold}"))
}
