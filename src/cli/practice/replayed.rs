//! A run played again from a file, printed as it went.

use std::fmt::Write;
use std::path::Path;

use jiff::Timestamp;

use crate::cli::Problem;
use crate::cli::printing::print;
use crate::cli::problem::Done;
use crate::files;
use crate::knowledge::model::Knowledge;
use crate::practice::{Chosen, Debrief, Entry, Happened, LARGEST_REPLAY, Replay, catalog, replay};
use crate::report::layout::set_in;
use crate::terminal::{Part, debrief_lines, happened_lines};

use super::args::{PracticeArgs, begin};
use super::kept;

/// Columns of what is printed.
const WIDTH: usize = 80;

pub(super) fn run(args: &PracticeArgs, knowledge: &Knowledge, file: &Path) -> Result<Done, Problem> {
    let text = files::read_text(file, LARGEST_REPLAY)?;
    let fault = |why: String| Problem::data(format!("`{}`: {why}", file.display()));
    let written = Replay::parse(&text, knowledge).map_err(fault)?;
    let mut session = begin(knowledge, &written.chosen)?;
    let again = written.chosen.again(knowledge);
    let mut out = String::new();
    let exercise = session.exercise().clone();
    let _ = writeln!(out, "EXERCISE: invented, nothing here is a real case");
    let _ = writeln!(
        out,
        "customer   \"{}\"",
        catalog::customer(knowledge, exercise.complaint)
    );
    let _ = writeln!(out, "equipment  {}", knowledge.equipment[exercise.equipment].name);
    let _ = writeln!(out, "again      lineside practice {again}");
    replay::run(
        &mut session,
        &written.choices,
        &mut |session, choice, happened| {
            let _ = writeln!(out);
            for line in set_in(
                WIDTH,
                &format!("{:>4.0} min > ", session.minutes()),
                &choice.to_string(),
            ) {
                let _ = writeln!(out, "{line}");
            }
            for one in happened {
                if let Happened::Made { test, .. } | Happened::Again { test, .. } = one {
                    let _ = writeln!(out, "  {}", knowledge.tests[*test].name);
                }
                for line in happened_lines(session, one, WIDTH) {
                    let _ = writeln!(out, "{line}");
                }
            }
        },
    )
    .map_err(|(place, refusal)| fault(format!("choice {place} is not taken: {refusal}")))?;
    let debrief = Debrief::of(&session);
    if let Some(debrief) = &debrief {
        for part in Part::ALL {
            let lines = debrief_lines(&session, debrief, part, &again, WIDTH);
            if !lines.is_empty() {
                let _ = writeln!(out, "\nEXERCISE: {}\n{}", part.title(), lines.join("\n"));
            }
        }
    } else {
        let _ = writeln!(
            out,
            "\nEXERCISE not ended: the last choice is neither `name` nor `give-up`"
        );
    }
    // A run played again was recorded when it was made; only a file that is named takes it once more.
    if let (Some(file), Some(debrief)) = (&args.record, &debrief) {
        let id = match &written.chosen {
            Chosen::Listed(listed) => Some(listed.id.as_str()),
            Chosen::Sampled(..) => None,
        };
        kept::append(
            file,
            &Entry::new(knowledge, &exercise, id, debrief, args.by(), Timestamp::now()),
        )?;
    }
    print(&out)?;
    Ok(Done::Well)
}
