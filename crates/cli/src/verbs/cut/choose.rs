//! What was said becomes the project's cutting plan.

use super::args::{CutArgs, FacingArg, YesNo};
use crate::failure::Failure;
use crate::project::Opened;
use hangtrue_adjust::SeamWidth;

/// Changes the plan by what was said of it.
pub(super) fn choose(args: &CutArgs, opened: &mut Opened) -> Result<(), Failure> {
    let mut plan = opened.document.cutting.clone();
    if let Some(set) = args.set {
        plan.set = Some(set.into());
    }
    if args.plain_widths {
        plan.widths.clear();
    }
    for said in &args.width {
        let own = own_width(said, opened)?;
        plan.widths.retain(|w| (&w.piece, &w.seam) != (&own.piece, &own.seam));
        plan.widths.push(own);
    }
    if let Some(closure) = args.closure {
        plan.open_by(closure.into());
    }
    if let Some(waist) = args.waist {
        plan.waist = waist.finish(args.waist_width.as_ref(), (plan.closure, opened.unit()))?;
    }
    if let Some(facing) = args.facing {
        plan.opening.cut_on = facing == FacingArg::CutOn;
    }
    if let Some(pocket) = args.front_pocket {
        plan.pockets.choose_front(pocket.into());
    }
    if let Some(pocket) = args.back_pocket {
        plan.pockets.choose_back(pocket.into());
    }
    for (said, chosen) in [
        (&args.opening_length, &mut plan.opening.length),
        (&args.opening_width, &mut plan.opening.width),
        (&args.front_pocket_along, &mut plan.pockets.front_along),
        (&args.front_pocket_down, &mut plan.pockets.front_down),
        (&args.back_pocket_width, &mut plan.pockets.back_wide),
        (&args.back_pocket_below, &mut plan.pockets.back_below),
        (&args.back_pocket_depth, &mut plan.pockets.back_deep),
        (&args.back_pocket_edge, &mut plan.pockets.back_edge),
    ] {
        match said.as_deref().map(str::trim) {
            None => {}
            Some("usual") => *chosen = None,
            Some(said) => *chosen = Some(opened.length(said)?),
        }
    }
    plan.waist = plan.waist.opened(plan.closure, opened.unit());
    let yes = |said: Option<YesNo>, before| said.map_or(before, |said| said == YesNo::Yes);
    plan.lining = yes(args.lining, plan.lining);
    plan.interfacing = yes(args.interfacing, plan.interfacing);
    let shrinks = &mut plan.shrinkage;
    shrinks.lengthwise = args.shrinks_length.unwrap_or(shrinks.lengthwise);
    shrinks.crosswise = args.shrinks_width.unwrap_or(shrinks.crosswise);
    opened.document.cutting = plan;
    Ok(())
}

/// “side=25 mm”, or with the piece's name before the seam's.
fn own_width(said: &str, opened: &Opened) -> Result<SeamWidth, Failure> {
    let wrong = || {
        Failure::Asked(format!(
            "“{said}” is not the allowance of a seam; write it like “side=25 mm” or “back side=25 mm”"
        ))
    };
    let (named, length) = said.split_once('=').ok_or_else(wrong)?;
    let (named, width) = (named.trim(), opened.length(length)?);
    let pieces = opened.pattern()?.pieces.iter();
    let of_piece = pieces
        .filter_map(|p| Some((p.name.clone(), named.strip_prefix(p.name.as_str())?.trim())))
        .find(|(_, seam)| !seam.is_empty());
    Ok(match of_piece {
        Some((piece, seam)) => SeamWidth { piece: Some(piece), seam: seam.to_owned(), width },
        None => SeamWidth { piece: None, seam: named.to_owned(), width },
    })
}
