//! The lay plan: what is chosen for a cloth, finding a lay, putting pieces by hand.

use super::lay_told;
use crate::args::{JsonArg, OverArg};
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use clap::{Args, ValueEnum};
use hangtrue_adjust::{ClothLay, Nap, OPEN_ROUND, UsualLay};
use hangtrue_cut::{Cloth, CutSet, choose_shrinkage, own_shrinkage, pieces_to_cut};
use hangtrue_files::lay::{LayFile, OnCloth, full_size, picture_file};
use hangtrue_files::print::fitting_label;
use hangtrue_files::save::write_output;
use hangtrue_files::today;
use hangtrue_lay::{Effort, Lay, Place, choose, chosen, find, kept_lay, needed};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

#[derive(Debug, Args)]
pub struct LayArgs {
    /// The project file.
    pub project: PathBuf,
    /// Which cloth.
    #[arg(long, value_enum, default_value = "cloth")]
    pub of: ClothArg,
    /// Width of the cloth as bought, from edge to edge.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub width: Option<String>,
    /// How the cloth lies.
    #[arg(long, value_enum)]
    pub lies: Option<LiesArg>,
    /// Which way up pieces may lie.
    #[arg(long, value_enum)]
    pub nap: Option<NapArg>,
    /// After what length the print repeats; the hems of all legs meet it alike, and all lie
    /// one way up. "none" where nothing need be matched.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub repeat: Option<String>,
    /// What is left free along each selvedge.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub selvedge: Option<String>,
    /// What is left free between pieces.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub apart: Option<String>,
    /// What washing takes of the length before the cloth is cut, in percent: more is bought.
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub washed_length: Option<f64>,
    /// What washing takes of the width before the cloth is cut, in percent.
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub washed_width: Option<f64>,
    /// What this cloth shrinks in length after it is cut, in percent; less than 0 where it
    /// stretches. Its pieces are cut longer by it. For another than the cloth of the trousers
    /// "as-cloth" cuts them for the same loss as that.
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub shrinks_length: Option<String>,
    /// The same in width.
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub shrinks_width: Option<String>,
    /// Find a short lay and keep it with the project, in place of the one kept before.
    #[arg(long)]
    pub find: bool,
    /// For how many seconds to look; longer finds shorter lays.
    #[arg(long, requires = "find", default_value_t = 5.0, value_name = "SECONDS")]
    pub seconds: f64,
    /// How many lays to try at most; the same number and seed give the same lay, when the
    /// time is enough for them.
    #[arg(long, requires = "find", value_name = "NUMBER")]
    pub rounds: Option<usize>,
    /// What the search begins with.
    #[arg(long, requires = "find", default_value_t = 1, value_name = "NUMBER")]
    pub seed: u64,
    /// Put a piece by hand, like "back=120 cm, 3 cm": along from the cut end, across from the
    /// selvedge or the fold. May be given again for another.
    #[arg(long, value_name = "PIECE=ALONG, ACROSS", allow_hyphen_values = true)]
    pub put: Vec<String>,
    /// Turn a piece by half where it lies. May be given again.
    #[arg(long, value_name = "PIECE")]
    pub turn: Vec<String>,
    /// List all cloths: what is cut of each, how often, and the length kept for it.
    #[arg(long)]
    pub list: bool,
    /// Write the lay as a small picture with its measures (.pdf or .svg).
    #[arg(long, value_name = "FILE")]
    pub picture: Option<PathBuf>,
    /// Write the lay at full size (.svg, .dxf or .pdf).
    #[arg(long, value_name = "FILE")]
    pub full_size: Option<PathBuf>,
    #[command(flatten)]
    pub over: OverArg,
    #[command(flatten)]
    pub json: JsonArg,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ClothArg {
    /// The cloth of the trousers.
    Cloth,
    /// Lining.
    Lining,
    /// Interfacing.
    Interfacing,
    /// Pocketing.
    Pocketing,
}

impl From<ClothArg> for Cloth {
    fn from(of: ClothArg) -> Self {
        match of {
            ClothArg::Cloth => Self::Main,
            ClothArg::Lining => Self::Lining,
            ClothArg::Pocketing => Self::Pocketing,
            ClothArg::Interfacing => Self::Interfacing,
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LiesArg {
    /// In one layer, right side up.
    Open,
    /// Folded along its middle, selvedge on selvedge, right sides together.
    Folded,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum NapArg {
    /// Either way: the cloth looks the same from both ends.
    BothWays,
    /// All the same way: nap, sheen, or a print with an up and a down.
    OneWay,
}

pub fn run(args: &LayArgs) -> Result<(), Failure> {
    let over = args.over.over();
    let outs = [args.picture.as_ref(), args.full_size.as_ref()];
    check_outputs(&outs, &[Some(&args.project)], over)?;
    let picture = kind_of(args.picture.as_deref(), "--picture", ".pdf or .svg")?;
    if picture.is_some_and(|(_, kind)| kind == LayFile::Dxf) {
        return Err(ending("--picture", ".pdf or .svg"));
    }
    let full = kind_of(args.full_size.as_deref(), "--full-size", ".svg, .dxf or .pdf")?;
    let changes = changes(args);
    let mut opened = Opened::open_for(&args.project, changes)?;
    choose_loss(args, &mut opened)?;
    let set = pieces_to_cut(opened.pattern()?, &opened.document)?;
    if args.list {
        return lay_told::list(&opened, &set, args.json.json);
    }
    let of = args.of.into();
    let mut cloth = chosen(&opened.document, of);
    choose_cloth(args, &opened, &mut cloth)?;
    let mut lay = kept_lay(&set, of, &cloth)?;
    if args.find {
        lay = found(args, lay)?;
    }
    by_hand(args, &opened, &mut lay)?;
    if changes {
        cloth.pieces = lay.to_keep();
        choose(&mut opened.document, of, cloth.clone());
        opened.save()?;
    }
    let on = on_cloth(&opened, &set, (of, &cloth), &lay);
    if let Some((path, kind)) = picture {
        write_output(path, &picture_file(&on, kind)?, over)?;
    }
    let mut notes = Vec::new();
    if let Some((path, kind)) = full {
        let (bytes, told) = full_size(&on, kind)?;
        write_output(path, &bytes, over)?;
        notes = told;
    }
    if args.json.json {
        return output::json(&lay_told::as_json(&on));
    }
    lay_told::told_of(&on, &opened)?;
    for note in notes {
        output::line(&format!("Note: {note}"))?;
    }
    for (path, _) in picture.iter().chain(&full) {
        output::line(&format!("Wrote {}.", path.display()))?;
    }
    Ok(())
}

/// The lay with all that is told of it.
fn on_cloth<'a>(
    opened: &'a Opened,
    set: &'a CutSet,
    (of, cloth): (Cloth, &'a ClothLay),
    lay: &'a Lay,
) -> OnCloth<'a> {
    let document = &opened.document;
    let bought_by = UsualLay::of(document.unit).bought_by;
    OnCloth {
        set,
        of,
        cloth,
        lay,
        needed: needed(lay, cloth, set.shrinkage_of(of), bought_by),
        title: &document.title,
        label: fitting_label(document, OPEN_ROUND, &today()),
        unit: document.unit,
    }
}

fn ending(option: &str, endings: &str) -> Failure {
    Failure::Asked(format!("the file of {option} ends in {endings}; give it such a name"))
}

fn kind_of<'a>(
    path: Option<&'a Path>,
    option: &str,
    endings: &str,
) -> Result<Option<(&'a Path, LayFile)>, Failure> {
    let Some(path) = path else { return Ok(None) };
    let said = path.extension().and_then(|e| e.to_str()).unwrap_or_default();
    match LayFile::of_ending(said) {
        Some(kind) => Ok(Some((path, kind))),
        None => Err(ending(option, endings)),
    }
}

/// Whether the project is changed.
fn changes(args: &LayArgs) -> bool {
    let lengths = [&args.width, &args.repeat, &args.selvedge, &args.apart];
    args.find
        || lengths.iter().any(|said| said.is_some())
        || args.lies.is_some()
        || args.nap.is_some()
        || args.washed_length.is_some()
        || args.washed_width.is_some()
        || args.shrinks_length.is_some()
        || args.shrinks_width.is_some()
        || !args.put.is_empty()
        || !args.turn.is_empty()
}

/// What the cloth loses after it is cut.
fn choose_loss(args: &LayArgs, opened: &mut Opened) -> Result<(), Failure> {
    let said = [&args.shrinks_length, &args.shrinks_width];
    if said.iter().all(|said| said.is_none()) {
        return Ok(());
    }
    let (of, plan) = (args.of.into(), &mut opened.document.cutting);
    let is_as_cloth = |said: &&Option<String>| said.as_deref().map(str::trim) == Some(AS_CLOTH);
    if said.iter().any(is_as_cloth) {
        if of == Cloth::Main || !said.iter().all(|said| is_as_cloth(said) || said.is_none()) {
            return Err(Failure::Asked(format!(
                "“{AS_CLOTH}” is said of lining, interfacing or pocketing, and of length and width together"
            )));
        }
        choose_shrinkage(plan, of, None);
        return Ok(());
    }
    let mut loss = own_shrinkage(&plan.own_shrinkage, of).unwrap_or(plan.shrinkage);
    for (said, percent) in said.into_iter().zip([&mut loss.lengthwise, &mut loss.crosswise]) {
        if let Some(said) = said {
            *percent = percent_of(said)?;
        }
    }
    choose_shrinkage(plan, of, Some(loss));
    Ok(())
}

/// A cloth that is cut for the same loss as the cloth of the trousers.
const AS_CLOTH: &str = "as-cloth";

fn percent_of(said: &str) -> Result<f64, Failure> {
    let plain = said.trim().trim_end_matches('%').trim_end().replace(',', ".");
    plain.parse().map_err(|_| {
        Failure::Asked(format!(
            "“{said}” is no percentage; write a number like 3 or -1.5, or {AS_CLOTH}"
        ))
    })
}

fn choose_cloth(args: &LayArgs, opened: &Opened, cloth: &mut ClothLay) -> Result<(), Failure> {
    let choose = |said: &Option<String>, value: &mut f64| -> Result<(), Failure> {
        if let Some(text) = said {
            *value = opened.length(text)?;
        }
        Ok(())
    };
    choose(&args.width, &mut cloth.width)?;
    choose(&args.selvedge, &mut cloth.selvedge)?;
    choose(&args.apart, &mut cloth.apart)?;
    if let Some(text) = &args.repeat {
        let none = text.trim() == "none";
        cloth.repeat = if none { None } else { Some(opened.length(text)?) };
    }
    if let Some(lies) = args.lies {
        cloth.folded = lies == LiesArg::Folded;
    }
    if let Some(nap) = args.nap {
        cloth.nap = if nap == NapArg::OneWay { Nap::OneWay } else { Nap::BothWays };
    }
    let washed = &mut cloth.washed;
    washed.lengthwise = args.washed_length.unwrap_or(washed.lengthwise);
    washed.crosswise = args.washed_width.unwrap_or(washed.crosswise);
    Ok(())
}

/// A lay found within the time and the rounds.
fn found(args: &LayArgs, lay: Lay) -> Result<Lay, Failure> {
    if !(args.seconds > 0.0 && args.seconds <= 86_400.0) {
        return Err(Failure::Asked("--seconds is a number over 0, at most a day".into()));
    }
    let until = Instant::now() + Duration::from_secs_f64(args.seconds);
    let effort = Effort { seed: args.seed, rounds: args.rounds.unwrap_or(usize::MAX) };
    Ok(find(lay.bed, lay.parts, effort, &mut |_| Instant::now() < until)?)
}

fn by_hand(args: &LayArgs, opened: &Opened, lay: &mut Lay) -> Result<(), Failure> {
    for said in &args.put {
        let wrong =
            || Failure::Asked(format!("“{said}” puts no piece; write it like “back=120 cm, 3 cm”"));
        let (name, places) = said.split_once('=').ok_or_else(wrong)?;
        let (along, across) = places.split_once(',').ok_or_else(wrong)?;
        let index = named(lay, name.trim())?;
        let (x, y) = (opened.length(along)?, opened.length(across)?);
        let before = lay.places[index];
        let turned = before.is_some_and(|p| p.turned);
        // On the fold is what lies there exactly.
        let on_fold = lay.parts[index].may_lie_on_fold() && y == 0.0;
        lay.places[index] = Some(Place { x, y, turned, on_fold });
    }
    for name in &args.turn {
        let index = named(lay, name.trim())?;
        match &mut lay.places[index] {
            Some(place) => place.turned = !place.turned,
            None => {
                return Err(Failure::Asked(format!(
                    "“{name}” is not laid yet; put it first, or find a lay"
                )));
            }
        }
    }
    Ok(())
}

fn named(lay: &Lay, name: &str) -> Result<usize, Failure> {
    lay.parts.iter().position(|part| part.name() == name).ok_or_else(|| {
        let names: Vec<String> = lay.parts.iter().map(hangtrue_lay::Part::name).collect();
        Failure::Asked(format!("nothing called “{name}” is laid; there are {}", names.join(", ")))
    })
}
