//! A defect in plain words: which part, and what it can do to people.

use crate::knowledge::model::Job;
use crate::report::DefectShown;
use crate::report::wording::by_words;

/// What a defect can do, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Danger {
    /// Gas or fumes get out.
    Fumes,
    /// It can give a shock.
    Shock,
    /// It can overheat and set fire.
    Fire,
    /// It can burst or scald.
    Burst,
    /// Whatever runs on it burns out.
    Motors,
    /// It wears, leaks water or costs money.
    Upkeep,
}

impl Danger {
    /// By the words of what a defect can do, and of its name.
    fn of(defect: &DefectShown) -> Self {
        const WORDS: &[(Danger, &[&str])] = &[
            (Danger::Fumes, &["carbon monoxide", "explosion", "flue gas"]),
            (
                Danger::Shock,
                &[
                    "shock",
                    "deadly",
                    "live",
                    "kills",
                    "frames and pipes",
                    "no breaker trips",
                    "hands are in",
                ],
            ),
            (Danger::Burst, &["bursts", "scalding", "relief valve"]),
            (
                Danger::Fire,
                &[
                    "fire",
                    "burn",
                    "arc",
                    "alight",
                    "overheat",
                    "heats",
                    "hot",
                    "insulation",
                    "overload",
                    "weld",
                    "cook",
                ],
            ),
        ];
        // A motor that burns out costs money; wires and joints that heat set fire.
        let harmless = [
            "motor",
            "compressor",
            "capacitor",
            "coil",
            "fan",
            "filter",
            "drain",
            "rotation",
            "service voltage",
            "running unit",
            "working space",
        ];
        let name = defect.name.to_lowercase();
        if name.contains("unbalance") {
            return Self::Motors;
        }
        let says = format!("{name} {}", defect.hazard.to_lowercase());
        let found = by_words(&says, WORDS).unwrap_or(Self::Upkeep);
        if found == Self::Fire && harmless.iter().any(|word| name.contains(word)) {
            Self::Upkeep
        } else {
            found
        }
    }

    const fn says(self) -> &'static str {
        match self {
            Self::Fumes => "can let gas or poisonous fumes into the rooms",
            Self::Shock => "can give an electric shock",
            Self::Fire => "can overheat and start a fire",
            Self::Motors => "is uneven and can burn out the motors",
            Self::Burst => "can burst or scald",
            Self::Upkeep => "can make the equipment wear out or work badly",
        }
    }
}

/// Where a defect is, in a word everybody has.
fn part(name: &str) -> &'static str {
    const WORDS: &[(&str, &[&str])] = &[
        (
            "The cord or plug",
            &["cord", "plug adapter", "plug's", "power strip"],
        ),
        (
            "A wire or part inside the equipment",
            &["ground in the unit", "wire in the unit", "wire in the cabinet"],
        ),
        (
            "The wires that feed the equipment",
            &["whip or box", "branch cable reads"],
        ),
        ("The outlet", &["receptacle", "outlet"]),
        ("The generator", &["generator", "engine", "source and panel"]),
        ("Something in the building", &["in the building"]),
        (
            "The burner",
            &[
                "burner",
                "flame",
                "flue",
                "vent",
                "gas",
                "heat exchanger",
                "oil chamber",
                "spark",
                "igniter",
            ],
        ),
        (
            "A part inside the equipment",
            &[
                "capacitor",
                "compressor",
                "contactor",
                "relay",
                "board",
                "blower",
                "motor",
                "winding",
                "transformer",
            ],
        ),
        (
            "The shut-off switch by the equipment",
            &["disconnect", "pull-out", "fuse clip", "service switch"],
        ),
        (
            "The electrical panel",
            &["panel", "bus", "meter", "service", "main"],
        ),
        (
            "The safety (ground) wire",
            &["ground", "bonded", "grounding", "tied to neutral"],
        ),
        (
            "The power that comes in",
            &["voltage", "phase", "leg to neutral", "high leg", "supply"],
        ),
        (
            "The safety switch (breaker) or fuse",
            &["breaker", "fuse", "device"],
        ),
        (
            "The wires that feed the equipment",
            &[
                "circuit",
                "conductor",
                "wire",
                "cable",
                "splice",
                "whip",
                "run too long",
            ],
        ),
        ("Water", &["water", "condensate", "drip", "wet"]),
        (
            "The filter, the coil or the ducts",
            &[
                "filter",
                "coil blocked",
                "coil iced",
                "duct",
                "boxed in",
                "air over",
            ],
        ),
        (
            "Too little space around the equipment",
            &["working space", "in sight"],
        ),
        (
            "A part or wire that got too hot",
            &["heat damage", "heat-damaged", "overheated", "burnt", "cooked"],
        ),
        ("The electric heat", &["heat", "element"]),
        ("The metal of the equipment", &["live metal", "metal", "shock"]),
    ];
    by_words(&name.to_lowercase(), WORDS).unwrap_or("A part inside the equipment")
}

/// Parts that feed the equipment: what is wrong with them without danger is that they do not suit it.
const FEEDS: [&str; 2] = [
    "The shut-off switch by the equipment",
    "The safety switch (breaker) or fuse",
];

/// Who puts a defect right, in a word.
const fn who(job: Job) -> &'static str {
    match job {
        Job::Electrician => "electrician",
        Job::Utility => "power company",
        Job::UtilityOrElectrician => "power company or electrician",
        Job::GasFitter => "gas company",
        Job::SourceDealer => "company that set up the generator or battery",
        Job::HvacTechnician => "our technician",
        Job::CheckLocally => "our technician or an electrician",
    }
}

/// Whether a defect is sure and can hurt somebody, so that the equipment is left off until it is put right.
pub(super) fn keeps_off(defect: &DefectShown) -> bool {
    defect.sure && Danger::of(defect) < Danger::Upkeep
}

/// Whether gas or fumes were found: that is told whatever else is.
pub(super) fn is_fumes(defect: &DefectShown) -> bool {
    Danger::of(defect) == Danger::Fumes
}

/// Begins what nobody was sure of.
const DOUBT: &str = "To be looked at again: ";

/// Defects in plain words, the worst first, each place once.
pub(super) fn noted<'d>(defects: impl Iterator<Item = &'d DefectShown>) -> Vec<(Danger, String)> {
    let mut all: Vec<(Danger, bool, String)> = Vec::new();
    for defect in defects {
        let danger = Danger::of(defect);
        let begin = if defect.sure { "" } else { DOUBT };
        let part = part(&defect.name);
        let says = match danger {
            Danger::Upkeep if FEEDS.contains(&part) => "is not right for the equipment",
            danger => danger.says(),
        };
        let text = format!("{begin}{part} {says}. ({})", who(defect.trade));
        if all.iter().all(|(_, _, known)| *known != text) {
            all.push((danger, !defect.sure, text));
        }
    }
    all.sort();
    all.into_iter().map(|(danger, _, text)| (danger, text)).collect()
}
