//! A photo of a whole toile, both legs and the seat, before a wall with a door frame
//! in it. The figure and its pattern are invented; its girths are the pattern's, and
//! its lines lie as far apart as the pattern says.

use super::{Body, Chance, Drawn, Ruler};
use hangtrue_adjust::worn::{
    LegSeen, LevelBy, LineMark, PhotoMarks, Section, Stand, View, girth_at, length_along_grain,
};
use hangtrue_adjust::{OPEN_ROUND, PhotoView, RoundPhoto, home_shapes};
use hangtrue_files::photo::{Picture, encoded};
use hangtrue_geometry::{Point, Vec2};
use hangtrue_pattern::{Pattern, names};

/// Width and height, pixels.
pub const SIZE: (usize, usize) = (1200, 1600);
/// Lens to the body's middle, and the lens above the floor, mm.
pub const DISTANCE: f64 = 3000.0;
pub const LENS: f64 = 950.0;
/// The thigh line above the floor, mm.
const THIGH: f64 = 720.0;

/// Half the width of a drawn line, mm, and how dark it is.
const PEN: f64 = 2.0;
const INK: f64 = 0.8;

struct Part {
    body: Body,
    /// From which height above the lens to which, mm.
    from: f64,
    to: f64,
    leg: LegSeen,
    lines: Vec<(&'static str, Drawn)>,
}

/// A toile on its wearer, seen from behind by a tilted, slightly turned camera.
pub struct Posed {
    stand: Stand,
    parts: Vec<Part>,
}

impl Posed {
    /// A toile of that pattern with so much left over under the seat, mm: the thigh
    /// lines droop by it in the middle.
    pub fn new(pattern: &Pattern, surplus: f64) -> Self {
        let apart =
            |a: &str, b: &str| length_along_grain(pattern, names::BACK, a, b).expect("marked");
        let round = |name: &str, leg| girth_at(pattern, name, leg).expect("marked");
        let knee = THIGH - apart(names::THIGH, names::KNEE);
        let hip = THIGH + apart(names::HIP_BALANCE, names::THIGH);
        let (wide, narrow) =
            (round(names::THIGH, LegSeen::Left), round(names::KNEE, LegSeen::Left));
        let radius = wide / std::f64::consts::TAU;
        let homes = home_shapes(pattern);
        // Each line hangs as it does on a toile that fits, and the surplus besides.
        let hung = |name: &str, height: f64, leg: LegSeen, droop| {
            let home = homes.iter().find(|h| h.piece == names::BACK && h.line == name);
            let home = home.expect("a marked line has a home shape");
            let at = |share: f64| home.droop_at(home.share_from_inner(share));
            let inner = at(0.0) - at(1.0);
            // Of a leg, the wearer's left is left in the photo and its side seam the
            // left edge; the seat is seen from side to side.
            let (height, fall, home) = match leg {
                LegSeen::Left => (height, inner, home.bow()),
                LegSeen::Right => (height - inner, -inner, home.bow()),
                LegSeen::Both => (height, 0.0, home.bow()),
            };
            let halves = leg == LegSeen::Both;
            Drawn { height: height - LENS, fall, droop, home, halves, hidden: [0.0; 2] }
        };
        let leg = |across: f64, leg| Part {
            body: Body {
                across,
                away: DISTANCE,
                half_width: radius,
                half_depth: radius,
                taper: (1.0 - narrow / wide) / (THIGH - knee),
                at: THIGH - LENS,
            },
            from: 60.0 - LENS,
            to: THIGH + 70.0 - LENS,
            leg,
            lines: vec![
                (names::THIGH, hung(names::THIGH, THIGH, leg, surplus)),
                (names::KNEE, hung(names::KNEE, knee, leg, 0.0)),
            ],
        };
        let girth = round(names::HIP_BALANCE, LegSeen::Both);
        let flat =
            Section { across: 0.0, away: DISTANCE, half_width: 1.45, half_depth: 1.0, square: 2.0 };
        let depth = girth / flat.girth();
        let seat = Part {
            body: Body {
                across: 0.0,
                away: DISTANCE,
                half_width: 1.45 * depth,
                half_depth: depth,
                taper: -0.0004,
                at: hip - LENS,
            },
            from: THIGH + 60.0 - LENS,
            to: hip + 160.0 - LENS,
            leg: LegSeen::Both,
            lines: vec![(names::HIP_BALANCE, hung(names::HIP_BALANCE, hip, LegSeen::Both, 0.0))],
        };
        let focal = SIZE.1 as f64 * DISTANCE / 1400.0;
        let centre = Point::new(SIZE.0 as f64 / 2.0, SIZE.1 as f64 / 2.0);
        let stand = Stand { centre, focal, roll: 0.02, tilt: ((LENS - 620.0) / DISTANCE).atan() };
        let legs = [leg(-radius - 6.0, LegSeen::Left), leg(radius + 6.0, LegSeen::Right)];
        let mut parts: Vec<Part> = legs.into_iter().chain([seat]).collect();
        // The seams lie where the lengths of the pattern put them, out of sight alike at both
        // edges.
        for part in &mut parts {
            let halves = if part.leg == LegSeen::Both { 2.0 } else { 1.0 };
            for (name, drawn) in &mut part.lines {
                let home = homes.iter().find(|h| h.piece == names::BACK && h.line == *name);
                let length = halves * home.expect("a marked line has a home shape").length();
                let seen = Ruler::new(&part.body, drawn).whole;
                drawn.hidden = [0.5 * (1.0 - seen / length); 2];
            }
        }
        Self { stand, parts }
    }

    /// The photo.
    pub fn photograph(&self, noise: f64) -> Picture {
        let (width, height) = SIZE;
        let mut chance = Chance::new(11);
        let mut pixels = Vec::with_capacity(3 * width * height);
        let rulers: Vec<Vec<(Ruler, Drawn)>> = self
            .parts
            .iter()
            .map(|part| part.lines.iter().map(|l| (Ruler::new(&part.body, &l.1), l.1)).collect())
            .collect();
        for row in 0..height {
            for column in 0..width {
                let p = Point::new(column as f64 + 0.5, row as f64 + 0.5);
                let seen =
                    self.parts.iter().zip(&rulers).find_map(|(part, r)| self.cloth(part, r, p));
                let [r, g, b] = seen.unwrap_or_else(|| self.wall(p));
                let speck = chance.normal(noise);
                pixels.extend([r, g, b].map(|light| encoded((light + speck) as f32)));
            }
        }
        Picture::from_pixels(width, height, pixels).expect("its size is right")
    }

    /// The light from the cloth of a part, none where it is not seen.
    fn cloth(&self, part: &Part, rulers: &[(Ruler, Drawn)], p: Point) -> Option<[f64; 3]> {
        let (height, angle) = part.body.met(self.stand.sight(p))?;
        if !(part.from..=part.to).contains(&height) {
            return None;
        }
        let pixel = part.body.away / self.stand.focal;
        let off = |(ruler, drawn): &(Ruler, Drawn)| (height - drawn.at(ruler.share(angle))).abs();
        let off = rulers.iter().map(off).fold(f64::INFINITY, f64::min);
        let cover = ((PEN - off) / pixel + 0.5).clamp(0.0, 1.0);
        let light = (0.32 + 0.42 * angle.cos()) * (1.0 - INK * cover);
        Some([light, light * 0.93, light * 0.8])
    }

    /// A pale wall with a door frame, a skirting and a floor.
    fn wall(&self, p: Point) -> [f64; 3] {
        let sight = self.stand.sight(p);
        let (x, y) = (sight.x * DISTANCE, sight.y * DISTANCE);
        if y < -LENS + 15.0 {
            return [0.16, 0.12, 0.09];
        }
        if (x + 470.0).abs() < 14.0 {
            return [0.10, 0.11, 0.13];
        }
        if y < -LENS + 70.0 {
            return [0.5, 0.5, 0.48];
        }
        [0.13, 0.17, 0.2]
    }

    /// The photo of the open round that was kept under this name, marked.
    pub fn round_photo(&self, file: String) -> RoundPhoto {
        RoundPhoto {
            file,
            round: OPEN_ROUND.into(),
            view: PhotoView::Back,
            caption: String::new(),
            in_journal: false,
            cut_above: 0,
            marks: Some(self.marks()),
        }
    }

    /// Where a line is seen, at shares from its left edge to its right.
    pub fn clicks(&self, name: &str, leg: LegSeen, shares: &[f64]) -> Vec<Point> {
        let part = self.parts.iter().find(|p| p.leg == leg).expect("a part for each leg");
        let drawn = part.lines.iter().find(|l| l.0 == name).expect("drawn on it").1;
        shares
            .iter()
            .map(|share| {
                let [x, y, z] = part.body.place(&drawn, *share);
                self.stand.seen(x, y, z)
            })
            .collect()
    }

    /// Two places on the door frame, and one between the heels.
    pub fn plumb(&self) -> [Point; 2] {
        [150.0, -650.0].map(|y| self.stand.seen(-470.0, y, DISTANCE))
    }

    pub fn heels(&self) -> Point {
        self.stand.seen(0.0, -LENS, DISTANCE)
    }

    /// The marks as a person sets them: clicks a little beside the lines.
    pub fn marks(&self) -> PhotoMarks {
        let mut chance = Chance::new(5);
        let shares = [0.0, 0.2, 0.5, 0.8, 1.0];
        let mut lines = Vec::new();
        for part in &self.parts {
            for (name, _) in &part.lines {
                let mut points = self.clicks(name, part.leg, &shares);
                for p in &mut points {
                    *p += Vec2::new(chance.normal(0.7), chance.normal(1.2));
                }
                let mut mark =
                    LineMark { name: (*name).into(), leg: part.leg, points, girth: None };
                mark.put_in_order(View::Back);
                lines.push(mark);
            }
        }
        PhotoMarks {
            level: Some(LevelBy::Plumb),
            level_at: self.plumb().to_vec(),
            lens_height: Some(LENS),
            heels: Some(self.heels()),
            distance: Some(DISTANCE),
            lines,
            ..PhotoMarks::default()
        }
    }
}
