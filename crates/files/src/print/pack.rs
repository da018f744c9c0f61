//! Laying pieces on large paper, where a row of tall pieces leaves room beside and below: every
//! piece where it lies highest, then farthest left, clear of the others.

use super::Scene;
use hangtrue_geometry::{Affine, Point, Rect, Vec2};

/// Rounding, mm.
const NEAR: f64 = 1e-9;

/// Lays the scenes as boxes on paper so wide, `gap` mm apart: the first in the upper left
/// corner, at the origin, the others after it, the tallest first. The scenes are only moved. One
/// that is wider than the paper lies below all others. None where there is nothing to lay.
pub(super) fn pack(scenes: &[Scene], width: f64, gap: f64) -> Option<Scene> {
    let boxes: Vec<Rect> = scenes.iter().map(Scene::bounds).collect::<Option<_>>()?;
    let mut order: Vec<usize> = (0..boxes.len()).collect();
    let rest = order.get_mut(1..)?;
    rest.sort_by(|a, b| boxes[*b].height().total_cmp(&boxes[*a].height()));
    let mut laid: Vec<Rect> = Vec::with_capacity(boxes.len());
    let mut moves = vec![Vec2::ZERO; boxes.len()];
    for index in order {
        let size = boxes[index].size().to_vec2();
        let corner = place(size, &laid, (width, gap));
        // Places are counted downwards; the drawing runs up.
        moves[index] = Vec2::new(corner.x, -corner.y)
            - (Point::new(boxes[index].x0, boxes[index].y1) - Point::ORIGIN);
        laid.push(Rect::from_points(corner, corner + size));
    }
    let mut whole = Scene::default();
    for (scene, by) in scenes.iter().zip(moves) {
        whole.append(scene.moved(Affine::translate(by)));
    }
    Some(whole)
}

/// The upper left corner at which a box lies highest, y counted downwards.
fn place(size: Vec2, laid: &[Rect], (width, gap): (f64, f64)) -> Point {
    let below = laid.iter().map(|r| r.y1 + gap).fold(0.0, f64::max);
    let xs = std::iter::once(0.0).chain(laid.iter().map(|r| r.x1 + gap));
    let ys: Vec<f64> = std::iter::once(0.0).chain(laid.iter().map(|r| r.y1 + gap)).collect();
    let fits = |x: &f64| x + size.x <= width + NEAR;
    let corners = xs.filter(fits).flat_map(|x| ys.iter().map(move |y| Point::new(x, *y)));
    let free = |corner: &Point| {
        let around = Rect::from_points(*corner, *corner + size).inflate(gap - NEAR, gap - NEAR);
        laid.iter().all(|r| around.intersect(*r).area() <= 0.0)
    };
    let higher = |a: &Point, b: &Point| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x));
    corners.filter(free).min_by(higher).unwrap_or(Point::new(0.0, below))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::print::{Layer, pens};
    use kurbo::Shape;
    use proptest::prelude::*;

    fn boxed(rect: Rect) -> Scene {
        let mut scene = Scene::default();
        scene.stroke(Layer::Cut, rect.to_path(0.1), pens::CUT);
        scene
    }

    fn boxes_of(scene: &Scene) -> Vec<Rect> {
        scene.items.iter().map(|item| item.mark.bounds()).collect()
    }

    #[test]
    fn small_ones_lie_beside_and_below_the_tall() {
        let sizes = [(400.0, 1000.0), (300.0, 900.0), (100.0, 800.0), (90.0, 60.0)];
        let scenes = sizes.map(|(w, h)| boxed(Rect::new(0.0, 0.0, w, h)));
        let whole = pack(&scenes, 840.0, 12.0).unwrap();
        let bounds = whole.bounds().unwrap();
        assert!(bounds.height() < 1000.0 + 1.0, "all in the height of the tallest: {bounds:?}");
        assert!(pack(&[], 840.0, 12.0).is_none());
    }

    proptest! {
        #[test]
        fn no_two_come_nearer_than_the_gap_and_all_lie_on_the_paper(
            sizes in proptest::collection::vec((10.0f64..600.0, 10.0f64..1200.0), 1..12),
            width in 600.0f64..2000.0, gap in 0.0f64..40.0
        ) {
            let scenes: Vec<Scene> =
                sizes.iter().map(|&(w, h)| boxed(Rect::new(-3.0, 5.0, w - 3.0, h + 5.0))).collect();
            let laid = boxes_of(&pack(&scenes, width, gap).unwrap());
            let pen = pens::CUT.width;
            prop_assert!((laid[0].x0).abs() < 1e-6 && (laid[0].y1).abs() < 1e-6);
            for (i, a) in laid.iter().enumerate() {
                prop_assert!(a.x0 >= -1e-6 && a.x1 <= width + pen && a.y1 <= 1e-6);
                for b in &laid[i + 1..] {
                    let apart = a.inflate(gap - 1e-6, gap - 1e-6).intersect(*b).area();
                    prop_assert!(apart <= 1e-6, "{a:?} {b:?}");
                }
            }
        }
    }
}
