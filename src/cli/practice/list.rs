//! `lineside practice list`: the exercises by topic and level.

use std::fmt::Write;

use clap::Args;
use serde::Serialize;

use crate::cli::Problem;
use crate::cli::options::{Format, Printed};
use crate::cli::printing;
use crate::cli::printing::{print, remark};
use crate::cli::problem::Done;
use crate::cli::shared::Shared;
use crate::knowledge::model::Knowledge;
use crate::practice::{Level, Listed, catalog};
use crate::report::layout::set_in;

use super::kept;

/// Columns of what is printed.
const WIDTH: usize = 80;

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(super) struct ListArgs {
    #[command(flatten)]
    print: Printed,
    #[command(flatten)]
    shared: Shared,
}

#[derive(Serialize)]
struct Row<'a> {
    id: &'a str,
    number: usize,
    level: Level,
    complaint: &'a str,
    equipment: &'a str,
    title: &'a str,
    teaches: &'a str,
    walked: usize,
}

pub(super) fn run(args: &ListArgs) -> Result<Done, Problem> {
    let knowledge = args.shared.knowledge.load()?;
    let listed = catalog::all(knowledge);
    let left_out = catalog::left_out(knowledge);
    if !left_out.is_empty() {
        remark(&format!(
            "this knowledge has no fault for these, so they are left out: {}",
            left_out.join(", ")
        ));
    }
    let file = kept::usual_file().ok();
    let walked = kept::walked(file.as_deref(), &listed);
    match args.print.form {
        Format::Json => print(&json(knowledge, &listed, &walked)?)?,
        _ => print(&text(knowledge, &listed, &walked))?,
    }
    Ok(Done::Well)
}

fn json(knowledge: &Knowledge, listed: &[Listed], walked: &[usize]) -> Result<String, Problem> {
    let rows: Vec<Row<'_>> = listed
        .iter()
        .zip(walked)
        .enumerate()
        .map(|(place, (listed, walked))| Row {
            id: &listed.id,
            number: place + 1,
            level: listed.level,
            complaint: &knowledge.trees[listed.exercise.complaint].id,
            equipment: &knowledge.equipment[listed.exercise.equipment].id,
            title: &listed.title,
            teaches: &listed.teaches,
            walked: *walked,
        })
        .collect();
    printing::as_json(&rows)
}

fn text(knowledge: &Knowledge, listed: &[Listed], walked: &[usize]) -> String {
    let mut text = String::from("EXERCISES by topic and level: invented, no real case\n");
    for level in Level::ALL {
        let _ = writeln!(text, "level {}: {}", level.number(), level.in_words());
    }
    for (tree, complaint) in knowledge.complaints() {
        let of_topic = listed
            .iter()
            .zip(walked)
            .enumerate()
            .filter(|(_, (listed, _))| knowledge.trees[listed.exercise.complaint].id == tree.id);
        let mut headed = false;
        for (place, (listed, walked)) in of_topic {
            if !std::mem::replace(&mut headed, true) {
                let _ = writeln!(text, "\n{complaint}");
            }
            let times = match walked {
                0 => String::new(),
                1 => ", walked once".to_owned(),
                times => format!(", walked {times} times"),
            };
            let head = format!(
                "{} ({}, level {}{times})",
                listed.title,
                listed.id,
                listed.level.number()
            );
            put(&mut text, &format!("{:>3}  ", place + 1), &head);
            put(&mut text, "     teaches: ", &listed.teaches);
        }
    }
    text.push_str("\nwalk one: lineside practice ID; draw one: lineside practice --level 1\n");
    text
}

fn put(text: &mut String, lead: &str, words: &str) {
    for line in set_in(WIDTH, lead, words) {
        let _ = writeln!(text, "{line}");
    }
}
