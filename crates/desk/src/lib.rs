//! The window: a cutting table that shows what a document computes.
