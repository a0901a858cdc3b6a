//! The simulated installation: its solver against hand-worked circuits, physical laws and another program; installations, faults,
//! time and meter against calibration points and the knowledge; the walk against all of it.

#![expect(clippy::print_stdout, reason = "what does not agree is read from the tables")]

#[path = "rig/agreement.rs"]
mod agreement;
#[path = "rig/calibration.rs"]
mod calibration;
#[path = "rig/circuits.rs"]
mod circuits;
#[path = "rig/clock.rs"]
mod clock;
#[path = "rig/closed_loop.rs"]
mod closed_loop;
#[path = "rig/course.rs"]
mod course;
#[path = "rig/knowledge.rs"]
mod knowledge;
#[path = "rig/laws.rs"]
mod laws;
#[path = "rig/netlist.rs"]
mod netlist;
#[path = "rig/spice.rs"]
mod spice;
#[path = "rig/textbook.rs"]
mod textbook;
