//! Places of the photo to places of the screen and back.

use crate::kit::view::PanZoom;
use egui::{Pos2, Rect, pos2, vec2};
use hangtrue_files::photo::{Place, Straight};
use hangtrue_geometry::Rect as Area;

/// Shows all of a picture of that size.
pub(super) fn fit(view: &mut PanZoom, canvas: Rect, (width, height): (f64, f64)) {
    view.fit(canvas, 0.0, Area::new(0.0, -height, width, 0.0));
}

/// Where a place of the picture shown is on the screen.
pub(super) fn on_screen(view: &PanZoom, canvas: Rect, place: Place) -> Pos2 {
    let off = vec2(
        ((place.0 - view.centre.x) * view.scale) as f32,
        ((place.1 + view.centre.y) * view.scale) as f32,
    );
    canvas.center() + off
}

/// The place of the picture shown under a place of the screen.
pub(super) fn on_picture(view: &PanZoom, canvas: Rect, at: Pos2) -> Place {
    let off = at - canvas.center();
    (view.centre.x + f64::from(off.x) / view.scale, -view.centre.y + f64::from(off.y) / view.scale)
}

/// Where a picture of that size lies on the screen.
pub(super) fn rect(view: &PanZoom, canvas: Rect, (width, height): (f64, f64)) -> Rect {
    let corner = |place| on_screen(view, canvas, place);
    Rect::from_min_max(corner((0.0, 0.0)), corner((width, height)))
}

/// The way from places of the photo to the screen: as it was taken, or as seen
/// from straight above.
#[derive(Clone, Copy)]
pub(super) struct Through<'a> {
    pub canvas: Rect,
    pub look: PanZoom,
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
        let at = on_screen(&self.look, self.canvas, shown);
        (at.x.abs() < 1e6 && at.y.abs() < 1e6).then_some(at)
    }

    /// The place of the photo under a place of the screen, when the photo holds it.
    pub fn on_photo(&self, at: Pos2) -> Option<Place> {
        let shown = on_picture(&self.look, self.canvas, at);
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
        let mut look = PanZoom::of_picture();
        fit(&mut look, canvas, (4000.0, 3000.0));
        assert!(canvas.contains_rect(rect(&look, canvas, (4000.0, 3000.0))));
        look.pan(vec2(31.0, -17.0));
        let at = pos2(220.0, 480.0);
        let before = on_picture(&look, canvas, at);
        look.zoom_at(canvas, at, 3.7);
        let again = on_screen(&look, canvas, before);
        assert!((again - at).length() < 1e-3, "{again:?}");
    }
}
