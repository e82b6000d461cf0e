//! Chance without a clock: the same numbers every time.

/// xorshift, from one fixed seed.
pub(super) struct Chance(u64);

impl Chance {
    pub fn new() -> Chance {
        Chance(0x9E37_79B9_7F4A_7C15)
    }

    fn bits(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 >> 11
    }

    /// A number in 0..1.
    pub fn part(&mut self) -> f64 {
        self.bits() as f64 / (1u64 << 53) as f64
    }

    /// A number below `count`, which is at least 1.
    pub fn below(&mut self, count: usize) -> usize {
        (((self.bits() & 0xFFFF_FFFF) * count as u64) >> 32) as usize
    }
}
