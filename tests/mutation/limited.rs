//! One run of the program under limits, and what is wrong with its end.

use std::fs::{self, File};
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::process::{Command, ExitStatus, Stdio};
use std::time::{Duration, Instant};

use nix::sys::resource::{UsageWho, getrusage};
use nix::sys::time::TimeValLike;

use super::subjects::Trial;

/// Processor time each run may take. The system counts whole seconds and ends what goes beyond.
const CPU_SECONDS: u32 = 2;
/// 200 MB of address space, in the kilobytes of `ulimit`.
const KILOBYTES: u32 = 200_000_000 / 1024;
/// A run that takes no processor time and does not end waits for something that never comes.
const PATIENCE: Duration = Duration::from_secs(120);
/// Nobody reads an answer longer than this.
const LONGEST_OUTPUT: u64 = 32_000_000;

/// What all ended children of this process have used.
pub(crate) struct Cost {
    pub(crate) cpu_seconds: f64,
    pub(crate) most_megabytes: f64,
}

impl Cost {
    pub(crate) fn of_children() -> Self {
        let usage = getrusage(UsageWho::RUSAGE_CHILDREN).expect("the system counts");
        let microseconds = usage.user_time().num_microseconds() + usage.system_time().num_microseconds();
        Self {
            cpu_seconds: microseconds as f64 / 1e6,
            most_megabytes: usage.max_rss() as f64 * 1024.0 / 1e6,
        }
    }
}

/// How a run ended.
pub(crate) struct End {
    /// The exit code, or what is wrong.
    pub(crate) verdict: Result<i32, String>,
    /// What was said on both streams.
    pub(crate) said: String,
    pub(crate) cpu_seconds: f64,
}

pub(crate) fn run(trial: &Trial, binary: &Path, folder: &Path) -> End {
    let before = Cost::of_children().cpu_seconds;
    let (out, err) = (folder.join("stdout"), folder.join("stderr"));
    let into = |path: &Path| Stdio::from(File::create(path).expect("a file for the output"));
    let limits = format!("ulimit -S -t {CPU_SECONDS}; ulimit -v {KILOBYTES}; exec \"$0\" \"$@\"");
    fs::write(folder.join("stdin"), &trial.typed).expect("a file for the input");
    let mut child = Command::new("sh")
        .args(["-c", &limits])
        .arg(binary)
        .args(&trial.arguments)
        .env_clear()
        .env("HOME", folder)
        .current_dir(folder)
        .stdin(File::open(folder.join("stdin")).expect("the input"))
        .stdout(into(&out))
        .stderr(into(&err))
        .spawn()
        .expect("the program starts");
    let started = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().expect("it can be waited for") {
            break Some(status);
        }
        if started.elapsed() > PATIENCE {
            child.kill().expect("it can be ended");
            child.wait().expect("it ends");
            break None;
        }
        std::thread::sleep(Duration::from_millis(1));
    };
    let length = |path: &Path| fs::metadata(path).map_or(0, |about| about.len());
    let too_long = length(&out) > LONGEST_OUTPUT || length(&err) > LONGEST_OUTPUT;
    let text = |path: &Path| String::from_utf8_lossy(&fs::read(path).unwrap_or_default()).into_owned();
    let said = if too_long {
        "(too long)".to_owned()
    } else {
        text(&err) + &text(&out)
    };
    let fault = match status {
        None => Some(format!("waited {} s", PATIENCE.as_secs())),
        Some(_) if too_long => Some("endless output".to_owned()),
        Some(status) => fault(status, &said),
    };
    let cpu_seconds = Cost::of_children().cpu_seconds - before;
    // The system ends what goes beyond the limit by a coarser count than the one it gives afterwards.
    let fault = fault.or_else(|| (cpu_seconds > f64::from(CPU_SECONDS)).then(too_slow));
    End {
        verdict: match fault {
            Some(fault) => Err(fault),
            None => Ok(status.and_then(|status| status.code()).unwrap_or_default()),
        },
        said,
        cpu_seconds,
    }
}

fn too_slow() -> String {
    format!("more than {CPU_SECONDS} s of processor time")
}

fn fault(status: ExitStatus, said: &str) -> Option<String> {
    const XCPU: i32 = 24;
    if said.contains("memory allocation of") {
        return Some("more than 200 MB".to_owned());
    }
    if said.contains("has overflowed its stack") {
        return Some("stack overflow".to_owned());
    }
    if said.contains("panicked at") {
        return Some("panic".to_owned());
    }
    match (status.code(), status.signal()) {
        (Some(0), _) => None,
        (Some(1 | 2), _) if said.trim().is_empty() => Some("failed without a word".to_owned()),
        (Some(1 | 2), _) => None,
        (Some(code), _) => Some(format!("exit code {code}")),
        (None, Some(XCPU)) => Some(too_slow()),
        (None, signal) => Some(format!("ended by signal {}", signal.unwrap_or_default())),
    }
}
