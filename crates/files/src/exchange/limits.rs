//! What is read at most, so that a broken or hostile file is refused in words
//! and does not fill the machine.

/// The largest SVG, bytes.
pub const LARGEST_SVG: u64 = 32 * 1024 * 1024;
/// The largest DXF, bytes.
pub const LARGEST_DXF: u64 = 96 * 1024 * 1024;
/// The largest binary DXF, bytes: its entities cannot be counted beforehand.
pub const LARGEST_BINARY_DXF: u64 = 8 * 1024 * 1024;
/// The most elements of an SVG, references unfolded.
pub const MOST_ELEMENTS: usize = 100_000;
/// The deepest nesting of SVG groups and references.
pub const DEEPEST_GROUPS: usize = 64;
/// The most entities of a DXF, vertices counted, blocks unfolded.
pub const MOST_ENTITIES: usize = 200_000;
/// The deepest nesting of DXF blocks.
pub const DEEPEST_BLOCKS: usize = 16;
/// The most lines, and the most points, that are made into pieces.
pub const MOST_LINES: usize = 50_000;
/// The most closed outlines side by side.
pub const MOST_OUTLINES: usize = 500;
/// The most comparisons of a line or point with a segment of an outline.
pub const MOST_COMPARED: usize = 50_000_000;
/// The furthest a place may lie from the origin, mm (1 km).
pub const FURTHEST: f64 = 1e6;
/// The most segments a closed outline may have.
pub const MOST_SEGMENTS: usize = 20_000;
