//! How far two colours stand apart for the eye: W3C Web Content Accessibility Guidelines
//! 2.2, “relative luminance” and “contrast ratio”.

/// The contrast ratio of two colours, red, green and blue of 0 to 255: from 1 to 21.
pub fn contrast(a: [u8; 3], b: [u8; 3]) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// Relative luminance, from 0 to 1.
fn luminance([red, green, blue]: [u8; 3]) -> f64 {
    let part = |v: u8| {
        let v = f64::from(v) / 255.0;
        if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * part(red) + 0.7152 * part(green) + 0.0722 * part(blue)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Black on white is 21 to 1 by the guidelines' own definition; a colour on itself 1.
    #[test]
    fn the_guidelines_ends() {
        assert!((contrast([0; 3], [255; 3]) - 21.0).abs() < 1e-12);
        assert!((contrast([90, 120, 3], [90, 120, 3]) - 1.0).abs() < 1e-12);
    }
}
