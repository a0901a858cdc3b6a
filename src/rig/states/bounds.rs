//! The bounds from which something is felt, seen or called for, each with where it comes from.
//!
//! Bounds of readings that a test of the knowledge has as well are the same figures; whoever changes one changes the other.

/// Volts at the coil under which a contactor may buzz or drop: it is made to pull in at 85 % of its 24 V (NEMA ICS 2, from memory); the
/// test `coil-voltage-called` has the same bound.
pub(super) const CHATTERS_UNDER: f64 = 0.85 * 24.0;

/// Volts between R and C under which control power is called lost, and under which a board starts over: the test `board-supply-dip`
/// names 18 V, three quarters of 24 V. From memory of makers' manuals.
pub(super) const CONTROL_GONE: f64 = 18.0;
pub(super) const BOARD_RESETS: f64 = 18.0;

/// Torque asked for at standstill, times the usual, from which a start is heard to be hard. A judgment.
pub(super) const HARD_START: f64 = 1.3;

/// Share of its label under which a run capacitor makes starts hard: capacitors are made to within 6 %, and changed at 10 % low
/// (common practice).
pub(super) const WEAK_CAPACITOR: f64 = 0.9;

/// Share of the plate's voltage under which a start labors and electronics let go: motors are made for 90 % running, starts are asked
/// to keep 85 %, and a little under that is felt. A judgment.
pub(super) const LABORS: f64 = 0.82;

/// Load torque of the compressor, times an ordinary day's, outside of which output or pressures are off. A judgment.
pub(super) const HEAD: (f64, f64) = (0.92, 1.12);

/// Share of a clean burner's flame signal under which it may be lost: clean is about five times the least a control asks for, and dirt
/// comes on top. A judgment.
pub(super) const WEAK_FLAME: f64 = 0.5;

/// Amps through a breaker, times its rating, up to which it never opens and from which it must: a main over 50 A within two hours
/// (UL 489, 100 and 135 %). Between them one opens and another does not.
pub(super) const HOLDS: f64 = 1.0;
pub(super) const MUST_OPEN: f64 = 1.35;

/// Ohm to ground under which insulation is so broken that a device that opens at once leaves no leak to read. A judgment.
pub(super) const LEAK_HARD: f64 = 3e4;

/// Amps to ground from which a ground-fault device may open: class A opens at 4 to 6 mA (UL 943); meters read a little off.
pub(super) const CLASS_A: f64 = 0.0035;

/// Volts at the indoor part under which its display goes out. A judgment: three quarters of 120 V.
pub(super) const INDOOR_GONE: f64 = 90.0;

/// Volts on the metal that somebody feels at all, and that are taken for a live part: a tingle begins at some volts, dry skin feels
/// little under 15. A judgment; the tests of the metal have the same bounds.
pub(super) const FELT: f64 = 2.0;
pub(super) const LIVE: f64 = 15.0;

/// Share of the volts on the metal under which a meter that loads it leaves a voltage that only leaks there. A judgment.
pub(super) const COLLAPSES: f64 = 0.7;

/// Volts a joint on the way loses before anyone says that volts are lost there: a tenth of a percent of 240 V, ten times a sound one's.
/// A judgment.
pub(super) const LOST: f64 = 0.3;

/// Seconds within which a person says "at once", "within seconds" and "after minutes". Our choice, no source.
pub(super) const AT_ONCE: f64 = 3.0;
pub(super) const SECONDS: f64 = 60.0;
pub(super) const MINUTES: f64 = 1800.0;

/// Share by which lamps must lose voltage for people to see it: nearly everybody sees 5 %, hardly anybody 2 % (flicker curves of the
/// utilities, from memory); and the rise that makes them brighter.
pub(super) const SEEN: f64 = 0.05;
pub(super) const UNSEEN: f64 = 0.02;
pub(super) const BRIGHTER: f64 = 0.03;

/// Volts between R and C: under the first nothing is there; a transformer of 24 V stands within the next two at rest and keeps the last
/// two under its load (Class 2 transformers, common practice; the tests of the control voltage have the same bounds).
pub(super) const CONTROL_NONE: f64 = 5.0;
pub(super) const CONTROL_REST: (f64, f64) = (24.0, 30.0);
pub(super) const CONTROL_LOADED: (f64, f64) = (21.6, 28.0);

/// Volts across a closed contact, from which it does not pass at all and from which it is pitted. Common practice: contacts are changed
/// at a tenth of a volt; the test `contactor-pole-drop` has the same bound.
pub(super) const CONTACT_OPEN: f64 = 50.0;
pub(super) const CONTACT_PITTED: f64 = 0.1;
