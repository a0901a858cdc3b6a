//! "Did you mean": the known id nearest to a mistyped one.

/// The nearest of some ids, when one is near enough to be a slip of the finger.
pub fn nearest<'a>(id: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    known
        .map(|candidate| (strsim::jaro_winkler(id, candidate), candidate))
        .filter(|(likeness, _)| *likeness >= 0.75)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}

/// Says that an id is unknown, with the nearest known one when there is one, or all when they are few.
pub fn unknown<'a>(what: &str, id: &str, known: impl Iterator<Item = &'a str> + Clone) -> String {
    const FEW: usize = 8;
    match nearest(id, known.clone()) {
        Some(near) => format!("unknown {what} `{id}`; did you mean `{near}`?"),
        None if known.clone().count() <= FEW => {
            let all: Vec<String> = known.map(|id| format!("`{id}`")).collect();
            format!("unknown {what} `{id}`, expected {}", all.join(", "))
        }
        None => format!("unknown {what} `{id}`; `lineside trees list` shows what there is"),
    }
}
