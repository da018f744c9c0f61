//! What is told of a line, and how far it may be wrong.

use super::on_body::LineOnBody;
use super::shares::{at, share, weights};
use super::{SHARES, Within};

/// What is told of a line, in one row, so that it can be told again with
/// something else taken.
pub(super) struct Figures {
    pub(super) below_last: [f64; SHARES],
    pub(super) sag: [f64; SHARES],
    pub(super) slope: f64,
    pub(super) turn: f64,
    pub(super) mm_per_pixel: f64,
}

/// Shares between which the slopes on both sides of the middle are taken.
pub(super) const HALVES: [(usize, usize); 2] = [(1, SHARES / 2), (SHARES / 2, SHARES - 2)];

pub(super) fn figures_of(laid: &LineOnBody) -> Figures {
    let told: Vec<f64> =
        (0..SHARES).map(|i| at(&weights(&laid.shares, share(i)), &laid.heights)).collect();
    let (first, last) = (told[0], told[SHARES - 1]);
    let mut below_last = [0.0; SHARES];
    let mut sag = [0.0; SHARES];
    for i in 0..SHARES {
        below_last[i] = last - told[i];
        sag[i] = first + share(i) * (last - first) - told[i];
    }
    // The slope is told against the way along the line, as far as it goes across.
    let slopes = HALVES.map(|(a, b)| (told[b] - told[a]) / ((share(b) - share(a)) * laid.across));
    Figures {
        below_last,
        sag,
        slope: (last - first).atan2(laid.across).to_degrees(),
        turn: (slopes[1].atan() - slopes[0].atan()).to_degrees(),
        mm_per_pixel: laid.mm_per_pixel,
    }
}

/// Adds up what each unsure thing does to one told value: two standard deviations.
pub(super) fn within(
    base: &Figures,
    others: &[[Figures; 2]],
    traced: f64,
    of: impl Fn(&Figures) -> f64,
) -> Within {
    let squares: f64 = others.iter().map(|[up, down]| ((of(up) - of(down)) / 2.0).powi(2)).sum();
    Within { value: of(base), error: 2.0 * (squares + traced * traced).sqrt() }
}
