//! Exact lengths and areas, and how people write and read them; colours;
//! minutes, money and moments of a video too.
//!
//! The lowest layer: knows nothing of plans, pages or databases.

mod area;
mod clock;
mod colour;
mod length;
mod minutes;
mod money;
mod parse;
mod percent;
mod print;
mod words;

pub use area::Area;
pub use clock::{LATEST_MOMENT, VideoTimeError, parse_video_time, video_time};
pub use colour::{D65, Lab, Lightness, Rgb};
pub use length::{CM, EIGHTH, FOOT, INCH, Length, METRE, MM, QUARTER, SIXTEENTH, YARD};
pub use minutes::{MinutesError, about_hours, hours, parse_minutes};
pub use money::{Money, MoneyError};
pub use parse::LengthError;
pub use percent::{Percent, PercentError};
pub use print::{Round, Unit};
pub use words::capital;
