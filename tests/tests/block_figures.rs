//! The figures in `docs/block.md` are what the block is.

#![allow(clippy::unwrap_used)]

use hangtrue_tests::block_figures::page;
use hangtrue_tests::workspace_root;

#[test]
fn the_figures_in_the_docs_are_those_of_the_block() {
    let docs = std::fs::read_to_string(workspace_root().join("docs/block.md")).unwrap();
    let made = page(&docs).unwrap();
    assert!(
        docs == made,
        "make them new: cargo run -p hangtrue-tests --example block_figures -- --write"
    );
}
