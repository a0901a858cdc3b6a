//! Files on the person's disk: what is refused as input, and what is not done to what stands where output goes.

#![cfg(unix)]

use std::fs::{self, File, Permissions};
use std::os::unix::fs::{FileTypeExt, PermissionsExt, symlink};
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use tempfile::TempDir;

/// Longer than any of these takes on a loaded machine; what does not end in this time waits for ever.
const PATIENCE: Duration = Duration::from_secs(60);

/// Runs the program in a shell, which may set a mask or a limit, and ends it when it waits for ever.
fn lineside_in(home: &Path, shell: &str, args: &[&str]) -> Output {
    let mut child = Command::new("sh")
        .args([
            "-c",
            &format!("{shell} exec \"$0\" \"$@\""),
            env!("CARGO_BIN_EXE_lineside"),
        ])
        .args(args)
        .env_clear()
        .env("HOME", home)
        .current_dir(home)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let started = Instant::now();
    while child.try_wait().expect("it can be waited for").is_none() {
        if started.elapsed() > PATIENCE {
            child.kill().expect("it can be ended");
            child.wait().expect("it ends");
            panic!("{args:?} waits for ever");
        }
        std::thread::sleep(Duration::from_millis(5));
    }
    child.wait_with_output().expect("its output")
}

fn lineside(home: &TempDir, args: &[&str]) -> Output {
    lineside_in(home.path(), "", args)
}

/// Exit code and error output.
fn refused(home: &TempDir, args: &[&str]) -> String {
    let output = lineside(home, args);
    let error = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1), "{args:?}: {error}");
    assert!(!error.contains("panicked"), "{error}");
    error
}

const ANSWERS: &str = "complaint = \"breaker-opens\"\nequipment = \"split-air-conditioner\"\n";

fn home() -> TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    fs::write(home.path().join("answers.toml"), ANSWERS).expect("written");
    home
}

fn pipe(path: &Path) {
    let made = Command::new("mkfifo").arg(path).status().expect("mkfifo runs");
    assert!(made.success());
}

/// Every place where the program takes a file, with this file in it.
fn inputs(file: &str) -> Vec<Vec<&str>> {
    vec![
        vec!["diagnose", "--answers", file],
        vec!["diagnose", "--answers", "answers.toml", "--shop", file],
        vec!["diagnose", "--case", file],
        vec!["close", "--case", file, "--cause", "not-listed"],
        vec!["learn", file, "--out", "shop.toml"],
    ]
}

#[test]
fn pipes_devices_and_folders_are_no_input() {
    let home = home();
    pipe(&home.path().join("pipe.toml"));
    fs::create_dir(home.path().join("folder")).expect("made");
    for (file, found) in [
        ("pipe.toml", "a pipe"),
        ("/dev/zero", "a device"),
        ("folder", "a folder"),
    ] {
        for args in inputs(file) {
            // A folder of cases is what `learn` is for.
            if file == "folder" && args[0] == "learn" {
                continue;
            }
            let error = refused(&home, &args);
            assert!(
                error.contains(&format!("`{file}` is {found}")) && error.contains("hint: "),
                "{args:?}: {error}"
            );
        }
    }
    assert!(!home.path().join("shop.toml").exists());
}

#[test]
fn files_beyond_their_limit_are_refused_unread_with_the_limit() {
    let home = home();
    let large = File::create(home.path().join("large")).expect("made");
    // Mostly a hole, so that it costs nothing on the disk.
    large.set_len(3_000_000_000).expect("made large");
    for args in inputs("large") {
        let error = refused(&home, &args);
        assert!(
            error.contains("`large` has 3000000000 bytes or more, expected at most ")
                && error.contains("hint: "),
            "{args:?}: {error}"
        );
    }
}

/// What says it has no byte and has many: the limit must hold for what is read.
#[cfg(target_os = "linux")]
#[test]
fn a_file_that_hides_its_size_is_read_up_to_the_limit() {
    use lineside::files::{Limit, ReadError, read};
    let limit = Limit {
        what: "a test",
        bytes: 10,
    };
    let path = Path::new("/proc/self/status");
    assert_eq!(fs::metadata(path).expect("there").len(), 0);
    match read(path, limit) {
        Err(ReadError::TooLarge { size: 11, .. }) => {}
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_knowledge_folder_with_a_pipe_or_a_device_in_it_is_told_and_ends() {
    let home = home();
    let folder = home.path().join("trees");
    fs::create_dir_all(folder.join("causes")).expect("made");
    pipe(&folder.join("causes/pipe.toml"));
    symlink("/dev/zero", folder.join("causes/zero.toml")).expect("linked");
    let output = lineside(&home, &["trees", "check", "--trees", "trees"]);
    let said =
        String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(
        said.contains("pipe.toml` is a pipe") && said.contains("zero.toml` is a device"),
        "{said}"
    );
}

#[test]
fn a_link_the_person_names_leads_to_the_answers() {
    let home = home();
    symlink("answers.toml", home.path().join("link.toml")).expect("linked");
    let output = lineside(&home, &["diagnose", "--answers", "link.toml"]);
    assert!(output.status.success(), "{output:?}");
}

fn mode(path: &Path) -> u32 {
    fs::metadata(path).expect("there").permissions().mode() & 0o7777
}

const DRAW: [&str; 4] = ["trees", "draw", "safety", "-o"];

fn draw(home: &TempDir, shell: &str, to: &str) -> Output {
    let args: Vec<&str> = DRAW.into_iter().chain([to]).collect();
    lineside_in(home.path(), shell, &args)
}

#[test]
fn output_replaces_no_link_no_pipe_no_folder_and_nothing_protected() {
    let home = home();
    let at = |name: &str| home.path().join(name);
    fs::write(at("victim"), "precious").expect("written");
    symlink("victim", at("link")).expect("linked");
    symlink("nowhere", at("dangling")).expect("linked");
    pipe(&at("pipe"));
    fs::create_dir(at("folder")).expect("made");
    fs::write(at("protected"), "precious").expect("written");
    fs::set_permissions(at("protected"), Permissions::from_mode(0o444)).expect("set");
    for (to, found) in [
        ("link", "is a link"),
        ("dangling", "is a link"),
        ("pipe", "is a pipe"),
        ("folder", "is a folder"),
        ("protected", "is write-protected"),
    ] {
        let output = draw(&home, "", to);
        let error = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{to}: {error}");
        assert!(
            error.contains(to) && error.contains(found) && error.contains("hint: "),
            "{to}: {error}"
        );
    }
    assert_eq!(fs::read_to_string(at("victim")).expect("there"), "precious");
    assert_eq!(fs::read_to_string(at("protected")).expect("there"), "precious");
    assert!(fs::symlink_metadata(at("link")).expect("there").is_symlink());
    assert!(fs::metadata(at("pipe")).expect("there").file_type().is_fifo());
    assert!(!at("nowhere").exists());
    let left = fs::read_dir(home.path()).expect("read").count();
    assert_eq!(left, 7, "something was left behind");
}

#[test]
fn output_keeps_the_mode_of_what_it_replaces_and_a_new_file_obeys_the_mask() {
    let home = home();
    let at = |name: &str| home.path().join(name);
    for kept in [0o600, 0o640, 0o664] {
        fs::write(at("old.svg"), "old").expect("written");
        fs::set_permissions(at("old.svg"), Permissions::from_mode(kept)).expect("set");
        assert!(draw(&home, "umask 022;", "old.svg").status.success());
        assert_eq!(mode(&at("old.svg")), kept);
        assert!(fs::read_to_string(at("old.svg")).expect("text").contains("<svg"));
    }
    assert!(draw(&home, "umask 027;", "new.svg").status.success());
    assert_eq!(mode(&at("new.svg")), 0o640);
}

/// A name somebody can foresee is a name somebody can put a link under.
#[test]
fn output_writes_through_no_name_that_can_be_foreseen() {
    let home = home();
    let at = |name: &str| home.path().join(name);
    fs::write(at("victim"), "precious").expect("written");
    for name in ["tree.svg.new", "tree.svg.tmp", ".tree.svg.new", "tree.svg~"] {
        symlink("victim", at(name)).expect("linked");
    }
    assert!(draw(&home, "", "tree.svg").status.success());
    assert_eq!(fs::read_to_string(at("victim")).expect("there"), "precious");
    assert!(
        fs::symlink_metadata(at("tree.svg.new"))
            .expect("there")
            .is_symlink()
    );
    assert!(fs::symlink_metadata(at("tree.svg")).expect("there").is_file());
}

#[test]
fn cases_and_their_folders_are_for_the_person_alone_whatever_the_mask() {
    for mask in ["000", "022", "777"] {
        let home = home();
        let shell = format!("umask {mask};");
        for args in [
            vec![
                "diagnose",
                "--answers",
                "answers.toml",
                "--case",
                "new/deep/case.jsonl",
            ],
            vec!["diagnose"],
        ] {
            lineside_in(home.path(), &shell, &args);
        }
        let own = home.path().join(".local/share/lineside/cases");
        let mut cases: Vec<_> = fs::read_dir(&own)
            .expect("it was made")
            .map(|entry| entry.expect("read").path())
            .collect();
        assert_eq!(cases.len(), 1);
        cases.push(home.path().join("new/deep/case.jsonl"));
        for case in cases {
            assert_eq!(mode(&case), 0o600, "mask {mask}: {}", case.display());
            let folders = case
                .ancestors()
                .skip(1)
                .take_while(|folder| *folder != home.path());
            for folder in folders {
                assert_eq!(mode(folder), 0o700, "mask {mask}: {}", folder.display());
            }
        }
    }
}

#[test]
fn links_in_the_data_folder_are_not_followed() {
    let home = home();
    let at = |name: &str| home.path().join(name);
    fs::create_dir_all(at("elsewhere/cases")).expect("made");
    fs::create_dir_all(at(".local/share/lineside")).expect("made");
    symlink(at("elsewhere/cases"), at(".local/share/lineside/cases")).expect("linked");
    let error = refused(&home, &["diagnose"]);
    assert!(error.contains("is a link and is not followed"), "{error}");
    fs::remove_dir_all(at(".local/share/lineside")).expect("deleted");
    symlink(at("elsewhere"), at(".local/share/lineside")).expect("linked");
    let error = refused(&home, &["diagnose"]);
    assert!(error.contains("is a link and is not followed"), "{error}");
    assert_eq!(fs::read_dir(at("elsewhere/cases")).expect("read").count(), 0);
    // Nor is a case file that is a link, whether or not it leads anywhere.
    fs::write(at("precious.jsonl"), "").expect("written");
    symlink("precious.jsonl", at("link.jsonl")).expect("linked");
    symlink("nowhere.jsonl", at("dangling.jsonl")).expect("linked");
    for case in ["link.jsonl", "dangling.jsonl"] {
        let error = refused(&home, &["--case", case]);
        assert!(error.contains("is a link") && error.contains("hint: "), "{error}");
    }
    assert_eq!(fs::read(at("precious.jsonl")).expect("there"), b"");
    assert!(!at("nowhere.jsonl").exists());
}
