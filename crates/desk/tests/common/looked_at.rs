//! Pictures that are kept in the tree and compared, or written large to be looked at.

#![allow(clippy::unwrap_used)] // a helper may stop a test

use super::Driven;
use egui_kittest::SnapshotOptions;
use image::codecs::png::{CompressionType, FilterType, PngEncoder};

/// Pixels for one point of the small pictures in the tree.
const SMALL: f32 = 0.5;

/// The folder that large pictures are asked for in.
fn asked_for() -> Option<std::path::PathBuf> {
    std::env::var_os("HANGTRUE_PICTURES").map(Into::into)
}

/// Pixels for one point: small for the tree, large to be looked at.
pub fn fineness() -> f32 {
    if asked_for().is_some() { 1.0 } else { SMALL }
}

/// Compares the picture, or writes it large into the folder asked for.
pub fn look(h: &mut Driven, name: &str) {
    if let Some(folder) = asked_for() {
        std::fs::create_dir_all(&folder).unwrap();
        let file = std::fs::File::create(folder.join(format!("{name}.png"))).unwrap();
        let encoder =
            PngEncoder::new_with_quality(file, CompressionType::Best, FilterType::Adaptive);
        h.render().unwrap().write_with_encoder(encoder).unwrap();
        return;
    }
    // Sums of floats may be put in another order by another compiler: a shade of
    // difference on an edge is no other picture.
    let options = SnapshotOptions::new().threshold(0.6).max_failed_pixels(20_usize);
    h.try_snapshot_options(name, &options).unwrap();
}
