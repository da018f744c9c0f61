//! From a photo in the folder beside the project to the droops of a round, and what
//! is drawn over the photo.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::worn::figure::Posed;
use hangtrue_adjust::reading::{HangLine, Leg};
use hangtrue_adjust::worn::{LegSeen, MarkMissing};
use hangtrue_adjust::{Document, OPEN_ROUND, PhotoView, Replay, RoundPhoto, home_shapes};
use hangtrue_files::album::{self, Hide};
use hangtrue_files::demo;
use hangtrue_files::photo::Picture;
use hangtrue_files::worn::{
    Drawn, FOR_SCREEN, MarksError, Way, as_png, overlaid, overlay, read_photo, round_droops,
};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{Unit, show_length};
use std::path::PathBuf;

/// Left over under the seat, mm: 3/8 in.
const SURPLUS: f64 = 9.525;

/// How far below its place at the side a line of the back hangs on a toile that fits,
/// at a share of its length from the inner end, mm.
fn at_home(pattern: &Pattern, line: HangLine, share: f64) -> f64 {
    let shapes = home_shapes(pattern);
    let shape = shapes.iter().find(|s| s.line == line.name() && s.piece == "back").unwrap();
    shape.below_side(share)
}

fn project() -> (Document, Pattern) {
    let mut document = demo::bare().unwrap();
    let block = (**Replay::new(document.clone()).current().unwrap()).clone();
    demo::mark(&mut document, &block);
    let pattern = (**Replay::new(document.clone()).toile(OPEN_ROUND).unwrap()).clone();
    (document, pattern)
}

/// A photo whose upper part was cut off on the way in, with its marks.
fn taken_in(name: &str, surplus: f64) -> (PathBuf, Document, Pattern) {
    let (mut document, pattern) = project();
    let folder = std::env::temp_dir().join(format!("hangtrue-{name}-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    let posed = Posed::new(&pattern, surplus);
    let camera = folder.join("camera.png");
    std::fs::write(&camera, as_png(&posed.photograph(0.01)).unwrap()).unwrap();
    let project = folder.join("maren.ron");
    let kept = album::take_in(&project, &camera, "now back", &[Hide::Above(0.15)]).unwrap();
    assert_eq!(kept.cut_above, 240);
    let mut photo = posed.round_photo(kept.file);
    photo.cut_off_above(kept.cut_above);
    document.journal.photos.push(photo);
    (project, document, pattern)
}

#[test]
fn the_droops_of_a_round_are_read_from_its_photo_although_the_head_was_cut_off() {
    let (project, document, pattern) = taken_in("round-droops", SURPLUS);
    let found = round_droops(&document, Some(&project), &pattern, OPEN_ROUND);
    assert!(found.notes.is_empty(), "{:?}", found.notes);
    let at = |line, leg, at: f64| {
        let same = |d: &&hangtrue_adjust::reading::Droop| {
            d.line == line && d.leg == leg && (d.at - at).abs() < 1e-6
        };
        *found.droops.iter().find(same).unwrap()
    };
    for leg in Leg::BOTH {
        for (line, planted) in [(HangLine::Thigh, SURPLUS), (HangLine::Knee, 0.0)] {
            let droop = at(line, leg, 0.5);
            println!("{leg:?} {line:?} {:.2} ± {:.2}", droop.mm, droop.error);
            let home = at_home(&pattern, line, 0.5);
            // Where the seams lie no photo shows: each is right within what is told.
            assert!((droop.mm - home - planted).abs() < droop.error, "{droop:?} {home}");
        }
        let home = at_home(&pattern, HangLine::Hip, 0.0);
        let hip = at(HangLine::Hip, leg, 0.0);
        assert!((hip.mm - home).abs() < hip.error, "{hip:?} {home}");
        assert_eq!(at(HangLine::Thigh, leg, 1.0).mm, 0.0, "against the side");
    }
    // Without the cut the lens would be taken to have looked elsewhere.
    let mut wrong = document.clone();
    wrong.journal.photos[0].cut_above = 0;
    let picture = album::kept(&project, &document.journal.photos[0].file, usize::MAX).unwrap();
    let right = read_photo(&document.journal.photos[0], &picture, &pattern).unwrap();
    let other = read_photo(&wrong.journal.photos[0], &picture, &pattern).unwrap();
    assert!((right.stand.tilt - other.stand.tilt).abs() > 0.02);

    // Another round has none; a photo that is gone is said.
    assert_eq!(round_droops(&document, Some(&project), &pattern, "first").droops, vec![]);
    album::throw_away(&project, &document.journal.photos[0].file).unwrap();
    let gone = round_droops(&document, Some(&project), &pattern, OPEN_ROUND);
    assert!(gone.droops.is_empty() && gone.notes[0].contains("is not read"), "{gone:?}");
    std::fs::remove_dir_all(project.parent().unwrap()).unwrap();
}

#[test]
fn what_is_missing_is_named_and_half_done_marks_are_no_fault_of_the_rest() {
    let (pattern_of, posed) = {
        let (_, pattern) = project();
        let posed = Posed::new(&pattern, 0.0);
        (pattern, posed)
    };
    let picture = posed.photograph(0.0);
    let mut photo = RoundPhoto { view: PhotoView::Side, ..posed.round_photo("a.jpg".into()) };
    let missing = |photo: &RoundPhoto| match read_photo(photo, &picture, &pattern_of) {
        Err(MarksError::Missing(what)) => Some(what),
        _ => None,
    };
    assert_eq!(missing(&photo), Some(MarkMissing::WhichSide));
    photo.view = PhotoView::Back;
    assert_eq!(missing(&photo), None);
    let without = |change: &dyn Fn(&mut hangtrue_adjust::worn::PhotoMarks)| {
        let mut other = photo.clone();
        change(other.marks.as_mut().unwrap());
        missing(&other)
    };
    assert_eq!(without(&|m| m.level = None), Some(MarkMissing::Level));
    assert_eq!(without(&|m| m.level_at.truncate(1)), Some(MarkMissing::SecondOfLevel));
    assert_eq!(without(&|m| m.distance = None), Some(MarkMissing::Distance));
    assert_eq!(without(&|m| m.heels = None), Some(MarkMissing::Heels));
    assert_eq!(without(&|m| m.lens_height = None), Some(MarkMissing::LensHeight));
    assert_eq!(without(&|m| m.lines.clear()), Some(MarkMissing::Line));
    assert_eq!(without(&|m| m.lines.truncate(1)), Some(MarkMissing::SecondLine));
    // A third line that is only begun is left out and said; the others are read.
    let marks = photo.marks.as_mut().unwrap();
    marks.line_mut("hip balance", LegSeen::Both).points.truncate(2);
    let read = read_photo(&photo, &picture, &pattern_of).unwrap();
    assert_eq!(read.hangs.len(), 4);
    assert!(read.notes.iter().any(|n| n.contains("too few places")), "{:?}", read.notes);
}

/// `HANGTRUE_PICTURES=FOLDER` writes the picture there, to be looked at.
#[test]
fn the_overlay_is_drawn_into_the_picture_with_its_numbers() {
    let (_, pattern) = project();
    let posed = Posed::new(&pattern, SURPLUS);
    let picture = posed.photograph(0.01);
    let photo = RoundPhoto {
        file: "a.jpg".into(),
        round: OPEN_ROUND.into(),
        view: PhotoView::Back,
        caption: String::new(),
        in_journal: false,
        cut_above: 0,
        marks: Some(posed.marks()),
    };
    let read = read_photo(&photo, &picture, &pattern).unwrap();
    let parts = overlay(&read, Unit::Sixteenths, 14.0);
    let plates: Vec<&str> = parts
        .iter()
        .filter_map(|d| match d {
            Drawn::Plate { words, .. } => Some(words.as_str()),
            _ => None,
        })
        .collect();
    // The whole of it: what hangs so at home and what was planted upon it.
    let whole = SURPLUS + at_home(&pattern, HangLine::Thigh, 0.5);
    let near = [-3.0, -2.0, -1.0, 0.0, 1.0, 2.0, 3.0].map(|off| {
        format!("droop {} ±", show_length(whole + off * 25.4 / 16.0, Unit::Sixteenths))
            .replace('≈', "")
    });
    assert!(
        plates.iter().any(|plate| near.iter().any(|words| plate.starts_with(words))),
        "{plates:?}, wanted one of {near:?}"
    );
    assert!(plates.contains(&"thigh, left leg"), "{plates:?}");
    let down = parts.iter().filter_map(|d| match d {
        Drawn::Arrow { from, to, way: Way::Droop } => Some(to.y - from.y),
        _ => None,
    });
    assert!(down.clone().count() >= 2 && down.clone().all(|d| d > 0.0));
    assert!(parts.iter().any(|d| matches!(d, Drawn::Faint(_))), "ends are faint");

    let drawn: Picture = overlaid(&picture, &read, Unit::Sixteenths, 2000, FOR_SCREEN).unwrap();
    assert_eq!((drawn.width(), drawn.height()), (picture.width(), picture.height()));
    let changed = drawn.pixels().iter().zip(picture.pixels()).filter(|(a, b)| a != b).count();
    assert!(changed > 3000, "{changed} of the picture's bytes are drawn over");
    let same = as_png(&drawn).unwrap();
    assert!(Picture::from_bytes(&same).unwrap() == drawn);
    if let Some(folder) = std::env::var_os("HANGTRUE_PICTURES") {
        std::fs::create_dir_all(&folder).unwrap();
        let folder = PathBuf::from(folder);
        std::fs::write(folder.join("overlay.png"), same).unwrap();
        std::fs::write(folder.join("camera-photo.png"), as_png(&picture).unwrap()).unwrap();
    }
}

/// The journal shows what is marked, only on ticked photos, and tells the droops of
/// the round. `HANGTRUE_PICTURES=FOLDER` writes it there.
#[test]
fn the_journal_tells_the_droops_and_shows_the_marked_photo() {
    use hangtrue_files::journal::journal;
    use hangtrue_files::print::{Block, report_pdf};
    let (project, mut document, _) = taken_in("journal-droops", SURPLUS);
    let typed = hangtrue_adjust::reading::Droop {
        line: HangLine::Waist,
        view: hangtrue_adjust::reading::PieceView::Back,
        leg: Leg::Left,
        at: 0.0,
        mm: -6.35,
        error: 1.5,
    };
    let droop = hangtrue_adjust::RoundDroop { round: OPEN_ROUND.into(), droop: typed };
    document.journal.droops.push(droop);
    let told = |document: &Document, photos: Option<&std::path::Path>| {
        journal(&Replay::new(document.clone()), photos).unwrap()
    };
    let words = |report: &hangtrue_files::print::Report| format!("{:?}", report.blocks);
    // Without photos only what was typed is told.
    let without = words(&told(&document, None));
    assert!(
        without.contains("waist, back of the left leg") && without.contains("rise 1/4 in ± 1/16")
    );
    assert!(!without.contains("thigh, back of the left leg"));
    let all = told(&document, Some(&project));
    assert!(words(&all).contains("thigh, back of the left leg"));
    let photos = |report: &hangtrue_files::print::Report| -> Vec<Vec<u8>> {
        let of = |b: &Block| match b {
            Block::Photos { photos, .. } => photos.iter().map(|p| p.jpeg.clone()).collect(),
            _ => Vec::new(),
        };
        report.blocks.iter().flat_map(of).collect()
    };
    assert!(photos(&all).is_empty(), "nothing is ticked");
    document.journal.photos[0].in_journal = true;
    let marked = told(&document, Some(&project));
    document.journal.photos[0].marks = None;
    let bare = told(&document, Some(&project));
    let [with, without] = [photos(&marked), photos(&bare)];
    assert_eq!((with.len(), without.len()), (1, 1));
    assert!(with != without, "the marks are drawn over it");
    let pdf = report_pdf(&marked).unwrap();
    assert!(pdf.starts_with(b"%PDF-"));
    if let Some(folder) = std::env::var_os("HANGTRUE_PICTURES") {
        std::fs::write(PathBuf::from(folder).join("journal.pdf"), pdf).unwrap();
    }
    std::fs::remove_dir_all(project.parent().unwrap()).unwrap();
}
