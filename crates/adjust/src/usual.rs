//! What is as usual is not written into a project file.

/// Whether a value is the usual one.
pub(crate) fn is_usual<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}
