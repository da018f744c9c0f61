//! Tracing through the real binary: nothing is changed until it is accepted, and
//! then by one change that can be taken back; what cannot be used is said so.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::Folder;

/// A trouser leg of straight sides, in pixels, 1 mm each; invented.
const LEG: [(f64, f64); 6] =
    [(390.0, 80.0), (590.0, 90.0), (610.0, 300.0), (560.0, 840.0), (400.0, 840.0), (275.0, 330.0)];

/// Whether a point lies in the leg: its sides crossed by a ray.
fn in_leg(x: f64, y: f64) -> bool {
    (0..LEG.len()).fold(false, |inside, i| {
        let (a, b) = (LEG[i], LEG[(i + 1) % LEG.len()]);
        let crosses = (a.1 > y) != (b.1 > y) && x < (b.0 - a.0) * (y - a.1) / (b.1 - a.1) + a.0;
        inside != crosses
    })
}

/// A scan of a dark card on a grey table with an A4 sheet beside it.
fn photo(folder: &Folder, name: &str) {
    let (width, height) = (700u32, 900u32);
    let tone = |x: f64, y: f64| {
        if in_leg(x, y) {
            40.0
        } else if (40.0..250.0).contains(&x) && (300.0..597.0).contains(&y) {
            250.0
        } else {
            160.0
        }
    };
    let mut pixels = Vec::new();
    for y in 0..height {
        for x in 0..width {
            let mut sum = 0.0;
            for k in 0..16 {
                let (dx, dy) = (f64::from(k % 4), f64::from(k / 4));
                sum += tone(f64::from(x) + (dx + 0.5) / 4.0, f64::from(y) + (dy + 0.5) / 4.0);
            }
            pixels.extend([(sum / 16.0) as u8; 3]);
        }
    }
    image::save_buffer(folder.path(name), &pixels, width, height, image::ColorType::Rgb8).unwrap();
}

const SHEET: &str = "42,598 249,596 251,299 39,301";

fn asked<'a>(more: &[&'a str]) -> Vec<&'a str> {
    let said = [
        "trace",
        "card.png",
        "--lens",
        "scanner",
        "--sheet",
        "A4",
        "--marks",
        SHEET,
        "--card",
        "480,400",
        "--grain",
        "480,800 480,200",
    ];
    said.into_iter().chain(more.iter().copied()).collect()
}

#[test]
fn a_traced_piece_is_taken_in_only_when_accepted() {
    let folder = Folder::new("trace");
    photo(&folder, "card.png");
    let looked = folder.good(&asked(&["--look", "look.png", "--save-job", "job.ron"]));
    for word in ["corner 1", "RMS", "Expect the outline within", "Nothing was written", "inseam "] {
        assert!(looked.contains(word), "{word} in {looked}");
    }
    assert!(image::open(folder.path("look.png")).unwrap().width() == 700);
    let straight = folder.good(&asked(&["--straight", "straight.png"]));
    assert!(straight.contains("mm a pixel"), "{straight}");
    // A scan of 1 mm a pixel is as large as it was, and says how large that is.
    let above = image::open(folder.path("straight.png")).unwrap();
    assert!(above.width().abs_diff(700) < 40 && above.height().abs_diff(900) < 40);
    let again = folder.hangtrue(&asked(&["--straight", "card.png"]));
    assert_eq!(again.status.code(), Some(1), "the photo itself is not written over");
    folder.good(&asked(&["--start", "new.ron"]));
    assert!(!folder.path("new.ron").exists());
    folder.good(&asked(&["--start", "new.ron", "--accept"]));
    assert!(folder.good(&["walk", "new.ron"]).contains("crotch"), "the piece has its seams");

    folder.begin("p.ron");
    let before = folder.read("p.ron");
    folder.good(&asked(&["--into", "p.ron"]));
    assert_eq!(folder.read("p.ron"), before);
    let done = folder.good(&asked(&["--into", "p.ron", "--accept"]));
    assert!(done.contains("one change"), "{done}");
    folder.good(&["edit", "p.ron", "digitised card.png", "--remove"]);
    assert_eq!(folder.read("p.ron"), before, "taken back by one step");

    let json = folder.json(&["trace", "job.ron", "--job", "--json"]);
    assert!(json["expected_rms_mm"].as_f64().unwrap() < 3.0, "{json}");
    // The side from (590, 90) over (610, 300) to (560, 840) is straight in parts:
    // its corners are flat, and its length is that of its sides.
    let truth = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).hypot(a.1 - b.1);
    let seams = json["pattern"]["pieces"][0]["seams"].as_array().unwrap();
    let hem = seams.iter().find(|s| s["name"] == "hem").unwrap();
    let steps = hem["parts"][0]["steps"].as_array().unwrap();
    assert_eq!(steps.len(), 1, "a straight hem is one line: {hem}");
    let start = &hem["parts"][0]["start"];
    let end = &steps[0]["Line"];
    let at = |v: &serde_json::Value| (v[0].as_f64().unwrap(), v[1].as_f64().unwrap());
    let length = truth(at(start), at(end));
    assert!((length - truth(LEG[3], LEG[4])).abs() < 0.6, "{length}");
}

#[test]
fn what_cannot_be_traced_is_said_and_nothing_is_written() {
    let folder = Folder::new("trace-wrong");
    photo(&folder, "card.png");
    folder.write("words.png", "no picture");
    folder.write("bad.ron", "(photos: [], colour: 1)");
    let before = folder.content();
    let base = ["trace", "card.png"];
    for (more, word) in [
        (&[][..], "--sheet"),
        (&["--marks", SHEET][..], "--places"),
        (&["--sheet", "B9", "--marks", SHEET][..], "no sheet"),
        (&["--sheet", "A4", "--marks", "1,1 2,2"][..], "four corners"),
        (&["--sheet", "A4", "--marks", "1;1"][..], "no place"),
        (&["--sheet", "A4", "--marks", "9,9 900,9 9,90 90,90"][..], "outside"),
        (
            &["--places", "0,0 1,0 2,0 3,0", "--as-pointed", "--marks", "9,9 19,9 29,9 39,9"][..],
            "one line",
        ),
        (&["--places", "0,0 1,0", "--marks", "9,9"][..], "one for each"),
        (&["--grid", "50 mm", "--crossings", "0,0.5", "--marks", "9,9"][..], "whole lines"),
        (&["--sheet", "A4", "--marks", SHEET, "--accept"][..], "--start"),
        (&["--sheet", "A4", "--marks", SHEET, "--start", "card.png", "--replace"][..], "made from"),
    ] {
        let output = folder.hangtrue(&[&base[..], more].concat());
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(1), "{more:?}: {said}");
        assert!(said.contains(word), "{more:?}: {word} in {said}");
    }
    for args in [
        &["trace", "words.png", "--sheet", "A4", "--marks", SHEET][..],
        &["trace", "nowhere.png", "--sheet", "A4", "--marks", SHEET][..],
        &["trace", "bad.ron", "--job"][..],
    ] {
        let output = folder.hangtrue(args);
        assert_eq!(output.status.code(), Some(1), "{args:?}");
        assert!(output.stderr.len() > 40, "{args:?}");
    }
    assert_eq!(folder.content(), before);
}
