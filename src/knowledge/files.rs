//! The files the knowledge is made of.

use std::borrow::Cow;

use super::finding::Finding;

/// One file as read.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// Path below the folder, with `/` between its parts, such as `causes/supply.toml`.
    pub name: String,
    /// Path to show to a person.
    pub shown: String,
    /// The text; empty when it could not be read.
    pub text: Cow<'static, str>,
}

/// All files of one knowledge, sorted by name, with what went wrong while reading them.
#[derive(Clone, Debug)]
pub struct Files {
    /// The files.
    pub list: Vec<SourceFile>,
    /// Files that could not be read as text.
    pub findings: Vec<Finding>,
}

impl Files {
    /// Files held in memory, for tests and editors.
    #[must_use]
    pub fn in_memory<N: Into<String>, T: Into<String>>(files: impl IntoIterator<Item = (N, T)>) -> Self {
        let mut list: Vec<_> = files
            .into_iter()
            .map(|(name, text)| {
                let name = name.into();
                SourceFile {
                    shown: name.clone(),
                    name,
                    text: Cow::Owned(text.into()),
                }
            })
            .collect();
        list.sort_by(|a, b| a.name.cmp(&b.name));
        Self {
            list,
            findings: Vec::new(),
        }
    }

    /// Hash over names and contents, 16 hexadecimal digits; the same on every platform and release.
    ///
    /// It tells versions apart and protects against nobody. Each step (exclusive or, rotation, product with an odd
    /// number) can be undone, so that files which differ in one place always differ in their hash. Eight bytes a
    /// step, as hashing byte by byte took a sixth of the whole time to load.
    #[must_use]
    pub fn fingerprint(&self) -> String {
        let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
        let mut take = |bytes: &[u8]| {
            // Lengths go in too, so that moving text from one file into the next is seen.
            let mut step = |word: u64| {
                hash = (hash ^ word).rotate_left(23).wrapping_mul(0x9e37_79b9_7f4a_7c15);
            };
            step(bytes.len() as u64);
            for chunk in bytes.chunks(8) {
                let mut word = [0; 8];
                word[..chunk.len()].copy_from_slice(chunk);
                step(u64::from_le_bytes(word));
            }
        };
        for file in &self.list {
            take(file.name.as_bytes());
            take(file.text.as_bytes());
        }
        format!("{hash:016x}")
    }
}

#[cfg(test)]
mod tests {
    use super::Files;

    #[test]
    fn fingerprint_tells_a_moved_text_from_the_original() {
        let whole = Files::in_memory([("a", "xy"), ("b", "")]);
        let moved = Files::in_memory([("a", "x"), ("b", "y")]);
        assert_ne!(whole.fingerprint(), moved.fingerprint());
        assert_eq!(
            whole.fingerprint(),
            Files::in_memory([("b", ""), ("a", "xy")]).fingerprint()
        );
    }

    /// A case names the knowledge it was walked with, so the figure must not change with the program.
    /// The expected figure was worked out by the same steps written in Python.
    #[test]
    fn fingerprint_stays_what_it_was() {
        assert_eq!(
            Files::in_memory([("a.toml", "x = 1\n"), ("b.toml", "")]).fingerprint(),
            "002b442e251129e5"
        );
    }
}
