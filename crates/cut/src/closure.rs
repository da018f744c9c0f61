//! What opens the trousers: the pieces of a fly or a zip, and their places.

use crate::making::Makings;
use crate::opened::Opened;
use crate::waist::within;
use crate::{CutError, Drill, fly, zip};
use hangtrue_adjust::{Closure, Document, UsualCut};
use hangtrue_geometry::units::round_in;
use hangtrue_geometry::words::{Length, Words};
use hangtrue_pattern::{Leg, Pattern, Piece, names, words};

/// The shortest and longest opening, mm.
const LENGTHS: (f64, f64) = (60.0, 400.0);
/// The narrowest and widest facing, mm.
const WIDTHS: (f64, f64) = (15.0, 80.0);
/// So much of the seam is left closed below what is made for its opening, mm.
const LEFT_CLOSED: f64 = 20.0;
/// Where no length is chosen, an opening takes no more than this part of its seam.
const MOST_OF_SEAM: f64 = 0.6;

/// What is asked for, round in the unit. Lengths in mm.
pub(crate) struct Sizes {
    /// How far it opens below the waist.
    pub length: f64,
    /// Width of the facing or of the wide allowance.
    pub width: f64,
    /// A facing or shield runs on below the opening by so much, to be caught in the seam:
    /// common practice, no published source.
    pub beyond: f64,
    /// A shield is so much wider than what it lies behind: common practice, no published
    /// source.
    pub wider: f64,
}

impl Sizes {
    /// How far a facing or shield reaches below the waist, mm.
    pub fn reach(&self) -> f64 {
        self.length + self.beyond
    }

    /// The sizes for a seam, which may bow so much where it is opened.
    fn of(
        document: &Document,
        (length, width): (f64, f64),
        opened: &Opened,
        bow: f64,
    ) -> Result<Self, CutError> {
        let (opening, unit) = (document.cutting.opening, document.unit);
        let (beyond, wider) = (round_in(unit, BEYOND), round_in(unit, WIDER));
        let seam = opened.seam.length();
        let most = (seam - beyond - LEFT_CLOSED).min(LENGTHS.1);
        let reach = length.min(MOST_OF_SEAM * seam) + beyond;
        let usual = opened.straight_within(bow, reach) - beyond;
        let length = opening.length.unwrap_or(usual);
        let length = within("an opening", length, (LENGTHS.0, most))?;
        let width = opening.width.unwrap_or(width);
        // A round foot is as high as it is wide.
        let width = within("a facing", width, (WIDTHS.0, WIDTHS.1.min(0.7 * length)))?;
        Ok(Self { length, width, beyond, wider })
    }
}

/// Where no length is chosen, an opening of a centre seam ends where the seam leaves the
/// straight by so much, mm: farther down it turns into the crotch curve, and neither a zip
/// nor a facing lies flat there. Common practice, no published source; the number is ours.
const LIES_FLAT: f64 = 4.0;

/// In round numbers of mm and of inches.
const BEYOND: (f64, f64) = (15.0, 5.0 / 8.0);
const WIDER: (f64, f64) = (10.0, 3.0 / 8.0);

/// Adds the pieces and marks of what opens the trousers.
pub(crate) fn add(
    makings: &mut Makings,
    pattern: &Pattern,
    document: &Document,
) -> Result<(), CutError> {
    let usual = UsualCut::of(document.unit);
    let (fly, zip) = ((usual.fly, usual.fly_facing), (usual.zip, usual.zip_allowance));
    let for_seam = |piece: &str, seam: &str, usual, bow| -> Result<(Opened, Sizes), CutError> {
        let opened = Opened::of(pattern.piece(piece)?, seam)?;
        let sizes = Sizes::of(document, usual, &opened, bow)?;
        Ok((opened, sizes))
    };
    let cut_on = document.cutting.opening.cut_on;
    match document.cutting.closure {
        Closure::None => Ok(()),
        Closure::Fly { over } => {
            let fronts = [over, over.other()].map(|leg| piece_of(pattern, leg, names::FRONT));
            let (on_top, sizes) = for_seam(
                fronts[0],
                names::CROTCH,
                fly,
                if cut_on { fly::STRAIGHT } else { LIES_FLAT },
            )?;
            shorter_than_usual(makings, document, &sizes, fly.0);
            fly::add(makings, pattern, document, (over, fronts, &on_top, &sizes))?;
            ends_above_hip(makings, pattern, fronts[0], (&on_top, sizes.length));
            Ok(())
        }
        Closure::SideZip { leg } => {
            let pieces = [names::BACK, names::FRONT].map(|base| piece_of(pattern, leg, base));
            let (opened, sizes) = for_seam(pieces[0], names::SIDE, zip, f64::INFINITY)?;
            zip::add(makings, pattern, document, (names::SIDE, &pieces, Some(leg), &sizes))?;
            ends_above_hip(makings, pattern, pieces[0], (&opened, sizes.length));
            Ok(())
        }
        Closure::BackZip => {
            let backs = Leg::BOTH.map(|leg| piece_of(pattern, leg, names::BACK));
            let pieces = if backs[0] == backs[1] { &backs[..1] } else { &backs[..] };
            let (opened, sizes) = for_seam(backs[0], names::CROTCH, zip, LIES_FLAT)?;
            shorter_than_usual(makings, document, &sizes, zip.0);
            zip::add(makings, pattern, document, (names::CROTCH, pieces, None, &sizes))?;
            ends_above_hip(makings, pattern, backs[0], (&opened, sizes.length));
            Ok(())
        }
    }
}

/// An opening that was not chosen and is shorter than the usual one is told.
fn shorter_than_usual(makings: &mut Makings, document: &Document, sizes: &Sizes, usual: f64) {
    if document.cutting.opening.length.is_none() && sizes.length < usual - 1.0 {
        makings.notes.push(words![
            "The opening is ",
            Length(sizes.length),
            " long: farther down the centre seam turns into the crotch curve."
        ]);
    }
}

/// The name of the piece of a leg.
fn piece_of<'a>(pattern: &'a Pattern, leg: Leg, base: &'a str) -> &'a str {
    pattern.piece_for(leg, base).unwrap_or(base)
}

/// The foot of an opening on its piece: the notch that is matched, and the place where the
/// closed seam is fastened.
pub(crate) fn marked(makings: &mut Makings, piece: &str, seam: &str, name: &str, length: f64) {
    let ends = format!("{name} ends");
    if let Some((piece, seam, end, distance)) = makings.place_on_hung(piece, seam, length) {
        let Some(making) = makings.named(&piece) else { return };
        making.notch(name, &seam, end, distance);
        let Ok(seam) = making.piece.seam(&seam) else { return };
        let at = seam.place(end, distance).point;
        making.marks.push(Drill { name: ends, at });
        return;
    }
    let Some(making) = makings.named(piece) else { return };
    let Ok(opened) = Opened::of(&making.piece, seam) else { return };
    making.notch(name, seam, opened.waist_end, length);
    making.marks.push(Drill { name: ends, at: opened.seam.point_at(length) });
}

/// The trousers are drawn over the hips as far as they are open: where that ends above the
/// hip line, what is closed below has to pass them.
fn ends_above_hip(
    makings: &mut Makings,
    pattern: &Pattern,
    piece: &str,
    (opened, length): (&Opened, f64),
) {
    let Ok(piece) = pattern.piece(piece) else { return };
    let Some(above) = above_hip(piece, opened, length).filter(|above| *above > 0.0) else { return };
    makings.notes.push(words![
        "The opening ends ",
        Length(above),
        " above the hip line: see on the toile that it passes over the hips before the zip is bought."
    ]);
}

/// How far the foot of an opening lies above the hip notch of the side seam, along the grain.
fn above_hip(piece: &Piece, opened: &Opened, length: f64) -> Option<f64> {
    let hip = piece.notches.iter().find(|n| n.name == names::HIP && n.seam == names::SIDE)?;
    let at = piece.seam(names::SIDE).ok()?.place(hip.from, hip.distance).point;
    let up = piece.grain.direction();
    Some((opened.seam.point_at(length) - at).dot(up))
}

/// Said where a zip is sewn in.
pub(crate) fn care() -> Words {
    words![
        "Unpick away from your hand; a metal zip holds the iron's heat: let it cool before you touch it."
    ]
}
