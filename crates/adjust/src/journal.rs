//! The fitting journal: what was seen and decided at each round, and which photos
//! belong to it. The photos themselves lie beside the project; the document holds
//! their file names alone, so it can be handed on without them.

use crate::reading::{Droop, Looked, Sign};
use crate::usual::is_usual;
use crate::worn::{self, PhotoMarks};
use serde::{Deserialize, Serialize};

/// The round that is not closed yet, where a round is named.
pub const OPEN_ROUND: &str = "now";

/// What a person types for the pattern as it stands, or the open fitting. A fitting that
/// was closed under this name in an older project is meant first.
pub const TODAY: &str = "today";

/// What a person reads for the pattern as it stands.
pub const TODAYS_PATTERN: &str = "today’s pattern";

/// Names that mean a pattern of their own, so no fitting may have one.
const MEANT: [&str; 4] = ["start", OPEN_ROUND, TODAY, TODAYS_PATTERN];

/// Whether the name means a pattern of its own: the start, or today's.
pub(crate) fn is_meant(name: &str) -> bool {
    MEANT.contains(&name)
}

/// What the maker wrote and photographed.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Journal {
    /// Notes, in the order they were written.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<RoundNote>,
    /// Photos, in the order they were taken in.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<RoundPhoto>,
    /// How lines hung, measured on the toile by ruler or tape.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub droops: Vec<RoundDroop>,
    /// Signs that were looked for on the toile; one that is not named was not.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub signs: Vec<RoundSign>,
}

/// A sign that was looked for on a round's toile.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoundSign {
    /// The round whose toile it was: its name, or [`OPEN_ROUND`].
    pub round: String,
    /// What was found.
    pub looked: Looked,
}

/// How a line hung at one station of a round's toile, as the maker measured it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoundDroop {
    /// The round whose toile it was: its name, or [`OPEN_ROUND`].
    pub round: String,
    /// What was measured.
    pub droop: Droop,
}

/// A note on a round.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoundNote {
    /// The round: its name, or [`OPEN_ROUND`].
    pub round: String,
    /// What kind of note it is.
    pub kind: NoteKind,
    /// What was written.
    pub text: String,
}

/// What a note tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum NoteKind {
    /// What was seen on the body.
    Seen,
    /// What was decided.
    Decided,
}

/// A photo that belongs to a round.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoundPhoto {
    /// Its file in the photo folder beside the project; a plain name.
    pub file: String,
    /// The round whose toile it shows: its name, or [`OPEN_ROUND`].
    pub round: String,
    /// From where the wearer is seen.
    pub view: PhotoView,
    /// What stands under it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub caption: String,
    /// Whether it may be printed in the journal. Nothing is ticked until the maker
    /// does it.
    #[serde(default, skip_serializing_if = "is_usual")]
    pub in_journal: bool,
    /// Rows of pixels that were cut off above when it was kept: the lens looked at
    /// the middle of the whole picture.
    #[serde(default, skip_serializing_if = "is_usual")]
    pub cut_above: usize,
    /// What was marked on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub marks: Option<PhotoMarks>,
}

/// From where the wearer is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum PhotoView {
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

impl RoundPhoto {
    /// So many rows of pixels were cut off above the kept photo: its marks move up
    /// with it.
    pub fn cut_off_above(&mut self, rows: usize) {
        self.cut_above += rows;
        if let Some(marks) = &mut self.marks {
            marks.move_up(rows as f64);
        }
    }
}

impl PhotoView {
    /// Those that say which side.
    pub const SAID: [Self; 4] = [Self::Back, Self::Front, Self::LeftSide, Self::RightSide];

    /// `back`, `side`, `left side`, `right side` or `front`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Back => "back",
            Self::Side => "side",
            Self::LeftSide => "left side",
            Self::RightSide => "right side",
            Self::Front => "front",
        }
    }

    /// How a photo is read; none while it is not said which side is seen.
    pub fn seen_from(self) -> Option<worn::View> {
        match self {
            Self::Back => Some(worn::View::Back),
            Self::Side => None,
            Self::LeftSide => Some(worn::View::LeftSide),
            Self::RightSide => Some(worn::View::RightSide),
            Self::Front => Some(worn::View::Front),
        }
    }
}

impl Journal {
    /// Whether nothing was written or photographed.
    pub fn is_empty(&self) -> bool {
        let Self { notes, photos, droops, signs } = self;
        notes.is_empty() && photos.is_empty() && droops.is_empty() && signs.is_empty()
    }

    /// Gives what belongs to a round to the round of another name: when it is
    /// closed, or called otherwise.
    pub fn rename_round(&mut self, from: &str, to: &str) {
        let rounds = self.notes.iter_mut().map(|n| &mut n.round);
        let rounds = rounds.chain(self.photos.iter_mut().map(|p| &mut p.round));
        let rounds = rounds.chain(self.droops.iter_mut().map(|d| &mut d.round));
        for round in rounds.chain(self.signs.iter_mut().map(|s| &mut s.round)) {
            if round == from {
                to.clone_into(round);
            }
        }
    }

    /// The notes of a round of that kind.
    pub fn notes_of(&self, round: &str, kind: NoteKind) -> impl Iterator<Item = &str> {
        self.notes
            .iter()
            .filter(move |n| n.round == round && n.kind == kind)
            .map(|n| n.text.as_str())
    }

    /// The photos of a round.
    pub fn photos_of(&self, round: &str) -> impl Iterator<Item = &RoundPhoto> {
        self.photos.iter().filter(move |p| p.round == round)
    }

    /// What was measured on the toile of a round.
    pub fn droops_of(&self, round: &str) -> impl Iterator<Item = &Droop> {
        self.droops.iter().filter(move |d| d.round == round).map(|d| &d.droop)
    }

    /// What was looked for on the toile of a round, in the order of [`Sign::ALL`].
    pub fn signs_of(&self, round: &str) -> Vec<Looked> {
        let mut signs: Vec<Looked> =
            self.signs.iter().filter(|s| s.round == round).map(|s| s.looked).collect();
        signs.sort_by_key(|l| l.sign);
        signs
    }

    /// Writes down what was found of a sign on the toile of a round, in place of what was
    /// written before; none: it was not looked for.
    pub fn look_for(&mut self, round: &str, sign: Sign, found: Option<Looked>) {
        self.signs.retain(|s| s.round != round || s.looked.sign != sign);
        let round = round.to_owned();
        self.signs.extend(found.map(|looked| RoundSign { round, looked }));
    }

    /// The photo of that file name.
    pub fn photo_mut(&mut self, file: &str) -> Option<&mut RoundPhoto> {
        self.photos.iter_mut().find(|p| p.file == file)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{HangLine, Leg, PieceView};

    #[test]
    fn what_belongs_to_the_open_round_follows_it_when_it_is_closed() {
        let photo = |round: &str| RoundPhoto {
            file: format!("{round}.jpg"),
            round: round.into(),
            view: PhotoView::Back,
            caption: String::new(),
            in_journal: false,
            cut_above: 0,
            marks: None,
        };
        let seen = |round: &str| RoundNote {
            round: round.into(),
            kind: NoteKind::Seen,
            text: "droops".into(),
        };
        let hung = |round: &str| RoundDroop {
            round: round.into(),
            droop: Droop {
                line: HangLine::Thigh,
                view: PieceView::Back,
                leg: Leg::Left,
                at: 0.5,
                mm: 9.5,
                error: 2.0,
            },
        };
        let mut journal = Journal {
            notes: vec![seen(OPEN_ROUND), seen("first")],
            photos: vec![photo(OPEN_ROUND), photo("first")],
            droops: vec![hung(OPEN_ROUND), hung("first")],
            signs: Vec::new(),
        };
        let found = |seen| Some(Looked { sign: Sign::BackSmile, seen, leg: None });
        journal.look_for(OPEN_ROUND, Sign::BackSmile, found(true));
        journal.look_for("first", Sign::BackSmile, found(true));
        journal.look_for("first", Sign::BackSmile, found(false));
        journal.look_for("first", Sign::LapFull, None);
        journal.rename_round(OPEN_ROUND, "second");
        assert_eq!(journal.photos_of("second").count(), 1);
        assert_eq!(journal.droops_of("second").count(), 1);
        assert_eq!(journal.signs_of("second"), [found(true).unwrap()]);
        assert_eq!(journal.signs_of("first"), [found(false).unwrap()]);
        assert_eq!(journal.notes_of("second", NoteKind::Seen).count(), 1);
        assert_eq!(journal.notes_of("first", NoteKind::Decided).count(), 0);
        assert_eq!(journal.photos_of("first").count(), 1);
        let text = crate::ron_text::written(&journal).unwrap();
        assert_eq!(crate::ron_text::read::<Journal>(&text).unwrap(), journal);
        assert!(!text.contains("marks") && !text.contains("cut_above"), "{text}");
    }

    #[test]
    fn a_photo_of_an_older_project_is_read() {
        let old = r#"(file: "a.jpg", round: "now", view: Side, in_journal: true)"#;
        let photo: RoundPhoto = crate::ron_text::read(old).unwrap();
        assert_eq!((photo.view, photo.marks, photo.cut_above), (PhotoView::Side, None, 0));
        assert_eq!(photo.view.seen_from(), None);
        assert_eq!(crate::ron_text::read::<PhotoView>("LeftSide").unwrap(), PhotoView::LeftSide);
    }
}
