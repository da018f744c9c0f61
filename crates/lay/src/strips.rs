//! A shape in strips along the cloth: what of each strip it covers.

use crate::outline::edges;
use hangtrue_geometry::Point;

/// Width of a strip, mm: across the cloth pieces are laid to multiples of it, so that two lie
/// at most so much farther apart than they need.
pub const STRIP: f64 = 3.0;

/// From where to where something is covered along the cloth, mm.
pub(crate) type Span = (f64, f64);

/// What a shape covers of each strip from its lower edge up. Everything of the shape lies in
/// these spans, and in no strip do they reach farther than the shape and `apart` round it.
pub(crate) fn strips(corners: &[Point], apart: f64) -> Vec<Vec<Span>> {
    let high = corners.iter().map(|p| p.y).fold(0.0, f64::max);
    let count = ((high + apart) / STRIP - 1e-9).ceil().max(1.0) as usize;
    // Raised by what lies free below it: then what ends under a strip is that far from it.
    let raised: Vec<Point> = corners.iter().map(|p| Point::new(p.x, p.y + apart)).collect();
    let mut levels: Vec<f64> = raised.iter().map(|p| p.y).collect();
    levels.sort_by(f64::total_cmp);
    (0..count)
        .map(|i| {
            let (low, high) = (i as f64 * STRIP - apart, (i + 1) as f64 * STRIP + apart);
            let mut stops = vec![low];
            stops.extend(levels.iter().copied().filter(|y| *y > low && *y < high));
            stops.push(high);
            let spans = stops.windows(2).flat_map(|w| between(&raised, w[0], w[1])).collect();
            joined(spans)
        })
        .collect()
}

/// What the shape covers between two levels with no corner between them.
fn between(corners: &[Point], low: f64, high: f64) -> Vec<Span> {
    if high - low < 1e-12 {
        return Vec::new();
    }
    let middle = 0.5 * (low + high);
    let mut sides: Vec<(f64, f64, f64)> = edges(corners)
        .filter(|(a, b)| (a.y <= middle) != (b.y <= middle))
        .map(|(a, b)| {
            let at = |y: f64| a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y)).clamp(0.0, 1.0);
            (at(middle), at(low), at(high))
        })
        .collect();
    sides.sort_by(|a, b| a.0.total_cmp(&b.0));
    sides.chunks_exact(2).map(|pair| (pair[0].1.min(pair[0].2), pair[1].1.max(pair[1].2))).collect()
}

/// Spans that touch or overlap made one.
fn joined(mut spans: Vec<Span>) -> Vec<Span> {
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut joined: Vec<Span> = Vec::new();
    for span in spans {
        match joined.last_mut() {
            Some(last) if span.0 <= last.1 => last.1 = last.1.max(span.1),
            _ => joined.push(span),
        }
    }
    joined
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_square_fills_its_strips_and_a_hollow_stays_free() {
        let square = [(0.0, 0.0), (30.0, 0.0), (30.0, 12.0), (0.0, 12.0)].map(Point::from);
        let found = strips(&square, 0.0);
        assert_eq!(found.len(), 4);
        assert!(found.iter().all(|s| s == &[(0.0, 30.0)]), "{found:?}");
        // A U lying on its back: the strips of its arms have a gap.
        let hollow = [
            (0.0, 0.0),
            (30.0, 0.0),
            (30.0, 30.0),
            (20.0, 30.0),
            (20.0, 9.0),
            (10.0, 9.0),
            (10.0, 30.0),
            (0.0, 30.0),
        ]
        .map(Point::from);
        let found = strips(&hollow, 0.0);
        assert_eq!(found[1], [(0.0, 30.0)]);
        assert_eq!(found[8], [(0.0, 10.0), (20.0, 30.0)]);
    }

    #[test]
    fn a_slant_is_held_whole() {
        let wedge = [(0.0, 0.0), (90.0, 0.0), (0.0, 9.0)].map(Point::from);
        let found = strips(&wedge, 0.0);
        assert_eq!(found.len(), 3);
        for (index, spans) in found.iter().enumerate() {
            let reach = 90.0 - 30.0 * index as f64;
            assert!((spans[0].1 - reach).abs() < 1e-9 && spans[0].0 == 0.0, "{spans:?}");
        }
    }
}
