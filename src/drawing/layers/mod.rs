//! A layered layout of any graph without cycles: boxes in rows, every way leading down.
//!
//! The steps follow the usual method for layered drawings (Sugiyama, Tagawa and Toda 1981): rows by longest path
//! (`rank`), a place holder in each row that a way passes (`net`), few crossings by barycenters
//! (`order`), places across by Brandes and Koepf 2001 (`place`), then rows down the page and
//! the ways drawn (`route`).
//!
//! Two things are our own. A label is a box in a row of its own under its box, so no text lies on another. And all
//! ways to one box share one lane from the row where the first joins, so a box that many lead to is met by one line.
//!
//! The room knows nothing of trees; the sizes it is given are all it needs. Its invariant, which `tests/drawing.rs`
//! holds against random graphs: no two areas meet, and no way passes through an area.

mod net;
mod order;
mod place;
mod plan;
mod rank;
mod route;

pub use plan::{Area, Laid, LayoutError, Link, Piece, Plan, Point, Size};

/// Lays out a plan.
///
/// # Errors
/// When the ways go round or name a box that there is not.
pub fn lay_out(plan: &Plan) -> Result<Laid, LayoutError> {
    let rows = rank::rank(plan)?;
    let mut net = net::Net::new(plan, &rows);
    order::untangle(&mut net);
    let across = place::across(&net);
    let mut laid = route::finish(plan, &net, &across);
    laid.rows = rows;
    Ok(laid)
}
