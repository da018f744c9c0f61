//! The pieces to cut over a sample of the survey's bodies (ANSUR II, see
//! `tests/data/README.md`): closed, not crossing, and as long as what they are sewn to.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops at the first fault

use hangtrue_adjust::{AllowanceSet, Change, Correction, Document, Replay, WaistFinish, walk};
use hangtrue_cut::{Width, cut_chain, names as made, pieces_to_cut};
use hangtrue_pattern::{Pattern, Plan, draft, names, units::Unit};
use hangtrue_tests::bodies::bodies;

fn patterns(step: usize) -> Vec<Pattern> {
    let drafted = bodies().into_iter().step_by(step);
    drafted.filter_map(|body| Some(draft(&body, &Plan::default()).ok()?.pattern)).collect()
}

fn document(set: AllowanceSet, waist: WaistFinish) -> Document {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(set);
    document.cutting.waist = waist;
    document
}

fn sewn_waist(pattern: &Pattern, piece: &str) -> f64 {
    pattern.piece(piece).unwrap().seam(names::WAIST).unwrap().sewn_length()
}

const FINISHES: [WaistFinish; 5] = [
    WaistFinish::None,
    WaistFinish::Straight { width: 40.0, overlap: 40.0 },
    WaistFinish::Shaped { width: 40.0, overlap: 0.0 },
    WaistFinish::Facing { width: 60.0 },
    WaistFinish::Casing { elastic: 30.0 },
];

/// `pieces_to_cut` refuses any outline or cut line that is open or crosses itself.
#[test]
fn every_piece_is_made_and_as_long_as_what_it_is_sewn_to() {
    let (mut made_pieces, mut worst) = (0, 0.0f64);
    for pattern in patterns(60) {
        let around = 2.0 * (sewn_waist(&pattern, names::BACK) + sewn_waist(&pattern, names::FRONT));
        for set in AllowanceSet::ALL {
            for waist in FINISHES {
                let cut = pieces_to_cut(&pattern, &document(set, waist))
                    .unwrap_or_else(|why| panic!("{set:?} {waist:?}: {why}"));
                made_pieces += cut.pieces.len();
                for band in [made::WAISTBAND, made::CASING] {
                    let Ok(piece) = cut.pattern.piece(band) else { continue };
                    let long = piece.seam(names::WAIST).unwrap().sewn_length();
                    assert!((long - around).abs() < 1e-6, "{band}: {long} for {around}");
                }
                for join in cut.pattern.joins.iter().filter(|j| j.second.is_some()) {
                    let walked = walk(&cut.pattern, join).unwrap();
                    worst = worst.max(walked.difference.abs());
                    for stretch in &walked.stretches {
                        worst = worst.max((stretch.first - stretch.second).abs());
                    }
                }
                for kind in [made::SHAPED_BAND, made::FACING] {
                    let side = |of: &str| {
                        let piece = cut.pattern.piece(&format!("{kind} {of}")).ok()?;
                        Some(piece.seam(names::SIDE).unwrap().sewn_length())
                    };
                    if let (Some(back), Some(front)) = (side(names::BACK), side(names::FRONT)) {
                        worst = worst.max((back - front).abs());
                    }
                }
            }
        }
    }
    println!("{made_pieces} pieces, mates apart by {worst:.2e} mm at most");
    assert!(made_pieces > 1000, "{made_pieces}");
    assert!(worst < 0.5, "{worst}");
}

/// The ends of two allowances that are sewn together lie equally far beyond the seam.
#[test]
fn allowance_ends_meet_where_they_are_sewn() {
    let (mut worst, mut seen) = (0.0f64, 0);
    for pattern in patterns(60) {
        let cut = pieces_to_cut(&pattern, &document(AllowanceSet::FirstFitting, WaistFinish::None));
        let cut = cut.unwrap();
        // How far the cut line runs on beyond the waist along the side seam's own line,
        // at three quarters of the allowance.
        let beyond = |name: &str| {
            let piece = cut.pattern.piece(name).unwrap();
            let side = piece.seam(names::SIDE).unwrap();
            let along = side.parts[0].end_direction();
            let out = hangtrue_geometry::Vec2::new(along.y, -along.x) * piece.orientation();
            let at = side.end() + out * 18.0;
            let line = hangtrue_geometry::Line::new(at, at + along);
            let met = cut.piece(name).unwrap().cut.crossings_with_line(line);
            let ahead = met.iter().map(|c| c.there).filter(|t| *t > 0.0);
            ahead.fold(f64::INFINITY, f64::min)
        };
        worst = worst.max((beyond(names::BACK) - beyond(names::FRONT)).abs());
        seen += 1;
    }
    println!("{seen} bodies: ends apart by {worst:.3} mm at most");
    assert!(seen > 10 && worst < 0.5, "{seen} {worst}");
}

#[test]
fn an_inlay_runs_out_from_the_waist_to_the_crotch_point() {
    let pattern = patterns(400).swap_remove(0);
    let cut =
        pieces_to_cut(&pattern, &document(AllowanceSet::FirstFitting, WaistFinish::None)).unwrap();
    let width = cut.allowance.along(names::BACK, names::CROTCH);
    assert_eq!(width, Width { start: 40.0, end: 15.0 });
    let back = cut.pattern.piece(names::BACK).unwrap();
    let line = cut_chain(back, &cut.allowance).unwrap();
    let crotch = back.seam(names::CROTCH).unwrap();
    for share in [0.2, 0.4, 0.6, 0.8] {
        let at = crotch.parts[0].point_at(share * crotch.sewn_length());
        let (near, meant) = (line.nearest(at).distance, width.at(share).0);
        // The nearest place is nearer than the width where that changes: by its slope.
        assert!(near <= meant + 1e-6 && near > 0.97 * meant, "{share}: {near} for {meant}");
    }
}

/// A correction made after the plan moves every piece.
#[test]
fn pieces_follow_a_change() {
    let mut document = hangtrue_tests::bodies::project();
    document.cutting.set = Some(AllowanceSet::Finished);
    document.cutting.waist = WaistFinish::Facing { width: 60.0 };
    let made = |document: &Document| {
        let replay = Replay::new(document.clone());
        pieces_to_cut(replay.current().unwrap(), document).unwrap()
    };
    let before = made(&document);
    let wider = Correction::named("waist at the sides", 20.0).unwrap();
    document.push("wider", Change::Correct(wider));
    let after = made(&document);
    assert_eq!(after.pieces.len(), 4);
    for (old, new) in before.pieces.iter().zip(&after.pieces) {
        assert_ne!(old.cut, new.cut, "{}", new.name);
    }
    for join in &after.pattern.joins {
        let walked = walk(&after.pattern, join).unwrap();
        assert!(walked.difference.abs() < 0.5, "{}", walked.join);
    }
}

/// Both legs of every dart are cut into the edge, and each notch lies on it.
#[test]
fn notches_lie_on_the_cut_line() {
    let pattern = patterns(400).swap_remove(0);
    for set in AllowanceSet::ALL {
        let cut = pieces_to_cut(&pattern, &document(set, WaistFinish::Facing { width: 60.0 }));
        let cut = cut.unwrap();
        let back = cut.piece(names::BACK).unwrap();
        for dart in cut.pattern.piece(names::BACK).unwrap().darts() {
            assert_eq!(back.snips.iter().filter(|s| s.name == dart.2.name).count(), 2);
        }
        let folds = back.snips.iter().filter(|s| s.name == "hem fold").count();
        assert_eq!(folds, if set == AllowanceSet::None { 0 } else { 2 });
        for piece in &cut.pieces {
            for snip in &piece.snips {
                let off = piece.cut.nearest(snip.at).distance;
                assert!(off < 1e-3, "{} of the {}: {off}", snip.name, piece.name);
            }
        }
    }
}
