//! The page of the manual about the corrections is the one the program writes now.

#![allow(clippy::unwrap_used)]

use hangtrue_adjust::CATALOGUE;
use hangtrue_tests::catalogue_page::catalogue_pages;
use std::path::Path;

/// Drawings may differ by a rounding of the last figure, mm.
const ROUNDING: f64 = 0.15;

fn same(a: &str, b: &str) -> bool {
    let words = |t: &str| -> Vec<String> {
        let cut = |c: char| c.is_whitespace() || "\"MLCZ".contains(c);
        t.split(cut).filter(|w| !w.is_empty()).map(str::to_owned).collect()
    };
    let (a, b) = (words(a), words(b));
    let near = |(x, y): (&String, &String)| match (x.parse::<f64>(), y.parse::<f64>()) {
        (Ok(x), Ok(y)) => (x - y).abs() <= ROUNDING,
        _ => x == y,
    };
    a.len() == b.len() && a.iter().zip(&b).all(near)
}

#[test]
fn every_correction_is_on_the_page_and_pictured_as_it_is_now() {
    let docs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs");
    let pages = catalogue_pages().unwrap();
    assert_eq!(pages.len(), CATALOGUE.len() + 1);
    for page in &pages {
        let there = std::fs::read_to_string(docs.join(&page.path)).unwrap_or_default();
        assert!(
            same(&there, &page.text),
            "docs/{} is old or not there; write it by: cargo run -p hangtrue-tests --example catalogue_page",
            page.path
        );
    }
    let text = std::fs::read_to_string(docs.join("corrections.md")).unwrap();
    let headings: Vec<String> =
        text.lines().filter_map(|l| l.strip_prefix("## ")).map(str::to_lowercase).collect();
    let names: Vec<&str> = CATALOGUE.iter().map(|l| l.about.name).collect();
    assert_eq!(headings, names);
    for picture in pages.iter().filter(|p| p.path.ends_with("svg")) {
        assert!(picture.text.len() < 16_000, "{} is large", picture.path);
    }
}
