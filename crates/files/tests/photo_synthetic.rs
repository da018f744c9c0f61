//! Cards traced from photos whose truth is known.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::photo_scene::*;
use hangtrue_files::photo::*;
use hangtrue_geometry::{Affine, Chain, Point, Vec2};
use hangtrue_pattern::block::Plan;
use hangtrue_pattern::{draft, names};
use rayon::prelude::*;
use std::sync::OnceLock;

/// The card: the back of a block drafted for a tall body of the survey, 1.1 m long,
/// its lower left at (150, 100) on the table.
fn card() -> Vec<Chain> {
    static CARD: OnceLock<Vec<Chain>> = OnceLock::new();
    CARD.get_or_init(drafted).clone()
}

fn drafted() -> Vec<Chain> {
    let of = |measures| {
        let draft = draft(&measures, &Plan::default()).ok()?;
        let piece = draft.pattern.piece(names::BACK).ok()?.clone();
        (1090.0..1130.0).contains(&piece.bounds().height()).then_some(piece)
    };
    let piece = hangtrue_tests::bodies::bodies().into_iter().find_map(of).unwrap();
    let bounds = piece.bounds();
    let lay = Affine::translate((150.0 - bounds.x0, 100.0 - bounds.y0));
    piece.edges().unwrap().into_iter().map(|e| e.moved(lay)).collect()
}

fn drawn(card: &[Chain]) -> Vec<Point> {
    card.iter().flat_map(|c| steps(c, 2.0)).collect()
}

fn bounds(card: &[Chain]) -> hangtrue_geometry::Rect {
    card.iter().map(Chain::bounds).reduce(|a, b| a.union(b)).unwrap()
}

/// A sheet with its sides bowed outward by so much in the middle, mm.
fn bowed(corners: &[Point; 4], bows: [f64; 4]) -> Vec<Point> {
    let side = |i: usize| {
        let (a, b) = (corners[i], corners[(i + 1) % 4]);
        let out = -hangtrue_geometry::turned((b - a).normalize(), std::f64::consts::FRAC_PI_2);
        let count = (a.distance(b) / 10.0).ceil().max(1.0) as usize;
        (0..count).map(move |k| {
            let t = k as f64 / count as f64;
            a.lerp(b, t) + out * (4.0 * t * (1.0 - t) * bows[i])
        })
    };
    (0..4).flat_map(side).collect()
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Layout {
    Mat,
    Targets,
    BigSheet,
    SmallSheet,
}

/// What one photo showed.
#[derive(Debug)]
struct Shown {
    seed: u64,
    layout: Layout,
    rms: f64,
    worst: f64,
    expected: Expected,
    /// Cubics and lines of each seam, by its name.
    segments: Vec<(String, usize)>,
    seams: usize,
    /// Places told as doubtful.
    doubts: Vec<String>,
}

impl Shown {
    fn count(&self) -> usize {
        self.segments.iter().map(|s| s.1).sum()
    }
}

fn shown(seed: u64, layout: Layout, size: (usize, usize)) -> Result<Shown, String> {
    let mut chance = Chance::of(seed);
    let card = card();
    let at = bounds(&card);
    let mut room = at.inflate(90.0, 90.0);
    if layout == Layout::SmallSheet {
        room.x0 -= 80.0;
    }
    // The middles of the sides too: a lens bends them outward.
    let (mx, my) = (room.center().x, room.center().y);
    let border = [
        (room.x0, room.y0),
        (mx, room.y0),
        (room.x1, room.y0),
        (room.x1, my),
        (room.x1, room.y1),
        (mx, room.y1),
        (room.x0, room.y1),
        (room.x0, my),
    ]
    .map(Point::from);
    let focal = size.1 as f64 * chance.between(0.75, 1.2);
    let half = (size.0 as f64).hypot(size.1 as f64) / 2.0;
    // Distortion at the corner of the picture: up to 2 %, of either kind.
    let bend = chance.between(-0.02, 0.02);
    let stand = Stand {
        size,
        tilt: chance.between(0.0, 40f64.to_radians()),
        about: chance.between(0.0, std::f64::consts::TAU),
        roll: chance.between(-0.2, 0.2),
        focal,
        axis: Vec2::new(chance.normal(), chance.normal()) * (0.002 * half),
        k1: bend * (focal / half).powi(2),
        k2: chance.between(-0.005, 0.005) * (focal / half).powi(4),
    };
    let hole = Pinhole::seeing(stand, &border);
    let taking = Taking {
        blur: chance.between(0.5, 1.1),
        noise: chance.between(0.8, 2.5),
        light: Vec2::new(chance.between(-0.25, 0.25), chance.between(-0.25, 0.25)),
        dusk: chance.between(0.0, 0.2),
    };
    let sees = |p: Point| hole.sees(p).unwrap();
    let pointed = |p: Point, chance: &mut Chance| {
        let seen = sees(p) + Vec2::new(chance.normal(), chance.normal()) * 1.5;
        (seen.x, seen.y)
    };
    let kraft = [0.55, 0.38, 0.22].map(|c| c * chance.between(0.85, 1.2));
    let mut frame = Vec2::ZERO;
    let (scene, known) = match layout {
        Layout::Mat => {
            let green = [0.02, 0.10, 0.07];
            let lines = grid_lines(0..=13, -1..=27, 50.0, 1.2);
            let scene = Scene {
                ground: green,
                layers: vec![(lines, [0.16, 0.26, 0.2]), (vec![drawn(&card)], kraft)],
            };
            let (right, top) = ((at.x1 / 50.0).ceil() as i32, (at.y1 / 50.0).ceil() as i32);
            let crossings = [(2, 1), (right, 1), (right, top), (2, top), (2, top / 2)];
            let seen = |c: (i32, i32), chance: &mut Chance| {
                pointed(Point::new(f64::from(c.0) * 50.0, f64::from(c.1) * 50.0), chance)
            };
            let crossings = crossings.map(|c| (c, seen(c, &mut chance))).to_vec();
            (scene, Known::Grid { pitch: 50.0, crossings, only_these: false })
        }
        Layout::Targets => {
            let (mx, my) = (at.center().x, at.center().y);
            let out = at.inflate(55.0, 55.0);
            let mut places = vec![];
            for (x, y) in [
                (out.x0, out.y0),
                (mx, out.y0),
                (out.x1, out.y0),
                (out.x1, my),
                (out.x1, out.y1),
                (mx, out.y1),
                (out.x0, out.y1),
                (out.x0, my),
                (out.x0, (my + out.y0) / 2.0),
                (out.x1, (my + out.y1) / 2.0),
            ] {
                places.push(Point::new(x, y));
            }
            let marks = places.iter().flat_map(|p| target(*p, 20.0)).collect();
            let scene = Scene {
                ground: [0.62, 0.60, 0.55],
                layers: vec![(marks, [0.03; 3]), (vec![drawn(&card)], [0.16, 0.14, 0.12])],
            };
            let mark = |p: &Point| {
                let given = *p + Vec2::new(chance.normal(), chance.normal()) * 0.15;
                PlacedMark {
                    name: String::new(),
                    seen: pointed(*p, &mut chance),
                    place: (given.x, given.y),
                    look: MarkLook::Crossing,
                }
            };
            (scene, Known::Places(places.iter().map(mark).collect()))
        }
        Layout::BigSheet | Layout::SmallSheet => {
            let (origin, w, h) = if layout == Layout::BigSheet {
                let out = at.inflate(45.0, 45.0);
                (Point::new(out.x0, out.y0), out.width(), out.height())
            } else {
                // Beside the leg, below the crotch point.
                (Point::new(at.x0 - 150.0, at.y0 + 60.0), 210.0, 297.0)
            };
            frame = origin.to_vec2();
            // No sheet is cut quite true: its corners and the middles of its sides.
            let mut off = || chance.normal() * 0.15;
            let mut corner = |x: f64, y: f64| origin + Vec2::new(x + off(), y + off());
            let corners = [corner(0.0, 0.0), corner(w, 0.0), corner(w, h), corner(0.0, h)];
            let bows = [0; 4].map(|_| off());
            let sheet =
                if layout == Layout::BigSheet { SheetSize::Measured(w, h) } else { SheetSize::A4 };
            let mut layers = vec![(vec![bowed(&corners, bows)], [0.8, 0.8, 0.8])];
            layers.push((vec![drawn(&card)], [0.16, 0.14, 0.12]));
            let scene = Scene { ground: [0.3, 0.22, 0.15], layers };
            let corners = corners.map(|c| pointed(c, &mut chance));
            (scene, Known::Sheet { sheet, corners, as_pointed: false })
        }
    };
    let picture = scene.taken(&hole, taking, &mut chance);
    let middle = Point::new(at.center().x, at.y0 + 0.75 * at.height());
    let low = Point::new(at.center().x, at.y0 + 0.1 * at.height());
    let high = Point::new(at.center().x, at.y0 + 0.8 * at.height());
    let inside = pointed(middle, &mut chance);
    let ends = (pointed(low, &mut chance), pointed(high, &mut chance));
    let job = TraceJob {
        photos: vec![PhotoJob {
            file: format!("{layout:?} {seed}"),
            lens: LensKind::Camera,
            known,
            shared: vec![],
            reach: 7.0,
            outline: OutlineSeen::Card(Some(inside)),
        }],
        piece: names::BACK.into(),
        grain: Some(GrainSeen { photo: 0, from: ends.0, to: ends.1 }),
        tolerance: USUAL_TOLERANCE,
        raised: 0.0,
        seams: vec![],
    };
    let traced = trace(&job, &|_| Ok(picture.clone()), &|_, _| {}).map_err(|e| e.to_string())?;
    let truth: Vec<Chain> = card.iter().map(|c| c.moved(Affine::translate(-frame))).collect();
    let (rms, worst) = distance(&traced.edges, &truth);
    let piece = traced.piece();
    let counts = piece.edges().unwrap().into_iter().map(|e| e.segments().len());
    let mut segments: Vec<(String, usize)> =
        piece.seams.iter().map(|s| s.name.clone()).zip(counts).collect();
    segments.sort();
    Ok(Shown {
        seed,
        layout,
        rms,
        worst,
        expected: traced.expected,
        segments,
        seams: traced.piece().seams.len(),
        doubts: traced.doubts.iter().map(|d| d.why.to_string()).collect(),
    })
}

/// Takes the photos and says what they showed.
fn run(seeds: std::ops::Range<u64>, layouts: &[Layout], size: (usize, usize)) -> Vec<Shown> {
    let first = seeds.start;
    let shown: Vec<Result<Shown, String>> = seeds
        .into_par_iter()
        .map(|seed| shown(seed, layouts[seed as usize % layouts.len()], size))
        .collect();
    let mut good = Vec::new();
    for (seed, one) in (first..).zip(shown) {
        match one {
            Ok(one) => {
                println!(
                    "{seed} {:?}: rms {:.3} ≤ {:.3}, worst {:.3} ≤ {:.3}; {} segments, {} seams",
                    one.layout,
                    one.rms,
                    one.expected.rms,
                    one.worst,
                    one.expected.worst,
                    one.count(),
                    one.seams
                );
                one.doubts.iter().for_each(|d| println!("  doubtful: {d}"));
                good.push(one);
            }
            Err(why) => println!("{seed}: {why}"),
        }
    }
    good
}

fn share(shown: &[Shown], holds: impl Fn(&Shown) -> bool) -> f64 {
    shown.iter().filter(|s| holds(s)).count() as f64 / shown.len() as f64
}

/// What is promised: within 0.5 mm RMS and 1.5 mm worst over a piece of 1.1 m,
/// and the error told beforehand covers the true one in 95 of 100. No constant was
/// chosen by these seeds.
#[test]
fn a_card_is_traced_as_truly_as_it_says() {
    let layouts = [Layout::Mat, Layout::Targets, Layout::BigSheet];
    // Some of them each time; all that docs/photo.md tells of when it is asked for.
    let count = if std::env::var_os("HANGTRUE_ALL_PHOTOS").is_some() { 102 } else { 30 };
    let shown = run(30_000..30_000 + count as u64, &layouts, (900, 1200));
    assert_eq!(shown.len(), count, "a photo was refused");
    for layout in layouts {
        let of: Vec<&Shown> = shown.iter().filter(|s| s.layout == layout).collect();
        let middle = |of: Vec<f64>| {
            let mut of = of;
            of.sort_by(f64::total_cmp);
            of[of.len() / 2]
        };
        let greatest = |of: Vec<f64>| of.into_iter().fold(0.0, f64::max);
        let all = |value: fn(&Shown) -> f64| of.iter().map(|s| value(s)).collect::<Vec<f64>>();
        println!(
            "{layout:?}: {}; median rms {:.3}, greatest {:.3}, greatest worst {:.3}; told rms {:.3}, worst {:.3}; {} to {} cubics",
            of.len(),
            middle(all(|s| s.rms)),
            greatest(all(|s| s.rms)),
            greatest(all(|s| s.worst)),
            middle(all(|s| s.expected.rms)),
            middle(all(|s| s.expected.worst)),
            of.iter().map(|s| s.count()).min().unwrap(),
            of.iter().map(|s| s.count()).max().unwrap(),
        );
        for s in of {
            assert!(s.rms <= 0.5 && s.worst <= 1.5, "{s:?}");
        }
    }
    let rms = share(&shown, |s| s.rms <= s.expected.rms);
    let worst = share(&shown, |s| s.worst <= s.expected.worst);
    println!("expected covers rms in {rms:.3}, worst in {worst:.3}");
    assert!(rms >= 0.95 && worst >= 0.95, "{rms} {worst}");
    assert!(shown.iter().all(|s| s.seams == 5), "a corner was missed or made up");
    let doubted = shown.iter().filter(|s| !s.doubts.is_empty()).count();
    println!("{doubted} doubted");
    // Nothing lies in the way in these photos.
    assert!(doubted * 3 <= count, "{doubted} outlines are doubted without need");
    // The card itself takes 14: noise costs a few more.
    assert!(shown.iter().all(|s| s.count() <= 22), "the seams are drawn with too many cubics");
}

/// What many photos of one kind show: `HANGTRUE_PHOTOS="Mat 5000 5100"`.
#[test]
#[ignore = "as long as asked for; run by hand"]
fn many_photos() {
    let asked = std::env::var("HANGTRUE_PHOTOS").expect("HANGTRUE_PHOTOS=\"Mat 5000 5100\"");
    let words: Vec<&str> = asked.split(' ').collect();
    let [layout, from, to] = words[..] else { panic!("{asked}") };
    let layout = [Layout::Mat, Layout::Targets, Layout::BigSheet, Layout::SmallSheet]
        .into_iter()
        .find(|l| format!("{l:?}") == layout)
        .expect(layout);
    let seeds = from.parse().unwrap()..to.parse().unwrap();
    let asked = seeds.end - seeds.start;
    let shown = run(seeds, &[layout], (900, 1200));
    let told = |what: &str, of: &dyn Fn(&Shown) -> f64| {
        let mut all: Vec<(f64, u64)> = shown.iter().map(|s| (of(s), s.seed)).collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        let at = |part: f64| all[((all.len() as f64 - 1.0) * part) as usize];
        println!(
            "{what}: median {:.3}, 95 in 100 {:.3}, greatest {:?}",
            at(0.5).0,
            at(0.95).0,
            at(1.0)
        );
    };
    println!("{layout:?}: {} of {asked} traced", shown.len());
    assert!(!shown.is_empty());
    told("rms", &|s| s.rms);
    told("worst", &|s| s.worst);
    told("told rms", &|s| s.expected.rms);
    told("told worst", &|s| s.expected.worst);
    told("segments", &|s| s.count() as f64);
    for (seam, _) in &shown[0].segments {
        let of = |s: &Shown| s.segments.iter().find(|(name, _)| name == seam).map_or(0, |s| s.1);
        told(&format!("segments of {seam}"), &|s| of(s) as f64);
    }
    let part = |what: &str, holds: &dyn Fn(&Shown) -> bool| {
        println!("{what}: {} of {}", shown.iter().filter(|s| holds(s)).count(), shown.len());
    };
    part("within 0.5 and 1.5 mm", &|s| s.rms <= 0.5 && s.worst <= 1.5);
    part("told rms ≥ true", &|s| s.expected.rms >= s.rms);
    part("told worst ≥ true", &|s| s.expected.worst >= s.worst);
    part("five seams", &|s| s.seams == 5);
}

/// A small sheet at one end of the piece: little is promised, and the error told
/// covers what comes of it.
#[test]
#[ignore = "a minute more; run by hand"]
fn a_small_sheet_tells_how_little_it_knows() {
    let shown = run(1000..1100, &[Layout::SmallSheet], (900, 1200));
    let rms = share(&shown, |s| s.rms <= s.expected.rms);
    let worst = share(&shown, |s| s.worst <= s.expected.worst);
    println!("{} traced; expected covers rms in {rms:.3}, worst in {worst:.3}", shown.len());
    assert!(shown.len() >= 90 && rms >= 0.95 && worst >= 0.95, "{rms} {worst}");
}

/// Two photos of a long piece, each of its own part of the mat counted from its
/// own crossing, joined over three marks that both show.
#[test]
fn two_photos_are_joined_over_shared_marks() {
    let card = card();
    let at = bounds(&card);
    let scene = Scene {
        ground: [0.02, 0.10, 0.07],
        layers: vec![
            (grid_lines(0..=13, -1..=27, 50.0, 1.2), [0.16, 0.26, 0.2]),
            (vec![drawn(&card)], [0.55, 0.38, 0.22]),
        ],
    };
    let mut chance = Chance::of(5);
    let crossing = |c: (i32, i32)| Point::new(f64::from(c.0) * 50.0, f64::from(c.1) * 50.0);
    let (right, middle) = ((at.x1 / 50.0).ceil() as i32 + 1, 13);
    let shared = [("P", (1, middle)), ("Q", (right, middle)), ("R", (1, middle - 1))];
    let mut photos = Vec::new();
    let mut pictures = Vec::new();
    // The lower part first, then the upper part, counted from another crossing.
    for (part, (low, high), from) in [(0, (0, 15), (0, 0)), (1, (11, 26), (1, 11))] {
        let stand = Stand {
            size: (1200, 1000),
            tilt: 0.25,
            about: 1.0 + f64::from(part),
            roll: 0.05,
            focal: 1100.0,
            axis: Vec2::ZERO,
            k1: -0.02,
            k2: 0.0,
        };
        let must_see = [(1, low), (right, low), (right, high), (1, high)].map(crossing);
        let hole = Pinhole::seeing(stand, &must_see);
        let taking = Taking { blur: 0.7, noise: 1.5, light: Vec2::new(0.1, -0.15), dusk: 0.1 };
        pictures.push(scene.taken(&hole, taking, &mut chance));
        let seen = |p: Point, chance: &mut Chance| {
            let seen = hole.sees(p).unwrap() + Vec2::new(chance.normal(), chance.normal()) * 1.2;
            (seen.x, seen.y)
        };
        let crossings = [(1, low + 1), (right, low + 1), (right, high - 1), (1, high - 1)];
        let crossings = crossings
            .map(|c| ((c.0 - from.0, c.1 - from.1), seen(crossing(c), &mut chance)))
            .to_vec();
        let mark = |(name, c): &(&str, (i32, i32))| SeenMark {
            name: (*name).to_owned(),
            seen: seen(crossing(*c), &mut chance),
            look: MarkLook::Crossing,
        };
        let shared = shared.iter().map(mark).collect();
        let inside = Point::new(at.x0 + 0.62 * at.width(), if part == 0 { 400.0 } else { 900.0 });
        let inside = seen(inside, &mut chance);
        photos.push(PhotoJob {
            file: part.to_string(),
            lens: LensKind::Camera,
            known: Known::Grid { pitch: 50.0, crossings, only_these: false },
            shared,
            reach: 7.0,
            outline: OutlineSeen::Card(Some(inside)),
        });
    }
    let mut job = TraceJob {
        photos,
        piece: names::BACK.into(),
        grain: None,
        tolerance: USUAL_TOLERANCE,
        raised: 0.0,
        seams: vec![],
    };
    let read = |file: &str| Ok(pictures[file.parse::<usize>().unwrap()].clone());
    let traced = trace(&job, &read, &|_, _| {}).unwrap();
    let (rms, worst) = distance(&traced.edges, &card);
    println!("joined: rms {rms:.3} worst {worst:.3}, {:?}, {:?}", traced.expected, traced.notes);
    assert!(rms < 0.5 && worst < 1.5, "{rms} {worst}");
    assert!(rms <= traced.expected.rms && worst <= traced.expected.worst);
    assert_eq!(traced.piece().seams.len(), 5);

    let alone = TraceJob { photos: vec![job.photos[0].clone()], ..job.clone() };
    let cut = trace(&alone, &read, &|_, _| {}).unwrap_err();
    assert!(cut.to_string().contains("reaches the border"), "{cut}");
    job.photos[1].shared.truncate(1);
    let loose = trace(&job, &read, &|_, _| {}).unwrap_err();
    assert!(matches!(loose, PhotoError::NotJoined { .. }), "{loose}");
}
