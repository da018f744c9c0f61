//! The README's commands run as they stand there, one after the other, in a folder of
//! their own; the files it shows are written first.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::{Folder, asset};

/// The fenced pieces of a part of the page: the words before, the kind, what stands in it.
fn fences(page: &str) -> Vec<(String, String, String)> {
    let mut parts = page.split("```");
    let mut found = Vec::new();
    while let (Some(before), Some(fence)) = (parts.next(), parts.next()) {
        let (kind, body) = fence.split_once('\n').unwrap();
        found.push((before.to_owned(), kind.to_owned(), body.to_owned()));
    }
    found
}

/// The words of a command line, quotes taken off, without its comment.
fn words(line: &str) -> Vec<String> {
    let (mut words, mut word, mut quoted, mut any) = (Vec::new(), String::new(), false, false);
    for c in line.chars() {
        match c {
            '"' => (quoted, any) = (!quoted, true),
            '#' if !quoted && word.is_empty() => break,
            ' ' if !quoted => {
                if any || !word.is_empty() {
                    words.push(std::mem::take(&mut word));
                }
                any = false;
            }
            c => word.push(c),
        }
    }
    if any || !word.is_empty() {
        words.push(word);
    }
    words
}

#[test]
fn the_steps_of_the_readme_run_as_written() {
    let page = std::fs::read_to_string(asset("README.md")).unwrap();
    let part = page.split("## Step by step on your own project").nth(1).unwrap();
    let part = part.split("\n## ").next().unwrap();
    let folder = Folder::new("readme");
    std::fs::create_dir_all(folder.path("assets/demo")).unwrap();
    folder.copy(&asset("assets/demo/measures.ron"), "assets/demo/measures.ron");
    let (mut run, mut written) = (0, 0);
    for (before, kind, body) in fences(part) {
        match kind.as_str() {
            "sh" => {
                for line in body.lines().filter(|l| !l.trim().is_empty()) {
                    let words = words(line);
                    assert_eq!(words[0], "hangtrue", "{line}");
                    let args: Vec<&str> = words[1..].iter().map(String::as_str).collect();
                    let said = folder.good(&args);
                    assert!(!said.trim().is_empty(), "{line} says nothing");
                    run += 1;
                }
            }
            "csv" | "ron" => {
                // The file is the one named last before it.
                let ending = format!(".{kind}`");
                let name = before.rsplit(&ending).nth(1).and_then(|b| b.rsplit('`').next());
                folder.write(&format!("{}.{kind}", name.unwrap()), body);
                written += 1;
            }
            // Needs a photo of one's own.
            "" => assert!(body.contains("hangtrue digitise"), "{body}"),
            other => panic!("what is {other}?"),
        }
    }
    assert!(run >= 22 && written == 2, "{run} commands, {written} files");
    for made in ["my.measures.ron", "first.pdf", "second.pdf", "journal.pdf", "drawing.svg"] {
        assert!(folder.path(made).exists(), "{made}");
    }
    println!("{run} commands of the README were run");
}

#[test]
fn verbs_and_names_of_older_pages_still_answer() {
    let folder = Folder::new("older-words");
    folder.pinned("p.ron", "3/8");
    for (old, new) in [("read", "as-sewn"), ("weigh", "methods")] {
        let rest: &[&str] = if old == "weigh" { &["p.ron", "pinch"] } else { &["p.ron"] };
        let said = |verb: &str| folder.good(&[&[verb], rest].concat());
        assert_eq!(said(old), said(new));
    }
    for (old, new) in
        [("look", "level"), ("reading", "causes"), ("photo", "photos"), ("trace", "digitise")]
    {
        let said = folder.good(&[old, "--help"]);
        assert!(said.contains(&format!("hangtrue {new}")), "{old}: {said}");
    }
    folder.good(&["correct", "p.ron", "back hook", "--amount", "3 mm"]);
    folder.good(&["close", "p.ron", "--name", "one"]);
    let now = folder.json(&["compare", "p.ron", "--from", "one", "--to", "now", "--json"]);
    let today = folder.json(&["compare", "p.ron", "--from", "one", "--to", "today", "--json"]);
    assert_eq!(now["corners"], today["corners"]);
    folder.good(&["note", "p.ron", "--seen", "level", "--round", "now"]);
    folder.good(&["note", "p.ron", "--seen", "level", "--fitting", "one"]);
}

#[test]
fn words_of_the_trade_are_said() {
    let folder = Folder::new("trade-words");
    assert!(folder.good(&["words", "notch"]).contains("short mark across a seam"));
    assert!(folder.good(&["words"]).lines().count() > 100);
    assert!(folder.refused(&["words", "zeppelin"]).contains("not in the words list"));
}

#[test]
fn printing_marks_the_project_as_printed() {
    let folder = Folder::new("printed-mark");
    folder.begin("p.ron");
    folder.good(&["print", "p.ron", "--out", "a.pdf"]);
    assert!(folder.read("p.ron").contains("printed: "), "the project knows");
    let before = folder.read("p.ron");
    folder.good(&["print", "p.ron", "--out", "b.pdf"]);
    assert_eq!(folder.read("p.ron"), before);
}

#[test]
fn a_number_that_is_none_is_refused_in_our_own_words() {
    let folder = Folder::new("no-number");
    folder.begin("p.ron");
    for args in [["causes", "p.ron", "--take", "two"], ["edit", "p.ron", "--to-place", "two"]] {
        let said = folder.refused(&args);
        assert!(said.contains("write a whole number") && !said.contains("digit"), "{said}");
    }
}
