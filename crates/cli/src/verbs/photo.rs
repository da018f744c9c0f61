//! Photos of a round.

use super::note::known_round;
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, read_share};
use clap::{Args, Subcommand, ValueEnum};
use hangtrue_adjust::{OPEN_ROUND, PhotoView, RoundPhoto, TODAY};
use hangtrue_files::album::{self, Hide};
use std::path::{Path, PathBuf};

/// Photos of a fitting. A photo is read, turned upright and written anew as pixels
/// alone into a folder beside the project; place, time and camera are left behind,
/// and nothing is ever sent anywhere. Ask the wearer before taking one. For `level` the
/// lens is best held as high as the thigh line; write down how high that is above the floor.
#[derive(Debug, Args)]
pub struct PhotoArgs {
    /// The project file.
    pub project: PathBuf,
    #[command(subcommand)]
    pub what: PhotoVerb,
}

#[derive(Debug, Subcommand)]
pub enum PhotoVerb {
    /// Take a photo in.
    Add(PhotoAddArgs),
    /// List the photos.
    List,
    /// Let photos be printed in the journal.
    Tick(PhotoNames),
    /// Keep photos out of the journal.
    Untick(PhotoNames),
    /// Cut off or blur a part of a photo that is kept already.
    Hide(PhotoHideArgs),
    /// Throw photos away.
    Remove(PhotoNames),
}

#[derive(Debug, Args)]
pub struct PhotoAddArgs {
    /// The photo, PNG or JPEG.
    pub file: PathBuf,
    /// The fitting whose toile it shows: its name, or “today” for the open one.
    #[arg(long = "fitting", alias = "round", default_value = "today", value_name = "NAME")]
    pub round: String,
    /// From where the wearer is seen.
    #[arg(long, value_enum)]
    pub view: ViewArg,
    /// What stands under it in the journal.
    #[arg(long, default_value = "")]
    pub caption: String,
    /// Let it be printed in the journal.
    #[arg(long)]
    pub tick: bool,
    #[command(flatten)]
    pub hide: HideArgs,
}

#[derive(Debug, Args)]
pub struct HideArgs {
    /// Cut off this much from the top, of the height: "15%" takes off a head.
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub crop_above: Option<String>,
    /// Blur a box past recognition: left, top, width, height in percent of the
    /// picture, "40,0,20,15". Repeat for more boxes.
    #[arg(long, value_name = "X,Y,W,H", allow_hyphen_values = true)]
    pub blur: Vec<String>,
}

#[derive(Debug, Args)]
pub struct PhotoHideArgs {
    /// The photo's name in the list.
    pub photo: String,
    #[command(flatten)]
    pub hide: HideArgs,
}

#[derive(Debug, Args)]
pub struct PhotoNames {
    /// The photos' names in the list.
    #[arg(required = true)]
    pub photos: Vec<String>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum ViewArg {
    /// The wearer's back.
    Back,
    /// A side of the wearer, not said which.
    Side,
    /// The wearer's left side.
    LeftSide,
    /// The wearer's right side.
    RightSide,
    /// The wearer's front.
    Front,
}

pub fn run(args: &PhotoArgs) -> Result<(), Failure> {
    let project = args.project.as_path();
    let mut opened = Opened::open_for(project, !matches!(args.what, PhotoVerb::List))?;
    match &args.what {
        PhotoVerb::Add(add) => take_in(project, &mut opened, add),
        PhotoVerb::List => list(&opened),
        PhotoVerb::Tick(names) => tick(&mut opened, &names.photos, true),
        PhotoVerb::Untick(names) => tick(&mut opened, &names.photos, false),
        PhotoVerb::Hide(hide) => hide_in(project, &mut opened, hide),
        PhotoVerb::Remove(names) => remove(project, &mut opened, &names.photos),
    }
}

fn take_in(project: &Path, opened: &mut Opened, add: &PhotoAddArgs) -> Result<(), Failure> {
    let round = opened.document.round_meant(&add.round).to_owned();
    known_round(opened, &round)?;
    let view = match add.view {
        ViewArg::Back => PhotoView::Back,
        ViewArg::Side => PhotoView::Side,
        ViewArg::LeftSide => PhotoView::LeftSide,
        ViewArg::RightSide => PhotoView::RightSide,
        ViewArg::Front => PhotoView::Front,
    };
    let words = format!("{} {}", round, view.word());
    let album::TakenIn { file, cut_above } =
        album::take_in_doubt(project, &add.file, &words, &hide(&add.hide)?)?;
    opened.document.journal.photos.push(RoundPhoto {
        file: file.clone(),
        round,
        view,
        caption: add.caption.clone(),
        in_journal: add.tick,
        cut_above,
        marks: None,
    });
    save_and_settle(project, opened)?;
    output::line(&format!(
        "Kept as {file} in {}, as pixels alone: no place, time or camera. {} itself is untouched.",
        album::folder_of(project).display(),
        add.file.display()
    ))?;
    output::line(if add.tick {
        "It is ticked for the journal; it goes there only with --with-photos."
    } else {
        "It is not in the journal until you tick it."
    })
}

/// What the options hide.
fn hide(args: &HideArgs) -> Result<Vec<Hide>, Failure> {
    let mut hide = Vec::new();
    for text in &args.blur {
        let numbers: Vec<f64> = text
            .split(',')
            .filter_map(|n| n.trim().trim_end_matches('%').parse::<f64>().ok())
            .map(|percent| percent / 100.0)
            .collect();
        match (numbers.as_slice(), text.split(',').count()) {
            (&[x, y, width, height], 4) => hide.push(Hide::Blur { x, y, width, height }),
            _ => {
                return Err(Failure::Asked(format!(
                    "“{text}” is not a box; write left, top, width and height in percent of the picture, like 40,0,20,15"
                )));
            }
        }
    }
    if let Some(text) = &args.crop_above {
        let with_sign = if text.trim().ends_with('%') { text.clone() } else { format!("{text}%") };
        let share =
            read_share(&with_sign).filter(|s| (0.0..=1.0).contains(s)).ok_or_else(|| {
                Failure::Asked(format!("“{text}” is not a share of the height; write it like 15%"))
            })?;
        hide.push(Hide::Above(share));
    }
    Ok(hide)
}

fn list(opened: &Opened) -> Result<(), Failure> {
    let rows: Vec<Vec<String>> = opened
        .document
        .journal
        .photos
        .iter()
        .map(|p| {
            vec![
                p.file.clone(),
                if p.round == OPEN_ROUND { TODAY.to_owned() } else { p.round.clone() },
                p.view.word().to_owned(),
                if p.in_journal { "ticked" } else { "" }.to_owned(),
                p.caption.clone(),
            ]
        })
        .collect();
    if rows.is_empty() {
        return output::line("No photo is kept.");
    }
    output::table(&["photo", "fitting", "view", "journal", "caption"], &rows)
}

/// The photos there are, for a name that is none of them.
fn unknown(opened: &Opened, name: &str) -> Failure {
    let known: Vec<&str> = opened.document.journal.photos.iter().map(|p| p.file.as_str()).collect();
    let known = if known.is_empty() { "none yet".to_owned() } else { known.join(", ") };
    Failure::Asked(format!("there is no photo called “{name}”; there are: {known}"))
}

fn all_known(opened: &Opened, names: &[String]) -> Result<(), Failure> {
    let there = |name: &&String| opened.document.journal.photos.iter().all(|p| p.file != **name);
    match names.iter().find(there) {
        None => Ok(()),
        Some(name) => Err(unknown(opened, name)),
    }
}

fn tick(opened: &mut Opened, names: &[String], on: bool) -> Result<(), Failure> {
    all_known(opened, names)?;
    for name in names {
        if let Some(photo) = opened.document.journal.photo_mut(name) {
            photo.in_journal = on;
        }
    }
    opened.save()?;
    list(opened)
}

fn hide_in(project: &Path, opened: &mut Opened, args: &PhotoHideArgs) -> Result<(), Failure> {
    all_known(opened, std::slice::from_ref(&args.photo))?;
    let hide = hide(&args.hide)?;
    if hide.is_empty() {
        return Err(Failure::Asked(
            "say what to hide: --crop-above 15%, or --blur 40,0,20,15".into(),
        ));
    }
    let album::TakenIn { file, cut_above } = album::hide_in_kept(project, &args.photo, &hide)?;
    if let Some(photo) = opened.document.journal.photo_mut(&args.photo) {
        photo.file.clone_from(&file);
        if cut_above > 0 {
            photo.cut_off_above(cut_above);
        }
    }
    save_and_settle(project, opened)?;
    output::line(&format!(
        "Hidden in {}; what was there is gone. The photo is now called {file}.",
        args.photo
    ))
}

fn remove(project: &Path, opened: &mut Opened, names: &[String]) -> Result<(), Failure> {
    all_known(opened, names)?;
    for name in names {
        album::doubt(project, name)?;
    }
    opened.document.journal.photos.retain(|p| !names.contains(&p.file));
    save_and_settle(project, opened)?;
    list(opened)
}

/// Saves the project, which decides of the photos in doubt; when it cannot be saved,
/// what its file holds still does.
fn save_and_settle(project: &Path, opened: &mut Opened) -> Result<(), Failure> {
    let saved = opened.save();
    match &saved {
        Ok(()) => album::settle(project, &opened.document),
        Err(_) => album::settle(project, &hangtrue_files::project::load(project)?),
    }
    saved
}
