//! Photos of a fitting, kept private.
//!
//! They lie in a folder beside the project that only its owner may open, and go
//! nowhere from there. On the way in a photo is decoded, turned upright and written
//! anew as pixels alone, so nothing of place, time or camera comes along; a head
//! can be cut off or blurred before anything is written. The file the photo came
//! from is not touched.

mod doubt;

pub use doubt::{HeldDoubt, any_doubt, doubt, hold_all, hold_in_doubt, settle};

use crate::digest::digest_of;
use crate::io_words::words_of_io;
use crate::photo::{PhotoError, Picture, limits};
use crate::save::{SaveError, make_private_folder, write_private_new};
use image::codecs::jpeg::JpegEncoder;
use std::path::{Path, PathBuf};

/// What can go wrong with a photo of a fitting.
#[derive(Debug, thiserror::Error)]
pub enum AlbumError {
    /// The photo cannot be read.
    #[error("“{}”: {source}", path.display())]
    Photo {
        /// The file.
        path: PathBuf,
        /// Why.
        #[source]
        source: PhotoError,
    },
    /// It cannot be kept.
    #[error(transparent)]
    Save(#[from] SaveError),
    /// The folder beside the project cannot be made.
    #[error("the folder “{}” for the photos cannot be made: {}; keep the project in a folder of your own", path.display(), words_of_io(source))]
    Folder {
        /// The folder.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: std::io::Error,
    },
    /// The folder is a link.
    #[error("the folder “{}” for the photos is a link, and photos are not kept where it may lead; put a folder of your own in its place", path.display())]
    FolderIsLink {
        /// The link.
        path: PathBuf,
    },
    /// Another program is about to keep or throw away the photo.
    #[error(
        "“{photo}” belongs to work that is not saved yet in another window; save or close that, then try again"
    )]
    InUse {
        /// The photo's file name.
        photo: String,
    },
    /// The mark of a photo in doubt cannot be opened.
    #[error("“{}”: {}; nothing was done with the photo", path.display(), words_of_io(source))]
    Mark {
        /// The mark.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: std::io::Error,
    },
    /// A photo cannot be thrown away.
    #[error("“{}” cannot be thrown away: {}; do it by hand", path.display(), words_of_io(source))]
    Stays {
        /// The file.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: std::io::Error,
    },
    /// A file name that leads elsewhere.
    #[error("“{name}” is not the name of a file in the photo folder; take it out of the project")]
    NotAName {
        /// The name as it stands in the project.
        name: String,
    },
    /// Too little would be left.
    #[error(
        "with the upper {percent:.0} % cut off, {left} pixels in height would be left, and {least} are needed; cut off less"
    )]
    NothingLeft {
        /// What was to be cut off, percent.
        percent: f64,
        /// Height left, pixels.
        left: usize,
        /// Least height, pixels.
        least: u32,
    },
    /// What is to be hidden does not lie in the picture.
    #[error(
        "the part to hide must lie in the picture: percent from its left and upper edge, then width and height, like 40,0,20,15"
    )]
    OutsidePicture,
    /// The picture cannot be written.
    #[error("the photo cannot be written as a JPEG: {why}")]
    Unwritten {
        /// What the writer said.
        why: String,
    },
}

/// What is hidden of a photo, as shares of its width and height from the upper
/// left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hide {
    /// Everything above this share of the height is cut off.
    Above(f64),
    /// A box is blurred past recognition.
    Blur {
        /// Left edge.
        x: f64,
        /// Upper edge.
        y: f64,
        /// Width.
        width: f64,
        /// Height.
        height: f64,
    },
}

/// How good a kept photo is, of 100.
const QUALITY: u8 = 90;

/// A blurred box keeps the averages of so many cells each way and no more: what
/// is left cannot be sharpened into a face.
const CELLS: usize = 5;

/// The folder of a project's photos, beside it.
pub fn folder_of(project: &Path) -> PathBuf {
    let name = project.file_stem().map_or_else(|| "project".into(), ToOwned::to_owned);
    let mut folder = name;
    folder.push(".photos");
    if folder.len() > LONGEST_NAME {
        folder = shortened(&folder.to_string_lossy()).into();
    }
    project.with_file_name(folder)
}

/// The longest name of a file or folder that drives take, bytes (ext4, APFS, NTFS).
const LONGEST_NAME: usize = 255;

/// A name that is too long, cut, with a digest of the whole in its place.
fn shortened(name: &str) -> String {
    const KEPT: usize = 220;
    let digest = digest_of(name);
    let end = (0..=KEPT).rev().find(|i| name.is_char_boundary(*i)).unwrap_or(0);
    format!("{}-{digest:.16}.photos", &name[..end])
}

/// The path of a kept photo.
///
/// # Errors
/// [`AlbumError::NotAName`] when the name leads out of the folder,
/// [`AlbumError::FolderIsLink`] when the folder itself does.
pub fn path_of(project: &Path, file: &str) -> Result<PathBuf, AlbumError> {
    let plain = Path::new(file).file_name().is_some_and(|n| n == file);
    if !plain || file.contains(['/', '\\', ':']) {
        return Err(AlbumError::NotAName { name: file.to_owned() });
    }
    let folder = folder_of(project);
    if folder.is_symlink() {
        return Err(AlbumError::FolderIsLink { path: folder });
    }
    Ok(folder.join(file))
}

/// A photo that was taken in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenIn {
    /// Its file name in the folder of the photos.
    pub file: String,
    /// Rows of pixels that were cut off above.
    pub cut_above: usize,
}

/// Takes a photo in: reads it, hides what is to be hidden, keeps it as pixels
/// alone under a name made of `words` that says nothing of the file it came from.
///
/// # Errors
/// [`AlbumError`]; nothing is kept then.
pub fn take_in(
    project: &Path,
    source: &Path,
    words: &str,
    hide: &[Hide],
) -> Result<TakenIn, AlbumError> {
    keep(project, &open(source)?, words, hide, |_| Ok(())).map(|(taken, ())| taken)
}

/// The same, the photo being in doubt until the project that names it is saved and
/// [`settle`] is called.
///
/// # Errors
/// As [`take_in`].
pub fn take_in_doubt(
    project: &Path,
    source: &Path,
    words: &str,
    hide: &[Hide],
) -> Result<TakenIn, AlbumError> {
    let in_doubt = |file: &str| doubt(project, file);
    keep(project, &open(source)?, words, hide, in_doubt).map(|(taken, ())| taken)
}

/// The same for a program that stays open: the doubt is held, see [`hold_in_doubt`].
/// The project must be locked.
///
/// # Errors
/// As [`take_in`].
pub fn take_in_held(
    project: &Path,
    source: &Path,
    words: &str,
    hide: &[Hide],
    unsaved: Option<&Path>,
) -> Result<(TakenIn, HeldDoubt), AlbumError> {
    keep(project, &open(source)?, words, hide, |file| hold_in_doubt(project, file, unsaved))
}

/// Keeps a photo; `before` is told its name before it is written.
fn keep<T>(
    project: &Path,
    picture: &Picture,
    words: &str,
    hide: &[Hide],
    before: impl FnOnce(&str) -> Result<T, AlbumError>,
) -> Result<(TakenIn, T), AlbumError> {
    let left = hidden(picture, hide)?;
    let jpeg = as_jpeg(&left)?;
    let folder = folder_of(project);
    make_private(&folder)?;
    let file = free_name(&folder, words);
    let doubt = before(&file)?;
    write_private_new(&folder.join(&file), &jpeg)?;
    Ok((TakenIn { file, cut_above: picture.height() - left.height() }, doubt))
}

/// Hides something of a photo that is kept already, in a photo of a new name. Both
/// are in doubt then: once the project that names the new one is saved, [`settle`]
/// throws the old one away. What is marked on the photo moves up by the rows of
/// pixels cut off above.
///
/// # Errors
/// [`AlbumError`]; the kept photo is as it was then.
pub fn hide_in_kept(project: &Path, file: &str, hide: &[Hide]) -> Result<TakenIn, AlbumError> {
    let picture = open(&path_of(project, file)?)?;
    let words = Path::new(file).file_stem().unwrap_or_default().to_string_lossy();
    let (kept, ()) = keep(project, &picture, &words, hide, |file| doubt(project, file))?;
    doubt(project, file)?;
    Ok(kept)
}

/// Throws a kept photo away; one that is gone already is no fault.
///
/// # Errors
/// [`AlbumError::NotAName`], [`AlbumError::Stays`].
pub fn throw_away(project: &Path, file: &str) -> Result<(), AlbumError> {
    let path = path_of(project, file)?;
    match std::fs::remove_file(&path) {
        Err(source) if source.kind() != std::io::ErrorKind::NotFound => {
            Err(AlbumError::Stays { path, source })
        }
        _ => Ok(()),
    }
}

/// Copies the photos of those names to the folder of another project file, when the
/// project is saved under another name. One that is gone, or lies there already, is
/// passed over. Gives how many were copied.
///
/// # Errors
/// [`AlbumError`] when the folder cannot be made or a photo cannot be written.
pub fn copy_along(from: &Path, to: &Path, files: &[&str]) -> Result<usize, AlbumError> {
    let mut copied = 0;
    for file in files {
        let (source, target) = (path_of(from, file)?, path_of(to, file)?);
        if source == target || target.exists() {
            continue;
        }
        let Ok(bytes) = crate::read::bytes(&source, limits::LARGEST_PNG) else { continue };
        make_private(&folder_of(to))?;
        write_private_new(&target, &bytes)?;
        copied += 1;
    }
    Ok(copied)
}

/// A kept photo, its longer side at most `longest` pixels.
///
/// # Errors
/// [`AlbumError`] when it is not there or damaged.
pub fn kept(project: &Path, file: &str, longest: usize) -> Result<Picture, AlbumError> {
    Ok(open(&path_of(project, file)?)?.reduced(longest).0)
}

fn open(path: &Path) -> Result<Picture, AlbumError> {
    Picture::open(path).map_err(|source| AlbumError::Photo { path: path.to_owned(), source })
}

/// The picture as the bytes of a JPEG file: pixels and nothing else.
///
/// # Errors
/// [`AlbumError::Unwritten`].
pub fn as_jpeg(picture: &Picture) -> Result<Vec<u8>, AlbumError> {
    let unwritten = |why: String| AlbumError::Unwritten { why };
    let side = |pixels: usize| u32::try_from(pixels).map_err(|e| unwritten(e.to_string()));
    let (width, height) = (side(picture.width())?, side(picture.height())?);
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, QUALITY)
        .encode(picture.pixels(), width, height, image::ExtendedColorType::Rgb8)
        .map_err(|e| unwritten(e.to_string()))?;
    Ok(bytes)
}

/// The picture with what is to be hidden gone from its pixels. Boxes are meant on
/// the picture as it came; cutting off is done last.
///
/// # Errors
/// [`AlbumError::OutsidePicture`], [`AlbumError::NothingLeft`].
pub fn hidden(picture: &Picture, hide: &[Hide]) -> Result<Picture, AlbumError> {
    let (width, height) = (picture.width(), picture.height());
    let mut pixels = picture.pixels().to_vec();
    let mut cut = 0.0f64;
    for part in hide {
        match *part {
            Hide::Above(share) if share.is_finite() && share >= 0.0 => cut = cut.max(share),
            Hide::Above(_) => return Err(AlbumError::OutsidePicture),
            Hide::Blur { x, y, width: w, height: h } => {
                let columns = span(x, w, width).ok_or(AlbumError::OutsidePicture)?;
                let rows = span(y, h, height).ok_or(AlbumError::OutsidePicture)?;
                blur(&mut pixels, width, columns, rows);
            }
        }
    }
    // A share of exactly so many rows shall not round up to one more.
    let first = (cut * height as f64 - 1e-6).ceil().clamp(0.0, height as f64) as usize;
    let left = height - first;
    if left < limits::SHORTEST_SIDE as usize {
        return Err(AlbumError::NothingLeft {
            percent: 100.0 * cut,
            left,
            least: limits::SHORTEST_SIDE,
        });
    }
    let below = pixels.split_off(3 * first * width);
    Picture::from_pixels(width, left, below).ok_or(AlbumError::OutsidePicture)
}

/// The pixels a share of a side covers, rounded outwards; none when it lies
/// outside or covers nothing.
fn span(from: f64, share: f64, side: usize) -> Option<std::ops::Range<usize>> {
    let inside = from.is_finite() && share.is_finite() && from >= 0.0 && share > 0.0;
    if !inside || from >= 1.0 {
        return None;
    }
    let side_px = side as f64;
    let first = (from * side_px).floor() as usize;
    let last = ((from + share) * side_px).ceil().min(side_px) as usize;
    (last > first).then_some(first..last)
}

/// Puts in place of a box the averages of a few cells, smoothed into each other.
fn blur(
    pixels: &mut [u8],
    width: usize,
    columns: std::ops::Range<usize>,
    rows: std::ops::Range<usize>,
) {
    let (across, down) = (CELLS.min(columns.len()), CELLS.min(rows.len()));
    let cell_of = |i: usize, len: usize, cells: usize| i * cells / len;
    let mut sums = vec![[0u64; 4]; across * down];
    for (j, y) in rows.clone().enumerate() {
        for (i, x) in columns.clone().enumerate() {
            let cell = cell_of(j, rows.len(), down) * across + cell_of(i, columns.len(), across);
            let at = 3 * (y * width + x);
            for (sum, value) in sums[cell].iter_mut().zip(&pixels[at..at + 3]) {
                *sum += u64::from(*value);
            }
            sums[cell][3] += 1;
        }
    }
    let mean = |i: usize, j: usize, channel: usize| {
        let cell = sums[j.min(down - 1) * across + i.min(across - 1)];
        cell[channel] as f64 / cell[3].max(1) as f64
    };
    // Between the middles of the cells, bilinear.
    let place = |i: usize, len: usize, cells: usize| {
        let at = ((i as f64 + 0.5) * cells as f64 / len as f64 - 0.5).max(0.0);
        (at.floor() as usize, at.fract())
    };
    for (j, y) in rows.clone().enumerate() {
        let (cj, fj) = place(j, rows.len(), down);
        for (i, x) in columns.clone().enumerate() {
            let (ci, fi) = place(i, columns.len(), across);
            let at = 3 * (y * width + x);
            for channel in 0..3 {
                let upper = mean(ci, cj, channel) * (1.0 - fi) + mean(ci + 1, cj, channel) * fi;
                let lower =
                    mean(ci, cj + 1, channel) * (1.0 - fi) + mean(ci + 1, cj + 1, channel) * fi;
                pixels[at + channel] = (upper * (1.0 - fj) + lower * fj).round() as u8;
            }
        }
    }
}

/// Makes the folder so that only its owner may look into it; one that is there is
/// tightened.
fn make_private(folder: &Path) -> Result<(), AlbumError> {
    if folder.is_symlink() {
        return Err(AlbumError::FolderIsLink { path: folder.to_owned() });
    }
    let failed = |source| AlbumError::Folder { path: folder.to_owned(), source };
    make_private_folder(folder).map_err(failed)?;
    tighten(folder).map_err(failed)
}

/// Takes from everybody but the owner what they may do with the photos beside a
/// project.
pub fn tighten_beside(project: &Path) {
    let folder = folder_of(project);
    if folder.is_dir() && !folder.is_symlink() {
        // Of a folder that is somebody else's the rights are theirs to give.
        let _ = tighten(&folder);
    }
}

/// Only the owner may enter the folder, and read and write the files in it.
#[cfg(unix)]
fn tighten(folder: &Path) -> std::io::Result<()> {
    use std::fs::{Permissions, set_permissions};
    use std::os::unix::fs::PermissionsExt;
    let open_to = |mode: u32| mode & 0o077 != 0;
    if open_to(folder.metadata()?.permissions().mode()) {
        set_permissions(folder, Permissions::from_mode(0o700))?;
    }
    for entry in std::fs::read_dir(folder)?.flatten() {
        // Not through a link: the entry's own kind and rights.
        let found = entry.metadata()?;
        if found.is_file() && open_to(found.permissions().mode()) {
            set_permissions(entry.path(), Permissions::from_mode(0o600))?;
        }
    }
    Ok(())
}

#[cfg(not(unix))]
fn tighten(_folder: &Path) -> std::io::Result<()> {
    Ok(())
}

/// A file name of the words that is not taken in the folder.
fn free_name(folder: &Path, words: &str) -> String {
    const LONGEST: usize = 40;
    let plain: String = words
        .to_lowercase()
        .chars()
        .map(|c| if c.is_alphanumeric() { c } else { '-' })
        .take(LONGEST)
        .collect();
    let parts: Vec<&str> = plain.split('-').filter(|p| !p.is_empty()).collect();
    let plain = if parts.is_empty() { "photo".to_owned() } else { parts.join("-") };
    let numbered = |n: usize| match n {
        1 => format!("{plain}.jpg"),
        n => format!("{plain}-{n}.jpg"),
    };
    (1..).map(numbered).find(|name| !folder.join(name).exists()).unwrap_or_else(|| numbered(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A picture whose pixels are all different from their neighbours.
    fn busy(width: usize, height: usize) -> Picture {
        let pixel = |i: usize| ((i * 97) % 251) as u8;
        Picture::from_pixels(width, height, (0..3 * width * height).map(pixel).collect()).unwrap()
    }

    #[test]
    fn cutting_off_keeps_what_lies_below_to_the_pixel() {
        let whole = busy(80, 200);
        let cut = hidden(&whole, &[Hide::Above(0.25)]).unwrap();
        assert_eq!((cut.width(), cut.height()), (80, 150));
        assert_eq!(cut.pixels(), &whole.pixels()[3 * 80 * 50..]);
        assert!(matches!(
            hidden(&whole, &[Hide::Above(0.9)]),
            Err(AlbumError::NothingLeft { left: 20, .. })
        ));
        assert!(hidden(&whole, &[Hide::Above(f64::NAN)]).is_err());
        assert!(hidden(&whole, &[Hide::Above(7.0)]).is_err());
    }

    /// Two pictures that differ inside the box, but have the same averages there,
    /// are one and the same afterwards: what was in the box is gone.
    #[test]
    fn of_a_blurred_box_only_averages_are_left() {
        let (width, height) = (200, 100);
        let picture = |flip: bool| {
            let value = |i: usize| {
                let (x, y) = (i / 3 % width, i / 3 / width);
                if (x + y) % 2 == usize::from(flip) { 40 } else { 200 }
            };
            Picture::from_pixels(width, height, (0..3 * width * height).map(value).collect())
                .unwrap()
        };
        let hide = [Hide::Blur { x: 0.25, y: 0.2, width: 0.5, height: 0.6 }];
        let (a, b) =
            (hidden(&picture(false), &hide).unwrap(), hidden(&picture(true), &hide).unwrap());
        for y in 0..height {
            for x in 0..width {
                let at = 3 * (y * width + x);
                let inside = (50..150).contains(&x) && (20..80).contains(&y);
                assert_eq!(a.pixels()[at] == b.pixels()[at], inside, "{x} {y}");
                assert_eq!(a.pixels()[at] == picture(false).pixels()[at], !inside);
            }
        }
        for wrong in [(1.2, 0.0, 0.1, 0.1), (0.0, 0.0, 0.0, 0.1), (-0.1, 0.0, 0.5, 0.5)] {
            let (x, y, width, height) = wrong;
            assert!(hidden(&picture(false), &[Hide::Blur { x, y, width, height }]).is_err());
        }
    }

    #[test]
    fn a_name_that_leads_elsewhere_is_refused() {
        let project = Path::new("/tmp/maren.hangtrue.ron");
        assert_eq!(folder_of(project), Path::new("/tmp/maren.hangtrue.photos"));
        assert!(path_of(project, "first-toile-back.jpg").is_ok());
        for name in ["../letter.txt", "/etc/passwd", "..", ".", "", "a/b.jpg", "c:\\x.jpg"] {
            assert!(path_of(project, name).is_err(), "{name}");
            assert!(throw_away(project, name).is_err(), "{name}");
        }
    }

    #[test]
    fn names_say_the_round_and_are_not_taken() {
        let folder = Path::new("/nowhere");
        assert_eq!(free_name(folder, "First toile, back"), "first-toile-back.jpg");
        assert_eq!(free_name(folder, "../.. !"), "photo.jpg");
    }
}
