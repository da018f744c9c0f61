//! Prints the shapes of the drafted block over the survey sample, and how its lines hang on a
//! toile that fits; writes them into `docs/block.md` and `docs/reading.md` when asked to
//! with `--write`.

use hangtrue_tests::{block_figures, home_figures, workspace_root};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    if !std::env::args().any(|a| a == "--write") {
        print!("{}\n{}", block_figures::table(), home_figures::table());
        return Ok(());
    }
    let write = |docs: &str, made: &dyn Fn(&str) -> Result<String, &'static str>| {
        let docs = workspace_root().join(docs);
        let text = std::fs::read_to_string(&docs)?;
        std::fs::write(&docs, made(&text)?)?;
        Ok::<(), Box<dyn std::error::Error>>(())
    };
    write("docs/block.md", &block_figures::page)?;
    write("docs/reading.md", &home_figures::page)
}
