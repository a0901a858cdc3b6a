//! What the walk can ask.

use crate::knowledge::model::{FactIndex, HoldIndex, State, TestIndex};

use super::able::Ability;

/// Why this test was chosen.
#[derive(Clone, Debug, PartialEq)]
pub enum Because {
    /// The tree puts it here.
    Authored,
    /// The person said it can be told or made.
    Taken,
    /// It makes sure of the cause that stands clear.
    MakesSure,
    /// It shows why that burnt or failed.
    WhyFirst,
    /// A calculation needs this reading.
    InputOf(TestIndex),
    /// Nothing with power or flame on is done before it: it clears this hold.
    Clears(HoldIndex),
    /// It tells most for its cost.
    Gain {
        /// Expected information in bits.
        bits: f64,
        /// One line for the person, such as "splits the two leaders, 4 minutes, you are already locked out".
        line: String,
    },
}

/// A question of the walk.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum Question {
    /// What is the complaint? Answered with a tree's id.
    Complaint,
    /// What equipment is it? Answered with an equipment's id.
    Equipment,
    /// What is fitted to it besides? Answered with ids of accessories, with commas between them, or `none`.
    Accessories,
    /// Which of these can be told or made? Answered with ids of tests, with commas between them, or `none`.
    Offer {
        /// Those that tell most, at most eight.
        tests: Vec<TestIndex>,
        /// They are what may be known from the start; otherwise what could be checked next.
        known: bool,
    },
    /// Several things in a row could not be checked: what can be done now? Answered with words of [`Ability`], with commas
    /// between them, or `none`.
    Able {
        /// What there is to choose from.
        among: Vec<Ability>,
    },
    /// A fact of the installation. Answered with a value as typed, or the id of a choice.
    Fact {
        fact: FactIndex,
        /// The test that needs it; nothing where it sizes the repair.
        wanted_by: Option<TestIndex>,
    },
    /// A look or a reading. Answered with an outcome's id or a number as typed.
    Test {
        test: TestIndex,
        /// Why it was chosen.
        because: Because,
    },
    /// The cautions for a change of state; accepted before the test is shown.
    Caution {
        /// The state the equipment must be in.
        state: State,
        /// The test that comes next.
        test: TestIndex,
    },
    /// Stopped for safety. Accepting ends the walk.
    Halt {
        /// What to do now.
        advice: String,
        /// Whom to call.
        call: String,
    },
    /// Nothing left to ask. Accepting ends the walk; anything else can still be given or taken back.
    Finish,
}
