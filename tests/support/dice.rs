//! Numbers that are the same at every run, so that a failing one can be
//! repeated: Knuth's MMIX generator.
#![allow(dead_code)]

pub struct Dice(pub u64);

impl Dice {
    fn thrown(&mut self) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        self.0
    }

    /// 0 to `n` less one, all about as often.
    pub fn below(&mut self, n: u64) -> u64 {
        (self.thrown() >> 33) % n
    }

    /// 0 to less than 1.
    pub fn even(&mut self) -> f64 {
        (self.thrown() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Normal, by Box and Muller.
    pub fn normal(&mut self) -> f64 {
        let r = (-2.0 * (1.0 - self.even()).ln()).sqrt();
        r * (std::f64::consts::TAU * self.even()).cos()
    }
}
