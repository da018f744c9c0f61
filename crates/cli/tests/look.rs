//! The loop of a fitting through the real binary: a photo of the worn toile with a
//! planted surplus under the seat is read, the reading proposes it, it is taken, and
//! in a photo of the next toile the lines hang level.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::Folder;
use hangtrue_adjust::worn::{LegSeen, Stand, girth_at, length_along_grain};
use hangtrue_adjust::{Replay, home_shapes};
use hangtrue_files::project::load;
use hangtrue_geometry::Point;
use hangtrue_pattern::Pattern;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

const DISTANCE: f64 = 3000.0;
const LENS: f64 = 1000.0;
/// Height of the thigh line above the floor, mm.
const THIGH: f64 = 740.0;
/// 3/8 in: the planted surplus, mm.
const SURPLUS: f64 = 9.525;
/// The reading shall come this near to it: 1/16 in, mm.
const NEAR: f64 = 1.5875;

fn camera() -> Stand {
    Stand { centre: Point::new(900.0, 1200.0), focal: 4000.0, roll: 0.01, tilt: 0.12 }
}

fn seen(p: [f64; 3]) -> String {
    let p = camera().seen(p[0], p[1], p[2]);
    format!("(x: {:.2}, y: {:.2})", p.x, p.y)
}

/// Writes the table of what a ruler shows of the same toile, to 2 mm.
fn by_ruler(folder: &Folder, file: &str, surplus: f64) {
    let pattern = pattern(folder);
    let mut table = "line,view,leg,at,droop,error\n".to_owned();
    for line in ["hip balance", "thigh", "knee"] {
        for share in [0.0, 0.5, 1.0] {
            let left = if line == "thigh" { surplus * (PI * share).sin().powi(2) } else { 0.0 };
            let droop = at_home(&pattern, line, share) + left;
            table += &format!("{line},back,both,{:.0}%,{droop:.2} mm,2 mm\n", 100.0 * share);
        }
    }
    folder.write(file, table);
}

/// How far a line of the back hangs below its place at the side on a toile that fits,
/// at a share of its length from the inner end, mm.
fn at_home(pattern: &Pattern, line: &str, share: f64) -> f64 {
    let shapes = home_shapes(pattern);
    let shape = shapes.iter().find(|s| s.line == line && s.piece == "back").unwrap();
    shape.below_side(share)
}

/// The share from the inner end at a share of what is seen from the left: the wearer's
/// left leg stands at the left of a back view, its inseam at its right edge.
fn from_inner(leg: &str, share: f64) -> f64 {
    match leg {
        "left" => 1.0 - share,
        "right" => share,
        _ => (2.0 * share - 1.0).abs(),
    }
}

/// A round body with a line on it: its middle across, girth, height above the
/// floor, and droop by the share from the inner end, mm. Clicks from its left edge to
/// its right.
fn line(
    name: &str,
    leg: &str,
    (across, girth): (f64, f64),
    height: f64,
    droop: impl Fn(f64) -> f64,
) -> String {
    let radius = girth / TAU;
    // A body hides its own half: what is seen ends where the sight touches it.
    let open = FRAC_PI_2 - (radius / across.hypot(DISTANCE)).asin();
    let turn = -across.atan2(DISTANCE);
    let mut clicks: Vec<String> = (0..=16)
        .map(|i| {
            let share = f64::from(i) / 16.0;
            let angle = turn + open * (2.0 * share - 1.0);
            let y = height - LENS - droop(from_inner(leg, share));
            seen([across + radius * angle.sin(), y, DISTANCE - radius * angle.cos()])
        })
        .collect();
    // The left leg stands at the left: its inseam is its right edge.
    if leg == "left" {
        clicks.reverse();
    }
    format!("(name: \"{name}\", leg: {leg}, points: [{}]),\n", clicks.join(", "))
}

/// The marks on a photo of the toile of a pattern, with a surplus under the seat.
fn marks(pattern: &Pattern, surplus: f64) -> String {
    let round = |name, leg| girth_at(pattern, name, leg).unwrap();
    let down = |lower| length_along_grain(pattern, "back", "thigh", lower).unwrap();
    let hip = THIGH + down("hip balance");
    let knee = THIGH - down("knee");
    let thigh = |leg| round("thigh", leg);
    let mut lines = String::new();
    for (leg, seen, across) in [("left", LegSeen::Left, -110.0), ("right", LegSeen::Right, 110.0)] {
        let at =
            |share: f64| at_home(pattern, "thigh", share) + surplus * (PI * share).sin().powi(2);
        lines += &line("thigh", leg, (across, thigh(seen)), THIGH, at);
        let at = |share: f64| at_home(pattern, "knee", share);
        lines += &line("knee", leg, (across, round("knee", seen)), knee, at);
    }
    let at = |share: f64| at_home(pattern, "hip balance", share);
    lines += &line("hip balance", "both", (0.0, round("hip balance", LegSeen::Both)), hip, at);
    let on_grain = |name, height: f64| {
        let radius = round(name, LegSeen::Left) / TAU;
        seen([-110.0, height - LENS, DISTANCE - radius])
    };
    format!(
        "(size: Some((1800, 2400)), view: back, level: plumb({}, {}),\n\
         horizon: floor(lens_height: {LENS:.1}, heels: {}), distance: {DISTANCE:.1},\n\
         known: (upper: (\"thigh\", left), upper_at: {}, lower: (\"knee\", left), lower_at: {}),\n\
         lines: [\n{lines}])",
        seen([-600.0, 500.0, DISTANCE]),
        seen([-600.0, -800.0, DISTANCE]),
        seen([0.0, -LENS, DISTANCE]),
        on_grain("thigh", THIGH - surplus - at_home(pattern, "thigh", 0.5)),
        on_grain("knee", knee - at_home(pattern, "knee", 0.5)),
    )
}

fn pattern(folder: &Folder) -> Pattern {
    let replay = Replay::new(load(&folder.path("p.ron")).unwrap());
    (**replay.current().unwrap()).clone()
}

#[test]
fn a_surplus_under_the_seat_is_read_from_a_photo_taken_and_gone() {
    let folder = Folder::new("look");
    folder.begin("p.ron");
    folder.good(&["mark", "p.ron", "--usual"]);
    folder.write("worn.ron", marks(&pattern(&folder), SURPLUS));
    let said = folder.good(&["look", "p.ron", "worn.ron", "--out", "droops.csv"]);
    assert!(said.contains("thigh (left leg, back)") && said.contains("±"), "{said}");
    let json = folder.json(&["look", "p.ron", "worn.ron", "--json"]);
    for hang in json["hangs"].as_array().unwrap() {
        let pattern = pattern(&folder);
        let at = |share: f64| at_home(&pattern, hang["line"].as_str().unwrap(), share);
        let planted = match hang["line"].as_str().unwrap() {
            "hip balance" => at(0.0),
            "thigh" => SURPLUS + at(0.5) - 0.5 * at(0.0),
            _ => at(0.5) - 0.5 * at(0.0),
        };
        let middle = &hang["stations"][4]["sag"];
        let (value, error) = (middle["value"].as_f64().unwrap(), middle["error"].as_f64().unwrap());
        assert!((value - planted).abs() < NEAR && (value - planted).abs() < error, "{hang}");
    }

    // Clicks without a picture leave too much open for 3/8 in: nothing is named as sure.
    let meant = folder.json(&["reading", "p.ron", "droops.csv", "--json"]);
    for meaning in meant["meanings"].as_array().unwrap() {
        assert_eq!(meaning["sure"], false, "{meaning}");
    }
    // What the photo showed is measured again by ruler, and then it is named.
    by_ruler(&folder, "droops.csv", SURPLUS);
    let meant = folder.json(&["reading", "p.ron", "droops.csv", "--json"]);
    let first = &meant["meanings"][0];
    assert_eq!(first["rule"], "surplus length under the seat", "{meant}");
    assert!((first["amount"].as_f64().unwrap() - SURPLUS).abs() < NEAR, "{first}");
    let taken = folder.good(&["reading", "p.ron", "droops.csv", "--take", "1"]);
    assert!(taken.contains("Took"), "{taken}");
    assert!(folder.good(&["list", "p.ron"]).contains("top and scoop"));

    // The next toile, cut from the changed pattern, has no surplus.
    folder.write("next.ron", marks(&pattern(&folder), 0.0));
    folder.good(&["look", "p.ron", "next.ron", "--out", "next.csv"]);
    by_ruler(&folder, "next.csv", 0.0);
    let level = folder.json(&["reading", "p.ron", "next.csv", "--json"]);
    assert!(level["meanings"].as_array().unwrap().is_empty(), "{level}");
}

#[test]
fn marks_that_cannot_be_are_said_in_words() {
    let folder = Folder::new("look-wrong");
    folder.begin("p.ron");
    folder.good(&["mark", "p.ron", "--usual"]);
    let good = marks(&pattern(&folder), 0.0);
    for (wrong, says) in [
        (good.replace("size: Some((1800, 2400)), ", ""), "neither a picture"),
        (good.replace("distance: 3000.0", "distance: 30.0"), "distance"),
        (good.replace("name: \"knee\"", "name: \"moon\""), "moon"),
        (good.replace("view: back", "view: above"), "line 1"),
        (good.replace("size: Some((1800, 2400))", "picture: Some(\"gone.png\")"), "gone.png"),
        (good[..good.len() / 2].to_owned(), "line"),
    ] {
        folder.write("worn.ron", &wrong);
        let said = folder.hangtrue(&["look", "p.ron", "worn.ron"]);
        let error = String::from_utf8_lossy(&said.stderr).into_owned();
        assert!(!said.status.success() && error.contains(says), "{says}: {error}");
        assert!(error.starts_with("hangtrue: ") && error.trim().lines().count() == 1, "{error}");
    }
}

#[test]
fn what_is_read_is_drawn_over_the_picture() {
    use hangtrue_files::photo::Picture;
    let folder = Folder::new("look-picture");
    folder.begin("p.ron");
    folder.good(&["mark", "p.ron", "--usual"]);
    let good = marks(&pattern(&folder), SURPLUS);
    folder.write("worn.ron", &good);
    let said = folder.hangtrue(&["look", "p.ron", "worn.ron", "--picture", "out.png"]);
    let error = String::from_utf8_lossy(&said.stderr).into_owned();
    assert!(!said.status.success() && error.contains("no picture to draw on"), "{error}");

    // A picture without any line: the clicks are taken as they are, and it is said.
    let plain = Picture::from_pixels(1800, 2400, vec![150; 3 * 1800 * 2400]).unwrap();
    folder.write("back.png", hangtrue_files::worn::as_png(&plain).unwrap());
    folder
        .write("worn.ron", good.replace("size: Some((1800, 2400))", "picture: Some(\"back.png\")"));
    let said = folder.good(&["look", "p.ron", "worn.ron", "--picture", "out.png"]);
    assert!(said.contains("no dark line shows"), "{said}");
    let drawn = Picture::open(&folder.path("out.png")).unwrap();
    assert_eq!((drawn.width(), drawn.height()), (900, 1200), "at most 2000 pixels long");
    let changed = drawn.pixels().iter().filter(|v| v.abs_diff(150) > 40).count();
    assert!(changed > 2000, "{changed} bytes are drawn over");
}
