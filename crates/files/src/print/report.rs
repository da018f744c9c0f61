//! A short report on paper.
