//! Drafting: shapes worked out from measures. Pure, like the figures; knows no
//! plan, no database and no page.

mod circle;
pub mod lay;

pub use circle::{Circle, circle_radius};
