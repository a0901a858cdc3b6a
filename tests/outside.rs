//! Writes ten random networks of the knowledge's shape, with their answers and this program's posteriors, for
//! `tests/outside/compare.py`, which works them out with an independent library.

use std::fs;
use std::path::Path;

use lineside::inference::evidence::Likelihoods;
use lineside::inference::{Answered, Model, Standing};
use lineside::knowledge::model::{OutcomeIndex, TestIndex};
use serde_json::json;

#[test]
fn networks_are_written_for_the_outside_check() {
    let mut rng = fastrand::Rng::with_seed(20_26);
    let mut networks = Vec::new();
    for _ in 0..10 {
        let causes = rng.usize(60..120);
        let tests = rng.usize(8..14);
        let shares = |n: usize, rng: &mut fastrand::Rng| {
            let weights: Vec<f64> = (0..n).map(|_| 0.02 + rng.f64()).collect();
            let total: f64 = weights.iter().sum();
            weights.iter().map(|weight| weight / total).collect::<Vec<f64>>()
        };
        let priors = shares(causes + 1, &mut rng);
        let mut likelihoods = Vec::new();
        let mut described = Vec::new();
        let mut findings = Vec::new();
        for test in 0..tests {
            let outcomes = rng.usize(2..6);
            let usual = shares(outcomes, &mut rng);
            // As in the knowledge, most causes have no sign and share the usual row.
            let rows: Vec<Vec<f64>> = (0..causes)
                .map(|_| {
                    if rng.f64() < 0.3 {
                        shares(outcomes, &mut rng)
                    } else {
                        usual.clone()
                    }
                })
                .collect();
            let answer = rng.usize(0..outcomes);
            let all: Vec<Vec<f64>> = rows.iter().cloned().chain([usual.clone()]).collect();
            described.push(json!({ "rows": all, "answer": answer }));
            likelihoods.push(Likelihoods::from_rows(usual, rows));
            findings.push(Answered::certain(TestIndex(test), OutcomeIndex(answer)));
        }
        let standing = Standing::new(&Model::from_tables(priors.clone(), likelihoods), &findings);
        assert!((standing.probabilities().iter().sum::<f64>() - 1.0).abs() < 1e-12);
        networks.push(json!({ "priors": priors, "tests": described, "posterior": standing.probabilities() }));
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    fs::write(
        folder.join("networks.json"),
        serde_json::to_string(&networks).expect("JSON"),
    )
    .expect("written");
}
