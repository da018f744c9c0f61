//! Where one pattern lies elsewhere than another, told as a maker tells it: which corner or
//! line moved up or down, in or out, and which seam is longer or shorter.

use hangtrue_geometry::{Point, Vec2};
use hangtrue_pattern::{
    Pattern, Piece, PlacedLine, words,
    words::{Length, Words},
};
use serde::Serialize;

/// What moves, or becomes longer, by less than this is not told, mm: nobody cuts it.
pub const MOVED: f64 = 0.5;

/// A thing of a piece that lies elsewhere, or has another length.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Moved {
    /// The piece.
    pub piece: String,
    /// What of it.
    pub what: What,
}

/// What moved and how, mm.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum What {
    /// A corner of the outline.
    Corner {
        /// Its name.
        name: String,
        /// Along the grain; down is negative.
        up: f64,
        /// Square to it, away from the middle of the piece, which becomes wider there; in is
        /// negative.
        out: f64,
    },
    /// A seam, as it is sewn.
    Seam {
        /// Its name.
        name: String,
        /// Shorter is negative.
        longer: f64,
    },
    /// A line.
    Line {
        /// Its name.
        name: String,
        /// At each of its ends, and the seam it meets there; down is negative.
        up: [(String, f64); 2],
    },
}

impl Moved {
    /// It in words, without the piece: “waist at side: 6 mm down, 4 mm out”.
    pub fn words(&self) -> Words {
        match &self.what {
            What::Corner { name, up, out } => {
                let ways = [(*up, ["up", "down"]), (*out, ["out", "in"])];
                let mut told = ways.into_iter().filter(|w| w.0.abs() >= MOVED).map(way);
                let first = told.next().unwrap_or_else(|| "hardly moved".into());
                let all =
                    told.fold(words![name.as_str(), ": ", first], |all, w| words![all, ", ", w]);
                words![all]
            }
            What::Seam { name, longer } => {
                words![name.as_str(), ": ", way((*longer, ["longer", "shorter"]))]
            }
            What::Line { name, up: [(inner, a), (outer, b)] } => {
                let line = words![name.as_str(), " line: "];
                let up = |mm: f64| match mm.abs() < MOVED {
                    true => "not moved".into(),
                    false => way((mm, ["up", "down"])),
                };
                if (a - b).abs() < MOVED {
                    return words![line, up((a + b) / 2.0)];
                }
                words![
                    line,
                    up(*a),
                    " at the ",
                    inner.as_str(),
                    ", ",
                    up(*b),
                    " at the ",
                    outer.as_str()
                ]
            }
        }
    }
}

/// How far, and which way: the first word when it is positive.
fn way((mm, [plus, minus]): (f64, [&str; 2])) -> Words {
    words![Length(mm.abs()), " ", if mm > 0.0 { plus } else { minus }]
}

/// What of the newer pattern lies elsewhere than in the older, piece by piece: corners, then
/// seams, then lines. What only one of them has is left out.
pub fn moved(old: &Pattern, new: &Pattern) -> Vec<Moved> {
    let (old, new) = (old.apart_like(new), new.apart_like(old));
    let (lines_before, lines_now) = (old.place_lines().0, new.place_lines().0);
    let mut all = Vec::new();
    for piece in &new.pieces {
        let Ok(was) = old.piece(&piece.name) else { continue };
        let corners = corners(was, piece).chain(seams(was, piece));
        let on = |l: &&PlacedLine| l.piece == piece.name;
        let lines = lines_now.iter().filter(on).filter_map(|now| {
            let before = lines_before.iter().filter(on).find(|l| l.name == now.name)?;
            line(before, now, was.grain.direction())
        });
        let whats = corners.chain(lines);
        all.extend(whats.map(|what| Moved { piece: piece.name.clone(), what }));
    }
    all
}

fn corners<'a>(was: &'a Piece, piece: &'a Piece) -> impl Iterator<Item = What> + 'a {
    let along = was.grain.direction();
    let middle = was.bounds().center();
    piece.corners().filter_map(move |(name, at)| {
        let before = was.corner(name).ok()?;
        let (up, across) = split(at - before, along);
        let side = split(before - middle, along).1;
        let out = across * side.signum();
        let is_told = up.abs() >= MOVED || out.abs() >= MOVED;
        is_told.then(|| What::Corner { name: name.to_owned(), up, out })
    })
}

/// A way along the grain and square to it.
fn split(by: Vec2, along: Vec2) -> (f64, f64) {
    (by.dot(along), along.cross(by))
}

fn seams<'a>(was: &'a Piece, piece: &'a Piece) -> impl Iterator<Item = What> + 'a {
    piece.seams.iter().filter_map(|seam| {
        let longer = seam.sewn_length() - was.seam(&seam.name).ok()?.sewn_length();
        (longer.abs() >= MOVED).then(|| What::Seam { name: seam.name.clone(), longer })
    })
}

fn line(before: &PlacedLine, now: &PlacedLine, along: Vec2) -> Option<What> {
    let ends = |l: &PlacedLine| [l.chain.start(), l.chain.end()];
    let [start, end]: [(Point, Point); 2] = {
        let ([a, b], [c, d]) = (ends(before), ends(now));
        [(a, c), (b, d)]
    };
    let up = |(from, to): (Point, Point)| split(to - from, along).0;
    let (a, b) = (up(start), up(end));
    if a.abs() < MOVED && b.abs() < MOVED {
        return None;
    }
    // The ends in order along the line; one that meets no seam has no name.
    let seam = |at: Option<&hangtrue_pattern::LineEnd>, else_: &str| {
        at.map_or_else(|| else_.to_owned(), |end| end.seam.clone())
    };
    let (first, last) = (seam(now.ends.first(), "one end"), seam(now.ends.last(), "other end"));
    Some(What::Line { name: now.name.clone(), up: [(first, a), (last, b)] })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Draw, MoveCorner};
    use crate::{Correction, UsualDepths, sample, usual_lines, with_pulled_length};
    use hangtrue_pattern::names;

    fn with_lines() -> Pattern {
        let mut pattern = sample::pattern();
        pattern.lines = usual_lines(&pattern, UsualDepths::default()).unwrap().into();
        pattern
    }

    #[test]
    fn nothing_moved_is_nothing_told() {
        let pattern = with_lines();
        assert_eq!(moved(&pattern, &pattern), []);
    }

    /// A correction and its opposite are told with opposite words, and each by what the
    /// outline itself says.
    #[test]
    fn a_correction_and_its_opposite_go_opposite_ways() {
        let pattern = with_lines();
        let made = |amount: f64| {
            let correction = Correction::named("full seat", amount).unwrap();
            crate::Change::Correct(correction).apply(&pattern).unwrap().pattern
        };
        let (more, less) = (made(12.0), made(-12.0));
        let ways = |to: &Pattern| -> Vec<(String, f64)> {
            let all = moved(&pattern, to).into_iter();
            let seams = all.filter_map(|m| match m.what {
                What::Seam { name, longer } => Some((format!("{} {name}", m.piece), longer)),
                _ => None,
            });
            seams.collect()
        };
        let (more, less) = (ways(&more), ways(&less));
        assert!(!more.is_empty() && !less.is_empty());
        for (name, longer) in &more {
            if let Some((_, other)) = less.iter().find(|l| l.0 == *name) {
                assert!(longer * other < 0.0, "{name}: {longer} and {other}");
            }
        }
    }

    #[test]
    fn a_corner_pulled_off_the_piece_is_told_out_and_one_pulled_down_is_told_down() {
        let pattern = with_lines();
        let back = pattern.piece(names::BACK).unwrap();
        let (name, at) = (names::HEM_SIDE, back.corner(names::HEM_SIDE).unwrap());
        let along = back.grain.direction();
        let away =
            back.grain.square() * (at - back.bounds().center()).dot(back.grain.square()).signum();
        let to = at + away * 8.0 - along * 3.0;
        let step = MoveCorner { piece: names::BACK.into(), corner: name.into(), to };
        let wider = Draw::MoveCorner(step).apply(&pattern).unwrap().pattern;
        let found = moved(&pattern, &wider).into_iter().find_map(|m| match m.what {
            What::Corner { name: n, up, out } if n == name && m.piece == names::BACK => {
                Some((up, out))
            }
            _ => None,
        });
        let (up, out) = found.unwrap();
        assert!((up + 3.0).abs() < 1e-6 && (out - 8.0).abs() < 1e-6, "{up} {out}");
    }

    #[test]
    fn a_line_set_lower_is_told_down() {
        let pattern = with_lines();
        let mut lower = pattern.clone();
        let mut lines: Vec<_> = pattern.lines.iter().cloned().collect();
        for line in
            lines.iter_mut().filter(|l| l.piece == names::BACK && l.name == names::HIP_BALANCE)
        {
            let now = crate::pulled_length(&line.rule);
            if let Some(now) = now {
                line.rule = with_pulled_length(&line.rule, now + 10.0);
                line.last = None;
            }
        }
        lower.lines = lines.into();
        let told = moved(&pattern, &lower);
        let line = told.iter().find_map(|m| match &m.what {
            What::Line { name, up } if name == names::HIP_BALANCE => Some((m, [up[0].1, up[1].1])),
            _ => None,
        });
        let (line, [a, b]) = line.unwrap();
        assert_eq!(line.piece, names::BACK);
        // Along slanted seams it is a little less than what it was set by.
        assert!([a, b].iter().all(|up| (-10.01..=-8.5).contains(up)), "{a} {b}");
        assert!(line.words().to_string().contains(" down"), "{}", line.words());
    }
}
