//! Breakers and fuses against the published calibration points that the tables of this crate hold (UL 489, UL 248;
//! which of them are from memory stands in `src/standards/tables/overcurrent.toml`).

use lineside::rig::breaker::Device;
use lineside::standards::lookup::{trip_time_at_135_percent, trip_time_at_200_percent};
use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;
use uom::si::time::second;

const RATINGS: [f64; 16] = [
    15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 90.0, 100.0, 125.0, 150.0, 200.0, 225.0,
];

#[test]
fn breakers_meet_their_calibration_points() {
    for rating in RATINGS {
        let device = Device::Breaker(rating);
        let amps = ElectricCurrent::new::<ampere>(rating);
        assert_eq!(
            device.seconds(0.0, rating, 40.0),
            None,
            "{rating} A holds 100 % in 40 C"
        );
        for (share, longest) in [
            (1.35, trip_time_at_135_percent(amps)),
            (2.0, trip_time_at_200_percent(amps)),
        ] {
            let longest = longest.expect("the table has it").get::<second>();
            let seconds = device.seconds(0.0, share * rating, 25.0).expect("it trips");
            assert!(
                seconds <= longest,
                "{rating} A at {share}: {seconds} s of {longest}"
            );
            assert!(
                seconds >= 0.02 * longest,
                "{rating} A at {share}: {seconds} s is no thermal trip"
            );
        }
    }
}

/// Longest times of the field test at 300 % up to 250 V (NEMA AB 4, from memory: `trees`' tables say so).
#[test]
fn breakers_meet_the_field_test() {
    for (rating, longest) in [
        (30.0, 50.0),
        (50.0, 80.0),
        (100.0, 140.0),
        (150.0, 200.0),
        (225.0, 230.0),
    ] {
        let seconds = Device::Breaker(rating).seconds(0.0, 3.0 * rating, 25.0);
        assert!(
            seconds.is_some_and(|seconds| (2.0..=longest).contains(&seconds)),
            "{rating}: {seconds:?}"
        );
    }
}

/// 110 % for ever, 135 % within an hour up to 60 A, and 500 % for ten seconds: so a time-delay fuse lets a motor start.
#[test]
fn fuses_meet_theirs() {
    for rating in [15.0, 30.0, 60.0] {
        let fuse = Device::Fuse(rating);
        assert_eq!(fuse.seconds(0.0, 1.1 * rating, 25.0), None);
        assert!(fuse.seconds(0.0, 1.35 * rating, 25.0).expect("it opens") <= 3600.0);
        assert!(fuse.seconds(0.0, 5.0 * rating, 25.0).expect("it opens") >= 10.0);
    }
}

/// What is still warm trips sooner, and a warm place lowers the current it carries: a breaker carries its rating in 40 C, not in 65 C.
#[test]
fn heat_from_before_and_from_around_counts() {
    let device = Device::Breaker(30.0);
    let cold = device.seconds(0.0, 60.0, 25.0).expect("it trips");
    let warm = device
        .seconds(device.heated(0.0, 30.0, 1800.0), 60.0, 25.0)
        .expect("it trips");
    assert!(warm < cold, "{warm} {cold}");
    assert!(device.seconds(0.0, 30.0, 65.0).is_some());
    // Heat gathered step by step is heat gathered at once.
    let steps = (0..60).fold(0.0, |heat, _| device.heated(heat, 45.0, 10.0));
    assert!((steps - device.heated(0.0, 45.0, 600.0)).abs() < 1e-9);
}
