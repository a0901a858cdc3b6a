//! Time of one solve of about 40 nodes; the bar is 50 microseconds. `--solve NAME` solves one circuit of `tests/rig/` and prints its
//! numbers, for `tests/rig/race`, which holds the whole process against ngspice.

use std::io::Write as _;

use criterion::Criterion;
use lineside::rig::{Circuit, Complex, Factored, solve};

#[path = "../rig/circuits.rs"]
#[allow(dead_code, reason = "the tests take them all")]
mod circuits;
#[path = "../rig/netlist.rs"]
#[allow(dead_code, reason = "the tests write it whole")]
mod netlist;

/// A split-phase feeder with thirteen taps, loads on each and a drive at its end: 42 nodes.
fn feeder() -> Circuit {
    let mut circuit = Circuit::new();
    circuit.source("leg_1", ["a", "0"], 120.0, 0.0);
    circuit.source("leg_2", ["b", "0"], 120.0, 180.0);
    let mut ends = ["a", "b", "0"].map(str::to_owned);
    for tap in 0..13 {
        for (wire, end) in ends.iter_mut().enumerate() {
            let next = format!("n{tap}_{wire}");
            circuit.impedance(&format!("z{tap}_{wire}"), [end, &next], Complex::new(0.01, 0.005));
            *end = next;
        }
        circuit.resistance(&format!("range_{tap}"), [&ends[0], &ends[1]], 30.0);
        circuit.resistance(&format!("lights_{tap}"), [&ends[0], &ends[2]], 50.0);
    }
    circuit.load("drive", [&ends[0], &ends[1]], Complex::new(1500.0, 300.0), 240.0);
    circuit
}

fn solves(criterion: &mut Criterion) {
    let circuit = feeder();
    assert_eq!(circuit.nodes().len(), 42);
    let mut group = criterion.benchmark_group("rig");
    group.bench_function("solve 42 nodes", |bencher| bencher.iter(|| solve(&circuit)));
    let factored = Factored::of(&circuit).expect("a sound circuit");
    group.bench_function("solve again with its factors", |bencher| {
        bencher.iter(|| factored.solve())
    });
    let across = ["n5_0", "n5_1"].map(|name| circuit.find(name).expect("a node"));
    let meter = Complex::new(1.0 / 3000.0, 0.0);
    group.bench_function("put a meter across", |bencher| {
        bencher.iter(|| factored.bridged(across, meter))
    });
    group.finish();
}

fn print(name: &str) -> Option<()> {
    let circuit = circuits::named(name)?;
    let solution = solve(&circuit).ok()?;
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    for node in circuit.nodes() {
        let volts = solution.volts(circuit.find(node)?);
        writeln!(out, "v({node})\t{}\t{}", volts.re, volts.im).ok()?;
    }
    for element in circuit.elements() {
        let index = circuit.element(&element.name)?;
        for (vector, amps) in netlist::current_vectors(element)
            .iter()
            .zip([solution.amps(index), solution.second_amps(index)])
        {
            writeln!(out, "{vector}\t{}\t{}", amps.re, amps.im).ok()?;
        }
    }
    out.flush().ok()
}

fn main() {
    let mut arguments = std::env::args().skip(1);
    if arguments.next().as_deref() == Some("--solve") {
        let name = arguments.next().expect("the name of a circuit");
        print(&name).expect("a sound circuit of that name");
        return;
    }
    let mut criterion = Criterion::default().configure_from_args();
    solves(&mut criterion);
    criterion.final_summary();
}
