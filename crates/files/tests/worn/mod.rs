//! Photos of a worn toile made by the test: a leg-shaped body with lines drawn on
//! it at known heights, seen by a known camera.

#![allow(dead_code, clippy::expect_used)] // each test uses a part

pub mod figure;

use hangtrue_adjust::worn::{Section, Stand};
use hangtrue_files::photo::{Picture, encoded};
use hangtrue_geometry::{Point, Vec2};

/// A small generator, so that a case is the same on every machine.
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// Even between two numbers (xorshift64*, Vigna 2016, memory).
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let bits = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11;
        low + (high - low) * bits as f64 / (1u64 << 53) as f64
    }

    /// Normal with a standard deviation: twelve even numbers summed.
    pub fn normal(&mut self, sigma: f64) -> f64 {
        ((0..12).map(|_| self.between(0.0, 1.0)).sum::<f64>() - 6.0) * sigma
    }
}

/// A line drawn on the body: its height above the lens from its left end to its right,
/// mm; its ends lie at the edges of sight or beyond them.
#[derive(Clone, Copy)]
pub struct Drawn {
    /// Height at the left end, mm above the lens.
    pub height: f64,
    /// How much lower the right end is, mm.
    pub fall: f64,
    /// How far it droops below the straight between the ends in the middle, mm.
    pub droop: f64,
    /// How far it hangs there besides, as an arc: what it does on a toile that fits.
    pub home: f64,
    /// Whether the arc stands on each half, from the middle to an edge, as over both
    /// legs.
    pub halves: bool,
    /// How much of it lies beyond the edges of sight, shares of the whole line.
    pub hidden: [f64; 2],
}

impl Drawn {
    /// Its height at a share of the seen half.
    pub fn at(&self, share: f64) -> f64 {
        let share = self.hidden[0] + share * (1.0 - self.hidden[0] - self.hidden[1]);
        self.height - self.fall * share - self.sag(share)
    }

    /// The droop fades to nothing at both ends, which are level.
    pub fn sag(&self, share: f64) -> f64 {
        let along = if self.halves { (2.0 * share - 1.0).abs() } else { share };
        let arc = 4.0 * along * (1.0 - along);
        self.droop * (std::f64::consts::PI * share).sin().powi(2) + self.home * arc
    }
}

/// A leg: ellipses that taper downwards.
#[derive(Clone, Copy)]
pub struct Body {
    pub across: f64,
    pub away: f64,
    pub half_width: f64,
    pub half_depth: f64,
    /// Narrower per mm downwards.
    pub taper: f64,
    /// The height at which the widths hold, mm above the lens.
    pub at: f64,
}

impl Body {
    pub fn section(&self, height: f64) -> Section {
        let size = 1.0 + self.taper * (height - self.at);
        Section {
            across: self.across,
            away: self.away,
            half_width: self.half_width * size,
            half_depth: self.half_depth * size,
            square: 2.0,
        }
    }

    /// The angle round the section of the edge of sight, from the middle of the
    /// near side: a body hides its own half.
    pub fn edges(section: &Section) -> (f64, f64) {
        // Tangents from the lens: with x = across + a sin φ, z = away − b cos φ the
        // normal (sin φ / a, −cos φ / b) is square to the sight.
        let (x, z) = (section.across / section.half_width, section.away / section.half_depth);
        let (turn, reach) = ((-x).atan2(z), x.hypot(z));
        let open = (1.0 / reach).acos();
        (turn - open, turn + open)
    }

    /// Where a sight meets the near side: the height, and the angle round the section
    /// there; none beyond the edges of sight.
    pub fn met(&self, sight: Vec2) -> Option<(f64, f64)> {
        let mut height = sight.y * (self.away - self.half_depth);
        let mut angle = 0.0;
        for _ in 0..3 {
            let section = self.section(height);
            let (left, right) = Self::edges(&section);
            let edge = |phi: f64| {
                (section.across + section.half_width * phi.sin())
                    / (section.away - section.half_depth * phi.cos())
            };
            if sight.x < edge(left) || sight.x > edge(right) {
                return None;
            }
            let z = section.near_side(sight.x);
            height = sight.y * z;
            let x = (sight.x * z - section.across) / section.half_width;
            angle = x.atan2((section.away - z) / section.half_depth);
        }
        Some((height, angle))
    }

    /// The place of a drawn line at a share, in the world.
    pub fn place(&self, drawn: &Drawn, share: f64) -> [f64; 3] {
        let height = drawn.at(share);
        let section = self.section(height);
        let phi = Ruler::new(self, drawn).angle(share);
        let x = section.across + section.half_width * phi.sin();
        [x, height, section.away - section.half_depth * phi.cos()]
    }
}

/// The seen half of the section at a line, measured along: angles of even steps
/// and the shares of its length up to them.
pub struct Ruler {
    /// The length of the seen half, mm.
    pub whole: f64,
    left: f64,
    step: f64,
    shares: Vec<f64>,
}

impl Ruler {
    const STEPS: usize = 256;

    pub fn new(body: &Body, drawn: &Drawn) -> Self {
        let section = body.section(drawn.height);
        let (left, right) = Body::edges(&section);
        let step = (right - left) / Self::STEPS as f64;
        let mut run = vec![0.0];
        for i in 0..Self::STEPS {
            let phi = left + (i as f64 + 0.5) * step;
            let length = (section.half_width * phi.cos()).hypot(section.half_depth * phi.sin());
            run.push(run[i] + length);
        }
        let whole = run[Self::STEPS];
        Self { whole: whole * step, left, step, shares: run.iter().map(|r| r / whole).collect() }
    }

    pub fn share(&self, angle: f64) -> f64 {
        let at = ((angle - self.left) / self.step).clamp(0.0, Self::STEPS as f64 - 1e-9);
        let i = at as usize;
        self.shares[i] + (at - i as f64) * (self.shares[i + 1] - self.shares[i])
    }

    fn angle(&self, share: f64) -> f64 {
        let after = self.shares.partition_point(|s| *s < share).clamp(1, Self::STEPS);
        let (a, b) = (self.shares[after - 1], self.shares[after]);
        self.left + self.step * (after as f64 - 1.0 + (share - a) / (b - a))
    }
}

/// The photo: only the surroundings of the lines are painted, the rest is wall.
pub fn photograph(
    stand: &Stand,
    size: (usize, usize),
    body: &Body,
    lines: &[Drawn],
    noise: f64,
    chance: &mut Chance,
) -> Picture {
    /// Half the width of the drawn line, mm, and how dark it is.
    const PEN: f64 = 1.5;
    const INK: f64 = 0.75;
    /// Painted above and below a line, pixels.
    const AROUND: f64 = 45.0;
    let (width, height) = size;
    let mut pixels = vec![150; 3 * width * height];
    let wall = chance.between(0.05, 0.9);
    let shade = (chance.between(-0.25, 0.25), chance.between(-0.15, 0.15));
    for drawn in lines {
        let ruler = Ruler::new(body, drawn);
        let seen: Vec<Point> = (0..=60)
            .map(|i| {
                let [x, y, z] = body.place(drawn, f64::from(i) / 60.0);
                stand.seen(x, y, z)
            })
            .collect();
        let (x0, x1) = (seen[0].x.min(seen[60].x) - 30.0, seen[0].x.max(seen[60].x) + 30.0);
        for column in (x0.max(0.0) as usize)..(x1.min(width as f64) as usize) {
            let px = column as f64 + 0.5;
            let nearest = seen
                .iter()
                .min_by(|a, b| (a.x - px).abs().total_cmp(&(b.x - px).abs()))
                .map_or(0.0, |p| p.y);
            let (y0, y1) = (nearest - AROUND, nearest + AROUND);
            for row in (y0.max(0.0) as usize)..(y1.clamp(0.0, height as f64) as usize) {
                let p = Point::new(px, row as f64 + 0.5);
                let light = light(stand, body, (drawn, &ruler), p, (PEN, INK, wall));
                let uneven =
                    1.0 + shade.0 * (px / width as f64 - 0.5) + shade.1 * (p.y / 400.0).sin();
                let light = light * uneven + chance.normal(noise);
                let at = 3 * (row * width + column);
                pixels[at..at + 3].fill(encoded(light as f32));
            }
        }
    }
    Picture::from_pixels(width, height, pixels).expect("its size is right")
}

/// The light from a place of the picture.
fn light(
    stand: &Stand,
    body: &Body,
    (drawn, ruler): (&Drawn, &Ruler),
    p: Point,
    (pen, ink, wall): (f64, f64, f64),
) -> f64 {
    // Beyond the edges of sight lies the wall.
    let Some((height, angle)) = body.met(stand.sight(p)) else { return wall };
    let cloth = 0.35 + 0.4 * angle.cos();
    let off = (height - drawn.at(ruler.share(angle))).abs();
    let pixel = body.away / stand.focal;
    let cover = ((pen - off) / pixel + 0.5).clamp(0.0, 1.0);
    cloth * (1.0 - ink * cover)
}
