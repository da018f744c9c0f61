//! Bringing in and sending out through the real binary: nothing is changed until
//! it is accepted, and then by one change that can be taken back.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::{Folder, asset};

fn begun(name: &str) -> Folder {
    let folder = Folder::new(name);
    let measures = asset("assets/demo/measures.ron");
    folder.good(&["begin", "p.ron", "--measures", &measures, "--title", "Trousers"]);
    folder
}

#[test]
fn what_is_sent_out_is_brought_in_only_when_accepted() {
    let folder = begun("exchange");
    for (file, more) in [
        ("out.svg", &[][..]),
        ("out.dxf", &[][..]),
        ("plain.dxf", &["--form", "plain", "--allowance", "15 mm", "--hem-allowance", "40 mm"][..]),
    ] {
        let said = folder.good(&[&["send", "p.ron", "--out", file], more].concat());
        assert!(said.contains("true mm"), "{said}");
        let before = folder.read("p.ron");

        let looked = folder.good(&["bring", file]);
        for word in ["1 in the file is", "Kept:", "back:", "front:", "Nothing was written"] {
            assert!(looked.contains(word), "{file}: {word} in {looked}");
        }
        let tried = folder.good(&["bring", file, "--into", "p.ron"]);
        assert!(tried.contains("was not changed"), "{tried}");
        folder.good(&["bring", file, "--start", "new.ron", "--replace"]);
        assert_eq!(folder.read("p.ron"), before);
        assert!(!folder.path("new.ron").exists());

        folder.good(&["bring", file, "--start", "new.ron", "--accept"]);
        assert!(folder.good(&["walk", "new.ron"]).contains("inseam"));
        std::fs::remove_file(folder.path("new.ron")).unwrap();

        let done = folder.good(&["bring", file, "--into", "p.ron", "--name", "card", "--accept"]);
        assert!(done.contains("one change"), "{done}");
        let listed = folder.good(&["list", "p.ron"]);
        assert!(listed.contains("Bring in back 2, front 2"), "{listed}");
        folder.good(&["edit", "p.ron", "card", "--remove"]);
        assert_eq!(folder.read("p.ron"), before, "taken back by one step");

        folder.good(&["bring", file, "--into", "p.ron", "--replace-pieces", "--accept"]);
        let listed = folder.good(&["list", "p.ron"]);
        assert!(listed.contains("Bring in back, front"), "{listed}");
        folder.good(&["print", "p.ron", "--out", "p.pdf", "--replace"]);
        folder.write("p.ron", before);
    }
}

#[test]
fn a_file_without_a_unit_asks_and_a_known_length_answers() {
    let folder = begun("exchange-unit");
    // Invented numbers.
    folder.write(
        "shape.svg",
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 90 90'>\
         <path id='ruler' d='M0 80 H40'/><rect id='patch' x='5' y='5' width='60' height='70'/>\
         <image href='picture.png' width='4' height='4'/></svg>",
    );
    let asked = folder.hangtrue(&["bring", "shape.svg"]);
    assert!(!asked.status.success());
    assert!(String::from_utf8_lossy(&asked.stderr).contains("--unit"));
    let known = ["bring", "shape.svg", "--known-length", "4 in", "--known-line", "ruler"];
    let said = folder.good(&[&known[..], &["--picture", "look.svg"]].concat());
    // 40 in the file are 4 in: the patch is 6 in by 7 in.
    assert!(said.contains("152 mm by 178 mm"), "{said}");
    assert!(said.contains("Not kept:") && said.contains("a picture"), "{said}");
    assert!(folder.read("look.svg").contains("mm"));
    let json = folder.good(&[&known[..], &["--json"]].concat());
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert!((json["scale_mm"].as_f64().unwrap() - 2.54).abs() < 1e-9);
    assert_eq!(json["not_kept"][0]["count"], 1);
}

#[test]
fn large_prints_pass_an_outside_check() {
    let folder = begun("exchange-print");
    for (more, says) in [
        (&["--layout", "pieces"][..], "one a piece"),
        (&["--layout", "projector"][..], "outer frame"),
        (&["--layout", "projector", "--inverted", "--line", "3 mm", "--grid", "none"][..], "frame"),
    ] {
        let said =
            folder.good(&[&["print", "p.ron", "--out", "p.pdf", "--replace"], more].concat());
        assert!(said.contains(says), "{said}");
        let checked = std::process::Command::new("qpdf")
            .args(["--check"])
            .arg(folder.path("p.pdf"))
            .output()
            .unwrap();
        assert!(checked.status.success(), "{}", String::from_utf8_lossy(&checked.stdout));
    }
    let refused = folder.hangtrue(&[
        "print",
        "p.ron",
        "--out",
        "q.pdf",
        "--layout",
        "projector",
        "--line",
        "40 mm",
    ]);
    assert!(!refused.status.success());
    assert!(String::from_utf8_lossy(&refused.stderr).contains("10.0 mm"));
}
