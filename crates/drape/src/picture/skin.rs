//! The skin of the body as triangles, to be looked at.

use crate::body::Body;
use crate::cloth::Position;

/// Rays of a section, and how far apart sections lie, mm.
const RAYS: usize = 48;
const APART: f64 = 12.0;
/// The body is shown so far above its waist, and down to so far above the floor, mm.
const OVER_WAIST: f64 = 70.0;
const FOOT: f64 = 8.0;
/// No skin lies further from the middle of a leg than that, mm.
const FAR: f64 = 600.0;

/// The right half of the skin: points, and triangles among them. Each section is taken
/// round the middle of the leg and ends at the plane between the legs.
pub(super) fn right_half(body: &Body) -> (Vec<Position>, Vec<[usize; 3]>) {
    let (low, high) = (FOOT, body.waist + OVER_WAIST);
    let count = ((high - low) / APART).ceil().max(1.0) as usize;
    let mut points = Vec::with_capacity((count + 1) * RAYS + 1);
    for k in 0..=count {
        let z = low + (high - low) * k as f64 / count as f64;
        points.extend(section(body, z));
    }
    let mut triangles = Vec::new();
    for ring in 0..count {
        for ray in 0..RAYS {
            let next = (ray + 1) % RAYS;
            let (a, b) = (ring * RAYS + ray, ring * RAYS + next);
            triangles.push([a, b, b + RAYS]);
            triangles.push([a, b + RAYS, a + RAYS]);
        }
    }
    // The top is closed.
    let ring = count * RAYS;
    let middle = points[ring..].iter().sum::<Position>() / RAYS as f64;
    let top = points.len();
    points.push(middle);
    triangles.extend((0..RAYS).map(|ray| [ring + ray, ring + (ray + 1) % RAYS, top]));
    (points, triangles)
}

fn section(body: &Body, z: f64) -> Vec<Position> {
    let shape = &body.shape;
    let (x, y) = (shape.leg.x.at(z), shape.leg.y.at(z));
    let ray = |k: usize| {
        let (sine, cosine) = (std::f64::consts::TAU * k as f64 / RAYS as f64).sin_cos();
        // To the plane between the legs.
        let most = if cosine < -1e-9 { (x / -cosine).min(FAR) } else { FAR };
        let level = |t: f64| shape.level(x + t * cosine, y + t * sine, z);
        let (mut inside, mut outside) = (0.0, 0.0);
        while outside < most && level(outside) < 0.0 {
            inside = outside;
            outside = (outside + 20.0).min(most);
        }
        if level(outside) >= 0.0 {
            for _ in 0..12 {
                let half = 0.5 * (inside + outside);
                if level(half) < 0.0 { inside = half } else { outside = half }
            }
        }
        Position::new(x + outside * cosine, y + outside * sine, z)
    };
    let mut found: Vec<Position> = (0..RAYS).map(ray).collect();
    // Where the section runs on to the other leg its outermost points in the plane
    // between lie on the skin, so that both halves meet there.
    let in_plane = |p: &Position| p.x.abs() < 1e-6 && shape.level(p.x, p.y, z) < 0.0;
    let ends = [found.iter().position(in_plane), found.iter().rposition(in_plane)];
    for (end, way) in ends.into_iter().zip([1.0, -1.0]) {
        let Some(end) = end else { continue };
        let (mut inside, mut outside) = (found[end].y, found[end].y + way * FAR);
        for _ in 0..24 {
            let half = 0.5 * (inside + outside);
            if shape.level(0.0, half, z) < 0.0 { inside = half } else { outside = half }
        }
        found[end].y = outside;
    }
    found
}
