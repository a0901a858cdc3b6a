//! Causes, tests, facts and trees: loading them from TOML, checking them, and the graph they form.
//!
//! The files under `trees/` are compiled in; a folder given by the user replaces them. Loading has two steps:
//! the raw form is the TOML as written, with the place of every value; validation collects every finding
//! and makes the [`model`], whose ids are all resolved. Nothing else in the program reads TOML of this kind.
//!
//! # The files
//!
//! ```text
//! trees/equipment/*.toml   [equipment.ID]      kinds of equipment and the parts they have
//! trees/accessories/*.toml [accessory.ID]      what some installations have besides
//! trees/facts/*.toml       [fact.ID]           values of one installation
//! trees/requirements/*.toml [requirement.ID]   what a repair must come to, in figures
//! trees/holds/*.toml       [hold.ID]           what keeps tests from being made until it is cleared
//! trees/effects/*.toml     [effect.ID]         what can be found out about a fault: one of a few states
//! trees/families/*.toml    [family.ID]         what is common to kinds of causes
//! trees/causes/*.toml      [cause.ID]          what can be wrong
//! trees/tests/*.toml       [test.ID]           looks, readings, calculations
//! trees/*.toml             [tree] [node.ID]    one routing per complaint; the file's name is its id
//! ```
//!
//! What each key is called, takes and means is said once, in the table of keys (`fields/keys.rs`), and `lineside trees schema`
//! prints it; `lineside trees template` prints a commented cause, look, reading, calculation and tree. Below stands what
//! neither says, and an example of what has no template.
//!
//! Ids are kebab-case and say what is seen or true. Keys stand in the order of the table. Prose is sentence case and
//! plain; an `ask` fits two lines of 60 columns.
//!
//! ## Equipment
//! ```toml
//! [equipment.heat-pump]
//! name = "Heat pump, split, with electric heat"
//! parts = ["compressor", "contactor", "electric-heat"]
//! ```
//!
//! ## Accessories
//! ```toml
//! [accessory.humidifier]
//! name = "Humidifier"
//! parts = ["blower"]            # fitted only to equipment that has them all
//! ```
//! The id is the name of a part. A case says which are fitted; when it does not, all that can be are considered.
//!
//! ## Facts
//! ```toml
//! [fact.minimum-circuit-ampacity]
//! name = "Minimum circuit ampacity"
//! ask = "Minimum circuit ampacity on the nameplate"
//! find = "Nameplate of the unit, line MIN CIRCUIT AMPACITY or MCA."
//! kind = "current"              # a quantity kind, or: size, choice, loads, currents
//! unit = "A"                    # quantities only: unit of a number typed without one
//! range = ["1 A", "400 A"]      # quantities only
//! parts = ["compressor"]        # optional: asked only of equipment that has them all
//! # choices = [{ id = "copper", label = "Copper" }, { id = "aluminum", label = "Aluminum" }]
//! # of-the-trouble = true       # optional: it tells of the trouble, not of plate or circuit: a callback asks it anew
//! ```
//! A choice, an outcome of a test and a complaint may say which equipment they are offered for: `parts = [...]`, all
//! of which it has, and `without = [...]`, none of which it has. A choice that alone is left is not asked: it is known.
//!
//! ## Requirements
//! ```toml
//! [requirement.branch-conductor]
//! name = "Branch-circuit conductor"
//! job = "electrician"
//! parts = []                    # optional
//! calculation = "conductor-size-for"   # see `lineside figure`
//! inputs = { minimum-circuit-ampacity = "fact:minimum-circuit-ampacity" }
//! says = "{least-size} or larger."     # what it must become, from the outputs of the calculation
//! ```
//!
//! ## Holds
//! ```toml
//! [hold.water]
//! name = "water where live parts are"
//! stops = ["running", "energised", "firing"]   # tests in these states are not made while it is up
//! stops-tests = []              # optional: tests that are not made, whatever their state
//! from-start = false            # optional: up before anything raises it
//! each-visit = false            # optional: raised by each further visit
//! proved-anew = true            # optional: once raised, only what clears it takes it down, given after it was last raised
//! later = false                 # optional: it ends the walk first; what clears it is asked on a further visit
//! of-the-work = false           # optional: it endangers whoever works on it, not whoever uses it
//! parts = []                    # optional: only for equipment that has them all
//! # optional: each of these must come out so; asked by itself when a test waits for it. Without it, only correcting the answer that raised the hold takes it down.
//! cleared-by = { water-dried = ["dry"], unit-to-ground = ["open"] }
//! says = "..."                  # what the person is told while it is up
//! # unlooked = "..."            # up from the start: what the electrician reads while nobody has looked
//! # call = "..."                # whom to call: once raised it ends the walk for safety, and `says` is what to do now
//! source = ["..."]
//! ```
//! A hold outranks every tree: a test it stops is passed by, and not advised. An answer nobody is sure of raises it, but
//! clears none.
//!
//! ## Effects and families
//! ```toml
//! [effect.heat-at]
//! name = "Where heat shows"
//! states.nowhere = { usual = 0.9, says = "no place shows heat" }        # share among all callbacks; adds up to 1
//! states.disconnect-lug = { usual = 0.1, says = "a lug of the disconnect is burnt" }
//! # states.sound = { ..., all-clear = true }                            # optional: in it nothing is wrong
//! follows.complaint.part-burnt = { nowhere = "seldom", disconnect-lug = 0.3 }  # how it is shared on a complaint
//! follows.supply-load.sag = { nowhere = "often" }                       # and where one other effect is in a state
//!
//! [family.supply-joint]
//! does.joint = { one-loose = "mostly" }
//! ```
//! Chances are words (`always` 0.97, `mostly` 0.8, `often` 0.5, `sometimes` 0.2, `seldom` 0.05, `never` 0.004) or
//! numbers; states that are not named share what is left as usual. An effect follows from the complaint and from one
//! other effect at most, never in a circle. The states of the effect `complaint` are the complaints' ids.
//!
//! ## Causes
//! `base` is a word, or `{ usual = "rare", with = { three-phase = "common" } }` where parts change it.
//!
//! What looking a source up showed about this very claim: `supports`, `mixed` (part of it, or with something else
//! besides), `contradicts` (which the lint refuses: correct the claim or take another source), `not-found`. The sources
//! of tests are written alike.
//!
//! ## Tests
//! `outcomes-of = "what-runs"` instead of outcomes takes those of another look that asks the same, the one of memory and
//! the other by trying now. A test that shows the same effect by an ordinary instrument does without `stand-in`.
//!
//! Of the outcomes of a reading the first whose bound holds is taken, and the one outcome without a bound takes the rest.
//! The outcomes of a calculation are its verdicts (each listed, `cannot-tell` apart).
//! An input is `fact:ID`, `test:ID` (a reading) or `fixed:VALUE`.
//!
//! ## Trees
//! A test that does not apply to the equipment goes the way of `unknown`, unless `to` names `absent`.
//!
//! The routes of a tree form no cycle: a test is asked once. The id of a complaint is a state of the effect `complaint`, and
//! its causes name it under `does.complaint`.

pub mod behind;
pub mod chance;
pub mod cited;
pub mod claims;
pub mod compare;
mod compiled_in;
mod document;
pub mod exposure;
mod fields;
pub mod files;
pub mod finding;
pub mod folder;
pub mod graph;
pub mod indexed;
pub mod lint;
mod load;
mod lookup;
pub mod model;
pub mod nearest;
pub mod order;
mod prose;
mod raw;
pub mod readability;
pub mod render;
pub mod saying;
pub mod schema;
pub mod search;
pub mod spelling;
pub mod template;
mod threads;
mod validate;

pub use files::Files;
pub use folder::FolderError;
pub use load::{Checked, LoadError, check, embedded, load, waiting_words};
