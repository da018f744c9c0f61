//! What is drawn over a marked photo: the level through the end of each line, the
//! line as it hangs, and arrows from the one to the other with their amounts. The
//! same for the desk, for a picture file and for the journal; places in pixels of
//! the kept photo.

use super::marked::leg_words;
use super::{ReadPhoto, told_at};
use crate::print::{Weight, width_of};
use hangtrue_adjust::worn::{Hang, HangStation, LegSeen, View};
use hangtrue_geometry::{Point, Rect, Vec2};
use hangtrue_pattern::units::{Unit, least_shown, show_margin, show_measured};

/// Which way a line hangs from level at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Below it.
    Droop,
    /// Above it.
    Rise,
    /// Neither, as far as the maker's unit shows.
    Level,
}

/// A part of the overlay.
#[derive(Debug, Clone, PartialEq)]
pub enum Drawn {
    /// The level through the end of a line, to be drawn broken.
    Level(Vec<Point>),
    /// A line as it hangs.
    Line(Vec<Point>),
    /// A part of a line that is not told, or where the cloth turns too far away to be read
    /// well, to be drawn faint.
    Faint(Vec<Point>),
    /// From the level to the line.
    Arrow {
        /// On the level.
        from: Point,
        /// On the line.
        to: Point,
        /// Which way.
        way: Way,
    },
    /// Words on a plate, with a thin leader to what they tell of.
    Plate {
        /// The plate.
        place: Rect,
        /// The words, on one line.
        words: String,
        /// Where the leader ends.
        tells_of: Point,
        /// Which way; none for the name of a line.
        way: Option<Way>,
    },
}

/// Cloth that is this many times longer than it looks is drawn faint: it turns 70°
/// from the view.
pub const FAINT: f64 = 3.0;

/// The stations that get words, in this order while there is room: more cannot be
/// read on one photo, and the table tells all of them.
const ORDER: [usize; 5] = [MIDDLE, 2, 6, 0, 8];
const MIDDLE: usize = 4;

/// A plate's height and the room beside its words, in letter sizes.
const HIGH: f64 = 1.5;
const BESIDE: f64 = 0.4;

/// A droop or rise in words: `droop 3/8 in ± 1/16`. The ± is rounded up, so that it
/// never says more than is known.
pub fn hang_words(mm: f64, error: f64, unit: Unit) -> String {
    let (way, amount) = (way_of(mm, unit), show_measured(mm.abs(), unit));
    let error = error_words(error, unit);
    match way {
        Way::Level => format!("level ± {error} {}", unit_word(unit)),
        Way::Droop => format!("droop {amount} ± {error}"),
        Way::Rise => format!("rise {amount} ± {error}"),
    }
}

/// Which way a line hangs, as far as the unit shows.
pub fn way_of(mm: f64, unit: Unit) -> Way {
    match mm {
        _ if mm.abs() < least_shown(unit) / 2.0 => Way::Level,
        _ if mm > 0.0 => Way::Droop,
        _ => Way::Rise,
    }
}

fn error_words(mm: f64, unit: Unit) -> String {
    show_margin(mm, unit).trim_end_matches(unit_word(unit)).trim().to_owned()
}

fn unit_word(unit: Unit) -> &'static str {
    match unit {
        Unit::Mm => "mm",
        Unit::Cm => "cm",
        _ => "in",
    }
}

/// Where a station lies, in words: from the inseam to the side on one leg.
pub fn place_words(hang: &Hang, share: f64) -> String {
    let near = |s: f64| (share - s).abs() < 1e-6;
    let one_leg = hang.leg != LegSeen::Both && matches!(hang.view, View::Back | View::Front);
    let [first, last] = match (one_leg, hang.view) {
        (true, _) => ["inseam", "side"],
        (false, View::Back) => ["left side", "right side"],
        (false, View::Front) => ["right side", "left side"],
        _ => ["left edge", "right edge"],
    };
    match share {
        _ if near(0.0) => first.to_owned(),
        _ if near(1.0) => last.to_owned(),
        _ if near(0.5) && one_leg => "middle".to_owned(),
        _ if near(0.5) => match hang.view {
            View::Back => "centre back".to_owned(),
            View::Front => "centre front".to_owned(),
            _ => "middle".to_owned(),
        },
        _ => format!("{:.0} % from the {first}", 100.0 * share),
    }
}

/// The overlay of a photo that was read, for letters of so many pixels of the photo.
/// No more amounts are written than have room.
pub fn overlay(read: &ReadPhoto, unit: Unit, letter: f64) -> Vec<Drawn> {
    let mut drawn = Vec::new();
    for (hang, line) in read.hangs.iter().zip(&read.photo.lines) {
        let level = hang.stations.iter().map(|s| s.level).collect();
        drawn.push(Drawn::Level(level));
        drawn.extend(line_parts(hang, &line.points));
    }
    let (width, height) = read.photo.size;
    let mut room = Room { page: Rect::new(0.0, 0.0, width, height), taken: Vec::new() };
    for index in ORDER {
        for hang in &read.hangs {
            let Some(station) = hang.stations.get(index) else { continue };
            drawn.extend(station_parts(hang, index, station, unit, letter, &mut room));
        }
    }
    drawn
}

/// The line, faint where the cloth turns away.
fn line_parts(hang: &Hang, points: &[Point]) -> Vec<Drawn> {
    let turned = |s: &&HangStation| s.turned < FAINT && s.not_told.is_none();
    let read: Vec<f64> = hang.stations.iter().filter(turned).map(|s| s.place.x).collect();
    let low = read.iter().copied().fold(f64::INFINITY, f64::min);
    let high = read.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let clear = |p: &Point| (low..=high).contains(&p.x);
    let mut parts: Vec<(bool, Vec<Point>)> = Vec::new();
    for point in points {
        let is_clear = clear(point);
        match parts.last_mut() {
            Some((was, run)) if *was == is_clear => run.push(*point),
            before => {
                // The parts meet.
                let joint = before.and_then(|b| b.1.last().copied());
                parts.push((is_clear, joint.into_iter().chain([*point]).collect()));
            }
        }
    }
    let part = |(is_clear, run)| if is_clear { Drawn::Line(run) } else { Drawn::Faint(run) };
    parts.into_iter().map(part).collect()
}

/// The free room of the page for plates.
struct Room {
    page: Rect,
    taken: Vec<Rect>,
}

impl Room {
    /// The first place that is free.
    fn take(&mut self, places: impl Iterator<Item = Rect>) -> Option<Rect> {
        let on_page = |r: &Rect| {
            r.x0 >= self.page.x0
                && r.y0 >= self.page.y0
                && r.x1 <= self.page.x1
                && r.y1 <= self.page.y1
        };
        let apart = |r: &Rect| self.taken.iter().all(|t| t.intersect(*r).area() <= 0.0);
        let free = places.into_iter().find(|r| on_page(r) && apart(r))?;
        self.taken.push(free);
        Some(free)
    }
}

/// The arrow and the words of a station, when there is room for the words.
fn station_parts(
    hang: &Hang,
    index: usize,
    station: &HangStation,
    unit: Unit,
    letter: f64,
    room: &mut Room,
) -> Vec<Drawn> {
    let is_last = index + 1 == hang.stations.len();
    if station.not_told.is_some() {
        return Vec::new();
    }
    let (mm, error) = told_at(hang, index);
    // What may as well be level gets its number, but no arrow.
    let way = if mm.abs() <= error { Way::Level } else { way_of(mm, unit) };
    if way == Way::Level && index != MIDDLE && !is_last {
        // That a line is level is said once.
        return Vec::new();
    }
    let words = if is_last {
        format!("{}, {}", hang.line, leg_words(hang.leg))
    } else {
        hang_words(mm, error, unit)
    };
    let size =
        Vec2::new(width_of(&words, Weight::Regular, letter) + 2.0 * BESIDE * letter, HIGH * letter);
    let (top, bottom) =
        (station.level.y.min(station.place.y), station.level.y.max(station.place.y));
    let x = station.place.x;
    // Out of the way of the line: above and below it, and at the end beside the body.
    let outward = match hang.stations.first() {
        Some(first) if is_last && first.place.x > x => vec![-0.5],
        Some(_) if is_last => vec![0.5],
        _ => vec![0.0, -0.25, 0.25],
    };
    let rows: [f64; 4] = [1.0, -1.0, 2.0, -2.0];
    let places = rows.into_iter().flat_map(|row| {
        let gap = letter * 0.8 + (row.abs() - 1.0) * size.y * 1.15;
        let y = if row > 0.0 { top - gap - size.y } else { bottom + gap };
        outward.iter().map(move |out| {
            let left = x + out * size.x - size.x / 2.0;
            Rect::from_origin_size((left, y), (size.x, size.y))
        })
    });
    let Some(place) = room.take(places) else { return Vec::new() };
    let mut parts = Vec::new();
    if !is_last && way != Way::Level {
        parts.push(Drawn::Arrow { from: station.level, to: station.place, way });
    }
    let tells_of = station.place;
    parts.push(Drawn::Plate { place, words, tells_of, way: (!is_last).then_some(way) });
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_told_with_their_direction_and_an_error_rounded_up() {
        let inch = Unit::Sixteenths;
        assert_eq!(hang_words(9.525, 1.2, inch), "droop 3/8 in ± 1/16");
        assert_eq!(hang_words(-9.4, 1.7, inch), "rise 3/8 in ± 1/8");
        assert_eq!(hang_words(0.3, 0.1, inch), "level ± 1/16 in");
        assert_eq!(hang_words(9.52, 1.21, Unit::Mm), "droop 9.5 mm ± 1.3");
        assert_eq!(hang_words(-0.02, 1.21, Unit::Mm), "level ± 1.3 mm");
    }

    #[test]
    fn plates_do_not_lie_on_each_other_and_stay_on_the_page() {
        let mut room = Room { page: Rect::new(0.0, 0.0, 100.0, 40.0), taken: Vec::new() };
        let rects = || {
            (0..5).map(|i| Rect::new(0.0, f64::from(i) * 10.0, 50.0, f64::from(i) * 10.0 + 15.0))
        };
        let first = room.take(rects()).unwrap();
        let second = room.take(rects()).unwrap();
        assert!(first.intersect(second).area() <= 0.0);
        assert_eq!(room.take(rects()), None, "the rest lies on them or beside the page");
    }
}
