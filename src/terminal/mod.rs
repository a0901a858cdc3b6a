//! The person at the keyboard: a respondent that shows questions on a screen and reads keys, or plain lines where
//! there is no terminal.
//!
//! It shows and reads, and decides nothing: what a reply means is the walk's business. Everything is talk and goes
//! to the error stream, so that the result on the standard output can be kept by itself. Color never carries a
//! meaning alone; every colored word is also a word. Nothing is wider than the screen.
//!
//! Start with [`Person`], or with [`Apprentice`] for an exercise.

mod apprentice;
mod asking;
mod blocks;
mod complaint;
mod entries;
mod finishing;
mod heads;
mod input;
mod letters;
mod line;
mod marking;
mod offers;
mod person;
mod pick;
mod result;
mod screen;
mod signals;
mod typed;
mod words;

pub use apprentice::{Apprentice, Part, debrief_lines, happened_lines};
pub use input::Input;
pub use person::Person;
pub use screen::{Look, Screen};
pub use signals::Signals;
