//! Bringing in a pattern drawn elsewhere: first said, then, once accepted, a new
//! project or one change of a project.

use super::one_change::{settled, tried};
use crate::args::{JsonArg, NewProjectArgs, OverArg};
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use clap::{Args, ValueEnum};
use hangtrue_adjust::{BringIn, Effect};
use hangtrue_files::exchange::{
    BringOptions, Brought, FileUnit, Kind, KnownLength, SendOptions, bring_file, svg_of,
};
use hangtrue_files::save::write_output;
use hangtrue_pattern::units::{Unit, read_length};
use serde_json::json;
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct BringArgs {
    /// The SVG or DXF file.
    pub file: PathBuf,
    /// Start a new project with the pieces, in this file.
    #[arg(long, conflicts_with = "into")]
    pub start: Option<PathBuf>,
    /// Bring the pieces into this project, as one change.
    #[arg(long)]
    pub into: Option<PathBuf>,
    /// Do it. Without this nothing is changed, and you read what would be kept and
    /// what not.
    #[arg(long)]
    pub accept: bool,
    /// Draw what would be brought in, as SVG.
    #[arg(long, value_name = "SVG")]
    pub picture: Option<PathBuf>,
    /// What the file's numbers are, when it does not say.
    #[arg(long, value_enum)]
    pub unit: Option<FileUnitArg>,
    /// A length you know, like "100 mm": of the line named by --known-line, or the
    /// height of the tallest piece.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub known_length: Option<String>,
    /// Name of the line, shape or layer the known length is of.
    #[arg(long, requires = "known_length")]
    pub known_line: Option<String>,
    /// With --into: pieces take the place of those of the same name. Without this
    /// they come in beside them under a free name.
    #[arg(long, requires = "into")]
    pub replace_pieces: bool,
    /// With --into: name of the change.
    #[arg(long, requires = "into")]
    pub name: Option<String>,
    #[command(flatten)]
    pub project: NewProjectArgs,
    #[command(flatten)]
    pub over: OverArg,
    #[command(flatten)]
    pub json: JsonArg,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum FileUnitArg {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Inches.
    In,
    /// Pixels of 1/96 in.
    Px,
}

pub fn run(args: &BringArgs) -> Result<(), Failure> {
    if args.into.is_none() {
        output::speak_in(args.project.unit());
    }
    let made_from = [Some(&args.file), args.into.as_ref()];
    check_outputs(&[args.picture.as_ref(), args.start.as_ref()], &made_from, args.over.over())?;
    let brought = bring_file(&args.file, &options(args)?)?;
    if let Some(picture) = &args.picture {
        draw(&brought, picture, args)?;
    }
    match (&args.start, &args.into) {
        (Some(start), _) => start_project(args, start, brought),
        (None, Some(into)) => bring_into(args, into, &brought),
        (None, None) if args.accept => Err(Failure::Asked(
            "say where the pieces go: --start with the file of a new project, or --into with a project you have".into(),
        )),
        (None, None) => {
            say(&brought, None, args.json.json)?;
            hint(args, "Nothing was written. Bring it in with --start NEW-PROJECT --accept, or --into PROJECT --accept.")
        }
    }
}

fn options(args: &BringArgs) -> Result<BringOptions, Failure> {
    let unit = args.unit.map(|unit| match unit {
        FileUnitArg::Mm => FileUnit::Mm,
        FileUnitArg::Cm => FileUnit::Cm,
        FileUnitArg::In => FileUnit::Inch,
        FileUnitArg::Px => FileUnit::Px,
    });
    let known = match &args.known_length {
        None => None,
        Some(text) => {
            Some(KnownLength { mm: read_length(text, Unit::Mm)?, of: args.known_line.clone() })
        }
    };
    Ok(BringOptions { unit, known })
}

/// Draws what would be brought in.
fn draw(brought: &Brought, picture: &Path, args: &BringArgs) -> Result<(), Failure> {
    if Kind::of(picture) != Some(Kind::Svg) {
        return Err(Failure::Asked(format!(
            "the picture is drawn as SVG, so “{}” has to end in .svg",
            picture.display()
        )));
    }
    let options = SendOptions { title: source(&args.file), ..SendOptions::default() };
    let svg = svg_of(&brought.pattern, &options)?.0;
    write_output(picture, svg.as_bytes(), args.over.over())?;
    Ok(())
}

fn source(file: &Path) -> String {
    file.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned())
}

fn start_project(args: &BringArgs, start: &Path, brought: Brought) -> Result<(), Failure> {
    say(&brought, None, args.json.json)?;
    let about = &args.project;
    let document = || brought.document(&about.title, &about.client, about.unit());
    let next = "Nothing else was changed. Next: hangtrue walk ";
    hint(args, &crate::project::start(start, document, (args.accept, args.over.over()), next)?)
}

fn bring_into(args: &BringArgs, into: &Path, brought: &Brought) -> Result<(), Failure> {
    let mut opened = Opened::open_for(into, args.accept)?;
    let from = source(&args.file);
    let change = BringIn::of(&from, &brought.pattern, opened.pattern()?, args.replace_pieces);
    let words = change.words();
    let name = args.name.clone().unwrap_or_else(|| format!("brought in {from}"));
    let effect = tried(&mut opened, &name, change)?;
    say(brought, Some((&words, &effect)), args.json.json)?;
    hint(args, &settled(&mut opened, into, args.accept)?)
}

fn hint(args: &BringArgs, words: &str) -> Result<(), Failure> {
    if args.json.json { Ok(()) } else { output::line(words) }
}

fn say(brought: &Brought, into: Option<(&str, &Effect)>, json: bool) -> Result<(), Failure> {
    if json {
        let lost: Vec<_> =
            brought.lost.iter().map(|l| json!({ "what": l.what, "count": l.count })).collect();
        return output::json(&json!({
            "scale_mm": brought.scale,
            "lengths": brought.lengths.iter().map(|l| json!({ "of": l.of, "mm": l.mm })).collect::<Vec<_>>(),
            "kept": brought.kept,
            "not_kept": lost,
            "notes": brought.notes,
            "change": into.map(|(words, effect)| json!({ "words": words, "notes": effect.notes })),
            "pattern": brought.pattern,
        }));
    }
    output::line(&format!("1 in the file is {:.6} mm.", brought.scale))?;
    output::line("Kept:")?;
    for one in &brought.kept {
        output::line(&format!("  {}", output::words(one)))?;
    }
    if !brought.lost.is_empty() {
        output::line("Not kept:")?;
    }
    for loss in &brought.lost {
        output::line(&format!("  {} × {}", loss.count, loss.what))?;
    }
    let effect_notes = into.map(|i| i.1.notes.as_slice()).unwrap_or_default();
    for note in brought.notes.iter().chain(effect_notes) {
        output::line(&format!("Note: {}", output::words(note)))?;
    }
    if let Some((words, _)) = into {
        output::line(&format!("{words}."))?;
    }
    Ok(())
}
