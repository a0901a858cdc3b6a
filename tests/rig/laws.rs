//! What must hold for every circuit: Kirchhoff's laws, power in equals power out, and errors that name the node.

use fastrand::Rng;
use lineside::rig::{Circuit, Complex, Factored, Kind, Node, SolveError, solve};

/// A connected circuit of every kind of element, drawn.
fn drawn(rng: &mut Rng) -> Circuit {
    let mut circuit = Circuit::new();
    let nodes = rng.usize(2..30);
    let name = |place: usize| {
        if place == 0 {
            "0".to_owned()
        } else {
            format!("n{place}")
        }
    };
    circuit.source(
        "supply",
        ["n1", "0"],
        120.0 + 360.0 * rng.f64(),
        360.0 * rng.f64(),
    );
    let ohms = |rng: &mut Rng| {
        let size = 10f64.powf(rng.f64() * 5.0 - 2.0);
        Complex::new(size * (0.05 + rng.f64()), size * (rng.f64() - 0.4))
    };
    // Every node hangs on one before it, so that none is loose.
    for place in 2..=nodes {
        let before = name(rng.usize(..place));
        let own = name(place);
        let value = ohms(rng);
        if rng.u8(..5) == 0 {
            circuit.switch(&format!("s{place}"), [&before, &own], true, value.re.min(0.1));
        } else {
            circuit.impedance(&format!("z{place}"), [&before, &own], value);
        }
    }
    for extra in 0..rng.usize(1..20) {
        let [from, to] = [(); 2].map(|()| name(rng.usize(1..=nodes)));
        let value = ohms(rng);
        let label = format!("x{extra}");
        match rng.u8(..6) {
            0 => {
                circuit.transformer(
                    &label,
                    [&from, "0"],
                    [&format!("t{extra}"), "0"],
                    0.5 + 20.0 * rng.f64(),
                );
                circuit.impedance(&format!("y{extra}"), [&format!("t{extra}"), &to], value);
            }
            1 => {
                let siemens = [[1.0, 0.2], [-0.1, 0.8]]
                    .map(|row| row.map(|amount| Complex::new(amount * 0.05, -0.05 * amount * rng.f64())));
                circuit.machine(&label, [[&from, "0"], [&to, "0"]], siemens);
            }
            2 => {
                circuit.switch(&label, [&from, &to], rng.bool(), 0.002);
            }
            _ if from != to => {
                circuit.impedance(&label, [&from, &to], value);
            }
            _ => {}
        }
    }
    circuit
}

/// Sums of currents at every node, and of power over all elements.
#[test]
fn kirchhoff_and_power_balance_hold_for_random_circuits() {
    for seed in 0..600 {
        let circuit = drawn(&mut Rng::with_seed(seed));
        let solution = solve(&circuit).unwrap_or_else(|error| panic!("seed {seed}: {error}"));
        let mut sums = vec![(Complex::ZERO, 0.0_f64); circuit.nodes().len()];
        let mut power = Complex::ZERO;
        let mut turned = 0.0;
        for element in circuit.elements() {
            let index = circuit.element(&element.name).expect("it is there");
            let flows = [solution.amps(index), solution.second_amps(index)];
            let (first, second) = element.kind.ports();
            let ports = [Some(first), second].into_iter().flatten();
            for (port, amps) in ports.zip(flows) {
                for (node, sign) in port.into_iter().zip([1.0, -1.0]) {
                    let place = circuit.nodes().iter().position(|own| own == circuit.name(node));
                    let sum = &mut sums[place.expect("a node of the circuit")];
                    sum.0 += sign * amps;
                    sum.1 = sum.1.max(amps.norm());
                }
                power += solution.between(port) * amps.conj();
                turned += (solution.between(port) * amps).norm();
            }
        }
        for (name, (sum, most)) in circuit.nodes().iter().zip(&sums) {
            assert!(
                sum.norm() <= 1e-8 * most + 1e-9,
                "seed {seed}, node {name}: {sum} of {most}"
            );
        }
        assert!(
            power.norm() <= 1e-8 * turned + 1e-6,
            "seed {seed}: {power} of {turned}"
        );
    }
}

/// A meter put between two points changes the circuit as an element there does, and the impedance seen there is that of the change.
#[test]
fn a_bridge_is_an_element_more() {
    for seed in 0..200 {
        let mut rng = Rng::with_seed(seed);
        let mut circuit = drawn(&mut rng);
        let pick = |rng: &mut Rng, circuit: &Circuit| {
            let name = circuit.nodes()[rng.usize(..circuit.nodes().len())].clone();
            circuit.find(&name).expect("a node of the circuit")
        };
        let between = [pick(&mut rng, &circuit), pick(&mut rng, &circuit)];
        if between[0] == between[1] {
            continue;
        }
        let factored = Factored::of(&circuit).expect("sound");
        let siemens = Complex::new(1.0 / 3000.0, 0.0);
        let bridged = factored.bridged(between, siemens).expect("sound");
        let open = factored.solve().expect("sound").between(between);
        let seen = factored.thevenin(between);
        near(
            bridged.between(between),
            open / (1.0 + siemens * seen),
            open.norm(),
        );
        let ohms = siemens.inv();
        circuit.add("meter", Kind::Impedance { between, ohms });
        let whole = solve(&circuit).expect("sound");
        for name in circuit.nodes() {
            let node = circuit.find(name).expect("a node of the circuit");
            near(bridged.volts(node), whole.volts(node), 500.0);
        }
    }
}

#[track_caller]
fn near(found: Complex, expected: Complex, scale: f64) {
    assert!(
        (found - expected).norm() <= 1e-8 * (scale + expected.norm()) + 1e-9,
        "{found} against {expected}"
    );
}

#[test]
fn a_loose_node_is_named() {
    let mut circuit = Circuit::new();
    circuit.source("supply", ["hot", "0"], 240.0, 0.0);
    circuit.resistance("heater", ["hot", "0"], 10.0);
    circuit.resistance("motor", ["cut_off_1", "cut_off_2"], 10.0);
    let Err(SolveError::Singular { node }) = solve(&circuit) else {
        panic!("a loose piece has no voltage");
    };
    assert!(node.starts_with("cut_off"), "{node}");
}

#[test]
fn sources_that_fight_are_named() {
    let mut circuit = Circuit::new();
    circuit.source("supply", ["hot", "0"], 240.0, 0.0);
    circuit.source("other", ["hot", "0"], 120.0, 0.0);
    assert_eq!(
        solve(&circuit),
        Err(SolveError::Singular {
            node: "hot".to_owned()
        })
    );
}

#[test]
fn a_node_held_by_almost_nothing_is_named() {
    let mut circuit = Circuit::new();
    circuit.source("supply", ["hot", "0"], 240.0, 0.0);
    circuit.resistance("heater", ["hot", "0"], 10.0);
    circuit.resistance("joint", ["adrift_1", "adrift_2"], 1e-6);
    circuit.resistance("stray", ["adrift_1", "hot"], 1e12);
    let Err(error) = solve(&circuit) else {
        panic!("18 decades do not fit into 16 digits");
    };
    assert!(error.to_string().contains("adrift"), "{error}");
}

#[test]
fn a_value_without_meaning_is_named() {
    for ohms in [0.0, f64::NAN] {
        let mut circuit = Circuit::new();
        circuit.source("supply", ["hot", "0"], 240.0, 0.0);
        circuit.resistance("heater", ["hot", "0"], ohms);
        assert_eq!(
            solve(&circuit),
            Err(SolveError::BadValue {
                element: "heater".to_owned(),
                node: "hot".to_owned()
            })
        );
    }
}

/// Below 0.7 of its nominal voltage a load lets go to an impedance, so that a supply that is far too weak has a solution as well.
#[test]
fn a_load_beyond_the_supply_lets_go() {
    let mut circuit = Circuit::new();
    circuit.source("supply", ["hot", "0"], 120.0, 0.0);
    circuit.resistance("wire", ["hot", "end"], 3.0);
    let load = circuit.load("drive", ["end", "0"], Complex::new(2400.0, 0.0), 120.0);
    let solution = solve(&circuit).expect("as an impedance");
    let end = solution.volts(circuit.find("end").expect("it is there"));
    let ohms = (0.7f64 * 120.0).powi(2) / 2400.0;
    near(end, Complex::new(120.0 * ohms / (ohms + 3.0), 0.0), 120.0);
    near(
        solution.load_ohms(load).expect("a load"),
        Complex::new(ohms, 0.0),
        ohms,
    );
    assert_eq!(solution.volts(Node::EARTH), Complex::ZERO);
}
