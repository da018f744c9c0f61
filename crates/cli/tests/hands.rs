//! Several hands on one project, and outputs that lie where something is: nothing is
//! lost, nothing is written over unasked.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::{Folder, asset};
use hangtrue_files::project::{self, ProjectError};
use std::fs;
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// Pairs of edits made at once; more by the environment, as `HANGTRUE_PAIRS=1000`.
fn pairs() -> usize {
    std::env::var("HANGTRUE_PAIRS").ok().and_then(|n| n.parse().ok()).unwrap_or(20)
}

fn begin_edit(folder: &Folder, args: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_hangtrue"))
        .args(args)
        .current_dir(&folder.0)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

fn notes(folder: &Folder, project: &str) -> Vec<String> {
    let document = project::load(&folder.path(project)).unwrap();
    document.journal.notes.iter().map(|n| n.text.clone()).collect()
}

#[test]
fn edits_by_two_commands_at_once_both_stand() {
    let folder = Folder::new("hands");
    folder.begin("p.ron");
    for pair in 0..pairs() {
        let (note, name) = (format!("note {pair}"), format!("seat {pair}"));
        let mut hands = [
            begin_edit(&folder, &["note", "p.ron", "--seen", &note]),
            begin_edit(
                &folder,
                &["correct", "p.ron", "full seat", "--amount", "1 mm", "--called", &name],
            ),
        ];
        assert!(hands.iter_mut().all(|hand| hand.wait().unwrap().success()), "pair {pair}");
        let document = project::load(&folder.path("p.ron")).unwrap();
        assert!(document.journal.notes.iter().any(|n| n.text == note), "the note of {pair}");
        assert!(document.changes.iter().any(|c| c.name == name), "the change of {pair}");
        // The list is kept short, so that a thousand pairs take no longer than they must.
        if document.changes.len() > 8 {
            fs::remove_file(folder.path("p.ron")).unwrap();
            folder.begin("p.ron");
        }
    }
    assert_eq!(fs::read_dir(&folder.0).unwrap().count(), 1, "nothing is left beside");
}

#[test]
fn ten_notes_at_once_all_stand() {
    let folder = Folder::new("ten");
    folder.begin("p.ron");
    let texts: Vec<String> = (0..10).map(|i| format!("note {i}")).collect();
    let hands: Vec<Child> =
        texts.iter().map(|text| begin_edit(&folder, &["note", "p.ron", "--seen", text])).collect();
    for mut hand in hands {
        assert!(hand.wait().unwrap().success());
    }
    let mut found = notes(&folder, "p.ron");
    found.sort();
    assert_eq!(found, texts);
}

/// The desk saves by `Held::save`; a command writes the same project meanwhile.
/// Either both edits stand, or the desk is told and saves nothing over the other's.
#[test]
fn what_a_command_saves_while_the_desk_has_the_project_is_never_lost_unsaid() {
    let folder = Folder::new("desk-and-command");
    folder.begin("p.ron");
    let path = folder.path("p.ron");
    let (mut refused, mut saved) = (0, 0);
    for pair in 0..pairs() {
        let note = format!("note {pair}");
        let (mut document, mut held) = project::open(&path).unwrap();
        let mut command = begin_edit(&folder, &["note", "p.ron", "--seen", &note]);
        // Sometimes the command is first, sometimes the desk.
        std::thread::sleep(std::time::Duration::from_millis((pair * 7 % 60) as u64));
        document.title = format!("Trousers {pair}");
        let is_saved = match held.save(&document) {
            Ok(()) => true,
            Err(ProjectError::ChangedMeanwhile { .. }) => false,
            Err(other) => panic!("{other}"),
        };
        assert!(command.wait().unwrap().success());
        let now = project::load(&path).unwrap();
        assert!(now.journal.notes.iter().any(|n| n.text == note), "the note of {pair}");
        assert_eq!(now.title == document.title, is_saved, "the title of {pair}");
        if is_saved { saved += 1 } else { refused += 1 }
    }
    println!("{saved} saved by the desk, {refused} refused in words");
    assert_eq!(saved + refused, pairs());
}

/// Every output of every verb: what is there stays, with `--replace` it goes, and a
/// project stays in any case.
#[test]
fn nothing_that_is_there_is_written_over_unasked_and_a_project_never() {
    let folder = Folder::new("over");
    folder.begin("p.ron");
    folder.good(&["mark", "p.ron", "--usual"]);
    folder.good(&["send", "p.ron", "--out", "p.svg"]);
    fs::copy(asset("assets/demo/measures.ron"), folder.path("m.ron")).unwrap();
    folder.begin("other.ron");
    let other = folder.read("other.ron");
    let table = asset("tests/data/ansur2_trousers_dev.csv");
    let short: String =
        fs::read_to_string(table).unwrap().lines().take(3).map(|l| format!("{l}\n")).collect();
    folder.write("t.csv", short);
    let columns = asset("assets/columns/ansur2.ron");
    let verbs: &[&[&str]] = &[
        &["print", "p.ron", "--out"],
        &["journal", "p.ron", "--out"],
        &["batch", "t.csv", "--columns", &columns, "--out"],
        &["hand-on", "p.ron", "--out"],
        &["bring", "p.svg", "--accept", "--start"],
        &["begin", "--measures", "m.ron"],
    ];
    for verb in verbs {
        let to = |name: &str, more: &[&str]| {
            let args = [verb, &[name][..], more].concat();
            folder.hangtrue(&args)
        };
        folder.write("there", "a list of cloth to buy");
        let said = to("there", &[]);
        let complaint = String::from_utf8_lossy(&said.stderr).into_owned();
        assert!(
            !said.status.success() && complaint.contains("already there"),
            "{verb:?}: {complaint}"
        );
        assert_eq!(folder.read("there"), "a list of cloth to buy", "{verb:?}");
        let said = to("there", &["--replace"]);
        assert!(said.status.success(), "{verb:?}: {}", String::from_utf8_lossy(&said.stderr));
        assert_ne!(fs::read(folder.path("there")).unwrap(), b"a list of cloth to buy", "{verb:?}");
        for more in [&[][..], &["--replace"][..]] {
            let said = to("other.ron", more);
            let complaint = String::from_utf8_lossy(&said.stderr).into_owned();
            assert!(
                !said.status.success() && complaint.contains("is a project"),
                "{verb:?}: {complaint}"
            );
            assert_eq!(folder.read("other.ron"), other, "{verb:?}");
        }
        fs::remove_file(folder.path("there")).unwrap();
    }
}

/// Outputs of verbs that read photos or write several files; what they would do is
/// asked before anything is done, so it is refused although the photo is none.
#[test]
fn a_project_survives_a_tracing_and_a_demo() {
    let folder = Folder::new("survives");
    folder.begin("p.ron");
    let before = folder.read("p.ron");
    folder.write("card.png", "no picture");
    for option in ["--save-job", "--look", "--straight", "--start"] {
        for more in [&[][..], &["--replace"][..]] {
            let args = [
                "trace",
                "card.png",
                "--sheet",
                "A4",
                "--marks",
                "1,1 9,1 9,9 1,9",
                option,
                "p.ron",
            ];
            let said = folder.refused(&[&args[..], more].concat());
            assert!(said.contains("is a project"), "{option}: {said}");
            assert_eq!(folder.read("p.ron"), before, "{option}");
        }
    }
    fs::create_dir(folder.path("out")).unwrap();
    folder.write("out/report.pdf", "a letter");
    assert!(folder.refused(&["demo", "out"]).contains("already there"));
    assert_eq!(folder.read("out/report.pdf"), "a letter");
    assert_eq!(fs::read_dir(folder.path("out")).unwrap().count(), 1, "and nothing beside it");
}

#[cfg(unix)]
#[test]
fn a_project_that_may_only_be_read_is_not_replaced() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::new("read-only");
    folder.begin("p.ron");
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    fs::set_permissions(folder.path("p.ron"), fs::Permissions::from_mode(0o640)).unwrap();
    folder.good(&["note", "p.ron", "--seen", "one"]);
    assert_eq!(mode(&folder.path("p.ron")), 0o640, "its rights are kept");
    fs::set_permissions(folder.path("p.ron"), fs::Permissions::from_mode(0o440)).unwrap();
    let before = folder.read("p.ron");
    assert!(folder.refused(&["note", "p.ron", "--seen", "two"]).contains("may only be read"));
    assert_eq!(folder.read("p.ron"), before);
}
