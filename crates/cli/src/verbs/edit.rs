//! Switching, renaming, moving and removing changes.

use super::weigh::{Did, weigh_rows};
use crate::args::{LegsArg, counted};
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::Change;
use hangtrue_pattern::Leg;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct EditArgs {
    /// The project file.
    pub project: PathBuf,
    /// Name of the change.
    pub change: String,
    #[command(flatten)]
    pub what: EditWhat,
}

#[derive(Debug, Args)]
#[group(required = true, multiple = false)]
pub struct EditWhat {
    /// Switch it off.
    #[arg(long)]
    pub off: bool,
    /// Switch it on.
    #[arg(long)]
    pub on: bool,
    /// Take it out of the list; also takes out a pinch that is not taken up yet.
    #[arg(long)]
    pub remove: bool,
    /// Give it another name.
    #[arg(long, value_name = "NAME", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub rename: Option<String>,
    /// Move it to this place in the list, counted from 1.
    #[arg(long, value_name = "NUMBER", value_parser = counted)]
    pub to_place: Option<usize>,
    /// Make it on this leg only, or on both again (left and right apart).
    #[arg(long, value_enum)]
    pub leg: Option<LegsArg>,
}

/// Makes a change, keeps it in the list under that name, and tells what it did; whether that
/// was told in words, so that more may follow.
pub(super) fn make(
    opened: &mut Opened,
    called: &str,
    change: Change,
    json: bool,
) -> Result<bool, Failure> {
    let outcome = change.apply_for(opened.pattern()?, opened.document.body())?;
    let words = change.words(opened.unit());
    opened.document.push(called, change);
    opened.save()?;
    if json {
        output::json(&Did::from(&outcome))?;
        return Ok(false);
    }
    output::line(&format!("{words}:"))?;
    for line in weigh_rows(&Ok(outcome), opened.unit()) {
        output::line(&line)?;
    }
    Ok(true)
}

pub fn run(args: &EditArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    if args.what.remove && remove_pinch(&mut opened, &args.change) {
        opened.save()?;
        return super::list::run(&args.project, false);
    }
    let changes = &mut opened.document.changes;
    let Some(index) = changes.iter().position(|e| e.name == args.change) else {
        let known: Vec<&str> = changes.iter().map(|e| e.name.as_str()).collect();
        return Err(Failure::Asked(format!(
            "there is no change called “{}”; there are: {}",
            args.change,
            if known.is_empty() { "none yet".to_owned() } else { known.join(", ") }
        )));
    };
    let what = &args.what;
    if what.off || what.on {
        changes[index].on = what.on;
    } else if what.remove {
        opened.document.remove(index);
    } else if let Some(name) = &what.rename {
        if let Some(why) = opened.document.name_fault(Some(index), name) {
            return Err(Failure::Asked(why));
        }
        opened.document.rename(index, name);
    } else if let Some(place) = what.to_place {
        if !(1..=changes.len()).contains(&place) {
            return Err(Failure::Asked(format!(
                "place {place} is not in the list, which goes from 1 to {}",
                changes.len()
            )));
        }
        let entry = changes.remove(index);
        changes.insert(place - 1, entry);
    }
    if let Some(legs) = what.leg {
        set_leg(&mut opened, index, legs)?;
    }
    opened.save()?;
    for (_, name, why) in opened.replay.failures() {
        output::line(&format!("Note: “{name}” cannot be made now: {why}"))?;
    }
    super::list::run(&args.project, false)
}

/// Makes a change on one leg, or on both again; refused when it cannot be made so.
fn set_leg(opened: &mut Opened, index: usize, legs: LegsArg) -> Result<(), Failure> {
    let before = opened.replay.after(index)?.clone();
    let entry = &mut opened.document.changes[index];
    let change = entry.change.plain().clone().on_leg(leg_of(legs));
    change.apply(&before)?;
    entry.change = change;
    Ok(())
}

/// The one leg that is meant, if not both.
pub fn leg_of(legs: LegsArg) -> Option<Leg> {
    match legs {
        LegsArg::Both => None,
        LegsArg::Left => Some(Leg::Left),
        LegsArg::Right => Some(Leg::Right),
    }
}

/// Takes out a pinch that is not taken up yet, when no change has its name.
fn remove_pinch(opened: &mut Opened, name: &str) -> bool {
    let document = &mut opened.document;
    if document.changes.iter().any(|e| e.name == name) {
        return false;
    }
    let before = document.pinned.len();
    document.pinned.retain(|p| p.name != name);
    document.pinned.len() < before
}
