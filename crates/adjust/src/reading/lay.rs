//! Laying the change a rule asks for on the pattern, at the place and by the
//! amount that was read.

use super::droop::{HangLine, PieceView};
use super::offer::{LEAST_PINNED, RUN_OUT};
use super::rule::{Answer, Rule, UsualMethod};
use super::value::{Sum, Toile};
use crate::corrections::Correction;
use crate::{
    Change, ChangeError, Method, PartLegs, Pinch, PinchChange, PinchPath, SlashAndLap, Station,
    StationPlace, TopAndScoop, legs_named,
};
use hangtrue_pattern::Leg;
use hangtrue_pattern::{Pattern, names};
use hangtrue_pattern::{units::Unit, words::InUnit};

/// A change laid ready, and what is to be said about it.
pub(super) struct Prepared {
    /// What has to be done before it: parting the legs.
    pub(super) first: Option<Change>,
    pub(super) change: Option<Change>,
    pub(super) notes: Vec<String>,
    pub(super) can_be_made: bool,
}

/// Lays the change; one that cannot be made as it stands is laid all the same,
/// with the reason, for the maker to edit.
pub(super) fn change(
    rule: &Rule,
    toile: &Toile<'_>,
    legs: &[Leg],
    amount: f64,
    pattern: &Pattern,
    unit: Unit,
) -> Prepared {
    let nothing =
        |why: String| Prepared { first: None, change: None, notes: vec![why], can_be_made: false };
    // What only one leg shows is changed there alone once the legs are apart.
    let alone = match legs {
        [leg] if pattern.is_apart() => Some(of_pattern(*leg)),
        _ => None,
    };
    let mut first = None;
    let laid = match &rule.change {
        Answer::Look(what) => return nothing(what.clone()),
        Answer::Correct(name) => {
            Correction::named(name, amount).map(|c| Change::Correct(c).on_leg(alone))
        }
        Answer::OneLeg { leg, correct, times } => {
            first = (!pattern.is_apart()).then_some(Change::PartLegs(PartLegs));
            let leg = Some(leg.leg(amount));
            Correction::named(correct, times * amount.abs()).map(|c| Change::Correct(c).on_leg(leg))
        }
        Answer::Pinch { along, against, method } => {
            let stations = stations(toile, rule.view, legs, *along, *against);
            let seen = legs_named(pattern, rule.view.piece());
            let seen = seen.iter().find(|s| alone.is_none() || s.0 == alone);
            let Some((_, one)) = seen else {
                return nothing(format!("There is no {} of that leg.", rule.view.piece()));
            };
            match pinch(rule, *along, stations, one, unit) {
                Ok(pinch) => {
                    let change = PinchChange { pinch, method: usual(*method, unit) };
                    Ok(Change::Pinch(change).on_leg(alone))
                }
                Err(why) => return nothing(why),
            }
        }
    };
    match laid {
        Ok(change) => {
            let notes = match tried(first.as_ref(), &change, pattern) {
                Ok(()) => Vec::new(),
                Err(why) => {
                    vec![format!("The change cannot be made as it stands: {}", why.in_unit(unit))]
                }
            };
            let can_be_made = notes.is_empty();
            Prepared { first, change: Some(change), notes, can_be_made }
        }
        Err(why) => nothing(why.in_unit(unit)),
    }
}

/// Whether the change can be made, after what has to be done before it.
fn tried(first: Option<&Change>, change: &Change, pattern: &Pattern) -> Result<(), ChangeError> {
    match first {
        Some(first) => change.apply(&first.apply(pattern)?.pattern)?,
        None => change.apply(pattern)?,
    };
    Ok(())
}

fn of_pattern(leg: Leg) -> hangtrue_pattern::Leg {
    match leg {
        Leg::Left => hangtrue_pattern::Leg::Left,
        Leg::Right => hangtrue_pattern::Leg::Right,
    }
}

fn usual(method: UsualMethod, unit: Unit) -> Method {
    match method {
        UsualMethod::TopAndScoop => Method::TopAndScoop(TopAndScoop::usual(unit)),
        UsualMethod::SlashAndLap => Method::SlashAndLap(SlashAndLap::default()),
    }
}

/// The stations of the pinch: share from the inner end, and mm; the mean of the
/// legs that show it.
fn stations(
    toile: &Toile<'_>,
    view: PieceView,
    legs: &[Leg],
    along: HangLine,
    against: Option<HangLine>,
) -> Vec<(f64, f64)> {
    let mine = |d: &&super::Droop| {
        d.line == along
            && d.view == view
            && legs.contains(&d.leg)
            && (RUN_OUT..=1.0 - RUN_OUT).contains(&d.at)
    };
    let mut shares: Vec<f64> =
        toile.places.iter().map(|o| &o.droop).filter(mine).map(|d| d.at).collect();
    if shares.is_empty() {
        shares.push(0.5);
    }
    shares.dedup_by(|a, b| *a - *b < super::droop::SAME_PLACE);
    let hangs = |share: f64, leg: Leg| -> Option<f64> {
        let mut sum = bow_at(toile, along, view, leg, share)?;
        if let Some(level) = against.and_then(|l| bow_at(toile, l, view, leg, share)) {
            sum = sum.plus(-1.0, &level);
        }
        Some(toile.measure(&sum).0)
    };
    let mean = |share: f64| {
        let all: Vec<f64> = legs.iter().filter_map(|&leg| hangs(share, leg)).collect();
        all.iter().sum::<f64>() / all.len().max(1) as f64
    };
    let all: Vec<(f64, f64)> = shares.into_iter().map(|s| (s, mean(s))).collect();
    let most = all.iter().map(|s| s.1).fold(0.0, |a: f64, b| if b.abs() > a.abs() { b } else { a });
    all.into_iter().filter(|s| s.1 * most.signum() >= LEAST_PINNED).collect()
}

/// How far the line hangs below the straight between its ends at a share.
fn bow_at(toile: &Toile<'_>, line: HangLine, view: PieceView, leg: Leg, share: f64) -> Option<Sum> {
    let at = |s: f64| toile.at(line, view, leg, s);
    Some(at(share)?.plus(share - 1.0, &at(0.0)?).plus(-share, &at(1.0)?))
}

/// The pinch along the pattern's own line of that name.
fn pinch(
    rule: &Rule,
    along: HangLine,
    stations: Vec<(f64, f64)>,
    pattern: &Pattern,
    unit: Unit,
) -> Result<Pinch, String> {
    let piece = rule.view.piece();
    let marked = match along {
        HangLine::Hip => names::HIP_BALANCE,
        HangLine::Thigh => names::THIGH,
        HangLine::Knee => names::KNEE,
        HangLine::Waist | HangLine::Hem => {
            return Err(format!("A pinch does not run along the {}.", along.name()));
        }
    };
    let line = pattern.place_line(piece, marked).map_err(|why| {
        format!("The pinch would run along the {marked} line of the {piece}, which cannot be placed: {}", why.in_unit(unit))
    })?;
    let from_side = line.ends.first().is_some_and(|end| end.seam == names::SIDE);
    let mut stations: Vec<Station> = stations
        .into_iter()
        .map(|(share, amount)| {
            let share = if from_side { 1.0 - share } else { share };
            Station { at: StationPlace::Share(share), amount }
        })
        .collect();
    if from_side {
        stations.reverse();
    }
    Ok(Pinch {
        name: rule.name.clone(),
        piece: piece.into(),
        path: PinchPath::Line(marked.into()),
        stations,
    })
}
