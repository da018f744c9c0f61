//! Beginning a project without a file of measures, and naming one that is not there.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // helpers of tests may stop a test

use crate::common::Folder;

#[test]
fn a_form_is_written_filled_in_and_begun_with_the_words_it_gives() {
    let folder = Folder::new("begin-form");
    let said = folder.good(&["begin", "my.ron", "--unit", "cm"]);
    assert!(said.contains("my.measures.ron"), "{said}");
    let form = folder.read("my.measures.ron");
    for word in ["waist_girth: \"\"", "inside_leg_height: \"\"", "// knee_girth: \"\"", "78 cm"] {
        assert!(form.contains(word), "{word}:\n{form}");
    }
    assert!(!folder.path("my.ron").exists());

    // Not filled in, the measure that lacks is named.
    let begin = said.split("then: hangtrue ").nth(1).unwrap().trim().to_owned();
    let begin: Vec<&str> = begin.split(' ').collect();
    let refused = folder.hangtrue(&begin);
    let complaint = String::from_utf8(refused.stderr).unwrap();
    assert!(!refused.status.success() && complaint.contains("waist girth"), "{complaint}");

    // A form that is there is not written over; it may be filled in already.
    let refused = folder.hangtrue(&["begin", "my.ron"]);
    assert!(!refused.status.success());
    assert_eq!(folder.read("my.measures.ron"), form);

    let mut filled = form;
    for (key, value) in [
        ("waist_girth", "78 cm"),
        ("hip_girth", "102 cm"),
        ("waist_height", "104 cm"),
        ("inside_leg_height", "78 cm"),
        ("crotch_length", "67 cm"),
    ] {
        filled = filled.replace(&format!("    {key}: \"\""), &format!("    {key}: \"{value}\""));
    }
    folder.write("my.measures.ron", filled);
    folder.good(&begin);
    assert!(folder.good(&["draft", "my.ron"]).contains("cm"));
}

#[test]
fn a_project_that_is_not_there_is_told_how_to_begin() {
    let folder = Folder::new("begin-missing");
    let refused = folder.hangtrue(&["draft", "new.ron"]);
    let complaint = String::from_utf8(refused.stderr).unwrap();
    assert!(complaint.contains("hangtrue begin new.ron"), "{complaint}");
    assert!(!folder.path("new.ron").exists());
}
