//! What finishes the waist: a straight band or casing as long as the sewn waist, or a band
//! or facing cut to its shape.

use crate::making::{Making, Makings, Wide, oblong};
use crate::widths::base_name;
use crate::{CutError, Quantity, SewnEdge, names as made, sewn_edge};
use hangtrue_adjust::{Closure, CuttingPlan, Document, WaistFinish};
use hangtrue_geometry::units::INCH;
use hangtrue_geometry::words;
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{Chain, Line, Point, Vec2};
use hangtrue_pattern::measures::Measure;
use hangtrue_pattern::{
    End, Grain, InnerLine, Join, JoinSide, Leg, Notch, NotchKind, Pattern, PatternError, Piece,
    Seam, names,
};

/// The narrowest and widest band, facing or elastic, mm.
const WIDTHS: (f64, f64) = (10.0, 120.0);
/// The longest overlap, mm.
const LONGEST_OVERLAP: f64 = 120.0;
/// A casing is wider than its elastic by so much, in round numbers of mm and of inches, so
/// that the elastic runs. Common practice, no published source.
const RUNS_FREE: (f64, f64) = (3.0, INCH / 8.0);

/// Adds the pieces of the waist.
pub(crate) fn add(
    makings: &mut Makings,
    pattern: &Pattern,
    document: &Document,
) -> Result<(), CutError> {
    let plan = &document.cutting;
    match plan.waist {
        WaistFinish::None => Ok(()),
        WaistFinish::Straight { width, overlap } => {
            let width = within("a waistband", width, WIDTHS)?;
            let overlap = within("an overlap", overlap, (0.0, LONGEST_OVERLAP))?;
            let open = plan.closure != Closure::None;
            if !open && overlap > 0.0 {
                makings.notes.push(words!["The waistband has no overlap: nothing is opened."]);
            }
            let overlap = if open { overlap } else { 0.0 };
            band(makings, pattern, plan, (made::WAISTBAND, width, overlap))
        }
        WaistFinish::Casing { elastic } => {
            let elastic = within("elastic", elastic, WIDTHS)?;
            let free =
                if document.unit.denominator().is_none() { RUNS_FREE.0 } else { RUNS_FREE.1 };
            let narrower = match crate::tight::narrower_than_hips(pattern, document) {
                Some(less) => words![", ", Length(less), " narrower than the hips"],
                None => words![""],
            };
            makings.notes.push(words![
                "The waist with a casing is as wide as the pattern's sewn waist",
                narrower,
                ": measure that it passes over the hips before it is cut."
            ]);
            band(makings, pattern, plan, (made::CASING, elastic + free, 0.0))
        }
        WaistFinish::Shaped { width, overlap } => {
            let width = within("a waistband", width, WIDTHS)?;
            let overlap = within("an overlap", overlap, (0.0, LONGEST_OVERLAP))?;
            shaped(makings, pattern, document, Shape::Above { width, overlap })
        }
        WaistFinish::Facing { width } => {
            let width = within("a facing", width, WIDTHS)?;
            shaped(makings, pattern, document, Shape::Below { width })
        }
    }
}

/// The length if it lies between the two.
pub(crate) fn within(what: &'static str, asked: f64, limits: (f64, f64)) -> Result<f64, CutError> {
    let (least, most) = limits;
    if (least..=most).contains(&asked) {
        return Ok(asked);
    }
    Err(CutError::Amount { what, asked: Length(asked), least: Length(least), most: Length(most) })
}

/// The sewn waist of one leg.
struct LegWaist {
    back: SewnEdge,
    front: SewnEdge,
}

fn leg_waist(pattern: &Pattern, leg: Leg) -> Result<LegWaist, CutError> {
    let one = if pattern.is_apart() { pattern.one_leg(leg) } else { pattern.clone() };
    Ok(LegWaist {
        back: sewn_edge(one.piece(names::BACK)?)?,
        front: sewn_edge(one.piece(names::FRONT)?)?,
    })
}

/// Places along the sewn waist from the centre back over the right leg's side and the
/// centre front round to the centre back again, mm.
struct Round {
    length: f64,
    places: Vec<(String, f64)>,
    right_side: f64,
    front: f64,
    left_side: f64,
}

fn round(pattern: &Pattern) -> Result<Round, CutError> {
    let (right, left) = (leg_waist(pattern, Leg::Right)?, leg_waist(pattern, Leg::Left)?);
    let right_side = right.back.length();
    let front = right_side + right.front.length();
    let left_side = front + left.front.length();
    let length = left_side + left.back.length();
    let mut places = vec![
        ("centre back".to_owned(), 0.0),
        ("right side".to_owned(), right_side),
        ("centre front".to_owned(), front),
        ("left side".to_owned(), left_side),
    ];
    let mut darts = |edge: &SewnEdge, at: &dyn Fn(f64) -> f64| {
        places.extend(edge.darts.iter().map(|(name, from_side)| (name.clone(), at(*from_side))));
    };
    darts(&right.back, &|from_side| right_side - from_side);
    darts(&right.front, &|from_side| right_side + from_side);
    darts(&left.front, &|from_side| left_side - from_side);
    darts(&left.back, &|from_side| left_side + from_side);
    Ok(Round { length, places, right_side, front, left_side })
}

/// A straight band folded along its middle, laid right side up with the waist below: left
/// to right it goes round the body from the opening over the left or the right leg.
fn band(
    makings: &mut Makings,
    pattern: &Pattern,
    plan: &CuttingPlan,
    (name, width, overlap): (&str, f64, f64),
) -> Result<(), CutError> {
    let round = round(pattern)?;
    // Where the band begins, and whether what runs on lies beyond its beginning.
    let (opening, before) = match plan.closure {
        Closure::None | Closure::BackZip => (0.0, true),
        Closure::Fly { over } => (round.front, over == Leg::Right),
        Closure::SideZip { leg: Leg::Left } => (round.left_side, true),
        Closure::SideZip { leg: Leg::Right } => (round.right_side, false),
    };
    let lead = if before { overlap } else { 0.0 };
    let size = Vec2::new(round.length + overlap, 2.0 * width);
    let seams = oblong(size, [names::WAIST, made::END, made::FREE_EDGE, made::OTHER_END]);
    let middle = 1.5 * width;
    let grain =
        Grain { from: Point::new(0.15 * size.x, middle), to: Point::new(0.4 * size.x, middle) };
    let mut making = Making::made(name.to_owned(), seams, grain, (Quantity::One, plan));
    let mut notch = |name: &str, distance: f64| {
        making.piece.notches.push(Notch {
            name: name.to_owned(),
            seam: names::WAIST.to_owned(),
            from: End::Start,
            distance,
            kind: if name == "centre back" { NotchKind::Double } else { NotchKind::Single },
        });
    };
    for (name, place) in &round.places {
        let at = (place - opening).rem_euclid(round.length);
        // The place of the opening is both ends; where the band runs on it needs a notch.
        if at > 1e-6 && round.length - at > 1e-6 {
            notch(name, lead + at);
        } else if overlap > 0.0 {
            notch(name, if before { lead } else { round.length });
        }
    }
    let line = |name: &str, from: (f64, f64), to: (f64, f64)| InnerLine {
        name: name.to_owned(),
        chain: Chain::line(from.into(), to.into()),
    };
    making.folds.push(line("fold", (0.0, width), (size.x, width)));
    if overlap > 0.0 {
        let at = if before { lead } else { round.length };
        making.piece.inner.push(line("overlap begins", (at, 0.0), (at, size.y)));
    }
    sides_of_waist(&mut making, pattern, (made::END, made::OTHER_END));
    let free = Wide::AsSeam { piece: String::new(), seam: names::WAIST.into(), at: End::Start };
    making.wide(made::FREE_EDGE, free);
    makings.pieces.push(making);
    Ok(())
}

/// The ends of a band have the allowance of a plain seam.
fn sides_of_waist(making: &mut Making, pattern: &Pattern, ends: (&str, &str)) {
    let front = pattern.pieces.iter().find(|p| base_name(p) == names::FRONT);
    let piece = front.map(|p| p.name.clone()).unwrap_or_default();
    for end in [ends.0, ends.1] {
        let wide =
            Wide::AsSeam { piece: piece.clone(), seam: names::INSEAM.into(), at: End::Start };
        making.wide(end, wide);
    }
}

/// On which side of the sewn waist a shaped piece lies.
#[derive(Clone, Copy)]
enum Shape {
    Above { width: f64, overlap: f64 },
    Below { width: f64 },
}

/// A band or facing for each piece that has a waist.
fn shaped(
    makings: &mut Makings,
    pattern: &Pattern,
    document: &Document,
    shape: Shape,
) -> Result<(), CutError> {
    let plan = &document.cutting;
    let legs = pattern.pieces.iter();
    let waisted = legs.filter(|p| [names::BACK, names::FRONT].contains(&base_name(p)));
    let before = makings.pieces.len();
    // A facing's side edges are as long as the first one's, so that back and front meet.
    let mut depth = None;
    for piece in waisted {
        let name = match shape {
            Shape::Above { .. } => format!("{} {}", made::SHAPED_BAND, piece.name),
            Shape::Below { .. } => format!("{} {}", made::FACING, piece.name),
        };
        let wrong = |source| {
            CutError::from(PatternError::Geometry { what: format!("drawing the {name}"), source })
        };
        let sewn = sewn_edge(piece)?;
        let away = if sewn.from_side { 1.0 } else { -1.0 } * piece.orientation();
        let mut overlapped = 0.0;
        let edges = match shape {
            Shape::Above { width, overlap } => {
                let (at_centre, at_side) = overlaps(piece, plan, overlap);
                overlapped = at_centre.max(at_side);
                above(&sewn, -away * width, (at_centre, at_side)).map_err(wrong)?
            }
            Shape::Below { width } => below(&sewn, away * width, &mut depth, (&name, width))?,
        };
        let mut making = of_edges(name.clone(), &edges, piece, (shape, plan));
        for (dart, from_side) in &sewn.darts {
            making.piece.notches.push(Notch {
                name: dart.clone(),
                seam: names::WAIST.to_owned(),
                from: End::Start,
                distance: from_side + edges.lead,
                kind: NotchKind::Single,
            });
        }
        if overlapped > 0.0 {
            marked_overlap(&mut making, &sewn, &edges, away);
        }
        let at = |end_is_start: bool| if end_is_start { End::Start } else { End::End };
        let wide =
            |seam: &str, at| Wide::AsSeam { piece: piece.name.clone(), seam: seam.into(), at };
        making.wide(names::SIDE, wide(names::SIDE, at(!sewn.from_side)));
        making.wide(made::CENTRE, wide(names::CROTCH, at(sewn.from_side)));
        // A facing's free edge is finished as it is cut.
        let free = match shape {
            Shape::Above { .. } => wide(names::WAIST, End::Start),
            Shape::Below { .. } => Wide::Nothing,
        };
        making.wide(made::FREE_EDGE, free);
        if overlapped == 0.0 {
            let side_end = |from_side: bool| if from_side { End::Start } else { End::End };
            makings.joins.push(Join {
                name: format!("waist of the {name}"),
                first: JoinSide::new(
                    &makings.waisted(&piece.name),
                    names::WAIST,
                    side_end(sewn.from_side),
                ),
                second: Some(JoinSide::new(&name, names::WAIST, End::Start)),
                ease: 0.0,
            });
        }
        making.of = Some(piece.name.clone());
        makings.pieces.push(making);
    }
    if let Shape::Above { .. } = shape {
        narrower_above(makings, before, (pattern, document));
    }
    if makings.pieces.len() == before {
        return Err(CutError::Piece {
            piece: "waist piece".into(),
            why: "the pattern has no piece called back or front; rename its pieces so".into(),
        });
    }
    Ok(())
}

/// A shaped band above a waist at the narrowest of the body goes on narrowing as the sides
/// do: where its upper edge is smaller than the body, that is told.
fn narrower_above(
    makings: &mut Makings,
    before: usize,
    (pattern, document): (&Pattern, &Document),
) {
    let Some(waist) = document.worn_by().and_then(|m| m.get(Measure::WaistGirth)) else { return };
    let both = if pattern.is_apart() { 1.0 } else { 2.0 };
    let upper = |making: &Making| {
        let (free, low) =
            (making.piece.seam(made::FREE_EDGE).ok()?, making.piece.seam(names::WAIST).ok()?);
        let sewn = sewn_edge(pattern.piece(making.of.as_deref()?).ok()?).ok()?.length();
        Some(free.sewn_length() - (low.sewn_length() - sewn))
    };
    let edges: Option<f64> = makings.pieces[before..].iter().map(upper).sum();
    let Some(round) = edges.map(|edge| both * edge).filter(|round| *round < waist - 1.0) else {
        return;
    };
    makings.notes.push(words![
        "The upper edge of the shaped waistband is ",
        Length(round),
        " round, ",
        Length(waist - round),
        " less than the waist that was measured: it lies above the waist, and the sides still come in there. Lower the rise by its height first (Style: rise), or choose a straight band."
    ]);
}

/// How far a shaped band runs on at the centre and at the side of a piece, mm.
fn overlaps(piece: &Piece, plan: &CuttingPlan, overlap: f64) -> (f64, f64) {
    let base = base_name(piece);
    match plan.closure {
        Closure::Fly { .. } if base == names::FRONT => (overlap, 0.0),
        Closure::BackZip if base == names::BACK => (overlap, 0.0),
        Closure::SideZip { .. } if base == names::BACK => (0.0, overlap),
        _ => (0.0, 0.0),
    }
}

/// The four edges of a shaped piece, each running on from the one before: along the waist
/// from side to centre, down or up the centre, back along the free edge, and the side.
struct Edges {
    waist: Chain,
    centre: Chain,
    free: Chain,
    side: Chain,
    /// What lies before the side's end of the sewn waist, mm.
    lead: f64,
}

fn above(
    sewn: &SewnEdge,
    offset: f64,
    (at_centre, at_side): (f64, f64),
) -> Result<Edges, hangtrue_geometry::GeometryError> {
    let waist = sewn.edge.lengthened(at_centre)?.reversed().lengthened(at_side)?.reversed();
    let top = waist.offset(offset)?;
    Ok(Edges {
        centre: Chain::line(waist.end(), top.end()),
        side: Chain::line(top.start(), waist.start()),
        free: top.reversed(),
        waist,
        lead: at_side,
    })
}

/// The ends of a facing follow the side seam and the centre seam of its piece.
fn below(
    sewn: &SewnEdge,
    offset: f64,
    depth: &mut Option<f64>,
    (name, width): (&str, f64),
) -> Result<Edges, CutError> {
    let why = |why: &str| CutError::Piece { piece: name.to_owned(), why: why.to_owned() };
    let wrong = |e: hangtrue_geometry::GeometryError| why(&e.to_string());
    let longer = |chain: &Chain| chain.lengthened(width)?.reversed().lengthened(width);
    let low = longer(&sewn.edge.offset(offset).map_err(wrong)?).map_err(wrong)?.reversed();
    let meets = |down: &Chain| {
        let near = |c: &hangtrue_geometry::Crossing| c.here > 0.5 * width && c.here < 2.0 * width;
        down.crossings(&low).into_iter().find(near)
    };
    let too_deep =
        || why("its lower edge does not meet the seams beside the waist; make it less deep");
    let (side, centre) =
        (meets(&sewn.side).ok_or_else(too_deep)?, meets(&sewn.centre).ok_or_else(too_deep)?);
    let at_side = *depth.get_or_insert(side.here);
    let side_edge = sewn.side.part(0.0, at_side).map_err(wrong)?.reversed();
    let centre_edge = sewn.centre.part(0.0, centre.here).map_err(wrong)?;
    let free = low.part(side.there, centre.there).map_err(wrong)?.reversed();
    let free = free.with_ends(centre_edge.end(), side_edge.start());
    Ok(Edges { waist: sewn.edge.clone(), centre: centre_edge, free, side: side_edge, lead: 0.0 })
}

fn of_edges(name: String, edges: &Edges, piece: &Piece, how: (Shape, &CuttingPlan)) -> Making {
    let (shape, plan) = how;
    let seams = vec![
        Seam::plain(names::WAIST, names::WAIST_SIDE, edges.waist.clone()),
        Seam::plain(made::CENTRE, names::WAIST_CENTRE, edges.centre.clone()),
        Seam::plain(made::FREE_EDGE, "inside at centre", edges.free.clone()),
        Seam::plain(names::SIDE, "inside at side", edges.side.clone()),
    ];
    let quantity = match (piece.leg().is_some(), shape) {
        (true, _) => Quantity::One,
        (false, Shape::Above { .. }) => Quantity::TwoPairs,
        (false, Shape::Below { .. }) => Quantity::Pair,
    };
    let along = (piece.grain.direction(), edges.side.length());
    let grain = grain_between(&edges.waist, &edges.free, along);
    let mut making = Making::made(name, seams, grain, (quantity, plan));
    if piece.leg().is_some() && matches!(shape, Shape::Above { .. }) {
        making.hints.push(words!["and one turned over, for the inside"]);
        making.to_cut.iter_mut().for_each(|cut| {
            if cut.cloth == crate::Cloth::Main {
                cut.quantity = Quantity::Pair;
            }
        });
    }
    making
}

/// A grainline of the body's direction across a shaped piece, a third of the way from its
/// side to its centre; `otherwise` as long where the free edge is not met.
pub(crate) fn grain_between(waist: &Chain, free: &Chain, (along, otherwise): (Vec2, f64)) -> Grain {
    let at = waist.point_at(0.35 * waist.length());
    let met = free.crossings_with_line(Line::new(at, at + along)).into_iter();
    let across = met.map(|c| c.there).min_by(|a, b| a.abs().total_cmp(&b.abs()));
    let across = across.unwrap_or(otherwise);
    let (low, high) = (across.min(0.0), across.max(0.0));
    let place = |share: f64| at + along * (low + share * (high - low));
    Grain { from: place(0.12), to: place(0.88) }
}

/// The line at which a band is cut off on the leg that laps over.
fn marked_overlap(making: &mut Making, sewn: &SewnEdge, edges: &Edges, away: f64) {
    let width = edges.centre.length();
    let at_side = edges.lead > 0.0;
    let (at, along) = if at_side {
        (sewn.edge.start(), sewn.edge.start_direction())
    } else {
        (sewn.edge.end(), sewn.edge.end_direction())
    };
    let up = Vec2::new(along.y, -along.x) * away;
    let chain = Chain::line(at, at + up * width);
    let name = if at_side { "side: overlap begins" } else { "centre: overlap begins" };
    making.piece.inner.push(InnerLine { name: name.to_owned(), chain });
    making.hints.push(words!["cut the overlap off where that end lies on top"]);
    making.piece.notches.push(Notch {
        name: if at_side { "side" } else { "centre" }.to_owned(),
        seam: names::WAIST.to_owned(),
        from: End::Start,
        distance: edges.lead + if at_side { 0.0 } else { sewn.length() },
        kind: NotchKind::Single,
    });
}
