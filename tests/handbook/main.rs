//! Published values of the trade, a file per subject. Each table names its
//! author, title and address; the expected numbers are written out here and
//! not worked out again.
//!
//! A row marked "derived" is plane geometry and needs no source.

mod backing;
mod batting;
mod bias;
mod binding;
mod circles;
mod continuous;
mod cut_sizes;
mod misprints;
mod plans;
mod shrinkage;
mod squares;
mod strips;
mod take_up;
mod time;
mod yards;
