//! Planted faults, one for each rule of the table, and the near one on which it keeps silent.
//! The unit tests plant them on a small pattern, the tests over bodies on blocks of the survey.

use super::{HangLine, Leg, PieceView, Sign};
use HangLine::{Hem, Hip, Knee, Thigh, Waist};
use Leg::{Left, Right};
use PieceView::{Back, Front};

/// A fault put on a toile that hangs level: droop by line, view, leg and share.
pub type Planted = fn(HangLine, PieceView, Leg, f64) -> f64;

/// A bow: nothing at both ends, 1 in the middle.
pub fn bow(at: f64) -> f64 {
    1.0 - (2.0 * at - 1.0).abs()
}

/// From 1 at the inner end to nothing at the side.
pub fn inner(at: f64) -> f64 {
    1.0 - at
}

/// A rule, a fault it must name first with an amount, and a near fault it must not
/// name.
pub struct Case(pub &'static str, pub Planted, pub f64, pub Planted);

pub const CASES: &[Case] = &[
    Case(
        "surplus length under the seat",
        |l, v, _, s| if (l, v) == (Thigh, Back) { 9.525 * bow(s) } else { 0.0 },
        9.525,
        // The hip line hangs in the same bow: the surplus lies above it.
        |l, v, _, s| if matches!((l, v), (Thigh | Hip, Back)) { 9.525 * bow(s) } else { 0.0 },
    ),
    Case(
        "length lacking under the seat",
        |l, v, _, s| if (l, v) == (Thigh, Back) { -8.0 * bow(s) } else { 0.0 },
        -8.0,
        |l, v, _, s| if (l, v) == (Thigh, Back) { -2.0 * bow(s) } else { 0.0 },
    ),
    Case(
        "surplus length between waist and hip",
        |l, v, _, s| if matches!((l, v), (Thigh | Hip, Back)) { 8.0 * bow(s) } else { 0.0 },
        8.0,
        // Only the thigh line hangs: below the hip.
        |l, v, _, s| if (l, v) == (Thigh, Back) { 8.0 * bow(s) } else { 0.0 },
    ),
    Case(
        "seat stands out in the middle",
        |l, v, _, s| if (l, v) == (Hip, Back) { -8.0 * bow(s) } else { 0.0 },
        8.0,
        // It rises to the centre instead.
        |l, v, _, s| if (l, v) == (Hip, Back) { -8.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "full seat",
        |l, v, _, s| if (l, v) == (Hip, Back) { -10.0 * inner(s) } else { 0.0 },
        10.0,
        // The front rises, not the back.
        |l, v, _, s| if (l, v) == (Hip, Front) { -10.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "flat seat",
        |l, v, _, s| match (l, v) {
            (Hip, Back) => 9.0 * inner(s),
            (Thigh, Back) => 6.0,
            _ => 0.0,
        },
        9.0,
        |l, v, _, s| if (l, v) == (Hip, Back) { 9.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "sway back",
        |l, v, _, s| if (l, v) == (Hip, Back) { 9.0 * inner(s) } else { 0.0 },
        9.0,
        |l, v, _, s| match (l, v) {
            (Hip, Back) => 9.0 * inner(s),
            (Thigh, Back) => 6.0,
            _ => 0.0,
        },
    ),
    Case(
        "high hip",
        |l, v, _, s| match (l, v) {
            (Hip, Back) => -9.0 * s,
            (Thigh, Back) => 7.0,
            _ => 0.0,
        },
        9.0,
        |l, v, _, s| if (l, v) == (Hip, Back) { -9.0 * s } else { 0.0 },
    ),
    Case(
        "width lacking at the side of the hip",
        |l, v, _, s| if (l, v) == (Hip, Back) { -11.0 * s } else { 0.0 },
        22.0,
        |l, v, _, s| match (l, v) {
            (Hip, Back) => -11.0 * s,
            (Thigh, Back) => 7.0,
            _ => 0.0,
        },
    ),
    Case(
        "uneven hips",
        |l, _, leg, s| match (l, leg) {
            (Hem | Knee, _) => 0.0,
            (_, Left) => 5.0 * s,
            (_, Right) => -5.0 * s,
        },
        10.0,
        // Both legs alike.
        |l, _, _, _| if matches!(l, Hem | Knee) { 0.0 } else { 5.0 },
    ),
    Case(
        "legs of uneven length",
        |l, _, leg, _| match (l, leg) {
            (Hem, Left) => 3.8,
            (Hem, Right) => -3.8,
            _ => 0.0,
        },
        7.6,
        // The knees differ as much: it begins higher up.
        |l, _, leg, _| match (l, leg) {
            (Hem | Knee, Left) => 3.8,
            (Hem | Knee, Right) => -3.8,
            _ => 0.0,
        },
    ),
    Case(
        "full tummy",
        |l, v, _, s| if (l, v) == (Hip, Front) { -11.0 * inner(s) } else { 0.0 },
        11.0,
        // The side rises with it.
        |l, v, _, _| if (l, v) == (Hip, Front) { -11.0 } else { 0.0 },
    ),
    Case(
        "flat tummy",
        |l, v, _, s| if (l, v) == (Hip, Front) { 8.0 * inner(s) } else { 0.0 },
        8.0,
        |l, v, _, s| if (l, v) == (Hip, Back) { 8.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "front thigh stands out",
        |l, v, _, s| if (l, v) == (Thigh, Front) { -7.0 * bow(s) } else { 0.0 },
        14.0,
        |l, v, _, s| if (l, v) == (Thigh, Back) { -7.0 * bow(s) } else { 0.0 },
    ),
    Case(
        "crotch too shallow",
        |l, v, _, s| match (l, v) {
            (Thigh, Back) => -9.0 * inner(s),
            (Thigh, Front) => -7.0 * inner(s),
            _ => 0.0,
        },
        8.0,
        |l, v, _, s| if (l, v) == (Thigh, Back) { -9.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "crotch too deep",
        |l, _, _, s| if l == Thigh { 8.0 * inner(s) } else { 0.0 },
        -8.0,
        |l, _, _, s| if l == Thigh { -8.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "back crotch too short at the inseam",
        |l, v, _, s| if (l, v) == (Thigh, Back) { -9.0 * inner(s) } else { 0.0 },
        9.0,
        |l, _, _, s| if l == Thigh { -9.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "front crotch too short at the inseam",
        |l, v, _, s| if (l, v) == (Thigh, Front) { -8.0 * inner(s) } else { 0.0 },
        8.0,
        |l, _, _, s| if l == Thigh { -8.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "hem swings up at the back",
        |l, v, _, _| match (l, v) {
            (Hem, Back) => -6.0,
            (Hem, Front) => 6.0,
            _ => 0.0,
        },
        6.0,
        // Up all round: the leg is short.
        |l, _, _, _| if l == Hem { -6.0 } else { 0.0 },
    ),
    Case(
        "hem swings up at the front",
        |l, v, _, _| match (l, v) {
            (Hem, Back) => 6.0,
            (Hem, Front) => -6.0,
            _ => 0.0,
        },
        -6.0,
        |l, _, _, _| if l == Hem { 6.0 } else { 0.0 },
    ),
    Case(
        "surplus length between thigh and knee",
        |l, _, _, _| if matches!(l, Knee) { 9.0 } else { 0.0 },
        -9.0,
        // The thigh line hangs as low: the surplus lies above it.
        |l, _, _, _| if matches!(l, Knee | Thigh) { 9.0 } else { 0.0 },
    ),
    Case(
        "length lacking between thigh and knee",
        |l, _, _, _| if matches!(l, Knee) { -9.0 } else { 0.0 },
        9.0,
        |l, _, _, _| if matches!(l, Knee | Thigh) { -9.0 } else { 0.0 },
    ),
    Case(
        "surplus length behind the knee",
        |l, v, _, s| if (l, v) == (Knee, Back) { 8.0 * bow(s) } else { 0.0 },
        8.0,
        |l, v, _, _| if (l, v) == (Knee, Back) { 8.0 } else { 0.0 },
    ),
    Case(
        "leg falls to the outside",
        |l, _, _, s| if matches!(l, Knee | Hem) { 8.0 * (s - 0.5) } else { 0.0 },
        8.0,
        |l, _, _, s| if matches!(l, Knee | Hem) { 8.0 * (0.5 - s) } else { 0.0 },
    ),
    Case(
        "leg falls to the inside",
        |l, _, _, s| if matches!(l, Knee | Hem) { 8.0 * (0.5 - s) } else { 0.0 },
        8.0,
        // The thigh line falls with them: the whole leg is turned.
        |l, _, _, s| if matches!(l, Knee | Hem | Thigh) { 8.0 * (0.5 - s) } else { 0.0 },
    ),
    Case(
        "leg too long below the knee",
        |l, _, _, _| if l == Hem { 12.0 } else { 0.0 },
        -12.0,
        |l, v, _, _| if (l, v) == (Hem, Back) { 12.0 } else { 0.0 },
    ),
    Case(
        "leg too short below the knee",
        |l, _, _, _| if l == Hem { -12.0 } else { 0.0 },
        12.0,
        |l, _, _, _| if matches!(l, Hem | Knee) { -12.0 } else { 0.0 },
    ),
];

/// Rules that ask for nothing on the paper yet.
pub const LOOKS: &[Case] = &[
    Case(
        "waist sits low at the back",
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Back)) { 12.0 * inner(s) } else { 0.0 },
        12.0,
        // The waist is where it belongs.
        |l, v, _, s| if (l, v) == (Hip, Back) { 12.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "waist sits low at the front",
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Front)) { 12.0 * inner(s) } else { 0.0 },
        12.0,
        |l, v, _, s| if (l, v) == (Hip, Front) { 12.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "waist sits low all round",
        |l, v, _, _| if matches!((l, v), (Waist | Hip, Back)) { 12.0 } else { 0.0 },
        12.0,
        // Only the centre is low.
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Back)) { 12.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "waist sits high at the back",
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Back)) { -12.0 * inner(s) } else { 0.0 },
        -12.0,
        |l, v, _, s| if (l, v) == (Hip, Back) { -12.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "waist sits high at the front",
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Front)) { -12.0 * inner(s) } else { 0.0 },
        -12.0,
        |l, v, _, s| if (l, v) == (Hip, Front) { -12.0 * inner(s) } else { 0.0 },
    ),
];

/// Rules of where the waist sits, once it lies on a tape round the wearer's: before, the waist
/// comes first.
pub const ON_TAPE: &[Case] = &[
    Case(
        "waist dips at the back",
        |l, v, _, s| if (l, v) == (Waist, Back) { 12.0 * inner(s) } else { 0.0 },
        12.0,
        // The whole back hangs lower at the centre.
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Back)) { 12.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "waist dips at the front",
        |l, v, _, s| if (l, v) == (Waist, Front) { 9.0 * inner(s) } else { 0.0 },
        9.0,
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Front)) { 9.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "waist rises at the back",
        |l, v, _, s| if (l, v) == (Waist, Back) { -9.0 * inner(s) } else { 0.0 },
        -9.0,
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Back)) { -9.0 * inner(s) } else { 0.0 },
    ),
    Case(
        "waist rises at the front",
        |l, v, _, s| if (l, v) == (Waist, Front) { -9.0 * inner(s) } else { 0.0 },
        -9.0,
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Front)) { -9.0 * inner(s) } else { 0.0 },
    ),
];

/// Rules that the lines leave open and a sign brings forward: with it they are named, with
/// that of the other they are not.
pub const OPEN: &[(&str, Planted, Sign, Sign)] = &[
    (
        "full seat drags the waist down",
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Back)) { 12.0 * inner(s) } else { 0.0 },
        Sign::PullAcrossSeat,
        Sign::FoldUnderWaist,
    ),
    (
        "back too long below the waist",
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Back)) { 12.0 * inner(s) } else { 0.0 },
        Sign::FoldUnderWaist,
        Sign::PullAcrossSeat,
    ),
    (
        "front too long below the waist",
        |l, v, _, s| if matches!((l, v), (Waist | Hip, Front)) { 12.0 * inner(s) } else { 0.0 },
        Sign::BackSlack,
        Sign::FoldUnderWaist,
    ),
];

/// Rules that name a second cause of what another rule asks for in the same words.
pub const SECONDS: &[Case] = &[Case(
    "centre back leans too much",
    |l, v, _, s| if (l, v) == (Thigh, Back) { 9.525 * bow(s) } else { 0.0 },
    4.7625,
    |l, v, _, s| if matches!((l, v), (Thigh | Hip, Back)) { 9.525 * bow(s) } else { 0.0 },
)];
