//! Lists whose entries are reached only by an index of their own kind.

use std::fmt;
use std::iter::FusedIterator;
use std::marker::PhantomData;
use std::ops::{Deref, DerefMut, Index, IndexMut};

use serde::{Deserialize, Serialize};

/// An index that knows which list it is a place in.
pub trait Ordinal: Copy {
    /// The index of a place, counted from 0.
    fn at(place: usize) -> Self;

    /// The place, counted from 0.
    fn place(self) -> usize;
}

/// A list of `T` that takes no index but `I`: a cause cannot be mistaken for a test.
///
/// # Examples
/// ```
/// use lineside::knowledge::indexed::Indexed;
/// use lineside::knowledge::model::TestIndex;
///
/// let minutes: Indexed<TestIndex, f64> = [5.0, 12.0].into_iter().collect();
/// assert_eq!(minutes[TestIndex(1)], 12.0);
/// ```
/// ```compile_fail,E0308
/// use lineside::knowledge::indexed::Indexed;
/// use lineside::knowledge::model::{CauseIndex, TestIndex};
///
/// let minutes: Indexed<TestIndex, f64> = [5.0, 12.0].into_iter().collect();
/// assert_eq!(minutes[CauseIndex(1)], 12.0);
/// ```
/// A bare number is no index either:
/// ```compile_fail,E0308
/// use lineside::knowledge::indexed::Indexed;
/// use lineside::knowledge::model::TestIndex;
///
/// let minutes: Indexed<TestIndex, f64> = [5.0, 12.0].into_iter().collect();
/// assert_eq!(minutes[1_usize], 12.0);
/// ```
#[derive(Serialize, Deserialize)]
#[serde(
    transparent,
    bound(serialize = "T: Serialize", deserialize = "T: Deserialize<'de>")
)]
pub struct Indexed<I, T> {
    entries: Vec<T>,
    // Not `PhantomData<I>`: the list holds no index, so it may be shared among threads whatever `I` is.
    index: PhantomData<fn(I) -> I>,
}

impl<I: Ordinal, T> Indexed<I, T> {
    /// The entry at an index, or nothing behind the last.
    #[must_use]
    pub fn get(&self, index: I) -> Option<&T> {
        self.entries.get(index.place())
    }

    /// Every index of the list, in order.
    #[must_use = "an iterator does nothing by itself"]
    pub fn indices(
        &self,
    ) -> impl DoubleEndedIterator<Item = I> + ExactSizeIterator + FusedIterator + Clone + use<I, T> {
        (0..self.entries.len()).map(I::at)
    }

    /// Every entry with its index, in order.
    #[must_use = "an iterator does nothing by itself"]
    pub fn indexed(&self) -> impl DoubleEndedIterator<Item = (I, &T)> + ExactSizeIterator + Clone {
        self.entries
            .iter()
            .enumerate()
            .map(|(place, entry)| (I::at(place), entry))
    }

    /// The first entry that is as asked.
    #[must_use]
    pub fn find(&self, is_it: impl FnMut(&T) -> bool) -> Option<I> {
        self.entries.iter().position(is_it).map(I::at)
    }
}

impl<I, T: Clone> Indexed<I, T> {
    /// The same entry as often as another list has entries.
    #[must_use]
    pub fn like<U>(other: &Indexed<I, U>, entry: T) -> Self {
        vec![entry; other.entries.len()].into()
    }
}

impl<I: Ordinal, T> Index<I> for Indexed<I, T> {
    type Output = T;

    fn index(&self, index: I) -> &T {
        &self.entries[index.place()]
    }
}

impl<I: Ordinal, T> IndexMut<I> for Indexed<I, T> {
    fn index_mut(&mut self, index: I) -> &mut T {
        &mut self.entries[index.place()]
    }
}

impl<I, T> Deref for Indexed<I, T> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        &self.entries
    }
}

impl<I, T> DerefMut for Indexed<I, T> {
    fn deref_mut(&mut self) -> &mut [T] {
        &mut self.entries
    }
}

impl<I, T> From<Vec<T>> for Indexed<I, T> {
    fn from(entries: Vec<T>) -> Self {
        Self {
            entries,
            index: PhantomData,
        }
    }
}

impl<I, T> FromIterator<T> for Indexed<I, T> {
    fn from_iter<S: IntoIterator<Item = T>>(entries: S) -> Self {
        Vec::from_iter(entries).into()
    }
}

impl<I, T> IntoIterator for Indexed<I, T> {
    type Item = T;
    type IntoIter = std::vec::IntoIter<T>;

    fn into_iter(self) -> Self::IntoIter {
        self.entries.into_iter()
    }
}

impl<'a, I, T> IntoIterator for &'a Indexed<I, T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.entries.iter()
    }
}

impl<'a, I, T> IntoIterator for &'a mut Indexed<I, T> {
    type Item = &'a mut T;
    type IntoIter = std::slice::IterMut<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.entries.iter_mut()
    }
}

impl<I, T: Clone> Clone for Indexed<I, T> {
    fn clone(&self) -> Self {
        self.entries.clone().into()
    }
}

impl<I, T: PartialEq> PartialEq for Indexed<I, T> {
    fn eq(&self, other: &Self) -> bool {
        self.entries == other.entries
    }
}

impl<I, T> Default for Indexed<I, T> {
    fn default() -> Self {
        Vec::new().into()
    }
}

impl<I, T: fmt::Debug> fmt::Debug for Indexed<I, T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.entries.fmt(f)
    }
}
