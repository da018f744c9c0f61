//! Papers for a class and for the sewing, by the command; read back with poppler.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // helpers of tests may stop a test

use crate::common::Folder;
use std::process::Command;

fn text_of(folder: &Folder, pdf: &str) -> String {
    let read = Command::new("pdftotext").arg("-layout").arg(folder.path(pdf)).arg("-").output();
    let text = String::from_utf8(read.expect("pdftotext of poppler-utils").stdout).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn pages_of(folder: &Folder, pdf: &str) -> usize {
    let read = Command::new("pdfinfo").arg(folder.path(pdf)).output();
    let said = String::from_utf8(read.expect("pdfinfo of poppler-utils").stdout).unwrap();
    let line = said.lines().find_map(|line| line.strip_prefix("Pages:")).unwrap();
    line.trim().parse().unwrap()
}

#[test]
fn a_class_list_is_filled_in_and_printed_with_a_broken_line_in_it() {
    let folder = Folder::new("class");
    folder.good(&["sheet", "class", "--out", "list.csv", "--unit", "cm"]);
    let path = folder.path("list.csv");
    let blank = std::fs::read_to_string(&path).unwrap();
    std::fs::write(
        &path,
        blank + "Anna,76,100,104,78,70\nBen,wide,100,104,78,70\nCem,80,102,105,79,71\n",
    )
    .unwrap();
    let said =
        folder.good(&["class", "list.csv", "--out", "sheets", "--scale", "quarter", "--json"]);
    let said: serde_json::Value = serde_json::from_str(&said).unwrap();
    assert_eq!(said["printed"], 2);
    let pupils = said["pupils"].as_array().unwrap();
    assert!(pupils[1]["refused"].as_str().unwrap().contains("“wide” is not a length"));
    let mut sheets = 0;
    for (index, file) in [(0, "sheets/01 Anna.pdf"), (2, "sheets/03 Cem.pdf")] {
        let pages = pages_of(&folder, file);
        assert_eq!(pupils[index]["sheets"], pages);
        sheets += pages;
        let text = text_of(&folder, file);
        assert_eq!(text.matches("QUARTER SCALE · NOT FOR CUTTING").count(), pages, "{text}");
    }
    assert_eq!(said["sheets"], sheets);
    assert!(text_of(&folder, "sheets/class list.pdf").contains("2 of 3 pupils printed, 1 refused"));
}

#[test]
fn a_class_is_cut_with_the_waist_and_the_opening_that_are_chosen() {
    let folder = Folder::new("class-waist");
    let list = "name,waist girth (cm),hip girth (cm),waist height (cm),inside leg height (cm),total crotch length (cm)\nAnna,76,100,104,78,70\n";
    std::fs::write(folder.path("list.csv"), list).unwrap();
    let class = ["class", "list.csv", "--scale", "quarter", "--projects", "--set", "finished"];
    folder.good(
        &[
            &class[..],
            &["--out", "a", "--waist", "facing", "--waist-width", "7 cm", "--closure", "back-zip"],
        ]
        .concat(),
    );
    let text = text_of(&folder, "a/01 Anna.pdf");
    assert!(text.contains("waist facing") && text.contains("zip shield"), "{text}");
    let project = std::fs::read_to_string(folder.path("a/01 Anna.ron")).unwrap();
    let plain: String = project.split_whitespace().collect();
    assert!(
        plain.contains("facing(width:70.0") && plain.contains("set:Some(finished)"),
        "{project}"
    );
    folder
        .good(&[&class[..], &["--out", "b", "--band", "4 cm", "--closure", "front-fly"]].concat());
    let text = text_of(&folder, "b/01 Anna.pdf");
    assert!(text.contains("waistband") && text.contains("fly shield"), "{text}");
    let said = folder.refused(&[&class[..], &["--out", "c", "--waist-width", "4 cm"]].concat());
    assert!(said.contains("--waist"), "{said}");
}

#[test]
fn a_handout_is_no_print_of_the_toile() {
    let folder = Folder::new("handout");
    folder.begin("p.ron");
    let said = folder.good(&["print", "p.ron", "--scale", "half", "--out", "h.pdf"]);
    let pages = pages_of(&folder, "h.pdf");
    assert!(said.contains(&format!("{pages} sheets of Letter, half scale")), "{said}");
    let text = text_of(&folder, "h.pdf");
    assert_eq!(text.matches("HALF SCALE · NOT FOR CUTTING").count(), pages, "{text}");
    let project = || std::fs::read_to_string(folder.path("p.ron")).unwrap();
    assert!(!project().contains("printed"));
    folder.good(&["print", "p.ron", "--out", "full.pdf"]);
    assert!(project().contains("printed"));
    assert!(!text_of(&folder, "full.pdf").contains("NOT FOR CUTTING"));
}

#[test]
fn the_sewing_sheet_follows_the_plan() {
    let folder = Folder::new("sewing");
    folder.begin("p.ron");
    let listed = folder.good(&["cut", "p.ron", "--sewing", "toile"]);
    assert!(listed.contains("Side seams") && listed.contains("no published source"), "{listed}");
    assert!(!listed.contains("pocket"), "{listed}");
    folder.good(&[
        "cut",
        "p.ron",
        "--set",
        "finished",
        "--closure",
        "front-fly",
        "--waist",
        "band",
    ]);
    folder.good(&["sheet", "sewing", "p.ron", "--out", "s.pdf"]);
    let text = text_of(&folder, "s.pdf");
    for words in ["finished pair", "fly shield", "waistband", "Close the fly", "thread or turn"] {
        assert!(text.contains(words), "{words} in {text}");
    }
    folder.good(&["sheet", "sewing", "p.ron", "--out", "t.pdf", "--as", "toile"]);
    assert!(text_of(&folder, "t.pdf").contains("pinned shut on the wearer"));
}
