//! What an installed program brings along: every file is there, says what it should,
//! and is made from the same arguments as the help.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // helpers of tests may stop a test

use crate::common;
use crate::common::Folder;

#[test]
fn everything_is_put_where_the_system_looks() {
    let folder = Folder::new("set-up");
    let said = folder.good(&["set-up", "--share", "share"]);
    let verbs = folder.good(&["--help"]);
    for (place, word) in [
        ("icons/hicolor/scalable/apps/hangtrue.svg", "<svg"),
        ("applications/hangtrue.desktop", "Exec=hangtrue %f"),
        ("mime/packages/hangtrue.xml", "// A Hangtrue project."),
        ("bash-completion/completions/hangtrue", "begin"),
        ("zsh/site-functions/_hangtrue", "#compdef hangtrue"),
        ("fish/vendor_completions.d/hangtrue.fish", "begin"),
        ("man/man1/hangtrue.1", "Fits trousers to one real body"),
        ("man/man1/hangtrue-begin.1", "file of measures"),
        ("doc/hangtrue/LICENSE-MIT", "Permission is hereby granted"),
        ("doc/hangtrue/LICENSE-APACHE", "Apache License"),
        ("doc/hangtrue/OFL-Lato.txt", "Lato"),
        ("doc/hangtrue/OFL-Vollkorn.txt", "Vollkorn"),
    ] {
        let text = folder.read(&format!("share/{place}"));
        assert!(text.contains(word), "{place} lacks “{word}”");
        assert!(said.contains(place), "{place} is told");
    }
    assert!(verbs.contains("set-up") && verbs.contains("licences"));
    // A project file begins as the file type says.
    folder.good(&["begin", "p.ron", "--measures", &common::asset("assets/demo/measures.ron")]);
    assert!(folder.read("p.ron").starts_with("// A Hangtrue project."));
    // Again is no failure: what is there is ours.
    folder.good(&["set-up", "--share", "share"]);
}

#[test]
fn the_licences_of_code_and_fonts_are_shown() {
    let folder = Folder::new("licences");
    let said = folder.good(&["licences"]);
    for word in ["Permission is hereby granted", "Apache License", "Lato", "Vollkorn"] {
        assert!(said.contains(word), "{word}");
    }
}

/// In a person's own home the menu names the program in full: a menu does not know where
/// a shell finds programs.
#[test]
fn the_menu_entry_of_a_home_names_the_program_in_full() {
    let folder = Folder::new("set-up-home");
    let home = folder.0.join("home");
    let program = env!("CARGO_BIN_EXE_hangtrue");
    let set_up = std::process::Command::new(program)
        .arg("set-up")
        .env_remove("XDG_DATA_HOME")
        .env("HOME", &home)
        .output()
        .unwrap();
    assert!(set_up.status.success(), "{}", String::from_utf8_lossy(&set_up.stderr));
    let entry = folder.read("home/.local/share/applications/hangtrue.desktop");
    let started = entry.lines().find_map(|l| l.strip_prefix("Exec=\"")).unwrap();
    let (place, file) = started.split_once('"').unwrap();
    assert_eq!((place, file), (program, " %f"));
}
