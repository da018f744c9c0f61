//! The next toile, by models of cloth that know nothing of how the program keeps its lines.
//!
//! *Tacks*: a net of tailor's tacks is sewn into the paper round each line before a change; the
//! line's own points are found among them by their triangles, and lie there among the same
//! tacks afterwards. *Threads*: a line hangs from the waist by three threads of cloth, along
//! the seat seam and inseam, down the middle, and along the side seam; a change makes them
//! shorter or longer, and the line hangs so much higher or lower on the next toile.

#![allow(clippy::unwrap_used)]

use crate::rules_over_bodies::planted::{CASES, Case, ON_TAPE};
use crate::rules_over_bodies::{RULES, blocks, needed, read, toile};
use hangtrue_adjust::reading::{HangLine, Leg, Meaning, PieceView, RuleTable};
use hangtrue_adjust::{CATALOGUE, Change, ChangeError};
use hangtrue_geometry::{Chain, Point};
use hangtrue_pattern::{End, InnerLine, Pattern, PlacedLine, names};
use rayon::prelude::*;
use std::collections::BTreeMap;

/// How far above and below a line its net of tacks lies, mm.
const NET: f64 = 14.0;

/// The net of a line: pairs of tacks above and below it at so many places.
const ACROSS: usize = 7;

/// A tack is so long, mm; its place is its start.
const TACK: f64 = 0.5;

/// Pairs of tacks, and how far along the line each is.
type Net = Vec<(f64, [Point; 2])>;

/// The places of the net of a line, along it and to both sides; those off the piece are left out.
fn net(pattern: &Pattern, line: &PlacedLine) -> Net {
    let piece = pattern.piece(&line.piece).unwrap();
    let up = piece.grain.direction();
    let inside = |p: Point| piece.contains(p) && piece.nearest(p).unwrap().2 > 2.0 * TACK;
    let place = |k: usize| {
        let share = (k as f64 + 0.5) / ACROSS as f64;
        let on = line.chain.point_at(share * line.chain.length());
        (share, [on + up * NET, on - up * NET])
    };
    (0..ACROSS).map(place).filter(|(_, pair)| pair.iter().all(|p| inside(*p))).collect()
}

/// Where `p` lies in a triangle: the shares of its three corners.
fn shares([a, b, c]: [Point; 3], p: Point) -> [f64; 3] {
    let (ab, ac, ap) = (b - a, c - a, p - a);
    let whole = ab.cross(ac);
    let (of_b, of_c) = (ap.cross(ac) / whole, ab.cross(ap) / whole);
    [1.0 - of_b - of_c, of_b, of_c]
}

/// The cloth lines of the pattern with their nets sewn in.
fn tacked(pattern: &Pattern) -> (Pattern, Vec<(PlacedLine, Net)>) {
    let mut sewn = pattern.clone();
    let mut nets = Vec::new();
    for line in pattern.place_lines().0 {
        if !pattern.goes_to_cloth(&line) {
            continue;
        }
        let net = net(pattern, &line);
        for (k, (_, pair)) in net.iter().enumerate() {
            for (side, at) in pair.iter().enumerate() {
                let along = sewn.piece(&line.piece).unwrap().grain.square() * TACK;
                let chain = Chain::line(*at, *at + along);
                let name = format!("tack {} {k} {side}", line.name);
                sewn.piece_mut(&line.piece).unwrap().inner.push(InnerLine { name, chain });
            }
        }
        nets.push((line, net));
    }
    (sewn, nets)
}

/// How far the lines lie from where their cloth went, mm: the most.
fn slipped(before: &Pattern, change: &Change) -> Result<f64, ChangeError> {
    let (sewn, nets) = tacked(before);
    let after = change.apply(&sewn)?.pattern;
    let mut most: f64 = 0.0;
    for (line, net) in nets {
        let piece = after.piece(&line.piece).unwrap();
        let tack = |k: usize, side: usize| {
            let name = format!("tack {} {k} {side}", line.name);
            piece.inner.iter().find(|l| l.name == name).map(|l| l.chain.start())
        };
        let now = after.place_line(&line.piece, &line.name).unwrap();
        for (k, two) in net.windows(2).enumerate() {
            let [(s0, [a0, b0]), (s1, [a1, _])] = two else { continue };
            let on = line.chain.point_at(0.5 * (s0 + s1) * line.chain.length());
            let corners = [*a0, *b0, *a1];
            let went = [tack(k, 0), tack(k, 1), tack(k + 1, 0)];
            let [Some(a), Some(b), Some(c)] = went else { continue };
            let share = shares(corners, on);
            let there = a + (b - a) * share[1] + (c - a) * share[2];
            most = most.max(now.chain.nearest(there).distance);
        }
    }
    Ok(most)
}

#[test]
fn a_line_stays_among_the_tacks_round_it() {
    let blocks = blocks();
    let tried: Vec<(String, f64)> = CATALOGUE
        .par_iter()
        .flat_map(|listed| blocks.par_iter().step_by(3).map(move |block| (listed, block)))
        .filter_map(|(listed, block)| {
            let change = Change::Correct((listed.with)(0.5 * listed.about.range.1));
            Some((listed.about.name.to_owned(), slipped(block, &change).ok()?))
        })
        .collect();
    let mut most: BTreeMap<&str, f64> = BTreeMap::new();
    for (name, off) in &tried {
        let worst = most.entry(name).or_default();
        *worst = worst.max(*off);
    }
    println!("{} changes: {most:.2?}", tried.len());
    assert!(tried.len() > 250, "{}", tried.len());
    // Paper that grows within the net stretches it unevenly: where the knee is moved the
    // triangles are a millimetre off, elsewhere they are not.
    for (name, off) in most {
        let within = if name == "knee level" || name.starts_with("leg length") { 1.5 } else { 0.1 };
        assert!(off < within, "{name}: a line lies {off} mm from its cloth");
    }
}

/// The seam and its name on the pattern by which a line is marked; the hem is an edge.
fn marked(line: HangLine) -> Option<(&'static str, &'static str)> {
    match line {
        HangLine::Hip => Some((names::HIP_BALANCE, names::CROTCH)),
        HangLine::Thigh => Some((names::THIGH, names::INSEAM)),
        HangLine::Knee => Some((names::KNEE, names::INSEAM)),
        HangLine::Hem | HangLine::Waist => None,
    }
}

/// How long the three threads are from the waist down to a line, mm: along the seat seam and
/// the inseam, down the middle along the grain, and along the side seam.
fn threads(pattern: &Pattern, line: HangLine, view: PieceView) -> Option<[f64; 3]> {
    let piece = pattern.piece(view.piece()).unwrap();
    let seam = |name: &str| piece.seam(name).unwrap();
    let from = |name: &str, corner: &str, at: Point| {
        let place = |p: Point| seam(name).nearest(p).0.position;
        (place(at) - place(piece.corner(corner).unwrap())).abs()
    };
    let (inner, middle, side) = match (line, marked(line)) {
        (HangLine::Waist, _) => return None,
        (_, Some((name, inner_seam))) => {
            let placed = pattern.place_line(view.piece(), name).unwrap();
            let on = |s: &str| placed.ends.iter().find(|e| e.seam == s).unwrap().point;
            let middle = placed.chain.point_at(0.5 * placed.chain.length());
            (on(inner_seam), middle, on(names::SIDE))
        }
        (_, None) => {
            let hem = seam(names::HEM);
            let middle = hem.place(End::Start, 0.5 * hem.sewn_length()).point;
            let corner = |c: &str| piece.corner(c).unwrap();
            (corner(names::HEM_INSEAM), middle, corner(names::HEM_SIDE))
        }
    };
    let crotch = seam(names::CROTCH);
    let along_inner = match line {
        HangLine::Hip => from(names::CROTCH, names::WAIST_CENTRE, inner),
        _ => crotch.sewn_length() + from(names::INSEAM, names::CROTCH_POINT, inner),
    };
    let waist = seam(names::WAIST);
    let top = waist.place(End::Start, 0.5 * waist.sewn_length()).point;
    let down = (top - middle).dot(piece.grain.direction());
    Some([along_inner, down, from(names::SIDE, names::WAIST_SIDE, side)])
}

/// What is left of a fault on the next toile: as much as the threads became longer or shorter.
fn next(
    before: &Pattern,
    after: &Pattern,
    planted: Droops,
) -> impl Fn(HangLine, PieceView, Leg, f64) -> f64 {
    let mut grown = Vec::new();
    for (line, view) in HangLine::ALL.into_iter().flat_map(|l| PieceView::ALL.map(|v| (l, v))) {
        let (was, now) = (threads(before, line, view), threads(after, line, view));
        if let (Some(was), Some(now)) = (was, now) {
            grown.push(((line, view), [0, 1, 2].map(|k| now[k] - was[k])));
        }
    }
    move |line, view, leg, at| {
        let of = grown.iter().find(|g| g.0 == (line, view));
        planted(line, view, leg, at) + of.map_or(0.0, |g| g.1[(2.0 * at).round() as usize])
    }
}

type Droops = fn(HangLine, PieceView, Leg, f64) -> f64;

/// Rules whose change adds or takes length between the waist and their own line, and the rule
/// that would undo it. Threads know no width, and no slack: what hangs below the line of the
/// fault, or was crumpled above it, is not theirs to tell.
const BY_LENGTH: &[(&str, &str)] = &[
    ("surplus length under the seat", "length lacking under the seat"),
    ("surplus length between waist and hip", "seat stands out in the middle"),
    ("seat stands out in the middle", "surplus length between waist and hip"),
    ("full seat", "sway back"),
    ("flat seat", "full seat"),
    ("sway back", "full seat"),
    ("high hip", "width lacking at the side of the hip"),
    ("full tummy", "flat tummy"),
    ("flat tummy", "full tummy"),
    ("crotch too shallow", "crotch too deep"),
    ("crotch too deep", "crotch too shallow"),
    ("back crotch too short at the inseam", "crotch too deep"),
    ("front crotch too short at the inseam", "crotch too deep"),
    ("surplus length between thigh and knee", "length lacking between thigh and knee"),
    ("length lacking between thigh and knee", "surplus length between thigh and knee"),
    ("leg too long below the knee", "leg too short below the knee"),
    ("leg too short below the knee", "leg too long below the knee"),
];

/// Changes that answer a part of the fault by the middle thread, and the most they leave: the
/// same fault may be named again by what is left (at the most 7.4 of 9.5 mm and 6.8 of 8). Top and scoop lowers the waist by the whole
/// at the centre and by half in the middle; a full seat raises it so.
const PARTLY: &[(&str, f64)] =
    &[("surplus length under the seat", 0.8), ("seat stands out in the middle", 0.9)];

/// The next toile names neither the fault that was answered nor the one that would undo the
/// change, nor again a seat that is full where top and scoop drew the line up.
#[test]
fn the_next_toile_is_read_neither_as_the_fault_nor_as_its_opposite() {
    let (table, blocks): (RuleTable, _) = (ron::from_str(RULES).unwrap(), blocks());
    let (mut tried, mut refused, mut wrong) = (0, 0, Vec::new());
    for (name, opposite) in BY_LENGTH {
        let Case(_, planted, amount, _) = CASES.iter().find(|c| c.0 == *name).unwrap();
        for block in &blocks {
            let reading = read(&table, block, &toile(block, planted), &[]);
            let Ok(after) = reading.meanings[0].change.as_ref().unwrap().apply(block) else {
                refused += 1;
                continue;
            };
            let after = after.pattern;
            let left = next(block, &after, *planted);
            let again = read(&table, &after, &toile(&after, left), &[]);
            tried += 1;
            let is_wrong =
                |rule: &str| [*name, *opposite, "full seat", "sway back"].contains(&rule);
            let is_left = |m: &Meaning| {
                let partly = PARTLY.iter().find(|p| p.0 == *name && m.rule == *name);
                partly.is_some_and(|p| m.amount.abs() < p.1 * amount.abs())
            };
            let named = again.meanings.iter().find(|m| is_wrong(&m.rule) && !is_left(m));
            wrong.extend(named.map(|m| format!("{name} {amount}: {} {:.1}", m.rule, m.amount)));
        }
    }
    println!("{tried} next toiles, {refused} changes refused, {} read wrong", wrong.len());
    assert!(tried >= 300 && refused * 50 <= tried, "{tried} {refused}");
    assert!(wrong.is_empty(), "{}: {:?}", wrong.len(), &wrong[..wrong.len().min(30)]);
}

/// A waist that tilts with the wearer's own is not read as the same fault for ever: cut lower
/// by as much, it hangs as low as before, and so it should.
#[test]
fn a_waist_cut_to_the_wearers_own_is_at_home_there() {
    let (table, blocks): (RuleTable, _) = (ron::from_str(RULES).unwrap(), blocks());
    for Case(name, planted, ..) in ON_TAPE {
        for block in &blocks {
            let droops = toile(block, planted);
            let reading = read(&table, block, &droops, needed(name));
            let after = reading.meanings[0].change.as_ref().unwrap().apply(block).unwrap().pattern;
            // The waist lies on the tape as it did, and the lines below it as they were.
            for seen in [needed(name), &[]] {
                let again = read(&table, &after, &toile(&after, planted), seen);
                assert!(again.meanings.is_empty(), "{name}: {:?}", again.meanings[0]);
            }
        }
    }
}
