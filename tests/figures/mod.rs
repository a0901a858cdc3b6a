//! Running a calculation from text, and saying what is wrong when it does not give what it should.

use lineside::standards::calculation::{InputError, Inputs, Report};
use lineside::standards::registry;

/// Runs a calculation on inputs as a person would type them.
pub(crate) fn figure(name: &str, given: &[(&str, &str)]) -> Result<Report, InputError> {
    let calculation = registry::find(name).unwrap_or_else(|| panic!("no calculation {name}"));
    let mut inputs = Inputs::default();
    for (input, text) in given {
        inputs.parse(calculation, input, text)?;
    }
    (calculation.run)(&inputs)
}

/// Runs a calculation and demands a verdict.
#[track_caller]
pub(crate) fn verdict(name: &str, given: &[(&str, &str)], expected: &str) -> Report {
    let report = figure(name, given).unwrap_or_else(|error| panic!("{name} {given:?}: {error}"));
    assert_eq!(report.verdict, expected, "{name} {given:?}: {}", report.finding);
    report
}

/// Demands that the inputs are refused with a message that says `part`.
#[track_caller]
pub(crate) fn refused(name: &str, given: &[(&str, &str)], part: &str) {
    let error = figure(name, given).expect_err("should be refused").to_string();
    assert!(error.contains(part), "`{error}` does not say `{part}`");
}

/// Demands an output as printed.
#[track_caller]
pub(crate) fn output(report: &Report, name: &str, expected: &str) {
    let found = report
        .outputs
        .get(name)
        .unwrap_or_else(|| panic!("no output {name}"));
    assert_eq!(found.to_string(), expected, "{name}");
}
