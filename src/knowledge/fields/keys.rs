//! Every key of the format, by the table it stands in and in the order it is written in.
//!
//! A new key is one line here; then the loader must read it, the model hold it and `compare/` tell when it changes.

use super::key::Form::{self, *};
use super::key::{Key, Of, keys};
use super::words;
use crate::knowledge::exposure::Exposure;
use crate::knowledge::model::{Frequency, Hazard, Job, Place, State};
use crate::quantity::Word as _;

/// Enough minutes for any one test; a longer one is a recorder left overnight, counted as hands-on minutes only.
const MOST_MINUTES: f64 = 240.0;

/// Rank of a complaint that gives none.
pub(in crate::knowledge) const LAST_RANK: f64 = 1000.0;

const fn key(name: &'static str, form: Form, says: &'static str) -> Key {
    Key::new(name, form, says)
}

const fn needed(name: &'static str, form: Form, says: &'static str) -> Key {
    Key::new(name, form, says).required()
}

const NAMED: Key = needed("name", Prose, "Name shown to a person.");
const SOURCES: Key = needed(
    "source",
    Sources(source::KEYS),
    "Title and address, standard with edition and section, `common practice, no source`, or `from memory`.",
);
const EXPOSED: Key = key(
    "exposes",
    Words(Exposure::WORDS),
    "What it opens or comes near to; the caution for it is added.",
);
const REQUIRED: Key = key(
    "requires",
    Ids(Of::Requirement),
    "What a repair must come to, worked out from the facts of the case.",
);
const RAISED: Key = key(
    "raises",
    Ids(Of::Hold),
    "What must be cleared before some tests are made.",
);
const OFFERED: Key = key(
    "parts",
    Ids(Of::Part),
    "Offered only for equipment that has all these parts.",
);
const NOT_OFFERED: Key = key(
    "without",
    Ids(Of::Part),
    "Not offered for equipment that has one of these parts.",
);
const NOT_ON: Key = key(
    "without",
    Ids(Of::Part),
    "Not for equipment that has one of these parts.",
);
const ONLY_FOR: Key = key(
    "parts",
    Ids(Of::Part),
    "Only for equipment that has all these parts.",
);
const ASKED_ONLY_OF: Key = key(
    "parts",
    Ids(Of::Part),
    "Asked only of equipment that has all these parts.",
);
const QUESTION: Key = needed("ask", Question, "The question, in two lines of 60 columns.");
const BELIEVED: Key = key(
    "range",
    Range,
    "Lowest and highest amount believed, each with its unit.",
);
const CALCULATED: Key = key(
    "calculation",
    Calculation,
    "Name of the calculation; see `lineside figure`.",
);
const TAKEN: Key = key(
    "inputs",
    Inputs,
    "Where each input comes from: `fact:ID`, `test:ID` or `fixed:VALUE`.",
);
const CORRECTED: &str = "What it must become; `{output}` names an output of the calculation.";
const ON: Key = needed("then", Route, "Where to go then: `node` or `tree/node`.");
const A_FIGURE: &str = "A figure with its unit, or a plain multiple of what `of` or `of-reading` names.";

keys! {
    /// `[equipment.ID]`
    equipment {
        NAME = NAMED;
        PARTS = key("parts", Ids(Of::Part), "Parts it has; what needs a part it lacks is not asked.");
    }
    /// `[accessory.ID]`
    accessory {
        NAME = NAMED;
        PARTS = key("parts", Ids(Of::Part), "Fitted only to equipment that has all these parts.");
    }
    /// `[fact.ID]`
    fact {
        NAME = needed("name", Prose, "Short name.");
        ASK = QUESTION;
        FIND = needed("find", Prose, "Where to find it.");
        KIND = needed("kind", FactKind, "What it takes: a quantity, a size, a choice, loads or currents.");
        UNIT = key("unit", Text, "Unit of a number typed without one.");
        RANGE = BELIEVED;
        CHOICES = key("choices", Tables(choice::KEYS), "What is offered, when the kind is `choice`.");
        OF_THE_TROUBLE = key("of-the-trouble", Flag, "It tells of the trouble, not of plate or circuit: a callback asks it anew.");
        PARTS = ASKED_ONLY_OF;
    }
    /// One of the `choices` of a fact.
    choice {
        ID = needed("id", OwnId, "");
        LABEL = needed("label", Prose, "What is shown.");
        PARTS = OFFERED;
        WITHOUT = NOT_OFFERED;
    }
    /// `[requirement.ID]`
    requirement {
        NAME = needed("name", Prose, "What it is about.");
        JOB = needed("job", Word(Job::WORDS), "Whose job it is.");
        PARTS = ONLY_FOR;
        CALCULATION = CALCULATED.required();
        INPUTS = TAKEN;
        SAYS = needed("says", Prose, CORRECTED);
    }
    /// `[hold.ID]`
    hold {
        NAME = needed("name", Prose, "What it is, such as `heat damage that is not repaired`.");
        STOPS = key("stops", Words(State::WORDS), "States of tests that are not made.");
        STOPS_TESTS = key("stops-tests", Ids(Of::Test), "Tests that are not made, whatever their state.");
        FROM_START = key("from-start", Flag, "It holds before anything raises it.");
        EACH_VISIT = key("each-visit", Flag, "Each further visit raises it.");
        PROVED_ANEW = key("proved-anew", Flag, "Once raised, only what clears it takes it down, given after it was last raised.");
        LATER = key("later", Flag, "It ends the walk first; what clears it is asked on a further visit, or taken when told.");
        OF_THE_WORK = key("of-the-work", Flag, "It endangers whoever works on the equipment, not whoever uses it: the customer need not leave it off.");
        CALLS_HEAT = key("calls-heat", Flag, "What it asks for from the start comes before calls for heat too.");
        NOTED = key("noted", Flag, "A remark that says a word of what clears it asks for that.");
        PARTS = ONLY_FOR;
        WITHOUT = NOT_ON;
        CLEARED_BY = key("cleared-by", Proofs, "Each of these tests must come out so.");
        SAYS = needed("says", Prose, "What the person is told while it holds.");
        UNLOOKED = key("unlooked", Prose, "What the electrician reads while nobody has looked, if its name would sound as though something were found.");
        CALL = key("call", Prose, "Whom to call: once raised, it ends the walk, and `says` is what to do now.");
        SOURCE = SOURCES;
    }
    /// `[effect.ID]`
    effect {
        NAME = needed("name", Prose, "What it is, short.");
        STATES = needed("states", States(state::KEYS), "");
        FOLLOWS = key("follows", Follows, "How it is shared where another effect, or the complaint, is in a state.");
    }
    /// One of the `states` of an effect.
    state {
        USUAL = needed("usual", Share(0.0001, 0.9999), "How often it is met among all callbacks; an effect's add up to 1.");
        SAYS = needed("says", Prose, "The state in words that follow \"because\".");
        ALL_CLEAR = key("all-clear", Flag, "In it nothing is wrong: what mostly brings it is concluded only with proof.");
    }
    /// `[family.ID]`
    family {
        DOES = cause::DOES.required();
    }
    /// `[cause.ID]`
    cause {
        NAME = NAMED;
        PLACE = needed("place", Word(Place::WORDS), "Where it sits on the way from the utility to the load.");
        JOB = needed("job", Word(Job::WORDS), "Whose job the repair is: line side, load side, beyond the meter.");
        PARTS = key("parts", Ids(Of::Part), "Considered only for equipment that has all these parts.");
        BASE = key("base", Commonness(base::KEYS), "How common it is behind a callback, wherever its parts are; or by part.");
        FAMILY = key("family", Text, "The family whose share counts where it is silent.");
        DOES = key("does", Does, "For each effect that matters, how often which state; the rest is shared as usual.");
        MECHANISM = needed("mechanism", Prose, "How it makes the trouble.");
        REMEDY = needed("remedy", Prose, "What must be done, as an order.");
        PROOF = needed("proof", Prose, "The reading that proves the repair, with figures.");
        CAUTION = needed("caution", Prose, "What can hurt, and how to keep clear of it.");
        EXPOSES = EXPOSED;
        REPAIR_MINUTES = key("repair-minutes", Number(1.0, 10_000.0), "Minutes of the repair with its proof.");
        REQUIRES = REQUIRED;
        WHY_FIRST = key("why-first", Ids(Of::Test), "What burnt or failed does so again: looks at why, one of them made before its repair.");
        PREVENT = key("prevent", Tables(advice::KEYS), "What keeps it from coming back.");
        FORMERLY = key("formerly", Texts, "Ids it had before, or of causes merged into it: kept cases name them.");
        SOURCE = SOURCES;
    }
    /// The `base` of a cause, where parts change it.
    base {
        USUAL = needed("usual", Word(Frequency::WORDS), "");
        WITH = key("with", CommonnessByPart, "");
    }
    /// One advice under `prevent`.
    advice {
        TEXT = needed("text", Prose, "What to do.");
        RULE = key("rule", Prose, "The rule that asks for it; left out for good practice.");
    }
    /// A source that was looked up.
    source {
        TEXT = needed("text", Prose, "The source.");
        LOOKED_UP = needed("looked-up", Word(words::LOOKED_UP), "What looking it up showed about this claim.");
    }
    /// `[test.ID]`
    test {
        KIND = needed("kind", Word(words::TestSort::WORDS), "A look is picked, a reading typed, a calculation worked out.");
        NAME = needed("name", Prose, "Short name for lists and search.");
        ASK = QUESTION;
        WHY = needed("why", Prose, "Why it is asked.");
        HOW = key("how", Texts, "How it is done, step by step.");
        WORDS = key("words", Texts, "Other words a person may search by.");
        CALCULATION = CALCULATED;
        INPUTS = TAKEN;
        STATE = needed("state", Word(State::WORDS), "State of the equipment while it is made.");
        HAZARD = needed("hazard", Word(Hazard::WORDS), "What it can do to the person making it.");
        CAUTION = key("caution", Text, "What can hurt here and how to keep clear of it.");
        EXPOSES = EXPOSED;
        INSTRUMENT = key("instrument", Prose, "Instrument needed, with its category.");
        JOB = key("job", Word(Job::WORDS), "Whose job it is to make it; left out: the HVAC technician's.");
        STAND_IN = key("stand-in", Ids(Of::Test), "Tests an ordinary meter, eyes or ears can make instead, where the instrument is special.");
        MINUTES = needed("minutes", Number(0.0, MOST_MINUTES), "Hands-on minutes.");
        PARTS = ASKED_ONLY_OF;
        NEEDS = key("needs", Ids(Of::Fact), "Facts asked before it, beside those it refers to.");
        SAFETY = key("safety", Flag, "A safety look, made before any energized test.");
        FROM_START = key("from-start", Flag, "A told thing that is always among those offered at the start.");
        WHILE_IT_FAILS = key("while-it-fails", Flag, "It tells only while the trouble is there.");
        SEVERAL = key("several", Flag, "A look of which several outcomes can be true together.");
        TRIED_IN_VAIN = key("tried-in-vain", Flag, "A look at what was replaced or tried before without a cure: the review counts it.");
        CALLS_HEAT = key("calls-heat", Flag, "It calls for heat, or lets a waiting call come on: what stops `firing` stops it.");
        COMPLAINTS = key("complaints", Ids(Of::Complaint), "The complaints it belongs to; left out: all.");
        OUTCOMES_OF = key("outcomes-of", Id(Of::Test), "The test whose outcomes it has: the same thing, told in one and tried now in the other.");
        AT_ONCE = key("at-once", AtOnce, "What its first outcome answers at once: looks made together, all well.");
        UNIT = key("unit", Word(words::UNIT_SYMBOLS), "Unit of the reading.");
        RANGE = BELIEVED;
        PROBES = key("probes", Prose, "Where the probes go.");
        SURENESS = key("sureness", Number(0.05, 0.999), "How far an answer shows the true state.");
        SOURCE = SOURCES;
        OUTCOME = key("outcome", Outcomes, "");
    }
    /// `[[test.ID.outcome]]`
    outcome {
        ID = needed("id", OwnOutcome, "");
        BELOW = key("below", Bound, A_FIGURE);
        ABOVE = key("above", Bound, A_FIGURE);
        OF = key("of", Id(Of::Fact), "The fact the figure multiplies.");
        OF_READING = key("of-reading", Id(Of::Test), "The reading the figure multiplies.");
        LABEL = needed("label", Prose, "What is shown.");
        USUAL = needed("usual", Share(0.0, 1.0), "Share of callbacks with this outcome; a test's add up to 1.");
        SHOWS = key("shows", Shows, "For each effect, the states under which this outcome is met.");
        FINDS = key("finds", Finds, "P(this outcome | cause), for the causes it finds.");
        SAYS_NOTHING = key("says-nothing", Flag, "Not tried, not known, not fitted.");
        PARTS = OFFERED;
        WITHOUT = NOT_OFFERED;
        RAISES = RAISED;
        UNHELD = key("unheld", Prose, "Why a defect that says fire, shock or burst raises no hold.");
        DEFECT = key("defect", Table(defect::KEYS), "");
    }
    /// The `defect` of an outcome.
    defect {
        NAME = needed("name", Prose, "What is wrong, short.");
        HAZARD = needed("hazard", Prose, "What it can do.");
        JOB = needed("job", Word(Job::WORDS), "Whose job it is.");
        CORRECT = needed("correct", Prose, CORRECTED);
        SOURCE = needed("source", Prose, "The rule, or `common practice, no source`.");
    }
    /// `[tree]`, once in a file of `trees/`
    tree {
        COMPLAINT = key("complaint", Prose, "The complaint in a technician's words; left out in a shared tree.");
        WORDS = key("words", Texts, "Other words a person may say.");
        PARTS = OFFERED;
        WITHOUT = NOT_OFFERED;
        RANK = key("rank", Number(1.0, LAST_RANK), "Where it stands in the list of complaints, low first.");
        REQUIRES = REQUIRED;
        RAISES = RAISED;
        IN_ORDER = key("in-order", Flag, "Every step is asked, also one that would tell nothing of the cause.");
        START = needed("start", Node, "The node it begins at.");
    }
    /// A node that makes a test.
    testing {
        TEST = needed("test", Id(Of::Test), "The test made here.");
        TO = key("to", Routes, "Where each outcome leads; `unknown` is \"could not check\", `absent` that the test does not apply to the equipment.");
        NEXT = key("next", Route, "Where every outcome leads that `to` does not name.");
    }
    /// A node that lets the engine pick.
    narrowing {
        NARROW = needed("narrow", Pool, "The tests the engine may pick from.");
        THEN = ON;
    }
    /// A node that goes through a shared tree.
    passing {
        THROUGH = needed("through", Id(Of::SharedTree), "The shared tree gone through from its start.");
        THEN = ON;
    }
    /// A node that leads back out of a shared tree.
    leaving {
        LEAVE = needed("leave", True, "");
    }
    /// A node that stops for safety.
    halting {
        HALT = needed("halt", Prose, "What to do now.");
        CALL = needed("call", Prose, "Whom to call.");
    }
    /// A node that ends the walk.
    closing {
        CLOSE = needed("close", True, "");
    }
}

/// The keys of each kind of node. A node has exactly one of the first ones.
pub(in crate::knowledge) const NODES: [&[Key]; 6] = [
    testing::KEYS,
    narrowing::KEYS,
    passing::KEYS,
    leaving::KEYS,
    halting::KEYS,
    closing::KEYS,
];
