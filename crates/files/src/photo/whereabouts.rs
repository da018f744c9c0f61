//! Where a place lies in a photo, in words.

use hangtrue_geometry::Point;

/// “in the photo's upper left, near 117, 82 pixels”.
pub(crate) fn whereabouts(at: Point, (width, height): (f64, f64)) -> String {
    let third = |v: f64, side: f64| (3.0 * v / side.max(1.0)).clamp(0.0, 2.9) as usize;
    let place = match (third(at.y, height), third(at.x, width)) {
        (0, 0) => "in the photo's upper left",
        (0, 1) => "at the photo's top",
        (0, _) => "in the photo's upper right",
        (1, 0) => "at the photo's left",
        (1, 1) => "in the middle of the photo",
        (1, _) => "at the photo's right",
        (_, 0) => "in the photo's lower left",
        (_, 1) => "at the photo's bottom",
        _ => "in the photo's lower right",
    };
    format!("{place}, near {:.0}, {:.0} pixels", at.x, at.y)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_told_by_thirds_of_the_photo() {
        let told = |x, y| whereabouts(Point::new(x, y), (900.0, 600.0));
        assert_eq!(told(117.2, 82.0), "in the photo's upper left, near 117, 82 pixels");
        assert!(told(450.0, 300.0).starts_with("in the middle"));
        assert!(told(899.0, 599.9).starts_with("in the photo's lower right"));
    }
}
