//! The figures: a pure function of a plan. No database, no HTML, no clock.
//!
//! `work_out` never fails as a whole: what cannot be worked out is left out
//! and named in `problems`, so that one unreadable piece does not hide the
//! rest of the plan.

mod result;

pub use result::*;

mod stub;
pub use stub::*;
