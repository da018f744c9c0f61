//! Styles over 217 bodies of the survey sample (ANSUR II, see `tests/data/README.md`): each
//! is given by its usual amount, keeps what it promises, and every piece is cut from it.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops at the first fault

use hangtrue_adjust::{
    AllowanceSet, BackPocket, Change, Closure, Document, FrontPocket, STYLES, Style, WaistFinish,
    walk, walk_all, yoke_of,
};
use hangtrue_cut::{names as made, pieces_to_cut};
use hangtrue_geometry::{Line, Point, Vec2};
use hangtrue_pattern::{Leg, Pattern, Plan, draft, names, units::Unit};
use hangtrue_tests::bodies::bodies;

fn patterns() -> Vec<Pattern> {
    let drafted = bodies().into_iter().step_by(7);
    drafted.filter_map(|body| Some(draft(&body, &Plan::default()).ok()?.pattern)).collect()
}

fn plan(set: AllowanceSet, body: usize) -> Document {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(set);
    document.cutting.waist = WaistFinish::Facing { width: 60.0 };
    document.cutting.closure = Closure::Fly { over: Leg::Left };
    document.cutting.pockets.front = FrontPocket::ALL[body % 3];
    document.cutting.pockets.back = BackPocket::ALL[body % 3];
    document
}

#[test]
fn every_style_is_given_and_cut_on_every_body() {
    let (mut given, mut worst, mut mates, mut refused) = (0, 0.0f64, 0.0f64, Vec::new());
    for (body, pattern) in patterns().iter().enumerate() {
        let set = AllowanceSet::ALL[body % AllowanceSet::ALL.len()];
        for listed in STYLES {
            let style = (listed.with)(listed.about.usual.0);
            let made = match Change::Style(style).apply(pattern) {
                Ok(made) => made,
                Err(why) => {
                    refused.push(format!("{body} {}: {why}", listed.about.name));
                    continue;
                }
            };
            for kept in &made.kept {
                worst = worst.max(kept.change().abs());
            }
            for walked in walk_all(&made.pattern).unwrap() {
                worst = worst.max(walked.difference.abs());
            }
            match pieces_to_cut(&made.pattern, &plan(set, body)) {
                Ok(cut) => {
                    given += 1;
                    let second = cut.pattern.joins.iter().filter(|join| join.second.is_some());
                    for join in second {
                        let walked = walk(&cut.pattern, join).unwrap();
                        mates = mates.max(walked.difference.abs());
                        for stretch in &walked.stretches {
                            mates = mates.max((stretch.first - stretch.second).abs());
                        }
                    }
                }
                Err(why) => refused.push(format!("{body} {} cut: {why}", listed.about.name)),
            }
        }
    }
    println!("{given} styles given and cut, measures kept within {worst:.1e} mm");
    println!("mates of what is cut, whole and between notches, apart by {mates:.1e} mm at most");
    assert!(mates < 0.5, "{mates}");
    println!("{} refused: {:#?}", refused.len(), refused.iter().take(8).collect::<Vec<_>>());
    assert!(given > 1200 && refused.is_empty());
    assert!(worst < 0.1, "{worst}");
}

/// Folded up at the hem, down at its top and up again inside, a turn-up lies on the leg, edge
/// on edge, as high as asked for.
#[test]
fn a_turn_up_meets_the_leg_at_every_fold() {
    let (mut worst, mut seen) = (0.0f64, 0);
    for (body, pattern) in patterns().iter().enumerate().step_by(5) {
        let set = AllowanceSet::ALL[body % AllowanceSet::ALL.len()];
        let up = 40.0;
        let style = Change::Style(Style::named("turn-up", up).unwrap());
        let turned = style.apply(pattern).unwrap().pattern;
        let cut = pieces_to_cut(&turned, &plan(set, 0)).unwrap();
        for name in [names::BACK, names::FRONT] {
            let piece = cut.pattern.piece(name).unwrap();
            let fold = piece.seam(names::HEM).unwrap().start().y;
            let hem = cut.allowance.along(name, names::HEM).start;
            let line = &cut.piece(name).unwrap().cut;
            let edges = |level: f64| {
                let at = Point::new(0.0, level);
                let met = line.crossings_with_line(Line::new(at, at + Vec2::new(1.0, 0.0)));
                let met = met.into_iter().map(|c| c.there);
                met.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)))
            };
            let mut equal = |one: f64, other: f64| {
                let (one, other) = (edges(one), edges(other));
                worst = worst.max((one.0 - other.0).abs()).max((one.1 - other.1).abs());
                seen += 1;
            };
            for share in [0.1, 0.5, 0.9] {
                equal(fold - share * up, fold + share * up);
                equal(fold - (2.0 - share) * up, fold + share * up);
                if hem > 0.0 {
                    equal(fold - 2.0 * up - share * hem, fold + share * hem);
                }
            }
            let lowest = line.bounds().y0;
            assert!((fold - 2.0 * up - hem - lowest).abs() < 1e-6, "{lowest}");
        }
    }
    println!("{seen} levels: the turn-up beside the leg by {worst:.1e} mm at most");
    assert!(seen > 300 && worst < 1e-6, "{seen} {worst}");
}

/// Over the bodies: what the darts leave below a usual yoke, the yoke's edges as long as what
/// they are sewn to, its facing and its back zip on the seams as they are sewn, its pocket
/// clear below it.
#[test]
fn a_yoke_is_sewn_to_what_hangs_from_it() {
    let (mut worst, mut left, mut seen) = (0.0f64, Vec::new(), 0);
    let style = Change::Style(Style::named("back yoke", 115.0).unwrap());
    for (body, pattern) in patterns().iter().enumerate() {
        let yoked = style.apply(pattern).unwrap().pattern;
        let back = yoked.piece(names::BACK).unwrap();
        let made_yoke = yoke_of(back).unwrap().unwrap();
        let mut document = plan(AllowanceSet::ALL[body % AllowanceSet::ALL.len()], body);
        document.cutting.closure = Closure::BackZip;
        let cut = pieces_to_cut(&yoked, &document).unwrap();
        let length = |piece: &str, seam: &str| {
            cut.pattern.piece(piece).unwrap().seam(seam).unwrap().sewn_length()
        };
        let whole =
            |seam: &str| pattern.piece(names::BACK).unwrap().seam(seam).unwrap().sewn_length();
        let mut equal = |a: f64, b: f64| worst = worst.max((a - b).abs());
        equal(length(made::YOKE, names::WAIST), whole(names::WAIST));
        equal(
            length(made::YOKE, names::SIDE) + length(names::BACK, names::SIDE),
            whole(names::SIDE),
        );
        equal(
            length(made::YOKE, made::CENTRE) + length(names::BACK, names::CROTCH),
            whole(names::CROTCH),
        );
        equal(length(made::YOKE, names::YOKE_SEAM), length(names::BACK, names::YOKE_SEAM));
        equal(length(&format!("{} back", made::FACING), names::WAIST), whole(names::WAIST));
        equal(
            length(&format!("{} back", made::FACING), names::SIDE),
            length(&format!("{} front", made::FACING), names::SIDE),
        );
        // The zip goes through the yoke into the back below it, as far as it is long.
        let zip = |piece: &str, seam: &str| {
            let piece = cut.pattern.piece(piece).unwrap();
            let notch = piece.notches.iter().find(|n| n.name == "zip" && n.seam == seam);
            notch.map(|n| piece.seam(seam).unwrap().place(n.from, n.distance).position)
        };
        let below = zip(names::BACK, names::CROTCH).map(|at| at + length(made::YOKE, made::CENTRE));
        let at = below.or_else(|| zip(made::YOKE, made::CENTRE)).unwrap();
        equal(at, zip(made::ZIP_SHIELD, made::SEWN_EDGE).unwrap());
        // What the side takes of the darts, at the seam.
        let flat = back.inner.iter().find(|line| line.name == names::YOKE).unwrap();
        let moved =
            flat.chain.start().distance(made_yoke.below.seam(names::YOKE_SEAM).unwrap().start());
        if !made_yoke.matched.iter().all(|(name, _)| name == names::YOKE) {
            left.push(moved);
        }
        seen += 1;
    }
    left.sort_by(f64::total_cmp);
    println!(
        "{seen} yokes, {} with darts: mates apart by {worst:.1e} mm at most; the side below moved in by {:.1} mm in the median, {:.1} at most",
        left.len(),
        left[left.len() / 2],
        left[left.len() - 1]
    );
    assert!(seen > 200 && worst < 1e-4, "{seen} {worst}");
}
