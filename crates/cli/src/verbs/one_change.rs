//! Taking pieces from elsewhere into a project by one change that was looked at
//! first.

use crate::failure::Failure;
use crate::project::Opened;
use hangtrue_adjust::{Applied, BringIn, Change, Effect};
use std::path::Path;

/// Tries the change in the opened project; nothing is saved.
pub fn tried(opened: &mut Opened, name: &str, change: BringIn) -> Result<Effect, Failure> {
    opened.document.push(name, Change::BringIn(change));
    opened.replay.update(opened.document.clone());
    match opened.replay.states().last().map(|s| &s.applied) {
        Some(Applied::Done(effect)) => Ok(effect.clone()),
        Some(Applied::Failed(why)) => Err(why.clone().into()),
        _ => Ok(Effect::default()),
    }
}

/// Saves the project with the change when it is accepted, and says what was done.
pub fn settled(opened: &mut Opened, into: &Path, accept: bool) -> Result<String, Failure> {
    let name = into.display();
    if !accept {
        return Ok(format!("{name} was not changed. --accept makes this one change."));
    }
    opened.save()?;
    let made = opened.document.changes.last().map_or("", |e| e.name.as_str());
    Ok(format!(
        "Changed {name} by one change. To take it back: hangtrue edit {name} \"{made}\" --remove"
    ))
}
