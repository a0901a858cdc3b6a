//! The valid form of the knowledge: every id resolved, every number in range.
//!
//! Only the `validate` step of this room makes these values, so the rooms below need not check them again.

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cited::Source;
use super::indexed::{Indexed, Ordinal};
use crate::quantity::{Kind, Quantity, Value, ValueKind};

macro_rules! index {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        pub struct $name(pub usize);

        impl $name {
            /// The place, counted from 0.
            #[must_use]
            pub const fn place(self) -> usize {
                self.0
            }
        }

        impl Ordinal for $name {
            fn at(place: usize) -> Self {
                Self(place)
            }

            fn place(self) -> usize {
                self.0
            }
        }
    };
}
index!(/// Place of a cause in [`Knowledge::causes`].
    CauseIndex);
index!(/// Place of an effect in [`Knowledge::effects`].
    EffectIndex);
index!(/// Place of a family in [`Knowledge::families`].
    FamilyIndex);
index!(/// Place of a test in [`Knowledge::tests`].
    TestIndex);
index!(/// Place of an outcome in [`Test::outcomes`].
    OutcomeIndex);
index!(/// Place of a fact in [`Knowledge::facts`].
    FactIndex);
index!(/// Place of a requirement in [`Knowledge::requirements`].
    RequirementIndex);
index!(/// Place of a hold in [`Knowledge::holds`].
    HoldIndex);
index!(/// Place of a tree in [`Knowledge::trees`].
    TreeIndex);
index!(/// Place of a node in [`Tree::nodes`].
    NodeIndex);
index!(/// Place of an equipment in [`Knowledge::equipment`].
    EquipmentIndex);

/// Everything known, loaded and checked.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Knowledge {
    /// Kinds of equipment.
    pub equipment: Indexed<EquipmentIndex, Equipment>,
    /// What can be fitted to them besides.
    pub accessories: Vec<Accessory>,
    /// Facts of an installation.
    pub facts: Indexed<FactIndex, Fact>,
    /// What a repair must come to, in figures.
    pub requirements: Indexed<RequirementIndex, Requirement>,
    /// What keeps steps from being taken until it is cleared.
    pub holds: Indexed<HoldIndex, Hold>,
    /// What can be found out about a fault.
    pub effects: Indexed<EffectIndex, Effect>,
    /// What is common to kinds of causes.
    pub families: Indexed<FamilyIndex, Family>,
    /// Causes.
    pub causes: Indexed<CauseIndex, Cause>,
    /// Tests.
    pub tests: Indexed<TestIndex, Test>,
    /// Trees: one per complaint, and shared ones.
    pub trees: Indexed<TreeIndex, Tree>,
    /// Hash of all files as read, so that a case can say which knowledge it was walked with.
    pub fingerprint: String,
}

/// A kind of equipment, told apart by the parts it has.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Equipment {
    /// Kebab-case id.
    pub id: String,
    /// Name shown to a person.
    pub name: String,
    /// Parts it has or, as accessories, may have; a cause or test that needs a part it lacks does not apply.
    pub parts: Vec<String>,
    /// Those of its parts that are accessories: one installation has them, another not.
    pub accessories: Vec<String>,
}

impl Equipment {
    /// This kind of equipment as it stands in one installation, with only the accessories that are fitted.
    #[must_use]
    pub fn fitted_with(&self, fitted: &[String]) -> Self {
        let mut own = self.clone();
        own.parts
            .retain(|part| !self.accessories.contains(part) || fitted.contains(part));
        own.accessories.retain(|accessory| fitted.contains(accessory));
        own
    }
}

/// Something fitted to equipment that some installations have, such as a humidifier. Its id is the name of a part.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Accessory {
    /// Kebab-case id.
    pub id: String,
    /// Name shown to a person.
    pub name: String,
    /// Parts the equipment must have for it to be fitted.
    pub parts: Vec<String>,
}

/// The equipment something is offered for.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fit {
    /// Parts the equipment must have, all of them.
    pub parts: Vec<String>,
    /// Parts the equipment must not have, none of them.
    pub without: Vec<String>,
}

/// A choice offered for a fact.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FactChoice {
    /// Kebab-case id.
    pub id: String,
    /// What is shown.
    pub label: String,
    /// The equipment it is offered for.
    pub fit: Fit,
}

/// A known value of an installation.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Fact {
    /// Kebab-case id.
    pub id: String,
    /// Short name.
    pub name: String,
    /// The question.
    pub ask: String,
    /// Where to find it.
    pub find: String,
    /// What it takes.
    pub kind: ValueKind,
    /// Unit of a number typed without one, such as `A`; empty when the kind has none.
    pub unit: String,
    /// Lowest and highest amount accepted, in base units.
    pub range: Option<(f64, f64)>,
    /// Choices, when `kind` is a choice.
    pub choices: Vec<FactChoice>,
    /// Parts the equipment must have for the fact to make sense.
    pub parts: Vec<String>,
}

/// Where something sits on the way from the utility to the load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    /// Beyond the meter.
    Utility,
    /// Meter, service conductors, main.
    Service,
    /// Panel: bus, breaker, neutral bar.
    Panel,
    /// Branch circuit between panel and disconnect, and what shares it.
    Branch,
    /// The disconnect at the unit, or the plug of a cord-connected unit.
    Disconnect,
    /// Line-voltage wiring and switching inside the equipment.
    Unit,
    /// Motors, compressor, heaters: what does the work.
    Load,
    /// The 24 V loop: transformer, thermostat, safeties, board logic.
    Control,
    /// Not electrical: air, refrigerant, water, fuel.
    NotElectrical,
}

/// Whose job a repair is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Job {
    /// Beyond the meter.
    Utility,
    /// Line side of the disconnect.
    Electrician,
    /// Load side of the disconnect.
    HvacTechnician,
    /// Up to the meter the utility's, behind it the electrician's: which, the measurement at the meter tells.
    UtilityOrElectrician,
    /// Gas piping, regulator and meter: the gas supplier or a licensed gas fitter.
    GasFitter,
    /// Generator, inverter, battery or transfer switch: its dealer or installer.
    SourceDealer,
    /// At the disconnect, where local rules part electrician and HVAC technician.
    CheckLocally,
}

impl Job {
    /// Says whose job it is.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Utility => "the utility (beyond the meter)",
            Self::Electrician => "licensed electrician (line side of the disconnect)",
            Self::HvacTechnician => "HVAC technician (load side of the disconnect)",
            Self::UtilityOrElectrician => "utility up to the meter; licensed electrician behind it",
            Self::GasFitter => "gas supplier or licensed gas fitter",
            Self::SourceDealer => "dealer or installer of the generator, battery or inverter",
            Self::CheckLocally => "electrician or HVAC technician; check local rules",
        }
    }
}

/// How often a cause is behind a callback, in words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Frequency {
    /// Seldom seen.
    Rare,
    /// Seen now and then.
    Occasional,
    /// Seen often.
    Common,
    /// Seen most often.
    VeryCommon,
}

/// Advice that keeps a trouble from coming back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Prevention {
    /// What to do.
    pub text: String,
    /// The rule that asks for it, or nothing when it is good practice.
    pub rule: Option<String>,
}

/// What something must be corrected to, worked out from the facts of the case.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Requirement {
    /// Kebab-case id.
    pub id: String,
    /// Name shown to a person.
    pub name: String,
    /// Whose job the correction is.
    pub job: Job,
    /// Parts the equipment must have.
    pub parts: Vec<String>,
    /// Name in the registry of calculations.
    pub calculation: String,
    /// What goes into it, by input name.
    pub inputs: IndexMap<String, InputFrom>,
    /// What it must become, with `{output}` where a figure of the calculation stands.
    pub says: String,
}

/// A danger that keeps some tests from being made, whatever a tree says, until it is cleared.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Hold {
    /// Kebab-case id.
    pub id: String,
    /// What it is, as a person would say it: "heat damage that is not repaired".
    pub name: String,
    /// Tests in these states are not made while it holds.
    pub stops: Vec<State>,
    /// Besides, these tests are not made, whatever their state.
    pub stops_tests: Vec<TestIndex>,
    /// It holds from the start, not only once an outcome or a complaint raises it.
    pub from_start: bool,
    /// Parts the equipment must have.
    pub parts: Vec<String>,
    /// Its proofs count only when they were answered after it was last raised: a new find asks for them again.
    pub proved_anew: bool,
    /// What clears it: each of these tests must have come out in one of its outcomes. Empty: only correcting the answer
    /// that raised it does.
    pub cleared_by: Vec<(TestIndex, Vec<OutcomeIndex>)>,
    /// What the person is told while it holds; where it ends the walk, what to do now.
    pub says: String,
    /// Whom to call: as soon as it is raised, the walk stops for safety. Nothing where the walk goes on without the tests it
    /// stops.
    pub call: Option<String>,
    /// Sources, never empty.
    pub source: Vec<Source>,
}

/// How common a cause is behind a callback.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Commonness {
    /// On equipment in general.
    pub usual: Frequency,
    /// Instead, on equipment with a part; the first part the equipment has decides.
    pub with: IndexMap<String, Frequency>,
}

/// Something about a fault that can be found out: one of a few states.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Effect {
    /// Kebab-case id.
    pub id: String,
    /// What it is, short.
    pub name: String,
    /// Its states; their usual shares add up to 1.
    pub states: Vec<EffectState>,
    /// Shares of the states on some complaints, by the complaint's place among the states of the effect `complaint`.
    pub on_complaint: Vec<(usize, Vec<f64>)>,
    /// The effect it follows from.
    pub follows: Option<Follows>,
}

/// A state of an effect.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct EffectState {
    /// Kebab-case id.
    pub id: String,
    /// How often it is met among all callbacks.
    pub usual: f64,
    /// The state in words that follow "because": "the 24 V is gone".
    pub says: String,
}

/// What an effect follows from.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Follows {
    /// The other effect.
    pub effect: EffectIndex,
    /// Shares of the states where the other one is in a state, by that state; nothing where it changes nothing.
    pub given: Vec<Option<Vec<f64>>>,
}

/// How often a cause brings which state of an effect.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Does {
    /// The effect.
    pub effect: EffectIndex,
    /// P(state | cause), whatever the complaint; adds up to 1.
    pub shares: Vec<f64>,
    /// It stands with the cause's family, not with the cause itself.
    pub from_family: bool,
}

/// What is common to a kind of causes.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Family {
    /// Kebab-case id.
    pub id: String,
    /// What it does.
    pub does: Vec<Does>,
}

/// States of one effect under which an outcome is met.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Shown {
    /// The effect.
    pub effect: EffectIndex,
    /// The states, by place.
    pub states: Vec<usize>,
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
    /// What keeps it from coming back.
    pub prevent: Vec<Prevention>,
    /// Sources, never empty.
    pub source: Vec<Source>,
}

/// A limit proved violated, to be corrected whatever the cause.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Defect {
    /// What is wrong, short.
    pub name: String,
    /// What it can do.
    pub hazard: String,
    /// Whose job it is.
    pub job: Job,
    /// What it must become; `{output}` names an output of the calculation.
    pub correct: String,
    /// The rule, or "common practice, no source".
    pub source: String,
}

/// Which side of which figure a reading must lie on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Bound {
    /// `true`: less than the figure; `false`: more than the figure.
    pub below: bool,
    /// The figure: in the base unit of the reading, or a multiple when `of` is given.
    pub figure: f64,
    /// What the figure multiplies.
    pub of: Option<BoundOf>,
}

/// What the figure of a bound multiplies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum BoundOf {
    /// A fact.
    Fact(FactIndex),
    /// Another reading.
    Reading(TestIndex),
}

/// One of a test's few results.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Outcome {
    /// Kebab-case id.
    pub id: String,
    /// What is shown.
    pub label: String,
    /// How often it is met among all callbacks; a test's outcomes add up to 1.
    pub usual: f64,
    /// For a reading: where it must lie. The one outcome without a bound takes the rest.
    pub bound: Option<Bound>,
    /// What it shows of effects.
    pub shows: Vec<Shown>,
    /// P(this outcome | cause) of the causes it finds.
    pub finds: Vec<(CauseIndex, f64)>,
    /// It says nothing: not tried, not known, not fitted.
    pub says_nothing: bool,
    /// The defect it proves, if any.
    pub defect: Option<Defect>,
    /// The holds it raises: what must be cleared before some tests are made.
    pub raises: Vec<HoldIndex>,
    /// The equipment it is offered for.
    pub fit: Fit,
}

/// What state the equipment is in while a test is made, from the least exposed to the most.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Nothing is touched or tried: it is told, remembered, or read from paper.
    Told,
    /// It does not matter: looking from outside, arithmetic. Nothing is switched or started for it.
    Any,
    /// Disconnected, locked, proved dead.
    LockedOut,
    /// It is switched on, or runs, with its covers on.
    Running,
    /// Live parts are exposed or probed.
    Energised,
    /// The burner is called for or fires.
    Firing,
}

impl State {
    /// Says what state the equipment must be in.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Told => "told",
            Self::Any => "nothing to open",
            Self::LockedOut => "locked out",
            Self::Running => "RUNNING",
            Self::Energised => "ENERGIZED",
            Self::Firing => "BURNER ON",
        }
    }

    /// Whether the equipment has power or flame while the test is made.
    #[must_use]
    pub const fn is_powered(self) -> bool {
        matches!(self, Self::Running | Self::Energised | Self::Firing)
    }

    /// Whether the equipment must be brought into this state first.
    #[must_use]
    pub const fn is_prepared(self) -> bool {
        !matches!(self, Self::Told | Self::Any)
    }

    /// Whether a person who has accepted the cautions of `self` has accepted those of `needed`.
    #[must_use]
    pub fn covers(self, needed: Self) -> bool {
        self == needed || (self == Self::Energised && needed == Self::Running)
    }
}

/// What a test can do to the person making it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Hazard {
    /// Nothing.
    None,
    /// Minor: sharp edges, a ladder.
    Low,
    /// Hot parts.
    Burn,
    /// A charged capacitor.
    StoredEnergy,
    /// Electric shock.
    Shock,
    /// Shock and arc flash.
    ShockAndArc,
}

impl Hazard {
    /// Says what a test can do to the person.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::None => "no hazard",
            Self::Low => "low hazard",
            Self::Burn => "burn hazard",
            Self::StoredEnergy => "stored-energy hazard",
            Self::Shock => "shock hazard",
            Self::ShockAndArc => "shock and arc hazard",
        }
    }
}

/// Where an input of a calculation comes from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum InputFrom {
    /// A fact of the installation.
    Fact(FactIndex),
    /// A reading.
    Reading(TestIndex),
    /// Always the same.
    Fixed(Value),
}

/// What makes the outcome of a test.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum TestKind {
    /// A person picks the outcome.
    Look,
    /// A person gives a number.
    Reading {
        /// What the number measures.
        unit: Kind,
        /// Unit symbol shown, such as `V` or `uF`.
        symbol: String,
        /// Lowest and highest believable amount, in base units.
        range: (f64, f64),
        /// Where the probes go.
        probes: String,
    },
    /// Facts and readings make it.
    Calculation {
        /// Name in the registry.
        calculation: String,
        /// Where each input comes from, by input name.
        inputs: IndexMap<String, InputFrom>,
    },
}

/// Anything with an outcome.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Test {
    /// Kebab-case id.
    pub id: String,
    /// Short name for lists and search.
    pub name: String,
    /// The question put to the technician.
    pub ask: String,
    /// Why it is asked.
    pub why: String,
    /// How it is done, step by step.
    pub how: Vec<String>,
    /// Other words a person may search by.
    pub words: Vec<String>,
    /// What makes its outcome.
    pub kind: TestKind,
    /// State of the equipment.
    pub state: State,
    /// What it can do to the person.
    pub hazard: Hazard,
    /// What to mind.
    pub caution: String,
    /// Instrument needed, with its category.
    pub instrument: String,
    /// Hands-on minutes.
    pub minutes: f64,
    /// Parts the equipment must have.
    pub parts: Vec<String>,
    /// Facts needed before it makes sense.
    pub needs: Vec<FactIndex>,
    /// Whose job it is, where it is not the HVAC technician's.
    pub job: Option<Job>,
    /// Tests that stand in for it where its instrument is not at hand.
    pub stand_in: Vec<TestIndex>,
    /// How far an answer is to be trusted to show the true state, 0 to 1; nothing for what is usual for its kind.
    pub sureness: Option<f64>,
    /// It is a safety look: every tree makes it before any energized test.
    pub safety: bool,
    /// The test whose outcomes it has: the same thing, told in one and tried now in the other.
    pub outcomes_of: Option<TestIndex>,
    /// The complaints it belongs to; empty: all. Under others the engine does not pick it.
    pub complaints: Vec<TreeIndex>,
    /// Outcomes, in the order shown.
    pub outcomes: Indexed<OutcomeIndex, Outcome>,
    /// Sources, never empty.
    pub source: Vec<Source>,
}

/// A place in the graph: which tree and which node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub struct At {
    /// The tree.
    pub tree: TreeIndex,
    /// The node in it.
    pub node: NodeIndex,
}

/// What happens at a node.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum NodeKind {
    /// Make a test and go where its outcome leads.
    Test {
        /// The test.
        test: TestIndex,
        /// Where each outcome leads.
        to: Indexed<OutcomeIndex, At>,
        /// Where "could not check" and "cannot tell" lead.
        unknown: At,
        /// Where it leads when the test does not apply to the equipment.
        absent: At,
    },
    /// Let the engine pick tests from a pool until a stopping rule holds.
    Narrow {
        /// The pool.
        pool: Vec<TestIndex>,
        /// It holds every test that belongs to the complaint.
        all: bool,
        /// Where to go then.
        then: At,
    },
    /// Go through a shared tree and come back.
    Through {
        /// Start of the shared tree.
        start: At,
        /// Where to go after it.
        then: At,
    },
    /// End of a shared tree: back to where it was entered.
    Leave,
    /// Stop for safety.
    Halt {
        /// What to do now.
        advice: String,
        /// Whom to call.
        call: String,
    },
    /// The end: conclude.
    Close,
}

/// A node of a tree.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Node {
    /// Kebab-case id, unique in its tree.
    pub id: String,
    /// What happens there.
    pub kind: NodeKind,
}

/// The routing for one complaint, or a part shared by several.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Tree {
    /// Kebab-case id, the file's name.
    pub id: String,
    /// The complaint in a technician's words; nothing for a shared tree.
    pub complaint: Option<String>,
    /// Other words a person may say.
    pub words: Vec<String>,
    /// The equipment that can have this complaint.
    pub fit: Fit,
    /// Where it stands in the list of complaints: low comes first.
    pub rank: u32,
    /// What a repair after this complaint must come to, whatever the cause.
    pub requires: Vec<RequirementIndex>,
    /// The holds this complaint raises from the start.
    pub raises: Vec<HoldIndex>,
    /// Every step is asked, also one that would tell nothing of the cause: a list to go through, or an order that guards life.
    pub in_order: bool,
    /// Its nodes.
    pub nodes: Indexed<NodeIndex, Node>,
    /// Where it begins.
    pub start: NodeIndex,
}

/// A quantity that is a figure of a bound, once what it multiplies is known.
#[must_use]
pub fn bound_figure(bound: &Bound, of: Option<Quantity>) -> Option<f64> {
    match (bound.of, of) {
        (None, _) => Some(bound.figure),
        (Some(_), Some(quantity)) => Some(bound.figure * quantity.base),
        (Some(_), None) => None,
    }
}
