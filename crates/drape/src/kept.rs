//! Settled toiles kept by their content: pieces and how they are joined, body, cloth,
//! meshes and starts. A second look at the same costs nothing, and neither does a
//! line that is marked or moved, for lines are not sewn.

use crate::body::Handles;
use crate::predict::{Options, PredictError, Settled, settle_all};
use crate::settle::Watch;
use hangtrue_pattern::{Measures, Pattern};
use sha2::{Digest, Sha256};
use std::collections::VecDeque;
use std::sync::Arc;

/// So many toiles are kept: about 2 MB each with four rests of a 15 mm mesh.
const ROOM: usize = 16;

/// Settled toiles, the latest asked for last.
#[derive(Debug, Default)]
pub struct Kept {
    toiles: VecDeque<([u8; 32], Arc<Settled>)>,
}

impl Kept {
    /// The toile, settled now unless it is kept.
    ///
    /// # Errors
    /// [`PredictError`].
    pub fn settle(
        &mut self,
        pattern: &Pattern,
        measures: &Measures,
        handles: &Handles,
        options: &Options,
        watch: &mut Watch,
    ) -> Result<Arc<Settled>, PredictError> {
        let key = key(pattern, measures, handles, options)?;
        let at = self.toiles.iter().position(|(k, _)| *k == key);
        let found = match at.and_then(|at| self.toiles.remove(at)) {
            Some((_, kept)) => kept,
            None => Arc::new(settle_all(pattern, measures, handles, options, watch)?),
        };
        self.toiles.push_back((key, Arc::clone(&found)));
        if self.toiles.len() > ROOM {
            self.toiles.pop_front();
        }
        Ok(found)
    }
}

/// The digest of all that a settling depends on (SHA-256 over JSON, which gives every
/// number back to the last bit).
fn key(
    pattern: &Pattern,
    measures: &Measures,
    handles: &Handles,
    options: &Options,
) -> Result<[u8; 32], PredictError> {
    let content = (&pattern.pieces, &pattern.joins, measures, handles, options);
    let text = serde_json::to_vec(&content).map_err(|_| PredictError::NoContent)?;
    Ok(Sha256::digest(&text).into())
}
