//! The body measures trousers need, by name.

use serde::{Deserialize, Serialize};

/// A body measure. Names follow ISO 8559-1 (names and definitions from memory;
/// the definitions are in our own words, and no clause number is claimed).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// Top of the head above the floor.
    Stature,
    /// Round the body at the waist level the trousers are to sit at.
    WaistGirth,
    /// Round the body at the fullest part of the seat, level.
    HipGirth,
    /// Waist level above the floor, at the side.
    WaistHeight,
    /// Waist above the floor at the centre front: lower than the side on many bodies.
    WaistHeightFront,
    /// Waist above the floor at the centre back.
    WaistHeightBack,
    /// Level of the fullest part of the seat above the floor.
    HipHeight,
    /// Crotch above the floor, inside the leg, feet slightly apart.
    InsideLegHeight,
    /// Waist above the seat of a hard chair, the wearer sitting.
    SeatedRise,
    /// From the front waist through the crotch to the back waist.
    CrotchLength,
    /// The part of the crotch length from the front waist to the crotch.
    CrotchLengthFront,
    /// The part of the crotch length from the crotch to the back waist.
    CrotchLengthBack,
    /// Round the thigh at its fullest, just under the crotch, level.
    ThighGirth,
    /// Round the leg at the knee, leg straight.
    KneeGirth,
    /// Middle of the kneecap above the floor.
    KneeHeight,
    /// Round the calf at its fullest, level.
    CalfGirth,
    /// Round the ankle at its narrowest.
    AnkleGirth,
    /// Round heel and instep, foot pointed: what has to pass through the hem.
    HeelGirth,
    /// Outer ankle bone above the floor.
    AnkleHeight,
}

/// Said of what draws nothing.
const KEPT: &str = "Kept and compared; the block is not drawn by it.";
/// The same of the heights of the waist in front and behind, and what is done instead.
const KEPT_TILT: &str = "Kept and compared; the block is not drawn by it: a tape tied round the waist of the toile says where to cut it.";

impl Measure {
    /// All measures, in the order a person is measured.
    pub const ALL: [Self; 19] = [
        Self::Stature,
        Self::WaistGirth,
        Self::HipGirth,
        Self::WaistHeight,
        Self::WaistHeightFront,
        Self::WaistHeightBack,
        Self::HipHeight,
        Self::InsideLegHeight,
        Self::SeatedRise,
        Self::CrotchLength,
        Self::CrotchLengthFront,
        Self::CrotchLengthBack,
        Self::ThighGirth,
        Self::KneeGirth,
        Self::KneeHeight,
        Self::CalfGirth,
        Self::AnkleGirth,
        Self::HeelGirth,
        Self::AnkleHeight,
    ];

    /// The measures a block cannot be drafted without.
    pub const REQUIRED: [Self; 5] = [
        Self::WaistGirth,
        Self::HipGirth,
        Self::WaistHeight,
        Self::InsideLegHeight,
        Self::CrotchLength,
    ];

    /// The name as spoken.
    pub fn name(self) -> &'static str {
        match self {
            Self::Stature => "stature",
            Self::WaistGirth => "waist girth",
            Self::HipGirth => "hip girth",
            Self::WaistHeight => "waist height",
            Self::WaistHeightFront => "front waist height",
            Self::WaistHeightBack => "back waist height",
            Self::HipHeight => "hip height",
            Self::InsideLegHeight => "inside leg height",
            Self::SeatedRise => "seated rise",
            Self::CrotchLength => "total crotch length",
            Self::CrotchLengthFront => "front crotch length",
            Self::CrotchLengthBack => "back crotch length",
            Self::ThighGirth => "thigh girth",
            Self::KneeGirth => "knee girth",
            Self::KneeHeight => "knee height",
            Self::CalfGirth => "calf girth",
            Self::AnkleGirth => "ankle girth",
            Self::HeelGirth => "heel girth",
            Self::AnkleHeight => "outside ankle height",
        }
    }

    /// The name as written in a measures file and in machine tables.
    pub fn key(self) -> &'static str {
        match self {
            Self::Stature => "stature",
            Self::WaistGirth => "waist_girth",
            Self::HipGirth => "hip_girth",
            Self::WaistHeight => "waist_height",
            Self::WaistHeightFront => "waist_height_front",
            Self::WaistHeightBack => "waist_height_back",
            Self::HipHeight => "hip_height",
            Self::InsideLegHeight => "inside_leg_height",
            Self::SeatedRise => "seated_rise",
            Self::CrotchLength => "crotch_length",
            Self::CrotchLengthFront => "crotch_length_front",
            Self::CrotchLengthBack => "crotch_length_back",
            Self::ThighGirth => "thigh_girth",
            Self::KneeGirth => "knee_girth",
            Self::KneeHeight => "knee_height",
            Self::CalfGirth => "calf_girth",
            Self::AnkleGirth => "ankle_girth",
            Self::HeelGirth => "heel_girth",
            Self::AnkleHeight => "ankle_height",
        }
    }

    /// How to take it, for a person with a tape.
    pub fn definition(self) -> &'static str {
        match self {
            Self::Stature => "Standing tall without shoes: top of the head above the floor.",
            Self::WaistGirth => "Tape level round the body where the waistband will sit.",
            Self::HipGirth => "Tape level round the fullest part of the seat.",
            Self::WaistHeight => "From the waist tape, at the side, down to the floor.",
            Self::WaistHeightFront => {
                "From the waist tape, at the centre front, down to the floor."
            }
            Self::WaistHeightBack => "From the waist tape, at the centre back, down to the floor.",
            Self::HipHeight => "From the fullest part of the seat down to the floor.",
            Self::InsideLegHeight => "Inside the leg, from the crotch down to the floor.",
            Self::SeatedRise => {
                "On a hard, level chair: from the waist tape, at the side, down to the seat."
            }
            Self::CrotchLength => {
                "From the waist tape at the front, between the legs, to the waist tape at the back."
            }
            Self::CrotchLengthFront => "From the waist tape at the front to the crotch.",
            Self::CrotchLengthBack => "From the crotch to the waist tape at the back.",
            Self::ThighGirth => "Tape level round the fullest part of the thigh, under the crotch.",
            Self::KneeGirth => "Tape level round the straight knee.",
            Self::KneeHeight => "From the middle of the kneecap down to the floor.",
            Self::CalfGirth => "Tape level round the fullest part of the calf.",
            Self::AnkleGirth => "Tape round the narrowest part of the ankle.",
            Self::HeelGirth => "Tape over the point of the heel and the instep, foot pointed.",
            Self::AnkleHeight => "From the outer ankle bone down to the floor.",
        }
    }

    /// What is asked of whoever takes it, beside a body (common practice, no published
    /// source).
    pub fn care(self) -> Option<&'static str> {
        let at_crotch = matches!(
            self,
            Self::InsideLegHeight
                | Self::CrotchLength
                | Self::CrotchLengthFront
                | Self::CrotchLengthBack
                | Self::ThighGirth
        );
        at_crotch.then_some("Ask first. The wearer holds the tape at the crotch; you read it.")
    }

    /// Whether the block is drawn by it; what is not is kept with the project and set against
    /// the others, see [`Self::kept`].
    pub fn draws_the_block(self) -> bool {
        !matches!(
            self,
            Self::Stature | Self::WaistHeightFront | Self::WaistHeightBack | Self::SeatedRise
        )
    }

    /// What is done with a measure that draws nothing.
    pub fn kept(self) -> Option<&'static str> {
        let is_tilt = matches!(self, Self::WaistHeightFront | Self::WaistHeightBack);
        (!self.draws_the_block()).then_some(if is_tilt { KEPT_TILT } else { KEPT })
    }

    /// Whether a block can be drafted without it.
    pub fn is_optional(self) -> bool {
        !Self::REQUIRED.contains(&self)
    }

    /// The limits outside which the value is a slip of the pen, not a body, mm.
    /// Ours: the extremes of the ANSUR II survey (NATICK/TR-15/007) widened by
    /// about half, so that adult bodies of every size lie inside.
    pub fn limits(self) -> (f64, f64) {
        match self {
            Self::Stature => (1100.0, 2500.0),
            Self::WaistGirth => (400.0, 2200.0),
            Self::HipGirth => (500.0, 2300.0),
            Self::WaistHeight | Self::WaistHeightFront | Self::WaistHeightBack => (600.0, 1600.0),
            Self::SeatedRise => (100.0, 600.0),
            Self::HipHeight => (450.0, 1450.0),
            Self::InsideLegHeight => (400.0, 1300.0),
            Self::CrotchLength => (300.0, 1400.0),
            Self::CrotchLengthFront | Self::CrotchLengthBack => (120.0, 900.0),
            Self::ThighGirth => (280.0, 1400.0),
            Self::KneeGirth => (200.0, 900.0),
            Self::KneeHeight => (220.0, 800.0),
            Self::CalfGirth => (180.0, 800.0),
            Self::AnkleGirth => (110.0, 500.0),
            Self::HeelGirth => (170.0, 600.0),
            Self::AnkleHeight => (20.0, 160.0),
        }
    }
}

impl std::fmt::Display for Measure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name())
    }
}
