//! How many random cases a test tries.

use proptest::test_runner::{Config, RngSeed};

/// Settings for a property that takes its full number of cases. The usual run
/// tries the same ones every time, so that a failure is one of the change; a
/// longer one (`NOTCHBOOK_CASES`) tries others.
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
