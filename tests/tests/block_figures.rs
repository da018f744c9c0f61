//! The figures in `docs/block.md` are what the block is, and those in `docs/reading.md` how its
//! lines hang on a toile that fits.

#![allow(clippy::unwrap_used)]

use hangtrue_tests::workspace_root;
use hangtrue_tests::{block_figures, home_figures};

fn assert_is_made(docs: &str, made: impl Fn(&str) -> Result<String, &'static str>) {
    let docs = std::fs::read_to_string(workspace_root().join(docs)).unwrap();
    assert!(
        docs == made(&docs).unwrap(),
        "make them new: cargo run -p hangtrue-tests --example block_figures -- --write"
    );
}

#[test]
fn the_figures_in_the_docs_are_those_of_the_block() {
    assert_is_made("docs/block.md", block_figures::page);
}

#[test]
fn the_homes_in_the_docs_are_those_of_the_blocks() {
    assert_is_made("docs/reading.md", home_figures::page);
}
