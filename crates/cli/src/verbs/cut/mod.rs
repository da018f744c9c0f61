//! The cutting plan and the list of pieces to cut.

pub(super) mod args;
mod choose;
mod told;

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
pub use args::CutArgs;
use hangtrue_cut::{pieces_to_cut, sewing_order};

/// Shown where cloth or paper is about to be cut.
pub(super) const CAUTION: &str = "Close shears and cover a rotary blade between cuts.";

pub fn run(args: &CutArgs) -> Result<(), Failure> {
    let changes = args.changes();
    let mut opened = Opened::open_for(&args.project, changes)?;
    if changes {
        choose::choose(args, &mut opened)?;
    }
    let set = pieces_to_cut(opened.pattern()?, &opened.document)?;
    if changes {
        opened.save()?;
    }
    let order = args.sewing.map(|as_| sewing_order(&set, &opened.document, as_.into()));
    if args.json.json {
        return output::line(&told::as_json(&set, order.as_ref()).to_string());
    }
    told::told(&set, &opened)?;
    order.map_or(Ok(()), |order| told::sewn(&order, &opened))
}
