//! What is told of the pieces to cut: as lines to read, or for another program.

use super::CAUTION;
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::Shrinkage;
use hangtrue_cut::{Cloth, CutSet, ORDER_SOURCE, SewingOrder};
use hangtrue_pattern::words::InUnit;
use serde_json::json;
use std::collections::BTreeMap;

/// The plan and the list of pieces.
pub(super) fn told(set: &CutSet, opened: &Opened) -> Result<(), Failure> {
    let plan = &opened.document.cutting;
    let allowances = match plan.set {
        Some(chosen) => chosen.name(),
        None => "as chosen for printing",
    };
    output::line(&format!("Allowances: {allowances}. Opened: {}.", plan.closure.name()))?;
    let pockets = plan.pockets;
    if !pockets.is_none() {
        let (front, back) = (pockets.front.name(), pockets.back.name());
        output::line(&format!("Pockets: at the front {front}, on the back {back}."))?;
    }
    // The cloth of the trousers where it loses something; another where it loses something else.
    let usual = |of| if of == Cloth::Main { Shrinkage::default() } else { set.shrinkage };
    for of in Cloth::ALL.into_iter().filter(|of| set.shrinkage_of(*of) != usual(*of)) {
        let (word, told) = (of.word(), set.shrinkage_of(of).told());
        output::line(&match told.is_empty() {
            true => format!("Cut for {word} that loses nothing."),
            false => format!(
                "Cut for {word} that {told}: the pieces are drawn so, the pattern stays as it is fitted."
            ),
        })?;
    }
    let inches = opened.unit().denominator().is_some();
    for piece in &set.pieces {
        let how: Vec<String> = piece.to_cut.iter().map(ToString::to_string).collect();
        let square = if inches { 645.16 } else { 100.0 };
        let (area, unit) = (piece.area() / square, if inches { "in²" } else { "cm²" });
        let bare = if piece.has_allowance { "" } else { ", NO SEAM ALLOWANCE" };
        output::line(&format!(
            "{}: {}, {}, {area:.0} {unit} each{bare}",
            piece.numbered(),
            piece.name,
            how.join(" and "),
        ))?;
    }
    for note in &set.notes {
        output::line(&format!("Note: {}", note.in_unit(opened.unit())))?;
    }
    output::line(CAUTION)
}

/// The order of sewing, a step a line.
pub(super) fn sewn(order: &SewingOrder, opened: &Opened) -> Result<(), Failure> {
    output::line(&format!("Sewn in this order ({}). {ORDER_SOURCE}", order.sewn_as.name()))?;
    for (index, step) in order.steps.iter().enumerate() {
        let pieces = step.pieces.join(", ");
        let pieces = if pieces.is_empty() { pieces } else { format!(" ({pieces})") };
        let words = step.words.in_unit(opened.unit());
        output::line(&format!("{}. {}{pieces}: {words}", index + 1, step.title))?;
        if let Some(care) = &step.care {
            output::line(&format!("   Take care: {care}"))?;
        }
    }
    Ok(())
}

/// The same for another program.
pub(super) fn as_json(set: &CutSet, order: Option<&SewingOrder>) -> serde_json::Value {
    let pieces = set.pieces.iter().map(|piece| {
        let to_cut = piece.to_cut.iter().map(
            |cut| json!({"count": cut.quantity.count(), "of": cut.cloth.word(), "words": cut.to_string()}),
        );
        json!({
            "number": piece.number,
            "name": piece.name,
            "to_cut": to_cut.collect::<Vec<_>>(),
            "area_mm2": piece.area(),
            "has_allowance": piece.has_allowance,
        })
    });
    let percents = |of| set.shrinkage_of(of).percents();
    json!({
        "pieces": pieces.collect::<Vec<_>>(),
        "sewing": order.map(steps_as_json),
        "shrinks_percent": percents(Cloth::Main),
        "of_each_cloth_shrinks_percent": Cloth::ALL.map(|of| (of.word(), percents(of))).into_iter().collect::<BTreeMap<_, _>>(),
    })
}

fn steps_as_json(order: &SewingOrder) -> serde_json::Value {
    let steps = order.steps.iter().map(|step| {
        json!({
            "title": step.title,
            "pieces": step.pieces,
            "words": step.words.to_string(),
            "care": step.care,
        })
    });
    json!({"for": order.sewn_as.name(), "steps": steps.collect::<Vec<_>>()})
}
