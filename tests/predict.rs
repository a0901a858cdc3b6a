//! What would be read if: figures against hand-worked circuits, what is kept back, and what is shown.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod figures;
mod kept_back;
mod shown;

use std::convert::Infallible;
use std::path::{Path, PathBuf};

use lineside::knowledge::model::Knowledge;
use lineside::report::layout::Layout;
use lineside::rig::predict::{Prediction, TestForeseen, Way};
use lineside::walk::{AnswerFile, Event, Walk, drive};

const HEATER: &str = "
complaint = 'electric-heat'
equipment = 'electric-air-handler'
[facts]
nameplate-voltage = '240 V'
heater-power = '9600 W'
heater-rated-voltage = '240 V'
blower-full-load-current = '3.2 A'
conductor-size = '6'
conductor-length = '50 ft'
protective-device-rating = '60 A'
[answers]
hazard-look = 'none'
safety-bridged-look = 'none'
torque-check = 'disconnect-turned'
";

const MOTOR: &str = "
complaint = 'motor-will-not-start'
equipment = 'split-air-conditioner'
[facts]
nameplate-voltage = '230 V'
run-capacitor-rating = '40 uF'
rated-load-current = '14.1 A'
[answers]
hazard-look = 'none'
unit-to-ground = 'open'
";

fn walked<'k>(knowledge: &'k Knowledge, answers: &str) -> Walk<'k> {
    let mut answers = AnswerFile::parse(answers, knowledge).unwrap();
    let mut walk = Walk::new(knowledge);
    drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(())).unwrap();
    walk
}

fn knowledge() -> Knowledge {
    lineside::knowledge::embedded().unwrap()
}

fn at<'p>(prediction: &'p Prediction, test: &str) -> &'p TestForeseen {
    prediction
        .tests
        .iter()
        .find(|foreseen| foreseen.test == test)
        .unwrap_or_else(|| panic!("{test} is not shown: {prediction:#?}"))
}

/// The first way a cause reads at a test; nothing wrong where the cause is left out.
fn way<'p>(prediction: &'p Prediction, test: &str, cause: Option<&str>) -> &'p Way {
    let lines = &at(prediction, test).lines;
    let line = lines.iter().find(|line| line.cause.as_deref() == cause);
    &line.unwrap_or_else(|| panic!("no {cause:?}: {lines:#?}")).ways[0]
}

fn typical(prediction: &Prediction, test: &str, cause: Option<&str>) -> f64 {
    way(prediction, test, cause).typical.as_ref().unwrap().value
}

const LAYOUT: Layout = Layout {
    width: 80,
    color: false,
};

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)
}
