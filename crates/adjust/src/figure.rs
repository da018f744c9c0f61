//! What is known of a body's figure beyond its taped measures: kept with the project for
//! how the toile will hang, and read by nothing else.

use crate::usual::is_usual;
use hangtrue_pattern::Measures;
use serde::{Deserialize, Serialize};

/// Breadths and depths of the torso, mm, where they were taken.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Breadths {
    /// Side to side at the waist.
    pub waist_breadth: Option<f64>,
    /// Front to back at the waist.
    pub waist_depth: Option<f64>,
    /// Side to side at the hip.
    pub hip_breadth: Option<f64>,
    /// Front to back at the fullest seat.
    pub hip_depth: Option<f64>,
}

/// What a tape does not say about a body, mm; all nought for none. Measures are
/// still met.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Handles {
    /// The seat stands out further (a flat seat: below nought).
    pub seat: f64,
    /// The seat's fullest place lies lower.
    pub low_seat: f64,
    /// The front stands out between waist and hip.
    pub tummy: f64,
    /// The back of the waist lies further in.
    pub sway: f64,
    /// The sides stand out between waist and hip.
    pub high_hip: f64,
    /// The hips stand further forward over the feet.
    pub forward_pelvis: f64,
    /// The thighs stand out further in front.
    pub thigh_front: f64,
    /// The knees are nearer together (bow legs: below nought).
    pub knock_knee: f64,
    /// The wearer's right hip lies lower than the left.
    pub lower_side: f64,
}

/// One handle, for lists, fields and options.
#[derive(Debug, Clone, Copy)]
pub struct Handle {
    /// The word by which the command is asked for it.
    pub word: &'static str,
    /// Its name beside a field.
    pub name: &'static str,
    /// What more of it means, and less than nought.
    pub means: &'static str,
    /// How it is named where it is refused.
    pub refused: &'static str,
    /// The most it may be, either way, mm. Ours.
    pub most: f64,
    /// Where it is kept.
    pub of: fn(&mut Handles) -> &mut f64,
}

/// All handles, in the order of the list.
pub const HANDLES: [Handle; 9] = [
    Handle {
        word: "seat",
        name: "Full seat",
        means: "the seat stands out further; minus: a flat seat",
        refused: "a seat",
        most: 40.0,
        of: |h| &mut h.seat,
    },
    Handle {
        word: "low-seat",
        name: "Low seat",
        means: "the fullest place of the seat lies lower; minus: higher",
        refused: "a low seat",
        most: 60.0,
        of: |h| &mut h.low_seat,
    },
    Handle {
        word: "tummy",
        name: "Tummy",
        means: "the front stands out between waist and hip; minus: lies in",
        refused: "a tummy",
        most: 60.0,
        of: |h| &mut h.tummy,
    },
    Handle {
        word: "sway",
        name: "Sway back",
        means: "the back of the waist lies further in; minus: less far in",
        refused: "a sway",
        most: 40.0,
        of: |h| &mut h.sway,
    },
    Handle {
        word: "high-hip",
        name: "High hip",
        means: "the sides stand out between waist and hip; minus: lie in",
        refused: "a high hip",
        most: 40.0,
        of: |h| &mut h.high_hip,
    },
    Handle {
        word: "thigh-front",
        name: "Full front thigh",
        means: "the thighs stand out further in front; minus: less far",
        refused: "a thigh front",
        most: 40.0,
        of: |h| &mut h.thigh_front,
    },
    Handle {
        word: "knock-knee",
        name: "Knock knee",
        means: "the knees are nearer together; minus: bow legs",
        refused: "a knock knee",
        most: 60.0,
        of: |h| &mut h.knock_knee,
    },
    Handle {
        word: "forward-pelvis",
        name: "Forward pelvis",
        means: "the hips stand further forward over the feet; minus: further back",
        refused: "a forward pelvis",
        most: 80.0,
        of: |h| &mut h.forward_pelvis,
    },
    Handle {
        word: "lower-side",
        name: "Lower right side",
        means: "the wearer’s right hip and waist lie lower than the left; minus: the left lie lower",
        refused: "a lower side",
        most: 40.0,
        of: |h| &mut h.lower_side,
    },
];

/// One breadth or depth, for fields and options.
#[derive(Debug, Clone, Copy)]
pub struct Breadth {
    /// The word by which the command is asked for it.
    pub word: &'static str,
    /// Its name beside a field.
    pub name: &'static str,
    /// How it is named where it is refused.
    pub refused: &'static str,
    /// Least and most it may be, mm. Ours.
    pub limits: (f64, f64),
    /// Where it is kept.
    pub of: fn(&mut Breadths) -> &mut Option<f64>,
}

/// All breadths and depths.
pub const BREADTHS: [Breadth; 4] = [
    Breadth {
        word: "waist-breadth",
        name: "Waist breadth",
        refused: "a waist breadth",
        limits: (120.0, 900.0),
        of: |b| &mut b.waist_breadth,
    },
    Breadth {
        word: "waist-depth",
        name: "Waist depth",
        refused: "a waist depth",
        limits: (80.0, 900.0),
        of: |b| &mut b.waist_depth,
    },
    Breadth {
        word: "hip-breadth",
        name: "Hip breadth",
        refused: "a hip breadth",
        limits: (150.0, 900.0),
        of: |b| &mut b.hip_breadth,
    },
    Breadth {
        word: "hip-depth",
        name: "Hip depth",
        refused: "a hip depth",
        limits: (100.0, 900.0),
        of: |b| &mut b.hip_depth,
    },
];

/// The figure as the project keeps it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Figure {
    /// The measures of the body, where the pattern was brought in and has none of its own.
    #[serde(skip_serializing_if = "is_usual")]
    pub measures: Measures,
    /// Breadths and depths.
    #[serde(skip_serializing_if = "is_usual")]
    pub breadths: Breadths,
    /// Handles.
    #[serde(skip_serializing_if = "is_usual")]
    pub handles: Handles,
}

impl Figure {
    /// Whether nothing is known.
    pub fn is_unknown(&self) -> bool {
        is_usual(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn every_handle_and_breadth_has_a_place_of_its_own() {
        let (mut handles, mut breadths) = (Handles::default(), Breadths::default());
        for (k, handle) in HANDLES.iter().enumerate() {
            assert_eq!(*(handle.of)(&mut handles), 0.0, "{}", handle.word);
            *(handle.of)(&mut handles) = 1.0 + k as f64;
        }
        for breadth in &BREADTHS {
            assert!((breadth.of)(&mut breadths).replace(300.0).is_none(), "{}", breadth.word);
        }
        let words: HashSet<_> =
            HANDLES.iter().map(|h| h.word).chain(BREADTHS.iter().map(|b| b.word)).collect();
        assert_eq!(words.len(), HANDLES.len() + BREADTHS.len());
        let figure = Figure { breadths, handles, ..Figure::default() };
        let text = crate::ron_text::written(&figure).unwrap();
        assert_eq!(crate::ron_text::read::<Figure>(&text).unwrap(), figure);
        assert!(!text.contains("measures") && !figure.is_unknown());
        assert!(Figure::default().is_unknown());
    }
}
