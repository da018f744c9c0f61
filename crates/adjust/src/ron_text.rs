//! Values as RON text and back, for tests: each type is compiled for one reader and one
//! writer alone (the library has several of its own).

use serde::de::{DeserializeOwned, Error as _};

/// What a text holds.
pub fn read<T: DeserializeOwned>(text: &str) -> Result<T, ron::Error> {
    let mut reader = ron::Deserializer::from_str(text).map_err(|e| e.code)?;
    let held = {
        let mut reader = <dyn erased_serde::Deserializer<'_>>::erase(&mut reader);
        erased_serde::deserialize(&mut reader).map_err(ron::Error::custom)?
    };
    reader.end().map(|()| held)
}

/// A value as one line.
pub fn written(value: &dyn erased_serde::Serialize) -> Result<String, ron::Error> {
    ron::to_string(value)
}
