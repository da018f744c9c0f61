//! Tracing a piece from a photo of its card: first said, then, once accepted, a
//! new project or one change of a project.

use super::one_change::{settled, tried};
use crate::args::{JsonArg, NewProjectArgs, OverArg};
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use clap::{Args, ValueEnum};
use hangtrue_adjust::BringIn;
use hangtrue_files::photo::{
    GrainSeen, Known, LensKind, MarkLook, OutlineSeen, PhotoError, PhotoJob, Picture, Place,
    PlacedMark, SheetSize, TraceJob, Traced, USUAL_REACH, USUAL_TOLERANCE, job_text, overlay,
    overlay_of_refused, read_job, straight, trace,
};
use hangtrue_files::save::write_output;
use hangtrue_pattern::units::{Unit, read_length, show_fine, show_length};
use hangtrue_pattern::words::InUnit;
use serde_json::json;
use std::path::{Path, PathBuf};

/// Places in the photo are pixels from its upper left corner, as "x,y".
#[derive(Debug, Args)]
pub struct TraceArgs {
    /// The photo (PNG or JPEG), or with --job a file that says all of it.
    pub photo: PathBuf,
    /// PHOTO is a job file: photos, marks and points, as written by --save-job.
    #[arg(long, conflicts_with_all = ["sheet", "grid", "places", "marks"])]
    pub job: bool,
    /// A sheet beside the card: A0 to A5, Letter, or its measured size like
    /// 594x841 in mm. --marks are its four corners in order round it, the first two
    /// at the ends of a short side (of its width, for a measured size).
    #[arg(long, conflicts_with_all = ["grid", "places"])]
    pub sheet: Option<String>,
    /// The grid of a cutting mat under the card, from line to line, like "1 in" or
    /// "50 mm". --marks are four or more of its crossings, --crossings say which.
    #[arg(long, value_name = "LENGTH", requires = "crossings", conflicts_with = "places")]
    pub grid: Option<String>,
    /// Where the marks are seen: "x,y x,y x,y x,y".
    #[arg(long, allow_hyphen_values = true)]
    pub marks: Option<String>,
    /// Column and row of each of --marks in the grid, rows upward: "0,0 10,0 …".
    #[arg(long, allow_hyphen_values = true)]
    pub crossings: Option<String>,
    /// Where each of --marks lies on the table, mm, y up: "0,0 700,0 …".
    #[arg(long, allow_hyphen_values = true)]
    pub places: Option<String>,
    /// Use the marks as pointed at, without looking for them in the photo.
    #[arg(long)]
    pub as_pointed: bool,
    /// A place on the card; the middle of the photo when not given.
    #[arg(long, value_name = "X,Y", allow_hyphen_values = true)]
    pub card: Option<String>,
    /// The grainline: lower end, upper end.
    #[arg(long, value_name = "X,Y X,Y", allow_hyphen_values = true)]
    pub grain: Option<String>,
    /// What took the photo.
    #[arg(long, value_enum, default_value_t = LensArg::Camera)]
    pub lens: LensArg,
    /// Name of the piece, like back or front; proposed by its shape when not given.
    #[arg(long)]
    pub piece: Option<String>,
    /// Names of the seams in the order they are shown, with commas between.
    #[arg(long)]
    pub seams: Option<String>,
    /// How far the curves may lie from the card's edge.
    #[arg(long, value_name = "LENGTH")]
    pub tolerance: Option<String>,
    /// How high the card's edge may stand above the plane of the marks, because it is thick
    /// or curls: what that moves is added to what is told.
    #[arg(long, value_name = "LENGTH")]
    pub raised: Option<String>,
    /// Draw what was found over the photo, as PNG.
    #[arg(long, value_name = "PNG")]
    pub look: Option<PathBuf>,
    /// Write the (first) photo as seen from straight above, as PNG that prints at
    /// its actual size; how many mm a pixel is, is told.
    #[arg(long, value_name = "PNG")]
    pub straight: Option<PathBuf>,
    /// Write the job as a file you can change by hand.
    #[arg(long, value_name = "RON")]
    pub save_job: Option<PathBuf>,
    /// Start a new project with the piece, in this file.
    #[arg(long, conflicts_with = "into")]
    pub start: Option<PathBuf>,
    /// Bring the piece into this project, as one change.
    #[arg(long)]
    pub into: Option<PathBuf>,
    /// Do it. Without this nothing is changed, and you read what was found.
    #[arg(long)]
    pub accept: bool,
    /// How many doubtful places of the outline you looked at and found right. With
    /// --accept this must be the number told, so that nothing doubtful is taken in
    /// unseen.
    #[arg(long, value_name = "COUNT", requires = "accept")]
    pub looked_at: Option<usize>,
    /// With --into: the piece takes the place of the one of the same name.
    #[arg(long, requires = "into")]
    pub replace_pieces: bool,
    #[command(flatten)]
    pub project: NewProjectArgs,
    #[command(flatten)]
    pub over: OverArg,
    #[command(flatten)]
    pub json: JsonArg,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum LensArg {
    /// A flatbed scanner.
    Scanner,
    /// A telephone, or a camera that straightens its pictures.
    Camera,
    /// A wide lens that bends straight lines visibly.
    Wide,
}

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
    let traced = match trace(&job, &read, &progress) {
        Ok(traced) => traced,
        Err(why) => {
            look_at_refused(args, &why, &read)?;
            return Err(why.into());
        }
    };
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
    if args.accept && !traced.doubts.is_empty() && args.looked_at != Some(traced.doubts.len()) {
        say(&traced, None, args)?;
        return Err(Failure::Asked(not_looked_at(&traced, args)));
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

/// Draws what was found of a refused outline where --look asks for a picture.
fn look_at_refused(
    args: &TraceArgs,
    why: &PhotoError,
    read: &dyn Fn(&str) -> Result<Picture, PhotoError>,
) -> Result<(), Failure> {
    let (Some(look), Some((photo, found))) = (&args.look, why.so_far()) else { return Ok(()) };
    let drawn = overlay_of_refused(&read(photo)?, found)?;
    write_output(look, &drawn, args.over.over())?;
    output::complain(&format!("What was found is drawn in {}.", look.display()));
    Ok(())
}

/// Why a doubtful outline is not taken in, and what to do.
fn not_looked_at(traced: &Traced, args: &TraceArgs) -> String {
    let count = traced.doubts.len();
    let places = if count == 1 { "place" } else { "places" };
    let look = args.look.as_ref().map_or_else(
        || "draw them with --look out.png".to_owned(),
        |p| format!("they are ringed in {}", p.display()),
    );
    let first =
        traced.doubts.first().map_or_else(String::new, |d| d.why.in_unit(args.project.unit()));
    format!(
        "the outline is doubtful in {count} {places} ({first}); {look}: take away what lies there and photograph again, place the points by hand in a job file, or, when the line is right, add --looked-at {count}"
    )
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
            raised: 0.0,
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
    if let Some(raised) = &args.raised {
        job.raised = read_length(raised, Unit::Mm)?;
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
        let sheet = SheetSize::of_name(name).ok_or_else(|| {
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
    let about = &args.project;
    let document = || traced.document(&about.title, &about.client, about.unit());
    let next = "Digitise the next piece with --into ";
    hint(args, &crate::project::start(start, document, (args.accept, args.over.over()), next)?)
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
    let unit = args.project.unit();
    let fine = |mm: f64| show_fine(mm, unit);
    for photo in &traced.photos {
        let left = photo.ground.camera.residuals();
        output::line(&format!(
            "{}: {} marks; residuals {} RMS, {} worst{}",
            photo.file,
            photo.ground.marks.len(),
            fine(left.rms),
            fine(left.worst),
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
        "Expect the outline within {} RMS and {} at its worst place (95 in 100), as far as the marks are right.",
        fine(traced.expected.rms),
        fine(traced.expected.worst)
    ))?;
    for doubt in &traced.doubts {
        output::line(&format!("Doubtful: {}", doubt.why.in_unit(unit)))?;
    }
    for note in &traced.notes {
        output::line(&format!("Note: {}", note.in_unit(unit)))?;
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
        "doubts": traced.doubts.iter().map(|d| json!({
            "photo": d.photo,
            "seen_px": d.seen,
            "why": d.why,
            "off_mm": d.off,
        })).collect::<Vec<_>>(),
        "notes": traced.notes,
        "change": words,
        "pattern": traced.pattern,
    })
}
