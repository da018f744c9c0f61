//! Cut lines against shapely (pinned in `tests/requirements.txt`), from the definition of a
//! parallel line: `tests/oracle/cut_lines.py`.

#![allow(clippy::unwrap_used)] // a test stops at the first fault

use hangtrue_adjust::{
    AllowanceSet, BackPocket, ChangeError, Closure, CuttingPlan, Document, FrontPocket, Opening,
    Pockets, STYLES, Style, WaistFinish,
};
use hangtrue_cut::pieces_to_cut;
use hangtrue_pattern::{Leg, Pattern, Piece, Plan, draft, names, units::Unit};
use hangtrue_tests::bodies::ten_blocks;
use hangtrue_tests::{ask, points_of};
use serde::Deserialize;
use serde_json::json;

/// What a cut line may be off, mm.
const OFF: f64 = 0.05;

#[derive(Deserialize)]
struct Answer {
    off: Vec<f64>,
    simple: bool,
    round: bool,
    area: f64,
}

/// Every set with every finish of the waist that is shaped; then openings and pockets.
fn plans() -> Vec<(AllowanceSet, CuttingPlan)> {
    let finishes = [
        WaistFinish::Facing { width: 60.0 },
        WaistFinish::Shaped { width: 40.0, overlap: 0.0 },
        WaistFinish::Straight { width: 40.0, overlap: 0.0 },
    ];
    let waists = AllowanceSet::ALL.into_iter().flat_map(|set| {
        finishes.map(|waist| (set, CuttingPlan { waist, ..CuttingPlan::default() }))
    });
    let fly = Closure::Fly { over: Leg::Left };
    let side = Closure::SideZip { leg: Leg::Left };
    let more = [
        (fly, false, FrontPocket::Slant, BackPocket::Welt),
        (fly, true, FrontPocket::Jeans, BackPocket::Patch),
        (Closure::BackZip, true, FrontPocket::SideSeam, BackPocket::Welt),
        (side, true, FrontPocket::None, BackPocket::Patch),
        (side, false, FrontPocket::None, BackPocket::None),
    ];
    let more = more.into_iter().map(|(closure, cut_on, front, back)| CuttingPlan {
        closure,
        opening: Opening { cut_on, ..Opening::default() },
        pockets: Pockets { front, back, ..Pockets::default() },
        ..CuttingPlan::default()
    });
    let sets = [AllowanceSet::FirstFitting, AllowanceSet::Finished];
    let more = more.flat_map(|plan| sets.map(|set| (set, plan.clone())));
    waists.chain(more).collect()
}

/// A pattern, and the plans it is cut by.
type Case = (Pattern, Vec<(AllowanceSet, CuttingPlan)>);

/// With a yoke as deep as usual, or where the waist is lowered too far for that, as deep as it
/// then still can be.
fn yoked(pattern: &Pattern) -> Pattern {
    let yoke = Style::named("back yoke", 115.0).unwrap();
    let made = yoke.apply(pattern).or_else(|why| match why {
        ChangeError::OutOfReach { high, .. } => yoke.with_second(high.0 - 1.0).apply(pattern),
        other => Err(other),
    });
    made.unwrap().pattern
}

/// The plans for a pattern with a yoke or pleats: nothing cut on beside the yoke, and some
/// allowance, since the cap of a wide pleat lies inside the straight across its mouth, and
/// shapely asks whether the cut line goes round that.
fn plans_of_styles() -> Vec<(AllowanceSet, CuttingPlan)> {
    let fits = |(set, plan): &(AllowanceSet, CuttingPlan)| {
        *set != AllowanceSet::None && !plan.opening.cut_on
    };
    plans().into_iter().filter(fits).collect()
}

#[test]
fn cut_lines_agree_with_shapely() {
    let blocks = ten_blocks(0.0);
    let plain = blocks.iter().step_by(3).cloned().map(|block| (block, plans()));
    let pleats = Style::named("two front pleats", 50.0).unwrap();
    let styled = pleats.apply(&yoked(&blocks[1])).unwrap().pattern;
    let styled = (styled, plans_of_styles().into_iter().step_by(2).collect());
    agree(plain.chain([styled]), 3000);
}

/// 217 bodies, style, plan and set by turns: some minutes, so by name alone
/// (`cargo test --release -p hangtrue-cut --test all shapely:: -- --ignored --nocapture`).
#[test]
#[ignore = "some minutes"]
fn cut_lines_of_styles_over_bodies_agree_with_shapely() {
    let bodies = hangtrue_tests::bodies::bodies().into_iter().step_by(7);
    let blocks = bodies.filter_map(|body| Some(draft(&body, &Plan::default()).ok()?.pattern));
    let (plans, styles) = (plans_of_styles(), STYLES.len());
    let cases = blocks.enumerate().map(|(body, block)| {
        let style = (STYLES[body % styles].with)(0.0).usual_in(Unit::Mm);
        let styled = style.apply(&block).unwrap().pattern;
        let styled = if body % 2 == 0 && style.about().name != "back yoke" {
            yoked(&styled)
        } else {
            styled
        };
        (styled, vec![plans[body % plans.len()].clone()])
    });
    agree(cases, 30_000);
}

/// How high a piece's turn-up is, mm; nothing where it has none.
fn turned_up(piece: &Piece) -> f64 {
    let line = piece.inner.iter().find(|line| line.name == names::TURN_UP);
    let hem = piece.seam(names::HEM).ok();
    line.zip(hem)
        .map_or(0.0, |(line, hem)| hem.nearest(line.chain.point_at(0.5 * line.chain.length())).1)
}

fn agree(cases: impl Iterator<Item = Case>, least: usize) {
    let (mut asked, mut whose) = (Vec::new(), Vec::new());
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    for (pattern, plans) in cases {
        for (set, plan) in plans {
            document.cutting = plan;
            document.cutting.set = Some(set);
            let cut = pieces_to_cut(&pattern, &document).unwrap();
            for known in &cut.pieces {
                let piece = cut.pattern.piece(&known.name).unwrap();
                let seams = piece.seams.iter().map(|seam| {
                    let width = cut.allowance.along(&piece.name, &seam.name);
                    // A turn-up is folded twice: so much more lies beyond the hem.
                    let more = if seam.name == names::HEM { 2.0 * turned_up(piece) } else { 0.0 };
                    let parts = seam.parts.iter().map(|p| points_of(&p.to_path()));
                    json!({
                        "parts": parts.collect::<Vec<_>>(),
                        "length": seam.sewn_length(),
                        "widths": [width.start + more, width.end + more],
                        "left_on": known.grown.iter().any(|g| g.seam == seam.name),
                    })
                });
                asked.push(json!({
                    "seams": seams.collect::<Vec<_>>(),
                    "cut": points_of(&known.cut.to_path()),
                }));
                whose.push((format!("{} in {set:?}", known.name), known.area()));
            }
        }
    }
    let answers: Vec<Answer> = ask("cut_lines.py", &json!({"pieces": asked})).unwrap();
    let (mut worst, mut places, mut area) = (0.0f64, 0, 0.0f64);
    for ((whose, ours), answer) in whose.iter().zip(&answers) {
        assert!(answer.simple && answer.round, "{whose}");
        area = area.max((ours - answer.area).abs() / ours);
        for off in &answer.off {
            places += 1;
            assert!(*off <= OFF, "{whose}: {off}");
            worst = worst.max(*off);
        }
    }
    println!("{} pieces, {places} places, off by {worst:.4} mm at most", answers.len());
    println!("areas differ by {area:.1e} of themselves at most");
    assert_eq!(answers.len(), whose.len());
    assert!(places > least && area < 1e-4, "{places} {area}");
}
