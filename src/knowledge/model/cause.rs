//! What can be wrong.

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::effect::Does;
use super::index::{FamilyIndex, RequirementIndex, TestIndex};
use crate::knowledge::cited::Source;
use crate::quantity::words;

words! {
    /// Where something sits on the way from the utility to the load.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
    pub enum Place {
        /// Beyond the meter.
        Utility = "utility" => "before the meter",
        /// Meter, service conductors, main.
        Service = "service" => "at the service",
        /// Panel: bus, breaker, neutral bar.
        Panel = "panel" => "at the panel",
        /// Branch circuit between panel and disconnect, and what shares it.
        Branch = "branch" => "on the circuit",
        /// The disconnect at the unit, or the plug of a cord-connected unit.
        Disconnect = "disconnect" => "at the disconnect",
        /// Line-voltage wiring and switching inside the equipment.
        Unit = "unit" => "in the unit",
        /// Motors, compressor, heaters: what does the work.
        Load = "load" => "in the load",
        /// The 24 V loop: transformer, thermostat, safeties, board logic.
        Control = "control" => "on the 24 V side",
        /// Not electrical: air, refrigerant, water, fuel.
        NotElectrical = "not-electrical" => "not electrical: air, refrigerant, fuel or water",
    }
}

words! {
    /// Whose job a repair is.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
    pub enum Job {
        /// Beyond the meter.
        Utility = "utility" => "the utility (beyond the meter)",
        /// Line side of the disconnect.
        Electrician = "electrician" => "licensed electrician (line side of the disconnect)",
        /// Load side of the disconnect.
        HvacTechnician = "hvac-technician" => "HVAC technician (load side of the disconnect)",
        /// Up to the meter the utility's, behind it the electrician's: which, the measurement at the meter tells.
        UtilityOrElectrician = "utility-or-electrician" => "utility up to the meter; licensed electrician behind it",
        /// Gas piping, regulator and meter: the gas supplier or a licensed gas fitter.
        GasFitter = "gas-fitter" => "gas supplier or licensed gas fitter",
        /// Generator, inverter, battery or transfer switch: its dealer or installer.
        SourceDealer = "source-dealer" => "dealer or installer of the generator, battery or inverter",
        /// At the disconnect, where local rules part electrician and HVAC technician.
        CheckLocally = "check-locally" => "electrician or HVAC technician; check local rules",
    }
}

words! {
    /// How often a cause is behind a callback, in words.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
    pub enum Frequency {
        /// Seldom seen.
        Rare = "rare" => "rare",
        /// Seen now and then.
        Occasional = "occasional" => "occasional",
        /// Seen often.
        Common = "common" => "common",
        /// Seen most often.
        VeryCommon = "very-common" => "very common",
    }
}

/// Advice that keeps a trouble from coming back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Prevention {
    /// What to do.
    pub text: String,
    /// The rule that asks for it, or nothing when it is good practice.
    pub rule: Option<String>,
}

/// How common a cause is behind a callback.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Commonness {
    /// On equipment in general.
    pub usual: Frequency,
    /// Instead, on equipment with a part; the first part the equipment has decides.
    pub with: IndexMap<String, Frequency>,
}

/// What can be wrong.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Cause {
    /// Kebab-case id.
    pub id: String,
    /// Name shown to a person.
    pub name: String,
    /// Where it sits.
    pub place: Place,
    /// Whose job the repair is.
    pub job: Job,
    /// Parts the equipment must have.
    pub parts: Vec<String>,
    /// How common it is behind a callback, wherever its parts are.
    pub base: Option<Commonness>,
    /// The kind of causes it is of.
    pub family: Option<FamilyIndex>,
    /// What it does, its family's share included.
    pub does: Vec<Does>,
    /// How it makes the trouble.
    pub mechanism: String,
    /// The repair.
    pub remedy: String,
    /// The reading that proves the repair.
    pub proof: String,
    /// What can hurt.
    pub caution: String,
    /// Minutes the repair takes with its proof, where the author gives them.
    pub repair_minutes: Option<f64>,
    /// What it must be corrected to, in figures.
    pub requires: Vec<RequirementIndex>,
    /// Looks at why it burnt or failed, of which one is made before its repair: else it comes again.
    pub why_first: Vec<TestIndex>,
    /// What keeps it from coming back.
    pub prevent: Vec<Prevention>,
    /// Ids under which kept cases may name it.
    pub formerly: Vec<String>,
    /// Sources, never empty.
    pub source: Vec<Source>,
}
