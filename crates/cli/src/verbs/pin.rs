//! Entering what was pinned.

use crate::args::LegsArg;
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, read_share};
use clap::Args;
use hangtrue_adjust::reading::HangLine;
use hangtrue_adjust::{
    ChangeError, Counted, MeasuredPin, MeasuredPlace, Pinch, PinchPath, legs_named,
};
use hangtrue_pattern::{Leg, Pattern, ReferenceLine, names};
use std::path::PathBuf;

/// Enter what was pinned on the toile, as measured on the cloth.
///
/// Measure before unpinning, or make a hash mark on both sides of the pinch at each
/// pin. Lay the tape along the marked line: for each place note how far it lies
/// from a seam, and how much cloth is taken there, from hash mark to hash mark.
/// Between two places the amount goes smoothly from one to the other; where the
/// line meets a seam without an amount, the pinch has run out.
///
/// Pins on a body: safety pins when the wearer is to sit or bend, points away from
/// the body, none in the mouth, and every pin counted in and out again.
#[derive(Debug, Args)]
pub struct PinArgs {
    /// The project file.
    pub project: PathBuf,
    /// Name for the pinch.
    #[arg(long, default_value = "pinch", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub name: String,
    /// The piece it was pinned on; when left and right are apart, “back” means both
    /// legs and “back left” that leg.
    #[arg(long)]
    pub piece: String,
    /// The leg it was pinned on, when left and right are apart.
    #[arg(long, value_enum, default_value_t = LegsArg::Both)]
    pub leg: LegsArg,
    /// The reference line it runs along; may be said in --at instead.
    #[arg(long)]
    pub line: Option<String>,
    /// No line: straight between two places on seams:
    /// "100 mm from waist of side, 80 mm from crotch point of inseam".
    #[arg(long, value_name = "PLACE, PLACE", conflicts_with = "line", allow_hyphen_values = true)]
    pub across: Option<String>,
    /// A place and an amount, as measured: "middle=7/16", "40% from inseam=6 mm",
    /// "5 1/4 from inseam of thigh = 7/16", "60 mm from side seam=1/4 in",
    /// "5 1/4 from inseam and 5 from side=7/16" (each checks the other), "at side=1/4".
    /// Negative amounts let out. "left: middle=7/16" is of that leg alone. Repeat for
    /// more places.
    #[arg(long = "at", required = true, value_name = "PLACE=AMOUNT")]
    pub at: Vec<String>,
    /// The amounts are the depth of the fold, from the pins to the folded edge; twice
    /// that is the cloth taken.
    #[arg(long)]
    pub fold_depth: bool,
}

/// One `--at`: the leg it is of alone, the line it names, the pin.
struct At {
    leg: Option<Leg>,
    line: Option<String>,
    pin: MeasuredPin,
}

pub fn run(args: &PinArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    let ats: Result<Vec<At>, Failure> = args.at.iter().map(|text| at(text, &opened)).collect();
    let ats = ats?;
    let pattern = opened.pattern()?.clone();
    let path = path(args, &ats, &opened)?;
    let counted = if args.fold_depth { Counted::FoldDepth } else { Counted::Whole };
    let mut pinches = Vec::new();
    for (leg, piece) in pieces(args, &ats, &pattern)? {
        let of_leg = |a: &&At| leg.is_none() || a.leg.is_none() || a.leg == leg;
        let pins: Vec<MeasuredPin> = ats.iter().filter(of_leg).map(|a| a.pin.clone()).collect();
        if pins.is_empty() {
            continue;
        }
        let name = match leg {
            Some(leg) if ats.iter().any(|a| a.leg.is_some()) => {
                format!("{} {}", args.name, leg.word())
            }
            _ => args.name.clone(),
        };
        if opened.document.pinned.iter().any(|p| p.name == name) {
            return Err(Failure::Asked(format!(
                "there is already a pinch called “{name}”; give this one another --name"
            )));
        }
        // On both legs of a parted pattern the same is pinned; one must not refuse it.
        let mut made = None;
        for (_, pattern) in legs_named(&pattern, &piece) {
            let measured =
                Pinch::as_measured(&name, &piece, path.clone(), &pins, counted, &pattern)?;
            made.get_or_insert(measured);
        }
        pinches.extend(made);
    }
    opened.document.pinned.extend(pinches.iter().cloned());
    opened.save()?;
    for pinch in &pinches {
        show(&opened, &pattern, pinch)?;
    }
    output::line(hangtrue_adjust::PINS_ON_A_BODY)?;
    for pinch in &pinches {
        output::line(&format!(
            "Next: hangtrue methods {} \"{}\"",
            args.project.display(),
            pinch.name
        ))?;
    }
    Ok(())
}

/// The pieces that are pinned, each with its leg when it is of one leg alone.
fn pieces(
    args: &PinArgs,
    ats: &[At],
    pattern: &Pattern,
) -> Result<Vec<(Option<Leg>, String)>, Failure> {
    let named: Vec<Leg> = match args.leg {
        LegsArg::Left => vec![Leg::Left],
        LegsArg::Right => vec![Leg::Right],
        LegsArg::Both => Leg::BOTH.to_vec(),
    };
    let by_leg = args.leg != LegsArg::Both || ats.iter().any(|a| a.leg.is_some());
    if !by_leg {
        return Ok(vec![(None, args.piece.clone())]);
    }
    if !pattern.is_apart() {
        let wanted = "a pinch on one leg alone".to_owned();
        return Err(Failure::Apart {
            why: Box::new(ChangeError::NotApart { wanted }),
            project: args.project.clone(),
        });
    }
    let of_leg = |leg: Leg| match pattern.piece(&args.piece) {
        Ok(piece) if piece.leg() == Some(leg) => Ok((Some(leg), args.piece.clone())),
        Ok(_) => Err(Failure::Asked(format!(
            "the {} is not a piece of the {} leg; leave --leg away, or name the piece without its leg",
            args.piece,
            leg.word()
        ))),
        Err(none) => match pattern.piece_for(leg, &args.piece) {
            Some(name) => Ok((Some(leg), name.to_owned())),
            None => Err(none.into()),
        },
    };
    if let Some(other) = ats.iter().filter_map(|a| a.leg).find(|leg| !named.contains(leg)) {
        return Err(Failure::Asked(format!(
            "an amount is given for the {} leg, which --leg leaves out",
            other.word()
        )));
    }
    named.into_iter().map(of_leg).collect()
}

/// Where the pinch runs.
fn path(args: &PinArgs, ats: &[At], opened: &Opened) -> Result<PinchPath, Failure> {
    if let Some(text) = &args.across {
        let like = "“100 mm from waist of side, 80 mm from crotch point of inseam”";
        let (from, to) = text.split_once(',').ok_or_else(|| {
            Failure::Asked(format!("“{text}” cannot be read; write it like {like}"))
        })?;
        return Ok(PinchPath::Across {
            from: opened.seam_place(&args.piece, from)?,
            to: opened.seam_place(&args.piece, to)?,
        });
    }
    let mut lines: Vec<&str> = args.line.iter().map(String::as_str).collect();
    lines.extend(ats.iter().filter_map(|a| a.line.as_deref()));
    lines.dedup();
    match lines[..] {
        [line] => {
            let line = line_called(line, opened.pattern()?);
            is_on_the_toile(&line, args, opened)?;
            Ok(PinchPath::Line(line))
        }
        [] => Err(Failure::Asked(
            "say along which line it was pinned: --line thigh, or --across for no line".into(),
        )),
        _ => Err(Failure::Asked(format!(
            "a pinch runs along one line, and here are several: {}; enter one pinch for each",
            lines.join(", ")
        ))),
    }
}

/// An edge is no line to pin along, and a line that stays on paper is not on the toile: as a
/// table of droops has it.
fn is_on_the_toile(line: &str, args: &PinArgs, opened: &Opened) -> Result<(), Failure> {
    let pattern = opened.pattern()?;
    let of_piece: Vec<&ReferenceLine> =
        pattern.lines.iter().filter(|l| l.piece.starts_with(&args.piece)).collect();
    let marked = of_piece.iter().find(|l| l.name == line);
    let why = match (marked, HangLine::called(line)) {
        (None, Some(HangLine::Waist | HangLine::Hem)) => {
            format!("the {line} is an edge, and nothing is pinned along an edge")
        }
        (Some(marked), _) if !marked.purpose.to_cloth() => {
            format!("the {line} line stays on paper and is not on the toile")
        }
        _ => return Ok(()),
    };
    let on_cloth = of_piece.iter().filter(|l| l.purpose.to_cloth()).map(|l| l.name.as_str());
    // The legs of a parted pattern have lines of the same names.
    let on_cloth = on_cloth.fold(Vec::new(), |mut all: Vec<&str>, name| {
        if !all.contains(&name) {
            all.push(name);
        }
        all
    });
    Err(Failure::Asked(format!(
        "{why}; pin along one of: {}, or say --across and the two places between which it was pinned",
        on_cloth.join(", ")
    )))
}

/// The line as the pattern calls it; as in a table of droops, “hip” is the hip balance line
/// where no line has that name.
fn line_called(text: &str, pattern: &Pattern) -> String {
    let is_there = |name: &str| pattern.lines.iter().any(|line| line.name == name);
    let usual = HangLine::called(text).map(HangLine::name);
    match usual {
        Some(usual) if !is_there(text) && is_there(usual) => usual.to_owned(),
        _ => text.to_owned(),
    }
}

fn at(text: &str, opened: &Opened) -> Result<At, Failure> {
    let wrong = || {
        Failure::Asked(format!(
            "“{text}” is not a place and an amount; write it like middle=7/16, 40% from inseam=6 mm, or 60 mm from side=1/4 in"
        ))
    };
    let (leg, rest) = match text.split_once(':') {
        Some((word, rest)) => match word.trim() {
            "left" => (Some(Leg::Left), rest),
            "right" => (Some(Leg::Right), rest),
            _ => return Err(wrong()),
        },
        None => (None, text),
    };
    let (place, amount) = rest.rsplit_once('=').ok_or_else(wrong)?;
    let (place, line) = match place.rsplit_once(" of ") {
        Some((place, line)) => (place.trim(), Some(line.trim().to_owned())),
        None => (place.trim(), None),
    };
    let from = |text: &str| -> Result<(String, f64), Failure> {
        let (length, seam) = text.split_once(" from ").ok_or_else(wrong)?;
        Ok((end_seam(seam), opened.length(length)?))
    };
    let place = if place == "middle" {
        MeasuredPlace::Share(0.5, None)
    } else if let Some(share) = read_share(place) {
        MeasuredPlace::Share(share, None)
    } else if let Some(seam) = place.strip_prefix("at ") {
        MeasuredPlace::From(end_seam(seam), 0.0)
    } else if let "side" | "side seam" | "inseam" | "centre" = place {
        MeasuredPlace::From(end_seam(place), 0.0)
    } else if let Some((first, second)) = place.split_once(" and ") {
        MeasuredPlace::FromBoth([from(first)?, from(second)?])
    } else {
        let (where_, seam) = place.split_once(" from ").ok_or_else(wrong)?;
        match read_share(where_) {
            Some(share) => MeasuredPlace::Share(share, Some(end_seam(seam))),
            None => MeasuredPlace::From(end_seam(seam), opened.length(where_)?),
        }
    };
    Ok(At { leg, line, pin: MeasuredPin { place, amount: opened.length(amount)? } })
}

/// The seam at an end of a line, said as a maker says it and as droops are written: the
/// centre is where the crotch seam runs.
fn end_seam(said: &str) -> String {
    let said = said.trim();
    match said.strip_suffix(" seam").unwrap_or(said) {
        "centre" => names::CROTCH.to_owned(),
        "side" => names::SIDE.to_owned(),
        _ => said.to_owned(),
    }
}

/// The pinch as it lies: what was measured, and what is pinned half-way between.
fn show(opened: &Opened, pattern: &Pattern, pinch: &Pinch) -> Result<(), Failure> {
    for (leg, pattern) in legs_named(pattern, &pinch.piece) {
        let laid = pinch.lay(&pattern)?;
        let (whole, profile) = (laid.path.length(), laid.profile()?);
        let mut rows = Vec::new();
        for (index, &(at, amount)) in laid.stations.iter().enumerate() {
            rows.push(vec![
                opened.show(at),
                opened.show(whole - at),
                opened.show(amount),
                String::new(),
            ]);
            if let Some(&(next, _)) = laid.stations.get(index + 1) {
                let between = 0.5 * (at + next);
                rows.push(vec![
                    opened.show(between),
                    opened.show(whole - between),
                    opened.show(profile.at(between)),
                    "between".into(),
                ]);
            }
        }
        let along = match &pinch.path {
            PinchPath::Line(line) => format!("along the {line} line"),
            PinchPath::Across { .. } => "straight across".to_owned(),
        };
        let leg = leg.map_or_else(String::new, |leg| format!(", {} leg", leg.word()));
        output::line(&format!("“{}”, pinned on the {}{leg} {along}:", pinch.name, pinch.piece))?;
        let from = |end: usize| format!(">from {}", laid.ends[end].seam);
        output::table(&[&from(0), &from(1), ">amount", ""], &rows)?;
    }
    Ok(())
}
