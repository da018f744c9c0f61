//! A project whose pattern comes out otherwise than when it was saved: told by every verb,
//! and kept beside before a verb saves over it.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::Folder;

#[test]
fn a_pattern_that_comes_out_otherwise_is_told_and_kept_before_it_is_saved_over() {
    let folder = Folder::new("otherwise");
    folder.begin("p.ron");
    let list = folder.hangtrue(&["list", "p.ron"]);
    assert!(list.status.success() && list.stderr.is_empty(), "as it was saved: nothing is told");
    // As if another Hangtrue had drawn one place two millimetres aside.
    let text = folder.read("p.ron");
    let (project, drawn) = text.split_once("\n  drawn: Some(").unwrap();
    let at = drawn.find("apex: (").unwrap() + "apex: (".len();
    let number = drawn[at..].find("x: ").unwrap() + at + 3;
    let end = drawn[number..].find(',').unwrap() + number;
    let x: f64 = drawn[number..end].trim().parse().unwrap();
    let other = format!("{}{}{}", &drawn[..number], x + 2.0, &drawn[end..]);
    let written = format!("{project}\n  drawn: Some({other}");
    folder.write("p.ron", &written);
    let looked = folder.hangtrue(&["list", "p.ron"]);
    let told = String::from_utf8_lossy(&looked.stderr).into_owned();
    assert!(looked.status.success() && told.contains("differs from the saved one"), "{told}");
    assert!(told.contains("waist of"), "{told}");
    assert_eq!(folder.read("p.ron"), written, "a look changes nothing");
    let marked = folder.hangtrue(&["mark", "p.ron", "--usual"]);
    let told = String::from_utf8_lossy(&marked.stderr).into_owned();
    assert!(marked.status.success() && told.contains("p (as it was saved).ron"), "{told}");
    // What was saved is in the file beside, to the last digit; here today's goes on.
    let kept = folder.read("p (as it was saved).ron");
    let same = |number: f64| kept.contains(&format!("x: {number}"));
    assert!(same(x + 2.0) && !same(x), "{x}");
    let again = folder.hangtrue(&["list", "p.ron"]);
    assert!(again.stderr.is_empty(), "{}", String::from_utf8_lossy(&again.stderr));
}
