//! Spoiled input of every kind, put into the real program by the thousand: it must neither panic, nor hang, nor fill
//! the memory, nor fail without a word.
//!
//! ```text
//! cargo test --test mutation                                       a short run
//! cargo test --release --test mutation -- --cpu-minutes 15         a long one
//! cargo test --test mutation -- --from 4711 --count 1              one input again
//! cargo test --test mutation -- --binary target/release/lineside   with a program built before
//! ```
//! Input number N is spoiled in the same way in every run, but cases, which are made anew, carry other times. Each gets
//! 2 s of processor time (the time on the wall says nothing on a busy machine) and 200 MB of address space, which also
//! bounds what is resident. What fails is kept, with the command, under `target/tmp/mutation/N/`.

#![expect(clippy::print_stdout, reason = "what it found is what this program is for")]

#[cfg(target_os = "linux")]
mod limited;
#[cfg(target_os = "linux")]
mod small;
#[cfg(target_os = "linux")]
mod spoil;
#[cfg(target_os = "linux")]
mod subjects;

use std::path::PathBuf;
use std::process::ExitCode;

/// Inputs of the short run: a fixed number, so that it puts the same question on every machine.
const SHORT: u64 = 150;

/// What was typed.
struct Wanted {
    binary: PathBuf,
    /// When to stop, whatever the count.
    cpu_seconds: f64,
    from: u64,
    count: u64,
}

fn main() -> ExitCode {
    let Some(wanted) = wanted() else {
        return ExitCode::SUCCESS;
    };
    run(&wanted)
}

/// Reads the arguments; nothing when the test runner asks for other tests.
fn wanted() -> Option<Wanted> {
    let mut wanted = Wanted {
        binary: PathBuf::from(env!("CARGO_BIN_EXE_lineside")),
        cpu_seconds: f64::INFINITY,
        from: 0,
        count: SHORT,
    };
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        let mut value = || arguments.next().unwrap_or_default();
        let mut figure = || {
            let text = value();
            text.parse::<f64>()
                .unwrap_or_else(|_| panic!("`{argument}` takes a number, found `{text}`"))
        };
        match argument.as_str() {
            "--cpu-minutes" => {
                wanted.cpu_seconds = figure() * 60.0;
                wanted.count = u64::MAX;
            }
            "--from" => wanted.from = figure() as u64,
            "--count" => wanted.count = figure() as u64,
            "--binary" => {
                let path = PathBuf::from(value());
                wanted.binary = path.canonicalize().expect("`--binary` takes a program");
            }
            "--list" => return None,
            filter if !filter.starts_with('-') && !"mutation".contains(filter) => return None,
            // Options of the usual test runner mean nothing here.
            _ => {}
        }
    }
    Some(wanted)
}

#[cfg(not(target_os = "linux"))]
fn run(_: &Wanted) -> ExitCode {
    println!("mutation: left out, as its limits are those of Linux");
    ExitCode::SUCCESS
}

#[cfg(target_os = "linux")]
fn run(wanted: &Wanted) -> ExitCode {
    use limited::Cost;
    use std::collections::BTreeMap;

    /// Inputs after which a long run says how far it is.
    const TELL_EVERY: u64 = 500;

    let workshop = subjects::Workshop::new(&wanted.binary);
    let mut ends: BTreeMap<&str, BTreeMap<String, u64>> = BTreeMap::new();
    let mut slowest = (0.0, 0);
    let mut largest = (0.0, 0);
    let mut failures = 0;
    let before = Cost::of_children().cpu_seconds;
    let spent = || Cost::of_children().cpu_seconds - before;
    let last = wanted.from.saturating_add(wanted.count);
    let mut number = wanted.from;
    let mut goes_on = true;
    while goes_on {
        let trial = workshop.trial(number);
        let end = limited::run(&trial, &wanted.binary, workshop.folder());
        let told = end
            .verdict
            .as_ref()
            .map_or_else(|fault| fault.clone(), ToString::to_string);
        *ends.entry(trial.kind).or_default().entry(told).or_default() += 1;
        if end.cpu_seconds > slowest.0 {
            slowest = (end.cpu_seconds, number);
        }
        let most = Cost::of_children().most_megabytes;
        if most > largest.0 {
            largest = (most, number);
        }
        if let Err(fault) = &end.verdict {
            let kept = workshop.keep(number, &trial, &end.said);
            println!(
                "{fault}: number {number}, {}, kept with its command in {}\n{}",
                trial.kind,
                kept.display(),
                end.said.chars().take(600).collect::<String>()
            );
            failures += 1;
        }
        workshop.restore(&trial);
        number += 1;
        goes_on = number < last && spent() < wanted.cpu_seconds;
        let tried = number - wanted.from;
        if !goes_on || tried.is_multiple_of(TELL_EVERY) {
            println!(
                "mutation: {tried} inputs from number {} on in {:.0} s of processor time; slowest {:.2} s (number {}); \
                 most memory {:.0} MB (number {}); {failures} failures",
                wanted.from,
                spent(),
                slowest.0,
                slowest.1,
                largest.0,
                largest.1,
            );
        }
    }
    for (kind, by_end) in ends {
        println!("  {kind}: {by_end:?}");
    }
    ExitCode::from(u8::from(failures > 0))
}
