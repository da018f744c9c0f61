//! What was found on the card besides its outline: notches cut into it, and lines
//! drawn on it. Each is offered and becomes part of the piece only when asked for.

use super::drawn::DrawnLine;
use super::job::{Place, TraceJob, point};
use super::trace::{piece_pattern, upright};
use super::{PhotoError, Traced};
use hangtrue_geometry::Point;
use hangtrue_pattern::words;
use hangtrue_pattern::words::{Fine, Length, Words};
use serde::{Deserialize, Serialize};

/// What is offered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OfferKind {
    /// A notch cut into the edge.
    Notch {
        /// How wide it is cut, mm.
        width: f64,
        /// How deep, mm.
        depth: f64,
    },
    /// The legs of a dart.
    Dart {
        /// How much the drawn legs differ, mm; they are made equal.
        differ: f64,
    },
    /// The grain.
    Grain {
        /// Whether the head of an arrow was seen on it.
        arrow: bool,
    },
    /// Another line.
    Line,
}

/// Something found on the card.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// What it seems to be.
    pub kind: OfferKind,
    /// Which photo shows it, from 0.
    pub photo: usize,
    /// Where it runs in that photo, pixels.
    pub seen: Vec<Place>,
    /// Where it runs on the table of the first photo, mm: a notch from the edge to
    /// its end, a dart from mouth to point to mouth, a line from end to end.
    pub places: Vec<Point>,
    /// How far it may lie from there, mm (95 in 100), as far as the marks are right:
    /// a notch along the edge, a line to the side.
    pub within: f64,
}

/// What the maker said yes to, by where it is seen: found anew it may have another
/// number.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Taken {
    /// Which photo, from 0.
    #[serde(default)]
    pub photo: usize,
    /// The middle of what is taken, pixels.
    pub at: Place,
}

impl Offer {
    pub(crate) fn drawn(
        line: &DrawnLine,
        (photo, within): (usize, f64),
        sees: &dyn Fn(Point) -> Option<Point>,
    ) -> Option<Self> {
        let (kind, places) = match line {
            DrawnLine::Dart([a, apex, b]) => {
                let differ = (a.distance(*apex) - b.distance(*apex)).abs();
                (OfferKind::Dart { differ }, vec![*a, *apex, *b])
            }
            DrawnLine::Grain([a, b], arrow) => (OfferKind::Grain { arrow: *arrow }, vec![*a, *b]),
            DrawnLine::Line([a, b]) => (OfferKind::Line, vec![*a, *b]),
        };
        let seen = places.iter().map(|p| sees(*p).map(|p| (p.x, p.y))).collect::<Option<_>>()?;
        Some(Self { kind, photo, seen, places, within })
    }

    /// What says yes to it.
    pub fn yes(&self) -> Taken {
        let n = self.seen.len().max(1) as f64;
        let sum = self.seen.iter().fold((0.0, 0.0), |a, p| (a.0 + p.0 / n, a.1 + p.1 / n));
        Taken { photo: self.photo, at: sum }
    }

    /// Whether that was said of it.
    pub fn is_meant_by(&self, taken: &Taken) -> bool {
        /// Found anew it may have moved by so much, pixels.
        const SAME: f64 = 6.0;
        let own = self.yes();
        own.photo == taken.photo && point(own.at).distance(point(taken.at)) <= SAME
    }

    /// Whether another photo shows the same.
    pub(crate) fn is_same(&self, other: &Self) -> bool {
        const SAME: f64 = 4.0;
        let kinds = std::mem::discriminant(&self.kind) == std::mem::discriminant(&other.kind);
        let ends = |turned: bool| {
            let there = other.places.iter();
            let near = |(a, b): (&Point, &Point)| a.distance(*b) < SAME;
            if turned {
                self.places.iter().zip(there.rev()).all(near)
            } else {
                self.places.iter().zip(there).all(near)
            }
        };
        kinds && self.places.len() == other.places.len() && (ends(false) || ends(true))
    }
}

impl Traced {
    /// An offer in words: what it is, where on the piece, and how exactly.
    pub fn offer_words(&self, offer: &Offer) -> Words {
        let at = |p: Point| self.to_piece * p;
        let on_seam = |p: Point| -> Words {
            let piece = self.piece();
            let near = piece.seams.iter().map(|s| (s, s.nearest(at(p))));
            match near.min_by(|a, b| a.1.1.total_cmp(&b.1.1)) {
                Some((seam, (place, _))) => {
                    let (from_start, whole) = (place.position, seam.sewn_length());
                    let (long, end) = if from_start <= whole / 2.0 {
                        (from_start, "start")
                    } else {
                        (whole - from_start, "end")
                    };
                    words!["on the ", &seam.name, ", ", Length(long), " from its ", end]
                }
                None => "on the edge".into(),
            }
        };
        let long = |a: usize, b: usize| Length(offer.places[a].distance(offer.places[b]));
        let about = words![" (± ", Fine(offer.within), ")"];
        match offer.kind {
            OfferKind::Notch { width, depth } => words![
                "a notch ",
                on_seam(offer.places[0]),
                about,
                ", cut ",
                Length(width),
                " wide and ",
                Length(depth),
                " deep; the outline runs straight over it"
            ],
            OfferKind::Dart { differ } => words![
                "a dart, its mouth ",
                on_seam(offer.places[0]),
                " and ",
                long(0, 2),
                " wide, ",
                long(0, 1),
                " long",
                about,
                if differ > 0.5 {
                    words![
                        "; its legs are drawn ",
                        Length(differ),
                        " unlike and are made equal, the edge between them as much"
                    ]
                } else {
                    Words::default()
                }
            ],
            OfferKind::Grain { arrow } => words![
                "the grain, ",
                long(0, 1),
                " long",
                about,
                if arrow {
                    ", with an arrow"
                } else {
                    "; no arrow is seen on it, it only runs along the piece: see whether it is the grain"
                }
            ],
            OfferKind::Line => {
                words!["a line, ", long(0, 1), " long, ", self.lies(offer), about]
            }
        }
    }

    /// How a line lies on the piece.
    fn lies(&self, offer: &Offer) -> String {
        let (a, b) = (self.to_piece * offer.places[0], self.to_piece * offer.places[1]);
        let v = b - a;
        let grain = &self.piece().grain;
        let g = grain.to - grain.from;
        let turn = g.cross(v).atan2(g.dot(v)).to_degrees().abs();
        let turn = turn.min(180.0 - turn);
        if turn < 3.0 {
            "along the grain".to_owned()
        } else if turn > 87.0 {
            "square to the grain".to_owned()
        } else {
            format!("{turn:.0}° from the grain")
        }
    }

    /// The piece with what was said yes to, and without the rest.
    ///
    /// # Errors
    /// [`PhotoError`] when the piece would not be sound, or two grains are taken.
    pub fn with_taken(mut self, taken: &[Taken]) -> Result<Self, PhotoError> {
        let meant = |o: &Offer| taken.iter().any(|t| o.is_meant_by(t));
        let chosen: Vec<Offer> = self.offers.iter().filter(|o| meant(o)).cloned().collect();
        let lost = taken.iter().filter(|t| !self.offers.iter().any(|o| o.is_meant_by(t))).count();
        let mut notes = self.drawing.notes.clone();
        if lost > 0 {
            notes.push(
                format!(
                    "{lost} of the things taken from the card {} not found any more; look at the list again",
                    if lost == 1 { "is" } else { "are" }
                )
                .into(),
            );
        }
        let mut grains = chosen.iter().filter(|o| matches!(o.kind, OfferKind::Grain { .. }));
        let drawn_grain = grains.next().map(|o| lower_first(&o.places));
        if grains.next().is_some() {
            return Err(PhotoError::Asked("two lines are taken as the grain; take one".into()));
        }
        if drawn_grain.is_some() && self.drawing.grain.is_none() {
            notes.push("the grain is taken from the card, its upper end the one further from the lower side of the table; set its ends yourself if the piece stands on its head".into());
        }
        let grain = match (drawn_grain, self.drawing.grain) {
            (Some(_), Some(set)) => {
                notes.push("the grain is the one you set; the line drawn on the card is not taken as the grain".into());
                Some(set)
            }
            (drawn, set) => drawn.or(set),
        };
        self.drawing.taken = taken.to_vec();
        self.to_piece = upright(&self.edges, grain);
        self.pattern = piece_pattern(
            &self.drawing.names(),
            (&self.edges, self.to_piece, grain),
            &chosen,
            &mut notes,
        )?;
        self.notes = notes;
        Ok(self)
    }

    /// Whether an offer is part of the piece.
    pub fn has_taken(&self, offer: &Offer) -> bool {
        self.drawing.taken.iter().any(|t| offer.is_meant_by(t))
    }

    /// Which of the offers, by number from 1 as they are listed.
    ///
    /// # Errors
    /// [`PhotoError::Asked`] for a number that is none of theirs.
    pub fn yes_to(&self, numbers: &[usize]) -> Result<Vec<Taken>, PhotoError> {
        let one = |number: &usize| {
            let offer = number.checked_sub(1).and_then(|i| self.offers.get(i));
            offer.map(Offer::yes).ok_or_else(|| {
                PhotoError::Asked(
                    format!(
                        "there is no number {number} on the card; {} things were found on it",
                        self.offers.len()
                    )
                    .into(),
                )
            })
        };
        numbers.iter().map(one).collect()
    }
}

/// The two ends, the lower first.
fn lower_first(places: &[Point]) -> (Point, Point) {
    let (a, b) = (places[0], places[places.len() - 1]);
    if a.y <= b.y { (a, b) } else { (b, a) }
}

/// What a piece was drawn from, so that it can be drawn anew with more on it.
#[derive(Debug, Clone, Default)]
pub(crate) struct Drawing {
    pub(crate) piece: String,
    pub(crate) seams: Vec<String>,
    pub(crate) grain: Option<(Point, Point)>,
    pub(crate) notes: Vec<Words>,
    /// What was said yes to.
    taken: Vec<Taken>,
}

impl Drawing {
    fn names(&self) -> (String, Vec<String>) {
        (self.piece.clone(), self.seams.clone())
    }

    pub(crate) fn of(job: &TraceJob, grain: Option<(Point, Point)>, notes: &[Words]) -> Self {
        let (piece, seams) = (job.piece.clone(), job.seams.clone());
        Self { piece, seams, grain, notes: notes.to_vec(), taken: Vec::new() }
    }
}
