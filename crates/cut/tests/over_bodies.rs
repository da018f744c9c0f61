//! The pieces to cut over a sample of the survey's bodies (ANSUR II, see
//! `tests/data/README.md`): closed, not crossing, and as long as what they are sewn to.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops at the first fault

use hangtrue_adjust::{
    AllowanceSet, Change, Correction, Document, Method, Pinch, PinchChange, Replay, WaistFinish,
    walk,
};
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

/// A pinch and a correction made after the plan move every piece.
#[test]
fn pieces_follow_a_pinch_and_a_correction() {
    let mut document = hangtrue_tests::bodies::project();
    document.cutting.set = Some(AllowanceSet::Finished);
    document.cutting.waist = WaistFinish::Facing { width: 60.0 };
    let made = |document: &Document| {
        let replay = Replay::new(document.clone());
        assert_eq!(replay.failures().count(), 0);
        pieces_to_cut(replay.current().unwrap(), document).unwrap()
    };
    let before = made(&document);
    let [_, slash, _] = Method::all(Unit::Mm);
    let pinch = Pinch::in_the_middle("seat", names::BACK, names::THIGH, 8.0);
    document.push("pinch", Change::Pinch(PinchChange { pinch, method: slash }));
    let pinched = made(&document);
    assert_ne!(before.pieces[0].cut, pinched.pieces[0].cut, "the pinned back");
    let wider = Correction::named("waist at the sides", 20.0).unwrap();
    document.push("wider", Change::Correct(wider));
    let after = made(&document);
    assert_eq!(after.pieces.len(), 4);
    for ((old, mid), new) in before.pieces.iter().zip(&pinched.pieces).zip(&after.pieces) {
        assert_eq!((&old.name, &mid.name), (&new.name, &new.name));
        assert!(old.cut != new.cut && mid.cut != new.cut, "{}", new.name);
    }
    // As large as made by itself from the pattern as it now is.
    let fresh = Replay::new(document.clone()).current().unwrap().clone();
    let alone =
        pieces_to_cut(&fresh, &self::document(AllowanceSet::Finished, document.cutting.waist));
    assert_eq!(alone.unwrap().pieces, after.pieces);
    for join in after.pattern.joins.iter().filter(|j| j.name.contains("facing")) {
        let walked = walk(&after.pattern, join).unwrap();
        assert!(walked.difference.abs() < 0.5, "{}", walked.join);
    }
}

/// The hem turned up at its fold lies on the leg above it, edge on edge, in every set.
#[test]
fn the_hem_of_every_set_meets_the_leg() {
    let (mut worst, mut seen) = (0.0f64, 0);
    for pattern in patterns(60) {
        for set in AllowanceSet::ALL {
            let cut = pieces_to_cut(&pattern, &document(set, WaistFinish::None)).unwrap();
            for piece in &cut.pieces {
                let body = cut.pattern.piece(&piece.name).unwrap();
                let fold = body.seam(names::HEM).unwrap().start().y;
                let hem = cut.allowance.along(&piece.name, names::HEM).start;
                let edges = |level: f64| {
                    let at = hangtrue_geometry::Point::new(0.0, level);
                    let line = hangtrue_geometry::Line::new(
                        at,
                        at + hangtrue_geometry::Vec2::new(1.0, 0.0),
                    );
                    let met = piece.cut.crossings_with_line(line).into_iter().map(|c| c.there);
                    met.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)))
                };
                for share in [0.1, 0.5, 0.9, 0.99] {
                    let (below, above) = (edges(fold - share * hem), edges(fold + share * hem));
                    worst = worst.max((below.0 - above.0).abs()).max((below.1 - above.1).abs());
                    seen += 1;
                }
            }
        }
    }
    println!("{seen} levels: the turned hem beside the leg by {worst:.2e} mm at most");
    assert!(seen > 500 && worst < 0.5, "{seen} {worst}");
}

/// A facing is the waist with its darts sewn shut, measured without moving anything: across
/// a dart whose legs are sewn together two places lie apart by the law of cosines, with the
/// angle between them at the dart's point less the angle of the dart.
#[test]
fn a_facing_is_as_the_flat_pieces_join() {
    let (mut worst, mut seen) = (0.0f64, 0);
    for pattern in patterns(60) {
        let waist = WaistFinish::Facing { width: 60.0 };
        let cut = pieces_to_cut(&pattern, &document(AllowanceSet::None, waist)).unwrap();
        for name in [names::BACK, names::FRONT] {
            let flat = pattern.piece(name).unwrap().seam(names::WAIST).unwrap();
            let facing = cut.pattern.piece(&format!("{} {name}", made::FACING)).unwrap();
            let sewn = facing.seam(names::WAIST).unwrap();
            // Both from the side: the facing's waist starts there.
            let (edge, length) = (&sewn.parts[0], sewn.sewn_length());
            let from_centre = flat.starts_at == names::WAIST_CENTRE;
            let at = |s: f64| edge.point_at(if from_centre { length - s } else { s });
            worst = worst.max((length - flat.sewn_length()).abs());
            let mut before = 0.0;
            for (index, dart) in flat.darts.iter().enumerate() {
                let (one, other) = (&flat.parts[index], &flat.parts[index + 1]);
                let legs = [one.end() - dart.apex, other.start() - dart.apex];
                let turn = |a: hangtrue_geometry::Vec2, b: hangtrue_geometry::Vec2| {
                    (a.dot(b) / a.hypot() / b.hypot()).clamp(-1.0, 1.0).acos()
                };
                let mouth = turn(legs[0], legs[1]);
                for share in [0.05, 0.3, 0.6, 1.0] {
                    let (s, t) = (one.length() * (1.0 - share), other.length() * share);
                    let arms = [one.point_at(s) - dart.apex, other.point_at(t) - dart.apex];
                    let (a, b) = (arms[0].hypot(), arms[1].hypot());
                    let between = turn(arms[0], arms[1]) - mouth;
                    let apart = (a * a + b * b - 2.0 * a * b * between.cos()).sqrt();
                    let ours = at(before + s).distance(at(before + one.length() + t));
                    worst = worst.max((apart - ours).abs());
                    seen += 1;
                }
                before += one.length();
            }
        }
    }
    println!("{seen} distances across darts: off by {worst:.2e} mm at most");
    assert!(seen > 50 && worst < 0.05, "{seen} {worst}");
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
