//! The reading over blocks of real bodies: a planted surplus is proposed by its
//! amount, and the change to try can be made on the block.

#![allow(clippy::unwrap_used)]

use hangtrue_adjust::reading::{Droop, HangLine, Leg, PieceView, RuleTable, read_toile};
use hangtrue_adjust::{CATALOGUE, Change, ChangeError, read_as_sewn};
use hangtrue_geometry::Point;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{End, Pattern, Plan, names};
use hangtrue_tests::bodies::{bodies, marked_block};
use rayon::prelude::*;

const RULES: &str = include_str!("../../assets/reading/rules.ron");

/// Every line of both legs, back and front, as it hangs on a toile that fits; the
/// back thigh hangs by `mm` besides in the middle.
fn surplus(pattern: &Pattern, mm: f64) -> Vec<Droop> {
    let mut droops = Vec::new();
    for line in HangLine::ALL {
        for view in PieceView::ALL {
            let home = home(pattern, line, view);
            for (leg, at) in Leg::BOTH.into_iter().flat_map(|l| SHARES.map(|s| (l, s))) {
                let bow = 1.0 - (2.0 * at - 1.0f64).abs();
                let here = (line, view) == (HangLine::Thigh, PieceView::Back);
                let mm = if here { mm * bow } else { 0.0 } + home(at);
                droops.push(Droop { line, view, leg, at, mm, error: 1.5 });
            }
        }
    }
    droops
}

const SHARES: [f64; 5] = [0.0, 0.3, 0.5, 0.8, 1.0];

/// How a line hangs on a toile that fits: the piece rolled up to its cone in space, by
/// the leans of its seams taken from two near places on them, and its heights read
/// there against the side end. Where it steps at a seam, by what the sewn seams
/// say, each side takes half.
pub fn home(pattern: &Pattern, line: HangLine, view: PieceView) -> impl Fn(f64) -> f64 + use<> {
    let (width, turn) = cone(pattern, line, view);
    let other = if view == PieceView::Back { PieceView::Front } else { PieceView::Back };
    let copies = if line == HangLine::Hip { 2.0 } else { 1.0 };
    let round = copies * 2.0 * (turn + cone(pattern, line, other).1);
    let steep = (1.0 - (round / std::f64::consts::TAU).powi(2)).sqrt();
    let readings = read_as_sewn(pattern).unwrap();
    let name = marked(line).map_or("", |l| l.1);
    let step = readings.iter().find(|r| r.line == name && r.join.contains("inseam"));
    // The first piece goes on so much lower in the second.
    let lower = step.map_or(0.0, |r| if r.piece == view.piece() { -r.step } else { r.step });
    move |at: f64| {
        let rolled = if turn.abs() < 1e-12 {
            0.0
        } else {
            let apex = 0.5 * width / turn.tan();
            let height = |x: f64| apex.signum() * x.hypot(apex) * steep;
            height(0.5 * width) - height((at - 0.5) * width)
        };
        rolled + 0.5 * lower * (1.0 - at)
    }
}

/// The inner seam a line runs from, and its name on the pattern.
fn marked(line: HangLine) -> Option<(&'static str, &'static str)> {
    match line {
        HangLine::Hip => Some((names::CROTCH, names::HIP_BALANCE)),
        HangLine::Thigh => Some((names::INSEAM, names::THIGH)),
        HangLine::Knee => Some((names::INSEAM, names::KNEE)),
        HangLine::Hem | HangLine::Waist => None,
    }
}

/// The width of a piece at a line, mm, and half the angle by which its seams converge
/// below it, radians: from two near places on each seam.
fn cone(pattern: &Pattern, line: HangLine, view: PieceView) -> (f64, f64) {
    let piece = pattern.piece(view.piece()).unwrap();
    let (inner, ends) = match (line, marked(line)) {
        (_, Some((inner, name))) => {
            let placed = pattern.place_line(&piece.name, name).unwrap();
            let on = |s: &str| placed.ends.iter().find(|e| e.seam == s).unwrap().point;
            (inner, [on(inner), on(names::SIDE)])
        }
        (HangLine::Hem, None) => {
            let corner = |c: &str| piece.corner(c).unwrap();
            (names::INSEAM, [corner(names::HEM_INSEAM), corner(names::HEM_SIDE)])
        }
        // The waist is held by its band.
        _ => return (1.0, 0.0),
    };
    let lean = |seam: &str, at: Point| {
        let seam = piece.seam(seam).unwrap();
        let position = seam.nearest(at).0.position.clamp(0.05, seam.sewn_length() - 0.05);
        let [a, b] = [-0.05, 0.05].map(|by| seam.place(End::Start, position + by).point);
        let way = if b.y < a.y { b - a } else { a - b };
        (way.x / -way.y).atan()
    };
    let facing = (ends[1].x - ends[0].x).signum();
    let turn = 0.5 * facing * (lean(inner, ends[0]) - lean(names::SIDE, ends[1]));
    (ends[0].distance(ends[1]), turn)
}

#[test]
fn a_surplus_under_the_seat_is_laid_on_every_block() {
    let rules: RuleTable = ron::from_str(RULES).unwrap();
    let plan = Plan::default();
    let some: Vec<_> = bodies().into_iter().step_by(9).collect();
    let tried: Vec<Option<ChangeError>> = some
        .par_iter()
        .enumerate()
        .filter_map(|(i, body)| {
            let pattern = marked_block(body, &plan)?;
            let truth = 6.0 + 8.0 * (0.618_034 * i as f64).fract();
            let reading =
                read_toile(&surplus(&pattern, truth), &rules, &pattern, &pattern, Unit::Mm)
                    .unwrap();
            let first = &reading.meanings[0];
            assert_eq!(first.rule, "surplus length under the seat");
            // Plumb is a little less than along the cloth.
            assert!((first.amount - truth).abs() < 0.5, "{} {truth}", first.amount);
            let Some(Change::Pinch(change)) = &first.change else { panic!("{first:?}") };
            let laid = change.pinch.lay(&pattern).unwrap();
            assert!((laid.largest().1 - first.amount).abs() < 1e-9);
            // The largest station lies half way along the thigh line.
            let place = laid.stations[laid.largest().0].0 / laid.path.length();
            assert!((place - 0.5).abs() < 1e-9);
            Some(first.change.as_ref().unwrap().apply(&pattern).err())
        })
        .collect();
    let refused: Vec<String> = tried.iter().flatten().map(ToString::to_string).collect();
    println!("{} blocks, {} refused", tried.len(), refused.len());
    assert!(tried.len() >= 160);
    assert!(refused.len() * 50 <= tried.len(), "{refused:?}");
}

/// Close, usual and roomy legs.
fn leg_shapes() -> [Plan; 3] {
    let usual = Plan::default();
    let close = Plan { knee_ease: 40.0, hem_ease: 25.0, ..usual.clone() };
    let roomy = Plan { knee_ease: 160.0, hem_ease: 180.0, thigh_ease: 80.0, ..usual.clone() };
    [close, usual, roomy]
}

/// The toile that hangs exactly as a toile that fits hangs: nothing to change.
#[test]
fn a_toile_at_home_is_silent() {
    let rules: RuleTable = ron::from_str(RULES).unwrap();
    let some: Vec<_> = bodies().into_iter().step_by(7).take(210).collect();
    for plan in leg_shapes() {
        let blocks: Vec<Pattern> = some.par_iter().filter_map(|b| marked_block(b, &plan)).collect();
        let spoke: Vec<String> = blocks
            .par_iter()
            .filter_map(|pattern| {
                let droops = surplus(pattern, 0.0);
                let reading = read_toile(&droops, &rules, pattern, pattern, Unit::Mm).unwrap();
                let said = reading.nothing_proposed(Unit::Mm).join(" ");
                let silent =
                    reading.meanings.is_empty() && said.starts_with("Nothing is surely off");
                let names: Vec<String> = reading
                    .meanings
                    .iter()
                    .map(|m| format!("{} {:.2} {:.1}", m.rule, m.fit, m.amount))
                    .collect();
                (!silent).then(|| format!("{names:?} {said}"))
            })
            .collect();
        for (name, line, view) in [
            ("back thigh", HangLine::Thigh, PieceView::Back),
            ("front thigh", HangLine::Thigh, PieceView::Front),
            ("back hip", HangLine::Hip, PieceView::Back),
            ("front hip", HangLine::Hip, PieceView::Front),
            ("back knee", HangLine::Knee, PieceView::Back),
            ("back hem", HangLine::Hem, PieceView::Back),
        ] {
            let mut bows: Vec<f64> = blocks
                .iter()
                .map(|p| {
                    let at = home(p, line, view);
                    at(0.5) - 0.5 * (at(0.0) + at(1.0))
                })
                .collect();
            bows.sort_by(f64::total_cmp);
            let at = |share: f64| bows[(share * (bows.len() - 1) as f64) as usize];
            println!("{name}: {:.1} {:.1} {:.1} mm", at(0.0), at(0.5), at(1.0));
        }
        println!("{} blocks, {} spoke: {:?}", blocks.len(), spoke.len(), spoke.first());
        assert!(blocks.len() >= 200, "{}", blocks.len());
        assert!(spoke.is_empty(), "{}", spoke[0]);
    }
}

/// After a correction that moves a line the next toile, hanging as that pattern hangs at
/// home, is not read as any fault: the lines it is read by lie on the cloth they were on.
#[test]
fn a_toile_after_its_correction_is_silent_too() {
    let rules: RuleTable = ron::from_str(RULES).unwrap();
    let some: Vec<_> = bodies().into_iter().step_by(97).collect();
    let blocks: Vec<Pattern> =
        some.par_iter().filter_map(|b| marked_block(b, &Plan::default())).collect();
    let read: Vec<(bool, Option<String>)> = CATALOGUE
        .par_iter()
        .flat_map(|listed| blocks.par_iter().map(move |block| (listed, block)))
        .filter_map(|(listed, block)| {
            let change = Change::Correct((listed.with)(0.5 * listed.about.range.1));
            let after = change.apply(block).ok()?.pattern;
            let reading =
                read_toile(&surplus(&after, 0.0), &rules, &after, &after, Unit::Mm).unwrap();
            let said = reading.meanings.first().map(|m| {
                format!("{}: {} of {:.1} mm, fit {:.2}", listed.about.name, m.rule, m.amount, m.fit)
            });
            Some((after.lines.iter().any(|l| l.cloth.is_some()), said))
        })
        .collect();
    let moved = read.iter().filter(|(moved, _)| *moved).count();
    let spoke: Vec<&String> = read.iter().filter_map(|(_, said)| said.as_ref()).collect();
    println!("{} corrected blocks, {moved} with a line kept on its cloth: {spoke:?}", read.len());
    assert!(blocks.len() > 10 && moved > 10 * blocks.len(), "{moved}");
    assert!(spoke.is_empty(), "{} of {}: {spoke:?}", spoke.len(), read.len());
}
