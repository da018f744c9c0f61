//! What is read at most, so that a broken or hostile picture is refused in words
//! and does not fill the machine.

/// The largest JPEG, bytes: it is held whole while it is decoded.
pub const LARGEST_JPEG: u64 = 40 * 1024 * 1024;
/// The largest PNG, bytes.
pub const LARGEST_PNG: u64 = 160 * 1024 * 1024;
/// The longest side, pixels.
pub const LONGEST_SIDE: u32 = 20_000;
/// The most pixels. A progressive JPEG takes about nine bytes for each while it
/// is decoded (six for its coefficients, three for the picture).
pub const MOST_PIXELS: u64 = 52_000_000;
/// The most bytes a decoded picture may take: 16 bits a channel doubles them.
pub const MOST_BYTES: u64 = 260_000_000;
/// The shortest side of a picture anything can be traced from, pixels.
pub const SHORTEST_SIDE: u32 = 64;
/// A card that stands higher above its marks does not lie on the table, mm.
pub const MOST_RAISED: f64 = 30.0;
/// The most photos of one job.
pub const MOST_PHOTOS: usize = 24;
/// The most marks of one photo.
pub const MOST_MARKS: usize = 5_000;
