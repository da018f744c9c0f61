//! Entering what was pinned.

use crate::args::PinArgs;
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, read_share};
use hangtrue_adjust::{Pinch, PinchPath, Station, StationPlace};

/// Shown where pins are about to be measured on a body.
const CAUTION: &str = "Pins: use safety pins when the wearer is to sit or bend, points away from the body, and take every pin out before the toile comes off.";

pub fn run(args: &PinArgs) -> Result<(), Failure> {
    let mut opened = Opened::open(&args.project)?;
    let stations: Result<Vec<Station>, Failure> =
        args.at.iter().map(|text| station(text, &opened)).collect();
    let pinch = Pinch {
        name: args.name.clone(),
        piece: args.piece.clone(),
        path: PinchPath::Line(args.line.clone()),
        stations: stations?,
    };
    if opened.document.pinned.iter().any(|p| p.name == pinch.name) {
        return Err(Failure::Asked(format!(
            "there is already a pinch called “{}”; give this one another --name",
            pinch.name
        )));
    }
    let laid = pinch.lay(opened.pattern()?)?;
    let rows: Vec<Vec<String>> = laid
        .stations
        .iter()
        .map(|&(at, amount)| {
            let whole = laid.path.length();
            vec![opened.show(at), opened.show(whole - at), opened.show(amount)]
        })
        .collect();
    let name = pinch.name.clone();
    opened.document.pinned.push(pinch);
    opened.save(&args.project)?;
    output::line(&format!("Pinned on the {} along the {} line:", args.piece, args.line))?;
    let from = |end: usize| format!(">from {}", laid.ends[end].seam);
    output::table(&[&from(0), &from(1), ">amount"], &rows)?;
    output::line(CAUTION)?;
    output::line(&format!("Next: hangtrue weigh {} \"{name}\"", args.project.display()))
}

fn station(text: &str, opened: &Opened) -> Result<Station, Failure> {
    let wrong = || {
        Failure::Asked(format!(
            "“{text}” is not a place and an amount; write it like middle=3/8, 40%=6 mm, or 60 mm from side=1/4 in"
        ))
    };
    let (place, amount) = text.rsplit_once('=').ok_or_else(wrong)?;
    let place = place.trim();
    let at = if place == "middle" {
        StationPlace::Share(0.5)
    } else if let Some(share) = read_share(place) {
        StationPlace::Share(share)
    } else if let Some(seam) = place.strip_prefix("at ") {
        StationPlace::From(seam.trim().to_owned(), 0.0)
    } else {
        let (length, seam) = place.split_once(" from ").ok_or_else(wrong)?;
        StationPlace::From(seam.trim().to_owned(), opened.length(length)?)
    };
    Ok(Station { at, amount: opened.length(amount)? })
}
