//! The hem turned up at its fold lies on the leg above it, edge on edge.

use hangtrue_files::print::{Allowance, DrawOptions, Layer, Mark, piece_scenes};
use hangtrue_geometry::{Chain, Line, Point};
use hangtrue_pattern::{Plan, draft, names};
use hangtrue_tests::bodies::bodies;

/// Where the cut line meets a level, mm, from the left.
fn edges_at(cut: &Chain, level: f64) -> (f64, f64) {
    let line = Line::new(Point::new(0.0, level), Point::new(1.0, level));
    let mut met: Vec<f64> = cut.crossings_with_line(line).iter().map(|c| c.there).collect();
    met.sort_by(f64::total_cmp);
    (met[0], met[met.len() - 1])
}

/// Over every eighth body of the survey sample, seams of 15 mm, a hem of 40 and of 60 mm.
#[test]
fn a_turned_up_hem_meets_the_leg() {
    let mut pieces = 0;
    for body in bodies().iter().step_by(8) {
        let Ok(made) = draft(body, &Plan::default()) else { continue };
        for hem in [40.0, 60.0] {
            let allowance = Allowance::all_round(15.0).with(names::HEM, hem);
            let options = DrawOptions { allowance: Some(allowance), ..DrawOptions::default() };
            let scenes = piece_scenes(&made.pattern, &options).unwrap();
            for (piece, scene) in made.pattern.pieces.iter().zip(&scenes) {
                let fold = piece.seam(names::HEM).unwrap().start().y;
                let path = scene.items.iter().find_map(|item| match &item.mark {
                    Mark::Stroke(path, _) if item.layer == Layer::Cut => Some(path),
                    _ => None,
                });
                let cut = Chain::new(path.unwrap().segments().collect()).unwrap();
                let lowest = cut.bounds().y0;
                assert!((fold - lowest - hem).abs() < 1e-6, "{} {}", piece.name, fold - lowest);
                for share in [0.1, 0.5, 0.9, 0.999] {
                    let (below, above) =
                        (edges_at(&cut, fold - share * hem), edges_at(&cut, fold + share * hem));
                    let off = (below.0 - above.0).abs().max((below.1 - above.1).abs());
                    assert!(off < 1e-6, "{}: {off} mm at {share} of {hem}", piece.name);
                }
                pieces += 1;
            }
        }
    }
    assert!(pieces > 400, "{pieces}");
}
