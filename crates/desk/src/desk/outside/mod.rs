//! When somebody else writes the file of the project that lies on the desk: it is
//! noticed, told, and nothing of either is lost.

pub(super) mod answers;
pub(super) mod found;
pub(super) mod notice;
