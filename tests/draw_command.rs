//! `lineside trees draw` as a person runs it: what is written where, and how it exits.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

fn draw(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(["trees", "draw"])
        .args(arguments)
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")))
        .env_clear()
        .output()
        .unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

#[test]
fn a_tree_is_a_picture_on_the_standard_output() {
    let output = draw(&["safety"]);
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty());
    let picture = text(&output.stdout);
    assert!(picture.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\""));
    assert!(picture.ends_with("</svg>\n"));
}

#[test]
fn a_file_is_written_whole_and_nothing_is_printed() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("safety.svg");
    fs::write(&file, "an older picture").unwrap();
    let output = draw(&["safety", "-o", file.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert!(output.stdout.is_empty());
    assert_eq!(
        fs::read_to_string(&file).unwrap(),
        text(&draw(&["safety"]).stdout)
    );
    assert_eq!(
        fs::read_dir(folder.path()).unwrap().count(),
        1,
        "nothing is left over"
    );
}

#[test]
fn everything_is_one_page_and_dot_is_a_graph() {
    let page = text(&draw(&["--all"]).stdout);
    assert!(page.starts_with("<!DOCTYPE html>"));
    assert!(page.ends_with("</html>\n"));
    let graph = text(&draw(&["safety", "--format", "dot"]).stdout);
    assert!(graph.starts_with("digraph \"safety\" {\n"));
    assert!(graph.ends_with("}\n"));
}

#[test]
fn another_folder_is_drawn_in_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let shown = |folder: &Path| text(&draw(&["protection", "--trees", folder.to_str().unwrap()]).stdout);
    let copy = |from: &Path, to: &Path| {
        fs::create_dir_all(to).unwrap();
        for entry in fs::read_dir(from).unwrap() {
            let path = entry.unwrap().path();
            if path.is_file() {
                fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
            }
        }
    };
    let trees = Path::new(env!("CARGO_MANIFEST_DIR")).join("trees");
    copy(&trees, folder.path());
    for entry in fs::read_dir(&trees).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            copy(&path, &folder.path().join(path.file_name().unwrap()));
        }
    }
    assert_eq!(shown(folder.path()), text(&draw(&["protection"]).stdout));
    let file = folder.path().join("protection.toml");
    let edited = fs::read_to_string(&file)
        .unwrap()
        .replace("[tree]\n", "[tree]\n# an edited copy\n");
    fs::write(
        &file,
        edited + "\n[node.added-by-hand]\nhalt = \"Leave it off.\"\ncall = \"Help.\"\n",
    )
    .unwrap();
    assert!(shown(folder.path()).contains("added-by-hand"));
}

#[test]
fn a_tree_there_is_not_gets_the_nearest_one_named() {
    let output = draw(&["saftey"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(output.stdout.is_empty());
    assert_eq!(
        text(&output.stderr),
        "error: no tree `saftey` (did you mean `safety`?)\n"
    );
}

#[test]
fn a_file_that_cannot_be_written_is_named() {
    let output = draw(&["safety", "-o", "no/such/folder/safety.svg"]);
    assert_eq!(output.status.code(), Some(1));
    let said = text(&output.stderr);
    assert!(
        said.starts_with("error: cannot write `no/such/folder/safety.svg`: "),
        "{said}"
    );
}

#[test]
fn what_does_not_go_together_is_wrong_usage() {
    for arguments in [
        &[][..],
        &["safety", "--all"],
        &["--all", "--format", "dot"],
        &["safety", "--format", "png"],
    ] {
        assert_eq!(draw(arguments).status.code(), Some(2), "{arguments:?}");
    }
}

#[test]
fn a_tree_fits_the_window_with_its_start_at_the_top() {
    let picture = text(&draw(&["breaker-opens"]).stdout);
    let head = picture.lines().next().unwrap();
    assert!(
        head.contains("width=\"100%\" preserveAspectRatio=\"xMidYMin meet\""),
        "{head}"
    );
    // A height of its own would make the browser show it at its full width, with the start beside the window.
    assert!(!head.contains(" height="), "{head}");
    assert!(picture.contains("svg:root { display: block; width: 100%; max-width:"));
}
