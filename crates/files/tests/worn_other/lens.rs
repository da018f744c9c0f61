//! A camera of the generator's own: a place, three directions, a lens that is a little
//! barrel- or pincushion-shaped.

pub type V = [f64; 3];

pub fn dot(a: V, b: V) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: V, b: V) -> V {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub fn unit(a: V) -> V {
    let long = dot(a, a).sqrt();
    a.map(|v| v / long)
}

#[derive(Clone)]
pub struct Lens {
    pub eye: V,
    right: V,
    down: V,
    ahead: V,
    pub focal: f64,
    bent: f64,
    pub size: (usize, usize),
}

impl Lens {
    /// At `eye`, looking at `aim`, turned about its own way by `roll`.
    pub fn new(eye: V, aim: V, roll: f64, focal: f64, bent: f64, size: (usize, usize)) -> Self {
        let ahead = unit([aim[0] - eye[0], aim[1] - eye[1], aim[2] - eye[2]]);
        let right = unit(cross(ahead, [0.0, 1.0, 0.0]));
        let down = cross(ahead, right);
        let (sin, cos) = roll.sin_cos();
        let turned = |a: V, b: V, s: f64| [0, 1, 2].map(|k| cos * a[k] + s * b[k]);
        Self {
            eye,
            right: turned(right, down, sin),
            down: turned(down, right, -sin),
            ahead,
            focal,
            bent,
            size,
        }
    }

    fn middle(&self) -> (f64, f64) {
        (0.5 * self.size.0 as f64, 0.5 * self.size.1 as f64)
    }

    /// Where a place is seen.
    pub fn seen(&self, p: V) -> (f64, f64) {
        let d = [p[0] - self.eye[0], p[1] - self.eye[1], p[2] - self.eye[2]];
        let away = dot(d, self.ahead);
        let (u, v) = (dot(d, self.right) / away, dot(d, self.down) / away);
        let bend = 1.0 + self.bent * (u * u + v * v);
        let (cx, cy) = self.middle();
        (cx + self.focal * u * bend, cy + self.focal * v * bend)
    }

    /// The way of the light to a pixel.
    pub fn way(&self, x: f64, y: f64) -> V {
        let (cx, cy) = self.middle();
        let (bu, bv) = ((x - cx) / self.focal, (y - cy) / self.focal);
        let (mut u, mut v) = (bu, bv);
        for _ in 0..4 {
            let bend = 1.0 + self.bent * (u * u + v * v);
            (u, v) = (bu / bend, bv / bend);
        }
        unit([0, 1, 2].map(|k| self.ahead[k] + u * self.right[k] + v * self.down[k]))
    }
}
