//! Back pockets: a welt pocket cut in, a patch pocket sewn on. The opening lies level with
//! the sewn waist, its middle under the darts; where a dart is deeper than the opening the
//! line is broken at the dart, and is straight once the dart is sewn.

use super::{for_each_leg, named, of_piece};
use crate::making::{Making, Makings, Wide, oblong};
use crate::opened::Opened;
use crate::sewn_waist::{ClosedDart, closed_darts};
use crate::waist::within;
use crate::yoke::hanging;
use crate::{Cloth, CutError, Drill, Quantity, ToCut, names as made, sewn_edge};
use hangtrue_adjust::{BackPocket, BackSizes, Document};
use hangtrue_geometry::units::round_in;
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{Affine, Chain, Line, Point, Vec2};
use hangtrue_pattern::{End, Grain, InnerLine, Piece, Seam, names, words};

/// What is left beside each end of an opening, to the side seam and the centre seam, mm.
const LEFT_BESIDE: f64 = 15.0;
/// The narrowest opening and the widest, mm.
const WIDTHS: (f64, f64) = (60.0, 220.0);
/// The least and the most a pocket lies below the waist, mm.
const BELOW: (f64, f64) = (30.0, 160.0);
/// The least and the most a pocket is deep, mm.
const DEPTHS: (f64, f64) = (90.0, 260.0);
/// The least and the most a welt is high, and the hem of a patch, mm.
const WELTS: (f64, f64) = (5.0, 30.0);
const HEMS: (f64, f64) = (10.0, 50.0);
/// A bag and a facing are so much wider than the opening on each side, mm: common practice,
/// no published source.
const WIDER: f64 = 15.0;
/// Height of the facing behind a welt, in heights of the welt: memory.
const FACING: f64 = 6.0;
/// The corners of a patch are marked so far inside it, mm, so that the patch covers them:
/// common practice, no published source.
const INSIDE: f64 = 4.0;
/// The middle of a patch's lower edge lies so much lower than its corners, in widths of the
/// patch: memory.
const POINTED: f64 = 0.14;

/// Adds the pieces and marks of the pocket of one back.
pub(super) fn add(
    makings: &mut Makings,
    back: &Piece,
    document: &Document,
) -> Result<(), CutError> {
    let (own, kind) = (document.cutting.pockets, document.cutting.pockets.back);
    let usual = kind.usual(document.unit);
    let below = own.back_below.unwrap_or(usual.below);
    let below = within("the way down to a back pocket", below, BELOW)?;
    let hung = if makings.is_hung(&back.name) {
        makings.named(&back.name).and_then(|making| hanging(making))
    } else {
        None
    };
    let is_hung = hung.is_some();
    let back = hung.as_ref().unwrap_or(back);
    let (below, site) = if is_hung {
        let yoke = makings.waisted(&back.name);
        below_yoke(makings, (back, &yoke), document, below)?
    } else {
        (below, Site::of(back)?)
    };
    let room = site.room(below);
    let wide = own.back_wide.unwrap_or(usual.wide.min(room));
    let wide = within("a back pocket", wide, (WIDTHS.0, WIDTHS.1.min(room)))?;
    let deep = own.back_deep.unwrap_or(usual.deep);
    let deep = within("the depth of a back pocket", deep, DEPTHS)?;
    let (what, limits) = match kind {
        BackPocket::Patch => ("the hem of a patch pocket", HEMS),
        BackPocket::Welt | BackPocket::None => ("the height of a welt", WELTS),
    };
    let edge = within(what, own.back_edge.unwrap_or(usual.edge), limits)?;
    let sizes = BackSizes { wide, below, deep, edge };
    let place = site.place(wide, below);
    if let Some(making) = makings.named(&back.name) {
        marked(making, &place, kind);
    }
    let pieces = match kind {
        BackPocket::None => Vec::new(),
        BackPocket::Welt => {
            let first = if is_hung { "" } else { "Sew the darts before a welt pocket is marked. " };
            makings.notes.push(words![
                first,
                "Snip into its corners with small scissors, points away from your hand, and sew over both ends."
            ]);
            welt(back, &sizes, document)
        }
        BackPocket::Patch => vec![patch(back, &sizes)],
    };
    makings.pieces.extend(pieces.into_iter().map(|made| of_piece(made, back)));
    Ok(())
}

/// How far below its yoke's seam the pocket of a back lies, and where it is placed from: the
/// back as it hangs, its upper edge in the place of the waist.
fn below_yoke(
    makings: &mut Makings,
    (back, yoke): (&Piece, &str),
    document: &Document,
    below: f64,
) -> Result<(f64, Site), CutError> {
    let mut site = Site::of(back)?;
    let named = makings.named(yoke).map(|making| making.piece.clone());
    let Some(yoke) = named else { return Ok((below, site)) };
    let (waist, edge) = (yoke.seam(names::WAIST)?, yoke.seam(names::YOKE_SEAM)?);
    let whole = edge.sewn_length();
    let of_seam = yoke.notches.iter().filter(|n| n.seam == names::YOKE_SEAM);
    let matched: Vec<f64> =
        of_seam.map(|n| whole - edge.place(n.from, n.distance).position).collect();
    if !matched.is_empty() {
        site.middle = matched.iter().sum::<f64>() / matched.len() as f64;
    }
    let deep = waist.nearest(edge.place(End::End, site.middle).point).1;
    let clear = round_in(document.unit, CLEAR_OF_YOKE);
    if document.cutting.pockets.back_below.is_some() {
        if below < deep + LEAST_CLEAR {
            return Err(CutError::InYoke {
                below: Length(below),
                deep: Length(deep),
                least: Length(deep + LEAST_CLEAR),
            });
        }
        return Ok((below - deep, site));
    }
    if below < deep + clear {
        makings.notes.push(words![
            "The back pocket opens ",
            Length(clear),
            " below the yoke’s seam, ",
            Length(deep + clear),
            " below the waist."
        ]);
    }
    Ok(((below - deep).max(clear), site))
}

/// A pocket opens so far below a yoke's seam where nothing is chosen, in round numbers of mm
/// and of inches: common practice, no published source.
const CLEAR_OF_YOKE: (f64, f64) = (30.0, 1.25);
/// And no nearer than this, mm: the number is ours.
const LEAST_CLEAR: f64 = 15.0;

/// The opening as it is marked on the flat piece: its pieces from the side on.
struct MarkedOpening {
    runs: Vec<Line>,
}

/// The waist of a back as it is sewn, where pockets are placed from.
struct Site {
    side: Opened,
    centre: Chain,
    darts: Vec<ClosedDart>,
    /// Sewn distance from the side to the middle between the darts.
    middle: f64,
}

impl Site {
    fn of(back: &Piece) -> Result<Self, CutError> {
        let side = Opened::of(back, names::SIDE)?;
        let darts = closed_darts(back)?;
        let middle = if darts.is_empty() {
            0.5 * side.waist.length()
        } else {
            darts.iter().map(|d| d.from_side).sum::<f64>() / darts.len() as f64
        };
        Ok(Self { centre: sewn_edge(back)?.centre, side, darts, middle })
    }

    /// The line so far below the straight between two places of the waist: its middle lies
    /// below theirs.
    fn below(&self, (a, b): (Point, Point), wide: f64, below: f64) -> Line {
        let along = (b - a).normalize();
        // Into the piece: the way the side seam runs down.
        let square = Vec2::new(-along.y, along.x);
        let into =
            if square.dot(self.side.seam.start_direction()) < 0.0 { -square } else { square };
        let centre = a.midpoint(b) + into * below;
        Line::new(centre - along * (0.5 * wide), centre + along * (0.5 * wide))
    }

    /// The two places of the sewn waist above the ends of an opening.
    fn above(&self, middle: f64, wide: f64) -> (Point, Point) {
        let at = |s: f64| self.side.waist.point_at(s);
        (at(middle - 0.5 * wide), at(middle + 0.5 * wide))
    }

    /// How far side seam and centre seam lie from the middle of that line, along it.
    fn reach(&self, line: Line) -> (f64, f64) {
        let middle = line.midpoint();
        let line = Line::new(middle, line.p1);
        let near = |chain: &Chain, otherwise: f64| {
            let met = chain.crossings_with_line(line).into_iter();
            met.min_by(|a, b| a.here.total_cmp(&b.here)).map_or(otherwise, |c| c.there)
        };
        (near(&self.side.seam, 0.0), near(&self.centre, 0.0))
    }

    /// The widest opening so far below the waist.
    fn room(&self, below: f64) -> f64 {
        let line = self.below(self.above(self.middle, WIDTHS.0), WIDTHS.0, below);
        let (side, centre) = self.reach(line);
        centre - side - 2.0 * LEFT_BESIDE
    }

    /// Where the opening lies on the flat piece.
    fn place(&self, wide: f64, below: f64) -> MarkedOpening {
        let mut middle = self.middle;
        // Clear of side and centre seam at its own level; they lean, so it is looked at twice.
        for _ in 0..2 {
            let (side, centre) = self.reach(self.below(self.above(middle, wide), wide, below));
            let clear = 0.5 * wide + LEFT_BESIDE;
            middle += (side + clear).max(0.0) + (centre - clear).min(0.0);
        }
        let sewn = self.below(self.above(middle, wide), wide, below);
        let crossed = self.darts.iter().filter_map(|dart| Some((dart, crossing(sewn, dart.fold)?)));
        let crossed: Vec<(&ClosedDart, Point)> = crossed.collect();
        if crossed.is_empty() {
            // Below every dart the paper is whole: level with the waist as it lies flat.
            let flat = |at: Point, s: f64| {
                let mut past = self.darts.iter().filter(|d| d.from_side < s);
                past.next_back().map_or(Affine::IDENTITY, |d| d.beyond.inverse()) * at
            };
            let (a, b) = self.above(middle, wide);
            let ends = (flat(a, middle - 0.5 * wide), flat(b, middle + 0.5 * wide));
            return MarkedOpening { runs: vec![self.below(ends, wide, below)] };
        }
        let (mut from, mut flat) = (sewn.p0, Affine::IDENTITY);
        let mut runs = Vec::new();
        for (dart, at) in crossed {
            runs.push(Line::new(flat * from, flat * at));
            (from, flat) = (at, dart.beyond.inverse());
        }
        runs.push(Line::new(flat * from, flat * sewn.p1));
        MarkedOpening { runs }
    }
}

/// Where two lines cross between their ends.
fn crossing(one: Line, other: Line) -> Option<Point> {
    let met = Chain::line(one.p0, one.p1).crossings(&Chain::line(other.p0, other.p1));
    met.first().map(|c| c.point)
}

fn marked(making: &mut Making, place: &MarkedOpening, kind: BackPocket) {
    let name = if kind == BackPocket::Patch { "patch, top" } else { "welt" };
    let lines = place
        .runs
        .iter()
        .map(|run| InnerLine { name: name.to_owned(), chain: Chain::line(run.p0, run.p1) });
    making.piece.inner.extend(lines);
    let (Some(first), Some(last)) = (place.runs.first(), place.runs.last()) else { return };
    let inside = if kind == BackPocket::Patch { INSIDE } else { 0.0 };
    let ends = [
        first.p0 + (first.p1 - first.p0).normalize() * inside,
        last.p1 - (last.p1 - last.p0).normalize() * inside,
    ];
    let mark = |at| Drill { name: "end of the pocket's opening".to_owned(), at };
    making.marks.extend(ends.map(mark));
}

/// An upright oblong with a grainline along its middle.
fn upright(name: String, size: Vec2, edges: [&str; 4], how: (Quantity, Cloth)) -> Making {
    let x = 0.1 * size.x;
    let grain = Grain { from: Point::new(x, 0.15 * size.y), to: Point::new(x, 0.85 * size.y) };
    Making::of_cloth(name, oblong(size, edges), grain, how)
}

/// Welt, facing and bag of a welt pocket.
fn welt(back: &Piece, sizes: &BackSizes, document: &Document) -> Vec<Making> {
    let own = for_each_leg(back);
    let edges = [made::POCKET_OPENING, made::END, made::FREE_EDGE, made::OTHER_END];
    let size = Vec2::new(sizes.wide, 2.0 * sizes.edge);
    let mut welt = upright(named(made::WELT, back), size, edges, (own, Cloth::Main));
    welt.folds.push(InnerLine {
        name: "fold".to_owned(),
        chain: Chain::line(Point::new(0.0, sizes.edge), Point::new(size.x, sizes.edge)),
    });
    if document.cutting.interfacing {
        welt.to_cut.push(ToCut { quantity: own, cloth: Cloth::Interfacing });
    }
    let behind = sizes.wide + 2.0 * WIDER;
    let size = Vec2::new(behind, FACING * sizes.edge);
    let facing = upright(named(made::WELT_FACING, back), size, edges, (own, Cloth::Main));
    let doubled = if own == Quantity::One { Quantity::Pair } else { Quantity::TwoPairs };
    // It hangs from the waist, and reaches as far below the opening as the pocket is deep.
    let size = Vec2::new(behind, sizes.below + sizes.deep);
    let bag = upright(named(made::WELT_BAG, back), size, edges, (doubled, Cloth::Pocketing));
    vec![welt, facing, bag]
}

/// A patch pocket: pointed below, its hem above.
fn patch(back: &Piece, sizes: &BackSizes) -> Making {
    let (w, h) = (sizes.wide, sizes.deep);
    let low = POINTED * w;
    let corners = [(0.0, low), (0.5 * w, 0.0), (w, low), (w, h), (0.0, h)].map(Point::from);
    let called = ["lower left edge", "lower right edge", "right edge", names::HEM, "left edge"];
    let at = ["left corner", "point", "right corner", "top right", "top left"];
    let seams = (0..5)
        .map(|i| Seam::plain(called[i], at[i], Chain::line(corners[i], corners[(i + 1) % 5])));
    let grain = Grain { from: Point::new(0.3 * w, 0.3 * h), to: Point::new(0.3 * w, 0.85 * h) };
    let how = (for_each_leg(back), Cloth::Main);
    let mut making = Making::of_cloth(named(made::PATCH, back), seams.collect(), grain, how);
    making.wide(names::HEM, Wide::Of(sizes.edge));
    making
}
