//! What leaves the desk: the fitting journal, and the project without its photos.

#![allow(clippy::unwrap_used)] // helpers of tests may stop a test

use crate::common::{Driven, desk_with, folder, press, press_containing, type_place};
use hangtrue_adjust::{NoteKind, OPEN_ROUND, PhotoView, RoundNote, RoundPhoto};
use hangtrue_desk::sample;
use hangtrue_files::project;

fn noted() -> Driven {
    let mut document = sample::opening();
    document.journal.notes.push(RoundNote {
        round: OPEN_ROUND.into(),
        kind: NoteKind::Seen,
        text: "droops".into(),
    });
    document.journal.photos.push(RoundPhoto {
        file: "now back.jpg".into(),
        round: OPEN_ROUND.into(),
        view: PhotoView::Back,
        caption: String::new(),
        in_journal: false,
        cut_above: 0,
        marks: None,
    });
    desk_with(document, None)
}

#[test]
fn the_journal_is_written_as_pdf() {
    let folder = folder("journal");
    let mut h = noted();
    press(&mut h, "Files");
    press_containing(&mut h, "Write the fitting journal…");
    press(&mut h, "Write it…");
    type_place(&mut h, &folder.join("journal"));
    let pdf = std::fs::read(folder.join("journal.pdf")).unwrap();
    assert!(pdf.starts_with(b"%PDF-"));
}

#[test]
fn a_project_is_handed_on_without_photos_name_and_notes_and_never_over_itself() {
    let folder = folder("hand-on");
    let own = folder.join("own.ron");
    let mut h = noted();
    press(&mut h, "Files");
    press_containing(&mut h, "Save as…");
    type_place(&mut h, &own);
    let kept = std::fs::read(&own).unwrap();
    let give = |h: &mut Driven, place: &std::path::Path| {
        press(h, "Files");
        press_containing(h, "Hand the project on without photos…");
        press(h, "Write it…");
        type_place(h, place);
    };
    give(&mut h, &own);
    assert_eq!(std::fs::read(&own).unwrap(), kept, "the project itself is not touched");
    press(&mut h, "Files");
    press_containing(&mut h, "Hand the project on without photos…");
    press(&mut h, "Without the name of the person");
    press(&mut h, "Without the notes of the fitting");
    press(&mut h, "Write it…");
    type_place(&mut h, &folder.join("other"));
    let other = project::load(&folder.join("other.ron")).unwrap();
    assert!(other.client.is_empty() && other.journal.is_empty());
    assert_eq!(other.changes.len(), h.state().document().changes.len());
    let text = std::fs::read_to_string(folder.join("other.ron")).unwrap();
    assert!(!text.contains("cut from the block as drafted"), "the note of a closed round");
}
