//! All that is known of how the lines of a round's toile hang: typed in by ruler,
//! and read from its marked photos.

use super::droops::tells_nothing;
use super::{droops_of, leg_words, name_in_reading, read_photo, read_together};
use crate::album;
use hangtrue_adjust::Document;
use hangtrue_adjust::reading::{Droop, HangLine, Leg, MOST_DROOP, PieceView, ReadTogether};
use hangtrue_adjust::worn::Hang;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::{
    words,
    words::{Length, Words},
};
use std::path::Path;

/// The droops of a round and what could not be read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RoundDroops {
    /// The droops; each line of a leg in a view from one source only.
    pub droops: Vec<Droop>,
    /// What those of one photo are unsure of together.
    pub together: Vec<ReadTogether>,
    /// What was left out and why, in words with lengths in mm.
    pub notes: Vec<Words>,
}

/// The longest side to which a photo is made smaller before it is read, pixels:
/// none, because the marks are in pixels of the kept photo.
const WHOLE: usize = usize::MAX;

/// The droops of a round: those that were typed and those of its marked photos,
/// read from the photos' files beside the project. `pattern` is what the toile was
/// cut from ([`Replay::toile`](hangtrue_adjust::Replay::toile)). A photo without
/// marks is not looked at.
pub fn round_droops(
    document: &Document,
    project: Option<&Path>,
    pattern: &Pattern,
    round: &str,
) -> RoundDroops {
    let mut read = Vec::new();
    let mut notes = Vec::new();
    for photo in document.journal.photos_of(round).filter(|p| p.marks.is_some()) {
        let file = &photo.file;
        let Some(project) = project else {
            notes.push(words![
                file,
                " is not read: the project is in no file yet, so it has no photos beside it"
            ]);
            continue;
        };
        let hangs = album::kept(project, file, WHOLE)
            .map_err(Words::why)
            .and_then(|p| read_photo(photo, &p, pattern).map_err(Words::why));
        match hangs {
            Ok(found) => read.push((file.clone(), found.hangs)),
            Err(why) => notes.push(words![file, " is not read: ", why]),
        }
    }
    for (file, hangs) in &read {
        notes.extend(hangs.iter().filter_map(|hang| untold(file, hang)));
    }
    let read: Vec<(&str, &[Hang])> = read.iter().map(|(f, h)| (f.as_str(), h.as_slice())).collect();
    let mut all = gathered(document.journal.droops_of(round), &read);
    all.notes.splice(0..0, notes);
    all
}

/// That a line of a photo tells nothing, and why; none where it does, or where the reading
/// knows no such line.
fn untold(file: &str, hang: &Hang) -> Option<Words> {
    if !tells_nothing(hang) || name_in_reading(&hang.line).is_none() {
        return None;
    }
    let mut words = words![file, format!(", {}:", leg_words(hang.leg))];
    for why in hang.not_told() {
        words = words.and(words![" "]).and(why);
    }
    Some(words)
}

/// One line of one leg in one view, told by one source.
struct LineDroops<'a> {
    source: &'a str,
    droops: Vec<Droop>,
}

impl LineDroops<'_> {
    /// The mean ± of its stations, mm.
    fn error(&self) -> f64 {
        self.droops.iter().map(|d| d.error).sum::<f64>() / self.droops.len().max(1) as f64
    }
}

/// Typed droops and those of photos that are read already, by the photo's name.
/// Where two tell the same line of the same leg, the one with the smaller ± is
/// kept whole: their levels are not the same, so they are never mixed.
pub fn gathered<'a>(
    typed: impl Iterator<Item = &'a Droop>,
    photos: &[(&str, &[Hang])],
) -> RoundDroops {
    let typed: Vec<Droop> = typed.copied().collect();
    let mut sources = vec![("the typed ones", typed)];
    sources.extend(photos.iter().map(|(name, hangs)| (*name, droops_of(hangs))));
    let mut gathered = RoundDroops::default();
    let mut kept_of: Vec<(&str, (HangLine, PieceView, Leg))> = Vec::new();
    for line in HangLine::ALL {
        for (view, leg) in PieceView::ALL.into_iter().flat_map(|v| Leg::BOTH.map(|l| (v, l))) {
            let of_line = |d: &&Droop| (d.line, d.view, d.leg) == (line, view, leg);
            let mut told: Vec<LineDroops<'_>> = sources
                .iter()
                .map(|(source, droops)| LineDroops {
                    source,
                    droops: droops.iter().filter(of_line).copied().collect(),
                })
                .filter(|t| !t.droops.is_empty())
                .collect();
            told.sort_by(|a, b| a.error().total_cmp(&b.error()));
            let mut told = told.into_iter();
            let Some(kept) = told.next() else { continue };
            let what = format!("{} {} line of the {} leg", view.piece(), line.name(), leg.word());
            for other in told {
                gathered.notes.push(words![
                    format!("the {what} is told by {} (± ", kept.source),
                    Length(kept.error()),
                    format!(") and by {} (± ", other.source),
                    Length(other.error()),
                    "): the surer is kept"
                ]);
            }
            match kept.droops.iter().find(|d| d.mm.abs() > MOST_DROOP || d.error >= MOST_DROOP) {
                Some(absurd) => gathered.notes.push(words![
                    format!("the {what} is left out: "),
                    (Length(absurd.mm), 0),
                    " ± ",
                    (Length(absurd.error), 0),
                    format!(" from {} cannot be; look at the marks again", kept.source)
                ]),
                None => {
                    kept_of.push((kept.source, (line, view, leg)));
                    gathered.droops.extend(kept.droops);
                }
            }
        }
    }
    for (name, hangs) in photos {
        let is_kept =
            |d: &Droop| kept_of.iter().any(|k| k.0 == *name && k.1 == (d.line, d.view, d.leg));
        gathered.together.extend(read_together(hangs).iter().filter_map(|t| part_of(t, is_kept)));
    }
    gathered
}

/// The places of a line that are kept, and what they are unsure of together.
fn part_of(whole: &ReadTogether, is_kept: impl Fn(&Droop) -> bool) -> Option<ReadTogether> {
    let rows: Vec<usize> = (0..whole.places.len()).filter(|i| is_kept(&whole.places[*i])).collect();
    let row = |i: &usize| rows.iter().map(|j| whole.spread[*i][*j]).collect();
    let part = ReadTogether {
        places: rows.iter().map(|i| whole.places[*i]).collect(),
        spread: rows.iter().map(row).collect(),
    };
    (!rows.is_empty()).then_some(part)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn droop(leg: Leg, at: f64, mm: f64, error: f64) -> Droop {
        Droop { line: HangLine::Thigh, view: PieceView::Back, leg, at, mm, error }
    }

    fn hang(sag: f64, error: f64) -> Hang {
        use hangtrue_adjust::worn::{HangStation, LegSeen, Within};
        let within = |value| Within { value, error };
        let station = |share: f64| HangStation {
            share,
            place: hangtrue_geometry::Point::ORIGIN,
            level: hangtrue_geometry::Point::ORIGIN,
            turned: 1.0,
            below_last: within(sag * (1.0 - share)),
            sag: within(sag * (1.0 - share)),
            below_side: within(sag * (1.0 - share)),
            not_told: (error > hangtrue_adjust::worn::MOST_ERROR)
                .then_some(hangtrue_adjust::worn::Cause::Followed),
        };
        Hang {
            line: hangtrue_pattern::names::THIGH.into(),
            leg: LegSeen::Left,
            view: hangtrue_adjust::worn::View::Back,
            stations: [0.0, 0.25, 0.5, 0.75, 1.0].map(station).to_vec(),
            fall: within(sag),
            slope: within(0.0),
            turn: within(0.0),
            mm_per_pixel: within(0.5),
            roundness: 0.0,
            foreshortened: 1.0,
            depth: 1.0,
            off_at_ends: [0.0; 2],
            below_lens: 0.0,
            together: Vec::new(),
            seen: 300.0,
        }
    }

    #[test]
    fn the_surer_of_two_is_kept_whole_and_it_is_said() {
        let typed = [droop(Leg::Left, 0.5, 9.0, 2.0), droop(Leg::Right, 0.5, 4.0, 2.0)];
        let sure = [hang(8.0, 1.0)];
        let found = gathered(typed.iter(), &[("back.jpg", &sure)]);
        let left: Vec<&Droop> = found.droops.iter().filter(|d| d.leg == Leg::Left).collect();
        assert_eq!(left.len(), 5, "the photo's places");
        assert!(found.droops.contains(&typed[1]), "the other leg is told by the tape alone");
        assert!(found.notes[0].contains("back.jpg") && found.notes.len() == 1, "{found:?}");

        let unsure = [hang(8.0, 6.0)];
        let found = gathered(typed.iter(), &[("back.jpg", &unsure)]);
        assert_eq!(found.droops, typed);
        assert_eq!(found.notes.len(), 1);
        let absurd = [hang(400.0, 1.0)];
        let found = gathered([].iter(), &[("back.jpg", &absurd)]);
        assert!(found.droops.is_empty() && found.notes[0].contains("left out"), "{found:?}");
    }

    #[test]
    fn a_line_of_which_nothing_is_told_is_said_with_why() {
        let photo = [hang(8.0, 30.0)];
        let found = gathered([].iter(), &[("back.jpg", &photo)]);
        assert!(found.droops.is_empty());
        let said = untold("back.jpg", &photo[0]).unwrap().to_string();
        assert!(said.starts_with("back.jpg, left leg: The thigh line is not read here"), "{said}");
        assert!(said.contains("Smooth the cloth"), "{said}");
        assert_eq!(untold("back.jpg", &hang(8.0, 1.0)), None, "it is told");
    }
}
