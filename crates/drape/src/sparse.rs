//! The matrix of second derivatives, in blocks of three by three, and its
//! factor. Which blocks there are is found once; only their numbers change.

use crate::cloth::Position;
use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::llt::factor::LltRegularization;
use faer::sparse::linalg::amd;
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
    pub fn times(&self, x: &[Position]) -> Vec<Position> {
        let mut y = vec![Position::zeros(); x.len()];
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
    /// The vertex eliminated at each turn.
    order: Vec<usize>,
    places: SymbolicSparseColMat<usize>,
    symbolic: SymbolicCholesky<usize>,
    /// Where each number of each block stands among `values`, column by column.
    homes: Vec<[u32; 9]>,
    values: Vec<f64>,
    factor: Vec<f64>,
    room: MemBuffer,
}

/// The system could not be taken on or solved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotPositive;

/// A number of a diagonal block that is kept by its mirror image.
const NOWHERE: u32 = u32::MAX;

impl Factor {
    /// Finds an order of elimination and where numbers will stand.
    ///
    /// # Errors
    /// [`NotPositive`] when memory does not reach.
    pub fn new(blocks: &Blocks) -> Result<Self, NotPositive> {
        let order = order(blocks)?;
        let (places, homes) = lay_out(blocks, &order);
        // Without an order of its own `faer` looks for the upper half here, and for the
        // lower one when it factors.
        let symbolic = factorize_symbolic_cholesky(
            turned_over(&places).as_ref(),
            Side::Upper,
            SymmetricOrdering::Identity,
            CholeskySymbolicParams::default(),
        )
        .map_err(|_| NotPositive)?;
        let scratch = symbolic
            .factorize_numeric_llt_scratch::<f64>(Par::Seq, Default::default())
            .or(symbolic.solve_in_place_scratch::<f64>(1, Par::Seq));
        Ok(Self {
            factor: vec![0.0; symbolic.len_val()],
            room: MemBuffer::new(scratch),
            values: vec![0.0; places.row_idx().len()],
            order,
            places,
            homes,
            symbolic,
        })
    }

    /// Solves `blocks · x = right`.
    ///
    /// # Errors
    /// [`NotPositive`] when a pivot is not above nought.
    pub fn solve(
        &mut self,
        blocks: &Blocks,
        right: &[Position],
    ) -> Result<Vec<Position>, NotPositive> {
        for (block, homes) in blocks.values.iter().zip(&self.homes) {
            for (value, home) in block.iter().zip(homes) {
                if *home != NOWHERE {
                    self.values[*home as usize] = *value;
                }
            }
        }
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
        let mut x: Vec<f64> =
            self.order.iter().map(|&v| right[v]).flat_map(|r| [r.x, r.y, r.z]).collect();
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
        let mut found = vec![Position::zeros(); right.len()];
        for (&v, c) in self.order.iter().zip(x.chunks_exact(3)) {
            found[v] = Position::new(c[0], c[1], c[2]);
        }
        Ok(found)
    }
}

/// The order in which vertices are eliminated: approximate minimum degree (P. Amestoy,
/// T. Davis and I. Duff 1996, as in `faer`) over whole vertices.
fn order(blocks: &Blocks) -> Result<Vec<usize>, NotPositive> {
    let vertices = blocks.columns.len() - 1;
    // The rows of a block column, turned over, are the columns of a block row.
    let upper = SymbolicSparseColMat::new_checked(
        vertices,
        vertices,
        blocks.columns.clone(),
        None,
        blocks.rows.clone(),
    );
    let mut forward = vec![0; vertices];
    let mut inverse = vec![0; vertices];
    let scratch = amd::order_maybe_unsorted_scratch::<usize>(vertices, blocks.rows.len());
    amd::order_maybe_unsorted(
        &mut forward,
        &mut inverse,
        upper.as_ref(),
        amd::Control::default(),
        MemStack::new(&mut MemBuffer::new(scratch)),
    )
    .map_err(|_| NotPositive)?;
    Ok(forward)
}

/// The places of all numbers when vertices stand in `order`, lower half, and where
/// the numbers of each block go among them.
fn lay_out(blocks: &Blocks, order: &[usize]) -> (SymbolicSparseColMat<usize>, Vec<[u32; 9]>) {
    let vertices = order.len();
    let mut turn = vec![0; vertices];
    order.iter().enumerate().for_each(|(new, &old)| turn[old] = new);
    // For each new column its new rows, with the block and whether it is turned over.
    let mut below: Vec<Vec<(usize, usize, bool)>> = vec![Vec::new(); vertices];
    for column in 0..vertices {
        for block in blocks.columns[column]..blocks.columns[column + 1] {
            let (r, c) = (turn[blocks.rows[block]], turn[column]);
            below[r.min(c)].push((r.max(c), block, r < c));
        }
    }
    let mut columns = vec![0];
    let mut rows = Vec::with_capacity(9 * blocks.rows.len());
    let mut homes = vec![[NOWHERE; 9]; blocks.rows.len()];
    for (column, found) in below.iter_mut().enumerate() {
        found.sort_unstable();
        for axis in 0..3 {
            for &(row, block, turned) in found.iter() {
                for a in if row == column { axis..3 } else { 0..3 } {
                    let home = if turned { axis + 3 * a } else { a + 3 * axis };
                    homes[block][home] = rows.len() as u32;
                    rows.push(3 * row + a);
                }
            }
            columns.push(rows.len());
        }
    }
    let size = 3 * vertices;
    (SymbolicSparseColMat::new_checked(size, size, columns, None, rows), homes)
}

/// The mirror image of a pattern across its diagonal.
fn turned_over(places: &SymbolicSparseColMat<usize>) -> SymbolicSparseColMat<usize> {
    let size = places.ncols();
    let mut found = vec![Vec::new(); size];
    for column in 0..size {
        for row in places.row_idx_of_col(column) {
            found[row].push(column);
        }
    }
    let mut columns = vec![0];
    let mut rows = Vec::with_capacity(places.row_idx().len());
    for column in found {
        rows.extend(column);
        columns.push(rows.len());
    }
    SymbolicSparseColMat::new_checked(size, size, columns, None, rows)
}
