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
//! Ids are kebab-case and say what is seen or true. Keys stand in the order below. Prose is sentence case and
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
//! proved-anew = true            # optional: what clears it counts only when given after it was last raised
//! parts = []                    # optional: only for equipment that has them all
//! # optional: each of these must come out so; asked by itself when a test waits for it. Without it, only correcting the answer that raised the hold takes it down.
//! cleared-by = { water-dried = ["dry"], unit-to-ground = ["open"] }
//! says = "..."                  # what the person is told while it is up
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
//! ```toml
//! [cause.loose-disconnect-lug]
//! name = "Loose lug in the disconnect"
//! place = "disconnect"          # utility service panel branch disconnect unit load control not-electrical
//! job = "hvac-technician"       # utility electrician hvac-technician check-locally
//! parts = []                    # optional: considered only for equipment that has them all
//! base = "common"               # behind how many callbacks, where its parts are: rare occasional common very-common,
//!                               # or { usual = "rare", with = { three-phase = "common" } }
//! family = "supply-joint"       # what it says of an effect counts where the cause is silent
//! does.complaint = { part-burnt = "often", breaker-opens = "sometimes" }
//! does.heat-at = { disconnect-lug = "mostly" }
//! mechanism = "..."
//! remedy = "..."                # imperative, what must be done
//! proof = "..."                 # the reading that proves the repair, with figures
//! caution = "..."
//! exposes = ["refrigerant"]      # optional: refrigerant compressor-terminals disconnect; their caution is added (exposure.rs)
//! repair-minutes = 30           # optional: minutes of the repair with its proof
//! requires = ["branch-conductor"]   # optional: requirements, worked out from the facts of the case
//! prevent = [{ text = "..." }, { text = "...", rule = "NEC 110.14(D)" }]   # no rule = good practice
//! source = ["..."]              # title and address, or "common practice, no source", or "from memory"; or, once
//!                               # it was looked up, { text = "...", looked-up = "supports" }
//! ```
//! What looking a source up showed about this very claim: `supports`, `mixed` (part of it, or with something else
//! besides), `contradicts` (which the lint refuses: correct the claim or take another source), `not-found`. The sources
//! of tests are written alike.
//!
//! ## Tests
//! ```toml
//! [test.disconnect-lugs-look]
//! kind = "look"                 # look reading calculation
//! name = "Disconnect: lugs and jaws"
//! ask = "With the disconnect dead: is any lug, jaw or wire end burnt or loose?"
//! why = "Heat marks where current leaves metal show a joint with resistance."
//! how = ["Prove the circuit dead.", "Pull the cover ..."]
//! words = ["melted", "pull-out"]     # optional: other words a person may search by
//! state = "locked-out"          # told: remembered, read from paper; any: seen from outside, nothing switched for it;
//!                               # locked-out; running: switched on, covers on; "energised": live parts; firing: burner on
//! hazard = "shock"              # none low burn stored-energy shock shock-and-arc
//! caution = "Line-side lugs stay live with the pull-out removed."
//! exposes = ["compressor-terminals"] # optional, as with causes
//! instrument = "eyes, light"
//! minutes = 4
//! parts = []                    # optional
//! needs = []                    # optional: facts asked before it, beside those it refers to
//! job = "electrician"           # optional: whose job it is to make it, where not the HVAC technician's
//! sureness = 0.8                # optional: how far an answer shows the true state; else by kind (showing.rs)
//! stand-in = ["lugs-by-hand"]   # optional, where the instrument is special: tests an ordinary meter, eyes
//!                               # or ears can make instead; one that shows the same effect will do without this
//! safety = true                 # optional: a safety look, made before any energized test
//! complaints = ["breaker-opens"] # optional: under other complaints the engine does not pick it
//! source = ["..."]
//!
//! [[test.disconnect-lugs-look.outcome]]
//! id = "burnt"
//! label = "Burnt, discolored or loose"
//! usual = 0.1                   # share of all callbacks with this outcome; adds up to 1
//! shows = { heat-at = "disconnect-lug" }      # states under which this outcome is met; or a list of states
//! finds = { loose-disconnect-lug = "often" }  # P(this outcome | cause), where it is the fault itself
//! # says-nothing = true         # instead: not tried, not known, not fitted; moves nothing
//! # parts = ["disconnect"]      # optional: offered only for equipment that has them all, such as what names a part;
//! # without = ["inverter"]      # and for none that has one of these
//! # raises = ["short-or-ground"]   # optional: holds it raises
//! # optional, when the outcome is a limit violated or damage that must be repaired whatever the cause:
//! defect = { name = "...", hazard = "...", job = "hvac-technician", correct = "...", source = "..." }
//!
//! [[test.disconnect-lugs-look.outcome]]
//! id = "sound"
//! label = "Clean and tight"
//! usual = 0.9
//! shows = { heat-at = ["nowhere", "contactor"] }
//! ```
//!
//! `outcomes-of = "what-runs"` instead of outcomes takes those of another look that asks the same, the one of memory and
//! the other by trying now.
//!
//! A reading adds `unit = "V"`, `range = ["0 V", "700 V"]` and `probes = "..."`, and bounds to its outcomes; the
//! first outcome whose bound holds is taken, and the one outcome without a bound takes the rest:
//! ```toml
//! [[test.voltage-at-unit-running.outcome]]
//! id = "low"
//! below = 0.9                   # less than 0.9 times ...
//! of = "nameplate-voltage"      # ... this fact; or of-reading = "another-reading"
//! # below = "187 V"             # or a plain figure with its unit, without `of`
//! # above = 1.1                 # more than
//! label = "Low"
//! usual = 0.1
//! ```
//!
//! A calculation has `calculation = "name"` (see `lineside figure`) and `inputs`, no `how`; its outcomes
//! are the verdicts of the calculation (each listed, `cannot-tell` apart); a defect's `correct` may hold
//! `{output}`:
//! ```toml
//! [test.protection-against-nameplate]
//! kind = "calculation"
//! name = "Breaker or fuse against the nameplate"
//! ask = "Is the breaker or fuse within the nameplate's minimum and maximum?"
//! why = "..."
//! calculation = "protection-check"
//! inputs = { protective-device-rating = "fact:protective-device-rating", measured-current = "test:running-current" }
//! state = "any"
//! hazard = "none"
//! minutes = 0
//! source = ["..."]
//! ```
//! An input is `fact:ID`, `test:ID` (a reading) or `fixed:VALUE`.
//!
//! ## Trees
//! ```toml
//! [tree]
//! complaint = "A breaker trips or a fuse blows for no clear reason"   # left out in a shared tree
//! words = ["trips", "blows"]    # optional
//! # parts = ["burner"]          # optional: only equipment that has them all is offered after this complaint;
//! # without = ["inverter"]      # and none that has one of these
//! rank = 20                     # optional: where it stands in the list of complaints, low first
//! requires = ["clean-run"]      # optional: what a repair after this complaint must come to, whatever the cause
//! raises = ["opened-device"]    # optional: holds this complaint raises
//! in-order = false              # optional: every step is asked, also one that would tell nothing of the cause
//! start = "hazards"
//!
//! [node.hazards]
//! through = "safety"            # a shared tree: enter at its start, come back at a node with `leave = true`
//! then = "when"
//!
//! [node.when]
//! test = "when-does-it-happen"
//! to = { at-switch-on = "short", unknown = "corner" }   # by outcome; "tree/node" leads into another tree; `unknown`:
//!                               # could not check; `absent`: does not apply to this equipment, else as `unknown`
//! next = "corner"               # every outcome not named in `to`, and "could not check"
//!
//! [node.corner]
//! narrow = ["running-current", "breaker-pole-drop"]     # the engine picks from these by gain for their cost;
//!                               # `narrow = "all"`: from every test that belongs to the complaint
//! then = "end"
//!
//! [node.stop-here]
//! halt = "Leave the disconnect open and locked, and the power off at the panel."
//! call = "The utility's emergency line, then a licensed electrician."
//!
//! [node.end]
//! close = true
//! ```
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
