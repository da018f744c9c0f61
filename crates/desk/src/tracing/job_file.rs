//! The work on photos as a file, so that it can be taken up again, here or with
//! `hangtrue trace job.ron --job`; and the picture from straight above.

use crate::desk::desk::Desk;
use hangtrue_files::photo::job_text;
use hangtrue_files::save::write_whole;
use std::path::Path;

/// Saves what was said about the photos.
pub(crate) fn save(desk: &mut Desk, path: &Path) {
    let Some(photo) = &mut desk.exchange.photo else { return };
    let path =
        if path.extension().is_none() { path.with_extension("ron") } else { path.to_owned() };
    let (job, losing) = photo.said.job_so_far();
    let folder = path.parent().unwrap_or(Path::new("")).to_owned();
    let job = job.named_from(&photo.folder, &folder);
    let written = job_text(&job)
        .map_err(|e| e.to_string())
        .and_then(|text| write_whole(&path, text.as_bytes()).map_err(|e| e.to_string()));
    match written {
        Err(why) => desk.tell_fault(why),
        Ok(()) if losing.is_empty() => {
            photo.saved = photo.said.clone();
            if let Some(own) = &desk.own_folder {
                photo.forget_beside(own);
            }
            desk.tell(format!("the work on the photo is saved in “{}”.", path.display()));
        }
        Ok(()) => {
            let files: Vec<&str> =
                losing.iter().map(|i| photo.said.photos[*i].file.as_str()).collect();
            let files = files.join(", ");
            desk.tell(format!(
                "saved in “{}”, but without the marks of {files}: they are not all there yet.",
                path.display()
            ));
        }
    }
}

/// Saves the photo looked at as it is seen from straight above.
pub(crate) fn save_straight(desk: &mut Desk, path: &Path) {
    let above = desk.exchange.photo.as_ref().and_then(|p| p.slots[p.at].above.as_ref());
    let Some((straight, _)) = above else {
        return desk.tell_fault("look straight down first");
    };
    let path =
        if path.extension().is_none() { path.with_extension("png") } else { path.to_owned() };
    let (mm, png) = (straight.mm_per_pixel(), straight.png().map_err(|e| e.to_string()));
    let written = png.and_then(|png| write_whole(&path, &png).map_err(|e| e.to_string()));
    match written {
        Ok(()) => desk.tell(format!(
            "written to “{}”: every pixel is {mm:.3} mm, and it prints at its true size.",
            path.display()
        )),
        Err(why) => desk.tell_fault(why),
    }
}
