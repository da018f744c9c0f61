//! Flies and zips over 217 bodies of the survey sample (ANSUR II, see
//! `tests/data/README.md`): every piece closed and not crossing, each edge as the seam it is
//! sewn to, what is cut on lying on the waist when it is folded in.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops at the first fault

use hangtrue_adjust::{AllowanceSet, Closure, Document, Opening};
use hangtrue_cut::{CutSet, names as made, pieces_to_cut};
use hangtrue_geometry::{Line, Vec2};
use hangtrue_pattern::{End, Leg, Pattern, Piece, Plan, draft, names, units::Unit};
use hangtrue_tests::bodies::bodies;

/// Every seventh body that can be drafted.
fn patterns() -> Vec<Pattern> {
    let drafted = bodies().into_iter().step_by(7);
    drafted.filter_map(|body| Some(draft(&body, &Plan::default()).ok()?.pattern)).collect()
}

fn document(set: AllowanceSet, closure: Closure, cut_on: bool) -> Document {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(set);
    document.cutting.closure = closure;
    document.cutting.opening = Opening { cut_on, ..Opening::default() };
    document
}

fn notch(piece: &Piece, name: &str, seam: &str) -> f64 {
    let notch = piece.notches.iter().find(|n| n.name == name && n.seam == seam).unwrap();
    let seam = piece.seam(seam).unwrap();
    seam.place(notch.from, notch.distance).position
}

/// How far an edge that is sewn to a seam from its waist down leaves that seam, mm, as they
/// lie on paper, at its ends, between and at its notch.
fn apart(set: &CutSet, made: (&str, &str), sewn_to: (&str, &str), notch_name: &str) -> f64 {
    let piece = set.pattern.piece(sewn_to.0).unwrap();
    let seam = piece.seam(sewn_to.1).unwrap();
    let from = if seam.starts_at == names::WAIST_CENTRE { End::Start } else { End::End };
    let made_piece = set.pattern.piece(made.0).unwrap();
    let edge = made_piece.seam(made.1).unwrap();
    let mut worst = 0.0f64;
    for share in [0.0, 0.13, 0.4, 0.77, 1.0] {
        let at = share * edge.sewn_length();
        let there = seam.place(from, at).point;
        worst = worst.max(edge.place(End::Start, at).point.distance(there));
    }
    let ours = notch(made_piece, notch_name, made.1);
    let theirs = seam.distance_from(from, notch(piece, notch_name, sewn_to.1));
    worst.max((ours - theirs).abs())
}

/// What is measured apart: each opening, separate and cut on.
const CALLED: [&str; 6] =
    ["fly", "fly cut on", "side zip", "side zip cut on", "back zip", "back zip cut on"];

/// The place of a closure in that list; a closure that opens nothing has no shield.
fn index(closure: Closure) -> usize {
    match closure {
        Closure::None | Closure::Fly { .. } => 0,
        Closure::SideZip { .. } => 1,
        Closure::BackZip => 2,
    }
}

#[test]
fn every_fly_and_zip_is_made_and_is_as_the_seam_it_opens() {
    let patterns = patterns();
    assert!(patterns.len() > 200, "{} bodies", patterns.len());
    let (mut pieces, mut worst, mut refused) = (0, 0.0f64, Vec::new());
    let mut lengths: Vec<(&str, f64)> = Vec::new();
    for (body, pattern) in patterns.iter().enumerate() {
        let set = AllowanceSet::ALL[body % AllowanceSet::ALL.len()];
        for closure in Closure::ALL {
            for cut_on in [false, true] {
                let cut = match pieces_to_cut(pattern, &document(set, closure, cut_on)) {
                    Ok(cut) => cut,
                    Err(why) => {
                        refused.push(format!("{body} {closure:?} {cut_on}: {why}"));
                        continue;
                    }
                };
                pieces += cut.pieces.len();
                let edge = cut.pattern.pieces.iter().flat_map(|p| &p.notches);
                let edge = edge.filter(|n| n.seam == made::SEWN_EDGE).map(|n| n.distance);
                lengths
                    .extend(edge.map(|at| (CALLED[2 * index(closure) + usize::from(cut_on)], at)));
                match closure {
                    Closure::None => assert_eq!(cut.pieces.len(), 2),
                    Closure::Fly { .. } => {
                        assert_eq!(cut.pieces.len(), if cut_on { 3 } else { 4 });
                        let sewn_to = (names::FRONT, names::CROTCH);
                        if !cut_on {
                            let facing = (made::FLY_FACING, made::CENTRE);
                            worst = worst.max(apart(&cut, facing, sewn_to, "fly"));
                        }
                        let shield = (made::FLY_SHIELD, made::SEWN_EDGE);
                        worst = worst.max(apart(&cut, shield, sewn_to, "fly"));
                    }
                    Closure::SideZip { .. } | Closure::BackZip => {
                        let side = matches!(closure, Closure::SideZip { .. });
                        let seam = if side { names::SIDE } else { names::CROTCH };
                        let shield = (made::ZIP_SHIELD, made::SEWN_EDGE);
                        worst = worst.max(apart(&cut, shield, (names::BACK, seam), "zip"));
                        if side {
                            let at = |name| notch(cut.pattern.piece(name).unwrap(), "zip", seam);
                            worst = worst.max((at(names::BACK) - at(names::FRONT)).abs());
                        }
                    }
                }
            }
        }
    }
    println!("{} bodies, {pieces} pieces, edges apart by {worst:.1e} mm at most", patterns.len());
    for called in CALLED {
        let of: Vec<f64> = lengths.iter().filter(|l| l.0 == called).map(|l| l.1).collect();
        let least = of.iter().copied().fold(f64::INFINITY, f64::min);
        let mean = of.iter().sum::<f64>() / of.len() as f64;
        println!("{called}: opened by {least:.0} mm at least, {mean:.0} mm on average");
        assert!(least >= 60.0, "{called}");
    }
    println!("{} refused: {:?}", refused.len(), refused.iter().take(5).collect::<Vec<_>>());
    assert!(refused.is_empty());
    assert!(worst < 1e-6, "{worst}");
}

/// Folded in at the seam, what is cut on ends where the waist's cut edge does.
#[test]
fn what_is_cut_on_lies_on_the_waist_when_it_is_folded_in() {
    let (mut worst, mut seen) = (0.0f64, 0);
    for (body, pattern) in patterns().iter().enumerate() {
        let set = AllowanceSet::ALL[body % AllowanceSet::ALL.len()];
        for closure in Closure::ALL {
            let cut = pieces_to_cut(pattern, &document(set, closure, true)).unwrap();
            for known in &cut.pieces {
                let piece = cut.pattern.piece(&known.name).unwrap();
                for grown in &known.grown {
                    let seam = piece.seam(&grown.seam).unwrap();
                    let at_start = grown.waist_end == End::Start;
                    let chain = &seam.parts[0];
                    let chain = if at_start { chain.clone() } else { chain.reversed() };
                    let (corner, down) = (chain.start(), chain.start_direction());
                    let across = Vec2::new(down.y, -down.x);
                    let height = |away: f64| {
                        let at = corner + across * away;
                        let line = Line::new(at, at - down);
                        let met = known.cut.crossings_with_line(line).into_iter();
                        let met = met.map(|c| c.there).filter(|t| *t > -30.0);
                        met.fold(f64::INFINITY, f64::min)
                    };
                    let most = grown.width - 1.0;
                    for share in [0.05, 0.4, 0.8, 0.98] {
                        let (one, other) = (height(share * most), height(-share * most));
                        worst = worst.max((one - other).abs());
                        seen += 1;
                    }
                    // Beside the seam it stands as far off as it was asked to.
                    let half = chain.point_at(grown.runs / 2.0);
                    let off = known.cut.nearest(half).distance;
                    assert!((off - grown.width).abs() < 0.01, "{off} for {}", grown.width);
                }
            }
        }
    }
    println!("{seen} places: folded in beside the waist by {worst:.1e} mm at most");
    assert!(seen > 2000 && worst < 1e-3, "{seen} {worst}");
}

/// The facing of the left leg is drawn as the right front shows it, that of the right leg
/// turned over; parted legs have one each, and none but the upper leg a facing.
#[test]
fn a_fly_is_made_for_the_leg_that_lies_on_top() {
    use hangtrue_adjust::{Change, PartLegs};
    let whole = patterns().swap_remove(0);
    let parted = Change::PartLegs(PartLegs).apply(&whole).unwrap().pattern;
    for over in Leg::BOTH {
        let fly = Closure::Fly { over };
        let facing = |pattern: &Pattern| {
            let cut = pieces_to_cut(pattern, &document(AllowanceSet::None, fly, false)).unwrap();
            cut.pattern.piece(made::FLY_FACING).unwrap().clone()
        };
        let (one, two) = (facing(&whole), facing(&parted));
        // The same piece of cloth, whether the legs are parted or not.
        assert_eq!(one.orientation(), two.orientation(), "{over:?}");
        let front = whole.piece(names::FRONT).unwrap();
        let centre = front.seam(names::CROTCH).unwrap().start();
        let drawn_as_front = one.seam(made::CENTRE).unwrap().start().distance(centre) < 1e-9;
        assert_eq!(drawn_as_front, over == Leg::Left);
        let cut = pieces_to_cut(&parted, &document(AllowanceSet::Finished, fly, true)).unwrap();
        let grown: Vec<&str> =
            cut.pieces.iter().filter(|p| !p.grown.is_empty()).map(|p| p.name.as_str()).collect();
        assert_eq!(grown, [format!("front {}", over.word())]);
    }
}
