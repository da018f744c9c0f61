//! How much a document may hold. The limits are generous, so that no project of a
//! maker meets them; they keep a damaged or hostile file from filling the memory.
//! All are our own choices, not facts of the trade.

use crate::{Change, Document, Start};
use hangtrue_pattern::Pattern;
use std::fmt::Write;

/// Letters of a title or of a client's name: some lines of text.
pub const NAME_LETTERS: usize = 1_000;
/// Letters of the name of a change, a round, a pinch, a piece or a line: far more
/// than stand beside a seam.
pub const LABEL_LETTERS: usize = 500;
/// Letters of any other change written out, numbers and names together: three times
/// what one with the longest names needs.
pub const CHANGE_LETTERS: usize = 5_000;
/// Letters of one note, reason or caption: some ten pages.
pub const NOTE_LETTERS: usize = 20_000;
/// Changes of a document: one each working hour of twenty years.
pub const CHANGES: usize = 40_000;
/// Pinches that wait for an answer: nobody can wear so many pins.
pub const PINCHES: usize = 1_000;
/// Stations of one pinch: one for each millimetre along a wide leg.
pub const STATIONS: usize = 1_000;
/// Notes of a journal.
pub const NOTES: usize = 20_000;
/// Photos of a journal: ten for each of a thousand rounds.
pub const PHOTOS: usize = 10_000;
/// Places marked along one line of a photo: one for each two pixels of a wide one.
pub const MARKED_PLACES: usize = 2_000;
/// Measured droops of a journal.
pub const DROOPS: usize = 20_000;
/// Signs of a journal that were looked for.
pub const SIGNS: usize = 20_000;
/// Pieces of a pattern, or brought in at once: a garment has some dozens.
pub const PIECES: usize = 500;
/// Seams sewn together in a pattern.
pub const JOINS: usize = 2_000;
/// Seams of one piece.
pub const SEAMS: usize = 1_000;
/// Reference lines a pattern starts with.
pub const LINES: usize = 10_000;

/// A document that holds too much.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LimitError {
    /// There are too many of something.
    #[error(
        "there are {found} {what}, and {most} is the most a project holds; take some away, or begin another project"
    )]
    TooMany {
        /// What, in words.
        what: String,
        /// How many there are.
        found: usize,
        /// How many there may be.
        most: usize,
    },
    /// A text is too long.
    #[error("{what} has {found} letters, and {most} is the most; shorten it")]
    TooLong {
        /// Which text, in words.
        what: String,
        /// How many letters it has.
        found: usize,
        /// How many it may have.
        most: usize,
    },
}

fn count(what: &str, found: usize, most: usize) -> Result<(), LimitError> {
    if found <= most {
        return Ok(());
    }
    Err(LimitError::TooMany { what: what.to_owned(), found, most })
}

fn text(what: impl Fn() -> String, text: &str, most: usize) -> Result<(), LimitError> {
    // A letter has at least one byte: most texts need not be counted.
    if text.len() <= most {
        return Ok(());
    }
    let found = text.chars().count();
    if found <= most {
        return Ok(());
    }
    Err(LimitError::TooLong { what: what(), found, most })
}

impl Document {
    /// Checks that the document holds no more than a project may.
    ///
    /// # Errors
    /// [`LimitError`] with what is too many or too long, and the most it may be.
    pub fn check_limits(&self) -> Result<(), LimitError> {
        text(|| "the title".into(), &self.title, NAME_LETTERS)?;
        text(|| "the client’s name".into(), &self.client, NAME_LETTERS)?;
        if let Start::Pieces(pattern) = &self.start {
            pattern_within(pattern)?;
        }
        count("pinches that are not taken up", self.pinned.len(), PINCHES)?;
        for pinch in &self.pinned {
            text(|| "the name of a pinch".into(), &pinch.name, LABEL_LETTERS)?;
            count("pin places of one pinch", pinch.stations.len(), STATIONS)?;
        }
        count("changes", self.changes.len(), CHANGES)?;
        for (place, entry) in self.changes.iter().enumerate() {
            text(|| format!("the name of change {}", place + 1), &entry.name, LABEL_LETTERS)?;
            change_within(entry.change.plain(), place + 1)?;
        }
        let printed = self.printing.printed.as_deref().unwrap_or_default();
        text(|| "the mark of what was printed".into(), printed, LABEL_LETTERS)?;
        count("seams with a width of their own", self.cutting.widths.len(), SEAMS)?;
        for own in &self.cutting.widths {
            let piece = own.piece.as_deref().unwrap_or_default();
            text(|| "a piece in the cutting plan".into(), piece, LABEL_LETTERS)?;
            text(|| "a seam in the cutting plan".into(), &own.seam, LABEL_LETTERS)?;
        }
        let lays = &self.lays;
        for lay in [&lays.cloth, &lays.lining, &lays.interfacing].into_iter().flatten() {
            count("pieces put on a cloth", lay.pieces.len(), PIECES)?;
            for laid in &lay.pieces {
                text(|| "a piece on a cloth".into(), &laid.piece, LABEL_LETTERS)?;
            }
        }
        self.journal_within()
    }

    fn journal_within(&self) -> Result<(), LimitError> {
        let journal = &self.journal;
        count("notes", journal.notes.len(), NOTES)?;
        count("photos", journal.photos.len(), PHOTOS)?;
        count("droops", journal.droops.len(), DROOPS)?;
        count("signs", journal.signs.len(), SIGNS)?;
        for (place, note) in journal.notes.iter().enumerate() {
            text(|| format!("note {}", place + 1), &note.text, NOTE_LETTERS)?;
            text(|| format!("the fitting of note {}", place + 1), &note.round, LABEL_LETTERS)?;
        }
        for (place, photo) in journal.photos.iter().enumerate() {
            text(|| format!("the file name of photo {}", place + 1), &photo.file, LABEL_LETTERS)?;
            text(|| format!("the caption of photo {}", place + 1), &photo.caption, NOTE_LETTERS)?;
            text(|| format!("the fitting of photo {}", place + 1), &photo.round, LABEL_LETTERS)?;
            for line in photo.marks.iter().flat_map(|m| &m.lines) {
                text(
                    || format!("a line’s name on photo {}", place + 1),
                    &line.name,
                    LABEL_LETTERS,
                )?;
                count("places of one line on a photo", line.points.len(), MARKED_PLACES)?;
            }
        }
        for droop in &journal.droops {
            text(|| "the fitting of a droop".into(), &droop.round, LABEL_LETTERS)?;
        }
        for sign in &journal.signs {
            text(|| "the fitting of a sign".into(), &sign.round, LABEL_LETTERS)?;
        }
        Ok(())
    }
}

fn change_within(change: &Change, place: usize) -> Result<(), LimitError> {
    match change {
        Change::CloseRound(close) => {
            text(|| format!("the note of change {place}"), &close.note, NOTE_LETTERS)?;
            text(|| format!("the date of change {place}"), &close.date, LABEL_LETTERS)
        }
        Change::MarkLine(mark) => {
            text(|| format!("the line of change {place}"), &mark.line.name, LABEL_LETTERS)?;
            text(
                || format!("the reason for the line of change {place}"),
                mark.line.purpose.reason(),
                NOTE_LETTERS,
            )
        }
        Change::Pinch(change) => {
            text(|| format!("the pinch of change {place}"), &change.pinch.name, LABEL_LETTERS)?;
            count("pin places of one pinch", change.pinch.stations.len(), STATIONS)
        }
        Change::BringIn(bring) => {
            count("pieces brought in at once", bring.pieces.len(), PIECES)?;
            count("seams brought in at once", bring.joins.len(), JOINS)?;
            bring.pieces.iter().try_for_each(|p| piece_within(p))
        }
        other => written_within(other, place),
    }
}

/// Holds a change to what it is long when written out: whatever texts a kind of
/// change has, also one that is made later, they are counted.
fn written_within(change: &Change, place: usize) -> Result<(), LimitError> {
    let mut letters = Letters(0);
    // Counting never fails, and neither does writing to what only counts.
    let _ = write!(letters, "{change:?}");
    if letters.0 <= CHANGE_LETTERS {
        return Ok(());
    }
    let what = format!("change {place} with all its names");
    Err(LimitError::TooLong { what, found: letters.0, most: CHANGE_LETTERS })
}

/// Counts what is written to it.
struct Letters(usize);

impl std::fmt::Write for Letters {
    fn write_str(&mut self, text: &str) -> std::fmt::Result {
        self.0 += text.chars().count();
        Ok(())
    }
}

fn pattern_within(pattern: &Pattern) -> Result<(), LimitError> {
    count("pieces", pattern.pieces.len(), PIECES)?;
    count("joins", pattern.joins.len(), JOINS)?;
    count("lines", pattern.lines.len(), LINES)?;
    for line in &pattern.lines {
        text(|| "the name of a line".into(), &line.name, LABEL_LETTERS)?;
        text(|| "the reason for a line".into(), line.purpose.reason(), NOTE_LETTERS)?;
    }
    pattern.pieces.iter().try_for_each(|p| piece_within(p))
}

fn piece_within(piece: &hangtrue_pattern::Piece) -> Result<(), LimitError> {
    text(|| "the name of a piece".into(), &piece.name, LABEL_LETTERS)?;
    count("seams of one piece", piece.seams.len(), SEAMS)?;
    piece.seams.iter().try_for_each(|seam| {
        text(|| "the name of a seam".into(), &seam.name, LABEL_LETTERS)?;
        text(|| "the name of a corner".into(), &seam.starts_at, LABEL_LETTERS)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{CloseRound, NoteKind, OPEN_ROUND, RoundNote, sample};
    use hangtrue_pattern::Plan;

    fn document() -> Document {
        let (unit, measures) = (Default::default(), Default::default());
        Document::from_measures("title", "client", unit, measures, Plan::default())
    }

    fn refused(edit: impl Fn(&mut Document)) -> String {
        let mut document = document();
        document.check_limits().unwrap();
        edit(&mut document);
        document.check_limits().unwrap_err().to_string()
    }

    #[test]
    fn what_is_too_much_is_named() {
        let close = |note: &str| {
            Change::CloseRound(CloseRound { date: "2026-01-01".into(), note: note.into() })
        };
        let long = "ü".repeat(NOTE_LETTERS + 1);
        assert!(refused(|d| d.title = "x".repeat(1_001)).contains("the title has 1001 letters"));
        assert!(refused(|d| d.client = "x".repeat(1_001)).contains("client"));
        assert!(refused(|d| d.push("one", close(&long))).contains("the note of change 1"));
        assert!(refused(|d| d.push(&"n".repeat(501), close(""))).contains("name of change 1"));
        let many = refused(|d| {
            let entry = crate::Entry { name: "r".into(), on: true, change: close("") };
            d.changes = vec![entry; CHANGES + 1];
        });
        let (found, most) = (format!("{} changes", CHANGES + 1), format!("{CHANGES} is the most"));
        assert!(many.contains(&found) && many.contains(&most), "{many}");
        let note = RoundNote { round: OPEN_ROUND.into(), kind: NoteKind::Seen, text: long.clone() };
        assert!(refused(|d| d.journal.notes.push(note.clone())).contains("note 1"));
        let pieces = refused(|d| {
            let mut pattern = sample::pattern();
            pattern.pieces = vec![pattern.pieces[0].clone(); PIECES + 1];
            d.start = Start::Pieces(pattern);
        });
        assert!(pieces.contains("501 pieces"), "{pieces}");
    }

    #[test]
    fn no_kind_of_change_holds_a_text_without_end() {
        let long = "n".repeat(CHANGE_LETTERS);
        let renamed = |name: &str| {
            let (piece, name) = ("back".to_owned(), name.to_owned());
            Change::Draw(crate::Draw::RenamePiece(crate::draw::RenamePiece { piece, name }))
        };
        assert!(refused(|d| d.push("", renamed(&long))).contains("change 1 with all its names"));
        let erased =
            Change::EraseLine(crate::EraseLine { piece: "back".into(), line: long.clone() });
        assert!(refused(|d| d.push("", erased.clone())).contains("5000 is the most"));
        let mut usual = document();
        usual.push("", renamed(&"n".repeat(LABEL_LETTERS)));
        usual.check_limits().unwrap();
    }

    #[test]
    fn letters_are_counted_not_bytes() {
        let document = Document { title: "ü".repeat(NAME_LETTERS), ..document() };
        document.check_limits().unwrap();
    }
}
