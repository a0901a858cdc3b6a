//! The simulated installation: its solver against hand-worked circuits, physical laws and another program.

#[path = "rig/calibration.rs"]
mod calibration;
#[path = "rig/circuits.rs"]
mod circuits;
#[path = "rig/clock.rs"]
mod clock;
#[path = "rig/knowledge.rs"]
mod knowledge;
#[path = "rig/laws.rs"]
mod laws;
#[path = "rig/spice.rs"]
mod spice;
#[path = "rig/textbook.rs"]
mod textbook;
