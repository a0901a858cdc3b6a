//! The same circuits in ngspice. `tests/rig/NAME.cir` is the netlist and `tests/rig/spice.tsv` what ngspice found, both committed;
//! this holds the netlists against the circuits and our numbers against those of ngspice, and writes ours to `target/tmp/rig.tsv`, which
//! `tests/rig/compare` holds against a live run. After a change of circuits: `LINESIDE_NETLISTS=write cargo test --test all netlists`, then
//! the whole of them, then `tests/rig/compare target/tmp/rig.tsv --record`.

use std::collections::HashMap;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use lineside::rig::{Circuit, Complex, solve};

use super::{circuits, netlist};

/// Largest difference against ngspice: a share of the number itself, and of the largest of its kind in the circuit: a microampere
/// through a joint of 0.2 milliohm is a difference of 2e-10 V between two numbers of 120 V, the last digits of a double in
/// either program.
const SHARE: f64 = 1e-6;
const OF_LARGEST: f64 = 1e-11;

/// The same for voltages: what is cut off from every line hangs on its metal by nanofarads, and a tenth of a microvolt there is
/// the last digit of the conductance of its joints.
const VOLTS_OF_LARGEST: f64 = 1e-9;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/rig")
}

/// Name and value of every node voltage and branch current, as SPICE calls them.
fn numbers(circuit: &Circuit) -> Vec<(String, Complex)> {
    let solution = solve(circuit).unwrap_or_else(|error| panic!("{error}"));
    let mut found: Vec<(String, Complex)> = circuit.nodes()[1..]
        .iter()
        .map(|name| {
            (
                format!("v({name})"),
                solution.volts(circuit.find(name).expect("a node")),
            )
        })
        .collect();
    for element in circuit.elements() {
        let index = circuit.element(&element.name).expect("an element");
        let amps = [solution.amps(index), solution.second_amps(index)];
        found.extend(netlist::current_vectors(element).into_iter().zip(amps));
    }
    found
}

fn written(name: &str, circuit: &Circuit) -> String {
    let solution = solve(circuit).unwrap_or_else(|error| panic!("{name}: {error}"));
    netlist::netlist(name, circuit, &solution)
}

/// Whether two netlists say the same: word by word, numbers within 1e-7, for the last digits are the machine's.
fn is_same(kept: &str, text: &str) -> bool {
    let near = |one: &str, other: &str| match (one.parse::<f64>(), other.parse::<f64>()) {
        (Ok(one), Ok(other)) => (one - other).abs() <= 1e-7 * one.abs(),
        _ => one == other,
    };
    let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
    let (kept, text) = (words(kept), words(text));
    kept.len() == text.len() && kept.iter().zip(&text).all(|(one, other)| near(one, other))
}

#[test]
fn netlists_are_those_of_the_circuits() {
    let write = std::env::var("LINESIDE_NETLISTS").is_ok_and(|value| value == "write");
    let all = circuits::all();
    assert!(all.len() >= 40, "{} circuits", all.len());
    for (name, circuit) in &all {
        let path = folder().join(format!("{name}.cir"));
        let text = written(name, circuit);
        if write {
            fs::write(&path, &text).expect("the folder can be written");
        }
        let kept = fs::read_to_string(&path).unwrap_or_default();
        assert!(
            is_same(&kept, &text),
            "{} is not the circuit as it is now",
            path.display()
        );
    }
    let files = fs::read_dir(folder()).expect("the folder can be read");
    let netlists = files.filter(|file| {
        file.as_ref()
            .is_ok_and(|file| file.path().extension().is_some_and(|end| end == "cir"))
    });
    assert_eq!(netlists.count(), all.len(), "a netlist without its circuit");
}

#[test]
fn every_voltage_and_current_is_that_of_ngspice() {
    let text = fs::read_to_string(folder().join("spice.tsv")).unwrap_or_default();
    let mut spice: HashMap<(&str, &str), Complex> = HashMap::new();
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        let [circuit, vector, re, im] = line.split('\t').collect::<Vec<_>>()[..] else {
            panic!("four columns: {line}");
        };
        let number = |text: &str| text.parse::<f64>().expect("a number");
        spice.insert((circuit, vector), Complex::new(number(re), number(im)));
    }
    let mut ours = String::new();
    let mut wrong = Vec::new();
    for (name, circuit) in &circuits::all() {
        let numbers = numbers(circuit);
        let largest = |kind: &str| {
            let own = numbers.iter().filter(|(vector, _)| vector.starts_with(kind));
            own.map(|(_, value)| value.norm()).fold(0.0, f64::max)
        };
        let (volts, amps) = (largest("v"), largest("i"));
        for (vector, value) in &numbers {
            let _ = writeln!(ours, "{name}\t{vector}\t{:e}\t{:e}", value.re, value.im);
            let Some(theirs) = spice.get(&(name.as_str(), vector.as_str())) else {
                wrong.push(format!("{name} {vector}: ngspice has no such number"));
                continue;
            };
            let least = if vector.starts_with('v') {
                VOLTS_OF_LARGEST * volts
            } else {
                OF_LARGEST * amps
            };
            if (value - theirs).norm() > SHARE * theirs.norm() + least {
                wrong.push(format!("{name} {vector}: {value} against {theirs}"));
            }
        }
    }
    let _ = fs::create_dir_all(Path::new(env!("CARGO_TARGET_TMPDIR")));
    fs::write(Path::new(env!("CARGO_TARGET_TMPDIR")).join("rig.tsv"), ours).expect("target can be written");
    assert!(wrong.is_empty(), "{} differ\n{}", wrong.len(), wrong.join("\n"));
}
