//! A case with a person at the keyboard, and the keeping of a case.

use std::path::Path;

use crate::knowledge::model::Knowledge;
use crate::walk::{Event, Walk};

use super::diagnose::DiagnoseArgs;
use super::{Done, Problem};

pub(super) struct Keeper;

impl Keeper {
    pub(super) fn for_answers(_case: Option<&Path>, _walk: &Walk<'_>) -> Result<Self, Problem> {
        Ok(Self)
    }

    pub(super) fn keep(&mut self, _event: &Event) -> Result<(), std::io::Error> {
        Ok(())
    }
}

pub(super) fn run(_args: &DiagnoseArgs, _knowledge: &Knowledge) -> Result<Done, Problem> {
    Err(Problem::data("not yet"))
}
