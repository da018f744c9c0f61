//! What is told of a solved photo and of a traced piece before it is taken in.

use super::job::point;
use super::trace::rename;
use super::{Known, PhotoError, PhotoJob, Place, SolvedPhoto, TraceJob, Traced};
use crate::exchange::joins_of;
use hangtrue_geometry::Point;
use hangtrue_geometry::camera::CameraError;
use hangtrue_pattern::Seam;
use hangtrue_pattern::words;
use hangtrue_pattern::words::Words;

/// How exactly places can be read from a solved photo, mm: 95 in 100 places are
/// nearer to their true one, as far as the marks are right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadWithin {
    /// The worst place among the marks.
    pub marks: f64,
    /// The worst place of the whole photo; infinite where it shows the horizon.
    pub photo: f64,
}

/// How exactly a clear edge is found in the picture, standard deviation in
/// pixels: as the reading of an outline takes it.
const EDGE: f64 = 0.1;
/// Places looked at each way.
const LOOKED_AT: usize = 16;

impl SolvedPhoto {
    /// How exactly places can be read.
    pub fn read_within(&self) -> ReadWithin {
        let camera = &self.ground.camera;
        let within =
            |seen: Point| camera.mistake_at(seen, EDGE).map_or(f64::INFINITY, |m| m.within());
        let worst =
            |places: &mut dyn Iterator<Item = Point>| places.map(within).fold(0.0, f64::max);
        let frame = camera.frame();
        let share = |i: usize, side: f64| side * (i as f64 + 0.5) / LOOKED_AT as f64;
        let mut all = (0..LOOKED_AT * LOOKED_AT).map(|i| {
            Point::new(share(i % LOOKED_AT, frame.width), share(i / LOOKED_AT, frame.height))
        });
        ReadWithin {
            marks: worst(&mut self.ground.marks.iter().map(|m| m.seen)),
            photo: worst(&mut all),
        }
    }
}

impl SolvedPhoto {
    /// The crossing of a mat at a place of the photo, column and row; none when the
    /// place lies between crossings.
    pub fn crossing_at(&self, seen: Place, pitch: f64) -> Option<(i32, i32)> {
        let own = self.ground.camera.to_plane(point(seen))?;
        let count = |v: f64| {
            let lines = v / pitch;
            let near = (lines - lines.round()).abs() < 0.3 && lines.abs() < 10_000.0;
            near.then_some(lines.round() as i32)
        };
        Some((count(own.x)?, count(own.y)?))
    }
}

/// A seam of a traced piece as it is seen in a photo.
#[derive(Debug, Clone, PartialEq)]
pub struct SeenSeam {
    /// Its name.
    pub name: String,
    /// Its line, pixels; cut where the photo does not show it.
    pub runs: Vec<Vec<Place>>,
}

/// From place to place of a line drawn over a photo, mm.
const DRAWN: f64 = 4.0;

impl Traced {
    /// The seams of the piece as one of the photos shows them.
    pub fn seams_seen(&self, photo: usize) -> Vec<SeenSeam> {
        let Some(solved) = self.photos.get(photo) else { return Vec::new() };
        let frame = solved.ground.camera.frame();
        let back = self.to_piece.inverse();
        let seen = |at: Point| {
            let p = solved.sees(back * at)?;
            let inside = (0.0..=frame.width).contains(&p.x) && (0.0..=frame.height).contains(&p.y);
            inside.then_some((p.x, p.y))
        };
        let one = |seam: &Seam| {
            let mut all: Vec<Option<Place>> = Vec::new();
            for part in &seam.parts {
                let length = part.length();
                let count = (length / DRAWN).ceil().max(1.0) as usize;
                let at = |i: usize| part.point_at(length * i as f64 / count as f64);
                all.extend((0..=count).map(|i| seen(at(i))));
            }
            let runs = all.split(Option::is_none).filter(|run| run.len() > 1);
            let runs: Vec<Vec<Place>> =
                runs.map(|run| run.iter().flatten().copied().collect()).collect();
            SeenSeam { name: seam.name.clone(), runs }
        };
        self.piece().seams.iter().map(one).collect()
    }

    /// Gives the piece and its seams other names than those proposed; an empty
    /// name, and no names of seams, keep the proposed ones.
    ///
    /// # Errors
    /// [`PhotoError`] when the names are not one for each seam, or two are alike.
    pub fn named(mut self, piece: &str, seams: &[String]) -> Result<Self, PhotoError> {
        if let Some(own) = self.pattern.pieces.first_mut() {
            let before: Vec<String> = own.seams.iter().map(|s| s.name.clone()).collect();
            refuse_alike(seams)?;
            rename(own, seams)?;
            let piece = piece.trim();
            if !piece.is_empty() {
                piece.clone_into(&mut own.name);
            }
            let kept = own.seams.iter().map(|s| &s.name).eq(&before);
            let joins = if kept { joins_of(&self.pattern) } else { Vec::new() };
            self.pattern.joins = joins.into();
        }
        self.pattern.check()?;
        Ok(self)
    }
}

fn refuse_alike(seams: &[String]) -> Result<(), PhotoError> {
    for (i, name) in seams.iter().enumerate() {
        let name = name.trim();
        if name.is_empty() {
            return Err(PhotoError::Asked(
                format!("seam {} has no name; give it one", i + 1).into(),
            ));
        }
        if seams[..i].iter().any(|other| other.trim() == name) {
            return Err(PhotoError::Asked(
                format!("two seams are called “{name}”; give each its own name").into(),
            ));
        }
    }
    Ok(())
}

/// Where in a job something is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AtFault {
    /// Which photo, from 0.
    pub photo: usize,
    /// Which of the marks of its known size, from 0, as the job lists them.
    pub mark: Option<usize>,
}

impl PhotoError {
    /// Which photo and which mark of the job it is about, if it is about one.
    pub fn at_fault(&self, job: &TraceJob) -> Option<AtFault> {
        let of = |file: &str| job.photos.iter().position(|p| p.file == file);
        match self {
            Self::Camera { photo, why } => {
                let photo = of(photo)?;
                let mark = match why {
                    CameraError::ResidualTooLarge { worst, .. } => {
                        listed(&job.photos[photo], *worst)
                    }
                    _ => None,
                };
                Some(AtFault { photo, mark })
            }
            Self::Mark { photo, mark, .. } => {
                let photo = of(photo)?;
                let mark = named_marks(&job.photos[photo]).iter().position(|n| n == mark);
                Some(AtFault { photo, mark })
            }
            Self::LooseDistances { photo, .. }
            | Self::WrongDistance { photo, .. }
            | Self::Outline { photo, .. }
            | Self::NoCard { photo, .. } => Some(AtFault { photo: of(photo)?, mark: None }),
            _ => None,
        }
    }

    /// The fault in words, with the name of the mark it is about.
    pub fn told(self, job: &TraceJob) -> Words {
        let at = self.at_fault(job).and_then(|f| Some((&job.photos[f.photo], f.mark?)));
        let Some((at, mark)) = at else { return Words::why(self) };
        let file = &at.file;
        let name = match &at.known {
            // Corners and crossings are told by the number they were clicked in.
            Known::Sheet { .. } | Known::Grid { .. } => format!("mark {}", mark + 1),
            _ => format!("mark {}", named_marks(at).get(mark).map_or("", String::as_str)),
        };
        match self {
            Self::Camera { why: CameraError::ResidualTooLarge { residual, limit, .. }, .. } => {
                words![
                    file,
                    ": the marks do not agree with each other: ",
                    name,
                    " lies ",
                    residual,
                    " from where the others put it, and ",
                    limit,
                    " is the most allowed; check its place and what was measured"
                ]
            }
            Self::Mark { why, .. } => words![file, ": ", name, ": ", why],
            other => Words::why(other),
        }
    }
}

/// The names of the marks of known size, as the engine calls them.
pub(super) fn named_marks(photo: &PhotoJob) -> Vec<String> {
    match &photo.known {
        Known::Sheet { .. } => (1..=4).map(|i| format!("corner {i}")).collect(),
        Known::Grid { crossings, .. } => {
            crossings.iter().map(|((c, r), _)| format!("crossing {c}, {r}")).collect()
        }
        Known::Places(marks) => {
            let one = |(i, m): (usize, &super::PlacedMark)| {
                if m.name.is_empty() { (i + 1).to_string() } else { m.name.clone() }
            };
            marks.iter().enumerate().map(one).collect()
        }
        Known::Distances { marks, .. } => marks.iter().map(|m| m.name.clone()).collect(),
        Known::Shared => photo.shared.iter().map(|m| m.name.clone()).collect(),
    }
}

/// Which mark of the job is the one the camera counts so: crossings are counted
/// column by column; which of the shared marks are known is not known here.
fn listed(photo: &PhotoJob, counted: usize) -> Option<usize> {
    match &photo.known {
        Known::Grid { crossings, .. } => {
            let mut sorted: Vec<(i32, i32)> = crossings.iter().map(|c| c.0).collect();
            sorted.sort_unstable();
            sorted.dedup();
            let at = sorted.get(counted)?;
            crossings.iter().position(|c| c.0 == *at)
        }
        Known::Shared => None,
        _ => (counted < named_marks(photo).len()).then_some(counted),
    }
}
