//! The air through a day, and who comes and goes.

/// A day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Day {
    /// Lowest air temperature, before sunrise, C.
    pub low: f64,
    /// Highest, at four in the afternoon, C.
    pub high: f64,
    /// How often in an hour a large load of the building comes on.
    pub visits: f64,
    /// It rains, or all is damp from it.
    pub wet: bool,
}

impl Day {
    /// A hot day.
    pub const HOT: Self = Self {
        low: 24.0,
        high: 38.0,
        visits: 1.5,
        wet: false,
    };

    /// A mild day.
    pub const MILD: Self = Self {
        low: 14.0,
        high: 24.0,
        visits: 1.5,
        wet: false,
    };

    /// A cold day.
    pub const COLD: Self = Self {
        low: -8.0,
        high: 1.0,
        visits: 1.5,
        wet: false,
    };

    /// A hot day in a house full of people.
    pub const BUSY: Self = Self {
        visits: 8.0,
        ..Self::HOT
    };

    /// A mild day of rain.
    pub const WET: Self = Self {
        wet: true,
        ..Self::MILD
    };

    /// Air temperature at an hour from 0 to 24, C: a cosine with its top at 16 h.
    #[must_use]
    pub fn air(&self, hour: f64) -> f64 {
        let turn = ((hour - 16.0) / 24.0 * std::f64::consts::TAU).cos();
        f64::midpoint(self.low, self.high) + turn * (self.high - self.low) / 2.0
    }
}
