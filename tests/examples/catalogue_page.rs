//! Writes `docs/corrections.md` and its pictures anew.

use hangtrue_tests::catalogue_page::{Fault, catalogue_pages};
use std::path::Path;

fn main() -> Result<(), Fault> {
    let docs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs");
    std::fs::create_dir_all(docs.join("pictures/corrections"))?;
    for page in catalogue_pages()? {
        std::fs::write(docs.join(&page.path), &page.text)?;
    }
    Ok(())
}
