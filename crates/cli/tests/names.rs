//! Names are the maker's own: a number in a name is no length, in whatever unit the
//! project speaks.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::Folder;

const NAME: &str = "10 mm tuck";

#[test]
fn a_pinch_called_by_a_length_keeps_its_name_in_every_verb() {
    let folder = Folder::new("names");
    folder.begin("p.ron");
    folder.good(&["mark", "p.ron", "--usual"]);
    let pin = ["pin", "p.ron", "--name", NAME, "--piece", "back", "--line", "thigh"];
    let pinned = folder.good(&[&pin[..], &["--at", "middle=3/8"]].concat());
    let listed = folder.good(&["list", "p.ron"]);
    // Too much for the path: the refusal names it too.
    let steep = ["pin", "p.ron", "--name", "9 mm tuck", "--piece", "back", "--line", "thigh"];
    let refused = folder.refused(&[&steep[..], &["--at", "middle=20"]].concat());
    let unknown = folder.refused(&["weigh", "p.ron", "11 mm tuck"]);
    let accepted = folder.good(&["accept", "p.ron", NAME, "--by", "top-and-scoop"]);
    let after = folder.good(&["list", "p.ron"]);
    for (said, name) in [
        (&pinned, NAME),
        (&listed, NAME),
        (&refused, "9 mm tuck"),
        (&unknown, NAME),
        (&accepted, NAME),
        (&after, NAME),
    ] {
        assert!(said.contains(name), "{said}");
        assert!(!said.contains("in tuck"), "{said}");
    }
    // Lengths of the engine are in the project's unit all the same.
    assert!(refused.contains(" in within ") && !refused.contains(" mm within"), "{refused}");
}
