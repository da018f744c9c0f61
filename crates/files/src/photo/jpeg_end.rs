//! Whether a JPEG is whole. The reader fills what is missing with grey and says
//! nothing, so a photo that broke off while it was copied would be read as if it showed
//! a grey card.

/// Markers of ITU-T T.81, table B.1; each follows a byte 0xFF.
const END_OF_IMAGE: u8 = 0xd9;
const START_OF_IMAGE: u8 = 0xd8;
/// A marker byte that stands for a 0xFF of the coded picture.
const STUFFED: u8 = 0x00;

fn is_restart(marker: u8) -> bool {
    (0xd0..=0xd7).contains(&marker)
}

/// Whether the picture of a JPEG runs to its end. Small pictures inside its notes are
/// passed over.
pub(super) fn is_whole(bytes: &[u8]) -> bool {
    let mut at = 0;
    while let Some((marker, after)) = next_marker(bytes, at) {
        at = match marker {
            END_OF_IMAGE => return true,
            START_OF_IMAGE | STUFFED => after,
            _ if is_restart(marker) => after,
            // After the head of a scan the search goes over the coded picture to the next
            // marker; after every other segment it stands at one.
            _ => match segment_end(bytes, after) {
                Some(end) => end,
                None => return false,
            },
        };
    }
    false
}

/// The next marker from there, and where it ends.
fn next_marker(bytes: &[u8], from: usize) -> Option<(u8, usize)> {
    let mut at = from + bytes.get(from..)?.iter().position(|b| *b == 0xff)?;
    // Any number of 0xFF may stand before a marker.
    while *bytes.get(at)? == 0xff {
        at += 1;
    }
    Some((bytes[at], at + 1))
}

/// Where a segment ends whose length, of two bytes, stands there.
fn segment_end(bytes: &[u8], from: usize) -> Option<usize> {
    let [high, low] = *bytes.get(from..from + 2)? else { return None };
    Some(from + usize::from(u16::from_be_bytes([high, low])).max(2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::codecs::jpeg::JpegEncoder;
    use image::{ExtendedColorType, ImageEncoder};

    fn jpeg() -> Vec<u8> {
        let (width, height) = (160, 120);
        let pixels: Vec<u8> =
            (0..width * height).map(|i: u32| (i.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
        let mut bytes = Vec::new();
        JpegEncoder::new_with_quality(&mut bytes, 90)
            .write_image(&pixels, width, height, ExtendedColorType::L8)
            .unwrap();
        bytes
    }

    #[test]
    fn every_jpeg_that_breaks_off_is_told_from_a_whole_one() {
        let whole = jpeg();
        assert!(is_whole(&whole));
        for end in 0..whole.len() {
            assert!(!is_whole(&whole[..end]), "cut at {end} of {}", whole.len());
        }
        let and_more = [&*whole, b"what a camera appends"].concat();
        assert!(is_whole(&and_more));
    }

    #[test]
    fn the_end_of_a_small_picture_in_a_note_is_not_the_end() {
        let whole = jpeg();
        let note = jpeg();
        let mut bytes = whole[..2].to_vec();
        bytes.extend([0xff, 0xe1]);
        bytes.extend(u16::try_from(note.len() + 2).unwrap().to_be_bytes());
        bytes.extend(&note);
        bytes.extend(&whole[2..]);
        assert!(is_whole(&bytes));
        assert!(!is_whole(&bytes[..bytes.len() - 2]));
    }
}
