//! The keys of a file of settings: the one list that reading, help and the template are made of.

use crate::quantity::Word;
use crate::standards::rule::Edition;

pub(super) struct Key {
    /// As it is written.
    pub(super) name: &'static str,
    /// What it is good for, for a person.
    pub(super) meaning: &'static str,
    /// What it takes, as an example line of the file.
    pub(super) example: &'static str,
    /// The option that overrides it for one run.
    pub(super) option: &'static str,
    /// What holds without it.
    pub(super) built_in: &'static str,
}

pub(super) const KEYS: [Key; 6] = [
    Key {
        name: "cases-folder",
        meaning: "Folder in which new cases are kept and in which cases are looked for.",
        example: "cases-folder = \"~/cases\"",
        option: "--cases DIR",
        built_in: "the platform's data folder",
    },
    Key {
        name: "shop-file",
        meaning: "Cause frequencies learned by `lineside learn` from the shop's closed cases.",
        example: "shop-file = \"shop.toml\"",
        option: "--shop FILE.toml",
        built_in: "the authors' frequencies",
    },
    Key {
        name: "edition",
        meaning: "Edition of the National Electrical Code in force where you work: 2014, 2017, 2020, 2023 or 2026. \
                  The local authority decides in every case.",
        example: "edition = \"2023\"",
        option: "--edition YEAR",
        built_in: "asked, or the newest one checked",
    },
    Key {
        name: "technician",
        meaning: "Who makes the cases. Written into new cases; left out of an anonymous copy.",
        example: "technician = \"first shift\"",
        option: "--technician TEXT",
        built_in: "nobody",
    },
    Key {
        name: "plain-screen",
        meaning: "Plain lines in place of lists to move in: for screen readers and simple terminals.",
        example: "plain-screen = true",
        option: "--plain[=false]",
        built_in: "false",
    },
    Key {
        name: "color",
        meaning: "When to color: auto, always or never. No color ever carries a meaning alone.",
        example: "color = \"auto\"",
        option: "--color WHEN",
        built_in: "auto",
    },
];

/// Editions that can be given.
pub(super) const EDITIONS: &[&str] = Edition::WORDS;
