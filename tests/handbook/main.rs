//! Published values of the trade, a file per subject. Each table names its
//! author, title and address; the expected numbers are written out here and
//! not worked out again.
//!
//! A row marked "derived" is plane geometry and needs no source.

#[path = "../support/dice.rs"]
mod dice;
#[path = "../support/drafted.rs"]
mod drafted;

mod backing;
mod batting;
mod bias;
mod binding;
mod care;
mod circles;
mod closures;
mod colour;
mod continuous;
mod curves;
mod cut_sizes;
mod drafts;
mod drawings;
mod ease;
mod geese;
mod hexagons;
mod howto;
mod hst;
mod misprints;
mod plans;
mod precuts;
mod setting;
mod shrinkage;
mod sizes;
mod square_in_a_square;
mod squares;
mod strips;
mod take_up;
mod thread;
mod time;
mod tracing;
mod triangles60;
mod widths;
mod yards;
