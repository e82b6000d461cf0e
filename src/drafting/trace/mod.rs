//! Measuring a flat piece on a photo: four marks of known places (or more)
//! tell how the camera saw the table, and every other point follows.
//!
//! Points on the photo are pixels from its upper left corner, points on the
//! table millimetres, both y down. The rule is the plane homography, solved by
//! the direct linear transformation with both sets of points made small and
//! centred first (Hartley & Zisserman, Multiple View Geometry, 2004, 4.4; from
//! memory). How wrong a length may be follows from how wrong a tap may be, to
//! the first order (Criminisi, Reid & Zisserman, A Plane Measuring Device, 1997).
//! Bent lenses, a piece that does not lie flat and a print that is not to scale
//! show in none of this: that is what the check length is for.

mod checked;
mod curve;
mod homography;
mod marks;
mod snap;
mod traced;

pub use checked::{Checked, FAR, WARN_ABOVE, checked, reaches_outside};
pub use curve::{Tap, path_through};
pub use homography::{Homography, TAP, TraceError};
pub use marks::{Marks, places};
pub use snap::{Grey, snapped};
pub use traced::{Traced, Tracing, traced};
