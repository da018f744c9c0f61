//! A reference line pulled by hand: the number of its rule by which it comes to pass
//! through a place.

use hangtrue_geometry::Point;
use hangtrue_pattern::rule::Pulled;
use hangtrue_pattern::{Pattern, ReferenceLine, Rule};

/// The line passes the place this near, mm: a tenth of what a tape shows.
const NEAR: f64 = 0.05;
/// Steps of the search; a line moves nearly as its number does, so a few are enough.
const STEPS: usize = 12;
/// The first step of the search, mm.
const FIRST: f64 = 1.0;

/// The one length a line is moved by, if its rule has one.
pub fn pulled_length(rule: &Rule) -> Option<f64> {
    Some(match rule.clone().pulled()? {
        Pulled::Length(length) => *length,
        Pulled::Place(at) => at.distance,
    })
}

/// The rule with another such length.
#[must_use]
pub fn with_pulled_length(rule: &Rule, length: f64) -> Rule {
    let mut rule = rule.clone();
    match rule.pulled() {
        Some(Pulled::Length(own)) => *own = length,
        Some(Pulled::Place(at)) => at.distance = length,
        None => {}
    }
    rule
}

/// The length by which the line passes through the place, mm, found by the secant
/// method; none when its rule has no such length, or the line cannot come there.
pub fn length_through(pattern: &Pattern, line: &ReferenceLine, to: Point) -> Option<f64> {
    let mut trial = pattern.clone();
    let mut off = |length: f64| -> Option<f64> {
        let rule = with_pulled_length(&line.rule, length);
        trial.lines.retain(|l| l.piece != line.piece || l.name != line.name);
        trial.lines.push(ReferenceLine { rule, last: None, cloth: None, ..line.clone() });
        let chain = trial.place_chain(&line.piece, &line.name).ok()?;
        let nearest = chain.nearest(to);
        Some(nearest.direction.cross(to - nearest.point))
    };
    let mut before = pulled_length(&line.rule)?;
    let mut off_before = off(before)?;
    if off_before.abs() < NEAR {
        return Some(before);
    }
    let mut now = before + FIRST;
    for _ in 0..STEPS {
        let off_now = off(now)?;
        if off_now.abs() < NEAR {
            return Some(now);
        }
        let slope = (off_now - off_before) / (now - before);
        (before, off_before) = (now, off_now);
        now -= off_now / slope;
        if !now.is_finite() {
            return None;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{UsualDepths, sample, usual_lines};
    use hangtrue_geometry::Vec2;

    /// Every usual line of the sample is pulled 12 mm down, and passes there.
    #[test]
    fn a_line_comes_to_pass_where_it_is_pulled() {
        let mut pattern = sample::pattern();
        pattern.lines = usual_lines(&pattern, UsualDepths::default()).unwrap().into();
        let mut pulled = 0;
        for line in pattern.lines.clone().iter() {
            let chain = pattern.place_chain(&line.piece, &line.name).unwrap();
            let to = chain.point_at(chain.length() * 0.4) - Vec2::new(0.0, 12.0);
            let Some(length) = length_through(&pattern, line, to) else {
                assert!(pulled_length(&line.rule).is_none(), "{}", line.name);
                continue;
            };
            let mut moved = pattern.clone();
            moved.lines.retain(|l| l.piece != line.piece || l.name != line.name);
            let rule = with_pulled_length(&line.rule, length);
            moved.lines.push(ReferenceLine { rule, last: None, cloth: None, ..line.clone() });
            let chain = moved.place_chain(&line.piece, &line.name).unwrap();
            let nearest = chain.nearest(to);
            assert!(nearest.distance < 0.1, "{}", line.name);
            pulled += 1;
        }
        assert!(pulled >= 4, "{pulled}");
    }
}
