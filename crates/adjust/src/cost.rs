//! What a change costs on the body: how far the garment goes round it at hip, thigh and
//! knee before and after, and how much of its ease is left.

use hangtrue_geometry::{Line, Point};
use hangtrue_pattern::measures::{Measure, Measures};
use hangtrue_pattern::units::{Unit, show_length};
use hangtrue_pattern::{
    Leg, Pattern, Piece, names, words,
    words::{Length, Words},
};
use serde::Serialize;

/// A place round the body.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum GirthAt {
    /// Both pieces twice, level with the hip notch.
    Hip,
    /// One leg, level with the crotch point.
    Thigh,
    /// One leg, level with the knee notch.
    Knee,
}

impl GirthAt {
    /// All of them, from the top.
    pub const ALL: [Self; 3] = [Self::Hip, Self::Thigh, Self::Knee];

    fn name(self) -> &'static str {
        match self {
            Self::Hip => "hip",
            Self::Thigh => "thigh",
            Self::Knee => "knee",
        }
    }

    /// The measure of the body there.
    fn measure(self) -> Measure {
        match self {
            Self::Hip => Measure::HipGirth,
            Self::Thigh => Measure::ThighGirth,
            Self::Knee => Measure::KneeGirth,
        }
    }
}

/// A girth of the garment before and after a change, mm.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cost {
    /// Where.
    pub place: GirthAt,
    /// The leg, when left and right have pieces of their own and it is of one leg.
    pub leg: Option<&'static str>,
    /// Before.
    pub before: f64,
    /// After.
    pub after: f64,
    /// The body there, when it was measured.
    pub body: Option<f64>,
}

/// A girth that changes by less than this is not told, mm.
const TOLD: f64 = 1.0;

/// More than this share of the ease is warned of (our own choice).
const MUCH: f64 = 1.0 / 3.0;

impl Cost {
    /// Whether more than a third of the ease goes.
    pub fn takes_much(&self) -> bool {
        self.body.is_some_and(|body| {
            let ease = self.before - body;
            ease > 0.0 && self.before - self.after > MUCH * ease
        })
    }

    /// Whether the garment is smaller than the body there: in cloth that does not stretch it
    /// will not go on.
    pub fn is_too_small(&self) -> bool {
        self.body.is_some_and(|body| self.after < body)
    }

    /// Where: `hip`, or `thigh, left leg`.
    pub fn of(&self) -> String {
        let whose = self.leg.map_or_else(String::new, |leg| format!(", {leg} leg"));
        format!("{}{whose}", self.place.name())
    }

    /// The ease before and after, mm, when the body was measured there.
    pub fn ease(&self) -> Option<(f64, f64)> {
        self.body.map(|body| (self.before - body, self.after - body))
    }

    /// A row of a table in the maker's unit: where, before, after, the ease left.
    pub fn row(&self, unit: Unit) -> [String; 4] {
        let shown = |mm| show_length(mm, unit);
        let left = self.ease().map_or("not measured".into(), |(_, left)| shown(left));
        [self.of(), shown(self.before), shown(self.after), left]
    }

    /// The cost in a few words, for a row of a list: `hip ease 40 mm → 20 mm`.
    pub fn short(&self) -> Words {
        match self.ease() {
            Some((before, after)) => {
                words![format!("{} ease ", self.of()), Length(before), " → ", Length(after)]
            }
            None => words![self.of(), " ", Length(self.before), " → ", Length(self.after)],
        }
    }

    /// The cost in words.
    pub fn words(&self) -> Words {
        let round = words![
            format!("Round the {}: ", self.of()),
            Length(self.before),
            " → ",
            Length(self.after)
        ];
        let Some((before, after)) = self.ease() else {
            return words![round, "; the body is not measured there, so its ease is not known."];
        };
        let ease = words![round, ", ease ", Length(before), " → ", Length(after), "."];
        if self.is_too_small() {
            return words![
                ease,
                " It is then ",
                Length(-after),
                " smaller than the body: in cloth that does not stretch it will not go on. Give width back there before it is cut."
            ];
        }
        if self.takes_much() {
            words![
                ease,
                " That is more than a third of the ease: let the wearer sit in it before it is cut."
            ]
        } else {
            ease
        }
    }
}

/// The girths that a change of the pattern changes.
pub fn costs(before: &Pattern, after: &Pattern, body: Option<&Measures>) -> Vec<Cost> {
    let legs: &[Option<Leg>] =
        if before.is_apart() { &[Some(Leg::Left), Some(Leg::Right)] } else { &[None] };
    let mut costs = Vec::new();
    for place in GirthAt::ALL {
        let whole = [None];
        for leg in if place == GirthAt::Hip { &whole[..] } else { legs } {
            let pair = girth(before, place, *leg).zip(girth(after, place, *leg));
            let Some((before, after)) = pair else { continue };
            if (after - before).abs() >= TOLD {
                let body = body.and_then(|b| b.get_or_derived(place.measure()));
                costs.push(Cost { place, leg: leg.map(Leg::word), before, after, body });
            }
        }
    }
    costs
}

/// How far the garment goes round there, mm; none on a pattern without back and front,
/// or without the notch the place goes by.
fn girth(pattern: &Pattern, place: GirthAt, leg: Option<Leg>) -> Option<f64> {
    let width = |base: &str, leg: Leg| {
        let of_leg = pattern.piece_for(leg, base).unwrap_or(base);
        width_of(pattern.piece(of_leg).ok()?, place)
    };
    let round_leg = |leg| Some(width(names::BACK, leg)? + width(names::FRONT, leg)?);
    match (place, leg) {
        (GirthAt::Hip, _) => Some(round_leg(Leg::Left)? + round_leg(Leg::Right)?),
        (_, Some(leg)) => round_leg(leg),
        (_, None) => round_leg(Leg::Right),
    }
}

/// The width of a piece there, square to its grain, mm.
fn width_of(piece: &Piece, place: GirthAt) -> Option<f64> {
    let across = |through: Point| Line::new(through, through + piece.grain.square());
    match place {
        GirthAt::Hip => piece.width_along(across(notch(piece, "hip")?)),
        GirthAt::Knee => piece.width_along(across(notch(piece, "knee")?)),
        GirthAt::Thigh => {
            let point = piece.corner(names::CROTCH_POINT).ok()?;
            let met = piece.seam(names::SIDE).ok()?.crossings_with_line(across(point));
            Some(met.first()?.point.distance(point))
        }
    }
}

/// Where a notch of the side seam lies.
fn notch(piece: &Piece, name: &str) -> Option<Point> {
    let notch = piece.notches.iter().find(|n| n.name == name && n.seam == names::SIDE)?;
    Some(piece.seam(names::SIDE).ok()?.place(notch.from, notch.distance).point)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Change, Correction, Document, Replay};
    use hangtrue_pattern::units::Unit;
    use hangtrue_pattern::words::InUnit;
    use hangtrue_pattern::{Plan, draft};

    /// A body of our own invention.
    fn body() -> Measures {
        let mut body = Measures::default();
        for (measure, mm) in [
            (Measure::WaistGirth, 760.0),
            (Measure::HipGirth, 980.0),
            (Measure::CrotchLength, 690.0),
            (Measure::ThighGirth, 570.0),
            (Measure::KneeGirth, 380.0),
            (Measure::WaistHeight, 1030.0),
            (Measure::HipHeight, 830.0),
            (Measure::InsideLegHeight, 760.0),
        ] {
            body.set(measure, mm);
        }
        body
    }

    #[test]
    fn a_fresh_block_goes_round_by_what_it_was_drafted_to() {
        let draft = draft(&body(), &Plan::default()).unwrap();
        let thigh = girth(&draft.pattern, GirthAt::Thigh, None).unwrap();
        assert!((thigh - draft.report.thigh.drafted).abs() < 1e-6);
        let knee = girth(&draft.pattern, GirthAt::Knee, None).unwrap();
        assert!((knee - draft.report.knee.drafted).abs() < 0.5, "{knee}");
        let hip = girth(&draft.pattern, GirthAt::Hip, None).unwrap();
        assert!((hip - draft.report.hip.drafted).abs() < 8.0, "{hip}");
    }

    #[test]
    fn what_is_taken_is_told_with_the_ease_left_and_warned_of() {
        let mut document = Document::from_measures("t", "c", Unit::Mm, body(), Plan::default());
        let correction = Correction::named("full outer thigh", -12.0).unwrap();
        document.push("narrower", Change::Correct(correction));
        let replay = Replay::new(document);
        let (before, after) = (replay.start().unwrap(), replay.current().unwrap());
        let found = costs(before, after, Some(&body()));
        assert!(!found.is_empty(), "{found:?}");
        for cost in &found {
            let said = cost.words().in_unit(Unit::Mm);
            assert!(said.contains("ease") && said.contains('→'), "{said}");
        }
        assert!(costs(before, before, Some(&body())).is_empty());
        let much = Cost {
            place: GirthAt::Hip,
            leg: None,
            before: 1020.0,
            after: 1005.0,
            body: Some(980.0),
        };
        assert!(much.takes_much() && much.words().in_unit(Unit::Mm).contains("more than a third"));
        let little = Cost { after: 1010.0, ..much.clone() };
        assert!(!little.takes_much());
        let unknown = Cost { body: None, ..much };
        assert!(unknown.words().in_unit(Unit::Mm).contains("not measured there"));
    }
}
