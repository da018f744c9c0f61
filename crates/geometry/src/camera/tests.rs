//! The camera against a pinhole with a real rotation and focal length, written
//! apart from the model.

use super::*;
use nalgebra::{Rotation3, Vector3};
use proptest::prelude::*;

const FRAME: Frame = Frame { width: 4000.0, height: 3000.0 };

/// A pinhole over the table: looks at `at` from `far` mm, tilted and turned.
struct Pinhole {
    turn: Rotation3<f64>,
    eye: Vector3<f64>,
    focal: f64,
    k1: f64,
}

impl Pinhole {
    fn over(at: Point, far: f64, tilt: f64, about: f64, focal: f64, k1: f64) -> Self {
        // Looking straight down: camera x right, y down the picture, z into the table.
        let down = Rotation3::from_axis_angle(&Vector3::x_axis(), std::f64::consts::PI);
        let axis = nalgebra::Unit::new_normalize(Vector3::new(about.cos(), about.sin(), 0.0));
        let turn = Rotation3::from_axis_angle(&axis, tilt) * down;
        let eye = Vector3::new(at.x, at.y, 0.0) - turn.inverse() * Vector3::new(0.0, 0.0, far);
        Self { turn, eye, focal, k1 }
    }

    fn sees(&self, p: Point) -> Point {
        let c = self.turn * (Vector3::new(p.x, p.y, 0.0) - self.eye);
        assert!(c.z > 0.0);
        let (x, y) = (c.x / c.z, c.y / c.z);
        let bend = 1.0 + self.k1 * (x * x + y * y);
        FRAME.centre() + self.focal * bend * Vec2::new(x, y)
    }
}

fn pair(plane: Point, picture: Point) -> PointPair {
    PointPair { plane, picture, plane_sigma: 0.0, picture_sigma: 0.3 }
}

fn grid(across: usize, up: usize, step: f64) -> Vec<Point> {
    let at = |i: usize| Point::new((i % across) as f64 * step, (i / across) as f64 * step);
    (0..across * up).map(at).collect()
}

fn tilted() -> Pinhole {
    Pinhole::over(Point::new(300.0, 500.0), 1500.0, 0.6, 0.4, 3000.0, -0.08)
}

fn solved(places: &[Point], lens: Lens) -> Result<PlaneCamera, CameraError> {
    let hole = tilted();
    let pairs: Vec<PointPair> = places.iter().map(|&p| pair(p, hole.sees(p))).collect();
    PlaneCamera::solve(FRAME, &pairs, lens, SolveLimits::default())
}

#[test]
fn an_exact_picture_gives_the_plane_back() {
    let places = grid(7, 12, 100.0);
    let camera = solved(&places, Lens::Wide).unwrap();
    assert_eq!(camera.terms_found(), 2);
    let hole = tilted();
    for p in grid(13, 23, 50.0) {
        let back = camera.to_plane(hole.sees(p)).unwrap();
        assert!(back.distance(p) < 2e-3, "{p:?} {back:?}");
        let there = camera.to_picture(back).unwrap();
        assert!(there.distance(hole.sees(p)) < 1e-6);
    }
    assert!(camera.residuals().worst < 2e-3);
    // Pinhole terms are per focal length, ours per half diagonal; the lens of a
    // tilted camera keeps its centre.
    let expected = -0.08 * (FRAME.half_diagonal() / 3000.0f64).powi(2);
    assert!((camera.terms()[0] - expected).abs() < 2e-3, "{:?} {expected}", camera.terms());
}

#[test]
fn four_marks_and_a_flat_lens_are_exact_and_say_they_have_nothing_to_spare() {
    let mut hole = tilted();
    hole.k1 = 0.0;
    let corners = [(0.0, 0.0), (600.0, 10.0), (620.0, 1100.0), (-5.0, 1090.0)].map(Point::from);
    let pairs: Vec<PointPair> = corners.iter().map(|&p| pair(p, hole.sees(p))).collect();
    let camera = PlaneCamera::solve(FRAME, &pairs, Lens::Flat, SolveLimits::default()).unwrap();
    assert_eq!((camera.residuals().spare, camera.terms_found()), (0, 0));
    let p = Point::new(333.0, 444.0);
    assert!(camera.to_plane(hole.sees(p)).unwrap().distance(p) < 1e-6);
    // The usual lens cannot be told from four marks, and widens the error.
    let usual = PlaneCamera::solve(FRAME, &pairs, Lens::Usual, SolveLimits::default()).unwrap();
    assert_eq!(usual.terms_found(), 0);
    let seen = hole.sees(Point::new(610.0, 550.0));
    let (flat, usual) = (camera.mistake_at(seen, 0.0), usual.mistake_at(seen, 0.0));
    assert!(usual.unwrap().sigma() > 2.0 * flat.unwrap().sigma());
}

/// A sheet of 600 × 1000 mm: its corners, and its sides where the pinhole sees them.
fn sheet(hole: &Pinhole, bow: f64) -> (Vec<PointPair>, Vec<StraightSide>) {
    let corners = [(0.0, 0.0), (600.0, 0.0), (600.0, 1000.0), (0.0, 1000.0)].map(Point::from);
    let side = |i: usize| {
        let (from, to) = (corners[i], corners[(i + 1) % 4]);
        let out = -crate::turned((to - from).normalize(), std::f64::consts::FRAC_PI_2);
        let place = |k: usize| {
            let t = (k as f64 + 0.5) / 40.0;
            from.lerp(to, t) + out * (bow * 4.0 * t * (1.0 - t))
        };
        let seen = (0..40).map(|k| (hole.sees(place(k)), 0.1)).collect();
        StraightSide { from, to, seen, bow: 0.15 }
    };
    (corners.iter().map(|&p| pair(p, hole.sees(p))).collect(), (0..4).map(side).collect())
}

#[test]
fn straight_sides_tell_the_bend_that_four_corners_cannot() {
    // 4 % of bend at the picture's corner, more than twice what is usual.
    let hole = tilted();
    let (pairs, sides) = sheet(&hole, 0.0);
    let solve = |sides: &[StraightSide]| {
        let limits = SolveLimits::default();
        PlaneCamera::solve_with_sides(FRAME, &pairs, sides, Lens::Usual, limits).unwrap()
    };
    let (alone, told) = (solve(&[]), solve(&sides));
    let p = Point::new(310.0, 60.0);
    let off = |c: &PlaneCamera| c.to_plane(hole.sees(p)).unwrap().distance(p);
    assert!(off(&alone) > 1.5 && off(&told) < 0.1, "{} {}", off(&alone), off(&told));
    assert!(alone.terms_found() == 0 && told.terms_found() > 0);
    let sigma = |c: &PlaneCamera| c.mistake_at(hole.sees(p), 0.0).unwrap().sigma();
    assert!(sigma(&told) < 0.4 * sigma(&alone), "{} {}", sigma(&told), sigma(&alone));
}

#[test]
fn a_bowed_sheet_is_within_what_is_told_and_unsound_sides_are_left_out() {
    let hole = tilted();
    let (pairs, mut sides) = sheet(&hole, 0.15);
    let solve = |sides: &[StraightSide]| {
        let limits = SolveLimits::default();
        PlaneCamera::solve_with_sides(FRAME, &pairs, sides, Lens::Usual, limits).unwrap()
    };
    let camera = solve(&sides);
    for p in grid(7, 11, 100.0) {
        let seen = hole.sees(p);
        let off = camera.to_plane(seen).unwrap().distance(p);
        assert!(off <= camera.mistake_at(seen, 0.0).unwrap().within(), "{p:?} {off}");
    }
    sides[0].seen[3].0.x = f64::NAN;
    sides[1].seen.truncate(2);
    sides[2].to = sides[2].from;
    sides[3].bow = 0.0;
    let none = solve(&sides);
    assert_eq!(none, solve(&[]));
}

#[test]
fn bad_marks_are_refused_by_kind() {
    let few = solved(&grid(3, 1, 100.0), Lens::Usual).unwrap_err();
    assert_eq!(few, CameraError::TooFew { found: 3 });
    let line = solved(&grid(8, 1, 100.0), Lens::Usual).unwrap_err();
    assert_eq!(line, CameraError::Collinear);
    let mut all_but_one = grid(5, 1, 100.0);
    all_but_one.push(Point::new(100.0, 300.0));
    assert_eq!(solved(&all_but_one, Lens::Usual).unwrap_err(), CameraError::Collinear);

    let hole = tilted();
    let corners = [(0.0, 0.0), (600.0, 0.0), (600.0, 1000.0), (0.0, 1000.0)].map(Point::from);
    let swapped = [1, 0, 2, 3];
    let solve = |pairs: &[PointPair]| {
        PlaneCamera::solve(FRAME, pairs, Lens::Usual, SolveLimits::default()).unwrap_err()
    };
    let crossed: Vec<PointPair> =
        (0..4).map(|i| pair(corners[i], hole.sees(corners[swapped[i]]))).collect();
    assert!(matches!(solve(&crossed), CameraError::BadlyPlaced { .. }), "{:?}", solve(&crossed));
    let mirrored = [1, 0, 3, 2];
    let mirror: Vec<PointPair> =
        (0..4).map(|i| pair(corners[i], hole.sees(corners[mirrored[i]]))).collect();
    assert_eq!(solve(&mirror), CameraError::Mirrored);

    let mut wrong: Vec<PointPair> =
        grid(4, 4, 200.0).into_iter().map(|p| pair(p, hole.sees(p))).collect();
    wrong[6].plane.x += 25.0;
    assert!(matches!(solve(&wrong), CameraError::ResidualTooLarge { worst: 6, .. }));
    wrong[2].picture.x = f64::NAN;
    assert_eq!(solve(&wrong), CameraError::NotFinite { index: 2 });
    let same = vec![pair(Point::ORIGIN, Point::ORIGIN); 5];
    assert_eq!(solve(&same), CameraError::Collinear);
}

#[test]
fn a_place_beyond_the_horizon_is_none() {
    let hole = Pinhole::over(Point::new(0.0, 0.0), 1500.0, 1.2, 0.0, 2500.0, 0.0);
    let places = grid(4, 4, 100.0);
    let pairs: Vec<PointPair> = places.iter().map(|&p| pair(p, hole.sees(p))).collect();
    let camera = PlaneCamera::solve(FRAME, &pairs, Lens::Flat, SolveLimits::default()).unwrap();
    let horizon =
        (0..3000).filter(|y| camera.to_plane(Point::new(2000.0, f64::from(*y))).is_none());
    assert!(horizon.count() > 100);
}

#[test]
fn derivatives_are_those_of_the_map() {
    let camera = solved(&grid(7, 12, 100.0), Lens::Wide).unwrap();
    let (model, p) = (&camera.model, Point::new(120.0, 900.0));
    let step = 1e-6;
    let by = model.by_parameters(p).unwrap();
    for i in 0..PARAMETERS {
        let mut nudge = SMatrix::<f64, PARAMETERS, 1>::zeros();
        nudge[i] = step;
        let ahead = model.moved(&nudge).plane_to_picture(p).unwrap();
        let behind = model.moved(&-nudge).plane_to_picture(p).unwrap();
        let slope = (ahead - behind) / (2.0 * step);
        assert!((slope.x - by[(0, i)]).abs() < 1e-3 && (slope.y - by[(1, i)]).abs() < 1e-3);
    }
    let j = model.by_plane(p).unwrap();
    let dx = (model.plane_to_picture(p + Vec2::new(1e-3, 0.0)).unwrap()
        - model.plane_to_picture(p - Vec2::new(1e-3, 0.0)).unwrap())
        / 2e-3;
    assert!((dx.x - j[(0, 0)]).abs() < 1e-5 && (dx.y - j[(1, 0)]).abs() < 1e-5);
}

/// Uniform chance to normal chance, enough for a test.
fn normal(seed: &mut u64) -> f64 {
    let mut sum = 0.0;
    for _ in 0..12 {
        *seed =
            seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        sum += (*seed >> 11) as f64 / 9_007_199_254_740_992.0;
    }
    sum - 6.0
}

#[test]
fn the_predicted_error_covers_the_true_one_as_often_as_it_says() {
    let mut seed = 7;
    let (mut inside, mut asked) = (0, 0);
    for round in 0..400 {
        let f = f64::from(round) / 400.0;
        let hole = Pinhole::over(
            Point::new(300.0, 400.0),
            1200.0 + 600.0 * f,
            0.7 * f,
            6.0 * f,
            2800.0,
            0.02 * (2800.0 / FRAME.half_diagonal()).powi(2) * normal(&mut seed),
        );
        let places = if round % 2 == 0 { grid(3, 3, 250.0) } else { grid(5, 6, 140.0) };
        let pairs: Vec<PointPair> = places
            .iter()
            .map(|&p| {
                let noise = Vec2::new(normal(&mut seed), normal(&mut seed)) * 0.5;
                let given = p + Vec2::new(normal(&mut seed), normal(&mut seed)) * 0.2;
                let picture = hole.sees(p) + noise;
                PointPair { plane: given, picture, plane_sigma: 0.2, picture_sigma: 0.5 }
            })
            .collect();
        let camera =
            PlaneCamera::solve(FRAME, &pairs, Lens::Usual, SolveLimits::default()).unwrap();
        for p in [Point::new(100.0, 120.0), Point::new(650.0, 800.0), Point::new(333.0, 430.0)] {
            let seen = hole.sees(p);
            let off = camera.to_plane(seen).unwrap().distance(p);
            asked += 1;
            inside += usize::from(off <= camera.mistake_at(seen, 0.0).unwrap().within());
        }
    }
    let share = inside as f64 / asked as f64;
    assert!(share >= 0.95, "{share}");
    assert!(share < 0.9999, "never wrong means the error is blown up: {share}");
}

#[test]
fn maybe_cameras_spread_as_the_ellipse_says() {
    let camera = solved(&grid(5, 6, 140.0), Lens::Usual).unwrap();
    let seen = tilted().sees(Point::new(600.0, 750.0));
    let mistake = camera.mistake_at(seen, 0.0).unwrap();
    let drifts = camera.drifts(seen, &camera.maybe(4000)).unwrap();
    for direction in [Vec2::new(1.0, 0.0), Vec2::new(0.6, 0.8)] {
        let squares = drifts.iter().map(|d| d.dot(direction).powi(2));
        let spread = (squares.sum::<f64>() / 4000.0).sqrt();
        let said = mistake.along(direction);
        assert!((spread / said - 1.0).abs() < 0.06, "{spread} {said}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn hostile_pairs_never_panic(
        numbers in proptest::collection::vec(
            (-1e4f64..1e4, -1e4f64..1e4, -1e4f64..1e4, -1e4f64..1e4), 0..12),
        repeat in 0usize..3,
    ) {
        let mut pairs: Vec<PointPair> =
            numbers.iter().map(|n| pair(Point::new(n.0, n.1), Point::new(n.2, n.3))).collect();
        for i in 0..repeat.min(pairs.len()) {
            pairs[i] = pairs[pairs.len() - 1];
        }
        for lens in [Lens::Flat, Lens::Usual, Lens::Wide] {
            if let Ok(camera) =
                PlaneCamera::solve(FRAME, &pairs, lens, SolveLimits { residual: 1e9 })
            {
                for p in &pairs {
                    let _ = camera.mistake_at(p.picture, 1.0);
                    let _ = camera.to_picture(p.plane);
                }
            }
        }
    }
}

#[test]
fn the_lens_is_found_where_it_was_when_its_focal_length_is_known() {
    let camera = solved(&grid(7, 12, 100.0), Lens::Wide).unwrap();
    let hole = tilted();
    let eye = camera.eye(3000.0 / FRAME.half_diagonal()).unwrap();
    assert!((eye.foot - Point::new(hole.eye.x, hole.eye.y)).hypot() < 1.0, "{eye:?}");
    assert!((eye.height - hole.eye.z.abs()).abs() < 1.0, "{eye:?} {}", hole.eye.z);
    // A wider lens would have been nearer.
    assert!(camera.eye(0.9).unwrap().height < eye.height);
    assert!(camera.eye(0.0).is_none());
}
