//! Laying the pieces side by side on the paper, the grain upright.

use super::Scene;
use hangtrue_geometry::{Affine, Point, Vec2};

/// Lays scenes side by side from the left, in rows no wider than `width` mm,
/// with `gap` mm between them; a scene wider than that has a row to itself. The
/// scenes are only moved, never turned, so a grain that is upright stays so.
/// The top left corner of the whole lies at the origin.
pub fn arrange(scenes: &[Scene], width: f64, gap: f64) -> Scene {
    let mut whole = Scene::default();
    for (scene, to) in scenes.iter().zip(places(scenes, width, gap)) {
        whole.append(scene.moved(Affine::translate(to)));
    }
    whole
}

/// The move of each scene.
fn places(scenes: &[Scene], width: f64, gap: f64) -> Vec<Vec2> {
    let mut places = Vec::with_capacity(scenes.len());
    let (mut x, mut top, mut row) = (0.0f64, 0.0f64, 0.0f64);
    for scene in scenes {
        let Some(bounds) = scene.bounds() else {
            places.push(Vec2::ZERO);
            continue;
        };
        if x > 0.0 && x + bounds.width() > width {
            top -= row + gap;
            (x, row) = (0.0, 0.0);
        }
        places.push(Point::new(x, top) - Point::new(bounds.x0, bounds.y1));
        x += bounds.width() + gap;
        row = row.max(bounds.height());
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::print::scene::boxed;
    use hangtrue_geometry::Rect;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn no_two_scenes_come_nearer_than_the_gap(
            sizes in proptest::collection::vec((10.0f64..600.0, 10.0f64..1200.0), 1..8),
            width in 100.0f64..2000.0, gap in 0.0f64..40.0
        ) {
            let scenes: Vec<Scene> = sizes
                .iter()
                .enumerate()
                .map(|(i, &(w, h))| {
                    let x = 100.0 * i as f64;
                    boxed(Rect::new(x, -7.0, x + w, h - 7.0))
                })
                .collect();
            let laid: Vec<Rect> = scenes
                .iter()
                .zip(places(&scenes, width, gap))
                .filter_map(|(s, to)| s.moved(Affine::translate(to)).bounds())
                .collect();
            for (i, a) in laid.iter().enumerate() {
                for b in &laid[i + 1..] {
                    let apart = a.inflate(gap - 1e-6, gap - 1e-6).intersect(*b).area();
                    prop_assert!(apart <= 1e-6, "{a:?} {b:?}");
                }
            }
            prop_assert!(laid.iter().all(|r| r.x0 >= -1e-9 && r.y1 <= 1e-9));
        }
    }
}
