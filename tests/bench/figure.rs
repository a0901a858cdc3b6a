//! Time of each calculation, on the inputs of `examples/figures.md`; the bar is 20 microseconds.
//!
//! Only the calculation is timed: its text is read before, and the tables are in memory as after a first use.

use criterion::{Criterion, criterion_group, criterion_main};
use lineside::standards::calculation::Inputs;
use lineside::standards::{calculation, registry};

/// The `--set` pairs of each example by calculation; the file is checked by `tests/figure_command.rs`.
fn examples() -> Vec<(&'static calculation::Calculation, Inputs)> {
    let text = include_str!("../../examples/figures.md").replace(" \\\n   ", "");
    let commands = text
        .lines()
        .filter_map(|line| line.strip_prefix("$ lineside figure "));
    commands
        .map(|command| {
            let mut parts = command.split(" --set ");
            let calculation = parts
                .next()
                .and_then(|name| registry::find(name.trim()))
                .expect("a calculation");
            let mut inputs = Inputs::default();
            for pair in parts {
                let (name, value) = pair.split_once('=').expect("an input and its value");
                inputs
                    .parse(calculation, name.trim(), value.trim().trim_matches('\''))
                    .expect("a value");
            }
            (calculation, inputs)
        })
        .collect()
}

fn calculations(criterion: &mut Criterion) {
    let examples = examples();
    assert_eq!(examples.len(), registry::all().len());
    let mut group = criterion.benchmark_group("figure");
    group.sample_size(20);
    for (calculation, inputs) in &examples {
        group.bench_function(calculation.name, |bencher| {
            bencher.iter(|| (calculation.run)(inputs))
        });
    }
    group.finish();
}

criterion_group!(benches, calculations);
criterion_main!(benches);
