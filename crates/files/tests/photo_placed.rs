//! What the desk does with a photo, without the desk: an outline proposed and then
//! placed by hand, over one photo and over two; looking straight down; names.

// Tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::photo_scene;
use crate::photo_scene::distance;
use crate::photo_scene::leg::{self, PITCH, Taken};
use hangtrue_files::photo::*;
use hangtrue_geometry::Point;

fn photo(file: &str, known: Known) -> PhotoJob {
    PhotoJob {
        file: file.into(),
        lens: LensKind::Camera,
        known,
        shared: vec![],
        reach: 7.0,
        outline: OutlineSeen::Card(None),
    }
}

fn job(photos: Vec<PhotoJob>) -> TraceJob {
    TraceJob {
        photos,
        piece: String::new(),
        grain: None,
        tolerance: USUAL_TOLERANCE,
        raised: 0.0,
        seams: vec![],
    }
}

fn on_mat(taken: &Taken) -> TraceJob {
    let crossing = |c: (i32, i32)| {
        let place = Point::new(f64::from(c.0) * PITCH, f64::from(c.1) * PITCH);
        let (x, y) = taken.seen(place);
        (c, (x + 1.2, y - 0.8))
    };
    let crossings = [(0, 0), (10, 0), (10, 21), (0, 21)].map(crossing).to_vec();
    job(vec![photo("mat.png", Known::Grid { pitch: PITCH, crossings, only_these: false })])
}

fn traced(job: &TraceJob, read: &dyn Fn(&str) -> Picture) -> Result<Traced, PhotoError> {
    trace(job, &|file| Ok(read(file)), &|_, _| {})
}

#[test]
fn a_proposed_outline_placed_by_hand_is_the_same_outline() {
    let taken = leg::on_mat((900, 1200), 0.25);
    let read = |_: &str| taken.picture.clone();
    let mut job = on_mat(&taken);
    let found = traced(&job, &read).unwrap();
    let placed = points_to_place(&found, 0).unwrap();
    let OutlineSeen::Placed { points, .. } = &placed else { panic!("{placed:?}") };
    assert_eq!(points.iter().filter(|p| p.corner).count(), 5, "the corners of the leg");
    assert!((8..120).contains(&points.len()), "{} points", points.len());
    job.photos[0].outline = placed.clone();
    let again = traced(&job, &read).unwrap();
    let truth = leg::card();
    let (rms, worst) = distance(&again.edges, &truth);
    println!("placed: {rms:.3} mm RMS, {worst:.3} mm worst, told {:?}", again.expected);
    assert!(rms < 0.3 && worst < 1.5, "{rms} {worst}");
    assert!(again.expected.rms > rms && again.expected.worst > worst, "told honestly");
    assert_eq!(again.piece().seams.len(), found.piece().seams.len());

    // A hand is not exact: each point a few pixels off is drawn to the edge again.
    let mut rough = points.clone();
    for (i, p) in rough.iter_mut().enumerate() {
        let off = [(2.5, 1.0), (-2.0, 2.0), (1.0, -2.5)][i % 3];
        p.at = (p.at.0 + off.0, p.at.1 + off.1);
    }
    job.photos[0].outline = OutlineSeen::Placed { points: rough.clone(), snap: 8.0 };
    let drawn = traced(&job, &read).unwrap();
    let (rms, worst) = distance(&drawn.edges, &truth);
    println!("rough and drawn to the edge: {rms:.3} mm RMS, {worst:.3} mm worst");
    assert!(rms < 0.4 && worst < 2.5, "{rms} {worst}");
    // Taken as it is, the outline follows the hand.
    job.photos[0].outline = OutlineSeen::Placed { points: rough, snap: 0.0 };
    let by_hand = traced(&job, &read).unwrap();
    let (rms_by_hand, _) = distance(&by_hand.edges, &truth);
    println!("rough and taken as it is: {rms_by_hand:.3} mm RMS");
    assert!(rms_by_hand > 2.0 * rms, "{rms_by_hand} against {rms}");
}

#[test]
fn a_corner_more_makes_a_seam_more_and_bad_points_are_refused_in_words() {
    let taken = leg::on_mat((900, 1200), 0.2);
    let read = |_: &str| taken.picture.clone();
    let mut job = on_mat(&taken);
    let found = traced(&job, &read).unwrap();
    let OutlineSeen::Placed { mut points, snap } = points_to_place(&found, 0).unwrap() else {
        panic!()
    };
    // Half way up the side seam.
    let middle = leg::card()[1].point_at(leg::card()[1].length() / 2.0);
    set_point(&mut points, OutlinePoint { at: taken.seen(middle), corner: true }, true);
    job.photos[0].outline = OutlineSeen::Placed { points: points.clone(), snap };
    let more = traced(&job, &read).unwrap();
    assert_eq!(more.edges.len(), found.edges.len() + 1);
    for (points, snap, word) in [
        (points[..2].to_vec(), snap, "at least 3"),
        (points.clone(), 900.0, "snap"),
        (vec![OutlinePoint { at: (-9.0, 4.0), corner: true }; 3], snap, "outside the picture"),
        (
            [(100.0, 30.0), (130.0, 30.0), (130.0, 60.0)]
                .map(|at| OutlinePoint { at, corner: true })
                .to_vec(),
            snap,
            "mat.png",
        ),
    ] {
        job.photos[0].outline = OutlineSeen::Placed { points, snap };
        let why = traced(&job, &read).unwrap_err().to_string();
        assert!(why.contains(word), "{word} in {why}");
    }
}

#[test]
fn two_halves_are_placed_by_hand_too() {
    let halves = [leg::half((900, 1200), false), leg::half((900, 1200), true)];
    let read = |file: &str| halves[usize::from(file == "upper")].picture.clone();
    let target = |i: usize, half: usize| {
        let place = leg::TARGETS[i];
        let seen = halves[half].seen(place.into());
        PlacedMark { name: format!("T{i}"), seen, place, look: MarkLook::Crossing }
    };
    let shared = |half: usize| {
        [2, 3, 4, 5].map(|i| {
            let mark = target(i, half);
            SeenMark { name: mark.name, seen: mark.seen, look: mark.look }
        })
    };
    let mut lower =
        photo("lower", Known::Places([0, 1, 2, 3, 4, 5].map(|i| target(i, 0)).to_vec()));
    lower.shared = shared(0).to_vec();
    lower.outline = OutlineSeen::Card(Some(halves[0].seen(Point::new(270.0, 300.0))));
    let mut upper = photo("upper", Known::Shared);
    upper.shared = shared(1).to_vec();
    upper.outline = OutlineSeen::Card(Some(halves[1].seen(Point::new(270.0, 800.0))));
    let mut job = job(vec![lower, upper]);
    let found = traced(&job, &read).unwrap();
    let truth = leg::card();
    let (rms, worst) = distance(&found.edges, &truth);
    println!("two photos: {rms:.3} mm RMS, {worst:.3} mm worst, told {:?}", found.expected);
    assert!(rms < 0.5 && worst < 2.0, "{rms} {worst}");
    let placed = [0, 1].map(|photo| points_to_place(&found, photo).unwrap());
    for (photo, outline) in job.photos.iter_mut().zip(placed) {
        photo.outline = outline;
    }
    let again = traced(&job, &read).unwrap();
    let (rms, worst) = distance(&again.edges, &truth);
    println!("two photos, placed: {rms:.3} mm RMS, {worst:.3} mm worst");
    assert!(rms < 0.5 && worst < 2.0, "{rms} {worst}");
}

#[test]
fn looked_at_from_above_every_place_lies_where_it_is_on_the_table() {
    let taken = leg::whole((900, 1200), 0.55);
    let read = |_: &str| Ok(taken.picture.clone());
    // Six of the eight marks are told; all are looked for.
    let told = [0, 1, 3, 4, 6, 7].map(|i| PlacedMark {
        name: String::new(),
        seen: taken.seen(leg::TARGETS[i].into()),
        place: leg::TARGETS[i],
        look: MarkLook::Crossing,
    });
    let job = job(vec![photo("marks.png", Known::Places(told.to_vec()))]);
    let solved = solve_photos(&job, &read, &|_, _| {}).unwrap().remove(0);
    let within = solved.read_within();
    assert!(within.marks > 0.01 && within.marks < within.photo, "{within:?}");
    let straight = straight(&taken.picture, &solved, None).unwrap();
    let mm = straight.mm_per_pixel();
    let (mut sum, mut worst, mut count) = (0.0, 0.0f64, 0.0);
    for place in leg::TARGETS.map(Point::from) {
        let near = straight.sees(place);
        assert!(straight.on_table(near).distance(place) < 1e-6);
        let found = find_mark(&straight.picture, MarkLook::Crossing, near, 8.0).unwrap();
        let off = straight.on_table(found.at).distance(place);
        (sum, worst, count) = (sum + off * off, worst.max(off), count + 1.0);
    }
    println!(
        "straight: {mm:.3} mm a pixel; {count} marks, {:.3} mm RMS, {worst:.3} mm worst",
        f64::sqrt(sum / count)
    );
    assert!(f64::sqrt(sum / count) < 0.15 && worst < 0.4, "{worst}");
    // Up in the photo is up here: the waist above the hem.
    let (hem, waist) =
        (straight.sees(Point::new(270.0, 40.0)), straight.sees(Point::new(300.0, 1030.0)));
    assert!(waist.y < hem.y);

    // The file says its own size, and half of it is half as fine.
    let bytes = straight.png().unwrap();
    let reader = png::Decoder::new(std::io::Cursor::new(&bytes)).read_info().unwrap();
    let said = reader.info().pixel_dims.unwrap();
    assert_eq!((said.xppu, said.unit), (straight.per_metre, png::Unit::Meter));
    assert!((mm * f64::from(straight.per_metre) - 1000.0).abs() < 1e-9);
    let half = straight_at(&taken.picture, &solved, straight.per_metre / 2);
    assert!((half.picture.width() as f64 * 2.0 - straight.picture.width() as f64).abs() < 4.0);
    for wrong in [0, 5, 4_000_000] {
        let why =
            hangtrue_files::photo::straight(&taken.picture, &solved, Some(wrong)).unwrap_err();
        assert!(why.to_string().contains("pixels to a metre"), "{why}");
    }
}

fn straight_at(picture: &Picture, solved: &SolvedPhoto, per_metre: u32) -> Straight {
    straight(picture, solved, Some(per_metre)).unwrap()
}

#[test]
fn names_are_given_after_tracing_and_two_alike_are_refused() {
    let taken = leg::on_mat((900, 1200), 0.1);
    let read = |_: &str| taken.picture.clone();
    let found = traced(&on_mat(&taken), &read).unwrap();
    let proposed: Vec<String> = found.piece().seams.iter().map(|s| s.name.clone()).collect();
    assert!(proposed.contains(&"inseam".to_owned()), "{proposed:?}");
    assert!(!found.pattern.joins.is_empty(), "a back has its centre seam");
    let own = found.clone().named("my back", &proposed).unwrap();
    assert_eq!(own.piece().name, "my back");
    assert!(own.pattern.joins.is_empty(), "no join names a piece that is not there");
    assert_eq!(own.named("back", &[]).unwrap().pattern.joins, found.pattern.joins);
    let mut alike = proposed.clone();
    alike[0].clone_from(&proposed[1]);
    assert!(found.clone().named("", &alike).is_err());
    let why = found.clone().named("", &proposed[..2]).unwrap_err().to_string();
    assert!(why.contains("2 names for 5 seams"), "{why}");
}

#[test]
fn a_refusal_names_the_mark_it_is_about_as_it_was_clicked() {
    let taken = leg::on_mat((900, 1200), 0.2);
    let read = |_: &str| taken.picture.clone();
    let mut job = on_mat(&taken);
    // The third crossing is said to lie one line further than it does.
    let Known::Grid { crossings, only_these, .. } = &mut job.photos[0].known else { panic!() };
    crossings.push(((10, 10), taken.seen(Point::new(500.0, 500.0))));
    crossings.push(((0, 10), taken.seen(Point::new(0.0, 500.0))));
    crossings[2].0 = (11, 21);
    *only_these = true;
    let why = traced(&job, &read).unwrap_err();
    let at = why.at_fault(&job).unwrap();
    let words = why.told(&job).to_string();
    assert_eq!(at.photo, 0, "{words}");
    let mark = at.mark.unwrap();
    assert!(words.contains(&format!("mark {} lies", mark + 1)), "{words}");

    // One edge alone is no mark: the second corner lies on the hem.
    let mut job = on_mat(&taken);
    let Known::Grid { crossings, .. } = &mut job.photos[0].known else { panic!() };
    crossings[1].1 = taken.seen(Point::new(280.0, 40.0));
    let why = traced(&job, &read).unwrap_err();
    assert_eq!(why.at_fault(&job), Some(AtFault { photo: 0, mark: Some(1) }), "{why}");
    let words = why.told(&job);
    assert!(words.contains("mark 2: nothing that looks like a mark"), "{words}");
    assert_eq!(PhotoError::UnknownKind.at_fault(&job), None);
}

#[test]
fn seams_and_crossings_are_seen_where_they_lie() {
    let taken = leg::on_mat((900, 1200), 0.2);
    let read = |_: &str| taken.picture.clone();
    let mut job = on_mat(&taken);
    let ends = [Point::new(270.0, 100.0), Point::new(300.0, 800.0)].map(|p| taken.seen(p));
    job.grain = Some(GrainSeen { photo: 0, from: ends[0], to: ends[1] });
    let found = traced(&job, &read).unwrap();
    let seen = found.seams_seen(0);
    assert_eq!(seen.len(), 5);
    let card = leg::card();
    for (name, edge) in [("hem", 0), ("side", 1), ("waist", 2), ("crotch", 3), ("inseam", 4)] {
        let seam = seen.iter().find(|s| s.name == name).unwrap();
        assert_eq!(seam.runs.len(), 1, "{name} is seen whole");
        let truth: Vec<Point> = photo_scene::steps(&card[edge], 1.0)
            .into_iter()
            .map(|p| taken.seen(p).into())
            .collect();
        for place in &seam.runs[0] {
            let off =
                truth.iter().map(|t| t.distance((*place).into())).fold(f64::INFINITY, f64::min);
            assert!(off < 1.5, "{name}: {place:?} is {off} pixels off");
        }
    }
    let solved = &found.photos[0];
    let at = |x: f64, y: f64| taken.seen(Point::new(x, y));
    assert_eq!(solved.crossing_at(at(450.0, 1000.0), PITCH), Some((9, 20)));
    assert_eq!(solved.crossing_at(at(452.0, 1003.0), PITCH), Some((9, 20)));
    assert_eq!(solved.crossing_at(at(425.0, 1000.0), PITCH), None, "between two lines");
}
