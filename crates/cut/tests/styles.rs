//! Styles over 217 bodies of the survey sample (ANSUR II, see `tests/data/README.md`): each
//! is given by its usual amount, keeps what it promises, and every piece is cut from it.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops at the first fault

use hangtrue_adjust::{
    AllowanceSet, BackPocket, Change, Closure, Document, FrontPocket, STYLES, Style, WaistFinish,
    walk_all,
};
use hangtrue_cut::pieces_to_cut;
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
    let (mut given, mut worst, mut refused) = (0, 0.0f64, Vec::new());
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
                Ok(_) => given += 1,
                Err(why) => refused.push(format!("{body} {} cut: {why}", listed.about.name)),
            }
        }
    }
    println!("{given} styles given and cut, measures kept within {worst:.1e} mm");
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
