//! The marks of a person who clicks a little beside the lines.

use super::Dice;
use super::paint::in_sight;
use super::scene::{Scene, leg_at, name};
use hangtrue_adjust::reading::{HangLine, Leg, PieceView};
use hangtrue_adjust::worn::{LegSeen, LevelBy, LineMark, PhotoMarks, View};
use hangtrue_adjust::{OPEN_ROUND, PhotoView, RoundPhoto};
use hangtrue_geometry::Point;

/// A click is wrong by about so much across and up, pixels.
const ACROSS: f64 = 1.5;
const UP: f64 = 2.0;

fn click((x, y): (f64, f64), dice: &mut Dice) -> Point {
    Point::new(x + dice.normal(ACROSS), y + dice.normal(UP))
}

fn along(places: &[(f64, f64)], share: f64) -> (f64, f64) {
    let x = places[0].0 + share * (places[places.len() - 1].0 - places[0].0);
    let i = places.partition_point(|p| p.0 < x).clamp(1, places.len() - 1);
    let (a, b) = (places[i - 1], places[i]);
    let t = ((x - a.0) / (b.0 - a.0).max(1e-9)).clamp(0.0, 1.0);
    (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1))
}

/// The photo marked.
pub fn marked(scene: &Scene, dice: &mut Dice) -> RoundPhoto {
    let view = if scene.view == PieceView::Back { View::Back } else { View::Front };
    let mut lines = Vec::new();
    for line in [HangLine::Thigh, HangLine::Knee, HangLine::Hip] {
        let seen = |leg: Leg| -> Vec<(f64, f64)> {
            in_sight(scene, scene.drawn(line, leg)).into_iter().map(|p| p.1).collect()
        };
        let (left, right) = (seen(leg_at(scene.view, true)), seen(leg_at(scene.view, false)));
        let mut mark = |leg: LegSeen, places: &[(f64, f64)], shares: &[f64]| {
            let points = shares.iter().map(|s| click(along(places, *s), dice)).collect();
            let mut mark = LineMark { name: name(line).into(), leg, points, girth: None };
            mark.put_in_order(view);
            lines.push(mark);
        };
        let of = |leg: Leg| if leg == Leg::Left { LegSeen::Left } else { LegSeen::Right };
        if line == HangLine::Hip {
            let whole: Vec<(f64, f64)> = left.iter().chain(&right).copied().collect();
            mark(LegSeen::Both, &whole, &[0.0, 0.12, 0.3, 0.5, 0.7, 0.88, 1.0]);
        } else {
            let shares = [0.0, 0.15, 0.38, 0.62, 0.86, 1.0];
            mark(of(leg_at(scene.view, true)), &left, &shares);
            mark(of(leg_at(scene.view, false)), &right, &shares);
        }
    }
    let door = -0.15 * scene.distance;
    let frame = |y: f64| scene.lens.seen([door, y, -400.0]);
    let level_at = [1150.0, 80.0].map(|y| click(frame(y), dice)).to_vec();
    let heels = click(scene.lens.seen([0.0, 0.0, dice.normal(20.0)]), dice);
    let marks = PhotoMarks {
        level: Some(LevelBy::Plumb),
        level_at,
        lens_height: Some(scene.lens.eye[1] + dice.normal(12.0)),
        heels: Some(heels),
        distance: Some(scene.distance * (1.0 + dice.normal(0.015))),
        lines,
        ..PhotoMarks::default()
    };
    let view = if scene.view == PieceView::Back { PhotoView::Back } else { PhotoView::Front };
    RoundPhoto {
        file: "photo.jpg".into(),
        round: OPEN_ROUND.into(),
        view,
        caption: String::new(),
        in_journal: false,
        cut_above: 0,
        marks: Some(marks),
    }
}
