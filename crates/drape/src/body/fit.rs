//! A body that meets its measures.
//!
//! Outlines first from the measures, then three things are solved in turn until they
//! hold together: the squareness of the hip's section (so that the tape reads the hip
//! girth), the underside (so that the crotch length is met) and how it is parted
//! into front and back.

use super::curve::Curve;
use super::shape::{Shape, Stack};
use super::tape::{self, CrotchLine};
use hangtrue_adjust::figure::{BREADTHS, Breadths, HANDLES, Handles};
use hangtrue_geometry::words::Length;
use hangtrue_pattern::{Measure, MeasureError, Measures};

/// A figure that was not taken but guessed from girths.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Guessed {
    /// What it is.
    pub what: &'static str,
    /// The guess, mm.
    pub value: f64,
    /// Standard deviation of the guess in the survey, mm.
    pub off: f64,
}

/// A body, and how well it meets what was asked.
#[derive(Debug, Clone)]
pub struct Body {
    /// The body.
    pub shape: Shape,
    /// The waist's level above the floor, mm.
    pub waist: f64,
    /// The body's line from front to back waist between the legs.
    pub crotch: CrotchLine,
    /// Each measure asked for, and what a tape reads on the body, mm.
    pub read: Vec<(Measure, f64, f64)>,
    /// Breadths and depths: what was asked and what came, mm.
    pub breadths: Vec<(&'static str, f64, f64)>,
    /// What was guessed.
    pub guessed: Vec<Guessed>,
    /// How far the body's fork lies below the inside leg height, so that the crotch
    /// length finds room, mm; below nought it is raised.
    pub lowered: f64,
    /// How far the hip lies above the measured hip height, because the fork had to be
    /// raised, mm.
    pub hip_raised: f64,
}

/// Why there is no body.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BodyError {
    /// The measures contradict each other or are missing.
    #[error(transparent)]
    Measures(#[from] MeasureError),
    /// A measure the body needs cannot be had.
    #[error("the {measure} is needed for the body and cannot be had from the others")]
    Missing {
        /// The measure.
        measure: Measure,
    },
    /// No body of this kind has the measure beside the others.
    #[error(
        "no body with the other measures has a {measure} of {asked}; the nearest has {came}: measure again"
    )]
    NotMet {
        /// The measure.
        measure: Measure,
        /// What was asked.
        asked: Length,
        /// The nearest.
        came: Length,
    },
    /// A handle or breadth beyond any body.
    #[error("{what} of {value} is beyond any body; give one between {low} and {high}")]
    Beyond {
        /// Which.
        what: &'static str,
        /// The value.
        value: Length,
        /// Least.
        low: Length,
        /// Most.
        high: Length,
    },
}

/// Rounds of solving at most.
const ROUNDS: usize = 24;
/// A measure is met within this, mm.
pub const MET: f64 = 1.0;
/// Sections are solved to this, mm.
const SOLVED: f64 = 0.02;

/// Least squares over the 1,517 bodies of `tests/data/ansur2_trousers_dev.csv` (ANSUR
/// II, NATICK/TR-15/007): constant, times hip girth, times waist girth, standard
/// deviation, all mm.
const WAIST_BREADTH: [f64; 4] = [18.417, 0.035_184, 0.288_450, 9.6];
const WAIST_DEPTH: [f64; 4] = [-24.909, -0.033_148, 0.314_840, 10.4];
const HIP_BREADTH: [f64; 4] = [26.625, 0.346_540, -0.034_461, 9.1];
const HIP_DEPTH: [f64; 4] = [-38.024, 0.180_090, 0.104_575, 10.9];

// Shape knowledge beyond the survey's numbers; memory or ours, none looked up.
/// How far the waist's back lies in front of the seat's fullest place.
const HOLLOW: f64 = 22.0;
/// How far the back of the thigh lies in front of the seat's fullest place.
const THIGH_IN: f64 = 18.0;
/// The gap between the thighs, mm.
const GAP: f64 = 14.0;
/// The thigh is taped this far below the fork, mm.
const BELOW_FORK: f64 = 20.0;
/// The torso's base is at least this far over the fork, mm.
const LEAST_BASE: f64 = 12.0;
/// The calf's level over the knee's; the ankle's above the ankle bone, mm.
const CALF: f64 = 0.70;
const ANKLE_UP: f64 = 35.0;
/// Squareness of a leg's sections, and of the thigh's.
const LEG_SQUARE: f64 = 2.1;
const THIGH_SQUARE: f64 = 2.6;
/// How shallow a thigh may be over its breadth, and how much deeper than the hip.
const THIGH_FLAT: f64 = 0.90;
const THIGH_OVER: f64 = 4.0;
/// How far the thigh's side lies within the hip's, mm.
const THIGH_WITHIN: f64 = 3.0;

/// Everything the solving changes.
#[derive(Debug, Clone)]
struct Iterate {
    m: Needed,
    handles: Handles,
    waist: Oval,
    hip: Oval,
    thigh: Oval,
    /// Where the hip's middle is between front and back, mm forward of the middle.
    split: f64,
    /// One family of undersides; see [`Iterate::underside`].
    under: f64,
    /// The legs stand further out by, mm.
    spread: f64,
    /// How much of the thigh's size is left at the hip.
    upper: f64,
}

/// Half breadth, half depth, squareness.
#[derive(Debug, Clone, Copy)]
struct Oval {
    half: f64,
    deep: f64,
    square: f64,
}

/// The measures used.
#[derive(Debug, Clone, Copy)]
struct Needed {
    waist: f64,
    hip: f64,
    thigh: f64,
    knee: f64,
    calf: f64,
    ankle: f64,
    crotch: f64,
    back: Option<f64>,
    waist_at: f64,
    hip_at: f64,
    fork_at: f64,
    knee_at: f64,
    ankle_at: f64,
}

/// The length round an oval, mm.
fn round(oval: Oval) -> f64 {
    const STEPS: usize = 96;
    let point = |k: usize| {
        let (sine, cosine) = (std::f64::consts::FRAC_PI_2 * k as f64 / STEPS as f64).sin_cos();
        let r = ((cosine / oval.half).powf(oval.square) + (sine / oval.deep).powf(oval.square))
            .powf(-1.0 / oval.square);
        (r * cosine, r * sine)
    };
    let mut last = point(0);
    let mut sum = 0.0;
    for k in 1..=STEPS {
        let next = point(k);
        sum += (next.0 - last.0).hypot(next.1 - last.1);
        last = next;
    }
    4.0 * sum
}

/// The place in `low..high` where a rising function is nought; the nearer end when
/// it is nowhere.
fn rising(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut at_low, mut at_high) = (f(low), f(high));
    if at_low >= 0.0 {
        return low;
    }
    if at_high <= 0.0 {
        return high;
    }
    let mut last_side = 0;
    for _ in 0..40 {
        let mut t = low - at_low * (high - low) / (at_high - at_low);
        if !(t > low && t < high) {
            t = 0.5 * (low + high);
        }
        let value = f(t);
        if value.abs() < SOLVED {
            return t;
        }
        if value < 0.0 {
            (low, at_low) = (t, value);
            if last_side == -1 {
                at_high *= 0.5;
            }
            last_side = -1;
        } else {
            (high, at_high) = (t, value);
            if last_side == 1 {
                at_low *= 0.5;
            }
            last_side = 1;
        }
    }
    0.5 * (low + high)
}

/// Squareness a hip's section has at least while the thighs can give way, and how
/// far they do.
const FULL: f64 = 2.0;
const LEAST_UPPER: f64 = 0.65;
/// Squareness a section may have.
const SQUARE: (f64, f64) = (1.6, 5.0);

/// An oval of that girth: by its squareness, and where that does not reach, by its
/// size.
fn oval(half: f64, deep: f64, girth: f64) -> Oval {
    let of = |square| Oval { half, deep, square };
    let square = rising(SQUARE.0, SQUARE.1, |n| round(of(n)) - girth);
    let mut found = of(square);
    if (round(found) - girth).abs() > SOLVED {
        let scale = girth / round(found);
        found = Oval { half: half * scale, deep: deep * scale, square };
    }
    found
}

fn guess(rule: [f64; 4], hip: f64, waist: f64) -> f64 {
    rule[0] + rule[1] * hip + rule[2] * waist
}

/// Builds a body of these measures.
///
/// # Errors
/// [`BodyError`], naming the measure.
pub fn build(
    measures: &Measures,
    breadths: &Breadths,
    handles: &Handles,
) -> Result<Body, BodyError> {
    measures.check()?;
    check(breadths, handles)?;
    let m = needed(measures)?;
    let mut guessed = Vec::new();
    let mut taken = |what, value: Option<f64>, rule: [f64; 4]| {
        value.unwrap_or_else(|| {
            let value = guess(rule, m.hip, m.waist);
            guessed.push(Guessed { what, value, off: rule[3] });
            value
        })
    };
    let asked = [
        ("waist breadth", taken("waist breadth", breadths.waist_breadth, WAIST_BREADTH)),
        ("waist depth", taken("waist depth", breadths.waist_depth, WAIST_DEPTH)),
        ("hip breadth", taken("hip breadth", breadths.hip_breadth, HIP_BREADTH)),
        ("hip depth", taken("hip depth", breadths.hip_depth, HIP_DEPTH)),
    ];
    let half = |k: usize| 0.5 * asked[k].1;
    let mut draft = Iterate {
        m,
        handles: *handles,
        waist: oval(half(0), half(1), m.waist),
        hip: oval(half(2), half(3), m.hip),
        thigh: thigh(half(2), half(3), m.thigh),
        split: 0.0,
        under: 0.5,
        spread: 0.0,
        upper: 1.0,
    };
    let (hip_half, hip_deep) = (half(2), half(3));
    for round in 0..ROUNDS {
        draft.solve_hip(hip_half, hip_deep);
        let before = (draft.under, draft.split);
        draft.solve_crotch();
        draft.solve_split();
        if round >= ROUNDS / 3 {
            // Two that chase each other meet half way.
            draft.under = 0.5 * (draft.under + before.0);
            draft.split = 0.5 * (draft.split + before.1);
        }
        if draft.off() < 0.1 {
            break;
        }
    }
    draft.finish(&asked, guessed)
}

/// Refuses handles and breadths beyond their limits.
fn check(b: &Breadths, h: &Handles) -> Result<(), BodyError> {
    let (mut b, mut h) = (*b, *h);
    let breadths = BREADTHS.map(|breadth| (breadth.refused, *(breadth.of)(&mut b), breadth.limits));
    let handles = HANDLES.map(|handle| (handle.refused, Some(*(handle.of)(&mut h)), handle.most));
    let handles = handles.map(|(what, value, most)| (what, value, (-most, most)));
    for (what, value, (low, high)) in breadths.into_iter().chain(handles) {
        if let Some(value) = value.filter(|v| !(low..=high).contains(v)) {
            let (value, low, high) = (Length(value), Length(low), Length(high));
            return Err(BodyError::Beyond { what, value, low, high });
        }
    }
    Ok(())
}

fn needed(measures: &Measures) -> Result<Needed, BodyError> {
    let get = |measure| measures.get_or_derived(measure).ok_or(BodyError::Missing { measure });
    Ok(Needed {
        waist: get(Measure::WaistGirth)?,
        hip: get(Measure::HipGirth)?,
        thigh: get(Measure::ThighGirth)?,
        knee: get(Measure::KneeGirth)?,
        calf: get(Measure::CalfGirth)?,
        ankle: get(Measure::AnkleGirth)?,
        crotch: get(Measure::CrotchLength)?,
        back: measures.get_or_derived(Measure::CrotchLengthBack),
        waist_at: get(Measure::WaistHeight)?,
        hip_at: get(Measure::HipHeight)?,
        fork_at: get(Measure::InsideLegHeight)?,
        knee_at: get(Measure::KneeHeight)?,
        ankle_at: get(Measure::AnkleHeight)? + ANKLE_UP,
    })
}

/// A thigh of that girth beside its fellow within the hip's breadth and depth; where
/// that does not reach it grows outwards.
fn thigh(hip_half: f64, hip_deep: f64, girth: f64) -> Oval {
    let half = 0.5 * (hip_half - THIGH_WITHIN - 0.5 * GAP);
    let of = |half: f64, deep: f64| Oval { half, deep, square: THIGH_SQUARE };
    let most = (hip_deep + THIGH_OVER).max(half);
    let deep = rising(THIGH_FLAT * half, most, |d| round(of(half, d)) - girth);
    if (round(of(half, deep)) - girth).abs() < SOLVED {
        return of(half, deep);
    }
    if round(of(half, deep)) > girth {
        let scale = girth / round(of(half, deep));
        return of(scale * half, scale * deep);
    }
    of(rising(half, 2.0 * half, |h| round(of(h, deep)) - girth), deep)
}

impl Iterate {
    /// Fork level and roundness of the underside from one rising number: 0 to 1
    /// squares it, below raises the fork, above lowers it.
    fn underside(&self) -> (f64, f64) {
        let t = self.under;
        let round = 1.5 * (4.0_f64 / 1.5).powf(t.clamp(0.0, 1.0));
        let fork = self.m.fork_at - 40.0 * t.min(0.0) - 60.0 * (t - 1.0).max(0.0);
        (fork, round)
    }

    fn base(&self) -> f64 {
        (self.m.hip_at - self.handles.low_seat).max(self.underside().0 + LEAST_BASE)
    }

    fn shape(&self) -> Shape {
        let (fork, under) = self.underside();
        let base = self.base();
        let (m, h) = (&self.m, &self.handles);
        let forward = h.forward_pelvis;
        // Front and back of the torso, nought half way between them at the hip.
        let hip_back = -self.hip.deep - h.seat + forward;
        let hip_front = self.hip.deep + forward;
        let waist_back = -self.hip.deep + HOLLOW + h.sway;
        let waist_front = waist_back + 2.0 * self.waist.deep;
        let middle = 0.5 * (waist_back + waist_front);
        let split = forward + self.split;
        let half_way = 0.5 * (m.waist_at + base);
        let mean = |a: f64, b: f64| 0.5 * (a + b);
        let torso = Stack {
            x: Curve::through(&[(base, 0.0)]),
            y: Curve::through(&[(base, split), (m.waist_at, middle)]),
            half: Curve::through(&[
                (base, self.hip.half),
                (
                    half_way,
                    mean(self.hip.half, self.waist.half) + 0.06 * self.hip.half + h.high_hip,
                ),
                (m.waist_at, self.waist.half),
            ]),
            front: Curve::through(&[
                (base, hip_front - split),
                (half_way, mean(hip_front - split, waist_front - middle) + h.tummy),
                (m.waist_at, waist_front - middle),
            ]),
            back: Curve::through(&[(base, split - hip_back), (m.waist_at, middle - waist_back)]),
            square: Curve::through(&[(base, self.hip.square), (m.waist_at, self.waist.square)]),
        };
        let taped = m.fork_at.min(fork) - BELOW_FORK;
        Shape {
            leg: self.leg(taped, base, forward),
            torso,
            base,
            depth: base - fork,
            under,
            top: (base - 5.0, 50.0),
            lean: Curve::default(),
        }
    }

    /// How far it lies lower to the right, by level: whole from the fork up, nothing from
    /// the knee down, so that both feet stand.
    fn lean(&self) -> Curve {
        let lower = self.handles.lower_side;
        if lower == 0.0 {
            return Curve::default();
        }
        let whole = lower / (2.0 * self.hip.half);
        Curve::through(&[(self.m.knee_at, 0.0), (self.underside().0, whole)])
    }

    fn leg(&self, taped: f64, base: f64, forward: f64) -> Stack {
        let (m, h) = (&self.m, &self.handles);
        let sized = |girth: f64, ratio: f64| {
            let unit = Oval { half: 1.0 / ratio, deep: ratio, square: LEG_SQUARE };
            let scale = girth / round(unit);
            Oval { half: unit.half * scale, deep: unit.deep * scale, square: LEG_SQUARE }
        };
        let (knee, calf, ankle) = (sized(m.knee, 1.03), sized(m.calf, 1.05), sized(m.ankle, 1.12));
        let calf_at = CALF * m.knee_at;
        let out = 0.5 * GAP + self.thigh.half + self.spread;
        let knee_x = (knee.half + 8.0).max(0.84 * out) - h.knock_knee;
        let ankle_x = (0.72 * out).max(ankle.half + 12.0);
        let calf_x = 0.5 * (knee_x + ankle_x);
        let room = (2.0 * (self.hip.deep - self.thigh.deep)).clamp(0.0, THIGH_IN);
        let y = -self.hip.deep + room + self.thigh.deep + forward;
        let knee_y = y.min(0.0) * 0.5 + 0.6 * forward;
        let levels = |at: [f64; 4]| {
            Curve::through(&[
                (m.ankle_at, at[3]),
                (calf_at, at[2]),
                (m.knee_at, at[1]),
                (taped, at[0]),
                (base, at[0]),
            ])
        };
        let upper = self.upper;
        let upward = |at: [f64; 4]| {
            Curve::through(&[
                (m.ankle_at, at[3]),
                (calf_at, at[2]),
                (m.knee_at, at[1]),
                (taped, at[0]),
                (base, upper * at[0]),
            ])
        };
        let f = h.thigh_front;
        Stack {
            x: levels([out, knee_x, calf_x, ankle_x]),
            y: levels([y, knee_y, knee_y - 14.0, -28.0]),
            half: upward([self.thigh.half, knee.half, calf.half, ankle.half]),
            front: upward([self.thigh.deep + f, knee.deep, calf.deep * 0.92, ankle.deep]),
            back: upward([self.thigh.deep - f, knee.deep, calf.deep * 1.08, ankle.deep]),
            square: levels([THIGH_SQUARE, LEG_SQUARE, LEG_SQUARE, LEG_SQUARE]),
        }
    }

    /// From where the hip's section is seen whole.
    fn middle(&self, shape: &Shape) -> (f64, f64) {
        (shape.leg.x.at(self.hip_level()), shape.leg.y.at(self.hip_level()))
    }

    /// Where the hip is taped: its own level, or as much higher as the fork had to be
    /// raised.
    fn hip_level(&self) -> f64 {
        self.base()
    }

    fn hip_girth(&self) -> f64 {
        let shape = self.shape();
        tape::girth(&shape, self.middle(&shape), self.hip_level())
    }

    fn with(&self, change: impl Fn(&mut Self)) -> Self {
        let mut other = self.clone();
        change(&mut other);
        other
    }

    /// Hip girth by squareness, then by how full the thighs run on upwards, by size, then by how far the legs stand out.
    fn solve_hip(&mut self, half: f64, deep: f64) {
        self.hip.half = half;
        self.hip.deep = deep;
        self.spread = 0.0;
        self.upper = 1.0;
        let off = |draft: Self| draft.hip_girth() - self.m.hip;
        let met = |draft: &Self| off(draft.clone()).abs() < 2.0 * SOLVED;
        self.hip.square = rising(FULL, SQUARE.1, |n| off(self.with(|d| d.hip.square = n)));
        if met(self) {
            return;
        }
        self.upper = rising(LEAST_UPPER, 1.0, |u| off(self.with(|d| d.upper = u)));
        if met(self) {
            return;
        }
        self.hip.square = rising(SQUARE.0, SQUARE.1, |n| off(self.with(|d| d.hip.square = n)));
        if met(self) {
            return;
        }
        let scale = rising(0.9, 1.1, |s| {
            off(self.with(|d| {
                d.hip.half = s * half;
                d.hip.deep = s * deep;
            }))
        });
        self.hip.half = scale * half;
        self.hip.deep = scale * deep;
        if met(self) {
            return;
        }
        self.spread = rising(-15.0, 30.0, |s| off(self.with(|d| d.spread = s)));
    }

    fn crotch(&self) -> CrotchLine {
        tape::crotch_line(&self.shape(), self.m.waist_at)
    }

    fn solve_crotch(&mut self) {
        self.under = rising(-1.0, 2.0, |t| {
            let line = self.with(|d| d.under = t).crotch();
            line.front + line.back - self.m.crotch
        });
    }

    /// The back part of the crotch length, as far as the hip's depth lets it.
    fn solve_split(&mut self) {
        let Some(back) = self.m.back else { return };
        let most = 0.6 * self.hip.deep;
        self.split = rising(-most, most, |s| {
            let line = self.with(|d| d.split = s).crotch();
            // Both together are solved apart; here only the sharing counts.
            line.back - back - 0.5 * (line.front + line.back - self.m.crotch)
        });
    }

    /// The largest error of what is solved, mm.
    fn off(&self) -> f64 {
        let line = self.crotch();
        let crotch = (line.front + line.back - self.m.crotch).abs();
        crotch.max((self.hip_girth() - self.m.hip).abs())
    }

    fn finish(
        self,
        asked: &[(&'static str, f64); 4],
        guessed: Vec<Guessed>,
    ) -> Result<Body, BodyError> {
        // A tape that goes round a leaning hip leans with it: all is read on the even body.
        let mut shape = self.shape();
        let m = &self.m;
        let crotch = self.crotch();
        let (fork, _) = self.underside();
        let taped = m.fork_at.min(fork) - BELOW_FORK;
        let waist_middle = (0.0, shape.torso.y.at(m.waist_at));
        let read = vec![
            (Measure::WaistGirth, m.waist, tape::girth(&shape, waist_middle, m.waist_at)),
            (Measure::HipGirth, m.hip, tape::girth(&shape, self.middle(&shape), self.hip_level())),
            (Measure::CrotchLength, m.crotch, crotch.front + crotch.back),
            (Measure::ThighGirth, m.thigh, tape::leg_girth(&shape, taped)),
            (Measure::KneeGirth, m.knee, tape::leg_girth(&shape, m.knee_at)),
            (Measure::CalfGirth, m.calf, tape::leg_girth(&shape, CALF * m.knee_at)),
            (Measure::AnkleGirth, m.ankle, tape::leg_girth(&shape, m.ankle_at)),
        ];
        if let Some((measure, asked, came)) =
            read.iter().copied().find(|(_, asked, came)| is_off(asked - came))
        {
            return Err(BodyError::NotMet { measure, asked: Length(asked), came: Length(came) });
        }
        let waist = tape::breadth_and_depth(&shape, waist_middle, m.waist_at);
        let hip = tape::breadth_and_depth(&shape, self.middle(&shape), self.hip_level());
        let came = [waist.0, waist.1, hip.0, hip.1];
        let breadths = asked.iter().zip(came).map(|(a, c)| (a.0, a.1, c)).collect();
        let lowered = m.fork_at - fork;
        let hip_raised = self.base() - (m.hip_at - self.handles.low_seat);
        shape.lean = self.lean();
        Ok(Body { shape, waist: m.waist_at, crotch, read, breadths, guessed, lowered, hip_raised })
    }
}

/// Whether a measure is not met, mm; what is no number is not met either.
fn is_off(by: f64) -> bool {
    by.is_nan() || by.abs() > MET
}
