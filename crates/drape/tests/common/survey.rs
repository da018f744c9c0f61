//! The bodies of the survey sample with their breadths and depths.
#![allow(dead_code)]

use hangtrue_adjust::{Change, MarkLine, UsualDepths, usual_lines};
use hangtrue_drape::body::Breadths;
use hangtrue_pattern::{Measures, Pattern, Plan, draft};
use hangtrue_tests::bodies::bodies_with;

/// Number, measures, breadths and depths.
pub fn survey() -> Vec<(String, Measures, Breadths)> {
    let columns = ["waistbreadth", "waistdepth", "hipbreadth", "buttockdepth"];
    let with_breadths = |(
        number,
        measures,
        [waist_breadth, waist_depth, hip_breadth, hip_depth],
    ): (_, _, [_; 4])| {
        (number, measures, Breadths { waist_breadth, waist_depth, hip_breadth, hip_depth })
    };
    bodies_with(columns).into_iter().map(with_breadths).collect()
}

/// A block with its usual lines; none where it cannot be drafted or marked.
pub fn marked_block(measures: &Measures) -> Option<Pattern> {
    let mut pattern = draft(measures, &Plan::default()).ok()?.pattern;
    for line in usual_lines(&pattern, UsualDepths::default()).ok()? {
        pattern = Change::MarkLine(MarkLine { line }).apply(&pattern).ok()?.pattern;
    }
    Some(pattern)
}
