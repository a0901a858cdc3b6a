//! LU of a sparse complex matrix, kept for many right-hand sides.
//!
//! Written here and not taken from a library for speed and lightness: a circuit has four entries a row, and dense LU of nalgebra
//! took 213 microseconds at 40 unknowns where this takes a few, and 34 s to compile. The matrix is stored dense, the places
//! that are not zero as bits, so that elimination touches only those. Pivots: the row with the fewest entries, in it the column
//! with the fewest whose entry is at least a tenth of the row's largest (Markowitz's rule with threshold pivoting; Duff, Erisman,
//! Reid, Direct Methods for Sparse Matrices, ch. 5 and 7).

use super::circuit::Complex;

/// Least size of a pivot against the largest entry of its row.
const THRESHOLD: f64 = 0.1;

/// A pivot this small against what its row held at first is rounding error: nothing is left that holds the unknown.
const VANISHED: f64 = 1e-13;

/// A square matrix as it is filled.
#[derive(Clone, Debug)]
pub(super) struct Matrix {
    size: usize,
    words: usize,
    entries: Vec<Complex>,
    filled: Vec<u64>,
}

impl Matrix {
    pub(super) fn new(size: usize) -> Self {
        let words = size.div_ceil(64);
        Self {
            size,
            words,
            entries: vec![Complex::ZERO; size * size],
            filled: vec![0; size * words],
        }
    }

    pub(super) fn add(&mut self, row: usize, column: usize, amount: Complex) {
        self.entries[row * self.size + column] += amount;
        self.filled[row * self.words + column / 64] |= 1 << (column % 64);
    }

    fn at(&self, row: usize, column: usize) -> Complex {
        self.entries[row * self.size + column]
    }

    fn has(&self, row: usize, column: usize) -> bool {
        self.filled[row * self.words + column / 64] >> (column % 64) & 1 == 1
    }

    /// Columns of a row that are filled and still `open`.
    fn columns<'a>(&'a self, row: usize, open: &'a [u64]) -> impl Iterator<Item = usize> + 'a {
        let bits = &self.filled[row * self.words..(row + 1) * self.words];
        bits.iter()
            .zip(open)
            .enumerate()
            .flat_map(|(word, (bits, open))| {
                let mut left = bits & open;
                std::iter::from_fn(move || {
                    (left != 0).then(|| {
                        let bit = left.trailing_zeros() as usize;
                        left &= left - 1;
                        word * 64 + bit
                    })
                })
            })
    }
}

/// Row and column of the unknown that nothing holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Vanished {
    pub(super) row: usize,
}

/// A factored matrix.
#[derive(Clone, Debug)]
pub(super) struct Lu {
    matrix: Matrix,
    /// Row and column of each pivot, in order.
    pivots: Vec<(usize, usize)>,
    /// For each pivot where its rows begin in `below`.
    starts: Vec<usize>,
    /// Rows that a pivot was taken from; the factor stands in the pivot's column.
    below: Vec<usize>,
    /// For each pivot the columns right of it that are filled, flat.
    right_starts: Vec<usize>,
    right: Vec<usize>,
    /// One over each pivot.
    inverses: Vec<Complex>,
}

impl Lu {
    /// Factors a matrix.
    ///
    /// # Errors
    /// When a row vanishes: the matrix is singular.
    pub(super) fn of(mut matrix: Matrix) -> Result<Self, Vanished> {
        let size = matrix.size;
        let mut open = vec![u64::MAX; matrix.words];
        let mut rows: Vec<usize> = (0..size).collect();
        let scale: Vec<f64> = (0..size).map(|row| largest(&matrix, row, &open)).collect();
        let mut filled = Filled::of(&matrix);
        let mut lu = Self {
            pivots: Vec::with_capacity(size),
            starts: Vec::with_capacity(size + 1),
            below: Vec::with_capacity(4 * size),
            right_starts: Vec::with_capacity(size + 1),
            right: Vec::with_capacity(4 * size),
            inverses: Vec::with_capacity(size),
            matrix: Matrix::new(0),
        };
        while !rows.is_empty() {
            let (place, column) = pivot(&matrix, &rows, &open, &filled, &scale)?;
            let row = rows.swap_remove(place);
            open[column / 64] &= !(1 << (column % 64));
            lu.starts.push(lu.below.len());
            lu.right_starts.push(lu.right.len());
            lu.pivots.push((row, column));
            lu.right.extend(matrix.columns(row, &open));
            let right = &lu.right[lu.right_starts[lu.pivots.len() - 1]..];
            for column in right {
                filled.heights[*column] -= 1;
            }
            let inverse = matrix.at(row, column).inv();
            lu.inverses.push(inverse);
            for other in &rows {
                if matrix.has(*other, column) {
                    let factor = matrix.at(*other, column) * inverse;
                    matrix.entries[*other * size + column] = factor;
                    take(&mut matrix, row, *other, factor, right, &mut filled);
                    lu.below.push(*other);
                }
            }
        }
        lu.starts.push(lu.below.len());
        lu.right_starts.push(lu.right.len());
        lu.matrix = matrix;
        Ok(lu)
    }

    /// Solves for one right-hand side, in place of it.
    pub(super) fn solve(&self, side: &[Complex]) -> Vec<Complex> {
        let mut rest = side.to_vec();
        for (step, (row, column)) in self.pivots.iter().enumerate() {
            let amount = rest[*row];
            if amount != Complex::ZERO {
                for other in &self.below[self.starts[step]..self.starts[step + 1]] {
                    rest[*other] -= self.matrix.at(*other, *column) * amount;
                }
            }
        }
        let mut found = vec![Complex::ZERO; side.len()];
        for (step, (row, column)) in self.pivots.iter().enumerate().rev() {
            let mut amount = rest[*row];
            for other in &self.right[self.right_starts[step]..self.right_starts[step + 1]] {
                amount -= self.matrix.at(*row, *other) * found[*other];
            }
            found[*column] = amount * self.inverses[step];
        }
        found
    }
}

/// Largest entry of a row among the columns still open.
fn largest(matrix: &Matrix, row: usize, open: &[u64]) -> f64 {
    matrix
        .columns(row, open)
        .map(|column| size(matrix.at(row, column)))
        .fold(0.0, f64::max)
}

/// Size of an entry, cheaply: within a factor of the square root of two.
fn size(entry: Complex) -> f64 {
    entry.re.abs() + entry.im.abs()
}

/// How much is filled and still open: in each column, in each row.
struct Filled {
    heights: Vec<usize>,
    widths: Vec<usize>,
}

impl Filled {
    fn of(matrix: &Matrix) -> Self {
        let open = vec![u64::MAX; matrix.words];
        let mut filled = Self {
            heights: vec![0; matrix.size],
            widths: vec![0; matrix.size],
        };
        for row in 0..matrix.size {
            for column in matrix.columns(row, &open) {
                filled.heights[column] += 1;
                filled.widths[row] += 1;
            }
        }
        filled
    }
}

/// The next pivot: place in `rows`, column.
fn pivot(
    matrix: &Matrix,
    rows: &[usize],
    open: &[u64],
    filled: &Filled,
    scale: &[f64],
) -> Result<(usize, usize), Vanished> {
    let Some((place, row)) = rows
        .iter()
        .copied()
        .enumerate()
        .min_by_key(|(_, row)| filled.widths[*row])
    else {
        return Err(Vanished { row: 0 });
    };
    let most = largest(matrix, row, open);
    if most <= VANISHED * scale[row] || !most.is_finite() {
        return Err(Vanished { row });
    }
    matrix
        .columns(row, open)
        .filter(|column| size(matrix.at(row, *column)) >= THRESHOLD * most)
        .min_by_key(|column| filled.heights[*column])
        .map(|column| (place, column))
        .ok_or(Vanished { row })
}

/// Takes the pivot's row, `factor` times, from another, so that the pivot's column vanishes there; the factor stands in its place.
fn take(
    matrix: &mut Matrix,
    row: usize,
    other: usize,
    factor: Complex,
    right: &[usize],
    filled: &mut Filled,
) {
    filled.widths[other] -= 1;
    for column in right {
        if !matrix.has(other, *column) {
            filled.heights[*column] += 1;
            filled.widths[other] += 1;
        }
        let amount = matrix.at(row, *column);
        matrix.add(other, *column, -factor * amount);
    }
}
