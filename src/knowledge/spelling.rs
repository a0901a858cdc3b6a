//! Ids in two spellings: some ids were given in British spelling and stay, since kept cases hold them; a person may
//! type either.

/// Words of ids that are spelled in two ways, the North American one second.
const TWO_WAYS: &[(&str, &str)] = &[
    ("aluminium", "aluminum"),
    ("backwards", "backward"),
    ("behaviour", "behavior"),
    ("discoloured", "discolored"),
    ("labours", "labors"),
    ("neighbours", "neighbors"),
];

/// Where an id stands in a list: spelled as it is there, or else in the other way.
#[must_use]
pub fn position<'a>(ids: impl Iterator<Item = &'a str> + Clone, asked: &str) -> Option<usize> {
    ids.clone().position(|id| id == asked).or_else(|| {
        let asked = american(asked);
        ids.into_iter().position(|id| american(id) == asked)
    })
}

/// The id with every word in the North American spelling.
fn american(id: &str) -> String {
    id.split('-')
        .map(|word| {
            TWO_WAYS
                .iter()
                .find(|(british, _)| *british == word)
                .map_or(word, |(_, american)| american)
        })
        .collect::<Vec<_>>()
        .join("-")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_spellings_are_found_and_the_written_one_first() {
        let ids = ["copper", "aluminium", "fans-backwards", "backward", "backwards"];
        let found = |asked| position(ids.into_iter(), asked);
        assert_eq!((found("aluminium"), found("aluminum")), (Some(1), Some(1)));
        assert_eq!(found("fans-backward"), Some(2));
        assert_eq!((found("backward"), found("backwards")), (Some(3), Some(4)));
        assert_eq!(found("alu"), None);
    }
}
