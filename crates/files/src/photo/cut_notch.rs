//! Notches cut into the card: narrow grooves at its edge through which the ground is
//! seen. Each is measured in the picture along the edge as it would run without it,
//! and the outline is closed over it. What is not surely a notch is left as it is, so
//! that it stays doubtful.

use super::outline::{OnEdge, Stretch};
use super::{Picture, Tone};
use crate::median::median;
use hangtrue_geometry::camera::PlaneCamera;
use hangtrue_geometry::{Point, Vec2};
use nalgebra::{Matrix3, Vector3};

/// A notch in the card's edge, on the photo's own table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CutNotch {
    /// The middle of its mouth on the edge, mm.
    pub(crate) at: Point,
    /// Its end inside the card, mm.
    pub(crate) end: Point,
    /// How wide it is, mm.
    pub(crate) width: f64,
    /// How deep, mm.
    pub(crate) depth: f64,
    /// How far its middle may be from there along the edge, mm (95 in 100).
    pub(crate) within: f64,
}

/// Widths and depths a notch may have, mm (common practice, no published source:
/// snips and punched slots lie well within).
const WIDTH: (f64, f64) = (0.7, 5.0);
const DEPTH: (f64, f64) = (1.5, 12.0);
/// The edge to both sides that tells how it runs without the notch, mm from its middle.
const SHOULDER: (f64, f64) = (4.0, 18.0);
/// From place to place looked at along the edge, mm.
const STEP: f64 = 0.6;
/// Where notches are looked for, mm inside of the edge.
const LOOKED_AT: [f64; 3] = [0.9, 1.6, 2.3];
/// So much of the ground (0 the card, 1 the ground) is seen in a groove.
const SEEN: f64 = 0.4;
/// The middle of a notch may slant by this much to the side a mm of depth.
const SLANT: f64 = 0.7;
/// Colours further from those between card and ground are another thing's.
const STRANGE: f64 = 0.3;

/// What looks like notches at the edge.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct AtEdge {
    /// What surely are notches.
    pub(crate) notches: Vec<CutNotch>,
    /// Where something as broad runs in from the edge that is not surely one, mm.
    pub(crate) unsure: Vec<Point>,
}

/// Finds the notches of a stretch and, when asked, closes its line over them.
pub(crate) fn close_over(
    picture: &Picture,
    camera: &PlaneCamera,
    stretch: &mut Stretch,
    close: bool,
) -> AtEdge {
    if stretch.places.len() < 40 {
        return AtEdge::default();
    }
    let view = Seen { picture, camera };
    let mut found: Vec<(CutNotch, Shoulders)> = Vec::new();
    let mut unsure: Vec<Point> = Vec::new();
    let line = Arc::of(stretch);
    for at in candidates(&view, &line) {
        match measured(&view, &line, at) {
            Some(Judged::Notch(notch, edge)) => {
                if found.iter().all(|f| f.0.at.distance(notch.at) > 2.0) {
                    found.push((notch, edge));
                }
            }
            Some(Judged::Thin) => {}
            Some(Judged::Unsure) | None => unsure.push(line.at(at)),
        }
    }
    if close {
        for (notch, edge) in &found {
            edge.close(camera, stretch, notch);
        }
    }
    unsure.retain(|p| found.iter().all(|f| f.0.at.distance(*p) > f.0.width + f.0.depth));
    AtEdge { notches: found.into_iter().map(|f| f.0).collect(), unsure }
}

/// What a dark place at the edge is.
enum Judged {
    Notch(CutNotch, Shoulders),
    /// As thin as a line of a pen: the outline runs over it.
    Thin,
    Unsure,
}

/// A photo as the table is seen in it.
struct Seen<'a> {
    picture: &'a Picture,
    camera: &'a PlaneCamera,
}

type Colour = [f64; 3];
const PURE: [Tone; 3] = [Tone([1.0, 0.0, 0.0]), Tone([0.0, 1.0, 0.0]), Tone([0.0, 0.0, 1.0])];

impl Seen<'_> {
    fn colour(&self, table: Point) -> Option<Colour> {
        let seen = self.camera.to_picture(table)?;
        let held = self.picture.holds(seen, 2.0);
        held.then(|| PURE.map(|tone| f64::from(self.picture.light_at(tone, seen))))
    }

    /// The middle colour of some places.
    fn middle(&self, places: impl Iterator<Item = Point>) -> Option<Colour> {
        let all: Vec<Colour> = places.filter_map(|p| self.colour(p)).collect();
        if all.len() < 4 {
            return None;
        }
        let of = |c: usize| median(&mut all.iter().map(|v| v[c]).collect::<Vec<f64>>());
        Some([of(0)?, of(1)?, of(2)?])
    }
}

/// Between the colours of card and ground.
struct Mix {
    card: Colour,
    way: Colour,
    long: f64,
}

impl Mix {
    /// The colours beside a place of the edge; none where they are too alike.
    fn at(view: &Seen, edge: &Shoulders) -> Option<Self> {
        const ASIDE: [f64; 6] = [-10.0, -8.0, -6.0, 6.0, 8.0, 10.0];
        const ALIKE: f64 = 0.03;
        let beside = |deep: [f64; 2]| {
            view.middle(ASIDE.iter().flat_map(|u| deep.map(|d| edge.place(*u, d))))
        };
        let (card, ground) = (beside([2.0, 3.0])?, beside([-2.5, -3.5])?);
        let way: Colour = std::array::from_fn(|c| ground[c] - card[c]);
        let long = way.iter().map(|v| v * v).sum::<f64>().sqrt();
        (long > ALIKE).then_some(Self { card, way, long })
    }

    /// How much ground a colour is, and how far it is from any such mix.
    fn of(&self, colour: Colour) -> (f64, f64) {
        let off: Colour = std::array::from_fn(|c| colour[c] - self.card[c]);
        let dot = |a: &Colour, b: &Colour| (0..3).map(|c| a[c] * b[c]).sum::<f64>();
        let share = dot(&off, &self.way) / (self.long * self.long);
        let left: Colour = std::array::from_fn(|c| off[c] - share * self.way[c]);
        (share.clamp(-0.5, 1.5), dot(&left, &left).sqrt() / self.long)
    }
}

/// The edge as it runs past a place, by what is seen of it to both sides.
struct Shoulders {
    middle: Point,
    along: Vec2,
    out: Vec2,
    terms: Vector3<f64>,
    left: f64,
}

impl Shoulders {
    /// By the places of the edge near index `at`; none where it turns there.
    fn of(line: &Arc, at: f64, strict: bool) -> Option<Self> {
        Self::over(line, at, (9.0, SHOULDER.1), if strict { 8 } else { 2 })
    }

    /// The same by what lies so far away along the line.
    fn over(line: &Arc, at: f64, (aside, far): (f64, f64), rounds: usize) -> Option<Self> {
        let (before, after) = (line.at(at - aside), line.at(at + aside));
        let chord = after - before;
        if chord.hypot() < 12.0 {
            return None;
        }
        let along = chord.normalize();
        let out = Vec2::new(along.y, -along.x);
        let middle = before.midpoint(after);
        let all = line.within(at, far);
        let step = (all.len() / 60).max(1);
        let near: Vec<(f64, f64)> = all
            .step_by(step)
            .map(|p| ((p - middle).dot(along), (p - middle).dot(out)))
            .filter(|(u, _)| (SHOULDER.0..far).contains(&u.abs()))
            .collect();
        let (low, high) =
            near.iter().fold((0, 0), |(l, h), p| if p.0 < 0.0 { (l + 1, h) } else { (l, h + 1) });
        if low < 8 || high < 8 {
            return None;
        }
        let mut own = Self { middle, along, out, terms: Vector3::zeros(), left: f64::INFINITY };
        for _ in 0..rounds {
            let (mut a, mut b) = (Matrix3::identity() * 1e-9, Vector3::zeros());
            for (u, v) in &near {
                let row = Vector3::new(1.0, *u, u * u);
                // Tukey's biweight (memory): what sticks out has no weight.
                let off = (v - own.terms.dot(&row)) / (own.left.max(0.05) * 4.7);
                let weight = if own.left.is_infinite() {
                    1.0
                } else if off.abs() < 1.0 {
                    (1.0 - off * off).powi(2)
                } else {
                    0.0
                };
                a += row * row.transpose() * weight;
                b += row * (*v * weight);
            }
            own.terms = a.cholesky()?.solve(&b);
            let mut off: Vec<f64> = near.iter().map(|(u, v)| (v - own.height(*u)).abs()).collect();
            own.left = 1.4826 * median(&mut off)?;
        }
        Some(own)
    }

    fn height(&self, u: f64) -> f64 {
        self.terms.dot(&Vector3::new(1.0, u, u * u))
    }

    /// The place so far along the edge and so deep inside it, mm.
    fn place(&self, u: f64, deep: f64) -> Point {
        self.middle + self.along * u + self.out * (self.height(u) - deep)
    }

    /// Lays the line over a notch.
    fn close(&self, camera: &PlaneCamera, stretch: &mut Stretch, notch: &CutNotch) {
        /// More of the line than this is no notch, mm.
        const MOST: f64 = 60.0;
        let reach = notch.width / 2.0 + 1.2;
        let centre = (notch.at - self.middle).dot(self.along);
        let over = |p: &OnEdge| {
            let off = p.at - self.middle;
            let (u, v) = (off.dot(self.along), off.dot(self.out));
            let deep = self.height(u) - v;
            (u - centre).abs() <= reach && (-2.0..notch.depth + 3.0).contains(&deep)
        };
        let far = |p: &OnEdge| p.at.distance(notch.at) > 40.0;
        if stretch.closed {
            let Some(first) = stretch.places.iter().position(far) else { return };
            stretch.places.rotate_left(first);
        }
        let count = ((2.0 * reach / 0.4).ceil() as usize).max(4);
        let bridge = (0..=count).filter_map(|i| {
            let u = centre - reach + 2.0 * reach * i as f64 / count as f64;
            let at = self.place(u, 0.0);
            Some(OnEdge { seen: camera.to_picture(at)?, at, out: self.out })
        });
        let bridge: Vec<OnEdge> = bridge.collect();
        let first = stretch.places.iter().position(over);
        let last = stretch.places.iter().rposition(over);
        if let (Some(first), Some(last)) = (first, last) {
            let way = stretch.places[first..=last].windows(2);
            if way.map(|w| w[0].at.distance(w[1].at)).sum::<f64>() < MOST {
                stretch.places.splice(first..=last, bridge);
            }
            return;
        }
        // Nothing was seen at the mouth: the bridge goes where the line jumps it.
        let jumps = (1..stretch.places.len()).find(|i| {
            let u = |k: usize| (stretch.places[k].at - self.middle).dot(self.along) - centre;
            let near = stretch.places[*i].at.distance(notch.at) < reach + 4.0;
            near && u(i - 1) < 0.0 && u(*i) >= 0.0
        });
        if let Some(at) = jumps {
            stretch.places.splice(at..at, bridge);
        }
    }
}

/// A line with the way along it, mm.
struct Arc {
    places: Vec<Point>,
    gone: Vec<f64>,
    whole: f64,
    closed: bool,
}

impl Arc {
    fn of(stretch: &Stretch) -> Self {
        Self::through(stretch.places.iter().map(|p| p.at).collect(), stretch.closed)
    }

    fn through(places: Vec<Point>, closed: bool) -> Self {
        let mut gone = vec![0.0];
        for pair in places.windows(2) {
            gone.push(gone[gone.len() - 1] + pair[0].distance(pair[1]));
        }
        let last = gone[gone.len() - 1];
        let back = if closed { places[places.len() - 1].distance(places[0]) } else { 0.0 };
        Self { places, gone, whole: last + back, closed }
    }

    fn index(&self, at: f64) -> usize {
        let at = if self.closed { at.rem_euclid(self.whole) } else { at.clamp(0.0, self.whole) };
        self.gone.partition_point(|g| *g < at).min(self.places.len() - 1)
    }

    /// The place so far along the line, between places too: over the mouth of a notch
    /// there may be none.
    fn at(&self, at: f64) -> Point {
        let at = if self.closed { at.rem_euclid(self.whole) } else { at.clamp(0.0, self.whole) };
        let next = self.gone.partition_point(|g| *g < at);
        if next == 0 {
            return self.places[0];
        }
        let (a, from) = (self.places[next - 1], self.gone[next - 1]);
        let (b, to) = match self.gone.get(next) {
            Some(to) => (self.places[next], *to),
            None => (self.places[0], self.whole),
        };
        a.lerp(b, ((at - from) / (to - from).max(1e-9)).clamp(0.0, 1.0))
    }

    /// The places within so much of the line to both sides.
    fn within(&self, at: f64, reach: f64) -> impl ExactSizeIterator<Item = Point> + '_ {
        let (from, to) = (self.index(at - reach), self.index(at + reach));
        let n = self.places.len();
        let count = if to >= from { to - from } else { to + n - from };
        (0..count + 1).map(move |i| self.places[(from + i) % n])
    }
}

/// Where ground seems to be seen inside of the edge, mm along it.
fn candidates(view: &Seen, line: &Arc) -> Vec<f64> {
    let mut all: Vec<(f64, f64)> = Vec::new();
    let count = (line.whole / STEP) as usize;
    for i in 0..count {
        let at = i as f64 * STEP;
        let Some(edge) = Shoulders::of(line, at, false) else { continue };
        if edge.left > 0.5 {
            continue;
        }
        let u = (line.at(at) - edge.middle).dot(edge.along).clamp(-3.0, 3.0);
        let Some(mix) = Mix::at(view, &edge) else { continue };
        let seen = LOOKED_AT.iter().filter_map(|d| Some(mix.of(view.colour(edge.place(u, *d))?).0));
        let mean = seen.sum::<f64>() / LOOKED_AT.len() as f64;
        if mean > SEEN {
            all.push((at, mean));
        }
    }
    let mut runs: Vec<(f64, f64)> = Vec::new();
    for (at, _) in all {
        match runs.last_mut() {
            Some(last) if at - last.1 < 2.0 * STEP + 0.1 => last.1 = at,
            _ => runs.push((at, at)),
        }
    }
    runs.into_iter().map(|(a, b)| (a + b) / 2.0).collect()
}

/// The groove at one depth: its middle along the edge, its width, and how much of
/// the ground is seen in it.
struct Across {
    deep: f64,
    middle: f64,
    width: f64,
    most: f64,
    strange: f64,
}

/// The groove near a place of the edge at one depth.
fn across(
    view: &Seen,
    edge: &Shoulders,
    mix: &Mix,
    (near, deep, step): (f64, f64, f64),
) -> Option<Across> {
    const REACH: f64 = 5.5;
    const NONE: f64 = 0.2;
    let count = (2.0 * REACH / step) as i64;
    let seen = (0..=count)
        .map(|i| {
            let u = near - REACH + i as f64 * step;
            let (share, strange) = mix.of(view.colour(edge.place(u, deep))?);
            Some((u, share, strange))
        })
        .collect::<Option<Vec<_>>>()?;
    let close = |p: &(f64, f64, f64)| (p.0 - near).abs() < 2.0;
    let peak = (0..seen.len())
        .filter(|i| close(&seen[*i]))
        .max_by(|a, b| seen[*a].1.total_cmp(&seen[*b].1))?;
    let (mut from, mut to) = (peak, peak);
    while from > 0 && seen[from - 1].1 > NONE {
        from -= 1;
    }
    while to + 1 < seen.len() && seen[to + 1].1 > NONE {
        to += 1;
    }
    let groove = &seen[from..=to];
    let sum: f64 = groove.iter().map(|p| p.1).sum();
    let middle = groove.iter().map(|p| p.0 * p.1).sum::<f64>() / sum.max(1e-9);
    Some(Across { deep, middle, width: sum * step, most: seen[peak].1, strange: seen[peak].2 })
}

/// What lies near a place of the line; none where that cannot be seen.
fn measured(view: &Seen, line: &Arc, at: f64) -> Option<Judged> {
    /// A line of a pen is no broader, mm and pixels.
    const PEN: (f64, f64) = (0.8, 1.3);
    let mut edge = Shoulders::of(line, at, true)?;
    let scale = view.camera.scale_at(edge.middle)?;
    let pixel = 1.0 / scale;
    let step = (pixel / 2.0).clamp(0.1, 0.5);
    // Laid anew with the notch in its middle, so that its walls are no shoulders.
    let mut near = (line.at(at) - edge.middle).dot(edge.along).clamp(-4.0, 4.0);
    let first = across(view, &edge, &Mix::at(view, &edge)?, (near, 1.4, step))?;
    let to = edge.place(first.middle, 0.0);
    edge = Shoulders::of(line, at + (first.middle - near), true)?;
    let mix = Mix::at(view, &edge)?;
    near = (to - edge.middle).dot(edge.along);
    let mut rows: Vec<Across> = Vec::new();
    let mut deep = (0.6 * pixel).max(0.3);
    while deep < DEPTH.1 + 2.0 {
        let row = across(view, &edge, &mix, (near, deep, step))?;
        if row.most < SEEN || row.width < 0.3 {
            break;
        }
        near = row.middle;
        rows.push(row);
        deep += step;
    }
    let thin = |row: &Across| row.width < PEN.0.max(PEN.1 * pixel) || row.most < 0.55;
    if rows.is_empty() {
        return Some(Judged::Unsure);
    }
    if rows.iter().filter(|r| thin(r)).count() * 2 >= rows.len() {
        return Some(Judged::Thin);
    }
    let depth = rows.last()?.deep;
    let mean = |f: fn(&Across) -> f64| rows.iter().map(f).sum::<f64>() / rows.len() as f64;
    let (width, most, strange) = (mean(|r| r.width), mean(|r| r.most), mean(|r| r.strange));
    let widest = rows.iter().map(|r| r.width).fold(0.0, f64::max);
    let sound = edge.left <= (0.35 * pixel).max(0.25)
        && (DEPTH.0..DEPTH.1).contains(&depth)
        && (WIDTH.0..WIDTH.1).contains(&width)
        && widest < WIDTH.1 + 1.0
        && most > 0.55
        && strange < STRANGE
        && opens_on_ground(view, &edge, &mix, &rows)
        && ends_in_card(view, &edge, &mix, (rows.last()?.middle, depth));
    let (start, slant) = middle_line(&rows, depth)?;
    if !sound || slant.abs() > SLANT {
        return Some(Judged::Unsure);
    }
    let at = edge.place(start, 0.0);
    let seen = view.camera.to_picture(at)?;
    let camera = view.camera.mistake_at(seen, 0.1)?.within();
    // Found by the trials of the tests, not from a source.
    let within = camera.hypot(0.1 + 0.35 * pixel);
    let end = edge.place(start + slant * depth, depth);
    Some(Judged::Notch(CutNotch { at, end, width, depth, within }, edge))
}

/// Before the mouth lies the ground.
fn opens_on_ground(view: &Seen, edge: &Shoulders, mix: &Mix, rows: &[Across]) -> bool {
    let Some(first) = rows.first() else { return false };
    let seen = (-2..=2).flat_map(|k| [-1.6, -2.4].map(|d| (f64::from(k), d))).map(|(k, d)| {
        view.colour(edge.place(first.middle + k * 0.8, d)).map_or(0.0, |c| mix.of(c).0)
    });
    let mut seen: Vec<f64> = seen.collect();
    median(&mut seen).is_some_and(|m| (0.7..1.3).contains(&m))
}

/// Behind its end lies the card.
fn ends_in_card(view: &Seen, edge: &Shoulders, mix: &Mix, (middle, depth): (f64, f64)) -> bool {
    let seen = (-3..=3).flat_map(|k| [1.4, 2.4].map(|d| (f64::from(k), d))).map(|(k, d)| {
        view.colour(edge.place(middle + k * 0.7, depth + d)).map_or(1.0, |c| mix.of(c).0)
    });
    let mut seen: Vec<f64> = seen.collect();
    median(&mut seen).is_some_and(|m| m < 0.2)
}

/// Where the middle of a notch meets the edge, and how it slants.
fn middle_line(rows: &[Across], depth: f64) -> Option<(f64, f64)> {
    let used: Vec<&Across> = rows.iter().filter(|r| r.deep <= (0.8 * depth).max(1.5)).collect();
    let n = used.len() as f64;
    if used.len() < 3 {
        return None;
    }
    let (x, y) = used.iter().fold((0.0, 0.0), |(x, y), r| (x + r.deep / n, y + r.middle / n));
    let spread: f64 = used.iter().map(|r| (r.deep - x).powi(2)).sum();
    let slope = used.iter().map(|r| (r.deep - x) * (r.middle - y)).sum::<f64>() / spread.max(1e-9);
    Some((y - slope * x, slope))
}

/// A line in pixels, card to the left on the screen, without dips into the card that
/// are as narrow as notches: where both sides of one go on in one line.
pub(crate) fn without_dips(line: &[Point], scale: f64) -> Vec<Point> {
    /// How far into the card a dip goes at least, mm.
    const DIP: f64 = 0.7;
    /// How well what lies to both sides must be one line, mm.
    const ONE: f64 = 0.3;
    if line.len() < 60 || scale <= 0.0 || !scale.is_finite() {
        return line.to_vec();
    }
    // In mm, y up, as on a table.
    let flat: Vec<Point> = line.iter().map(|p| Point::new(p.x / scale, -p.y / scale)).collect();
    let arc = Arc::through(flat, true);
    let keep = |i: &usize| {
        let Some(edge) = Shoulders::over(&arc, arc.gone[*i], (17.0, 24.0), 3) else { return true };
        let off = arc.places[*i] - edge.middle;
        let (u, v) = (off.dot(edge.along), off.dot(edge.out));
        edge.left > ONE || u.abs() > SHOULDER.0 || edge.height(u) - v < DIP
    };
    let kept: Vec<Point> = (0..line.len()).filter(keep).map(|i| line[i]).collect();
    if kept.len() * 10 < line.len() * 9 { line.to_vec() } else { kept }
}

/// A rough outline in pixels without the grooves that are narrower and deeper than
/// notches are: the edge is then looked for over their mouths.
pub(crate) fn without_grooves(ring: &[Point], scale: f64) -> Vec<Point> {
    let n = ring.len();
    let (mouth, deep) = (4.5 * scale, 40.0 * scale);
    if n < 20 || !scale.is_finite() || scale <= 0.0 {
        return ring.to_vec();
    }
    let at = |i: usize| ring[i % n];
    // The mouth is where most of the line lies behind the shortest chord.
    let mut grooves: Vec<(f64, usize, usize)> = Vec::new();
    for i in 0..n {
        let mut way = 0.0;
        let mut best = (1.5 * scale, 0);
        for k in 1..n / 4 {
            way += at(i + k - 1).distance(at(i + k));
            if way > 2.0 * deep + mouth {
                break;
            }
            let chord = at(i).distance(at(i + k));
            let gain = way - 2.0 * chord;
            if chord < mouth && gain > best.0 {
                best = (gain, k);
            }
        }
        if best.1 > 0 {
            grooves.push((best.0, i, best.1));
        }
    }
    grooves.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut keep = vec![true; n];
    for (_, i, k) in grooves {
        let free = (i..=i + k).all(|j| keep[j % n]);
        if free && goes_on(&at, n, (i, i + k), scale) {
            for j in i + 1..i + k {
                keep[j % n] = false;
            }
        }
    }
    ring.iter().zip(keep).filter(|(_, keep)| *keep).map(|(p, _)| *p).collect()
}

/// Whether the line behind a groove goes on as it came, and the groove lies to the
/// card's side.
fn goes_on(at: &dyn Fn(usize) -> Point, n: usize, (from, to): (usize, usize), scale: f64) -> bool {
    const TURN: f64 = 0.7;
    let far = 8.0 * scale;
    let step = |start: usize, back: bool| {
        (1..n / 4)
            .map(|k| at(if back { start + n - k } else { start + k }))
            .find(|p| p.distance(at(start)) > far)
    };
    let (Some(before), Some(after)) = (step(from, true), step(to, false)) else { return false };
    let (comes, goes) = (at(from) - before, after - at(to));
    if comes.cross(goes).atan2(comes.dot(goes)).abs() > TURN {
        return false;
    }
    // On the screen the card lies to the left of the travel, where y runs down.
    let chord = after - before;
    let side: f64 = (from + 1..to).map(|i| chord.cross(at(i) - at(from))).sum();
    side < 0.0
}
