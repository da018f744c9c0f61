//! Broken and hostile pictures are refused in words; place and camera notes are
//! read by nobody; a picture taken on its side stands upright.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used)]

use hangtrue_files::photo::*;
use hangtrue_geometry::Point;
use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageEncoder};
use proptest::prelude::*;
use std::sync::OnceLock;
use std::time::{Duration, Instant};

/// A picture whose left upper corner is dark and the rest light.
fn pixels(width: usize, height: usize) -> Vec<u8> {
    let tone = |i: usize| {
        let (x, y) = (i % width, i / width);
        if x < width / 2 && y < height / 2 { 20 } else { 220 }
    };
    (0..width * height).flat_map(|i| [tone(i); 3]).collect()
}

fn png(width: usize, height: usize) -> Vec<u8> {
    let mut bytes = Vec::new();
    image::codecs::png::PngEncoder::new(&mut bytes)
        .write_image(&pixels(width, height), width as u32, height as u32, ExtendedColorType::Rgb8)
        .unwrap();
    bytes
}

/// A JPEG with an EXIF note: orientation, and a place on the earth.
fn jpeg(width: usize, height: usize, orientation: u8) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = JpegEncoder::new_with_quality(&mut bytes, 95);
    encoder.set_exif_metadata(exif(orientation)).unwrap();
    encoder
        .write_image(&pixels(width, height), width as u32, height as u32, ExtendedColorType::Rgb8)
        .unwrap();
    bytes
}

/// A TIFF directory as EXIF 2.3 lays it out (memory): orientation (0x0112) and
/// the pointer to a GPS directory (0x8825) with the latitude's side (0x0001).
fn exif(orientation: u8) -> Vec<u8> {
    let mut note = b"II*\0\x08\0\0\0\x02\0".to_vec();
    note.extend([0x12, 0x01, 3, 0, 1, 0, 0, 0, orientation, 0, 0, 0]);
    note.extend([0x25, 0x88, 4, 0, 1, 0, 0, 0, 38, 0, 0, 0]);
    note.extend([0, 0, 0, 0]);
    note.extend([1, 0, 0x01, 0x00, 2, 0, 2, 0, 0, 0, b'N', 0, 0, 0, 0, 0, 0, 0]);
    note
}

/// A PNG header that states a size, and no pixels to speak of.
fn stated(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = b"\x89PNG\r\n\x1a\n".to_vec();
    let mut head = b"IHDR".to_vec();
    head.extend(width.to_be_bytes());
    head.extend(height.to_be_bytes());
    head.extend([8, 2, 0, 0, 0]);
    for (length, chunk) in [(13u32, head), (0, b"IDAT".to_vec()), (0, b"IEND".to_vec())] {
        bytes.extend(length.to_be_bytes());
        bytes.extend(&chunk);
        bytes.extend(crc(&chunk).to_be_bytes());
    }
    bytes
}

/// CRC-32 as PNG uses it (ISO 3309, memory).
fn crc(bytes: &[u8]) -> u32 {
    let mut crc = !0u32;
    for b in bytes {
        crc ^= u32::from(*b);
        for _ in 0..8 {
            crc = (crc >> 1) ^ (0xedb8_8320 & (crc & 1).wrapping_neg());
        }
    }
    !crc
}

/// A place in the picture and the place it shows, mm.
type Seen = ((f64, f64), (f64, f64));

#[test]
fn a_header_of_forty_thousand_is_refused_before_it_is_decoded() {
    for (width, height) in [(40_000, 40_000), (19_000, 19_000), (1, 2_000_000_000), (30_000, 64)] {
        let start = Instant::now();
        let fault = Picture::from_bytes(&stated(width, height)).unwrap_err();
        assert!(start.elapsed() < Duration::from_millis(500));
        assert!(
            matches!(fault, PhotoError::TooManyPixels { width: w, height: h, .. } if (w, h) == (width, height)),
            "{fault}"
        );
    }
    let fault = Picture::from_bytes(&stated(8, 8)).unwrap_err();
    assert!(matches!(fault, PhotoError::TooSmall { .. }), "{fault}");
}

#[test]
fn what_is_no_picture_is_said_so() {
    for bytes in [&b""[..], b"GIF89a......", b"<svg/>", b"%PDF-1.7", &[0; 64]] {
        let fault = Picture::from_bytes(bytes).unwrap_err();
        assert!(matches!(fault, PhotoError::UnknownKind), "{fault}");
    }
    let whole = jpeg(200, 120, 1);
    for end in [200, whole.len() / 2, whole.len() - 2] {
        let fault = Picture::from_bytes(&whole[..end]).unwrap_err();
        assert!(matches!(fault, PhotoError::BrokenOff), "{fault}");
    }
    let half = png(200, 120);
    let fault = Picture::from_bytes(&half[..half.len() / 2]).unwrap_err();
    assert!(matches!(fault, PhotoError::Damaged), "{fault}");
    let missing = Picture::open(std::path::Path::new("/nowhere/card.png")).unwrap_err();
    assert!(matches!(missing, PhotoError::Unreadable { .. }), "{missing}");
}

#[test]
fn a_photo_taken_on_its_side_stands_upright_and_keeps_no_note() {
    // EXIF orientation 6: to be turned a quarter clockwise to be upright.
    let turned = Picture::from_bytes(&jpeg(200, 120, 6)).unwrap();
    assert_eq!((turned.width(), turned.height()), (120, 200));
    let light = |p: &Picture, x: f64, y: f64| p.light_at(Tone::BRIGHTNESS, Point::new(x, y));
    // The dark corner was upper left and is upper right now.
    assert!(light(&turned, 100.0, 20.0) < 0.1 && light(&turned, 20.0, 20.0) > 0.5);
    let plain = Picture::from_bytes(&jpeg(200, 120, 1)).unwrap();
    assert!(light(&plain, 20.0, 20.0) < 0.1);
    // What is held is pixels: three bytes each and nothing beside.
    assert_eq!(plain.pixels().len(), 200 * 120 * 3);
}

fn seed() -> &'static [u8] {
    static SEED: OnceLock<Vec<u8>> = OnceLock::new();
    SEED.get_or_init(|| png(96, 80))
}

fn jpeg_seed() -> &'static [u8] {
    static SEED: OnceLock<Vec<u8>> = OnceLock::new();
    SEED.get_or_init(|| jpeg(96, 80, 3))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn damaged_pictures_never_panic(
        places in proptest::collection::vec((0usize..4000, any::<u8>()), 1..30),
        cut in 0usize..4000,
        is_jpeg in any::<bool>(),
    ) {
        let mut bytes = if is_jpeg { jpeg_seed() } else { seed() }.to_vec();
        for (at, value) in places {
            let n = bytes.len();
            bytes[at % n] = value;
        }
        bytes.truncate(bytes.len().saturating_sub(cut % 64));
        if let Err(fault) = read_and_look(&bytes) {
            prop_assert!(fault.to_string().len() > 20);
        }
    }
}

fn job(known: Known) -> TraceJob {
    TraceJob {
        photos: vec![PhotoJob {
            file: "card.png".into(),
            lens: LensKind::Camera,
            known,
            shared: vec![],
            reach: 8.0,
            outline: OutlineSeen::default(),
        }],
        piece: String::new(),
        grain: None,
        tolerance: USUAL_TOLERANCE,
        raised: 0.0,
        seams: vec![],
    }
}

fn tried(job: &TraceJob) -> PhotoError {
    let read = |_: &str| Picture::from_bytes(&png(400, 300));
    trace(job, &read, &|_, _| {}).unwrap_err()
}

fn placed(seen: (f64, f64), place: (f64, f64)) -> PlacedMark {
    PlacedMark { name: String::new(), seen, place, look: MarkLook::AsPointed }
}

#[test]
fn marks_that_do_not_do_are_named() {
    let three = [((9.0, 9.0), (0.0, 0.0)), ((90.0, 9.0), (9.0, 0.0)), ((9.0, 90.0), (0.0, -9.0))];
    let places = |marks: &[Seen]| Known::Places(marks.iter().map(|m| placed(m.0, m.1)).collect());
    let few = tried(&job(places(&three)));
    assert!(few.to_string().contains("at least 4"), "{few}");
    let line: Vec<_> =
        (0..6).map(|i| f64::from(i) * 20.0).map(|t| ((t + 9.0, t + 9.0), (t, -t))).collect();
    let line = tried(&job(places(&line)));
    assert!(line.to_string().contains("in one line"), "{line}");
    let outside = [three[0], three[1], three[2], ((900.0, 9.0), (50.0, 0.0))];
    let outside = tried(&job(places(&outside)));
    assert!(matches!(outside, PhotoError::Mark { .. }), "{outside}");
    let bare = Known::Sheet {
        sheet: SheetSize::A4,
        corners: [(230.0, 200.0), (330.0, 200.0), (330.0, 260.0), (230.0, 260.0)],
        as_pointed: false,
    };
    let bare = tried(&job(bare));
    assert!(bare.to_string().contains("sheet"), "{bare}");
    let distances = Known::Distances { marks: vec![], distances: vec![] };
    assert!(matches!(tried(&job(distances)), PhotoError::Camera { .. }));
    assert!(matches!(tried(&job(Known::Shared)), PhotoError::Camera { .. }));
    let grid = Known::Grid { pitch: 0.0, crossings: vec![], only_these: false };
    assert!(matches!(tried(&job(grid)), PhotoError::Asked(_)));
    let mut none = job(Known::Shared);
    none.photos.clear();
    assert!(matches!(tried(&none), PhotoError::Asked(_)));
}

#[test]
fn a_job_is_written_and_read_back() {
    let text = r#"(
        piece: "back",
        photos: [(
            file: "card.jpg",
            known: Sheet(sheet: A4, corners: ((1, 2), (3, 4), (5, 6), (7, 8))),
            outline: Placed(points: [(at: (1, 2), corner: true), (at: (3, 4))], snap: 5),
        )],
        grain: Some((from: (1, 2), to: (3, 4))),
    )"#;
    let job: TraceJob = ron::from_str(text).unwrap();
    assert_eq!(job.tolerance, USUAL_TOLERANCE);
    let again: TraceJob = ron::from_str(&ron::to_string(&job).unwrap()).unwrap();
    assert_eq!(again, job);
    assert!(ron::from_str::<TraceJob>("(photos: [], colour: 3)").is_err());
}
