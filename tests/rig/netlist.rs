//! A circuit as a SPICE netlist: one AC analysis at 60 Hz, so that another program must find the same numbers.
//!
//! Every element gets a source of zero volts in series, since that is the one way to a branch current which every SPICE knows; an
//! open contact is left out; a load of constant power stands there as the impedance it was solved to. A machine becomes
//! impedances that copies of its port voltages drive, whose currents are copied into the ports. Magnitudes are effective values. Nine
//! digits are written, so that the text does not hang on the last digits of a sine.

use std::fmt::Write as _;

use lineside::rig::circuit::HERTZ;
use lineside::rig::{Circuit, Complex, Element, Kind, Node, Solution};

/// The netlist of a circuit, with the solution that its loads of constant power are taken from.
pub(super) fn netlist(title: &str, circuit: &Circuit, solution: &Solution) -> String {
    let mut text = format!("* {title}\n");
    for element in circuit.elements() {
        let index = circuit.element(&element.name);
        let ohms = index.and_then(|index| solution.load_ohms(index));
        Writer {
            circuit,
            text: &mut text,
            name: &element.name,
        }
        .element(element, ohms);
    }
    text.push_str(".options noopac\n.ac lin 1 60 60\n.end\n");
    text
}

/// Names of the sources whose currents are those of an element, as far as it carries one: `(vector, sign)`.
pub(super) fn current_vectors(element: &Element) -> Vec<String> {
    let name = &element.name;
    match element.kind {
        Kind::Switch { closed: false, .. } => Vec::new(),
        Kind::Transformer { .. } | Kind::Machine { .. } => {
            vec![format!("i(v_{name})"), format!("i(v_{name}_2)")]
        }
        _ => vec![format!("i(v_{name})")],
    }
}

struct Writer<'a> {
    circuit: &'a Circuit,
    text: &'a mut String,
    name: &'a str,
}

impl Writer<'_> {
    fn line(&mut self, line: std::fmt::Arguments<'_>) {
        // Writing to a string cannot fail.
        let _ = writeln!(self.text, "{line}");
    }

    fn node(&self, node: Node) -> String {
        self.circuit.name(node).to_owned()
    }

    fn pair(&self, pair: [Node; 2]) -> [String; 2] {
        pair.map(|node| self.node(node))
    }

    fn element(&mut self, element: &Element, load_ohms: Option<Complex>) {
        let name = self.name;
        match &element.kind {
            Kind::Impedance { between, ohms } => self.sensed(*between, *ohms),
            Kind::Load { between, .. } => {
                self.sensed(*between, load_ohms.unwrap_or(Complex::new(1e12, 0.0)));
            }
            Kind::Switch { closed: false, .. } => {}
            Kind::Switch { between, ohms, .. } => {
                if *ohms > 0.0 {
                    self.sensed(*between, Complex::new(*ohms, 0.0));
                } else {
                    let [from, to] = self.pair(*between);
                    self.line(format_args!("v_{name} {from} {to} dc 0 ac 0"));
                }
            }
            Kind::Source { between, volts } => {
                let [from, to] = self.pair(*between);
                let (size, angle) = (volts.norm(), volts.arg().to_degrees());
                self.line(format_args!(
                    "v_{name} {from} {to} dc 0 ac {size:.8e} {angle:.8e}"
                ));
            }
            Kind::Transformer {
                primary,
                secondary,
                ratio,
            } => self.transformer(*primary, *secondary, *ratio),
            Kind::Machine { ports, siemens } => self.machine(*ports, *siemens),
        }
    }

    /// An impedance behind its source of zero volts.
    fn sensed(&mut self, between: [Node; 2], ohms: Complex) {
        let [from, to] = self.pair(between);
        let name = self.name;
        self.line(format_args!("v_{name} {from} {name}_s dc 0 ac 0"));
        self.series(name, &format!("{name}_s"), &to, ohms);
    }

    /// Resistance and reactance in series between two named nodes.
    fn series(&mut self, label: &str, from: &str, to: &str, ohms: Complex) {
        let per_second = 2.0 * std::f64::consts::PI * HERTZ;
        if ohms.im == 0.0 {
            self.line(format_args!("r_{label} {from} {to} {:.8e}", ohms.re));
            return;
        }
        let mut from = from.to_owned();
        if ohms.re != 0.0 {
            self.line(format_args!("r_{label} {from} {label}_x {:.8e}", ohms.re));
            from = format!("{label}_x");
        }
        if ohms.im > 0.0 {
            self.line(format_args!("l_{label} {from} {to} {:.8e}", ohms.im / per_second));
        } else {
            let farad = -1.0 / (per_second * ohms.im);
            self.line(format_args!("c_{label} {from} {to} {farad:.8e}"));
        }
    }

    fn transformer(&mut self, primary: [Node; 2], secondary: [Node; 2], ratio: f64) {
        let name = self.name;
        let [from, to] = self.pair(primary);
        let [dotted, other] = self.pair(secondary);
        self.line(format_args!("v_{name} {from} {name}_p dc 0 ac 0"));
        self.line(format_args!(
            "e_{name} {name}_p {to} {name}_q {other} {ratio:.8e}"
        ));
        self.line(format_args!("v_{name}_2 {dotted} {name}_q dc 0 ac 0"));
        // Out of the dotted end of the secondary flows `ratio` times what flows into the primary's.
        self.line(format_args!("f_{name} {name}_q {other} v_{name} {:.8e}", -ratio));
    }

    fn machine(&mut self, ports: [[Node; 2]; 2], siemens: [[Complex; 2]; 2]) {
        let name = self.name;
        for (number, (port, row)) in ports.iter().zip(siemens).enumerate() {
            let [from, to] = self.pair(*port);
            let suffix = if number == 0 { "" } else { "_2" };
            self.line(format_args!("v_{name}{suffix} {from} {name}_t{number} dc 0 ac 0"));
            for (by, (acting, amount)) in ports.iter().zip(row).enumerate() {
                if amount == Complex::ZERO {
                    continue;
                }
                let [plus, minus] = self.pair(*acting);
                let label = format!("{name}_{number}{by}");
                self.line(format_args!("e_{label} {label}_e 0 {plus} {minus} 1"));
                self.line(format_args!("v_{label} {label}_e {label}_s dc 0 ac 0"));
                self.series(&label, &format!("{label}_s"), "0", amount.inv());
                self.line(format_args!("f_{label} {name}_t{number} {to} v_{label} 1"));
            }
        }
    }
}
