//! `lineside review`: many cases together.

use std::fs;
use std::path::{Path, PathBuf};

use clap::Args;
use etcetera::BaseStrategy;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::files::{self, Limit};
use crate::inference::learn::NOT_LISTED;
use crate::journal::life::Reached;
use crate::knowledge::model::Knowledge;
use crate::knowledge::nearest::unknown;
use crate::review::{self, Filter, Index, Review};

use super::knowledge::Folder;
use super::options::{Format, word};
use super::printing::print;
use super::problem::Done;
use super::progress::Progress;
use super::{Problem, closed_cases, places, settings};

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside review                                      the cases of the usual folder, in short
  lineside review --table cause --table month          these tables, whole; `all` for every one
  lineside review cases/ --from 2025-04 --until 2025-10    those opened in a season
  lineside review cases/ --technician 'first shift' --table callback
  lineside review cases/ --format html --out review.html   a page to read, send or print
  lineside review cases/ --table cause --format csv        a table for a spreadsheet

Tables: all, or overview, cause, complaint, equipment, technician, month, came-back, callback-place,
callback, replaced, skipped, live, live-technician, effort, calibration, not-listed, surprising, learned; and
case, a line for each case, where asked for. Exit code: 0 all files counted, 1 some were not.";

/// The largest index read. With some 210 bytes for each case this is room for nine million.
const LARGEST_INDEX: Limit = Limit {
    what: "an index of cases",
    bytes: 2_000_000_000,
};

/// Every table that can be asked for.
const TABLES: [&str; 20] = [
    review::ALL,
    "overview",
    "cause",
    "complaint",
    "equipment",
    "technician",
    "month",
    "came-back",
    "callback-place",
    "callback",
    "replaced",
    "skipped",
    "live",
    "live-technician",
    "effort",
    "calibration",
    "not-listed",
    "surprising",
    "learned",
    "case",
];

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(crate) struct ReviewArgs {
    /// Case files, or folders of them; left out, the usual folder
    #[arg(value_name = "CASES")]
    cases: Vec<PathBuf>,
    /// Show this table, whole (may be repeated)
    #[arg(long = "table", value_name = "TABLE", value_parser = TABLES, hide_possible_values = true)]
    tables: Vec<String>,
    /// text, html, json or csv
    #[arg(
        long,
        value_name = "FORM",
        default_value = "text",
        hide_default_value = true,
        hide_possible_values = true,
        value_parser = Format::among(&[Format::Text, Format::Html, Format::Json, Format::Csv])
    )]
    format: Format,
    /// Write to this file instead of the screen
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Cases opened in this month or on this day or later
    #[arg(long, value_name = "YYYY-MM[-DD]")]
    from: Option<String>,
    /// Cases opened before this month or day
    #[arg(long, value_name = "YYYY-MM[-DD]")]
    until: Option<String>,
    /// Cases with this complaint
    #[arg(long, value_name = "ID")]
    complaint: Option<String>,
    /// Cases on this equipment
    #[arg(long, value_name = "ID")]
    equipment: Option<String>,
    /// Cases closed with this cause, or `not-listed`
    #[arg(long, value_name = "ID")]
    cause: Option<String>,
    /// Cases this technician was the last to work on, by words of the name
    #[arg(long, value_name = "NAME")]
    technician: Option<String>,
    /// Cases with these words in the place or unit
    #[arg(long, value_name = "WORDS")]
    place: Option<String>,
    /// Cases that got so far: open, concluded, repaired, proved, closed, guessed (closed by a guess) or halted (stopped for safety)
    #[arg(long, value_parser = word::<Reached>(), value_name = "STAGE", hide_possible_values = true)]
    stage: Option<Reached>,
    /// Read every file, and keep no index
    #[arg(long)]
    no_index: bool,
    /// Draw no bars: for screen readers
    #[arg(long)]
    no_bars: bool,
    #[command(flatten)]
    knowledge: Folder,
}

/// Runs the command. It ends with [`Done::Findings`] when some files were not counted.
///
/// # Errors
/// When an option makes no sense, or the result cannot be written.
pub(super) fn run(args: &ReviewArgs) -> Result<Done, Problem> {
    let knowledge = args.knowledge.load()?;
    let filter = filter(args, knowledge)?;
    if args.format == Format::Csv && (args.tables.len() != 1 || args.tables[0] == review::ALL) {
        return Err(Problem::usage("CSV holds one table").hint("name it: `--table cause --format csv`"));
    }
    let paths = match args.cases.as_slice() {
        [] => vec![places::usual_folder()?],
        given => given.to_vec(),
    };
    let mut left_out = Vec::new();
    let files = closed_cases::files(&paths, &mut left_out);
    let place = if args.no_index { None } else { index_place(&paths) };
    let index = place
        .as_deref()
        .map_or_else(|| Index::new(knowledge), |place| load_index(place, knowledge));
    let progress = Progress::new("cases read", files.len());
    let mut gathered = review::read(&files, index, &|number| progress.more(number));
    progress.finish();
    if let (Some(place), Some(bytes)) = (&place, gathered.index.take()) {
        keep_index(place, &bytes);
    }
    gathered
        .broken
        .extend(left_out.into_iter().map(|why| review::Broken {
            path: PathBuf::new(),
            why,
        }));
    if gathered.cases() == 0 && gathered.broken.is_empty() {
        let looked: Vec<String> = paths.iter().map(|path| path.display().to_string()).collect();
        return Err(
            Problem::data(format!("there is no case in {}", looked.join(", ")))
                .hint("`lineside invent 500 --out invented/` makes some to try this with"),
        );
    }
    let every_case = args.tables.iter().any(|id| id == "case");
    let review = Review::new(knowledge, gathered, &filter, every_case);
    put(args, &review)?;
    Ok(if review.broken.is_empty() {
        Done::Well
    } else {
        Done::Findings
    })
}

fn put(args: &ReviewArgs, review: &Review) -> Result<(), Problem> {
    let text = match args.format {
        Format::Html => review::page(review),
        Format::Json => format!("{:#}\n", review::json(review)),
        Format::Csv => args
            .tables
            .first()
            .and_then(|id| review.table(id))
            .map(review::csv)
            .unwrap_or_default(),
        _ => {
            let bars = !args.no_bars && !settings::held().plain_screen.unwrap_or_default();
            review::text(review, &args.tables, bars)
        }
    };
    match &args.out {
        Some(file) => {
            files::write_whole(file, &text)?;
            print(&format!(
                "{} cases reviewed in {}\n",
                review.scope.cases,
                file.display()
            ))
        }
        // A carriage return ends a line of CSV and is no steering there; words of a case were made visible before.
        None => print(&text),
    }
}

fn filter(args: &ReviewArgs, knowledge: &Knowledge) -> Result<Filter, Problem> {
    let known = |what: &str, id: &Option<String>, ids: &[&str]| match id {
        Some(id) if !ids.contains(&id.as_str()) => {
            Err(Problem::usage(unknown(what, id, ids.iter().copied())))
        }
        _ => Ok(()),
    };
    let complaints: Vec<&str> = knowledge
        .complaints()
        .iter()
        .map(|(tree, _)| tree.id.as_str())
        .collect();
    let equipment: Vec<&str> = knowledge.equipment.iter().map(|kind| kind.id.as_str()).collect();
    let causes = knowledge.causes.iter().map(|cause| cause.id.as_str());
    known("complaint", &args.complaint, &complaints)?;
    known("equipment", &args.equipment, &equipment)?;
    known(
        "cause",
        &args.cause,
        &causes.chain([NOT_LISTED]).collect::<Vec<_>>(),
    )?;
    let from = args.from.as_deref().map(first_second).transpose()?;
    let until = args.until.as_deref().map(first_second).transpose()?;
    if from.zip(until).is_some_and(|(from, until)| from >= until) {
        return Err(
            Problem::usage("`--until` is not after `--from`, so no case can be between them")
                .hint("`--until` is the first day that does not count any more"),
        );
    }
    Ok(Filter {
        from,
        until,
        complaint: args.complaint.clone(),
        equipment: args.equipment.clone(),
        cause: args.cause.clone(),
        technician: args.technician.clone(),
        place: args.place.clone(),
        reached: args.stage,
    })
}

/// The first second of a month or a day, in UTC as the months of the review are.
fn first_second(text: &str) -> Result<i64, Problem> {
    let day = if text.len() == 7 {
        format!("{text}-01")
    } else {
        text.to_owned()
    };
    let moment = day
        .parse::<Date>()
        .and_then(|day| day.to_zoned_datetime(TimeZone::UTC))
        .map(|at| Timestamp::as_second(at.timestamp()));
    moment.map_err(|_| {
        Problem::usage(format!(
            "`{text}` is no month or day, expected such as 2025-06 or 2025-06-15"
        ))
    })
}

/// Where the index of some paths is kept by the conventions of the platform; nothing where there is no such place, and
/// then every file is read.
fn index_place(paths: &[PathBuf]) -> Option<PathBuf> {
    use std::hash::Hasher;
    let strategy = etcetera::choose_base_strategy().ok()?;
    let mut hasher = rustc_hash::FxHasher::default();
    for path in paths {
        let real = fs::canonicalize(path).ok()?;
        hasher.write(real.as_os_str().as_encoded_bytes());
        hasher.write_u8(0);
        // Files are known by the path they are found under.
        hasher.write(path.as_os_str().as_encoded_bytes());
        hasher.write_u8(0);
    }
    let name = format!("{:016x}.index", hasher.finish());
    Some(strategy.cache_dir().join("lineside").join("review").join(name))
}

fn load_index(place: &Path, knowledge: &Knowledge) -> Index {
    let bytes = files::read(place, LARGEST_INDEX);
    bytes.map_or_else(
        |_| Index::new(knowledge),
        |bytes| Index::from_bytes(&bytes, knowledge),
    )
}

/// Keeps the index; where it cannot be kept, the next run takes longer, and that is all.
fn keep_index(place: &Path, bytes: &[u8]) {
    if let Some(folder) = place.parent()
        && files::create_private_folder(folder).is_ok()
    {
        let _ = files::write_bytes_whole(place, bytes);
    }
}
