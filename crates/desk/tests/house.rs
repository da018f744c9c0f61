//! The rooms of this crate, by its own source: no lower room imports a higher one, no
//! large circle of files, and the desk is taken mutably only where requests are
//! applied. `cargo test -p hangtrue-desk --test all house:: -- --nocapture` prints the counts.
//!
//! An import is a path that begins with `crate::`, `super::`, or the name of a file
//! declared by `mod` in the same file, outside of tests and comments. It is an import of
//! the deepest file the path names. A circle is a set of files each of which reaches
//! each other by imports (Tarjan's strongly connected components).

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The rooms from the lowest: a room imports itself and those before it.
const ROOMS: [&str; 14] = [
    "kit", "sample", "board", "about", "table", "toile", "hang", "lay", "exchange", "tracing",
    "welcome", "cards", "edges", "desk",
];

/// The room that applies requests.
const APPLIES: &str = "desk";

/// No circle holds more files than this.
const LARGEST: usize = 6;

/// A file: its module path, and its text without comments and tests.
type Files = BTreeMap<Vec<String>, String>;

fn sources() -> Files {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let (mut files, mut folders) = (Files::new(), vec![root.clone()]);
    while let Some(folder) = folders.pop() {
        for path in std::fs::read_dir(&folder).unwrap().map(|e| e.unwrap().path()) {
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                files.insert(module(&root, &path), code(&std::fs::read_to_string(path).unwrap()));
            }
        }
    }
    files
}

fn module(root: &Path, file: &Path) -> Vec<String> {
    let inside: PathBuf = file.strip_prefix(root).unwrap().with_extension("");
    let mut path: Vec<String> =
        inside.iter().map(|part| part.to_string_lossy().into_owned()).collect();
    if path.last().is_some_and(|last| last == "mod" || last == "lib") {
        path.pop();
    }
    path
}

/// The text up to its tests, without comments.
fn code(text: &str) -> String {
    let text = text.split("#[cfg(test)]").next().unwrap();
    let line = |line: &str| line.split("//").next().unwrap_or_default().to_owned();
    text.lines().map(|l| line(l) + "\n").collect()
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// Every path that begins with this word, its braces opened.
fn paths_from(text: &str, word: &str) -> Vec<Vec<String>> {
    let mut found = Vec::new();
    for (at, _) in text.match_indices(&format!("{word}::")) {
        let before = text[..at].chars().next_back();
        if before.is_none_or(|c| !is_word(c) && c != ':') {
            open(&text[at + word.len() + 2..], &[], &mut found);
        }
    }
    found
}

/// Follows a path to its ends; gives what stands behind it.
fn open<'a>(text: &'a str, begin: &[String], found: &mut Vec<Vec<String>>) -> &'a str {
    let text = text.trim_start();
    if let Some(mut rest) = text.strip_prefix('{') {
        loop {
            rest = open(rest, begin, found).trim_start();
            match rest.strip_prefix(',') {
                Some(more) if !more.trim_start().starts_with('}') => rest = more,
                Some(more) => rest = more.trim_start(),
                None => {}
            }
            if rest.is_empty() || rest.starts_with('}') {
                return rest.strip_prefix('}').unwrap_or(rest);
            }
        }
    }
    let end = text.find(|c| !is_word(c)).unwrap_or(text.len());
    let mut path = begin.to_vec();
    path.push(text[..end].to_owned());
    match text[end..].strip_prefix("::") {
        Some(rest) if end > 0 => open(rest, &path, found),
        _ => {
            found.push(path);
            // A word that is no path is stepped over, so that a group always ends.
            let rest = &text[end..];
            if end == 0 { rest.get(1..).unwrap_or_default() } else { rest }
        }
    }
}

/// The file that a path from the root of the crate names: the deepest there is.
fn named(files: &Files, path: &[String]) -> Option<Vec<String>> {
    (1..=path.len()).rev().map(|n| path[..n].to_vec()).find(|p| files.contains_key(p))
}

fn imports(files: &Files) -> BTreeMap<Vec<String>, BTreeSet<Vec<String>>> {
    let of = |(own, text): (&Vec<String>, &String)| {
        let mut paths = paths_from(text, "crate");
        let above = own.split_last().map_or(&[][..], |(_, above)| above);
        paths.extend(paths_from(text, "super").into_iter().map(|p| [above, &p].concat()));
        let children = files.keys().filter(|f| f.len() == own.len() + 1 && f.starts_with(own));
        for child in children {
            let name = &child[own.len()];
            for path in paths_from(text, name) {
                paths.push([child.as_slice(), &path].concat());
            }
        }
        let named = paths.iter().filter_map(|p| named(files, p)).filter(|p| p != own);
        (own.clone(), named.collect())
    };
    files.iter().filter(|f| !f.0.is_empty()).map(of).collect()
}

/// The circles, the largest first.
fn circles(edges: &BTreeMap<Vec<String>, BTreeSet<Vec<String>>>) -> Vec<Vec<String>> {
    let reach = |from: &Vec<String>| {
        let (mut seen, mut open) = (BTreeSet::new(), vec![from.clone()]);
        while let Some(at) = open.pop() {
            for next in edges.get(&at).into_iter().flatten() {
                if seen.insert(next.clone()) {
                    open.push(next.clone());
                }
            }
        }
        seen
    };
    let reached: BTreeMap<_, _> = edges.keys().map(|f| (f.clone(), reach(f))).collect();
    let mut circles: Vec<Vec<String>> = Vec::new();
    let mut left: BTreeSet<_> = edges.keys().cloned().collect();
    while let Some(file) = left.pop_first() {
        let mutual = |other: &&Vec<String>| {
            reached[&file].contains(*other) && reached[*other].contains(&file)
        };
        let with: Vec<_> = left.iter().filter(mutual).cloned().collect();
        left.retain(|f| !with.contains(f));
        let names = std::iter::once(&file).chain(&with).map(|f| f.join("/"));
        circles.push(names.collect());
    }
    circles.sort_by_key(|c| std::cmp::Reverse(c.len()));
    circles
}

fn room(file: &[String]) -> usize {
    let at = ROOMS.iter().position(|r| *r == file[0]);
    assert!(at.is_some(), "no room: {file:?}");
    at.unwrap()
}

#[test]
fn no_lower_room_imports_a_higher_one() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for (file, named) in imports(&sources()) {
        for other in named {
            count += 1;
            if room(&other) > room(&file) {
                wrong.push(format!("{} imports {}", file.join("/"), other.join("/")));
            }
        }
    }
    println!("{count} imports between files, {} of a higher room", wrong.len());
    assert!(count > 300, "the imports are read");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_large_circle_of_files() {
    let files = sources();
    let circles = circles(&imports(&files));
    println!("{} files; the largest circle holds {}", files.len(), circles[0].len());
    for circle in circles.iter().filter(|c| c.len() > 1) {
        println!("a circle of {}: {}", circle.len(), circle.join(", "));
    }
    assert!(circles[0].len() <= LARGEST, "{:?}", circles[0]);
}

#[test]
fn the_desk_is_taken_mutably_only_where_requests_are_applied() {
    let (mut inside, mut outside) = (0, Vec::new());
    for (file, text) in sources() {
        let count = text.matches("&mut Desk").count();
        if file.first().is_some_and(|room| room == APPLIES) {
            inside += count;
        } else if count > 0 || text.contains("&mut Board") {
            outside.push(file.join("/"));
        }
    }
    println!("functions that take the whole desk mutably, all in {APPLIES}/: {inside}");
    assert!(inside > 0, "they are counted");
    assert!(outside.is_empty(), "{outside:?}");
}

#[test]
fn what_is_counted_is_told_apart() {
    let text =
        "use crate::a::{self, b::C, d::{e, f}};\nlet x = crate::g::h(1);\nnot_crate::i::j();";
    let found: Vec<String> = paths_from(text, "crate").iter().map(|p| p.join("/")).collect();
    assert_eq!(found, ["a/self", "a/b/C", "a/d/e", "a/d/f", "g/h"]);
    let name = |n: &str| vec![n.to_owned()];
    let edge = |a: &str, b: &[&str]| (name(a), b.iter().map(|b| name(b)).collect());
    let edges = [edge("a", &["b"]), edge("b", &["c"]), edge("c", &["a"]), edge("d", &["a"])];
    let found = circles(&edges.into_iter().collect());
    assert_eq!(found, [vec!["a", "b", "c"], vec!["d"]]);
}
