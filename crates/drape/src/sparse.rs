//! The matrix of second derivatives, in blocks of three by three, and its
//! factor. Which blocks there are is found once; only their numbers change.

use crate::cloth::Place;
use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::llt::factor::LltRegularization;
use faer::perm::PermRef;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholesky, SymmetricOrdering, factorize_symbolic_cholesky,
};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMat};
use faer::{Conj, MatMut, Par, Side};
use nalgebra::Matrix3;

/// Where a block of an element goes: which block of the whole, and whether it is
/// laid in turned over (only blocks on and below the diagonal are kept).
#[derive(Debug, Clone, Copy)]
pub struct Slot {
    block: usize,
    turned: bool,
}

/// A symmetric matrix of 3×3 blocks, lower half.
pub struct Blocks {
    /// First block of each block column; the diagonal block comes first.
    columns: Vec<usize>,
    /// Block row of each block.
    rows: Vec<usize>,
    values: Vec<Matrix3<f64>>,
}

impl Blocks {
    /// The matrix that has a block wherever two vertices of a group meet.
    pub fn new<'a>(vertices: usize, groups: impl Iterator<Item = &'a [usize]>) -> Self {
        let mut below: Vec<Vec<usize>> = vec![Vec::new(); vertices];
        for group in groups {
            for &i in group {
                below[i].extend(group.iter().filter(|&&j| j > i));
            }
        }
        let mut columns = Vec::with_capacity(vertices + 1);
        let mut rows = Vec::new();
        for (column, mut found) in below.into_iter().enumerate() {
            found.sort_unstable();
            found.dedup();
            columns.push(rows.len());
            rows.push(column);
            rows.extend(found);
        }
        columns.push(rows.len());
        let values = vec![Matrix3::zeros(); rows.len()];
        Self { columns, rows, values }
    }

    /// Where the block of two vertices lies.
    pub fn slot(&self, row: usize, column: usize) -> Slot {
        let (low, high) = (row.min(column), row.max(column));
        let within = &self.rows[self.columns[low]..self.columns[low + 1]];
        let at = within.binary_search(&high).unwrap_or(0);
        Slot { block: self.columns[low] + at, turned: row < column }
    }

    /// The slots of all pairs of a group, lower half: (0,0), (1,0), (1,1), …
    pub fn slots(&self, group: &[usize]) -> Vec<Slot> {
        let pairs = (0..group.len()).flat_map(|a| (0..=a).map(move |b| (a, b)));
        pairs.map(|(a, b)| self.slot(group[a], group[b])).collect()
    }

    /// Forgets all numbers.
    pub fn clear(&mut self) {
        self.values.fill(Matrix3::zeros());
    }

    /// Adds a block.
    pub fn add(&mut self, slot: Slot, block: &Matrix3<f64>) {
        if slot.turned {
            self.values[slot.block] += block.transpose();
        } else {
            self.values[slot.block] += block;
        }
    }

    /// Adds a multiple of the unit block.
    pub fn add_unit(&mut self, slot: Slot, value: f64) {
        let block = &mut self.values[slot.block];
        block[(0, 0)] += value;
        block[(1, 1)] += value;
        block[(2, 2)] += value;
    }

    /// Adds to the diagonal block of a vertex.
    pub fn add_diagonal(&mut self, vertex: usize, block: &Matrix3<f64>) {
        self.values[self.columns[vertex]] += block;
    }

    /// Adds to one entry of the diagonal.
    pub fn stiffen(&mut self, vertex: usize, axis: usize, value: f64) {
        self.values[self.columns[vertex]][(axis, axis)] += value;
    }

    /// The matrix times a vector.
    pub fn times(&self, x: &[Place]) -> Vec<Place> {
        let mut y = vec![Place::zeros(); x.len()];
        for column in 0..x.len() {
            for at in self.columns[column]..self.columns[column + 1] {
                let row = self.rows[at];
                y[row] += self.values[at] * x[column];
                if row != column {
                    y[column] += self.values[at].transpose() * x[row];
                }
            }
        }
        y
    }
}

/// The factor of [`Blocks`]: the order of elimination is found once.
pub struct Factor {
    places: SymbolicSparseColMat<usize>,
    symbolic: SymbolicCholesky<usize>,
    values: Vec<f64>,
    factor: Vec<f64>,
    room: MemBuffer,
}

/// The system could not be taken on or solved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotPositive;

impl Factor {
    /// Finds where numbers will stand when vertices are eliminated in `order`
    /// (see [`crate::dissect`]).
    ///
    /// # Errors
    /// [`NotPositive`] when memory does not reach.
    pub fn new(blocks: &Blocks, order: &[usize]) -> Result<Self, NotPositive> {
        let vertices = blocks.columns.len() - 1;
        let size = 3 * vertices;
        let mut columns = vec![0];
        let mut rows = Vec::with_capacity(9 * blocks.rows.len());
        for column in 0..vertices {
            let below = &blocks.rows[blocks.columns[column] + 1..blocks.columns[column + 1]];
            for axis in 0..3 {
                rows.extend((axis..3).map(|a| 3 * column + a));
                rows.extend(below.iter().flat_map(|&r| (0..3).map(move |a| 3 * r + a)));
                columns.push(rows.len());
            }
        }
        let count = rows.len();
        let places = SymbolicSparseColMat::new_checked(size, size, columns, None, rows);
        let forward: Vec<usize> =
            order.iter().flat_map(|&v| [3 * v, 3 * v + 1, 3 * v + 2]).collect();
        let mut inverse = vec![0; size];
        forward.iter().enumerate().for_each(|(new, &old)| inverse[old] = new);
        let symbolic = factorize_symbolic_cholesky(
            places.as_ref(),
            Side::Lower,
            SymmetricOrdering::Custom(PermRef::new_checked(&forward, &inverse, size)),
            CholeskySymbolicParams::default(),
        )
        .map_err(|_| NotPositive)?;
        let scratch = symbolic
            .factorize_numeric_llt_scratch::<f64>(Par::Seq, Default::default())
            .or(symbolic.solve_in_place_scratch::<f64>(1, Par::Seq));
        Ok(Self {
            factor: vec![0.0; symbolic.len_val()],
            room: MemBuffer::new(scratch),
            values: vec![0.0; count],
            places,
            symbolic,
        })
    }

    /// How many numbers the factor has.
    pub fn entries(&self) -> usize {
        self.factor.len()
    }

    /// Solves `blocks · x = right`.
    ///
    /// # Errors
    /// [`NotPositive`] when a pivot is not above nought.
    pub fn solve(&mut self, blocks: &Blocks, right: &[Place]) -> Result<Vec<Place>, NotPositive> {
        self.lay_in(blocks);
        let matrix = SparseColMatRef::new(self.places.as_ref(), &self.values);
        let stack = MemStack::new(&mut self.room);
        // One thread: sums are made in one order, so results repeat to the last bit.
        let factor = self
            .symbolic
            .factorize_numeric_llt(
                &mut self.factor,
                matrix,
                Side::Lower,
                LltRegularization::default(),
                Par::Seq,
                stack,
                Default::default(),
            )
            .map_err(|_| NotPositive)?;
        let mut x: Vec<f64> = right.iter().flat_map(|v| [v.x, v.y, v.z]).collect();
        let size = x.len();
        factor.solve_in_place_with_conj(
            Conj::No,
            MatMut::from_column_major_slice_mut(&mut x, size, 1),
            Par::Seq,
            stack,
        );
        if x.iter().any(|v| !v.is_finite()) {
            return Err(NotPositive);
        }
        Ok(x.chunks_exact(3).map(|c| Place::new(c[0], c[1], c[2])).collect())
    }

    fn lay_in(&mut self, blocks: &Blocks) {
        let mut at = 0;
        for column in 0..blocks.columns.len() - 1 {
            let own = &blocks.values[blocks.columns[column]..blocks.columns[column + 1]];
            for axis in 0..3 {
                for a in axis..3 {
                    self.values[at] = own[0][(a, axis)];
                    at += 1;
                }
                for block in &own[1..] {
                    self.values[at..at + 3].copy_from_slice(block.column(axis).as_slice());
                    at += 3;
                }
            }
        }
    }
}
