//! What the command tells of a lay, and the cutting list of all cloths.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::UsualLay;
use hangtrue_cut::{Cloth, CutSet};
use hangtrue_files::lay::{OnCloth, caution, how_it_lies, told};
use hangtrue_lay::{Fault, LayError, chosen, kept_lay, needed};
use hangtrue_pattern::words::InUnit;
use serde_json::{Value, json};

/// Where everything lies, what is wrong with it, and the length needed.
pub fn told_of(on: &OnCloth<'_>, opened: &Opened) -> Result<(), Failure> {
    let from = if on.cloth.folded { ">from the fold" } else { ">from the selvedge" };
    let rows: Vec<Vec<String>> = on
        .lay
        .laid()
        .map(|(index, shape, place)| {
            let part = &on.lay.parts[index];
            vec![
                part.name(),
                opened.show(place.x),
                opened.show(place.y),
                opened.show(shape.size.x),
                opened.show(shape.size.y),
                how_it_lies(part, place),
            ]
        })
        .collect();
    if !rows.is_empty() {
        let headings = ["piece", ">along", from, ">long", ">wide", "lies"];
        output::table(&headings, &rows)?;
    }
    let faults = on.lay.faults().all;
    if rows.is_empty() {
        output::line("Nothing is laid yet: find a lay with --find, or put pieces with --put.")?;
    } else {
        for fault in &faults {
            output::line(&format!("To put right: {}", fault.words(on.lay).in_unit(on.unit)))?;
        }
        for said in told(on) {
            output::line(&format!("{}.", said.in_unit(on.unit)))?;
        }
    }
    output::line(caution())
}

/// The same for another program; lengths in mm.
pub fn as_json(on: &OnCloth<'_>) -> Value {
    let laid = on.lay.laid().map(|(index, shape, place)| {
        let part = &on.lay.parts[index];
        json!({
            "piece": part.piece, "copy": part.copy, "along": place.x, "across": place.y,
            "long": shape.size.x, "wide": shape.size.y, "turned": place.turned,
            "on_fold": place.on_fold, "face_down": part.face_down,
            "pieces_cut": part.count(),
        })
    });
    let faults = on.lay.faults().all;
    let words = faults.iter().map(|fault| fault.words(on.lay).to_string());
    let needed = on.needed;
    json!({
        "of": on.of.word(),
        "width": on.cloth.width,
        "folded": on.cloth.folded,
        "laid": laid.collect::<Vec<_>>(),
        "wrong": words.collect::<Vec<_>>(),
        "length": needed.laid,
        "in_pieces": needed.in_pieces,
        "for_washing": needed.for_washing,
        "bought": needed.bought,
        "filled": on.lay.filled(),
        "shrinks_percent": on.set.shrinkage_of(on.of).percents(),
    })
}

/// The cutting list: every cloth with its pieces and, where a lay is kept, its length.
pub fn list(opened: &Opened, set: &CutSet, as_json: bool) -> Result<(), Failure> {
    let (mut rows, mut values) = (Vec::new(), Vec::new());
    let mut listed = Vec::new();
    for of in Cloth::ALL {
        let cloth = chosen(&opened.document, of);
        let lay = match kept_lay(set, of, &cloth) {
            Ok(lay) => lay,
            Err(LayError::Nothing { .. }) => continue,
            Err(other) => return Err(other.into()),
        };
        listed.push(of);
        let cut_for = set.for_cloth(of);
        let bought_by = UsualLay::of(opened.unit()).bought_by;
        let needed = needed(&lay, &cloth, set.shrinkage_of(of), bought_by);
        let missing = lay.faults().all.iter().any(|f| matches!(f, Fault::Missing { .. }));
        let wrong = !lay.faults().is_empty();
        for piece in &cut_for.pieces {
            for cut in piece.to_cut.iter().filter(|cut| cut.cloth == of) {
                rows.push(vec![
                    of.word().to_owned(),
                    piece.name.clone(),
                    cut.quantity.to_string(),
                    String::new(),
                ]);
                values.push(json!({
                    "of": of.word(), "piece": piece.name, "count": cut.quantity.count(),
                    "area_mm2": piece.area(),
                }));
            }
        }
        let length = match (missing, wrong) {
            (true, _) => "not laid yet".to_owned(),
            (false, true) => "its lay is to be put right".to_owned(),
            (false, false) => opened.show(needed.bought),
        };
        let width = opened.show(cloth.width);
        rows.push(vec![of.word().to_owned(), "to buy".into(), format!("{width} wide"), length]);
        values.push(json!({
            "of": of.word(), "width": cloth.width,
            "bought": (!wrong).then_some(needed.bought),
            "shrinks_percent": set.shrinkage_of(of).percents(),
        }));
    }
    if as_json {
        return output::json(&json!({ "cutting_list": values }));
    }
    output::table(&["of", "piece", "how often", ">length"], &rows)?;
    for of in listed {
        let shrinks = set.shrinkage_of(of).told();
        if !shrinks.is_empty() {
            output::line(&format!(
                "What is cut of {} is cut for its loss: it {shrinks}.",
                of.word()
            ))?;
        }
    }
    output::line(caution())
}
