//! The published tables against physics and against each other.
//!
//! A slip of the finger in a table is found here: geometry by the wire gauge formula of ASTM B258, resistance by
//! resistivity, ambient factors by the heat balance they were made from, motors by power, and everything by order.

use lineside::quantity::ConductorSize;
use lineside::standards::lookup;
use lineside::standards::table::{
    CONDUCTORS, CORRECTIONS, Column, GROUNDING, MOTORS, Metal, OVERCURRENT, SUPPLY,
};
use uom::si::electric_current::ampere;
use uom::si::electrical_resistance::ohm;
use uom::si::f64::{ElectricCurrent, Length, ThermodynamicTemperature};
use uom::si::length::foot;
use uom::si::thermodynamic_temperature::degree_celsius;

#[track_caller]
fn near(found: f64, expected: f64, share: f64, what: &str) {
    assert!(
        (found - expected).abs() <= share * expected.abs(),
        "{what}: {found}, physics gives {expected}"
    );
}

#[test]
fn areas_and_diameters_follow_the_wire_gauge() {
    for row in &CONDUCTORS.dc_resistance_75c.rows {
        let mils = row.size.circular_mils();
        near(row.area_cmil, mils, 0.004, &format!("area of {}", row.size));
        if let Some(inches) = row.diameter_solid_in {
            // Printed to a thousandth of an inch.
            assert!(
                (inches * 1000.0 - mils.sqrt()).abs() <= 0.6,
                "diameter of {}",
                row.size
            );
        }
        // A strand of 7, 19 or 37 wires is 1.134, 1.147 or 1.151 times as thick as the solid rod of its area.
        let lay = row.diameter_stranded_in * 1000.0 / mils.sqrt();
        assert!(
            (1.12..=1.17).contains(&lay),
            "stranded diameter of {}: {lay}",
            row.size
        );
    }
}

#[test]
fn resistances_follow_resistivity() {
    // Copper of 100 % IACS: 10.371 ohm circular mil per foot at 20 C, 0.00393 per kelvin; aluminum 17.002 and 0.00403
    // at 61 % IACS (ASTM B258, B1, B230). Stranding adds up to 3 %, hard-drawn wire up to another 3 %.
    for row in &CONDUCTORS.dc_resistance_75c.rows {
        let area = row.size.circular_mils();
        let copper = 10.371 * (1.0 + 0.00393 * 55.0) * 1000.0 / area;
        let aluminium = 17.002 * (1.0 + 0.00403 * 55.0) * 1000.0 / area;
        near(
            row.r_cu_stranded,
            copper * 1.02,
            0.006,
            &format!("copper {}", row.size),
        );
        near(
            row.r_al_stranded,
            aluminium * 1.02,
            0.012,
            &format!("aluminum {}", row.size),
        );
        if let Some(solid) = row.r_cu_solid {
            near(solid, copper, 0.012, &format!("solid copper {}", row.size));
        }
        if let Some(solid) = row.r_al_solid {
            near(solid, aluminium, 0.015, &format!("solid aluminum {}", row.size));
        }
    }
    for row in &CONDUCTORS.copper_resistance_20c.rows {
        near(
            row.r_cu_20c,
            10.371 * 1000.0 / row.size.circular_mils(),
            0.002,
            &format!("cold copper {}", row.size),
        );
    }
}

#[test]
fn temperature_coefficients_agree_with_those_at_twenty_degrees() {
    let table = &CONDUCTORS.dc_resistance_75c.more;
    near(
        table.temperature_coefficient_copper,
        0.00393 / (1.0 + 0.00393 * 55.0),
        0.01,
        "copper",
    );
    near(
        table.temperature_coefficient_aluminium,
        0.00403 / (1.0 + 0.00403 * 55.0),
        0.01,
        "aluminium",
    );
}

#[test]
fn alternating_and_direct_resistance_agree_for_small_sizes() {
    for row in &CONDUCTORS.ac_impedance_75c.rows {
        let direct = CONDUCTORS
            .dc_resistance_75c
            .rows
            .iter()
            .find(|direct| direct.size == row.size)
            .expect("same sizes");
        if let Some(alternating) = row.r_cu_pvc {
            // Two printed figures: half a unit of the second is up to 5 %; skin effect adds at most 5 % at 500 kcmil.
            near(
                alternating,
                direct.r_cu_stranded,
                0.06,
                &format!("copper {}", row.size),
            );
        }
        if let Some(alternating) = row.r_al_pvc {
            near(
                alternating,
                direct.r_al_stranded,
                0.06,
                &format!("aluminum {}", row.size),
            );
        }
        near(
            row.x_steel_conduit,
            row.x_pvc_or_al_conduit * 1.25,
            0.04,
            &format!("reactance {}", row.size),
        );
    }
}

#[test]
fn ampacities_rise_with_size_and_column_and_copper_leads() {
    let mut before = [0.0; 6];
    for row in &CONDUCTORS.ampacity_30c.rows {
        let now = [row.cu_60, row.cu_75, row.cu_90, row.al_60, row.al_75, row.al_90];
        for (at, (now, before)) in now.iter().zip(&mut before).enumerate() {
            if let Some(now) = now {
                assert!(now > before, "column {at} at {}", row.size);
                *before = *now;
            }
        }
        let [cu_60, cu_75, cu_90, al_60, al_75, al_90] = now.map(|cell| cell.unwrap_or(f64::NAN));
        assert!(cu_60 < cu_75 && cu_75 < cu_90, "{}", row.size);
        assert!(
            row.al_60.is_none() || (al_60 < al_75 && al_75 < al_90),
            "{}",
            row.size
        );
        assert!(
            row.al_60.is_none() || (al_60 < cu_60 && al_75 < cu_75 && al_90 < cu_90),
            "{}",
            row.size
        );
        // Heat balance: ampacity goes with the root of the temperature rise over ambient.
        let expected = cu_75 * (60.0_f64 / 45.0).sqrt();
        near(cu_90, expected, 0.11, &format!("{} at 90 C", row.size));
    }
}

#[test]
fn copper_ampacities_agree_with_a_second_reading() {
    // NEC Table 310.16, copper at 60, 75 and 90 C, written down from memory without looking at the file.
    let second = [
        ("14", 15, 20, 25),
        ("12", 20, 25, 30),
        ("10", 30, 35, 40),
        ("8", 40, 50, 55),
        ("6", 55, 65, 75),
        ("4", 70, 85, 95),
        ("3", 85, 100, 115),
        ("2", 95, 115, 130),
        ("1", 110, 130, 145),
        ("1/0", 125, 150, 170),
        ("2/0", 145, 175, 195),
        ("3/0", 165, 200, 225),
        ("4/0", 195, 230, 260),
        ("250", 215, 255, 290),
        ("300", 240, 285, 320),
        ("350", 260, 310, 350),
        ("400", 280, 335, 380),
        ("500", 320, 380, 430),
    ];
    for (size, at_60, at_75, at_90) in second {
        let size = ConductorSize::parse(size).expect("a size");
        for (column, amps) in [(Column::C60, at_60), (Column::C75, at_75), (Column::C90, at_90)] {
            let found = lookup::ampacity(size, Metal::Copper, column).map(|found| found.get::<ampere>());
            assert_eq!(found, Some(f64::from(amps)), "{size} at {column}");
        }
    }
    // Every ampacity of the table is a multiple of 5 A.
    for row in &CONDUCTORS.ampacity_30c.rows {
        for amps in [row.al_60, row.al_75, row.al_90].into_iter().flatten() {
            assert_eq!(amps % 5.0, 0.0, "{}", row.size);
        }
    }
}

#[test]
fn ambient_factors_follow_the_heat_balance() {
    // factor = sqrt((T_conductor - T_ambient) / (T_conductor - 30)), ambient at the top of its band.
    let mut top_before = -51.0;
    for row in &CORRECTIONS.ambient.rows {
        assert!(row.ambient_c_min > top_before, "bands in order");
        top_before = row.ambient_c_max;
        for (factor, conductor) in [(row.f_60, 60.0_f64), (row.f_75, 75.0), (row.f_90, 90.0)] {
            match factor {
                Some(factor) => {
                    let expected = ((conductor - row.ambient_c_max) / (conductor - 30.0)).sqrt();
                    assert!(
                        (factor - expected).abs() <= 0.0101,
                        "{} C at {conductor}: {factor}, {expected}",
                        row.ambient_c_max
                    );
                }
                None => assert!(
                    row.ambient_c_max >= conductor - 0.1,
                    "a factor is missing at {}",
                    row.ambient_c_max
                ),
            }
        }
    }
}

#[test]
fn a_temperature_typed_in_fahrenheit_finds_its_band() {
    let factor = |fahrenheit: f64| {
        let celsius = (fahrenheit - 32.0) / 1.8;
        lookup::ambient_factor(
            ThermodynamicTemperature::new::<degree_celsius>(celsius),
            Column::C90,
        )
    };
    assert_eq!(factor(86.0), Some(1.00));
    assert_eq!(factor(87.0), Some(0.96));
    assert_eq!(factor(104.0), Some(0.91));
    assert_eq!(factor(140.0), Some(0.71));
    assert_eq!(factor(190.0), None);
}

#[test]
fn bundling_factors_fall_and_leave_no_count_out() {
    let mut next = 1;
    let mut before = f64::INFINITY;
    for row in &CORRECTIONS.bundling.rows {
        assert_eq!(row.count_min, next);
        assert!(row.factor < before);
        before = row.factor;
        next = row.count_max + 1;
    }
    assert_eq!(lookup::bundling_factor(0), None);
    assert_eq!(lookup::bundling_factor(3), Some(1.0));
    assert_eq!(lookup::bundling_factor(4), Some(0.8));
}

#[test]
fn small_conductor_limits_are_below_the_ampacity_that_made_them_needed() {
    for row in &CORRECTIONS.small_conductor.rows {
        if let Some(carries) = lookup::ampacity(row.size, row.metal, Column::C75) {
            assert!(row.max_a < carries.get::<ampere>(), "{} {}", row.size, row.metal);
        }
    }
}

#[test]
fn motor_currents_rise_with_power_and_fall_with_voltage() {
    for (table, factor) in [
        (&MOTORS.full_load_single_phase, 1.0),
        (&MOTORS.full_load_three_phase, 3f64.sqrt()),
    ] {
        let mut before = 0.0;
        for row in &table.rows {
            let amps = row.v230.expect("every row has 230 V");
            assert!(amps > before, "{} hp", row.hp);
            before = amps;
            // The 208 V column is 10 % above 230 V, the 200 V one 15 % (note of the tables).
            near(
                row.v208.expect("every row has 208 V"),
                amps * 1.1,
                0.02,
                &format!("{} hp at 208 V", row.hp),
            );
            near(
                row.v200.expect("every row has 200 V"),
                amps * 1.15,
                0.02,
                &format!("{} hp at 200 V", row.hp),
            );
            if let Some(other) = row.v115 {
                near(other, amps * 2.0, 0.01, &format!("{} hp at 115 V", row.hp));
            }
            if let Some(other) = row.v460 {
                near(other, amps / 2.0, 0.01, &format!("{} hp at 460 V", row.hp));
            }
            // Shaft power over volt-amperes: no motor gives more than it takes.
            let yield_share = row.hp * 745.7 / (factor * 230.0 * amps);
            assert!((0.2..0.9).contains(&yield_share), "{} hp: {yield_share}", row.hp);
        }
    }
}

#[test]
fn locked_rotor_currents_are_about_six_times_full_load() {
    for row in &MOTORS.locked_rotor_single_phase.rows {
        let running = MOTORS
            .full_load_single_phase
            .rows
            .iter()
            .find(|other| (other.hp - row.hp).abs() < 1e-6)
            .expect("same powers");
        near(
            row.v230.unwrap_or(0.0),
            running.v230.unwrap_or(0.0) * 6.0,
            0.01,
            &format!("{} hp", row.hp),
        );
    }
    for row in &MOTORS.locked_rotor_three_phase.rows {
        let running = MOTORS
            .full_load_three_phase
            .rows
            .iter()
            .find(|other| (other.hp - row.hp).abs() < 1e-6)
            .expect("same powers");
        let ratio = row.v230.unwrap_or(0.0) / running.v230.unwrap_or(1.0);
        assert!((5.3..=9.6).contains(&ratio), "{} hp: {ratio}", row.hp);
    }
}

#[test]
fn code_letters_rise_without_a_gap() {
    let mut before = 0.0;
    for row in &MOTORS.locked_rotor_code.rows {
        assert!(
            row.kva_per_hp_max > before && row.kva_per_hp_max < before * 1.25 + 3.2,
            "{}",
            row.letter
        );
        before = row.kva_per_hp_max;
    }
}

#[test]
fn grounding_conductors_grow_and_aluminium_is_two_steps_thicker() {
    let mut before: Option<&lineside::standards::table::GroundingRow> = None;
    for row in &GROUNDING.equipment_grounding.rows {
        if let Some(before) = before {
            assert!(
                row.device_max_a > before.device_max_a
                    && row.copper > before.copper
                    && row.aluminium > before.aluminium
            );
        }
        // Aluminum has 61 % of copper's conductance, so its conductor has about 1.6 times the area.
        let ratio = row.aluminium.circular_mils() / row.copper.circular_mils();
        assert!((1.4..=1.7).contains(&ratio), "{} A: {ratio}", row.device_max_a);
        before = Some(row);
    }
}

#[test]
fn standard_ratings_and_trip_times_are_in_order() {
    let table = &OVERCURRENT.standard_ratings.more;
    assert!(table.ratings_a.is_sorted());
    let calibration = &OVERCURRENT.breaker_calibration.more;
    for rows in [
        &calibration.must_trip_135_percent,
        &calibration.must_trip_200_percent,
    ] {
        assert!(rows.is_sorted_by(|a, b| a.rating_max_a < b.rating_max_a && a.within_min < b.within_min));
    }
    // A breaker must trip sooner at 200 % than at 135 %.
    for amps in [15.0, 50.0, 100.0, 400.0] {
        let rating = ElectricCurrent::new::<ampere>(amps);
        let (twice, third) = (
            lookup::trip_time_at_200_percent(rating),
            lookup::trip_time_at_135_percent(rating),
        );
        assert!(twice < third && twice.is_some(), "{amps}");
    }
}

#[test]
fn rounding_to_a_standard_rating_keeps_an_exact_one() {
    let amps = ElectricCurrent::new::<ampere>;
    let up = |value| lookup::rating_at_or_above(amps(value)).map(|found| found.get::<ampere>());
    let down = |value| lookup::rating_at_or_below(amps(value)).map(|found| found.get::<ampere>());
    assert_eq!((up(60.0), down(60.0)), (Some(60.0), Some(60.0)));
    assert_eq!((up(60.1), down(69.9)), (Some(70.0), Some(60.0)));
    // 1.25 x 16 must not become a hair more than 20 by binary arithmetic.
    assert_eq!(up(1.25 * 16.0), Some(20.0));
    assert_eq!(up(0.1 + 0.2 + 19.7), Some(20.0));
    assert_eq!((up(6001.0), down(14.0)), (None, None));
}

#[test]
fn supply_ranges_are_nested() {
    for row in &SUPPLY.supply.rows {
        assert!(row.b_utilization_min < row.a_utilization_min && row.a_utilization_min < row.a_service_min);
        assert!(row.b_service_min < row.a_service_min && row.a_service_max < row.b_service_max);
        near(row.a_service_min, row.nominal * 0.95, 0.005, "range A low");
        near(row.a_service_max, row.nominal * 1.05, 0.005, "range A high");
        near(
            row.a_utilization_min,
            row.nominal * 0.90,
            0.005,
            "range A utilization",
        );
    }
}

#[test]
fn derating_falls_and_is_whole_up_to_one_percent() {
    let rows = &MOTORS.unbalance_derating.rows;
    assert!(rows.is_sorted_by(|a, b| a.unbalance_percent < b.unbalance_percent && a.factor >= b.factor));
    let factor =
        |percent: f64| lookup::unbalance_factor(uom::si::f64::Ratio::new::<uom::si::ratio::percent>(percent));
    assert_eq!(factor(0.5), Some(1.0));
    assert_eq!(factor(1.0), Some(1.0));
    assert!((factor(2.25).unwrap_or(0.0) - 0.94).abs() < 1e-9);
    assert_eq!(factor(5.1), None);
}

#[test]
fn resistance_is_proportional_to_length_and_rises_with_heat() {
    let at = |size: ConductorSize, metal, celsius: f64, feet: f64| {
        lookup::resistance(
            size,
            metal,
            false,
            ThermodynamicTemperature::new::<degree_celsius>(celsius),
            Length::new::<foot>(feet),
        )
        .map(|found| found.get::<ohm>())
    };
    for row in &CONDUCTORS.dc_resistance_75c.rows {
        for metal in [Metal::Copper, Metal::Aluminium] {
            let one = at(row.size, metal, 75.0, 100.0).expect("in the table");
            near(
                at(row.size, metal, 75.0, 300.0).expect("in the table"),
                one * 3.0,
                1e-12,
                "length",
            );
            assert!(at(row.size, metal, 90.0, 100.0).expect("in the table") > one);
        }
    }
    // IEC 60228 allows 10 mm2 of stranded copper at most 1.83 ohm per km at 20 C (from memory): a second source for
    // the metric path. Metric sizes are named by what they may have at most, so their metal is up to 6 % above it.
    let metric = ConductorSize::parse("10 mm2").expect("a metric size");
    let found = at(metric, Metal::Copper, 20.0, 1000.0 / 0.3048).expect("as 8 AWG");
    assert!((1.83 * 0.94..=1.83).contains(&found), "{found}");
}
