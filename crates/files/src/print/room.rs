//! Room for words: they stand where no line runs under them and no other words stand.

use super::{Mark, Scene, Words};
use hangtrue_geometry::{Affine, BezPath, PathEl, Point, Rect, Vec2, winding};
use std::sync::OnceLock;

/// From a line to the words beside it, mm.
const AIR: f64 = 0.3;
/// How far a line may be off when it is laid out as straight bits, mm.
const FLAT: f64 = 0.05;
/// Lowest and highest ink of the letters, in parts of their size.
const INK: (f64, f64) = (-0.23, 0.78);
/// Where words find no room they are made smaller, to these parts of their size.
const SMALLER: [f64; 4] = [1.0, 0.8, 0.65, 0.5];
/// Places looked at each way.
const REACH: i32 = 34;
/// A step away from the line words belong to counts as so many steps along it.
const AWAY: i32 = 2;

/// The box of the ink of words, turned with them.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Plate {
    /// From the drawing to the words' own place, x along them.
    to_own: Affine,
    own: Rect,
}

impl Plate {
    pub(crate) fn of(words: &Words) -> Self {
        let (left, right) = words.run();
        let (low, high) = (INK.0 * words.size, INK.1 * words.size);
        Self {
            to_own: Affine::rotate(-words.angle) * Affine::translate(-words.at.to_vec2()),
            own: Rect::new(left, low, right, high).inflate(AIR, AIR),
        }
    }

    pub(crate) fn upright(own: Rect) -> Self {
        Self { to_own: Affine::IDENTITY, own }
    }

    pub(crate) fn moved(&self, by: Vec2) -> Self {
        Self { to_own: self.to_own * Affine::translate(-by), own: self.own }
    }

    /// The box round it, upright in the drawing.
    fn bounds(&self) -> Rect {
        let [a, b, c, d] = self.corners();
        Rect::from_points(a, b).union(Rect::from_points(c, d))
    }

    fn corners(&self) -> [Point; 4] {
        let Rect { x0, y0, x1, y1 } = self.own;
        let back = self.to_own.inverse();
        [(x0, y0), (x1, y0), (x1, y1), (x0, y1)].map(|c| back * Point::from(c))
    }

    fn middle(&self) -> Point {
        self.to_own.inverse() * self.own.center()
    }

    /// Whether the two have a place in common: no edge of either parts them.
    pub(crate) fn meets(&self, other: &Self) -> bool {
        let apart = |a: &Self, b: &Self| {
            let there = b.corners().map(|c| a.to_own * c);
            let all = |test: &dyn Fn(&Point) -> bool| there.iter().all(test);
            all(&|p| p.x < a.own.x0)
                || all(&|p| p.x > a.own.x1)
                || all(&|p| p.y < a.own.y0)
                || all(&|p| p.y > a.own.y1)
        };
        !apart(self, other) && !apart(other, self)
    }
}

/// Lines as straight bits, with half the width of their pens, mm.
#[derive(Debug, Clone, Default)]
pub(crate) struct Lines(Vec<(Point, Point, f64)>);

impl Lines {
    pub(crate) fn add(&mut self, mark: &Mark, by: Affine) {
        match mark {
            Mark::Stroke(path, pen) => self.path(&(by * path.clone()), pen.width / 2.0),
            Mark::Fill(path, _) => self.path(&(by * path.clone()), 0.0),
            Mark::Words(_) => {}
        }
    }

    fn path(&mut self, path: &BezPath, half: f64) {
        let (mut first, mut last) = (Point::ORIGIN, Point::ORIGIN);
        kurbo::flatten(path.iter(), FLAT, |el| match el {
            PathEl::MoveTo(p) => (first, last) = (p, p),
            PathEl::LineTo(p) => {
                self.0.push((last, p, half));
                last = p;
            }
            PathEl::ClosePath => self.0.push((last, first, half)),
            PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
        });
    }

    /// Those that come as near as `far` to a place.
    fn near(&self, at: Point, far: f64) -> Self {
        let close = |(a, b, _): &&(Point, Point, f64)| {
            let near = Rect::from_points(*a, *b);
            let d = Vec2::new(
                (near.x0 - at.x).max(at.x - near.x1).max(0.0),
                (near.y0 - at.y).max(at.y - near.y1).max(0.0),
            );
            d.hypot() <= far
        };
        Self(self.0.iter().filter(close).copied().collect())
    }

    /// Whether one of them runs under the plate.
    pub(crate) fn under(&self, plate: &Plate) -> bool {
        self.0.iter().any(|(a, b, half)| {
            let (a, b) = (plate.to_own * *a, plate.to_own * *b);
            crosses(a, b, plate.own.inflate(*half, *half))
        })
    }
}

/// What is drawn: its lines, and the plates of its words, worked out once for all sheets.
pub(crate) struct Drawn {
    lines: Lines,
    plates: Vec<(Rect, Plate)>,
}

impl Drawn {
    pub(crate) fn of(scene: &Scene) -> Self {
        let mut lines = Lines::default();
        let mut plates = Vec::new();
        for item in &scene.items {
            lines.add(&item.mark, Affine::IDENTITY);
            if let Mark::Words(words) = &item.mark {
                let plate = Plate::of(words);
                plates.push((plate.bounds(), plate));
            }
        }
        Self { lines, plates }
    }

    /// What of it comes near a window, moved so.
    pub(crate) fn within(&self, window: Rect, by: Vec2) -> (Lines, Vec<Plate>) {
        let near = |r: Rect| {
            r.x1 >= window.x0 && r.x0 <= window.x1 && r.y1 >= window.y0 && r.y0 <= window.y1
        };
        let lines = self.lines.0.iter().filter(|l| near(Rect::from_points(l.0, l.1)));
        let lines = lines.map(|(a, b, half)| (*a + by, *b + by, *half)).collect();
        let plates = self.plates.iter().filter(|p| near(p.0)).map(|p| p.1.moved(by)).collect();
        (Lines(lines), plates)
    }
}

/// Whether a straight bit has a part in the box.
fn crosses(a: Point, b: Point, window: Rect) -> bool {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let d = b - a;
    for (start, step, low, high) in
        [(a.x, d.x, window.x0, window.x1), (a.y, d.y, window.y0, window.y1)]
    {
        if step.abs() < 1e-12 {
            if start < low || start > high {
                return false;
            }
        } else {
            let (s, t) = ((low - start) / step, (high - start) / step);
            from = from.max(s.min(t));
            to = to.min(s.max(t));
        }
    }
    from <= to
}

/// Words that move as one: a piece's name with the lines under it; else each alone.
pub(crate) fn blocks(scene: &Scene) -> Vec<Vec<usize>> {
    let mut blocks: Vec<Vec<usize>> = Vec::new();
    let mut last: Option<(usize, &Words)> = None;
    for (index, item) in scene.items.iter().enumerate() {
        let Mark::Words(words) = &item.mark else { continue };
        let goes_on = last.is_some_and(|(before, above)| {
            let from = words.at - above.at;
            let aside = from.dot(Vec2::from_angle(words.angle)).abs();
            before + 1 == index
                && above.anchor == words.anchor
                && (above.angle - words.angle).abs() < 1e-9
                && aside < 1e-6
                && from.hypot() < 1.6 * above.size.max(words.size)
        });
        match blocks.last_mut().filter(|_| goes_on) {
            Some(block) => block.push(index),
            None => blocks.push(vec![index]),
        }
        last = Some((index, words));
    }
    blocks
}

/// Moves words that lie over a line or over other words to the nearest place on their
/// piece where they do not; `more` are lines that are not of the scene itself.
pub(crate) fn settle_words(scene: &mut Scene, more: &Lines) {
    settle_words_in(scene, more, &SMALLER);
}

/// The same, made smaller to these parts of their size where they find no room; gives the
/// items that found none and stay where they were.
pub(crate) fn settle_words_in(scene: &mut Scene, more: &Lines, sizes: &[f64]) -> Vec<usize> {
    let mut lines = more.clone();
    for item in &scene.items {
        lines.add(&item.mark, Affine::IDENTITY);
    }
    let of = |scene: &Scene, block: &[usize]| -> Vec<Words> {
        let words = block.iter().filter_map(|i| scene.items.get(*i));
        words
            .filter_map(|i| if let Mark::Words(w) = &i.mark { Some(w.clone()) } else { None })
            .collect()
    };
    // Those that stand well stay; the others look for room beside them.
    let mut taken: Vec<Plate> = Vec::new();
    let mut to_move = Vec::new();
    for block in blocks(scene) {
        let plates: Vec<Plate> = of(scene, &block).iter().map(Plate::of).collect();
        let free = |p: &Plate| !lines.under(p) && !taken.iter().any(|t| t.meets(p));
        if plates.iter().all(free) {
            taken.extend(plates);
        } else {
            to_move.push(block);
        }
    }
    let mut homeless = Vec::new();
    for block in to_move {
        let words = of(scene, &block);
        let found = moved_free(&words, &lines, &taken, &scene.areas, sizes);
        if found.is_none() {
            homeless.extend(block.iter().copied());
        }
        let moved = found.unwrap_or(words);
        taken.extend(moved.iter().map(Plate::of));
        for (index, words) in block.into_iter().zip(moved) {
            scene.items[index].mark = Mark::Words(words);
        }
    }
    homeless
}

/// The words at the nearest free place; none when there is none within reach.
pub(crate) fn moved_free(
    words: &[Words],
    lines: &Lines,
    taken: &[Plate],
    areas: &[BezPath],
    sizes: &[f64],
) -> Option<Vec<Words>> {
    let first = words.first()?;
    let (along, up) = (
        Vec2::from_angle(first.angle),
        Vec2::from_angle(first.angle + std::f64::consts::FRAC_PI_2),
    );
    let largest = words.iter().map(|w| w.size).fold(0.0, f64::max);
    let step = (0.4 * largest).clamp(1.2, 5.0);
    let widest =
        words.iter().map(|w| super::width_of(&w.text, w.weight, w.size)).fold(0.0, f64::max);
    let high: f64 = words.iter().map(|w| 2.0 * w.size).sum();
    let far = 1.5 * step * f64::from(REACH) + widest + high;
    let lines = lines.near(first.at, far);
    let free = |moved: &[Plate]| {
        let on_a_piece = |p: &Plate| areas.iter().any(|a| winding(a, p.middle()) != 0);
        moved.iter().all(|p| !taken.iter().any(|t| t.meets(p)) && !lines.under(p) && on_a_piece(p))
    };
    let steps = nearest_first();
    sizes.iter().copied().find_map(|size| {
        // Their letters are set once for each size; then their plates only move.
        let sized: Vec<Words> = words
            .iter()
            .map(|w| Words {
                at: first.at + (w.at - first.at) * size,
                size: w.size * size,
                ..w.clone()
            })
            .collect();
        let plates: Vec<Plate> = sized.iter().map(Plate::of).collect();
        let mut moved = plates.clone();
        let by =
            steps.iter().map(|(x, y)| along * (f64::from(*x) * step) + up * (f64::from(*y) * step));
        let by = by.into_iter().find(|by| {
            moved.iter_mut().zip(&plates).for_each(|(to, from)| *to = from.moved(*by));
            free(&moved)
        })?;
        Some(sized.into_iter().map(|w| Words { at: w.at + by, ..w }).collect())
    })
}

/// Steps along the words and away from their line, the nearest place first.
fn nearest_first() -> &'static [(i32, i32)] {
    static STEPS: OnceLock<Vec<(i32, i32)>> = OnceLock::new();
    STEPS.get_or_init(|| {
        let mut steps: Vec<(i32, i32)> =
            (-REACH..=REACH).flat_map(|x| (-REACH..=REACH).map(move |y| (x, y))).collect();
        steps.sort_by_key(|(x, y)| x * x + AWAY * AWAY * y * y);
        steps
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::print::{Anchor, Layer, Weight, pens};

    fn words(at: (f64, f64), angle: f64) -> Words {
        Words {
            text: "hip".into(),
            at: at.into(),
            size: 4.0,
            angle,
            anchor: Anchor::Middle,
            weight: Weight::Regular,
            ink: pens::INK,
        }
    }

    #[test]
    fn words_over_a_line_move_off_it_and_stay_on_their_piece() {
        let mut scene = Scene::default();
        let piece = Rect::new(0.0, 0.0, 60.0, 30.0);
        scene.areas.push(kurbo::Shape::to_path(&piece, 0.1));
        scene.line(Layer::Grain, (0.0, 15.0).into(), (60.0, 15.0).into(), pens::GRAIN);
        scene.words(Layer::Label, words((30.0, 14.0), 0.0));
        settle_words(&mut scene, &Lines::default());
        let Mark::Words(moved) = &scene.items[1].mark else { panic!("no words") };
        assert!((moved.at.y - 15.0).abs() > 0.9 && piece.contains(moved.at), "{moved:?}");
        // What stands well is not moved.
        let settled = scene.clone();
        settle_words(&mut scene, &Lines::default());
        assert_eq!(scene, settled);
    }

    #[test]
    fn turned_plates_meet_only_where_they_do() {
        let flat = Plate::of(&words((0.0, 0.0), 0.0));
        assert!(flat.meets(&Plate::of(&words((1.0, 1.0), 1.0))));
        assert!(!flat.meets(&Plate::of(&words((0.0, 8.0), 0.6))));
        assert!(crosses((-9.0, -9.0).into(), (9.0, 9.0).into(), Rect::new(-1.0, -1.0, 1.0, 1.0)));
        assert!(!crosses((-9.0, 0.0).into(), (0.0, 9.0).into(), Rect::new(-1.0, -1.0, 1.0, 1.0)));
    }
}
