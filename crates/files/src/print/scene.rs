//! A drawing in mm, y up, that knows nothing of pages.

use super::letters::width_of;
use hangtrue_geometry::{Affine, BezPath, Chain, Point, Rect, Vec2, winding};
use kurbo::Shape;

/// A colour, red green blue, 0–255.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ink(pub u8, pub u8, pub u8);

/// How a line is broken. Lengths in mm on the paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Dashes with gaps.
    Dashed {
        /// Length of a dash, mm.
        on: f64,
        /// Length of a gap, mm.
        off: f64,
    },
    /// A long dash, a gap, a dot, a gap.
    DashDot {
        /// Length of the long dash, mm.
        on: f64,
        /// Length of each gap, mm.
        off: f64,
    },
    /// Round dots.
    Dotted {
        /// From one dot to the next, mm.
        every: f64,
    },
}

/// A pen: width in mm, break, colour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pen {
    /// Width of the line, mm.
    pub width: f64,
    /// How it is broken.
    pub dash: Dash,
    /// Its colour.
    pub ink: Ink,
}

impl Pen {
    /// The pen so many times as wide, its dashes as many times as long.
    #[must_use]
    pub fn times(self, by: f64) -> Self {
        let dash = match self.dash {
            Dash::Solid => Dash::Solid,
            Dash::Dashed { on, off } => Dash::Dashed { on: on * by, off: off * by },
            Dash::DashDot { on, off } => Dash::DashDot { on: on * by, off: off * by },
            Dash::Dotted { every } => Dash::Dotted { every: every * by },
        };
        Self { width: self.width * by, dash, ink: self.ink }
    }
}

/// Which end of the words lies at their place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// The words start there.
    Start,
    /// The words are centred there.
    Middle,
    /// The words end there.
    End,
}

/// Weight of the letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Weight {
    /// For reading.
    Regular,
    /// For finding.
    Bold,
}

/// Words on one line.
#[derive(Debug, Clone, PartialEq)]
pub struct Words {
    /// What is written.
    pub text: String,
    /// The place on the base line, mm.
    pub at: Point,
    /// Size of the letters (the em), mm.
    pub size: f64,
    /// Direction of the base line, radians from x.
    pub angle: f64,
    /// Which end lies at the place.
    pub anchor: Anchor,
    /// Weight of the letters.
    pub weight: Weight,
    /// Colour.
    pub ink: Ink,
}

/// What an item is to the sewer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Layer {
    /// Where the shears go.
    Cut,
    /// Where the needle goes.
    Sew,
    /// Reference lines traced to the cloth.
    Cloth,
    /// Reference lines that stay on paper.
    Paper,
    /// Darts.
    Dart,
    /// The grainline.
    Grain,
    /// Notches.
    Notch,
    /// Other lines inside the piece.
    Inner,
    /// An earlier version under this one.
    Earlier,
    /// Words.
    Label,
    /// Frames, join marks, maps.
    Sheet,
}

impl Layer {
    /// The name of the layer.
    pub fn name(self) -> &'static str {
        match self {
            Self::Cut => "cut line",
            Self::Sew => "sew line",
            Self::Cloth => "lines to the cloth",
            Self::Paper => "lines on paper",
            Self::Dart => "darts",
            Self::Grain => "grainline",
            Self::Notch => "notches",
            Self::Inner => "inner lines",
            Self::Earlier => "earlier pattern",
            Self::Label => "labels",
            Self::Sheet => "sheet",
        }
    }
}

/// One thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A line.
    Stroke(BezPath, Pen),
    /// A filled shape.
    Fill(BezPath, Ink),
    /// Words.
    Words(Words),
}

/// A mark and the layer it belongs to.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// The layer.
    pub layer: Layer,
    /// The mark.
    pub mark: Mark,
}

/// A drawing: items from below to above.
///
/// ```
/// use hangtrue_files::print::{Dash, Ink, Layer, Mark, Pen, Scene};
/// use hangtrue_geometry::{Affine, Point};
///
/// let pen = Pen { width: 0.5, dash: Dash::Solid, ink: Ink(0, 0, 0) };
/// let mut scene = Scene::default();
/// scene.line(Layer::Sew, Point::new(0.0, 0.0), Point::new(100.0, 0.0), pen);
/// // It grows by the width of what draws it, and moves as a whole.
/// let bounds = scene.bounds().ok_or("nothing is drawn")?;
/// assert!(bounds.width() >= 100.0);
/// let moved = scene.moved(Affine::translate((20.0, 30.0)));
/// assert_eq!(moved.bounds().ok_or("nothing is drawn")?.x0, bounds.x0 + 20.0);
/// assert!(matches!(moved.items[0].mark, Mark::Stroke(..)));
/// # Ok::<(), &str>(())
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scene {
    /// The items, the lowest first.
    pub items: Vec<Item>,
    /// The shapes of the pieces: paper that is cut out and kept, so a sheet that
    /// lies wholly inside one is needed even if no line crosses it.
    pub areas: Vec<BezPath>,
    /// What could not be drawn, in words.
    pub notes: Vec<String>,
}

impl Scene {
    /// Adds a line.
    pub fn stroke(&mut self, layer: Layer, path: BezPath, pen: Pen) {
        self.items.push(Item { layer, mark: Mark::Stroke(path, pen) });
    }

    /// Adds a straight line.
    pub fn line(&mut self, layer: Layer, a: Point, b: Point, pen: Pen) {
        let mut path = BezPath::new();
        path.move_to(a);
        path.line_to(b);
        self.stroke(layer, path, pen);
    }

    /// Adds a filled shape.
    pub fn fill(&mut self, layer: Layer, path: BezPath, ink: Ink) {
        self.items.push(Item { layer, mark: Mark::Fill(path, ink) });
    }

    /// Adds words; nothing is added for an empty text.
    pub fn words(&mut self, layer: Layer, words: Words) {
        if !words.text.trim().is_empty() {
            self.items.push(Item { layer, mark: Mark::Words(words) });
        }
    }

    /// Adds all of another scene above this one.
    pub fn append(&mut self, other: Self) {
        self.items.extend(other.items);
        self.areas.extend(other.areas);
        self.notes.extend(other.notes);
    }

    /// The scene moved and turned. Widths, dashes and letters keep their size.
    #[must_use]
    pub fn moved(&self, by: Affine) -> Self {
        let items = self.items.iter().map(|i| Item { layer: i.layer, mark: i.mark.moved(by) });
        Self {
            items: items.collect(),
            areas: self.areas.iter().map(|a| by * a.clone()).collect(),
            notes: self.notes.clone(),
        }
    }

    /// The smallest box that holds all ink; none for an empty scene.
    pub fn bounds(&self) -> Option<Rect> {
        self.items.iter().map(|i| i.mark.bounds()).reduce(|a, b| a.union(b))
    }
}

impl Mark {
    /// The mark moved and turned; widths and letters keep their size.
    #[must_use]
    pub fn moved(&self, by: Affine) -> Self {
        match self {
            Self::Stroke(path, pen) => Self::Stroke(by * path.clone(), *pen),
            Self::Fill(path, ink) => Self::Fill(by * path.clone(), *ink),
            Self::Words(w) => {
                let along = by * (Point::ORIGIN + Vec2::from_angle(w.angle)) - by * Point::ORIGIN;
                Self::Words(Words { at: by * w.at, angle: along.atan2(), ..w.clone() })
            }
        }
    }

    /// The smallest box that holds the ink: half a pen width round a line.
    pub fn bounds(&self) -> Rect {
        match self {
            Self::Stroke(path, pen) => {
                path.bounding_box().inflate(pen.width / 2.0, pen.width / 2.0)
            }
            Self::Fill(path, _) => path.bounding_box(),
            Self::Words(words) => words.outline().bounding_box(),
        }
    }

    /// Whether every coordinate is a finite number.
    pub fn is_finite(&self) -> bool {
        match self {
            Self::Stroke(path, pen) => path.is_finite() && pen.width.is_finite(),
            Self::Fill(path, _) => path.is_finite(),
            Self::Words(w) => w.at.is_finite() && w.size.is_finite() && w.angle.is_finite(),
        }
    }

    /// Whether any ink of the mark lies in the box (exact for lines: a segment
    /// ends in the box or crosses its edge).
    pub fn touches(&self, window: Rect) -> bool {
        self.footprint().touches(window)
    }

    /// Where the ink lies, worked out once for many questions.
    pub(crate) fn footprint(&self) -> Footprint {
        let (path, half_width, filled) = match self {
            Self::Stroke(path, pen) => (path.clone(), pen.width / 2.0, false),
            Self::Fill(path, _) => (path.clone(), 0.0, true),
            Self::Words(words) => (words.outline(), 0.0, true),
        };
        let bounds = path.bounding_box().inflate(half_width, half_width);
        Footprint { bounds, path, half_width, filled }
    }
}

/// Where the ink of a mark lies, mm.
pub(crate) struct Footprint {
    bounds: Rect,
    path: BezPath,
    half_width: f64,
    filled: bool,
}

impl Footprint {
    pub(crate) fn touches(&self, window: Rect) -> bool {
        let bounds = self.bounds;
        let apart = bounds.x1 < window.x0
            || bounds.x0 > window.x1
            || bounds.y1 < window.y0
            || bounds.y0 > window.y1;
        if apart {
            false
        } else if self.filled {
            area_touches(&self.path, window)
        } else {
            path_touches(&self.path, window.inflate(self.half_width, self.half_width))
        }
    }
}

impl Words {
    /// Level words that start at a place.
    pub fn level(text: String, at: Point, size: f64, weight: Weight, ink: Ink) -> Self {
        Self { text, at, size, angle: 0.0, anchor: Anchor::Start, weight, ink }
    }

    /// From where to where they run along their base line, mm from their place.
    pub(crate) fn run(&self) -> (f64, f64) {
        let width = width_of(&self.text, self.weight, self.size);
        let left = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -width / 2.0,
            Anchor::End => -width,
        };
        (left, left + width)
    }

    /// The box round the words, turned with them: from a little below the base
    /// line to the top of the tallest letters.
    pub fn outline(&self) -> BezPath {
        const DEPTH: f64 = 0.25;
        const HEIGHT: f64 = 1.0;
        let (left, right) = self.run();
        let flat = Rect::new(left, -DEPTH * self.size, right, HEIGHT * self.size);
        let place = Affine::translate(self.at.to_vec2()) * Affine::rotate(self.angle);
        place * flat.to_path(1e-3)
    }
}

/// Whether a line, taken as having no width, has a part in the box.
pub(crate) fn path_touches(path: &BezPath, window: Rect) -> bool {
    let corners = [
        Point::new(window.x0, window.y0),
        Point::new(window.x1, window.y0),
        Point::new(window.x1, window.y1),
        Point::new(window.x0, window.y1),
    ];
    let edges = [0, 1, 2, 3].map(|i| Chain::line(corners[i], corners[(i + 1) % 4]));
    path.segments().any(|segment| {
        let bounds = segment.bounding_box();
        let apart = bounds.x1 < window.x0
            || bounds.x0 > window.x1
            || bounds.y1 < window.y0
            || bounds.y0 > window.y1;
        if apart {
            return false;
        }
        use kurbo::ParamCurve;
        if window.contains(segment.start()) || window.contains(segment.end()) {
            return true;
        }
        // A segment of no length is a point, which the window does not contain.
        let Ok(segment) = Chain::new(vec![segment]) else { return false };
        edges.iter().any(|edge| !segment.crossings(edge).is_empty())
    })
}

/// Whether a filled shape has a part in the box.
pub(crate) fn area_touches(path: &BezPath, window: Rect) -> bool {
    path_touches(path, window) || winding(path, window.center()) != 0
}

/// A scene with nothing but that box, for tests of where scenes lie.
#[cfg(test)]
pub(super) fn boxed(rect: Rect) -> Scene {
    let mut scene = Scene::default();
    scene.stroke(Layer::Cut, rect.to_path(0.1), super::pens::CUT);
    scene
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::print::pens;

    #[test]
    fn a_line_that_only_passes_through_a_box_touches_it() {
        let mut path = BezPath::new();
        path.move_to((-100.0, 5.0));
        path.line_to((100.0, 5.0));
        let mark = Mark::Stroke(path, pens::CUT);
        assert!(mark.touches(Rect::new(0.0, 0.0, 10.0, 10.0)));
        assert!(!mark.touches(Rect::new(0.0, 6.0, 10.0, 10.0)));
    }

    #[test]
    fn an_almost_straight_curve_through_a_box_touches_it() {
        // Lies all but straight, a billionth of a millimetre off: its cubic terms
        // all but vanish, where a closed formula for the roots loses its digits.
        let mut path = BezPath::new();
        path.move_to((-300.0, 5.0));
        path.curve_to((-100.0, 5.0 + 1e-9), (100.0, 5.0 - 1e-9), (300.0, 5.0));
        assert!(path_touches(&path, Rect::new(0.0, 0.0, 10.0, 10.0)));
        assert!(!path_touches(&path, Rect::new(0.0, 6.0, 10.0, 10.0)));
        path.line_to((300.0, 200.0));
        path.line_to((-300.0, 200.0));
        path.close_path();
        assert!(area_touches(&path, Rect::new(0.0, 50.0, 10.0, 60.0)));
        assert!(!area_touches(&path, Rect::new(0.0, -60.0, 10.0, -50.0)));
    }

    #[test]
    fn the_ring_round_a_box_does_not_touch_it_but_its_area_does() {
        let ring = Rect::new(-50.0, -50.0, 50.0, 50.0).to_path(0.1);
        let window = Rect::new(-5.0, -5.0, 5.0, 5.0);
        assert!(!path_touches(&ring, window));
        assert!(area_touches(&ring, window));
    }

    #[test]
    fn turning_words_turns_their_box() {
        let words = Words {
            text: "side seam".into(),
            at: Point::ORIGIN,
            size: 10.0,
            angle: 0.0,
            anchor: Anchor::Start,
            weight: Weight::Regular,
            ink: pens::INK,
        };
        let flat = Mark::Words(words).bounds();
        let mark = Mark::Words(Words {
            text: "side seam".into(),
            at: Point::ORIGIN,
            size: 10.0,
            angle: 0.0,
            anchor: Anchor::Start,
            weight: Weight::Regular,
            ink: pens::INK,
        });
        let turned = mark.moved(Affine::rotate(std::f64::consts::FRAC_PI_2)).bounds();
        assert!((flat.width() - turned.height()).abs() < 1e-9);
        assert!(flat.width() > 30.0 && flat.width() < 60.0, "{}", flat.width());
    }
}
