//! What a correction on the line side is about, so that an electrician finds all of one thing together.

use crate::report::wording::by_words;

/// What is to be corrected, from the service on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Subject {
    Service,
    Panel,
    Breaker,
    Circuits,
    Conductor,
    Receptacle,
    Disconnect,
    Ground,
    Other,
}

impl Subject {
    pub(super) const ALL: [Self; 9] = [
        Self::Service,
        Self::Panel,
        Self::Breaker,
        Self::Circuits,
        Self::Conductor,
        Self::Receptacle,
        Self::Disconnect,
        Self::Ground,
        Self::Other,
    ];

    pub(super) const fn title(self) -> &'static str {
        match self {
            Self::Service => "Service and meter",
            Self::Panel => "Panel",
            Self::Breaker => "Breaker or fuse",
            Self::Circuits => "Circuits",
            Self::Conductor => "Conductor",
            Self::Receptacle => "Receptacle and plug",
            Self::Disconnect => "Disconnect",
            Self::Ground => "Ground and neutral",
            Self::Other => "Other",
        }
    }

    /// By what a calculation works out.
    pub(super) fn of_calculation(name: &str) -> Option<Self> {
        Some(match name {
            "protection-check" => Self::Breaker,
            "conductor-check" | "conductor-size-for-drop" | "voltage-drop" | "starting-drop" => {
                Self::Conductor
            }
            "circuits-fed-as-one"
            | "heat-circuit-size"
            | "shared-circuit-load"
            | "room-unit-circuit"
            | "branch-load"
            | "circuit-capacity" => Self::Circuits,
            "disconnect-check" => Self::Disconnect,
            "grounding-conductor" => Self::Ground,
            "outdoor-ground-fault" => Self::Breaker,
            "service-receptacle" => Self::Receptacle,
            _ => return None,
        })
    }

    /// By the words of a name, the most telling first.
    pub(super) fn of_words(name: &str) -> Self {
        const WORDS: &[(Subject, &[&str])] = &[
            (Subject::Disconnect, &["disconnect", "pull-out", "fuse clip"]),
            (Subject::Receptacle, &["receptacle", "plug", "cord", "outlet"]),
            (Subject::Ground, &["ground", "neutral"]),
            (
                Subject::Circuits,
                &[
                    "circuit of its own",
                    "circuit overloaded",
                    "shared",
                    "circuits",
                    "share the",
                    "heat circuit",
                    "supplies joined",
                ],
            ),
            (
                Subject::Conductor,
                &["conductor", "wire", "cable", "splice", "whip", "run", "aluminum"],
            ),
            (Subject::Panel, &["panel", "bus"]),
            (Subject::Breaker, &["breaker", "fuse", "device"]),
            (Subject::Service, &["service", "utility", "main", "leg"]),
        ];
        by_words(&name.to_lowercase(), WORDS).unwrap_or(Self::Other)
    }
}
