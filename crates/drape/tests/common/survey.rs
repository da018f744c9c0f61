//! The bodies of the survey sample with their breadths and depths.
#![allow(dead_code)]

use hangtrue_drape::body::Breadths;
use hangtrue_pattern::Measures;
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
