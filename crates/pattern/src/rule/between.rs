//! Between two other lines of the piece.

use super::written::rule;
use super::{About, Fresh, LineRule, Part, PartValue, Site, ends_on};
use crate::units::Unit;
use crate::{End, PatternError};
use hangtrue_geometry::Chain;

rule! {
    /// Between two other lines of the piece, at a fraction of the way along the
    /// seams that both lines meet; straight between.
    pub struct Between {
        /// The upper or first line.
        pub first: String,
        /// The other line.
        pub second: String,
        /// 0 on the first line, 1 on the second.
        pub fraction: f64,
    }
}

/// A line may hang from lines that hang from lines; a loop ends here.
const DEEPEST: usize = 8;

impl LineRule for Between {
    const ABOUT: About = About {
        name: "Between two lines",
        help: "Between two lines, as a share",
        word: "between",
        form: "{2} from {0} to {1}",
        example: "50% from thigh to knee",
    };

    /// Straight between the fractional places of the two lines on the seams both meet.
    fn placed(&self, site: &Site<'_>) -> Result<Chain, PatternError> {
        if site.depth >= DEEPEST {
            return Err(site.cannot("it hangs from itself"));
        }
        let ends = |line: &str| site.other(line).map(|chain| ends_on(site.piece, &chain));
        let (first, second) = (ends(&self.first)?, ends(&self.second)?);
        let mut points = Vec::new();
        for end in &first {
            let Some(mate) = second.iter().find(|e| e.seam == end.seam) else { continue };
            let seam = site.piece.seam(&end.seam)?;
            let at = end.position + self.fraction * (mate.position - end.position);
            points.push(seam.place(End::Start, at).point);
        }
        match points[..] {
            [p, q, ..] => Ok(Chain::line(p, q)),
            _ => Err(site.cannot("the two lines it lies between do not meet the same two seams")),
        }
    }

    fn sentence(&self, _unit: Unit) -> String {
        let Self { first, second, fraction } = self;
        format!("{:.0} % of the way from the {first} line to the {second} line.", fraction * 100.0)
    }

    fn parts(&mut self) -> Vec<Part<'_>> {
        vec![
            Part::new("from the line", PartValue::Line(&mut self.first)),
            Part::new("to the line", PartValue::Line(&mut self.second)),
            Part::new("How far between the lines", PartValue::Share(&mut self.fraction)),
        ]
    }

    fn fresh(from: &Fresh<'_>) -> Option<Self> {
        let [first, second, ..] = from.lines else { return None };
        Some(Self { first: (*first).into(), second: (*second).into(), fraction: 0.5 })
    }

    fn lines(&self) -> Vec<&str> {
        vec![&self.first, &self.second]
    }
}
