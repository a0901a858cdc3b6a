//! Finds the electrical cause of a stubborn heating or air-conditioning callback.
//!
//! An authored graph leads the technician, published limits judge the readings, and Bayes' rule keeps the
//! score, in one walk that a person, an answer file or a simulated installation can drive.
//!
//! The rooms, each of which imports only from those above it:
//!
//! | room | what it is for |
//! |---|---|
//! | [`files`] | files on disk: read within a limit, written whole, kept private |
//! | [`quantity`] | readings with units: parse and print |
//! | [`electrical`] | pure formulas |
//! | [`standards`] | published tables, rules over them, the list of calculations |
//! | [`knowledge`] | causes, tests, facts and trees: load, check, graph |
//! | [`inference`] | standing of causes, gain of a test, when to stop |
//! | [`walk`] | the state machine: asks a respondent, emits events |
//! | [`journal`] | append-only record of the events, and its replay |
//! | [`invented`] | cases nobody ever had, through the real walk |
//! | [`rig`] | a simulated installation with a hidden fault: circuit, faults, meter |
//! | [`practice`] | exercises: a hidden fault, the way to it, the debrief |
//! | [`report`] | what to say about one case |
//! | [`drawing`] | pictures of the trees, and the page of the whole knowledge |
//! | [`review`] | many cases together |
//! | [`terminal`] | the person at the keyboard |
//! | [`cli`] | commands |

#![forbid(unsafe_code)]

pub mod cli;
pub mod drawing;
pub mod electrical;
pub mod files;
pub mod inference;
pub mod invented;
pub mod journal;
pub mod knowledge;
pub mod practice;
pub mod quantity;
pub mod report;
pub mod review;
pub mod rig;
pub mod standards;
pub mod terminal;
pub mod walk;
