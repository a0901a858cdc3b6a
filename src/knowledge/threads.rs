//! Work on many independent things, shared out over a few threads: a person waits for it at every start.

use std::sync::atomic::{AtomicUsize, Ordering};

/// More threads cost more to start than they save on a few milliseconds of work.
const MOST_THREADS: usize = 4;

/// Does the work for each number of `order` and gives the results in the order of the numbers.
///
/// Each thread takes the next number when it is done with one; so the largest pieces should come first, that no
/// thread is left alone with one at the end. `order` holds every number from 0 to its length once.
pub(super) fn each<T: Send>(order: &[usize], work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let threads = std::thread::available_parallelism()
        .map_or(1, std::num::NonZero::get)
        .min(MOST_THREADS);
    let next = AtomicUsize::new(0);
    let take = || {
        let mut done = Vec::new();
        while let Some(number) = order.get(next.fetch_add(1, Ordering::Relaxed)) {
            done.push((*number, work(*number)));
        }
        done
    };
    let mut all = std::thread::scope(|scope| {
        let helpers: Vec<_> = (1..threads)
            // A thread that cannot be started leaves its share to the others.
            .filter_map(|_| std::thread::Builder::new().spawn_scoped(scope, take).ok())
            .collect();
        let mut all = take();
        for helper in helpers {
            match helper.join() {
                Ok(done) => all.extend(done),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        all
    });
    all.sort_by_key(|(number, _)| *number);
    all.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::each;

    #[test]
    fn results_come_in_the_order_of_the_numbers() {
        let order: Vec<usize> = (0..1000).rev().collect();
        let squares: Vec<usize> = (0..1000).map(|number| number * number).collect();
        assert_eq!(each(&order, |number| number * number), squares);
        assert!(each(&[], |number| number).is_empty());
    }
}
