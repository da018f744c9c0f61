//! Bringing in a pattern drawn elsewhere, as a new project.

use crate::args::{BringArgs, FileUnitArg};
use crate::failure::Failure;
use crate::output;
use hangtrue_files::exchange::{BringOptions, Brought, FileUnit, KnownLength, bring_file};
use hangtrue_files::project;
use hangtrue_pattern::units::{Unit, read_length};
use serde_json::json;

pub fn run(args: &BringArgs, json: bool) -> Result<(), Failure> {
    let options = BringOptions {
        unit: args.unit.map(|unit| match unit {
            FileUnitArg::Mm => FileUnit::Mm,
            FileUnitArg::Cm => FileUnit::Cm,
            FileUnitArg::In => FileUnit::Inch,
            FileUnitArg::Px => FileUnit::Px,
        }),
        known: match &args.known_length {
            None => None,
            Some(text) => {
                Some(KnownLength { mm: read_length(text, Unit::Mm)?, of: args.known_line.clone() })
            }
        },
    };
    let brought = bring_file(&args.file, &options)?;
    say(&brought, json)?;
    let Some(into) = args.into.as_ref().filter(|_| !args.only_say) else { return Ok(()) };
    if into.exists() && !args.replace {
        return Err(Failure::AlreadyThere(into.clone()));
    }
    let unit = args.show.map_or(Unit::Mm, Unit::from);
    project::save(into, &brought.document(&args.title, &args.client, unit))?;
    if json {
        return Ok(());
    }
    output::line(&format!(
        "Started {}. Nothing else was changed. Next: hangtrue walk {0}",
        into.display()
    ))
}

fn say(brought: &Brought, json: bool) -> Result<(), Failure> {
    if json {
        let lost: Vec<_> =
            brought.lost.iter().map(|l| json!({ "what": l.what, "count": l.count })).collect();
        return output::json(&json!({
            "scale_mm": brought.scale,
            "kept": brought.kept,
            "not_kept": lost,
            "notes": brought.notes,
            "pattern": brought.pattern,
        }));
    }
    output::line(&format!("1 in the file is {:.6} mm.", brought.scale))?;
    output::line("Kept:")?;
    for one in &brought.kept {
        output::line(&format!("  {one}"))?;
    }
    if !brought.lost.is_empty() {
        output::line("Not kept:")?;
    }
    for loss in &brought.lost {
        output::line(&format!("  {} × {}", loss.count, loss.what))?;
    }
    for note in &brought.notes {
        output::line(&format!("Note: {note}"))?;
    }
    Ok(())
}
