//! The lay at the command: what `--json` tells is added up here from its own parts, and a
//! search told alike finds alike.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // helpers of tests may stop a test

use crate::common::Folder;
use serde_json::Value;

const FIND: [&str; 9] =
    ["lay", "p.ron", "--find", "--rounds", "30", "--seed", "1", "--seconds", "120"];

fn number(of: &Value, name: &str) -> f64 {
    of[name].as_f64().unwrap_or_else(|| panic!("no {name} in {of}"))
}

#[test]
fn what_is_told_of_a_lay_adds_up() {
    let folder = Folder::new("lay-json");
    folder.begin("p.ron");
    folder.good(&["cut", "p.ron", "--set", "finished", "--waist", "band"]);
    let told = folder.json(&[&FIND[..], &["--width", "140 cm", "--json"]].concat());
    assert_eq!(told["wrong"].as_array().unwrap().len(), 0, "{told}");
    let (width, length) = (number(&told, "width"), number(&told, "length"));
    assert!((width - 1400.0).abs() < 1e-9);
    let laid = told["laid"].as_array().unwrap();
    let mut end: f64 = 0.0;
    for piece in laid {
        let across = number(piece, "across");
        assert!(across > 0.0 && across + number(piece, "wide") < width, "{piece}");
        end = end.max(number(piece, "along") + number(piece, "long"));
    }
    assert!((end - length).abs() < 1e-9, "the cloth ends where the last piece does: {end}");
    let bought = number(&told, "bought");
    assert!(bought >= length && bought < length + 127.0, "bought by the eighth of a yard");
    // The pieces' areas as the cutting plan tells them.
    let cut = folder.json(&["cut", "p.ron", "--json"]);
    let areas = cut["pieces"].as_array().unwrap().iter().map(|piece| {
        let copies = laid.iter().filter(|l| l["piece"] == piece["name"]);
        number(piece, "area_mm2") * copies.map(|l| number(l, "pieces_cut")).sum::<f64>()
    });
    let filled = areas.sum::<f64>() / (length * width);
    assert!((filled - number(&told, "filled")).abs() < 1e-6, "{filled} of {told}");
    let again = folder.json(&[&FIND[..], &["--json"]].concat());
    assert_eq!(again, told, "the same number and seed");
}

#[test]
fn a_piece_put_over_another_is_told_and_put_right_again() {
    let folder = Folder::new("lay-hand");
    folder.begin("p.ron");
    let told = folder.json(&[&FIND[..], &["--json"]].concat());
    let of = |name: &str| {
        let laid = told["laid"].as_array().unwrap();
        laid.iter().find(|l| l["piece"] == name && l["copy"] == 1).unwrap().clone()
    };
    let (back, front) = (of("back"), of("front"));
    let put = |piece: &Value| {
        let (x, y) = (number(piece, "along"), number(piece, "across"));
        format!("back={x} mm, {y} mm")
    };
    let over = folder.json(&["lay", "p.ron", "--put", &put(&front), "--json"]);
    let wrong = over["wrong"].to_string();
    assert!(wrong.contains("back") && wrong.contains("front"), "{wrong}");
    let list = folder.good(&["lay", "p.ron", "--list"]);
    assert!(list.contains("to be put right"), "{list}");
    let right = folder.json(&["lay", "p.ron", "--put", &put(&back), "--json"]);
    assert_eq!(right["wrong"].as_array().unwrap().len(), 0, "{right}");
    let said = folder.refused(&["lay", "p.ron", "--put", "sleeve=0, 0"]);
    assert!(said.contains("sleeve") && said.contains("back"), "{said}");
}

/// Each cloth loses what is said of it: the lining of a lay is so much longer, the cloth of the
/// trousers stays, and "as-cloth" takes it back.
#[test]
fn every_cloth_is_cut_for_its_own_loss() {
    let folder = Folder::new("lay-loss");
    folder.begin("p.ron");
    folder.good(&["cut", "p.ron", "--set", "finished", "--lining", "yes"]);
    let of = |cloth: &'static str, more: &[&'static str]| {
        let told = folder.json(&[&FIND[..], &["--of", cloth, "--json"], more].concat());
        let laid = told["laid"].as_array().unwrap();
        let back = laid.iter().find(|l| {
            // A lining of another loss is a piece of its own.
            let named = l["piece"] == "back" || l["piece"] == "back lining";
            named && l["copy"] == 1
        });
        let back = back.unwrap();
        [number(back, "long"), number(back, "wide")]
    };
    let [long, wide] = of("cloth", &[]);
    assert_eq!(of("lining", &[]), [long, wide], "as the cloth, where nothing is said");
    let [longer, narrower] = of("lining", &["--shrinks-length", "4", "--shrinks-width", "-2,5 %"]);
    assert!((longer * 0.96 - long).abs() < 0.1 && (narrower * 1.025 - wide).abs() < 0.1);
    assert_eq!(of("cloth", &[]), [long, wide], "the cloth loses nothing");
    let list = folder.good(&["lay", "p.ron", "--list"]);
    assert!(list.contains("lining") && list.contains("shrinks 4 % in length"), "{list}");
    let cut = folder.good(&["cut", "p.ron"]);
    assert!(cut.contains("Cut for lining that shrinks 4 % in length"), "{cut}");
    assert!(!cut.contains("Cut for cloth") && !cut.contains("Cut for interfacing"), "{cut}");
    let said = folder.refused(&["lay", "p.ron", "--of", "lining", "--shrinks-length", "much"]);
    assert!(said.contains("“much” is no percentage"), "{said}");
    let said = folder.refused(&["lay", "p.ron", "--of", "lining", "--shrinks-length", "70"]);
    assert!(said.contains("lining") && said.contains("25"), "{said}");
    assert_eq!(of("lining", &["--shrinks-length", "as-cloth"]), [long, wide]);
    let said = folder.refused(&["lay", "p.ron", "--shrinks-length", "as-cloth"]);
    assert!(said.contains("lining, interfacing or pocketing"), "{said}");
}
