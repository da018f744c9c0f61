//! Files in and out: what leaves the desk on paper and how it is saved.

pub mod print;
pub mod project;
pub mod save;
