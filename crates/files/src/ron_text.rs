//! Values as RON text and back, each type compiled for one reader and one writer alone.
//!
//! The library of RON reads through several types of its own, and each of them would
//! compile all that a project consists of once more. Between the two stands a reader
//! without a type.

use ron::de::Deserializer;
use ron::error::{Error, SpannedError};
use ron::ser::PrettyConfig;
use serde::de::DeserializeOwned;

/// Reads what a RON text holds, and nothing behind it.
///
/// # Errors
/// [`SpannedError`] with the place of the fault; [`crate::ron_words::in_words`] says it.
pub fn read<T: DeserializeOwned>(text: &str) -> Result<T, SpannedError> {
    let mut reader = Deserializer::from_str(text)?;
    let read = untyped(&mut reader);
    to_its_end(&mut reader, read)
}

/// Reads as [`read`], and names to `note` each field that is not known.
///
/// # Errors
/// [`SpannedError`] with the place of the fault.
pub fn read_noting<T: DeserializeOwned>(
    text: &str,
    note: &mut dyn FnMut(serde_ignored::Path<'_>),
) -> Result<T, SpannedError> {
    let mut reader = Deserializer::from_str(text)?;
    let read = {
        let mut note = note;
        untyped(serde_ignored::Deserializer::new(&mut reader, &mut note))
    };
    to_its_end(&mut reader, read)
}

/// What was read, if nothing stands behind it; the place of the fault otherwise.
fn to_its_end<T>(reader: &mut Deserializer<'_>, read: Result<T, Error>) -> Result<T, SpannedError> {
    read.and_then(|held| reader.end().map(|()| held)).map_err(|e| reader.span_error(e))
}

fn untyped<'de, T: DeserializeOwned>(reader: impl serde::Deserializer<'de>) -> Result<T, Error> {
    let mut reader = <dyn erased_serde::Deserializer<'_>>::erase(reader);
    erased_serde::deserialize(&mut reader).map_err(serde::de::Error::custom)
}

/// A value as one line of RON.
///
/// # Errors
/// The library's error when the value cannot be written so.
pub fn written(value: &dyn erased_serde::Serialize) -> Result<String, Error> {
    ron::to_string(value)
}

/// A value as RON over many lines.
///
/// # Errors
/// The library's error when the value cannot be written so.
pub fn written_in_lines(
    value: &dyn erased_serde::Serialize,
    pretty: PrettyConfig,
) -> Result<String, Error> {
    ron::ser::to_string_pretty(value, pretty)
}
