//! The faults that are planted on a body, and what of the catalogue is tried on each.
//! The amounts are ours.

use hangtrue_drape::body::{Breadths, Handles};
use hangtrue_pattern::{Measure, Measures};

/// A body as it is changed.
pub struct Planted {
    pub measures: Measures,
    pub breadths: Breadths,
    pub handles: Handles,
}

impl Planted {
    fn more(&mut self, measure: Measure, by: f64) {
        if let Some(value) = self.measures.get_or_derived(measure) {
            self.measures.set(measure, value + by);
        }
    }
}

/// A fault of the body against the one the block was drafted for.
pub struct Fault {
    /// Its name in the table.
    pub name: &'static str,
    /// What is planted.
    pub plant: fn(&mut Planted),
    /// How much lower than before the lines belong on this body: hip balance, thigh, knee.
    pub lower: [f64; 3],
}

impl Fault {
    /// Whether lines belong lower or higher all round, rather than out of level.
    pub fn by_height(&self) -> bool {
        self.name == HIGHER || self.lower != LEVEL
    }
}

const LEVEL: [f64; 3] = [0.0; 3];
const HIGHER: &str = "waist 15 mm higher, crotch length 30 mm more";

macro_rules! fault {
    ($name:literal, $plant:expr) => {
        Fault { name: $name, plant: $plant, lower: LEVEL }
    };
    ($name:literal, $plant:expr, $lower:expr) => {
        Fault { name: $name, plant: $plant, lower: $lower }
    };
}

pub const FAULTS: &[Fault] = &[
    fault!("seat stands out 15 mm more", |b| b.handles.seat = 15.0),
    fault!("seat stands out 15 mm less", |b| b.handles.seat = -15.0),
    fault!("seat fullest 25 mm lower", |b| b.handles.low_seat = 25.0),
    fault!("back of the waist lies in 15 mm more", |b| b.handles.sway = 15.0),
    fault!("sides stand out 15 mm more under the waist", |b| b.handles.high_hip = 15.0),
    fault!("front stands out 20 mm more under the waist", |b| b.handles.tummy = 20.0),
    fault!("front stands out 12 mm less under the waist", |b| b.handles.tummy = -12.0),
    fault!("hips 30 mm further forward", |b| b.handles.forward_pelvis = 30.0),
    fault!("thighs 15 mm further forward", |b| b.handles.thigh_front = 15.0),
    fault!("knees 20 mm nearer together, each", |b| b.handles.knock_knee = 20.0),
    fault!("knees 20 mm further apart, each", |b| b.handles.knock_knee = -20.0),
    fault!("thigh 25 mm larger", |b| b.more(Measure::ThighGirth, 25.0)),
    fault!("thigh 25 mm smaller", |b| b.more(Measure::ThighGirth, -25.0)),
    fault!("calf 30 mm larger", |b| b.more(Measure::CalfGirth, 30.0)),
    fault!("hip 30 mm larger", |b| b.more(Measure::HipGirth, 30.0)),
    fault!("waist 16 mm larger", |b| b.more(Measure::WaistGirth, 16.0)),
    fault!("waist 16 mm smaller", |b| b.more(Measure::WaistGirth, -16.0)),
    fault!("fork 10 mm lower, crotch length 20 mm more", |b| {
        b.more(Measure::InsideLegHeight, -10.0);
        b.more(Measure::CrotchLength, 20.0);
    }),
    fault!("crotch length 15 mm more, all at the back", |b| {
        b.more(Measure::CrotchLength, 15.0);
        b.more(Measure::CrotchLengthBack, 15.0);
    }),
    fault!("crotch length 10 mm more, all in front", |b| b.more(Measure::CrotchLength, 10.0)),
    Fault {
        name: HIGHER,
        plant: |b| {
            b.more(Measure::WaistHeight, 15.0);
            b.more(Measure::CrotchLength, 30.0);
        },
        lower: LEVEL,
    },
    fault!("knee 15 mm lower", |b| b.more(Measure::KneeHeight, -15.0), [0.0, 0.0, 15.0]),
    // Two at once, for causes told from lines; nothing is tried on them.
    fault!("seat stands out 10 mm less, hips 20 mm further forward", |b| {
        b.handles.seat = -10.0;
        b.handles.forward_pelvis = 20.0;
    }),
    fault!("seat stands out 10 mm more, back of the waist lies in 10 mm more", |b| {
        b.handles.seat = 10.0;
        b.handles.sway = 10.0;
    }),
    fault!("front stands out 15 mm more under the waist, thighs 10 mm further forward", |b| {
        b.handles.tummy = 15.0;
        b.handles.thigh_front = 10.0;
    }),
];

/// A remedy: a correction of the catalogue or a pinch method.
#[derive(Clone, Copy)]
pub enum Remedy {
    Correction(&'static str),
    /// The back thigh line pinched in its middle, answered by the method of this name.
    Pinch(&'static str),
}

/// What is tried on a fault.
pub struct Try {
    pub remedy: Remedy,
    /// mm.
    pub amount: f64,
    pub fault: &'static str,
}

const fn correct(name: &'static str, amount: f64, fault: &'static str) -> Try {
    Try { remedy: Remedy::Correction(name), amount, fault }
}

const fn pinch(name: &'static str, amount: f64, fault: &'static str) -> Try {
    Try { remedy: Remedy::Pinch(name), amount, fault }
}

const FULL: &str = FAULTS[0].name;
const FLAT: &str = FAULTS[1].name;
const LOW: &str = FAULTS[2].name;
const FORWARD: &str = FAULTS[7].name;
const THIGH: &str = FAULTS[11].name;
const HIP: &str = FAULTS[14].name;
const WAIST: &str = FAULTS[15].name;
const KNEE: &str = FAULTS[21].name;

/// The amounts of those that go the right way are what brought lines nearest on two bodies
/// that are not told of (numbers 120 and 252), at first with 6 to 20 mm; others are usual.
pub const TRIES: &[Try] = &[
    correct("full seat", 4.0, FULL),
    correct("flat seat", 4.0, FLAT),
    correct("low seat", 2.0, LOW),
    correct("seat seam out and side in", 6.0, FLAT),
    correct("sway back", 6.0, FAULTS[3].name),
    correct("high hip", 6.0, FAULTS[4].name),
    correct("full tummy", 8.0, FAULTS[5].name),
    correct("flat tummy", 3.0, FAULTS[6].name),
    correct("crotch depth", 10.0, FAULTS[17].name),
    correct("back crotch length", 12.0, FAULTS[18].name),
    correct("front crotch length", 7.0, FAULTS[19].name),
    correct("centre back lean", 10.0, FULL),
    correct("full front thigh", 8.0, FAULTS[8].name),
    correct("full inner thigh", 6.0, THIGH),
    correct("full outer thigh", 8.0, THIGH),
    correct("thin thigh", 5.0, FAULTS[12].name),
    correct("knock knee", 5.0, FAULTS[9].name),
    correct("bow leg", 5.0, FAULTS[10].name),
    correct("full calf", 17.0, FAULTS[13].name),
    correct("centre back let out", 8.0, WAIST),
    correct("waist at the sides", 16.0, WAIST),
    correct("waist at the darts", 16.0, WAIST),
    correct("dart width", 8.0, FAULTS[16].name),
    correct("waist height", 15.0, FAULTS[20].name),
    correct("hip at the side", 30.0, HIP),
    correct("hip on the back alone", 15.0, HIP),
    correct("leg length above the knee", 15.0, KNEE),
    correct("knee level", 15.0, KNEE),
    correct("dart length", 20.0, LOW),
    correct("dart turned into the side seam", 6.0, FLAT),
    pinch("top and scoop", 4.0, FLAT),
    pinch("slash and lap", 4.0, FLAT),
    pinch("even strip", 4.0, FLAT),
    pinch("top and scoop", 10.0, FORWARD),
    pinch("slash and lap", 10.0, FORWARD),
    pinch("even strip", 10.0, FORWARD),
];

/// Corrections that are not tried, and why.
pub const NOT_TRIED: &[(&str, &str)] = &[
    ("tilted front waist", "the band is held level all round; no handle tips a waist"),
    ("back crotch curve", "no handle makes the body's underside hollower behind"),
    ("front crotch curve", "no handle makes the body's underside hollower in front"),
    ("side seam swung forward", "lines across tell nothing of how a seam swings"),
    ("leg length below the knee", "no line lies below the knee"),
    ("hem level", "no line lies below the knee"),
    ("leg width", "a matter of cut, not a fault of the body"),
    ("taper", "a matter of cut, not a fault of the body"),
    ("dart moved", "no handle moves where the body is rounder round the waist"),
    ("dart split", "no handle makes the body rounder under one dart"),
];
