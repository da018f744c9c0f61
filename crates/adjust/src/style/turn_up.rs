//! Turn-up: the hem is folded up over the outside of the leg.

use super::{AboutStyle, Look};
use crate::corrections::bench::Bench;
use crate::{ChangeError, FlatMeasure};
use hangtrue_geometry::{Chain, Line, PathSeg, Vec2};
use hangtrue_pattern::InnerLine;
use hangtrue_pattern::names::{BACK, CROTCH, FRONT, HEM, INSEAM, SIDE, TURN_UP, WAIST};
use serde::{Deserialize, Serialize};

/// Turn-up: the hem is folded up over the outside of the leg. The leg itself stays; the line
/// where the turn-up ends is drawn on it, and the pieces to cut get the cloth for it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TurnUp {
    /// Height, mm.
    pub amount: f64,
}

impl Look for TurnUp {
    const ABOUT: AboutStyle = AboutStyle {
        name: "turn-up",
        what: "folds the hem up over the outside of the leg",
        amount: "height of the turn-up",
        effect: "Draws the line on back and front up to which the hem is turned; nothing is moved. The pieces to cut run on below the hem by twice the height, folded to and fro as the leg runs.",
        range: (15.0, 80.0),
        usual: (40.0, 1.5),
        without_amount: false,
        second: None,
    };

    fn with(amount: f64) -> Self {
        Self { amount }
    }

    fn work(&self, bench: &mut Bench<'_>) -> Result<(), ChangeError> {
        for name in [BACK, FRONT] {
            let piece = bench.piece_mut(name)?;
            let hem = piece.seam(HEM)?;
            let is_straight =
                hem.parts.len() == 1 && matches!(hem.parts[0].segments(), [PathSeg::Line(_)]);
            if !is_straight {
                return Err(ChangeError::HemNotStraight { piece: name.to_owned() });
            }
            // Parallel to the hem, from edge to edge.
            let up = Vec2::new(0.0, self.amount);
            let (a, b) = (hem.start() + up, hem.end() + up);
            let line = Line::new(a, b);
            let on = |seam: &str| -> Result<_, ChangeError> {
                let near = |p: &hangtrue_geometry::Point| p.distance(a).min(p.distance(b));
                let met = piece.seam(seam)?.crossings_with_line(line).into_iter().map(|c| c.point);
                Ok(met.min_by(|p, q| near(p).total_cmp(&near(q))))
            };
            let ends = (on(INSEAM)?.unwrap_or(a), on(SIDE)?.unwrap_or(b));
            piece.inner.retain(|line| line.name != TURN_UP);
            let chain = Chain::line(ends.0, ends.1);
            piece.inner.push(InnerLine { name: TURN_UP.to_owned(), chain });
            bench.promise(name, &[WAIST, CROTCH, SIDE, INSEAM, HEM]);
        }
        bench.promise_measure(FlatMeasure::HipOnPaper);
        Ok(())
    }
}
