//! What a file holds, whatever its kind: lines, points and words, in mm, y up.

use hangtrue_geometry::{Affine, Chain, PathSeg, Point};
use hangtrue_pattern::words::Words;
use std::collections::BTreeMap;

/// What a line is to the sewer, as far as the file says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The line the needle follows.
    Sew,
    /// The line the shears follow, or the only outline there is.
    Boundary,
    /// The mirror line.
    Mirror,
    /// The grainline.
    Grain,
    /// A notch.
    Notch,
    /// The legs of a dart.
    Dart,
    /// Another line inside the piece.
    Inner,
    /// The file does not say.
    Unsaid,
}

/// A line of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Where it runs, mm.
    pub chain: Chain,
    /// What it is.
    pub role: Role,
    /// Its own name in the file, or its layer's; may be empty.
    pub name: String,
    /// The group or block it lies in; empty for none.
    pub group: String,
    /// Our own note of seams and corners, from a file we wrote.
    pub seams: Option<String>,
}

/// What a point is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpotKind {
    /// A corner of the outline.
    Turn,
    /// A point on a curve of the outline.
    Curve,
    /// A notch.
    Notch,
}

/// A point of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// The place, mm.
    pub at: Point,
    /// What it is.
    pub kind: SpotKind,
    /// The group or block it lies in.
    pub group: String,
}

/// Words of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// What is written.
    pub text: String,
    /// The place, mm.
    pub at: Point,
    /// The group or block they lie in.
    pub group: String,
}

/// Everything found in a file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Found {
    /// The lines.
    pub runs: Vec<Run>,
    /// The points.
    pub spots: Vec<Spot>,
    /// The words.
    pub labels: Vec<Label>,
    /// What was met and not kept: in words, and how often.
    pub lost: BTreeMap<String, usize>,
    /// What the maker should know.
    pub notes: Vec<Words>,
    /// How long 1 of the file's numbers is, mm; none when the file does not say.
    pub unit: Option<f64>,
}

fn places(segment: &PathSeg) -> Vec<Point> {
    match segment {
        PathSeg::Line(l) => vec![l.p0, l.p1],
        PathSeg::Quad(q) => vec![q.p0, q.p1, q.p2],
        PathSeg::Cubic(c) => vec![c.p0, c.p1, c.p2, c.p3],
    }
}

impl Found {
    /// Counts a thing that is not kept.
    pub(crate) fn lose(&mut self, what: impl Into<String>) {
        *self.lost.entry(what.into()).or_insert(0) += 1;
    }

    /// Whether every place is a number and none lies further from the origin.
    pub(crate) fn within(&self, furthest: f64) -> bool {
        let near = |p: Point| p.x.abs() <= furthest && p.y.abs() <= furthest;
        let run = |r: &Run| r.chain.segments().iter().flat_map(places).all(near);
        self.runs.iter().all(run)
            && self.spots.iter().all(|s| near(s.at))
            && self.labels.iter().all(|l| near(l.at))
    }

    /// Everything scaled by a factor.
    pub(crate) fn scale(&mut self, by: f64) {
        let map = Affine::scale(by);
        for run in &mut self.runs {
            run.chain = run.chain.moved(map);
        }
        for spot in &mut self.spots {
            spot.at = map * spot.at;
        }
        for label in &mut self.labels {
            label.at = map * label.at;
        }
    }
}
