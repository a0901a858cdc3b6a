//! Cause frequencies from a shop's own confirmed cases, on top of the authored ones.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// The id under which cases are counted whose cause the knowledge does not list.
pub const NOT_LISTED: &str = "not-listed";

/// Confirmed cases of a shop: weights by cause, by complaint. A file a shop can read, keep and commit.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Counts {
    /// Version of the form.
    pub schema: u32,
    /// Closed cases behind the counts.
    pub cases: usize,
    /// Months in which an old case lost half its weight; left out when none did.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub half_life_months: Option<f64>,
    /// Weights by complaint and cause; [`NOT_LISTED`] stands for a cause the knowledge does not have.
    #[serde(default)]
    pub counts: BTreeMap<String, BTreeMap<String, f64>>,
}

/// Version of the form of [`Counts`].
pub const SCHEMA: u32 = 1;

/// Weight of a closed case: proved by a reading, or only held to be so.
///
/// A case that was never closed counts nothing, and the program's own standing never does: it would confirm
/// itself. Our choice, no source.
#[must_use]
pub const fn case_weight(proved: bool) -> f64 {
    if proved { 1.0 } else { 0.5 }
}

/// How many cases the authored frequencies weigh. Between 20 and 200; our choice, no source.
pub const AUTHORED_CASES: f64 = 50.0;

/// The shop's cases never weigh more than this many times the authored ones, so the author keeps a fifth.
const MOST_TIMES: f64 = 4.0;

/// Shares learned from counts: Dirichlet with the authored shares worth `authored_cases` cases.
///
/// *Formula* share_c = (n0 a_c + n_c) / (n0 + N), N the sum of the counts; N is cut to 4 n0, all counts in
/// proportion.
///
/// *Arguments* `authored`: shares by cause that sum to 1, the remainder among them; `counts`: confirmed cases by
/// cause, at least 0, already decayed if that is wanted; `authored_cases`: n0, at least 0.
///
/// *Returns* shares that sum to 1. With n0 = 0 and no cases the authored shares come back.
///
/// *Limits* with n0 = 0 a cause never seen becomes impossible; the default keeps every cause possible.
///
/// *Source* Lecture 13: Dirichlet prior and multinomial likelihood,
/// <https://stat238.berkeley.edu/spring-2026/lecturethirteen238spring2026>.
#[must_use]
pub fn shares(authored: &[f64], counts: &[f64], authored_cases: f64) -> Vec<f64> {
    let seen: f64 = counts.iter().sum();
    let most = if authored_cases > 0.0 {
        MOST_TIMES * authored_cases
    } else {
        f64::INFINITY
    };
    let scale = if seen > most { most / seen } else { 1.0 };
    let total = authored_cases + seen * scale;
    if total <= 0.0 {
        return authored.to_vec();
    }
    authored
        .iter()
        .zip(counts)
        .map(|(share, count)| (authored_cases * share + count * scale) / total)
        .collect()
}

/// Weight of a case of some age: halved every `half_life` (both in the same unit); 1 when nothing decays.
#[must_use]
pub fn decay(age: f64, half_life: Option<f64>) -> f64 {
    half_life.map_or(1.0, |half_life| 0.5_f64.powf(age.max(0.0) / half_life))
}
