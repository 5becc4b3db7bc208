//! Seeded chance: the same trials at every run.

/// SplitMix64 (Steele, Lea & Flood 2014, *OOPSLA*, 453).
pub struct Draw(pub u64);

impl Draw {
    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }

    /// Evenly from one number to another.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * ((self.bits() >> 11) as f64 / (1u64 << 53) as f64)
    }

    /// From the normal distribution with mean 0 and standard deviation 1 (Box & Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let (a, b) = (self.between(1e-12, 1.0), self.between(0.0, 1.0));
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}
