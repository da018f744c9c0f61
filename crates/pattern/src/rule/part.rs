//! What a rule hangs from, part by part: shown, chosen, pointed at, pulled, mirrored and
//! renamed without knowing the rule.

use super::Rule;
use crate::{End, Place, SeamPlace};
use hangtrue_geometry::Point;

/// One thing a rule hangs from, or one of its numbers.
#[derive(Debug, PartialEq)]
pub struct Part<'a> {
    /// What it is to the rule, in words: "first seam".
    pub label: &'static str,
    /// The thing itself.
    pub value: PartValue<'a>,
}

/// What a part can be.
#[derive(Debug, PartialEq)]
pub enum PartValue<'a> {
    /// A corner, a place on a seam, the point of a dart.
    Place(&'a mut Place),
    /// A place on a seam and no other.
    SeamPlace(&'a mut SeamPlace),
    /// A seam, and the end from which is measured along it.
    SeamFrom(&'a mut (String, End)),
    /// A seam.
    Seam(&'a mut String),
    /// Another line of the piece.
    Line(&'a mut String),
    /// A length, mm.
    Length(&'a mut f64),
    /// A share of the way, 0 to 1.
    Share(&'a mut f64),
}

/// The one number a line is pulled by.
#[derive(Debug, PartialEq)]
pub enum Pulled<'a> {
    /// A length of the rule, mm: more lies further from what it hangs from.
    Length(&'a mut f64),
    /// The place on a seam it hangs from.
    Place(&'a mut SeamPlace),
}

impl<'a> Part<'a> {
    pub(super) fn new(label: &'static str, value: PartValue<'a>) -> Self {
        Self { label, value }
    }
}

impl PartValue<'_> {
    /// Whether it can be pointed at on the table: a corner or a seam.
    pub fn is_on_outline(&self) -> bool {
        match self {
            Self::Place(_) | Self::SeamPlace(_) | Self::SeamFrom(_) | Self::Seam(_) => true,
            Self::Line(_) | Self::Length(_) | Self::Share(_) => false,
        }
    }
}

impl Rule {
    /// The one number the line is pulled by; none for a line held in two places.
    pub fn pulled(&mut self) -> Option<Pulled<'_>> {
        let mut parts = self.parts();
        let lengths = parts.iter().filter(|p| matches!(p.value, PartValue::Length(_))).count();
        match lengths {
            1 => parts.into_iter().find_map(|p| match p.value {
                PartValue::Length(length) => Some(Pulled::Length(length)),
                _ => None,
            }),
            0 if parts.len() == 1 => match parts.pop()?.value {
                PartValue::Place(Place::Seam(at)) | PartValue::SeamPlace(at) => {
                    Some(Pulled::Place(at))
                }
                _ => None,
            },
            _ => None,
        }
    }

    /// The seam names it hangs from.
    pub fn seams(&mut self) -> Vec<&mut String> {
        self.parts().into_iter().filter_map(seam_of).collect()
    }

    /// The corner names it hangs from.
    pub fn corners(&mut self) -> Vec<&mut String> {
        self.places()
            .filter_map(|p| if let Place::Corner(c) = p { Some(c) } else { None })
            .collect()
    }

    /// The points of the paper it hangs from, mm.
    pub(crate) fn points(&mut self) -> Vec<&mut Point> {
        self.places().filter_map(|p| if let Place::Point(p) = p { Some(p) } else { None }).collect()
    }

    fn places(&mut self) -> impl Iterator<Item = &mut Place> {
        self.parts().into_iter().filter_map(|part| match part.value {
            PartValue::Place(place) => Some(place),
            _ => None,
        })
    }
}

fn seam_of(part: Part<'_>) -> Option<&mut String> {
    match part.value {
        PartValue::Place(Place::Seam(at)) | PartValue::SeamPlace(at) => Some(&mut at.seam),
        PartValue::SeamFrom((seam, _)) | PartValue::Seam(seam) => Some(seam),
        PartValue::Place(_) | PartValue::Line(_) | PartValue::Length(_) | PartValue::Share(_) => {
            None
        }
    }
}
