//! Prints the shapes of the drafted block over the survey sample, and writes them into
//! `docs/block.md` when asked to with `--write`.

use hangtrue_tests::block_figures::{page, table};
use hangtrue_tests::workspace_root;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    if !std::env::args().any(|a| a == "--write") {
        print!("{}", table());
        return Ok(());
    }
    let docs = workspace_root().join("docs/block.md");
    let text = std::fs::read_to_string(&docs)?;
    std::fs::write(&docs, page(&text)?)?;
    Ok(())
}
