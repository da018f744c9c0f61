//! Left and right apart, pins on one leg, the journal with and without photos.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::{Folder, asset, pages};
use std::process::Command;

/// The number of that measure in a list of compared measures.
fn compared(list: &serde_json::Value, measure: &str) -> (f64, f64) {
    let row = list.as_array().unwrap().iter().find(|r| r["measure"] == measure);
    let row = row.unwrap_or_else(|| panic!("{measure} is not in {list}"));
    (row["before"].as_f64().unwrap(), row["after"].as_f64().unwrap())
}

fn refused(folder: &Folder, args: &[&str]) -> String {
    let output = folder.hangtrue(args);
    assert_eq!(output.status.code(), Some(1), "{args:?}: {output:?}");
    String::from_utf8(output.stderr).unwrap()
}

/// What poppler reads on the pages of a PDF.
fn words(folder: &Folder, pdf: &str) -> String {
    let text = Command::new("pdftotext").arg("-layout").arg(folder.path(pdf)).arg("-").output();
    String::from_utf8(text.expect("pdftotext of poppler-utils").stdout).unwrap()
}

/// The pictures poppler finds in a PDF.
fn pictures(folder: &Folder, pdf: &str) -> usize {
    let list = Command::new("pdfimages").arg("-list").arg(folder.path(pdf)).output();
    let list = String::from_utf8(list.expect("pdfimages of poppler-utils").stdout).unwrap();
    // Two lines of heading.
    list.lines().count().saturating_sub(2)
}

/// A project with its lines marked.
fn marked(name: &str) -> Folder {
    let folder = Folder::new(name);
    folder.marked("p.ron");
    folder
}

#[test]
fn one_leg_is_pinned_changed_walked_compared_and_printed() {
    let folder = marked("uneven");
    let pin = ["pin", "p.ron", "--piece", "back", "--line", "thigh", "--at", "middle=3/8"];
    let early = refused(&folder, &[&pin[..], &["--leg", "left"]].concat());
    assert!(early.contains("hangtrue apart p.ron"), "{early}");
    folder.good(&["close", "p.ron", "--name", "first toile", "--date", "2026-11-25"]);
    let apart = folder.good(&["apart", "p.ron"]);
    assert!(apart.contains("back left, back right, front left, front right"), "{apart}");
    assert!(refused(&folder, &["apart", "p.ron"]).contains("apart already"));
    let compare = folder.json(&["compare", "p.ron", "--json"]);
    for row in compare["measures"].as_array().unwrap() {
        assert_eq!(row["before"], row["after"], "{row}");
    }
    assert!(compare["measures"].as_array().unwrap().len() > 30);

    let pinned = folder.good(&[&pin[..], &["--leg", "left"]].concat());
    assert!(pinned.contains("back left") && pinned.contains("Safety pins"), "{pinned}");
    let weighed = folder.good(&["weigh", "p.ron", "pinch"]);
    assert!(weighed.contains("crotch of the back left"), "{weighed}");
    folder.good(&["accept", "p.ron", "pinch", "--by", "top-and-scoop"]);
    folder.good(&["true", "p.ron"]);
    let compare = folder.json(&["compare", "p.ron", "--json"]);
    let measures = &compare["measures"];
    for seam in ["crotch", "waist", "side", "inseam", "hem"] {
        let (before, after) = compared(measures, &format!("{seam} of the back left"));
        assert!((before - after).abs() < 0.6, "{seam}: {before} {after}");
    }
    let depth = |c: &serde_json::Value, leg: &str| {
        let corners = c["corners"].as_array().unwrap();
        let centre = corners
            .iter()
            .find(|c| c["piece"] == format!("back {leg}") && c["corner"] == "waist at centre");
        centre.unwrap()["distance"].as_f64().unwrap()
    };
    assert!((depth(&compare, "left") - 9.525).abs() < 0.1, "{}", depth(&compare, "left"));
    let walk = folder.json(&["walk", "p.ron", "--json"]);
    assert_eq!(walk["seams"].as_array().unwrap().len(), 6);
    for seam in walk["seams"].as_array().unwrap() {
        assert_eq!(seam["matches"], true, "{seam}");
    }
    let read = folder.good(&["read", "p.ron"]);
    assert!(read.contains("centre back") && read.contains("side seam left"), "{read}");

    let print = ["print", "p.ron", "--paper", "A0", "--out", "p.pdf", "--over", "first toile"];
    folder.good(&print);
    pages(&folder.path("p.pdf"));
    let printed = words(&folder, "p.pdf");
    assert_eq!(printed.matches("LEFT").count(), 2, "{printed}");
    assert_eq!(printed.matches("RIGHT").count(), 2, "{printed}");
    assert_eq!(printed.matches("cut 1, this side up").count(), 4, "{printed}");
    assert!(!printed.contains("pair"), "{printed}");

    let differ = refused(&folder, &["together", "p.ron"]);
    assert!(differ.contains(" in") && differ.contains("waist at centre of the back"), "{differ}");
    folder.good(&["together", "p.ron", "--take", "right"]);
    let compare = folder.json(&["compare", "p.ron", "--json"]);
    let (before, after) = compared(&compare["measures"], "waist of the back");
    assert!((before - after).abs() < 1e-9);
    // Undo by construction: without the last change the legs are apart again.
    folder.good(&["edit", "p.ron", "Both legs as the right one", "--remove"]);
    assert!(folder.good(&["read", "p.ron"]).contains("side seam left"));
}

#[test]
fn a_change_is_moved_to_one_leg_and_back() {
    let folder = marked("legs");
    folder.good(&["apart", "p.ron"]);
    folder.good(&["pin", "p.ron", "--piece", "back", "--line", "thigh", "--at", "middle=1/4"]);
    folder.good(&["accept", "p.ron", "pinch", "--by", "distribute"]);
    let side = |leg: &str| {
        let compare = folder.json(&["compare", "p.ron", "--json"]);
        let (before, after) = compared(&compare["measures"], &format!("side of the back {leg}"));
        before - after
    };
    let (left, right) = (side("left"), side("right"));
    assert!(left > 1.0 && (left - right).abs() < 1e-9);
    folder.good(&["edit", "p.ron", "pinch", "--leg", "left"]);
    assert!((side("left") - left).abs() < 1e-9 && side("right") == 0.0);
    assert!(folder.good(&["list", "p.ron"]).contains("On the left leg"));
    folder.good(&["edit", "p.ron", "pinch", "--leg", "both"]);
    assert!((side("right") - right).abs() < 1e-9);
}

#[test]
fn pins_are_entered_as_measured() {
    let folder = marked("measured");
    let pin = |name: &str, at: &[&str]| {
        let mut args = vec!["pin", "p.ron", "--name", name, "--piece", "back"];
        at.iter().for_each(|a| args.extend(["--at", a]));
        folder.hangtrue(&args)
    };
    let good = |name: &str, at: &[&str]| {
        let output = pin(name, at);
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    };
    let said = good("a", &["4 1/2 from inseam of thigh = 3/8", "60 mm from side seam = 1/8"]);
    assert!(said.contains("4 1/2 in") && said.contains("between"), "{said}");
    good("b", &["40% from inseam of thigh=6 mm", "at side of thigh=1/4"]);
    assert!(folder.read("p.ron").contains("0.4"));
    let bad = |at: &[&str]| {
        let output = pin("x", at);
        assert_eq!(output.status.code(), Some(1), "{at:?}");
        String::from_utf8(output.stderr).unwrap()
    };
    assert!(bad(&["2 from inseam and 2 from side of thigh=3/8"]).contains("measure again"));
    assert!(bad(&["middle=3/8"]).contains("--line"));
    assert!(bad(&["middle of thigh=3/8", "40% of knee=3/8"]).contains("one line"));
    assert!(bad(&["up: middle of thigh=3/8"]).contains("is not a place"));
    assert!(bad(&["4 from armhole of thigh=3/8"]).contains("no seam called"));
    folder.good(&["apart", "p.ron"]);
    good("uneven", &["left: middle of thigh=3/8", "right: middle of thigh=1/8"]);
    let project = folder.read("p.ron");
    assert!(project.contains("uneven left") && project.contains("back right"), "{project}");
    let folded = folder.good(&[
        "pin",
        "p.ron",
        "--name",
        "f",
        "--piece",
        "back left",
        "--line",
        "thigh",
        "--at",
        "middle=1/4",
        "--fold-depth",
    ]);
    assert!(folded.contains("1/2 in"), "{folded}");
}

#[test]
fn the_journal_holds_a_photo_only_when_it_is_ticked_and_asked_for() {
    let folder = marked("journal");
    let made = hangtrue_tests::ask::<serde_json::Value>(
        "photos.py",
        &serde_json::json!({ "make": [folder.path("camera.jpg")] }),
    );
    made.unwrap();
    folder.good(&["note", "p.ron", "--seen", "the thigh line droops mid-back"]);
    let add = ["photo", "p.ron", "add", "camera.jpg", "--view", "back"];
    let added =
        folder.good(&[&add[..], &["--crop-above", "20%", "--caption", "arms down"]].concat());
    assert!(added.contains("now-back.jpg") && added.contains("not in the journal"), "{added}");
    folder.good(&[&add[..], &["--blur", "30,0,40,25"]].concat());
    folder.good(&["close", "p.ron", "--name", "first toile", "--date", "2026-11-25"]);
    assert!(folder.good(&["photo", "p.ron", "list"]).contains("first toile"));
    folder.good(&["pin", "p.ron", "--piece", "back", "--line", "thigh", "--at", "middle=3/8"]);
    folder.good(&["accept", "p.ron", "pinch", "--by", "top-and-scoop"]);
    folder.good(&["note", "p.ron", "--round", "first toile", "--decided", "top and scoop"]);

    let journal = |with: &[&str]| {
        folder.good(&[&["journal", "p.ron", "--out", "j.pdf", "--replace"], with].concat());
        pages(&folder.path("j.pdf"));
        (pictures(&folder, "j.pdf"), words(&folder, "j.pdf"))
    };
    let (none, text) = journal(&[]);
    assert_eq!(none, 0);
    for said in ["First toile", "25 November 2026", "droops mid-back", "top and scoop", "3/8 in"] {
        assert!(text.contains(said), "{said} is not in: {text}");
    }
    assert_eq!(journal(&["--with-photos"]).0, 0, "nothing is ticked");
    folder.good(&["photo", "p.ron", "tick", "now-back.jpg"]);
    assert_eq!(journal(&[]).0, 0, "ticked, but not asked for");
    let (one, text) = journal(&["--with-photos"]);
    assert_eq!(one, 1);
    assert!(text.contains("arms down"), "{text}");
    let raw = std::fs::read(folder.path("j.pdf")).unwrap();
    for noted in [&b"Exif"[..], b"Oleander Optics", b"GPS"] {
        assert!(!raw.windows(noted.len()).any(|w| w == noted));
    }

    let handed = folder.good(&["hand-on", "p.ron", "--out", "new.ron", "--without-name"]);
    assert!(handed.contains("without the 2 photos"), "{handed}");
    assert!(!folder.read("new.ron").contains(".jpg"));
    assert!(!folder.path("new.photos").exists());
    folder.good(&["journal", "new.ron", "--out", "k.pdf", "--with-photos"]);
    assert_eq!(pictures(&folder, "k.pdf"), 0);
    assert!(refused(&folder, &["hand-on", "p.ron", "--out", "p.ron"]).contains("made from"));
    folder.good(&["photo", "p.ron", "remove", "now-back.jpg"]);
    assert!(!folder.path("p.photos/now-back.jpg").exists());
    assert!(folder.path("p.photos/now-back-2.jpg").exists());
}

#[test]
fn a_project_from_elsewhere_cannot_reach_out_of_its_photo_folder() {
    let folder = marked("reach");
    folder.write("letter.txt", "Dear Maren");
    let project = folder.read("p.ron");
    let at = project.rfind("changes:").unwrap();
    let evil = "journal: (photos: [(file: \"../letter.txt\", round: \"now\", view: Back, in_journal: true)]),\n    ";
    folder.write("q.ron", [&project[..at], evil, &project[at..]].concat());
    for args in [
        &["journal", "q.ron", "--out", "j.pdf", "--with-photos"][..],
        &["photo", "q.ron", "remove", "../letter.txt"],
        &["photo", "q.ron", "hide", "../letter.txt", "--crop-above", "10%"],
    ] {
        assert!(refused(&folder, args).contains("not the name of a file"), "{args:?}");
    }
    assert_eq!(folder.read("letter.txt"), "Dear Maren");
    let wrong = refused(&folder, &["photo", "p.ron", "add", "letter.txt", "--view", "back"]);
    assert!(wrong.contains("neither a PNG nor a JPEG"), "{wrong}");
    let round = ["photo", "p.ron", "add", &asset("README.md"), "--view", "back", "--round", "x"];
    assert!(refused(&folder, &round).contains("no fitting called"));
}
