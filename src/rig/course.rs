//! How the trouble of a hidden fault goes: an hour of running on the day that is hardest on it and on a mild one.

use super::case::Site;
use super::clock::{Clock, Comes, Day, What};
use super::error::SolveError;
use super::faults::When;
use super::installation::Call;

/// Minutes of rest before the call, so that what opens with nothing called is seen, and minutes of the call. Our choice, no source.
const RESTS: f64 = 2.0;
const RUNS: f64 = 60.0;

/// What happens in an hour, with the seconds since the call; negative before it.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    happened: Vec<(f64, What)>,
}

/// What goes wrong first, in seconds after the call where that matters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Trouble {
    /// Nothing opens and nothing chatters; it may be dead, or weak.
    Quiet,
    /// The breaker or fuse opens with nothing called.
    TripsAtRest,
    /// The breaker or fuse opens.
    Trips(f64),
    /// The control fuse opens.
    ControlFuse(f64),
    /// The contactor chatters.
    Chatters,
    /// The compressor's protector opens; whether it closes again within the hour.
    Protector(f64, bool),
    /// The protector of the outdoor fan or the blower opens.
    Fan(f64),
}

impl Run {
    fn of(site: &Site, day: Day, hour: f64) -> Result<Self, SolveError> {
        let installation = &site.bench.installation;
        let seed = site.fault.severity.to_bits() ^ site.fault.leg as u64;
        let clock = Clock::new(installation, day, hour, seed);
        let mut clock = match &site.calm {
            None => clock,
            Some(calm) => clock.coming_and_going(Comes {
                calm: &calm.installation,
                when: site.fault.when,
                severity: site.fault.severity,
            }),
        };
        clock.run(Call::Rest, RESTS)?;
        clock.run(site.bench.mode, RUNS)?;
        let call = 3600.0 * hour + 60.0 * RESTS;
        let happened = clock.happened().iter().map(|(at, what)| (at - call, *what));
        Ok(Self {
            happened: happened.collect(),
        })
    }

    /// When something happened first, in seconds after the call.
    #[must_use]
    pub fn first(&self, wanted: impl Fn(What) -> bool) -> Option<f64> {
        let found = self.happened.iter().find(|(_, what)| wanted(*what));
        found.map(|(at, _)| *at)
    }

    /// What goes wrong first.
    #[must_use]
    pub fn trouble(&self) -> Trouble {
        let first = |what| self.first(|happened| happened == what);
        let again = first(What::ProtectorResets).is_some();
        match (
            first(What::BreakerTrips),
            first(What::ControlFuseOpens),
            first(What::Chatters),
            first(What::ProtectorOpens),
        ) {
            (Some(at), ..) if at < 0.0 => Trouble::TripsAtRest,
            (Some(at), ..) => Trouble::Trips(at),
            (_, Some(at), ..) => Trouble::ControlFuse(at),
            (_, _, Some(_), _) => Trouble::Chatters,
            (.., Some(at)) => Trouble::Protector(at, again),
            _ => match self.first(|what| matches!(what, What::FanStops | What::BlowerStops)) {
                Some(at) => Trouble::Fan(at),
                None => Trouble::Quiet,
            },
        }
    }

    /// Whether a joint came to a temperature at which it discolors.
    #[must_use]
    pub fn discolors(&self) -> bool {
        self.first(|what| matches!(what, What::JointDiscolors(_)))
            .is_some()
    }
}

/// Both days.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// The day that is hardest on it: hot, cold where heat is called, wet where the fault comes with water.
    pub hard: Run,
    /// [`Day::MILD`].
    pub mild: Run,
}

impl Course {
    /// Works both days out.
    ///
    /// # Errors
    /// When the circuit has no solution.
    pub fn of(site: &Site) -> Result<Self, SolveError> {
        let (day, hour) = match (site.fault.when, site.bench.mode) {
            (When::Wet, _) => (Day::WET, 10.0),
            (When::Loaded, _) => (Day::BUSY, 15.0),
            (_, Call::Heat) => (Day::COLD, 6.0),
            _ => (Day::HOT, 15.0),
        };
        Ok(Self {
            hard: Run::of(site, day, hour)?,
            mild: Run::of(site, Day::MILD, 10.0)?,
        })
    }
}
