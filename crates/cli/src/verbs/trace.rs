//! Tracing a piece from a photo of its card: first said, then, once accepted, a
//! new project or one change of a project.

use super::one_change::{settled, tried};
use crate::args::{LensArg, TraceArgs};
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use hangtrue_adjust::{BringIn, Replay};
use hangtrue_files::photo::{
    GrainSeen, Known, LensKind, MarkLook, OutlineSeen, PhotoJob, Picture, Place, PlacedMark, Sheet,
    TraceJob, Traced, USUAL_REACH, USUAL_TOLERANCE, job_text, overlay, read_job, straight, trace,
};
use hangtrue_files::project;
use hangtrue_files::save::write_output;
use hangtrue_pattern::units::{Unit, read_length, show_length};
use serde_json::json;
use std::path::{Path, PathBuf};

pub fn run(args: &TraceArgs) -> Result<(), Failure> {
    if args.accept && args.start.is_none() && args.into.is_none() {
        return Err(Failure::Asked(
            "say where the piece goes: --start with the file of a new project, or --into with a project you have".into(),
        ));
    }
    let over = args.over.over();
    let outs = [&args.look, &args.straight, &args.save_job, &args.start].map(Option::as_ref);
    check_outputs(&outs, &[Some(&args.photo), args.into.as_ref()], over)?;
    let (job, folder) = job(args)?;
    if let Some(path) = &args.save_job {
        write_output(path, job_text(&job)?.as_bytes(), over)?;
    }
    let read = |file: &str| Picture::open(&folder.join(file));
    let progress = |what: &str, _: f64| {
        if !args.json.json {
            output::complain(&format!("  {what} …"));
        }
    };
    let traced = trace(&job, &read, &progress)?;
    if let Some(look) = &args.look {
        let picture = read(&job.photos[0].file)?;
        write_output(look, &overlay(&picture, &traced, 0)?, over)?;
    }
    if let Some(out) = &args.straight {
        let straight = straight(&read(&job.photos[0].file)?, &traced.photos[0], None)?;
        write_output(out, &straight.png()?, over)?;
        let (per_metre, mm) = (straight.per_metre, straight.mm_per_pixel());
        hint(
            args,
            &format!("{}: {mm:.3} mm a pixel, {per_metre} pixels to a metre.", out.display()),
        )?;
    }
    match (&args.start, &args.into) {
        (Some(start), _) => start_project(args, start, traced),
        (None, Some(into)) => bring_into(args, into, &traced),
        (None, None) => {
            say(&traced, None, args)?;
            hint(
                args,
                "Nothing was written. Take the piece in with --start NEW-PROJECT --accept, or --into PROJECT --accept.",
            )
        }
    }
}

/// The job, and the folder its photos lie in.
fn job(args: &TraceArgs) -> Result<(TraceJob, PathBuf), Failure> {
    let folder = args.photo.parent().unwrap_or(Path::new("")).to_owned();
    let mut job = if args.job {
        read_job(&args.photo)?
    } else {
        TraceJob {
            photos: vec![photo(args)?],
            piece: String::new(),
            grain: None,
            tolerance: USUAL_TOLERANCE,
            seams: Vec::new(),
        }
    };
    if let Some(piece) = &args.piece {
        job.piece.clone_from(piece);
    }
    if let Some(seams) = &args.seams {
        job.seams = seams.split(',').map(|s| s.trim().to_owned()).collect();
    }
    if let Some(tolerance) = &args.tolerance {
        job.tolerance = read_length(tolerance, Unit::Mm)?;
    }
    if let Some(grain) = &args.grain {
        let [from, to] = places("--grain", grain)?.try_into().map_err(|_| {
            Failure::Asked("--grain takes two places: lower end, upper end, as \"x,y x,y\"".into())
        })?;
        job.grain = Some(GrainSeen { photo: 0, from, to });
    }
    Ok((job, folder))
}

fn photo(args: &TraceArgs) -> Result<PhotoJob, Failure> {
    let file = args
        .photo
        .file_name()
        .and_then(|n| n.to_str())
        .ok_or_else(|| {
            Failure::Asked(format!("“{}” names no photo that can be read", args.photo.display()))
        })?
        .to_owned();
    let card = match &args.card {
        None => None,
        Some(text) => Some(
            places("--card", text)?
                .first()
                .copied()
                .ok_or_else(|| Failure::Asked("--card takes one place, as \"x,y\"".into()))?,
        ),
    };
    Ok(PhotoJob {
        file,
        lens: match args.lens {
            LensArg::Scanner => LensKind::Scanner,
            LensArg::Camera => LensKind::Camera,
            LensArg::Wide => LensKind::Wide,
        },
        known: known(args)?,
        shared: Vec::new(),
        reach: USUAL_REACH,
        outline: OutlineSeen::Card(card),
    })
}

fn known(args: &TraceArgs) -> Result<Known, Failure> {
    let marks = args.marks.as_deref().ok_or_else(|| {
        Failure::Asked(
            "say what of known size lies beside the card: --sheet A4, --grid \"50 mm\" or --places, each with --marks".into(),
        )
    })?;
    let marks = places("--marks", marks)?;
    let as_many = |other: usize, what: &str| {
        if other == marks.len() {
            Ok(())
        } else {
            Err(Failure::Asked(format!(
                "{} marks and {other} {what}; give one for each",
                marks.len()
            )))
        }
    };
    if let Some(name) = &args.sheet {
        let sheet = Sheet::of_name(name).ok_or_else(|| {
            Failure::Asked(format!(
                "“{name}” is no sheet; write A0 to A5, Letter, or its width and height in mm like 594x841"
            ))
        })?;
        let corners: [Place; 4] = marks.clone().try_into().map_err(|_| {
            Failure::Asked(format!("a sheet has four corners; {} marks were given", marks.len()))
        })?;
        return Ok(Known::Sheet { sheet, corners, as_pointed: args.as_pointed });
    }
    if let Some(pitch) = &args.grid {
        let crossings = args.crossings.as_deref().unwrap_or_default();
        let crossings = places("--crossings", crossings)?;
        as_many(crossings.len(), "crossings")?;
        if crossings.iter().any(|c| c.0.fract() != 0.0 || c.1.fract() != 0.0) {
            return Err(Failure::Asked(
                "--crossings are columns and rows counted in whole lines, as \"0,0 10,0\"".into(),
            ));
        }
        let whole = |c: &Place| (c.0.clamp(-1e6, 1e6) as i32, c.1.clamp(-1e6, 1e6) as i32);
        let crossings = crossings.iter().map(whole).zip(marks).collect();
        let pitch = read_length(pitch, Unit::Mm)?;
        return Ok(Known::Grid { pitch, crossings, only_these: args.as_pointed });
    }
    let Some(on_table) = &args.places else {
        return Err(Failure::Asked(
            "say what the marks are: corners of a --sheet, crossings of a --grid, or --places on the table".into(),
        ));
    };
    let on_table = places("--places", on_table)?;
    as_many(on_table.len(), "places")?;
    let look = if args.as_pointed { MarkLook::AsPointed } else { MarkLook::Crossing };
    let mark = |(i, (seen, place)): (usize, (Place, Place))| PlacedMark {
        name: (i + 1).to_string(),
        seen,
        place,
        look,
    };
    Ok(Known::Places(marks.into_iter().zip(on_table).enumerate().map(mark).collect()))
}

/// Pairs of numbers: "x,y x,y".
fn places(option: &str, text: &str) -> Result<Vec<Place>, Failure> {
    let wrong = |part: &str| {
        Failure::Asked(format!(
            "{option}: “{part}” is no place; write places like \"120,85 340.5,90\""
        ))
    };
    let number = |t: &str| t.trim().parse::<f64>().ok().filter(|v| v.is_finite());
    text.split([' ', ';', '\n'])
        .filter(|part| !part.is_empty())
        .map(|part| {
            let (x, y) = part.split_once(',').ok_or_else(|| wrong(part))?;
            Ok((number(x).ok_or_else(|| wrong(part))?, number(y).ok_or_else(|| wrong(part))?))
        })
        .collect()
}

fn start_project(args: &TraceArgs, start: &Path, traced: Traced) -> Result<(), Failure> {
    say(&traced, None, args)?;
    if !args.accept {
        return hint(args, &format!("Nothing was written. --accept starts {}.", start.display()));
    }
    let unit = args.show.map_or(Unit::Mm, Unit::from);
    let document = traced.document(&args.title, &args.client, unit);
    Replay::new(document.clone()).start()?;
    project::save_new_over(start, &document, args.over.over())?;
    let name = start.display();
    hint(args, &format!("Started {name}. Digitise the next piece with --into {name}."))
}

fn bring_into(args: &TraceArgs, into: &Path, traced: &Traced) -> Result<(), Failure> {
    let mut opened = Opened::open_for(into, args.accept)?;
    let from =
        args.photo.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
    let change = BringIn::of(&from, &traced.pattern, opened.pattern()?, args.replace_pieces);
    let words = change.words();
    tried(&mut opened, &format!("digitised {from}"), change)?;
    say(traced, Some(&words), args)?;
    hint(args, &settled(&mut opened, into, args.accept)?)
}

fn hint(args: &TraceArgs, words: &str) -> Result<(), Failure> {
    if args.json.json { Ok(()) } else { output::line(words) }
}

fn say(traced: &Traced, words: Option<&str>, args: &TraceArgs) -> Result<(), Failure> {
    if args.json.json {
        return output::json(&as_json(traced, words));
    }
    for photo in &traced.photos {
        let left = photo.ground.camera.residuals();
        output::line(&format!(
            "{}: {} marks; residuals {:.2} mm RMS, {:.2} mm worst{}",
            photo.file,
            photo.ground.marks.len(),
            left.rms,
            left.worst,
            if left.spare == 0 { " (no mark to spare, so these tell nothing)" } else { "" }
        ))?;
        let mut marks: Vec<_> = photo.ground.marks.iter().collect();
        marks.sort_by(|a, b| b.off.hypot().total_cmp(&a.off.hypot()));
        let rows: Vec<Vec<String>> = marks
            .iter()
            .take(8)
            .map(|m| {
                vec![
                    m.name.clone(),
                    format!("{:.1}, {:.1}", m.seen.x, m.seen.y),
                    format!("{:.1}, {:.1}", m.place.x, m.place.y),
                    format!("{:.2}", m.off.hypot()),
                ]
            })
            .collect();
        output::table(&["mark", "seen at (px)", "lies at (mm)", ">off (mm)"], &rows)?;
    }
    let unit = args.show.map_or(Unit::Mm, Unit::from);
    let piece = traced.piece();
    let rows: Vec<Vec<String>> = piece
        .seams
        .iter()
        .map(|s| {
            let curves: usize = s.parts.iter().map(|p| p.segments().len()).sum();
            vec![s.name.clone(), show_length(s.sewn_length(), unit), curves.to_string()]
        })
        .collect();
    output::line(&format!("The piece {}:", piece.name))?;
    output::table(&["seam", ">length", ">curves"], &rows)?;
    output::line(&format!(
        "Expect the outline within {:.2} mm RMS and {:.2} mm at its worst place (95 in 100), as far as the marks are right.",
        traced.expected.rms, traced.expected.worst
    ))?;
    for note in &traced.notes {
        output::line(&format!("Note: {note}"))?;
    }
    if let Some(words) = words {
        output::line(&format!("{words}."))?;
    }
    Ok(())
}

fn as_json(traced: &Traced, words: Option<&str>) -> serde_json::Value {
    let photos: Vec<_> = traced
        .photos
        .iter()
        .map(|p| {
            let left = p.ground.camera.residuals();
            let marks: Vec<_> = p
                .ground
                .marks
                .iter()
                .map(|m| {
                    json!({
                        "name": m.name,
                        "seen_px": [m.seen.x, m.seen.y],
                        "place_mm": [m.place.x, m.place.y],
                        "off_mm": m.off.hypot(),
                    })
                })
                .collect();
            json!({
                "file": p.file,
                "residual_rms_mm": left.rms,
                "residual_worst_mm": left.worst,
                "spare": left.spare,
                "lens_terms": p.ground.camera.terms_found(),
                "marks": marks,
            })
        })
        .collect();
    json!({
        "photos": photos,
        "expected_rms_mm": traced.expected.rms,
        "expected_worst_mm": traced.expected.worst,
        "notes": traced.notes,
        "change": words,
        "pattern": traced.pattern,
    })
}
