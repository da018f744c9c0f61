//! Photos of a worn toile with known truth: what is read from them is within the
//! stated error. The truth is made by an independent model: a tapering body, ray by
//! ray, while the reading knows only marks and girths.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::worn::{Body, Chance, Drawn, photograph};
use hangtrue_adjust::worn::{
    Hang, Horizon, KnownLength, LegSeen, Level, Stand, TracedLine, View, WornPhoto, hangs,
};
use hangtrue_files::worn::{body_edge, follow_dark_line};
use hangtrue_geometry::{Point, Vec2};
use rayon::prelude::*;

/// Enough to tell 90 % from less.
const CASES: u64 = 500;

const SIZE: (usize, usize) = (1200, 1600);

struct Case {
    hangs: Vec<Hang>,
    lines: Vec<Drawn>,
    followed: usize,
    edges: usize,
}

/// One photo, marked as carelessly as a person marks it.
fn case(seed: u64) -> Case {
    let mut chance = Chance::new(seed);
    let distance = chance.between(2000.0, 4000.0);
    let lens = chance.between(700.0, 1300.0);
    let (thigh, knee) = (chance.between(700.0, 780.0), chance.between(430.0, 480.0));
    let body = Body {
        across: chance.between(-120.0, 120.0),
        away: distance,
        half_width: chance.between(85.0, 110.0),
        half_depth: chance.between(80.0, 115.0),
        taper: 0.0006,
        at: thigh - lens,
    };
    // 1250 mm fill the height; the lens looks at the middle of them, about.
    let focal = SIZE.1 as f64 * distance / 1250.0;
    let stand = Stand {
        centre: Point::new(SIZE.0 as f64 / 2.0, SIZE.1 as f64 / 2.0),
        focal,
        roll: chance.between(-0.035, 0.035),
        tilt: ((lens - 600.0) / distance).atan() + chance.between(-0.01, 0.01),
    };
    let mut line = |height: f64| Drawn {
        height: height - lens,
        fall: chance.between(-8.0, 8.0),
        droop: chance.between(-6.0, 14.0),
        home: 0.0,
        halves: false,
        hidden: [0.0; 2],
    };
    let lines = vec![line(thigh), line(knee)];
    let noise = chance.between(0.005, 0.03);
    let picture = photograph(&stand, SIZE, &body, &lines, noise, &mut chance);
    let (mut followed, mut edges) = (0, 0);
    let traced: Vec<TracedLine> = ["thigh", "knee"]
        .iter()
        .zip(&lines)
        .map(|(name, drawn)| {
            let shares = [0.0, 0.15, 0.38, 0.62, 0.86, 1.0];
            let clicks: Vec<Point> = shares
                .iter()
                .map(|share| {
                    let [x, y, z] = body.place(drawn, *share);
                    let off = Vec2::new(chance.normal(1.5), chance.normal(2.0));
                    stand.seen(x, y, z) + off
                })
                .collect();
            // The wall may be as light as the cloth; then the click stands.
            let mut clicks = clicks;
            let mut found = 0;
            let middle = clicks[clicks.len() / 2];
            for end in [0, clicks.len() - 1] {
                if let Some(edge) = body_edge(&picture, clicks[end], middle) {
                    clicks[end] = edge;
                    found += 1;
                }
            }
            edges += found;
            let edge_sigma = if found == 2 { 0.5 } else { 2.0 };
            let line = follow_dark_line(&picture, &clicks, 14.0, 3.0 * focal / distance);
            followed += usize::from(line.is_some());
            let clicked = if line.is_some() { clicks.clone() } else { Vec::new() };
            let (points, sigma) = line.map_or((clicks, 2.0), |l| (l.points, l.sigma));
            let girth = body.section(drawn.at(0.5)).girth() * (1.0 + chance.normal(0.015));
            TracedLine {
                name: (*name).to_owned(),
                leg: LegSeen::Right,
                girth,
                points,
                clicks: clicked,
                sigma,
                edge_sigma,
                pressed: false,
                sewn_length: None,
            }
        })
        .collect();
    let on_grain = |drawn: &Drawn, chance: &mut Chance| {
        let [x, y, z] = body.place(drawn, 0.45);
        stand.seen(x, y, z) + Vec2::new(0.0, chance.normal(1.0))
    };
    // The seams hold the lines apart; what droops comes nearer in the middle.
    let held = |drawn: &Drawn| drawn.at(0.45) + drawn.sag(0.45);
    let plumb = {
        let at = |y: f64, chance: &mut Chance| {
            stand.seen(-0.18 * distance, y, distance) + Vec2::new(chance.normal(1.5), 0.0)
        };
        Level::Plumb(at(500.0 - lens + 500.0, &mut chance), at(100.0 - lens, &mut chance))
    };
    let heels = stand.seen(body.across, -lens, distance + chance.normal(20.0));
    let photo = WornPhoto {
        view: View::Back,
        size: (SIZE.0 as f64, SIZE.1 as f64),
        cut_above: 0.0,
        level: plumb,
        horizon: Horizon::Floor { lens_height: lens + chance.normal(12.0), heels },
        distance: distance * (1.0 + chance.normal(0.015)),
        known: KnownLength {
            upper: ("thigh".into(), LegSeen::Right),
            upper_at: on_grain(&lines[0], &mut chance),
            lower: ("knee".into(), LegSeen::Right),
            lower_at: on_grain(&lines[1], &mut chance),
            length: (held(&lines[0]) - held(&lines[1])) * (1.0 + chance.normal(0.01)),
        },
        lines: traced,
    };
    Case { hangs: hangs(&photo).expect("the photo is read"), lines, followed, edges }
}

#[test]
fn droops_are_within_two_mm_and_within_what_is_stated() {
    let cases: Vec<Case> = (1..=CASES).into_par_iter().map(case).collect();
    let (mut places, mut near, mut covered, mut square) = (0, 0, 0, 0.0);
    let (mut falls_covered, mut lines, mut stated) = (0, 0, 0.0);
    let mut cases_covered = 0;
    for case in &cases {
        let mut whole = true;
        for (hang, drawn) in case.hangs.iter().zip(&case.lines) {
            for s in &hang.stations[1..hang.stations.len() - 1] {
                let off = s.sag.value - drawn.sag(s.share);
                places += 1;
                near += usize::from(off.abs() <= 2.0);
                covered += usize::from(off.abs() <= s.sag.error);
                square += off * off;
                stated += s.sag.error;
            }
            let middle = hang.stations[hang.stations.len() / 2];
            whole &= (middle.sag.value - drawn.droop).abs() <= middle.sag.error;
            // From left to right here, so the first edge falls below the last by −fall.
            falls_covered += usize::from((hang.fall.value + drawn.fall).abs() <= hang.fall.error);
            lines += 1;
        }
        cases_covered += usize::from(whole);
    }
    let share = |n: usize, of: usize| n as f64 / of as f64;
    let followed: usize = cases.iter().map(|c| c.followed).sum();
    println!(
        "{CASES} photos: RMS {:.2} mm, within 2 mm {:.1} %, mean stated ± {:.2} mm, covered {:.1} % of places, middles of both lines covered in {:.1} % of photos, falls covered {:.1} %, lines followed {followed} of {lines}, edges {}",
        (square / places as f64).sqrt(),
        100.0 * share(near, places),
        stated / places as f64,
        100.0 * share(covered, places),
        100.0 * share(cases_covered, cases.len()),
        100.0 * share(falls_covered, lines),
        cases.iter().map(|c| c.edges).sum::<usize>(),
    );
    assert!((square / places as f64).sqrt() <= 1.1);
    // Two standard deviations within 2 mm.
    assert!(share(near, places) >= 0.95);
    assert!(share(covered, places) >= 0.90);
    assert!(share(cases_covered, cases.len()) >= 0.90);
    assert!(share(falls_covered, lines) >= 0.90);
    assert!(share(followed, lines) >= 0.95);
}

#[test]
fn what_cannot_be_read_is_refused_in_words() {
    let line = |name: &str, points: &[(f64, f64)]| TracedLine {
        name: name.into(),
        leg: LegSeen::Left,
        girth: 600.0,
        points: points.iter().map(|p| Point::new(p.0, p.1)).collect(),
        clicks: Vec::new(),
        sigma: 2.0,
        edge_sigma: 2.0,
        pressed: false,
        sewn_length: None,
    };
    let across = |y: f64| [(400.0, y), (500.0, y), (600.0, y)];
    let good = WornPhoto {
        view: View::Back,
        size: (1200.0, 1600.0),
        cut_above: 0.0,
        level: Level::Camera,
        horizon: Horizon::Middle,
        distance: 3000.0,
        known: KnownLength {
            upper: ("thigh".into(), LegSeen::Left),
            upper_at: Point::new(500.0, 400.0),
            lower: ("knee".into(), LegSeen::Left),
            lower_at: Point::new(500.0, 700.0),
            length: 280.0,
        },
        lines: vec![line("thigh", &across(400.0)), line("knee", &across(700.0))],
    };
    let doubts = |photo: &WornPhoto| {
        hangs(photo).expect("it is read")[0]
            .doubts()
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert_eq!(doubts(&good), "");
    // An end that was missed makes the body narrow; a girth that is too small, wide.
    let mut missed = good.clone();
    missed.lines[0].points[0].x += 60.0;
    assert!(doubts(&missed).contains("narrower"), "{}", doubts(&missed));
    let mut slim = good.clone();
    slim.lines[0].girth *= 0.7;
    assert!(doubts(&slim).contains("wider"), "{}", doubts(&slim));
    let refused = |change: &dyn Fn(&mut WornPhoto), says: &str| {
        let mut photo = good.clone();
        change(&mut photo);
        let said = hangs(&photo).unwrap_err().to_string();
        assert!(said.contains(says), "{said}");
    };
    refused(&|p| p.distance = f64::NAN, "distance");
    refused(&|p| p.distance = 10.0, "distance");
    refused(&|p| p.known.length = 0.0, "known length");
    refused(&|p| p.known.lower_at = p.known.upper_at, "lie on each other");
    refused(&|p| p.known.lower.0 = "moon".into(), "moon");
    refused(&|p| p.lines[0].points.truncate(2), "2 places");
    refused(&|p| p.lines[0].points[1].x = 900.0, "go back");
    refused(&|p| p.lines[0].girth = f64::INFINITY, "girth");
    refused(&|p| p.lines[1].girth = 150.0, "round");
    refused(&|p| p.level = Level::Plumb(Point::ZERO, Point::ZERO), "level");
    refused(&|p| std::mem::swap(&mut p.known.upper_at, &mut p.known.lower_at), "no camera");
}
