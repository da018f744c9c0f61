//! What was read of a photo against what was drawn.

use super::Dice;
use super::marked::marked;
use super::paint::{in_sight, photograph};
use super::scene::{Planted, Scene, leg_at, length_of, name};
use hangtrue_adjust::reading::{
    Droop, HangLine, Leg, Observed, PieceView, ReadTogether, ToileReading, read_toile,
};
use hangtrue_adjust::worn::{Hang, HangStation, LegSeen};
use hangtrue_adjust::{RoundPhoto, worn::girth_at};
use hangtrue_files::droops::usual_rules;
use hangtrue_files::photo::Picture;
use hangtrue_files::worn::{droops_of, read_photo, read_together};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Pattern, Plan};
use hangtrue_tests::bodies::{bodies, marked_block};

/// A photo with its truth.
pub struct Case {
    pub seed: u64,
    pub pattern: Pattern,
    pub scene: Scene,
    pub picture: Picture,
    pub marks: RoundPhoto,
}

/// What is planted in a photo of that view.
fn planted(view: PieceView, dice: &mut Dice) -> Planted {
    let much = dice.between(14.0, 24.0);
    match (view, dice.count(0, 5)) {
        (_, 0 | 1) => Planted::Nothing,
        (PieceView::Back, 2) => Planted::ThighBow(much),
        (PieceView::Back, 3) => Planted::BothBow(0.6 * much),
        (PieceView::Back, 4) => Planted::HipBow(-0.6 * much),
        (PieceView::Front, 2 | 3) => Planted::ThighBow(-0.8 * much),
        _ => Planted::HipCentre(-0.7 * much),
    }
}

/// Makes the photo of a seed.
pub fn case(seed: u64) -> Option<Case> {
    case_seen_from(seed, None)
}

/// The same with the lens so high above the floor, mm.
pub fn case_seen_from(seed: u64, lens_height: Option<f64>) -> Option<Case> {
    let mut dice = Dice::new(seed);
    let all = bodies();
    let measures = &all[dice.count(0, all.len() - 1)];
    let pattern = marked_block(measures, &Plan::default())?;
    let view = if dice.chance(0.65) { PieceView::Back } else { PieceView::Front };
    let planted = planted(view, &mut dice);
    let scene = Scene::new(&pattern, view, planted, lens_height, &mut dice);
    let name = lens_height.map_or(seed.to_string(), |h| format!("{seed}-{h:.0}"));
    let bytes = kept(&name, || photograph(&scene, &mut Dice::new(seed + 1_000_000)));
    let picture = Picture::from_bytes(&bytes).ok()?;
    let marks = marked(&scene, &mut Dice::new(seed + 2_000_000));
    Some(Case { seed, pattern, scene, picture, marks })
}

/// With a folder in `WORN_KEPT` a photo is painted once only.
fn kept(name: &str, paint: impl Fn() -> Vec<u8>) -> Vec<u8> {
    let Ok(folder) = std::env::var("WORN_KEPT") else { return paint() };
    let file = std::path::Path::new(&folder).join(format!("{name}.jpg"));
    std::fs::read(&file).unwrap_or_else(|_| {
        let bytes = paint();
        std::fs::write(&file, &bytes).unwrap();
        bytes
    })
}

/// One place read against its truth, mm.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    pub line: HangLine,
    pub leg: Leg,
    /// From the inner end.
    pub at: f64,
    /// Whether it is the end against which the line is told.
    pub is_last: bool,
    /// Below the level through the photo's last edge of the line, at the share of what is
    /// seen: as read, its ±, and the truth.
    pub seen: [f64; 3],
    /// The same below the side seam, at the share from seam to seam.
    pub sewn: [f64; 3],
    pub touching: bool,
    /// How far folds stand out at the most, mm.
    pub folds: f64,
}

/// What a reading names.
pub struct Named {
    /// The first cause, and whether it is said to be more than its ±.
    pub first: Option<(String, bool)>,
    /// What stands side by side.
    pub open: Vec<String>,
}

/// A bow (the middle less the mean of both ends) of a line on one leg, from seam to seam:
/// as read, its ±, and the truth, mm.
pub struct Bow {
    pub line: HangLine,
    pub read: f64,
    pub error: f64,
    pub truth: f64,
}

/// How much of a line lies beyond the edges of sight, shares: in truth at both ends, and
/// together by half the girth and by the length that is seen.
pub struct OutOfSight {
    pub line: HangLine,
    pub view: PieceView,
    pub touching: bool,
    pub ends: [f64; 2],
    pub by_girth: f64,
    pub by_length: f64,
}

/// A photo as it was read.
pub struct Judged {
    pub places: Vec<Place>,
    /// The places that were told of those there are.
    pub of: usize,
    /// The first of the true droops’ causes, and of those read.
    pub named: (Named, Named),
    pub doubtful: usize,
    pub bows: Vec<Bow>,
    pub out_of_sight: Vec<OutOfSight>,
    pub hangs: Vec<Hang>,
}

/// A place as it is seen, against the truth.
fn read_as_seen(hangs: &[Hang], scene: &Scene, d: &Droop, truth: f64) -> [f64; 3] {
    let is_at_left = d.leg == leg_at(scene.view, true);
    let share = |hang: &Hang| match (hang.leg, is_at_left) {
        (LegSeen::Both, true) => 0.5 - 0.5 * d.at,
        (LegSeen::Both, false) => 0.5 + 0.5 * d.at,
        _ => d.at,
    };
    let of_leg = |hang: &Hang| match hang.leg {
        LegSeen::Both => true,
        LegSeen::Left => d.leg == Leg::Left,
        LegSeen::Right => d.leg == Leg::Right,
    };
    let hang = hangs.iter().find(|h| h.line == name(d.line) && of_leg(h)).unwrap();
    let there = |s: &&HangStation| (s.share - share(hang)).abs() < 1e-6;
    let told = hang.stations.iter().find(there).unwrap().below_last;
    [told.value, told.error, truth]
}

/// How far below the photo’s last edge of the line a place is, by its share of what is seen.
fn seen(scene: &Scene, d: &Droop) -> f64 {
    let ends = |leg: Leg| -> (f64, f64) {
        let places = in_sight(scene, scene.drawn(d.line, leg));
        let shares = || places.iter().map(|p| p.0);
        (shares().fold(f64::MAX, f64::min), shares().fold(f64::MIN, f64::max))
    };
    let height = |leg: Leg, share: f64| scene.drawn(d.line, leg).height(share);
    if d.line != HangLine::Hip {
        let (inner, side) = ends(d.leg);
        return height(d.leg, side) - height(d.leg, inner + d.at * (side - inner));
    }
    let (left, right) = (leg_at(scene.view, true), leg_at(scene.view, false));
    let (a, b) = (ends(left).1, ends(right).1);
    let way = if d.leg == left { -d.at } else { d.at };
    let run = (0.5 + 0.5 * way) * (a + b);
    let place = if run < a { height(left, a - run) } else { height(right, run - a) };
    height(right, b) - place
}

fn named(droops: &[Droop], together: &[ReadTogether], pattern: &Pattern) -> Named {
    let rules = usual_rules().unwrap();
    let observed = Observed { droops, together, ..Observed::default() };
    let read: ToileReading = read_toile(observed, &rules, pattern, pattern, Unit::Mm).unwrap();
    Named {
        first: read.meanings.first().map(|m| (m.rule.clone(), m.sure)),
        open: read.open.iter().map(|o| o.rule.clone()).collect(),
    }
}

/// The bow of every line and leg that was read, told or not.
fn bows(together: &[ReadTogether], truth: impl Fn(&Droop) -> f64) -> Vec<Bow> {
    let mut bows = Vec::new();
    for (read, leg) in together.iter().flat_map(|t| Leg::BOTH.map(|leg| (t, leg))) {
        let at = |share: f64| {
            let there = |d: &Droop| d.leg == leg && (d.at - share).abs() < 1e-6;
            read.places.iter().position(there)
        };
        let (Some(inner), Some(middle), Some(side)) = (at(0.0), at(0.5), at(1.0)) else { continue };
        let sum = [(middle, 1.0), (inner, -0.5), (side, -0.5)];
        let of = |value: &dyn Fn(usize) -> f64| sum.iter().map(|(i, c)| c * value(*i)).sum::<f64>();
        let squared: f64 = sum
            .iter()
            .flat_map(|a| sum.iter().map(move |b| (a, b)))
            .map(|(a, b)| a.1 * b.1 * read.spread[a.0][b.0])
            .sum();
        bows.push(Bow {
            line: read.places[middle].line,
            read: of(&|i| read.places[i].mm),
            error: squared.sqrt(),
            truth: of(&|i| truth(&read.places[i])),
        });
    }
    bows
}

fn out_of_sight(scene: &Scene, pattern: &Pattern, hangs: &[Hang]) -> Vec<OutOfSight> {
    let of = |hang: &Hang| {
        let line = [HangLine::Hip, HangLine::Thigh, HangLine::Knee];
        let line = *line.iter().find(|l| name(**l) == hang.line)?;
        let ends = |leg: Leg| -> (f64, f64) {
            let shares: Vec<f64> =
                in_sight(scene, scene.drawn(line, leg)).iter().map(|p| p.0).collect();
            let least = shares.iter().copied().fold(f64::MAX, f64::min);
            (least, 1.0 - shares.iter().copied().fold(f64::MIN, f64::max))
        };
        let one = length_of(pattern, scene.view.piece(), line);
        let (length, ends) = match hang.leg {
            LegSeen::Both => (2.0 * one, Leg::BOTH.map(|leg| 0.5 * ends(leg).1)),
            leg => {
                let (inner, side) = ends(if leg == LegSeen::Left { Leg::Left } else { Leg::Right });
                (one, [inner, side])
            }
        };
        let girth = girth_at(pattern, name(line), hang.leg).ok()?;
        Some(OutOfSight {
            line,
            view: scene.view,
            touching: scene.touching,
            ends,
            by_girth: 1.0 - 0.5 * girth / length,
            by_length: 1.0 - hang.seen / length,
        })
    };
    hangs.iter().filter_map(of).collect()
}

/// Reads the photo as the desk does.
pub fn judged(case: &Case) -> Result<Judged, String> {
    let Case { scene, pattern, .. } = case;
    let found = read_photo(&case.marks, &case.picture, pattern).map_err(|e| e.to_string())?;
    let droops = droops_of(&found.hangs);
    let sewn = |d: &Droop| scene.drawn(d.line, d.leg).below_side(d.at);
    let last_leg = leg_at(scene.view, false);
    let place = |d: &Droop| Place {
        line: d.line,
        leg: d.leg,
        at: d.at,
        is_last: d.at > 1.0 - 1e-9 && (d.line != HangLine::Hip || d.leg == last_leg),
        seen: read_as_seen(&found.hangs, scene, d, seen(scene, d)),
        sewn: [d.mm, d.error, sewn(d)],
        touching: scene.touching,
        folds: scene.folds,
    };
    let places: Vec<Place> = droops.iter().map(place).collect();
    // The true droops are read at all places, whatever was told of the photo.
    let line = |line, leg| {
        let at = (0..=8).map(move |i| Droop {
            line,
            view: scene.view,
            leg,
            at: f64::from(i) / 8.0,
            mm: 0.0,
            error: 1.0,
        });
        at.map(|d| Droop { mm: sewn(&d), ..d }).collect::<Vec<Droop>>()
    };
    let lines = [HangLine::Hip, HangLine::Thigh, HangLine::Knee];
    let true_droops: Vec<Droop> =
        lines.into_iter().flat_map(|l| Leg::BOTH.map(|leg| line(l, leg))).flatten().collect();
    let together = read_together(&found.hangs);
    let named = (named(&true_droops, &[], pattern), named(&droops, &together, pattern));
    let doubtful = found.hangs.iter().filter(|h| !h.doubts().is_empty()).count();
    // Of the hip balance line the middle belongs to both legs, so it has ten.
    let of = 2 * (9 + 9) + 10;
    let bows = bows(&together, sewn);
    let out_of_sight = out_of_sight(scene, pattern, &found.hangs);
    Ok(Judged { places, of, named, doubtful, bows, out_of_sight, hangs: found.hangs })
}
