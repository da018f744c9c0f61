//! What the maker has said so far about their photos: a job of tracing on the way,
//! in which something may still be missing.

use hangtrue_files::photo::{
    GrainSeen, Known, LensKind, MarkLook, OutlineSeen, PhotoJob, Place, PlacedMark, SeenMark,
    SheetSize, TraceJob, USUAL_REACH, USUAL_TOLERANCE,
};
use hangtrue_pattern::units::{INCH, Unit};

/// What of known size lies beside the card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Sheet,
    Grid,
    Places,
    Distances,
    Shared,
}

impl Kind {
    pub(super) const ALL: [Self; 5] =
        [Self::Sheet, Self::Grid, Self::Places, Self::Distances, Self::Shared];

    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Sheet => "A sheet of paper",
            Self::Grid => "The grid of a cutting mat",
            Self::Places => "Marks at places I measured",
            Self::Distances => "Marks with distances I measured",
            Self::Shared => "Only marks that another photo shows too",
        }
    }

    /// What is to be clicked, in one sentence.
    pub(super) fn to_do(self) -> &'static str {
        match self {
            Self::Sheet => {
                "Click the sheet's four corners, going round it; first the two ends of a short side."
            }
            Self::Grid => {
                "Click four crossings far apart, round the card, and say for each how many lines it lies to the right of the first and above it."
            }
            Self::Places => "Click each mark, and say where it lies on the table.",
            Self::Distances => "Click each mark; then write the distances you measured.",
            Self::Shared => {
                "Click the marks that another photo shows too, each by the name it has there; four are needed."
            }
        }
    }

    /// How many marks are needed.
    fn needs(self) -> usize {
        if self == Self::Shared { 0 } else { 4 }
    }
}

/// A mark of known size as it was clicked.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mark {
    pub name: String,
    /// Pixels.
    pub seen: Place,
    pub look: MarkLook,
    /// Where it lies on the table, mm.
    pub place: (Option<f64>, Option<f64>),
    /// Column and row of a mat's crossing.
    pub crossing: (Option<i32>, Option<i32>),
}

/// One photo as far as it is said.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SaidPhoto {
    pub file: String,
    pub lens: LensKind,
    pub kind: Kind,
    pub sheet: SheetSize,
    /// Width and height of a measured sheet, mm.
    pub own_size: (f64, f64),
    /// From line to line of the mat, mm.
    pub pitch: f64,
    /// The marks are used exactly as clicked, and no crossing is looked for.
    pub exact: bool,
    pub marks: Vec<Mark>,
    pub distances: Vec<(String, String, f64)>,
    pub shared: Vec<SeenMark>,
    pub reach: f64,
    pub outline: OutlineSeen,
}

/// The whole job as far as it is said.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Said {
    pub photos: Vec<SaidPhoto>,
    pub piece: String,
    /// The photo the grainline is drawn in, its lower end, and its upper end when
    /// it is clicked too; pixels.
    pub grain: Option<(usize, Place, Option<Place>)>,
    pub tolerance: f64,
    /// How high the card's edge may stand above its marks, mm.
    pub raised: f64,
    pub seams: Vec<String>,
}

/// What is still missing, and in which photo.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lacking {
    pub photo: usize,
    pub words: String,
}

impl SaidPhoto {
    /// A photo of which nothing is said yet: the sheet and the mat are what lies about
    /// where that unit is used.
    pub fn new(file: String, kind: Kind, unit: Unit) -> Self {
        let inches = unit.denominator().is_some();
        let (sheet, pitch) = if inches { (SheetSize::Letter, INCH) } else { (SheetSize::A4, 10.0) };
        Self {
            file,
            lens: LensKind::default(),
            kind,
            sheet,
            own_size: (594.0, 841.0),
            pitch,
            exact: false,
            marks: Vec::new(),
            distances: Vec::new(),
            shared: Vec::new(),
            reach: USUAL_REACH,
            outline: OutlineSeen::default(),
        }
    }

    /// Whether one more mark of known size has a place.
    pub fn wants_mark(&self) -> bool {
        match self.kind {
            Kind::Sheet => self.marks.len() < 4,
            Kind::Shared => false,
            Kind::Distances => self.marks.len() < 26,
            Kind::Grid | Kind::Places => true,
        }
    }

    /// Sets one more mark; nothing happens when there is no place for it.
    pub fn add_mark(&mut self, seen: Place, proposed: Option<(i32, i32)>) {
        if !self.wants_mark() {
            return;
        }
        let taken = |name: &str| self.marks.iter().any(|m| m.name == name);
        let name = match self.kind {
            Kind::Distances => ('A'..='Z').map(String::from).find(|n| !taken(n)),
            _ => (1..).map(|n: usize| n.to_string()).find(|n| !taken(n)),
        };
        let crossing = match proposed {
            Some((column, row)) => (Some(column), Some(row)),
            None if self.marks.is_empty() => (Some(0), Some(0)),
            None => (None, None),
        };
        let look = MarkLook::default();
        let name = name.unwrap_or_default();
        self.marks.push(Mark { name, seen, look, place: (None, None), crossing });
    }

    /// Takes a mark away, and the distances measured to it.
    pub fn remove_mark(&mut self, index: usize) {
        if index < self.marks.len() {
            let gone = self.marks.remove(index);
            self.distances.retain(|d| d.0 != gone.name && d.1 != gone.name);
            // Corners and crossings are counted, not named.
            if matches!(self.kind, Kind::Sheet | Kind::Grid) {
                for (i, mark) in self.marks.iter_mut().enumerate() {
                    mark.name = (i + 1).to_string();
                }
            }
        }
    }

    /// Turns to another kind; marks that were clicked stay, as far as there is a
    /// place for them.
    pub fn turn_to(&mut self, kind: Kind) {
        if self.kind == kind {
            return;
        }
        self.kind = kind;
        let old = std::mem::take(&mut self.marks);
        self.distances.clear();
        for mark in old {
            let before = self.marks.len();
            self.add_mark(mark.seen, None);
            if let Some(new) = self.marks.get_mut(before) {
                new.look = mark.look;
                new.place = mark.place;
                if new.crossing.0.is_none() {
                    new.crossing = mark.crossing;
                }
            }
        }
    }

    /// The distance measured between two marks, mm.
    pub fn distance(&self, a: &str, b: &str) -> Option<f64> {
        let is = |d: &&(String, String, f64)| (d.0 == a && d.1 == b) || (d.0 == b && d.1 == a);
        self.distances.iter().find(is).map(|d| d.2)
    }

    pub fn set_distance(&mut self, a: &str, b: &str, mm: Option<f64>) {
        self.distances.retain(|d| !((d.0 == a && d.1 == b) || (d.0 == b && d.1 == a)));
        if let Some(mm) = mm {
            self.distances.push((a.to_owned(), b.to_owned(), mm));
        }
    }

    /// What is clicked next, in words.
    pub fn next(&self) -> String {
        let count = self.marks.len();
        match self.kind {
            Kind::Sheet => match count {
                0 => "Next: one end of a short side.".into(),
                1 => "Next: the other end of that short side.".into(),
                2 => "Next: the corner after it, going round the sheet.".into(),
                3 => "Next: the last corner.".into(),
                _ => "All four corners are marked.".into(),
            },
            Kind::Shared => String::new(),
            _ if count < 4 => format!("{count} of at least 4 are marked."),
            Kind::Grid if !self.exact => {
                format!("{count} are marked; the other crossings are found by themselves.")
            }
            _ => format!("{count} are marked; one more checks the others."),
        }
    }

    fn known(&self) -> Result<Known, String> {
        let missing = self.kind.needs().saturating_sub(self.marks.len());
        if missing > 0 {
            let marks = match self.kind {
                Kind::Sheet => "corners of the sheet",
                Kind::Grid => "crossings of the mat",
                _ => "marks",
            };
            return Err(format!("{missing} more {marks} are to be clicked"));
        }
        Ok(match self.kind {
            Kind::Sheet => {
                let sheet = match self.sheet {
                    SheetSize::Measured(..) => {
                        SheetSize::Measured(self.own_size.0, self.own_size.1)
                    }
                    bought => bought,
                };
                let corners = std::array::from_fn(|i| self.marks[i].seen);
                Known::Sheet { sheet, corners, as_pointed: self.exact }
            }
            Kind::Grid => {
                let one = |mark: &Mark| match mark.crossing {
                    (Some(column), Some(row)) => Ok(((column, row), mark.seen)),
                    _ => Err(format!(
                        "say for crossing {} how many lines it lies to the right of crossing 1 and above it",
                        mark.name
                    )),
                };
                let crossings = self.marks.iter().map(one).collect::<Result<_, _>>()?;
                Known::Grid { pitch: self.pitch, crossings, only_these: self.exact }
            }
            Kind::Places => {
                let one = |mark: &Mark| match mark.place {
                    (Some(x), Some(y)) => Ok(PlacedMark {
                        name: mark.name.clone(),
                        seen: mark.seen,
                        place: (x, y),
                        look: mark.look,
                    }),
                    _ => Err(format!("say where mark {} lies on the table", mark.name)),
                };
                Known::Places(self.marks.iter().map(one).collect::<Result<_, _>>()?)
            }
            Kind::Distances => Known::Distances {
                marks: self
                    .marks
                    .iter()
                    .map(|m| SeenMark { name: m.name.clone(), seen: m.seen, look: m.look })
                    .collect(),
                distances: self.distances.clone(),
            },
            Kind::Shared => Known::Shared,
        })
    }

    fn of(job: PhotoJob) -> Self {
        let mut said = Self {
            lens: job.lens,
            shared: job.shared,
            reach: job.reach,
            outline: job.outline,
            ..Self::new(job.file, Kind::Shared, Unit::default())
        };
        let mark = |name: String, seen: Place, look: MarkLook| Mark {
            name,
            seen,
            look,
            place: (None, None),
            crossing: (None, None),
        };
        match job.known {
            Known::Sheet { sheet, corners, as_pointed } => {
                said.kind = Kind::Sheet;
                said.exact = as_pointed;
                said.sheet = sheet;
                if let SheetSize::Measured(width, height) = sheet {
                    said.own_size = (width, height);
                }
                let one = |(i, seen): (usize, &Place)| {
                    mark((i + 1).to_string(), *seen, MarkLook::default())
                };
                said.marks = corners.iter().enumerate().map(one).collect();
            }
            Known::Grid { pitch, crossings, only_these } => {
                said.kind = Kind::Grid;
                said.pitch = pitch;
                said.exact = only_these;
                let one = |(i, ((column, row), seen)): (usize, ((i32, i32), Place))| Mark {
                    crossing: (Some(column), Some(row)),
                    ..mark((i + 1).to_string(), seen, MarkLook::default())
                };
                said.marks = crossings.into_iter().enumerate().map(one).collect();
            }
            Known::Places(marks) => {
                said.kind = Kind::Places;
                let one = |(i, m): (usize, PlacedMark)| {
                    let name = if m.name.is_empty() { (i + 1).to_string() } else { m.name };
                    Mark { place: (Some(m.place.0), Some(m.place.1)), ..mark(name, m.seen, m.look) }
                };
                said.marks = marks.into_iter().enumerate().map(one).collect();
            }
            Known::Distances { marks, distances } => {
                said.kind = Kind::Distances;
                said.marks = marks.into_iter().map(|m| mark(m.name, m.seen, m.look)).collect();
                said.distances = distances;
            }
            Known::Shared => {}
        }
        said
    }
}

impl Said {
    pub fn new(file: String, unit: Unit) -> Self {
        Self {
            photos: vec![SaidPhoto::new(file, Kind::Sheet, unit)],
            piece: String::new(),
            grain: None,
            tolerance: USUAL_TOLERANCE,
            raised: 0.0,
            seams: Vec::new(),
        }
    }

    /// The job said by a file.
    pub fn of(job: TraceJob) -> Self {
        Self {
            photos: job.photos.into_iter().map(SaidPhoto::of).collect(),
            piece: job.piece,
            grain: job.grain.map(|g| (g.photo, g.from, Some(g.to))),
            tolerance: job.tolerance,
            raised: job.raised,
            seams: job.seams,
        }
    }

    /// The job, when nothing is missing.
    pub fn job(&self) -> Result<TraceJob, Lacking> {
        let one = |(photo, said): (usize, &SaidPhoto)| {
            let known = said.known().map_err(|words| Lacking { photo, words })?;
            Ok(said.with(known))
        };
        let photos = self.photos.iter().enumerate().map(one).collect::<Result<_, _>>()?;
        Ok(self.around(photos))
    }

    /// The job without the names, which change nothing of what is traced.
    pub fn nameless_job(&self) -> Result<TraceJob, Lacking> {
        self.job().map(|job| TraceJob { piece: String::new(), seams: Vec::new(), ..job })
    }

    /// The job as far as a file can hold it, and which photos lose marks by that.
    pub fn job_so_far(&self) -> (TraceJob, Vec<usize>) {
        let mut losing = Vec::new();
        let one = |(photo, said): (usize, &SaidPhoto)| {
            let known = said.known().unwrap_or_else(|_| {
                if !said.marks.is_empty() {
                    losing.push(photo);
                }
                Known::Shared
            });
            said.with(known)
        };
        let photos = self.photos.iter().enumerate().map(one).collect();
        (self.around(photos), losing)
    }

    fn around(&self, photos: Vec<PhotoJob>) -> TraceJob {
        let grain =
            self.grain.and_then(|(photo, from, to)| Some(GrainSeen { photo, from, to: to? }));
        TraceJob {
            photos,
            piece: self.piece.clone(),
            grain,
            tolerance: self.tolerance,
            raised: self.raised,
            seams: self.seams.clone(),
        }
    }

    /// The name of the next shared mark of a photo: one that another photo shows
    /// and this does not yet, else a new one.
    pub fn next_shared(&self, photo: usize) -> String {
        let here = &self.photos[photo].shared;
        let lacks = |name: &String| here.iter().all(|m| m.name != *name);
        let others = self.photos.iter().enumerate().filter(|(i, _)| *i != photo);
        let mut there = others.flat_map(|(_, p)| p.shared.iter().map(|m| m.name.clone()));
        there.find(lacks).unwrap_or_else(|| {
            let free = |name: &String| lacks(name);
            (1..).map(|n: usize| format!("S{n}")).find(free).unwrap_or_default()
        })
    }
}

impl SaidPhoto {
    fn with(&self, known: Known) -> PhotoJob {
        PhotoJob {
            file: self.file.clone(),
            lens: self.lens,
            known,
            shared: self.shared.clone(),
            reach: self.reach,
            outline: self.outline.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn whole() -> TraceJob {
        let photo = |known| PhotoJob {
            file: "a.png".into(),
            lens: LensKind::Wide,
            known,
            shared: vec![SeenMark { name: "P".into(), seen: (1.0, 2.0), look: MarkLook::Dot }],
            reach: 9.0,
            outline: OutlineSeen::Card(Some((3.0, 4.0))),
        };
        let seen = |name: &str, x: f64| SeenMark {
            name: name.into(),
            seen: (x, 9.0),
            look: MarkLook::AsPointed,
        };
        let placed = |name: &str, x: f64| PlacedMark {
            name: name.into(),
            seen: (x, 1.0),
            place: (x, 7.0),
            look: MarkLook::Crossing,
        };
        TraceJob {
            photos: vec![
                photo(Known::Sheet {
                    sheet: SheetSize::Measured(500.0, 700.0),
                    corners: [(1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0)],
                    as_pointed: true,
                }),
                photo(Known::Grid {
                    pitch: 50.0,
                    crossings: (0..5).map(|i| ((i, i * i), (f64::from(i), 3.0))).collect(),
                    only_these: true,
                }),
                photo(Known::Places(["a", "b", "c", "d"].map(|n| placed(n, 3.0)).to_vec())),
                photo(Known::Distances {
                    marks: ["A", "B", "C", "D"].map(|n| seen(n, 5.0)).to_vec(),
                    distances: vec![("A".into(), "B".into(), 700.0)],
                }),
                photo(Known::Shared),
            ],
            piece: "back".into(),
            grain: Some(GrainSeen { photo: 1, from: (1.0, 9.0), to: (1.0, 2.0) }),
            tolerance: 0.4,
            raised: 1.5,
            seams: vec!["waist".into(), "hem".into()],
        }
    }

    #[test]
    fn every_job_a_file_holds_can_be_said_at_the_desk() {
        assert_eq!(Said::of(whole()).job().unwrap(), whole());
        assert_eq!(Said::of(whole()).job_so_far(), (whole(), vec![]));
    }

    #[test]
    fn what_is_missing_is_said_and_what_is_clicked_stays() {
        let mut said = Said::new("b.png".into(), Unit::Mm);
        let photo = &mut said.photos[0];
        for i in 0..3 {
            photo.add_mark((f64::from(i), 0.0), None);
        }
        let why = said.job().unwrap_err();
        assert_eq!((why.photo, why.words.contains("1 more corners")), (0, true), "{why:?}");
        assert_eq!(said.job_so_far().1, vec![0], "three corners are in no file");
        let photo = &mut said.photos[0];
        photo.add_mark((3.0, 0.0), None);
        photo.add_mark((4.0, 0.0), None);
        assert_eq!(photo.marks.len(), 4, "a sheet has four corners");
        photo.turn_to(Kind::Distances);
        assert_eq!(photo.marks.iter().map(|m| &*m.name).collect::<String>(), "ABCD");
        photo.set_distance("B", "A", Some(4.0));
        photo.set_distance("A", "B", Some(5.0));
        assert_eq!((photo.distance("B", "A"), photo.distances.len()), (Some(5.0), 1));
        photo.remove_mark(0);
        assert!(photo.distances.is_empty());
        photo.add_mark((9.0, 9.0), None);
        photo.turn_to(Kind::Grid);
        assert!(said.job().unwrap_err().words.contains("crossing 2"));
        said.photos.push(SaidPhoto::new("c.png".into(), Kind::Shared, Unit::Mm));
        assert_eq!(said.next_shared(1), "S1");
        said.photos[0].shared.push(SeenMark {
            name: "knee".into(),
            seen: (1.0, 1.0),
            look: MarkLook::Dot,
        });
        assert_eq!((said.next_shared(1), said.next_shared(0)), ("knee".into(), "S1".into()));
    }
}
