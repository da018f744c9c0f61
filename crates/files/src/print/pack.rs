//! Laying pieces on large paper, where a row of tall pieces leaves room beside and below: every
//! piece where it lies highest, then farthest left, clear of the others.

use super::{Scene, Size};
use hangtrue_geometry::{Affine, Point, Rect, Vec2};

/// Rounding, mm.
const NEAR: f64 = 1e-9;

/// Lays the scenes as boxes on paper so wide, `gap` mm apart: the first in the upper left
/// corner, at the origin, the others after it, the tallest first. The scenes are only moved. One
/// that is wider than the paper lies below all others. None where there is nothing to lay.
pub(super) fn pack(scenes: &[Scene], width: f64, gap: f64) -> Option<Scene> {
    let boxes = boxes(scenes)?;
    let mut laid: Vec<Rect> = Vec::with_capacity(boxes.len());
    let mut corners = vec![Point::ORIGIN; boxes.len()];
    for index in tallest_first(&boxes)? {
        let size = boxes[index].size().to_vec2();
        let below = laid.iter().map(|r| r.y1 + gap).fold(0.0, f64::max);
        let corner = place(size, &laid, (width, gap)).unwrap_or(Point::new(0.0, below));
        corners[index] = corner;
        laid.push(Rect::from_points(corner, corner + size));
    }
    Some(moved(scenes, &boxes, &corners))
}

/// Lays the scenes on as few sheets as they need, each whole on one of them and every sheet about
/// as full as the others: the first in the upper left corner of the first sheet. A sheet has so
/// much room, the next begins `step` farther to the right; `gap` is left between two, and
/// `overlap` free where a sheet lies on the one before it. Gives how many sheets there are; none
/// where a scene is larger than a sheet.
pub(super) fn pack_whole(
    scenes: &[Scene],
    (room, step): (Size, f64),
    (overlap, gap): (f64, f64),
) -> Option<(Scene, usize)> {
    let boxes = boxes(scenes)?;
    let order = tallest_first(&boxes)?;
    let on = |sheets: usize| on_sheets(&boxes, &order, sheets, (room, gap));
    // More sheets than pieces help nobody.
    let (sheets, found) = (1..=boxes.len()).find_map(|n| Some((n, on(n)?)))?;
    let left = |sheet: usize| if sheet == 0 { 0.0 } else { step * sheet as f64 + overlap };
    let corners: Vec<Point> =
        found.iter().map(|(sheet, at)| *at + Vec2::new(left(*sheet), 0.0)).collect();
    Some((moved(scenes, &boxes, &corners), sheets))
}

/// The sheet and the corner of each box: on the sheet that is emptiest, or the first on which it
/// finds room; none where one finds none.
fn on_sheets(
    boxes: &[Rect],
    order: &[usize],
    sheets: usize,
    (room, gap): (Size, f64),
) -> Option<Vec<(usize, Point)>> {
    let mut laid: Vec<Vec<Rect>> = vec![Vec::new(); sheets];
    let mut found = vec![(0, Point::ORIGIN); boxes.len()];
    for &index in order {
        let size = boxes[index].size().to_vec2();
        let used = |sheet: &usize| laid[*sheet].iter().map(Rect::area).sum::<f64>();
        let mut by_room: Vec<usize> = (0..sheets).collect();
        by_room.sort_by(|a, b| used(a).total_cmp(&used(b)));
        let (sheet, corner) = by_room.into_iter().find_map(|sheet| {
            let corner = place(size, &laid[sheet], (room.width, gap))?;
            (corner.y + size.y <= room.height + NEAR).then_some((sheet, corner))
        })?;
        found[index] = (sheet, corner);
        laid[sheet].push(Rect::from_points(corner, corner + size));
    }
    Some(found)
}

/// The box of each scene; none where one has nothing in it.
fn boxes(scenes: &[Scene]) -> Option<Vec<Rect>> {
    scenes.iter().map(Scene::bounds).collect()
}

/// The first, then the others from the tallest; none where there is nothing.
fn tallest_first(boxes: &[Rect]) -> Option<Vec<usize>> {
    let mut order: Vec<usize> = (0..boxes.len()).collect();
    let rest = order.get_mut(1..)?;
    rest.sort_by(|a, b| boxes[*b].height().total_cmp(&boxes[*a].height()));
    Some(order)
}

/// The scenes with the upper left corners of their boxes at these places, counted downwards; the
/// drawing runs up.
fn moved(scenes: &[Scene], boxes: &[Rect], corners: &[Point]) -> Scene {
    let mut whole = Scene::default();
    for ((scene, around), corner) in scenes.iter().zip(boxes).zip(corners) {
        let by = Vec2::new(corner.x - around.x0, -corner.y - around.y1);
        whole.append(scene.moved(Affine::translate(by)));
    }
    whole
}

/// The upper left corner at which a box lies highest, y counted downwards; none where it is wider
/// than the paper.
fn place(size: Vec2, laid: &[Rect], (width, gap): (f64, f64)) -> Option<Point> {
    let xs = std::iter::once(0.0).chain(laid.iter().map(|r| r.x1 + gap));
    let ys: Vec<f64> = std::iter::once(0.0).chain(laid.iter().map(|r| r.y1 + gap)).collect();
    let fits = |x: &f64| x + size.x <= width + NEAR;
    let corners = xs.filter(fits).flat_map(|x| ys.iter().map(move |y| Point::new(x, *y)));
    let free = |corner: &Point| {
        let around = Rect::from_points(*corner, *corner + size).inflate(gap - NEAR, gap - NEAR);
        laid.iter().all(|r| around.intersect(*r).area() <= 0.0)
    };
    let higher = |a: &Point, b: &Point| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x));
    corners.filter(free).min_by(higher)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::print::pens;
    use crate::print::scene::boxed;
    use proptest::prelude::*;

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

    #[test]
    fn each_lies_whole_on_a_sheet_and_sheets_are_about_as_full() {
        let sizes =
            [(420.0, 1100.0), (350.0, 1090.0), (100.0, 860.0), (230.0, 330.0), (230.0, 330.0)];
        let scenes = sizes.map(|(w, h)| boxed(Rect::new(0.0, 0.0, w, h)));
        let (room, step) = (Size { width: 790.0, height: 1169.0 }, 806.0);
        let (whole, sheets) = pack_whole(&scenes, (room, step), (15.0, 12.0)).unwrap();
        assert_eq!(sheets, 2);
        let mut full = [0.0; 2];
        for one in boxes_of(&whole) {
            let sheet = usize::from(one.x0 > step);
            let left = if sheet == 0 { 0.0 } else { step + 15.0 };
            assert!(one.x0 >= left - 1e-6 && one.x1 <= left + room.width + 1e-6, "{one:?}");
            full[sheet] += one.area();
        }
        assert!(full[0].min(full[1]) > 0.6 * full[0].max(full[1]), "{full:?}");
        let tall = [boxed(Rect::new(0.0, 0.0, 300.0, 1200.0))];
        assert!(pack_whole(&tall, (room, step), (15.0, 12.0)).is_none());
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
