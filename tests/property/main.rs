//! Properties that must hold for every plan. `NOTCHBOOK_CASES` sets how many
//! plans each is tried on.

#[path = "../support/drafted.rs"]
mod drafted;

mod as_cut;
mod checker;
mod corners;
mod cut_sizes;
mod drafts;
mod drawings;
mod exchange;
mod faces;
mod folds;
mod layouts;
mod lays;
mod leftovers;
mod lengths;
mod monotone;
mod necklines;
mod never_short;
mod outlines;
mod panels;
mod patterns;
mod plans;
mod polygons;
mod quilting;
mod ready_cut;
mod remnants;
mod search;
mod sewing;
mod sewn;
mod shapes;
mod shopping;
mod sixty;
mod time;
mod total;
mod units;
mod wild_outlines;

#[path = "../support/cases.rs"]
mod settings;

pub use settings::cases;
