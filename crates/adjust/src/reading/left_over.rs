//! The droops split: as measured, of that at home, left over. A line of a toile that
//! fits does not hang level on a tapered leg; the rules look at what is left over.

use super::SettledHome;
use super::droop::{Droop, HangLine, PieceView};
use crate::{HomeShape, home_shapes};
use hangtrue_pattern::Leg;
use hangtrue_pattern::units::{Unit, show_margin, show_measured};
use hangtrue_pattern::{Pattern, names};
use serde::Serialize;

/// A station of a line, split. All in mm, a rise negative.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Split {
    /// How far across, from 0 at the inner end to 1 at the side seam.
    pub at: f64,
    /// As measured.
    pub measured: f64,
    /// What it does there on a toile that fits; 0 when that is not known.
    pub home: f64,
    /// Measured less home.
    pub left_over: f64,
    /// ± of what is left over: of the measuring and of the home shape.
    pub error: f64,
}

/// A line as it was read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LineRead {
    /// The line.
    pub line: HangLine,
    /// From where it was seen.
    pub view: PieceView,
    /// The leg.
    pub leg: Leg,
    /// Its stations, from the inner end.
    pub places: Vec<Split>,
    /// Whether its home shape is known: the line lies on the pattern of the toile.
    pub home_known: bool,
    /// Whether that is of a toile settled on the body, not of the closed form.
    pub home_settled: bool,
    /// What may be said of it.
    pub says: Says,
}

/// What may be said of a line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Says {
    /// Read at both ends and in the middle, and each place within its ±.
    Home,
    /// Off by more than its ±, most at this place.
    Off(Split),
    /// Within its ± where it was read, but not read from end to end.
    Partly,
}

impl LineRead {
    /// The line in words: what it does, and where most.
    pub fn words(&self, unit: Unit) -> String {
        self.words_of(&self.leg_words(), unit)
    }

    /// Lines in words, one that does the same on both legs said once.
    pub fn words_of_all<'a>(lines: impl Iterator<Item = &'a Self>, unit: Unit) -> Vec<String> {
        let alike = |a: &Self, b: &Self| a.words_of("", unit) == b.words_of("", unit);
        let once = Self::alike_once(lines.collect(), alike);
        once.into_iter().map(|(line, leg)| line.words_of(&leg, unit)).collect()
    }

    /// The lines, one that is alike on both legs once, and of which leg each is.
    fn alike_once(lines: Vec<&Self>, alike: impl Fn(&Self, &Self) -> bool) -> Vec<(&Self, String)> {
        let of_both = |a: &Self, b: &Self| {
            (a.view, a.line) == (b.view, b.line) && a.leg != b.leg && alike(a, b)
        };
        let mut once = Vec::new();
        for (index, line) in lines.iter().enumerate() {
            if lines[..index].iter().any(|before| of_both(before, line)) {
                continue;
            }
            let both = lines[index + 1..].iter().any(|other| of_both(line, other));
            once.push((*line, if both { "both legs".into() } else { line.leg_words() }));
        }
        once
    }

    fn leg_words(&self) -> String {
        format!("{} leg", self.leg.word())
    }

    /// Lines split place by place, one that is the same on both legs once: what it is
    /// called, and for each place where it lies, as measured, what it does there on a toile
    /// that fits, and what is left over with its ±.
    pub fn split_of_all(lines: &[Self], unit: Unit) -> Vec<(String, Vec<[String; 4]>)> {
        let alike = |a: &Self, b: &Self| a.split_rows(unit) == b.split_rows(unit);
        let name = |line: &Self, leg| format!("{} {}, {leg}", line.view.piece(), line.line.name());
        let once = Self::alike_once(lines.iter().collect(), alike);
        once.into_iter().map(|(line, leg)| (name(line, leg), line.split_rows(unit))).collect()
    }

    fn split_rows(&self, unit: Unit) -> Vec<[String; 4]> {
        let signed = |mm| super::value::signed(mm, unit);
        let row = |p: &Split| {
            let home = if self.home_known { signed(p.home) } else { "not known".into() };
            let margin = show_margin(p.error, unit);
            let left = format!("{} ± {margin}", signed(p.left_over));
            [place_words(self.line, p.at), signed(p.measured), home, left]
        };
        self.places.iter().map(row).collect()
    }

    fn words_of(&self, leg: &str, unit: Unit) -> String {
        let name = format!("{leg}, {} {}", self.view.piece(), self.line.name());
        let widest = self.places.iter().fold(0.0, |a: f64, p| a.max(p.error));
        let found = match self.says {
            Says::Home if self.home_known => self.home_words(unit),
            Says::Home => format!("level within ± {}", show_margin(widest, unit)),
            Says::Partly => format!(
                "nothing off where it was read ({}), but it was not read from end to end: measure it at the {}, in the middle and at the side seam",
                match self.places.len() {
                    1 => "one place".into(),
                    n => format!("{n} places"),
                },
                self.line.inner_end()
            ),
            Says::Off(most) => {
                let way = if most.left_over > 0.0 { "low" } else { "high" };
                let home = if self.home_known {
                    let hangs = super::value::signed(most.home, unit);
                    let by = if self.home_settled { " (worked out on the body)" } else { "" };
                    format!("; on a toile that fits{by}, this line hangs {hangs} there")
                } else {
                    String::new()
                };
                format!(
                    "{} ± {} too {way} {}: measured {}{home}",
                    show_measured(most.left_over.abs(), unit),
                    show_margin(most.error, unit),
                    place_words(self.line, most.at),
                    super::value::signed(most.measured, unit),
                )
            }
        };
        format!("{name}: {found}.")
    }

    /// A line within its ± of home, with what is left over where that is most: it may
    /// be nothing, or as much as a pinch.
    fn home_words(&self, unit: Unit) -> String {
        let most =
            self.places.iter().max_by(|a, b| a.left_over.abs().total_cmp(&b.left_over.abs()));
        most.map_or_else(String::new, |most| {
            format!(
                "hangs as on a toile that fits, within its ±: {}, left over {} ± {}",
                place_words(self.line, most.at),
                super::value::signed(most.left_over, unit),
                show_margin(most.error, unit)
            )
        })
    }
}

/// Where a share of a line lies, in words.
pub fn place_words(line: HangLine, at: f64) -> String {
    const NEAR: f64 = 0.02;
    match at {
        at if at < NEAR => format!("at the {}", line.inner_end()),
        at if at > 1.0 - NEAR => "at the side seam".into(),
        at if (at - 0.5).abs() < NEAR => "in the middle".into(),
        at => format!("at {:.0} % of the way to the side", 100.0 * at),
    }
}

/// A droop less what its line does there at home.
#[derive(Debug, Clone)]
pub(super) struct LeftOver {
    /// Left over; its ± is that of the measuring alone.
    pub droop: Droop,
    /// How far home may be off there.
    pub shares: Vec<HomeShare>,
}

/// One of the ways in which home may be off at a place, two standard deviations, mm. The
/// same way of the same line is off alike on both legs and along the line: it does not
/// become less by reading more places.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct HomeShare {
    pub line: HangLine,
    pub view: PieceView,
    pub what: HomeWay,
    pub error: f64,
}

impl HomeShare {
    /// Whether both are off together.
    pub(super) fn is_of(&self, other: &Self) -> bool {
        (self.line, self.view, self.what) == (other.line, other.view, other.what)
    }
}

/// In what home may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum HomeWay {
    /// How much the line hangs in a bow.
    Bow,
    /// How much its inner end hangs lower than its side end.
    Tilt,
    /// How a step at a seam is shared.
    Step,
    /// A place of a toile that was settled, in parts of [`PLACES`].
    Place(u32),
}

/// Places of a settled line nearer to each other than this part of it are one.
const PLACES: f64 = 20.0;

/// The ± of what is off in several ways, mm.
fn of_shares(shares: &[HomeShare]) -> f64 {
    shares.iter().map(|s| s.error * s.error).sum::<f64>().sqrt()
}

/// The home shapes of the lines of the toile that was read.
pub(super) struct Homes<'a> {
    toile: &'a Pattern,
    shapes: Vec<HomeShape>,
    settled: &'a [SettledHome],
}

impl<'a> Homes<'a> {
    /// The closed form, and before it what was settled.
    pub(super) fn of(toile: &'a Pattern, settled: &'a [SettledHome]) -> Self {
        Self { toile, shapes: home_shapes(toile), settled }
    }

    fn settled(&self, line: HangLine, view: PieceView, leg: Leg) -> Option<&SettledHome> {
        self.settled.iter().find(|h| (h.line, h.view, h.leg) == (line, view, leg))
    }

    fn shape(&self, line: HangLine, view: PieceView, leg: Leg) -> Option<&HomeShape> {
        if line == HangLine::Waist {
            return None;
        }
        let leg = match leg {
            Leg::Left => hangtrue_pattern::Leg::Left,
            Leg::Right => hangtrue_pattern::Leg::Right,
        };
        let piece = match self.toile.is_apart() {
            true => self.toile.piece_for(leg, view.piece())?,
            false => view.piece(),
        };
        self.shapes.iter().find(|s| s.piece == piece && s.line == line.name())
    }

    /// The waist is held by its band, and level is where the band is.
    fn is_known(&self, line: HangLine, view: PieceView, leg: Leg) -> bool {
        self.at((line, view, leg, 0.5)).is_some()
    }

    /// How a droop's place hangs at home, mm, and the shares of its ±. Where the waist was cut
    /// lower since the hip balance line was marked, either it lies so much lower on the body, or
    /// it is level and has drawn the line up by as much: whatever lies between is at home.
    fn of_droop(&self, d: &Droop) -> Option<(f64, Vec<HomeShare>)> {
        let (home, shares) = self.with_shares((d.line, d.view, d.leg, d.at))?;
        let lower = match d.line {
            HangLine::Waist => self.waist_cut_lower(d.view, d.leg, d.at),
            HangLine::Hip => -self.waist_cut_lower(d.view, d.leg, d.at),
            _ => return Some((home, shares)),
        };
        Some((home + (d.mm - home).clamp(lower.min(0.0), lower.max(0.0)), shares))
    }

    /// How much lower the waist was cut there since the hip balance line was marked, mm: so far
    /// below its place on the cloth a line at equal depth would lie now.
    fn waist_cut_lower(&self, view: PieceView, leg: Leg, at: f64) -> f64 {
        let own = self.toile.is_apart().then(|| self.toile.piece_for(leg, view.piece())).flatten();
        let piece = own.unwrap_or(view.piece());
        let Some(ends) = crate::on_cloth::rule_below_ends(self.toile, piece, names::HIP_BALANCE)
        else {
            return 0.0;
        };
        let [inner, side] = match &ends {
            [(seam, first), (_, last)] if seam == names::SIDE => [*last, *first],
            [(_, first), (_, last)] => [*first, *last],
        };
        inner * (1.0 - at) + side * at
    }

    /// How a place hangs at home, and ±, mm.
    pub(super) fn at(&self, place: super::LinePlace) -> Option<(f64, f64)> {
        self.with_shares(place).map(|(home, shares)| (home, of_shares(&shares)))
    }

    /// How a place hangs at home, mm, and the shares of its ±.
    fn with_shares(
        &self,
        (line, view, leg, at): super::LinePlace,
    ) -> Option<(f64, Vec<HomeShare>)> {
        if line == HangLine::Waist {
            return Some((0.0, Vec::new()));
        }
        let share = |what, error| HomeShare { line, view, what, error };
        if let Some((home, error)) = self.settled(line, view, leg).and_then(|home| home.at(at)) {
            let here = HomeWay::Place((at * PLACES).round() as u32);
            return Some((home, vec![share(here, error)]));
        }
        let shape = self.shape(line, view, leg)?;
        let [bow, tilt, step] = shape.errors_from_inner(at);
        let shares =
            vec![share(HomeWay::Bow, bow), share(HomeWay::Tilt, tilt), share(HomeWay::Step, step)];
        Some((shape.below_side(at), shares))
    }

    fn split(&self, d: &Droop) -> Split {
        let (home, shares) = self.of_droop(d).unwrap_or_default();
        let its_error = of_shares(&shares);
        let (left_over, error) = (d.mm - home, d.error.hypot(its_error));
        Split { at: d.at, measured: d.mm, home, left_over, error }
    }

    /// What is left over of each droop, with the ± of the measuring and the shares of that
    /// of home.
    pub(super) fn left_over(&self, droops: &[Droop]) -> Vec<LeftOver> {
        let over = |d: &Droop| {
            let (home, shares) = self.of_droop(d).unwrap_or_default();
            LeftOver { droop: Droop { mm: d.mm - home, ..*d }, shares }
        };
        droops.iter().map(over).collect()
    }

    /// The lines that were read, with what may be said of each.
    pub(super) fn lines(&self, droops: &[Droop]) -> Vec<LineRead> {
        let mut lines = Vec::new();
        for line in HangLine::ALL {
            for (view, leg) in PieceView::ALL.into_iter().flat_map(|v| Leg::BOTH.map(|l| (v, l))) {
                let mine = droops.iter().filter(|d| (d.line, d.view, d.leg) == (line, view, leg));
                let places: Vec<Split> = mine.map(|d| self.split(d)).collect();
                if !places.is_empty() {
                    let home_known = self.is_known(line, view, leg);
                    let home_settled = self.settled(line, view, leg).is_some();
                    let says = says(&places);
                    let read = LineRead { line, view, leg, places, home_known, home_settled, says };
                    lines.push(read);
                }
            }
        }
        lines
    }
}

fn says(places: &[Split]) -> Says {
    let times = |p: &Split| p.left_over.abs() / p.error;
    let worst = places.iter().max_by(|a, b| times(a).total_cmp(&times(b)));
    if let Some(worst) = worst.filter(|w| times(w) > 1.0) {
        return Says::Off(*worst);
    }
    let read = |share: f64, near: f64| places.iter().any(|p| (p.at - share).abs() <= near);
    let near = super::value::NEAR_END;
    match read(0.0, near) && read(0.5, near) && read(1.0, near) {
        true => Says::Home,
        false => Says::Partly,
    }
}
