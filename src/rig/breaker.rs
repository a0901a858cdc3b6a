//! Breakers, fuses and motor protectors: heat gathers with the square of the current and opens them at a bound.
//!
//! One thermal body each: d(heat)/dt = (i^2 - heat) / tau, i the current over the rating, so that `heat` is 1 in the long run at rated
//! current. The bound falls as the air gets warmer. Tau and bound are chosen so that every published calibration point is met
//! with room (`tests/rig/calibration.rs`): hold at 100 % in 40 C; 135 % within 1 h up to 50 A and 2 h above; 200 % within 2 minutes up to
//! 30 A, 4 up to 50 A, 6 up to 100 A and so on (UL 489), 300 % within the field limit (NEMA AB 4).

/// What opens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Device {
    /// A thermal-magnetic breaker of a rating, A.
    Breaker(f64),
    /// A time-delay fuse of a rating, A.
    Fuse(f64),
    /// The protector inside a compressor, by the current it carries for ever, A.
    Protector(f64),
}

/// Rise of a breaker's bimetal over the air at rated current in the long run, C, and the temperature at which it lets go: with these
/// it carries 112 % for ever at 40 C and 126 % at 25 C. A judgment within the calibration points.
const RISE: f64 = 45.0;
const LETS_GO: f64 = 40.0 + RISE * 1.12 * 1.12;

/// Share of its rating a time-delay fuse carries for ever, and its tau, seconds: 500 % for 10 s, 135 % within 1 h (UL 248).
const FUSE_CARRIES: f64 = 1.25;
const FUSE_TAU: f64 = 160.0;

/// Tau of a protector while it heats and while it cools, seconds: ten seconds or so at locked rotor, half an hour to reset.
const PROTECTOR_TAU: f64 = 150.0;
const PROTECTOR_COOLS: f64 = 1500.0;

/// Heat at which a protector closes again.
const PROTECTOR_RESETS: f64 = 0.35;

/// Multiple of its rating at which a breaker's magnet opens it at once: common small breakers lie between 5 and 10.
const MAGNETIC: f64 = 8.0;

impl Device {
    fn rating(self) -> f64 {
        match self {
            Self::Breaker(rating) | Self::Fuse(rating) | Self::Protector(rating) => rating,
        }
    }

    /// Tau, seconds: larger breakers heat more slowly, as their calibration allows.
    fn tau(self) -> f64 {
        match self {
            Self::Breaker(rating) if rating <= 30.0 => 150.0,
            Self::Breaker(rating) if rating <= 50.0 => 280.0,
            Self::Breaker(rating) if rating <= 100.0 => 420.0,
            Self::Breaker(rating) if rating <= 225.0 => 560.0,
            Self::Breaker(_) => 800.0,
            Self::Fuse(_) => FUSE_TAU,
            Self::Protector(_) => PROTECTOR_TAU,
        }
    }

    /// Heat at which it opens, with the air at a temperature in C.
    #[must_use]
    pub fn bound(self, air: f64) -> f64 {
        match self {
            Self::Breaker(_) => ((LETS_GO - air) / RISE).max(0.05),
            Self::Fuse(_) => FUSE_CARRIES * FUSE_CARRIES,
            Self::Protector(_) => 1.0,
        }
    }

    /// Seconds from a heat until it opens at a steady current; nothing where it carries it for ever.
    #[must_use]
    pub fn seconds(self, heat: f64, amps: f64, air: f64) -> Option<f64> {
        let share = amps / self.rating();
        let bound = self.bound(air);
        if heat >= bound || matches!(self, Self::Breaker(_)) && share >= MAGNETIC {
            return Some(0.0);
        }
        let end = share * share;
        (end > bound).then(|| self.tau() * ((end - heat) / (end - bound)).ln())
    }

    /// Heat after some seconds at a steady current.
    #[must_use]
    pub fn heated(self, heat: f64, amps: f64, seconds: f64) -> f64 {
        let end = (amps / self.rating()).powi(2);
        let tau = match self {
            Self::Protector(_) if end < heat => PROTECTOR_COOLS,
            _ => self.tau(),
        };
        end + (heat - end) * (-seconds / tau).exp()
    }

    /// Whether it closes again by itself at a heat.
    #[must_use]
    pub fn resets(self, heat: f64) -> bool {
        matches!(self, Self::Protector(_)) && heat < PROTECTOR_RESETS
    }
}
