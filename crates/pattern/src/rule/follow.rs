//! Along a seam as it is sewn: everywhere equally far from it with its darts closed.

use super::written::rule;
use super::{About, Fresh, LineRule, Part, PartValue, Site};
use crate::units::{Unit, show_length};
use crate::{PatternError, Seam};
use hangtrue_geometry::words;
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{Chain, Line, Point, tolerance};

rule! {
    /// Everywhere equally far from a seam as it is sewn. Beside a dart's legs the line
    /// breaks off at one and goes on at the other, so that it runs on when the dart is
    /// closed; below a dart's point it turns there a little, as the paper does.
    pub struct Follow {
        /// The seam it follows, the waist as a rule.
        pub seam: String,
        /// The distance from it, mm.
        pub distance: f64,
    }
}

/// How much longer than twice its distance a stretch is drawn at either end before it is
/// cut, mm.
const REACH: f64 = 50.0;

/// The line on the flat paper up to which a stretch beside a dart is drawn: the leg, or
/// below the dart's point the middle between the legs.
fn limit(seam: &Seam, dart: usize, leg: Point, distance: f64) -> Line {
    let apex = seam.darts[dart].apex;
    if leg.distance(apex) >= distance {
        return Line::new(leg, apex);
    }
    let mouth = seam.parts[dart].end().midpoint(seam.parts[dart + 1].start());
    Line::new(mouth, apex)
}

impl Follow {
    /// What lies so far from one sewn part, from dart to dart; its free ends run on.
    fn stretch(&self, site: &Site<'_>, seam: &Seam, index: usize) -> Result<Chain, PatternError> {
        let said = |why| site.said(why);
        let part = &seam.parts[index];
        let reach = self.distance.abs() * 2.0 + REACH;
        let long = part
            .offset(self.distance * site.piece.orientation())
            .and_then(|c| c.lengthened(reach))
            .and_then(|c| c.reversed().lengthened(reach))
            .map_err(said)?
            .reversed();
        // Where it meets the limit beside a dart: the crossing nearest to the part's own end.
        let at = |line: Line, own: f64| {
            let crossings = long.crossings_with_line(line).into_iter().map(|c| c.here);
            crossings.min_by(|a, b| (a - own).abs().total_cmp(&(b - own).abs())).ok_or_else(|| {
                site.cannot(words![
                    Length(self.distance),
                    " from the ",
                    &seam.name,
                    " two of its darts lie too near each other"
                ])
            })
        };
        let length = long.length();
        let from = match index.checked_sub(1) {
            Some(dart) => at(limit(seam, dart, part.start(), self.distance), reach)?,
            None => 0.0,
        };
        let to = match seam.darts.get(index) {
            Some(_) => at(limit(seam, index, part.end(), self.distance), length - reach)?,
            None => length,
        };
        long.part(from, to).map_err(said)
    }
}

impl LineRule for Follow {
    const ABOUT: About = About {
        name: "Along a seam as sewn",
        help: "Along a seam, so far from it everywhere with its darts closed",
        word: "follow",
        form: "{0} from {1}",
        example: "120 mm from waist",
    };

    /// The stretches along the sewn parts, laid end to end over the darts' folds.
    fn placed(&self, site: &Site<'_>) -> Result<Chain, PatternError> {
        let seam = site.piece.seam(&self.seam)?;
        let said = |why| site.said(why);
        let mut whole = self.stretch(site, seam, 0)?;
        for index in 1..seam.parts.len() {
            let next = self.stretch(site, seam, index)?;
            if whole.end().distance(next.start()) > tolerance::SAME_POINT {
                let fold = Chain::line(whole.end(), next.start());
                whole = whole.then(&fold).map_err(said)?;
            }
            whole = whole.then(&next).map_err(said)?;
        }
        site.within(&whole)?.ok_or_else(|| {
            let far = Length(self.distance);
            site.cannot(words![far, " from the ", &seam.name, " there is no cloth"])
        })
    }

    fn sentence(&self, unit: Unit) -> String {
        let far = show_length(self.distance, unit);
        format!("{far} from the {} everywhere, as it is sewn with its darts closed.", self.seam)
    }

    fn parts(&mut self) -> Vec<Part<'_>> {
        vec![
            Part::new("Away by", PartValue::Length(&mut self.distance)),
            Part::new("seam", PartValue::Seam(&mut self.seam)),
        ]
    }

    fn fresh(from: &Fresh<'_>) -> Option<Self> {
        Some(Self { seam: from.seam(0)?, distance: from.near })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Measures, Pattern, Plan, Purpose, ReferenceLine, draft, names};
    use hangtrue_geometry::Affine;

    fn marked(distance: f64) -> (Pattern, Chain) {
        let body: Measures =
            ron::from_str(include_str!("../../../../assets/demo/measures.ron")).unwrap();
        let mut pattern = draft(&body, &Plan::default()).unwrap().pattern;
        pattern.lines.push(ReferenceLine {
            name: "along".into(),
            piece: names::BACK.into(),
            rule: Follow { seam: names::WAIST.into(), distance }.into(),
            purpose: Purpose::Cloth("to be read".into()),
            last: None,
            cloth: None,
        });
        let chain = pattern.chain_by_rule(names::BACK, "along").unwrap();
        (pattern, chain)
    }

    /// With the dart turned shut about its point the line goes on without a step: the
    /// piece beyond the dart is turned as paper is, independent of how the line was made.
    #[test]
    fn closed_the_line_runs_on_over_every_dart_above_its_point() {
        let (pattern, chain) = marked(60.0);
        let waist = pattern.piece(names::BACK).unwrap().seam(names::WAIST).unwrap();
        assert!(!waist.darts.is_empty());
        for (index, dart) in waist.darts.iter().enumerate() {
            let legs = [waist.parts[index].end(), waist.parts[index + 1].start()];
            let on_leg = |leg: Point| {
                let crossings = chain.crossings_with_line(Line::new(leg, dart.apex));
                let near = |p: Point| (p.distance(leg) - 60.0).abs();
                crossings
                    .into_iter()
                    .map(|c| c.point)
                    .min_by(|a, b| near(*a).total_cmp(&near(*b)))
                    .unwrap()
            };
            let shut = (legs[0] - dart.apex).atan2() - (legs[1] - dart.apex).atan2();
            let turn = Affine::rotate_about(shut, dart.apex);
            let step = (turn * on_leg(legs[1])).distance(on_leg(legs[0]));
            assert!(step < 0.01, "dart {index}: {step}");
        }
    }

    /// Every place lies so far from the nearest sewn part, below the points of the darts too.
    #[test]
    fn it_is_everywhere_equally_far_from_the_sewn_waist() {
        for distance in [60.0, 200.0] {
            let (pattern, chain) = marked(distance);
            let waist = pattern.piece(names::BACK).unwrap().seam(names::WAIST).unwrap();
            let longest =
                (0..waist.darts.len()).map(|i| waist.leg_lengths(i).0).fold(0.0, f64::max);
            let mut seen = 0;
            for i in 0..=200 {
                let p = chain.point_at(chain.length() * f64::from(i) / 200.0);
                let folded = |index: usize| {
                    let (a, b) = (waist.parts[index].end(), waist.parts[index + 1].start());
                    let apex = waist.darts[index].apex;
                    (a - apex).cross(p - apex).signum() != (b - apex).cross(p - apex).signum()
                        && (p - apex).dot(a - apex) > 0.0
                };
                if distance < longest && (0..waist.darts.len()).any(folded) {
                    continue;
                }
                let far = waist.parts.iter().map(|part| part.nearest(p).distance);
                let off = far.fold(f64::INFINITY, f64::min) - distance;
                // Beside the ends of the waist the line runs on straight to the outline.
                if i > 20 && i < 180 {
                    assert!(off.abs() < 0.01, "{distance}: {off} at {i}");
                    seen += 1;
                }
            }
            assert!(seen > 100, "{seen}");
        }
    }
}
