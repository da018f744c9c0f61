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

/// The digest of all that a settling depends on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Content([u8; 32]);

impl Content {
    /// Of a pattern on a body (SHA-256 over JSON, which gives every number back to the
    /// last bit).
    ///
    /// # Errors
    /// [`PredictError::NoContent`].
    pub fn of(
        pattern: &Pattern,
        measures: &Measures,
        handles: &Handles,
        options: &Options,
    ) -> Result<Self, PredictError> {
        let content = (&pattern.pieces, &pattern.joins, measures, handles, options);
        let text = serde_json::to_vec(&content).map_err(|_| PredictError::NoContent)?;
        Ok(Self(Sha256::digest(&text).into()))
    }
}

/// Settled toiles, the latest asked for last.
#[derive(Debug, Default)]
pub struct Kept {
    toiles: VecDeque<(Content, Arc<Settled>)>,
    came: usize,
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
        let content = Content::of(pattern, measures, handles, options)?;
        if let Some(found) = self.find(content) {
            return Ok(found);
        }
        let found = Arc::new(settle_all(pattern, measures, handles, options, watch)?);
        self.keep(content, found.clone());
        Ok(found)
    }

    /// How many toiles were ever kept: it tells that another came.
    pub fn count(&self) -> usize {
        self.came
    }

    /// The toile of that content, if it is kept.
    pub fn find(&mut self, content: Content) -> Option<Arc<Settled>> {
        let at = self.toiles.iter().position(|(k, _)| *k == content)?;
        let kept = self.toiles.remove(at)?;
        let found = Arc::clone(&kept.1);
        self.toiles.push_back(kept);
        Some(found)
    }

    /// Keeps a toile that was settled from that content alone, elsewhere: one begun from
    /// an earlier rest depends on that too, and is not kept here.
    pub fn keep(&mut self, content: Content, toile: Arc<Settled>) {
        self.toiles.retain(|(k, _)| *k != content);
        self.toiles.push_back((content, toile));
        self.came += 1;
        if self.toiles.len() > ROOM {
            self.toiles.pop_front();
        }
    }
}
