//! Pictures of the knowledge: a tree as SVG or DOT, and everything as one page of HTML; and [`case`], a case as a page.
//!
//! A [`Figure`] is a tree ready to be drawn: what stands in each box, what each way is labeled with, and where it
//! all lies. [`svg`] and [`dot`] write it down; [`page`] puts the figures of all trees beside every cause and test.
//! [`layers`] does the layout and knows nothing of trees.
//!
//! What is written needs nothing from outside: no fonts, scripts or style sheets are fetched. Light and dark follow
//! the reader's setting, and nothing is told by color alone, since a picture may be printed in black and white.
//! Everything that comes from the knowledge is escaped by `escape`. The room prints nothing.
//!
//! Imports: the model from `knowledge`, with its words for jobs, states and hazards, and the pages of a case from `report`.

mod build;
pub mod case;
pub mod dot;
mod escape;
mod figure;
pub mod layers;
mod legend;
mod marks;
pub mod measure;
pub mod page;
mod pen;
mod pools;
mod said;
mod settle;
mod shape;
mod step;
pub mod svg;
mod way;
mod words;

pub use build::PoolList;
pub use figure::{Figure, FigureError};
pub(crate) use said::said;
pub use shape::text_area;
pub use step::{Exit, Leads, Line, Shape, Step, Style};
pub use way::Way;
