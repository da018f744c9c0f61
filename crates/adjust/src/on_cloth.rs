//! Lines marked on a toile stay on the cloth: a change that answers the toile carries
//! them as it carries the cloth, whatever their rule hangs from.
//!
//! A rule that hangs a line from the waist lets the line slip along the cloth when the
//! waist is cut lower. The next toile would then show the same droop, because its line
//! is another line of cloth, and a right change would read as none.

use crate::moved::MOVED;
use crate::{Change, Outcome, PinchPath};
use hangtrue_geometry::{Chain, Point};
use hangtrue_pattern::units::INCH;
use hangtrue_pattern::{
    InnerLine, Pattern, Piece, Shared, fitted_to_outline, words,
    words::{Fine, Length, Words},
};

/// How a line is called while it is drawn inside its piece; no maker writes this.
const MARK: char = '\u{1}';

/// A line that lies this near to its rule follows its rule, mm.
const BY_RULE: f64 = 0.05;

/// The pattern with its cloth lines drawn inside their pieces.
pub(crate) fn drawn_in(pattern: &Pattern) -> Pattern {
    let mut drawn = pattern.clone();
    for line in pattern.lines.iter().filter(|l| l.purpose.to_cloth()) {
        let lies = line.last.clone().or_else(|| pattern.place_chain(&line.piece, &line.name).ok());
        if let (Some(chain), Ok(piece)) = (lies, drawn.piece_mut(&line.piece)) {
            piece.inner.push(InnerLine { name: format!("{MARK}{}", line.name), chain });
        }
    }
    drawn
}

/// A line as the change carried it.
struct Carried {
    piece: String,
    line: String,
    chain: Chain,
}

/// Takes the lines out of the pieces again and lets those lie on the cloth which their
/// rule would lay elsewhere now.
pub(crate) fn taken_out(change: &Change, before: &Pattern, outcome: &mut Outcome) {
    let carried = out_of_pieces(before, &mut outcome.pattern);
    for Carried { piece, line, chain } in carried {
        let after = &outcome.pattern;
        let is_folded = is_folded(change, after, &piece, &line);
        let cloth = if is_folded { None } else { lies_elsewhere(after, &piece, &line, &chain) };
        if let Some((_, off)) = &cloth
            && off.is_none_or(|off| off.abs() >= MOVED)
        {
            outcome.notes.push(note(&piece, &line, *off));
        }
        outcome.pattern.lines.lay_on_cloth(&piece, &line, cloth.map(|c| c.0));
    }
}

fn out_of_pieces(before: &Pattern, after: &mut Pattern) -> Vec<Carried> {
    let mut carried = Vec::new();
    for piece in &mut after.pieces {
        let name = piece.name.clone();
        let marked = marked_out_of(piece, MARK, before);
        carried.extend(marked.into_iter().map(|InnerLine { name: line, chain }| Carried {
            piece: name.clone(),
            line: line.trim_start_matches(MARK).to_owned(),
            chain,
        }));
    }
    carried
}

/// Takes what was drawn under a mark out of a piece: what a change carried. Nothing of a piece
/// that did not change, which is shared with the pattern before: all of it lies where it lay.
pub(crate) fn marked_out_of(
    piece: &mut Shared<Piece>,
    mark: char,
    before: &Pattern,
) -> Vec<InnerLine> {
    if !piece.inner.iter().any(|line| line.name.starts_with(mark)) {
        return Vec::new();
    }
    let (marked, drawn): (Vec<_>, Vec<_>) =
        std::mem::take(&mut piece.inner).into_iter().partition(|line| line.name.starts_with(mark));
    piece.inner = drawn;
    match before.pieces.iter().find(|was| ***was == **piece) {
        Some(was) => {
            *piece = was.clone();
            Vec::new()
        }
        None => marked,
    }
}

/// Whether the line lies in the fold of the pinch: it is drawn anew there.
fn is_folded(change: &Change, pattern: &Pattern, piece: &str, line: &str) -> bool {
    let Change::Pinch(answered) = change.plain() else { return false };
    let pinch = &answered.pinch;
    // A pinch may name the piece as it was before the legs were parted.
    let base = pattern.piece(piece).ok().and_then(|p| Some(p.parted.as_ref()?.from.as_str()));
    (piece == pinch.piece || base == Some(pinch.piece.as_str()))
        && matches!(&pinch.path, PinchPath::Line(along) if along == line)
}

/// The line on the cloth and how far its rule lies below it at the end where that is
/// most, mm along the grain; none when its rule lays it there.
fn lies_elsewhere(
    pattern: &Pattern,
    piece: &str,
    line: &str,
    chain: &Chain,
) -> Option<(Chain, Option<f64>)> {
    let on = pattern.piece(piece).ok()?;
    let fitted = fitted_to_outline(on, chain).ok()?;
    let Ok(by_rule) = pattern.chain_by_rule(piece, line) else { return Some((fitted, None)) };
    let up = on.grain.direction();
    let below = [(fitted.start(), by_rule.start()), (fitted.end(), by_rule.end())]
        .map(|(cloth, rule)| (cloth - rule, (cloth - rule).dot(up)));
    let most = below.into_iter().max_by(|a, b| a.0.hypot().total_cmp(&b.0.hypot()))?;
    (most.0.hypot() > BY_RULE).then_some((fitted, Some(most.1)))
}

/// How far below the line on the cloth its rule would lay it, mm along the grain, at the
/// end where that is most; minus above, none when the line lies by its rule.
pub fn rule_lies_below(pattern: &Pattern, piece: &str, line: &str) -> Option<f64> {
    let cloth = pattern.line(piece, line).ok()?.cloth.as_ref()?;
    lies_elsewhere(pattern, piece, line, cloth)?.1
}

/// A length that the coarsest fractions still show, or finer.
fn how_far(mm: f64) -> Words {
    const SHOWN: f64 = INCH / 16.0;
    if mm < SHOWN { Fine(mm).into() } else { Length(mm).into() }
}

/// How far along the grain its rule would lay a line below where it lies on the cloth, at
/// each of its two ends with the seam that is met there, mm; none when it lies by its rule.
pub(crate) fn rule_below_ends(
    pattern: &Pattern,
    piece: &str,
    line: &str,
) -> Option<[(String, f64); 2]> {
    pattern.line(piece, line).ok()?.cloth.as_ref()?;
    let placed = pattern.place_line(piece, line).ok()?;
    let by_rule = pattern.chain_by_rule(piece, line).ok()?;
    let up = pattern.piece(piece).ok()?.grain.direction();
    let [first, last] = placed.ends.as_slice() else { return None };
    let below = |cloth: Point, rule: Point| (cloth - rule).dot(up);
    Some([
        (first.seam.clone(), below(placed.chain.start(), by_rule.start())),
        (last.seam.clone(), below(placed.chain.end(), by_rule.end())),
    ])
}

fn note(piece: &str, line: &str, off: Option<f64>) -> Words {
    let lies = words!["The ", line, " line of the ", piece, " is kept where it lay on the cloth"];
    match off {
        Some(off) => words![
            lies,
            ", so that the next toile shows what was changed. By its rule it would now lie ",
            how_far(off.abs()),
            if off > 0.0 { " lower" } else { " higher" },
            " at one end; it goes there when it is laid by its rule again, and the next toile then shows this change as well as what the body does."
        ],
        None => words![lies, "; its rule cannot be met any more."],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::corrections::Correction;
    use crate::{MarkLine, Method, Pinch, PinchChange, sample};
    use hangtrue_pattern::names::{BACK, CROTCH, HIP_BALANCE, KNEE, SIDE, THIGH};
    use hangtrue_pattern::units::Unit;
    use hangtrue_pattern::words::InUnit;
    use hangtrue_pattern::{End, Place, Purpose, ReferenceLine, Rule, SeamPlace, rule};

    /// The sample with a knee line on the back.
    fn pattern() -> Pattern {
        let mut pattern = sample::pattern();
        let hem = SeamPlace { seam: SIDE.into(), from: End::Start, distance: 380.0 };
        pattern.lines.push(ReferenceLine {
            name: KNEE.into(),
            piece: BACK.into(),
            rule: Rule::SquareToGrain(rule::SquareToGrain { through: Place::Seam(hem) }),
            purpose: Purpose::Cloth("to be read".into()),
            last: None,
            cloth: None,
        });
        pattern
    }

    fn lies(pattern: &Pattern, piece: &str, line: &str) -> Chain {
        pattern.place_chain(piece, line).unwrap()
    }

    /// How far below the waist a line meets the centre back, along the seam, mm.
    fn below_waist(pattern: &Pattern, line: &str) -> f64 {
        let placed = pattern.place_line(BACK, line).unwrap();
        let at = placed.ends.iter().find(|e| e.seam == CROTCH).unwrap().position;
        pattern.piece(BACK).unwrap().seam(CROTCH).unwrap().distance_from(End::Start, at)
    }

    /// Length taken out at the top is length that is gone above the line: its place on
    /// the cloth stays, and the waist comes nearer. By its rule nothing would have moved.
    #[test]
    fn a_lowered_waist_comes_nearer_to_the_line_and_the_line_stays() {
        let pattern = pattern();
        let change = Change::Correct(Correction::named("sway back", 15.0).unwrap());
        let outcome = change.apply(&pattern).unwrap();
        let after = &outcome.pattern;
        let (was, is) = (lies(&pattern, BACK, HIP_BALANCE), lies(after, BACK, HIP_BALANCE));
        assert!(was.start().distance(is.start()) < 1e-6 && was.end().distance(is.end()) < 1e-6);
        let nearer = below_waist(&pattern, HIP_BALANCE) - below_waist(after, HIP_BALANCE);
        assert!((nearer - 15.0).abs() < 1e-3, "{nearer}");
        let by_rule = after.chain_by_rule(BACK, HIP_BALANCE).unwrap();
        let slips = by_rule.start().distance(is.start()).max(by_rule.end().distance(is.end()));
        assert!(slips > 13.0, "{slips}");
        let said = outcome.notes.iter().map(|n| n.in_unit(Unit::Mm)).collect::<String>();
        assert!(said.contains("is kept where it lay on the cloth"), "{said}");
        // What did not move is not kept apart from its rule.
        assert!(after.line(BACK, KNEE).unwrap().cloth.is_none());
        // Marked anew it follows its rule again.
        let line = after.line(BACK, HIP_BALANCE).unwrap().clone();
        let anew = Change::MarkLine(MarkLine { line: ReferenceLine { cloth: None, ..line } });
        let anew = anew.apply(after).unwrap().pattern;
        let slipped = below_waist(&anew, HIP_BALANCE) - below_waist(&pattern, HIP_BALANCE);
        assert!(slipped.abs() < 1e-9, "{slipped}");
    }

    /// What the next change does to the cloth it does to the line as it lies.
    #[test]
    fn a_line_on_the_cloth_goes_on_with_the_cloth() {
        let there = Change::Correct(Correction::named("sway back", 12.0).unwrap());
        let back = Change::Correct(Correction::named("sway back", -12.0).unwrap());
        let pattern = pattern();
        let after = there.apply(&pattern).unwrap().pattern;
        assert!(after.line(BACK, HIP_BALANCE).unwrap().cloth.is_some());
        let again = back.apply(&after).unwrap().pattern;
        let (was, is) = (lies(&pattern, BACK, HIP_BALANCE), lies(&again, BACK, HIP_BALANCE));
        assert!(was.start().distance(is.start()) < 0.05 && was.end().distance(is.end()) < 0.05);
        let longer = Change::Correct(Correction::named("leg length above the knee", 20.0).unwrap());
        let longer = longer.apply(&after).unwrap().pattern;
        let (was, is) = (lies(&after, BACK, KNEE), lies(&longer, BACK, KNEE));
        let fell = was.start().y - is.start().y;
        assert!((fell - 20.0).abs() < 0.5, "the knee line goes down with the leg: {fell}");
    }

    /// Every correction: a line off the stretched cloth lies on the same straight, and
    /// the pattern is whole.
    #[test]
    fn every_correction_leaves_its_lines_on_their_cloth() {
        let pattern = pattern();
        let mut held = 0;
        for listed in crate::corrections::CATALOGUE {
            let amount = 0.4 * listed.about.range.1;
            let change = Change::Correct((listed.with)(amount));
            let outcome = change.apply(&pattern).unwrap();
            let after = &outcome.pattern;
            after.check().unwrap();
            for piece in &after.pieces {
                assert!(piece.inner.iter().all(|l| !l.name.starts_with(MARK)));
            }
            for line in after.lines.iter() {
                let placed = after.place_line(&line.piece, &line.name).unwrap();
                assert!(placed.ends.len() == 2, "{}: {}", listed.about.name, line.name);
                held += usize::from(line.cloth.is_some());
            }
        }
        assert!(held > 10, "{held}");
    }

    /// Slashed along a line across below the hip: what lies above goes with the upper
    /// side, what lies below stays, and a line through the fold has lost what is in it.
    #[test]
    fn lines_go_with_the_side_of_the_slash_they_lie_on() {
        let pattern = pattern();
        let [_, slash, _] = Method::all(Unit::Mm);
        let pinch = Pinch::in_the_middle("seat", BACK, THIGH, 8.0);
        let change = Change::Pinch(PinchChange { pinch, method: slash });
        let after = change.apply(&pattern).unwrap().pattern;
        let knee = |p: &Pattern| lies(p, BACK, KNEE);
        assert!(knee(&pattern).start().distance(knee(&after).start()) < 1e-6, "the leg stays");
        assert!(after.line(BACK, THIGH).unwrap().cloth.is_none(), "in the fold it is drawn anew");
        // The hip line goes with the strips: each keeps its distance from the side.
        let on_side = |p: &Pattern| {
            let placed = p.place_line(BACK, HIP_BALANCE).unwrap();
            placed.ends.iter().find(|e| e.seam == SIDE).map(|e| {
                p.piece(BACK).unwrap().seam(SIDE).unwrap().distance_from(End::End, e.position)
            })
        };
        let apart = on_side(&pattern).unwrap() - on_side(&after).unwrap();
        assert!(apart.abs() < 0.5, "{apart}");
    }
}
