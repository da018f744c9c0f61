//! Notches stay on the cloth through a pinch. A notch hangs from an end of its seam: where
//! length is taken out between the two, it would slip along the cloth by as much, and the
//! knee notch no longer be at the knee of the leg that is cut there.

use crate::on_cloth::marked_out_of;
use hangtrue_geometry::Chain;
use hangtrue_pattern::markings::inward_of;
use hangtrue_pattern::{InnerLine, Notch, Pattern, Piece};

/// How a notch is called while it is drawn inside its piece; no maker writes this.
const MARK: char = '\u{2}';

/// A notch is drawn as a stroke so long, mm.
const STROKE: f64 = 1.0;

/// Notches that meet in sewing move alike when their moves differ by less, mm: fairing at the
/// ends of a cut moves the two seams by a hair more or less.
const ALIKE: f64 = 1.0;

/// A notch that moves by less stays where it is, mm.
const STAYS: f64 = 0.01;

/// Draws the notches inside their pieces, to be carried as the cloth is.
pub(crate) fn draw_in(pattern: &mut Pattern) {
    for piece in &mut pattern.pieces {
        // A change of one leg makes its own: what is drawn once is carried once.
        if piece.inner.iter().any(|line| line.name.starts_with(MARK)) {
            continue;
        }
        let strokes: Vec<InnerLine> = (0..piece.notches.len())
            .filter_map(|index| {
                let notch = &piece.notches[index];
                let at = piece.seam(&notch.seam).ok()?.place(notch.from, notch.distance);
                let into = inward_of(at.direction.normalize(), piece) * STROKE;
                let chain = Chain::line(at.point, at.point + into);
                Some(InnerLine { name: format!("{MARK}{index}"), chain })
            })
            .collect();
        if !strokes.is_empty() {
            piece.inner.extend(strokes);
        }
    }
}

/// Takes them out again, and hangs each notch where its cloth came to lie; those that meet
/// in sewing by the same.
pub(crate) fn take_out(before: &Pattern, after: &mut Pattern) {
    let mut moves: Vec<Move> = Vec::new();
    for piece in &mut after.pieces {
        let strokes = marked_out_of(piece, MARK, before);
        moves.extend(moved(before, piece, strokes));
    }
    let alike = moves.iter().map(|one| together(before, one, &moves)).collect::<Vec<_>>();
    for (one, by) in moves.iter().zip(alike) {
        let Some(by) = by.filter(|by| by.abs() > STAYS) else { continue };
        if let Ok(piece) = after.piece_mut(&one.piece) {
            piece.notches[one.index].distance += by;
        }
    }
}

/// How much farther a notch lies from its end now, mm, were it to stay on its cloth.
struct Move {
    piece: String,
    index: usize,
    by: f64,
}

fn moved(before: &Pattern, piece: &Piece, strokes: Vec<InnerLine>) -> Vec<Move> {
    let Ok(was) = before.piece(&piece.name) else { return Vec::new() };
    let of = |stroke: InnerLine| {
        let index: usize = stroke.name.trim_start_matches(MARK).parse().ok()?;
        let notch = piece.notches.get(index).filter(|n| was.notches.get(index) == Some(n))?;
        let seam = piece.seam(&notch.seam).ok()?;
        let (at, _) = seam.nearest(stroke.chain.start());
        let by = seam.distance_from(notch.from, at.position) - notch.distance;
        Some(Move { piece: piece.name.clone(), index, by })
    };
    strokes.into_iter().filter_map(of).collect()
}

/// By how much a notch is moved with those it meets in sewing; none where they would part.
fn together(before: &Pattern, one: &Move, moves: &[Move]) -> Option<f64> {
    let notch_of =
        |m: &Move| -> Option<&Notch> { before.piece(&m.piece).ok()?.notches.get(m.index) };
    let own = notch_of(one)?;
    let mut met = vec![one.by];
    for join in before.joins_of(&one.piece, &own.seam) {
        for side in join.sides().filter(|s| s.piece != one.piece || s.seam != own.seam) {
            let piece = before.piece(&side.piece).ok()?;
            let meets = |n: &Notch| n.name == own.name && n.seam == side.seam;
            if !piece.notches.iter().any(meets) {
                continue;
            }
            let mates = moves.iter().filter(|m| m.piece == side.piece);
            let mut by = mates.filter(|m| notch_of(m).is_some_and(meets)).map(|m| m.by);
            // A piece that was not changed keeps its notches, and ours stays with them.
            met.push(by.next().unwrap_or(0.0));
        }
    }
    let (least, most) =
        met.iter().fold((f64::MAX, f64::MIN), |(l, m), by| (l.min(*by), m.max(*by)));
    (most - least < ALIKE).then(|| met.iter().sum::<f64>() / met.len() as f64)
}

#[cfg(test)]
mod tests {
    use crate::{Change, Distribute, Mates, Method, Pinch, PinchChange, sample, walk_all};
    use hangtrue_pattern::names::{BACK, FRONT, SIDE, THIGH};
    use hangtrue_pattern::{End, Notch, NotchKind, Pattern};

    /// The sample with a notch on both side seams, from the waist, below and above the thigh
    /// line.
    fn pattern() -> Pattern {
        let mut pattern = sample::pattern();
        for piece in [BACK, FRONT] {
            let piece = pattern.piece_mut(piece).unwrap();
            for (name, distance) in [("low", 500.0), ("high", 120.0)] {
                let (name, seam) = (name.to_owned(), SIDE.to_owned());
                let (from, kind) = (End::End, NotchKind::Single);
                piece.notches.push(Notch { name, seam, from, distance, kind });
            }
        }
        pattern
    }

    /// A strip taken out along the thigh line of the back.
    fn with_strip(before: &Pattern, take: f64, mates: Mates) -> Pattern {
        let method = Method::Distribute(Distribute { take: Some(take), mates });
        let pinch = Pinch::in_the_middle("p", BACK, THIGH, 2.0 * take);
        Change::Pinch(PinchChange { pinch, method }).apply(before).unwrap().pattern
    }

    fn distance(pattern: &Pattern, piece: &str, name: &str) -> f64 {
        pattern.piece(piece).unwrap().notches.iter().find(|n| n.name == name).unwrap().distance
    }

    /// Below a strip that is taken out a notch comes nearer to the waist by the strip, above
    /// it nothing moves, and back and front still meet.
    #[test]
    fn a_notch_below_a_strip_stays_on_its_cloth() {
        let before = pattern();
        let after = with_strip(&before, 9.0, Mates::Follow);
        for piece in [BACK, FRONT] {
            let moved = |name| distance(&after, piece, name) - distance(&before, piece, name);
            // The seam crosses the strip aslant and loses a little more than its width.
            assert!((8.9..10.0).contains(&-moved("low")), "{piece}: {}", moved("low"));
            assert!(moved("high").abs() < 0.05, "{piece}: {}", moved("high"));
            // Where it lies on the leg nothing was cut: it lies as far from the hem as before.
            let hem = |p: &Pattern| {
                p.piece(piece).unwrap().seam(SIDE).unwrap().sewn_length()
                    - distance(p, piece, "low")
            };
            assert!((hem(&after) - hem(&before)).abs() < 0.5, "{piece}");
        }
        assert_eq!(distance(&after, BACK, "low"), distance(&after, FRONT, "low"));
        let matched = |p: &Pattern| walk_all(p).unwrap().iter().filter(|w| !w.is_true()).count();
        assert_eq!(matched(&after), matched(&before));
        assert!(after.pieces.iter().all(|p| p.inner.iter().all(|i| !i.name.contains('\u{2}'))));
    }

    /// Where only one of two pieces that are sewn together loses length, their notches still
    /// meet.
    #[test]
    fn notches_that_meet_do_not_part() {
        let before = pattern();
        let after = with_strip(&before, 5.0, Mates::Ease);
        assert_eq!(distance(&after, BACK, "low"), distance(&before, BACK, "low"));
    }
}
