//! Properties that must hold for every plan. `NOTCHBOOK_CASES` sets how many
//! plans each is tried on.

mod as_cut;
mod checker;
mod cut_sizes;
mod faces;
mod layouts;
mod leftovers;
mod lengths;
mod monotone;
mod never_short;
mod panels;
mod plans;
mod polygons;
mod quilting;
mod ready_cut;
mod remnants;
mod search;
mod sewing;
mod sewn;
mod sixty;
mod time;
mod total;
mod units;

use proptest::test_runner::{Config, RngSeed};

/// Settings for a property that takes its full number of cases. The usual run
/// tries the same plans every time, so that a failure is one of the change; a
/// longer one tries others.
pub fn cases(usual: u32) -> Config {
    let asked = std::env::var("NOTCHBOOK_CASES").ok().and_then(|n| n.parse().ok());
    Config {
        cases: asked.unwrap_or(usual),
        rng_seed: match asked {
            Some(_) => RngSeed::Random,
            None => RngSeed::Fixed(20_261_125),
        },
        failure_persistence: None,
        max_shrink_iters: 200,
        ..Config::default()
    }
}
