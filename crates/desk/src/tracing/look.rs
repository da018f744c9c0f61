//! What part of a photo is looked at, and how large: places of the photo to places
//! of the screen and back.

use egui::{Pos2, Rect, Vec2, pos2, vec2};
use hangtrue_files::photo::{Place, Straight};

/// The part of the picture that is looked at. Places are pixels of the picture
/// shown, y down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Look {
    /// The place in the middle of the screen.
    pub centre: Place,
    /// Points of the screen for a pixel.
    pub scale: f64,
}

impl Default for Look {
    fn default() -> Self {
        Self { centre: (0.0, 0.0), scale: 1.0 }
    }
}

/// The smallest and largest scale: a large scan whole, and single pixels.
const SCALES: (f64, f64) = (0.01, 40.0);

impl Look {
    /// Shows all of a picture of that size.
    pub fn fit(&mut self, canvas: Rect, (width, height): (f64, f64)) {
        const MARGIN: f64 = 16.0;
        let wide = (f64::from(canvas.width()) - 2.0 * MARGIN).max(20.0) / width.max(1.0);
        let high = (f64::from(canvas.height()) - 2.0 * MARGIN).max(20.0) / height.max(1.0);
        self.scale = wide.min(high).clamp(SCALES.0, SCALES.1);
        self.centre = (width / 2.0, height / 2.0);
    }

    pub fn pan(&mut self, by: Vec2) {
        self.centre.0 -= f64::from(by.x) / self.scale;
        self.centre.1 -= f64::from(by.y) / self.scale;
    }

    /// Zooms by a factor so that what is under `at` stays there.
    pub fn zoom_at(&mut self, canvas: Rect, at: Pos2, factor: f64) {
        let before = self.on_picture(canvas, at);
        self.scale = (self.scale * factor).clamp(SCALES.0, SCALES.1);
        let after = self.on_picture(canvas, at);
        self.centre.0 += before.0 - after.0;
        self.centre.1 += before.1 - after.1;
    }

    pub fn on_screen(&self, canvas: Rect, place: Place) -> Pos2 {
        let off = vec2(
            ((place.0 - self.centre.0) * self.scale) as f32,
            ((place.1 - self.centre.1) * self.scale) as f32,
        );
        canvas.center() + off
    }

    pub fn on_picture(&self, canvas: Rect, at: Pos2) -> Place {
        let off = at - canvas.center();
        (
            self.centre.0 + f64::from(off.x) / self.scale,
            self.centre.1 + f64::from(off.y) / self.scale,
        )
    }

    /// Where a picture of that size lies on the screen.
    pub fn rect(&self, canvas: Rect, (width, height): (f64, f64)) -> Rect {
        Rect::from_min_max(
            self.on_screen(canvas, (0.0, 0.0)),
            self.on_screen(canvas, (width, height)),
        )
    }
}

/// The way from places of the photo to the screen: as it was taken, or as seen
/// from straight above.
#[derive(Clone, Copy)]
pub(super) struct Through<'a> {
    pub canvas: Rect,
    pub look: Look,
    pub straight: Option<&'a Straight>,
    /// Width and height of the photo, pixels.
    pub size: (f64, f64),
}

impl Through<'_> {
    /// Where a place of the photo is on the screen.
    pub fn on_screen(&self, place: Place) -> Option<Pos2> {
        let shown = match self.straight {
            Some(straight) => straight.of_photo(place)?,
            None => place,
        };
        let at = self.look.on_screen(self.canvas, shown);
        (at.x.abs() < 1e6 && at.y.abs() < 1e6).then_some(at)
    }

    /// The place of the photo under a place of the screen, when the photo holds it.
    pub fn on_photo(&self, at: Pos2) -> Option<Place> {
        let shown = self.look.on_picture(self.canvas, at);
        let place = match self.straight {
            Some(straight) => straight.to_photo(shown)?,
            None => shown,
        };
        let inside =
            (0.0..=self.size.0).contains(&place.0) && (0.0..=self.size.1).contains(&place.1);
        inside.then_some(place)
    }

    /// A line of places on the screen.
    pub fn line(&self, places: &[Place]) -> Vec<Pos2> {
        places.iter().filter_map(|p| self.on_screen(*p)).collect()
    }
}

/// The part of a texture that covers all of it.
pub(super) const WHOLE: Rect = Rect { min: pos2(0.0, 0.0), max: pos2(1.0, 1.0) };

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zooming_holds_what_is_under_the_pointer_and_fitting_shows_all() {
        let canvas = Rect::from_min_size(pos2(100.0, 50.0), vec2(800.0, 600.0));
        let mut look = Look::default();
        look.fit(canvas, (4000.0, 3000.0));
        assert!(canvas.contains_rect(look.rect(canvas, (4000.0, 3000.0))));
        look.pan(vec2(31.0, -17.0));
        let at = pos2(220.0, 480.0);
        let before = look.on_picture(canvas, at);
        look.zoom_at(canvas, at, 3.7);
        let again = look.on_screen(canvas, before);
        assert!((again - at).length() < 1e-3, "{again:?}");
    }
}
