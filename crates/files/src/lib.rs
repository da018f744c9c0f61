//! Files in and out.

pub mod batch;
