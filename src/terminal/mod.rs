//! The person at the keyboard: a respondent that shows questions on a screen and reads keys, or plain lines where
//! there is no terminal.
//!
//! It shows and reads, and decides nothing: what a reply means is the walk's business. Everything is talk and goes
//! to the error stream, so that the result on the standard output can be kept by itself. Color never carries a
//! meaning alone; every colored word is also a word. Nothing is wider than the screen.
//!
//! Start with [`Person`].

mod blocks;
mod input;
mod offers;
mod person;
mod pick;
mod screen;
mod signals;

pub use input::Input;
pub use person::Person;
pub use screen::{Look, Screen};
pub use signals::Signals;
