//! Listing the changes.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use hangtrue_adjust::{Applied, Change};
use hangtrue_pattern::words::InUnit;
use std::path::Path;

pub fn run(path: &Path, json: bool) -> Result<(), Failure> {
    let opened = Opened::open(path)?;
    opened.replay.start()?;
    let document = &opened.document;
    let mut rows = Vec::new();
    for (i, (entry, state)) in document.changes.iter().zip(opened.replay.states()).enumerate() {
        let status = match &state.applied {
            Applied::Done(_) => "in force".to_owned(),
            Applied::Off => "off".to_owned(),
            Applied::Failed(why) => format!("NOT MADE: {}", why.in_unit(opened.unit())),
        };
        let words = match &entry.change {
            Change::CloseRound(r) => format!("—— fitting closed {} —— {}", r.date, r.note),
            change => change.words(opened.unit()),
        };
        let costs: Vec<String> = match &state.applied {
            Applied::Done(effect) => {
                effect.costs.iter().map(|c| output::words(&c.short())).collect()
            }
            _ => Vec::new(),
        };
        rows.push((i + 1, entry.name.clone(), words, costs.join("; "), status));
    }
    if json {
        let list: Vec<_> = rows
            .iter()
            .map(
                |(place, name, words, costs, status)| serde_json::json!({"place": place, "name": name, "words": words, "costs": costs, "status": status}),
            )
            .collect();
        return output::json(&list);
    }
    let whom = if document.client.is_empty() {
        String::new()
    } else {
        format!(", for {}", document.client)
    };
    output::line(&format!("{}{whom}", document.title))?;
    if rows.is_empty() {
        output::line("Nothing is changed yet.")?;
    }
    let rows: Vec<Vec<String>> = rows
        .into_iter()
        .map(|(place, name, words, costs, status)| {
            vec![place.to_string(), name, words, costs, status]
        })
        .collect();
    if !rows.is_empty() {
        output::table(&[">", "name", "what", "round the body", "status"], &rows)?;
    }
    for pinch in &document.pinned {
        output::line(&format!("Not taken up yet: pinch “{}” on the {}", pinch.name, pinch.piece))?;
    }
    Ok(())
}
