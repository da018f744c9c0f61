//! The settled toile as a picture: projection, shading and a depth buffer into RGBA
//! pixels. It knows no window and no file, so window and picture file draw the same.

mod canvas;
mod scene;
mod skin;
mod view;

pub use canvas::{Canvas, Colour};
pub use scene::{FINE, MarkedPlace, MarkedRun, Scene};
pub use view::{Frame, Viewpoint};
