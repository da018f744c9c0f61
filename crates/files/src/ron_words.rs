//! What is wrong with a RON text, in words for the person who edited it.

use ron::error::Error;

/// The fault in words; the place is given beside it by the caller.
pub fn in_words(fault: &Error) -> String {
    match fault {
        Error::Eof
        | Error::ExpectedStringEnd
        | Error::UnclosedBlockComment
        | Error::UnclosedLineComment => "the text breaks off".into(),
        Error::NoSuchStructField { found, expected, .. }
        | Error::NoSuchEnumVariant { found, expected, .. } => unknown(found, expected),
        Error::MissingStructField { field, .. } => missing(field),
        Error::DuplicateStructField { field, .. } => twice(field),
        Error::ExpectedComma => "a comma is missing before this".into(),
        Error::ExpectedString => "a text in quotation marks was expected".into(),
        Error::ExpectedFloat | Error::ExpectedInteger | Error::InvalidIntegerDigit { .. } => {
            "a number was expected".into()
        }
        Error::ExpectedBoolean => "true or false was expected".into(),
        Error::IntegerOutOfBounds => "the number is too large".into(),
        Error::TrailingCharacters => "something stands behind the end".into(),
        Error::ExceededRecursionLimit => "it is nested too deep".into(),
        Error::Message(words) => passed_on(words),
        Error::InvalidValueForType { expected, .. } => format!("{expected} was expected"),
        Error::ExpectedStructLike
        | Error::ExpectedNamedStructLike(_)
        | Error::ExpectedDifferentStructName { .. } => "“(” was expected".into(),
        Error::ExpectedStructLikeEnd => "“)” was expected".into(),
        Error::ExpectedMap => "“{” was expected".into(),
        Error::ExpectedMapEnd => "“}” was expected".into(),
        Error::ExpectedMapColon => "“:” was expected".into(),
        Error::ExpectedArray => "“[” was expected".into(),
        Error::ExpectedArrayEnd => "“]” was expected".into(),
        _ => OTHERWISE.into(),
    }
}

/// Faults that the library says in the same words always.
const PLAIN: [Error; 22] = [
    Error::Eof,
    Error::ExpectedArray,
    Error::ExpectedArrayEnd,
    Error::ExpectedBoolean,
    Error::ExpectedComma,
    Error::ExpectedFloat,
    Error::ExpectedIdentifier,
    Error::ExpectedInteger,
    Error::ExpectedMap,
    Error::ExpectedMapColon,
    Error::ExpectedMapEnd,
    Error::ExpectedOption,
    Error::ExpectedString,
    Error::ExpectedStringEnd,
    Error::ExpectedStructLike,
    Error::ExpectedStructLikeEnd,
    Error::ExpectedUnit,
    Error::ExceededRecursionLimit,
    Error::FloatUnderscore,
    Error::IntegerOutOfBounds,
    Error::TrailingCharacters,
    Error::UnclosedBlockComment,
];

/// What the library says before the word that a fault is about.
const UNKNOWN: [&str; 3] =
    ["Unexpected field named `", "Unexpected variant named `", "Unexpected enum variant named `"];
const MISSING: &str = "Unexpected missing field named `";
const TWICE: &str = "Unexpected duplicate field named `";
const BRACKET: [&str; 3] =
    ["Expected opening `(` for struct", "Expected only opening `(`", "Expected struct "];

/// A fault that comes out of the inner of a value, where it was made words of by the
/// library (see [`crate::ron_text`]), in ours. Words of our own types stay as they are.
fn passed_on(words: &str) -> String {
    if let Some(plain) = PLAIN.iter().find(|fault| fault.to_string() == words) {
        return in_words(plain);
    }
    let quoted = |rest: &str| rest.split('`').next().unwrap_or_default().to_owned();
    if let Some(rest) = UNKNOWN.iter().find_map(|start| words.strip_prefix(start)) {
        let known = rest.split_once(", expected ").map_or("", |(_, known)| known);
        let known: Vec<&str> = known.split('`').skip(1).step_by(2).collect();
        return unknown(&quoted(rest), &known);
    }
    if let Some(rest) = words.strip_prefix(MISSING) {
        return missing(&quoted(rest));
    }
    if let Some(rest) = words.strip_prefix(TWICE) {
        return twice(&quoted(rest));
    }
    if BRACKET.iter().any(|start| words.starts_with(start)) {
        return in_words(&Error::ExpectedStructLike);
    }
    if words.starts_with("Invalid digit ") {
        return in_words(&Error::ExpectedInteger);
    }
    match words.strip_prefix("Expected ").and_then(|rest| rest.split_once(" but found ")) {
        Some((expected, _)) => format!("{expected} was expected"),
        None if words.starts_with("Unexpected ") || words.starts_with("Expected ") => {
            OTHERWISE.into()
        }
        None => words.to_owned(),
    }
}

const OTHERWISE: &str = "this is not written as such a file is";

fn unknown(found: &str, known: &[&str]) -> String {
    format!("“{found}” is not known here; known are: {}", known.join(", "))
}

fn missing(field: &str) -> String {
    format!("“{field}” is missing")
}

fn twice(field: &str) -> String {
    format!("“{field}” stands there twice")
}

#[cfg(test)]
mod tests {
    use super::in_words;
    use crate::batch::ColumnMap;
    use crate::ron_text;

    #[test]
    fn a_misspelt_word_is_named_with_the_known_ones() {
        let text = "(unit: Ell, measures: {})";
        let fault = ron_text::read::<ColumnMap>(text).unwrap_err();
        let words = in_words(&fault.code);
        assert!(words.contains("Ell") && words.contains("Mm"), "{words}");
    }

    /// What is wrong deep in a value is told as what is wrong at its top.
    #[test]
    fn a_misspelt_word_within_is_named_too() {
        let said = |measures: &str| {
            let text = format!("(name: [\"a\"], unit: Mm, measures: {{{measures}}})");
            in_words(&ron_text::read::<ColumnMap>(&text).unwrap_err().code)
        };
        let words = said("waist_girth: Colum(\"b\")");
        assert!(
            words.starts_with("“Colum” is not known here; known are: ")
                && words.contains("Column, "),
            "{words}"
        );
        assert_eq!(said("waist_girth: Column(3)"), "a text in quotation marks was expected");
        assert_eq!(said("waist_girth Column(\"b\")"), "“:” was expected");
        let fault = ron_text::read::<ColumnMap>("Dear maker").unwrap_err();
        assert_eq!(in_words(&fault.code), "“(” was expected");
    }

    #[test]
    fn no_fault_shows_the_program_inside() {
        let whole = "(name: [\"a\"], unit: Mm, measures: {waist_girth: Column(\"b\")})";
        ron_text::read::<ColumnMap>(whole).unwrap();
        for cut in 0..whole.len() {
            let fault = ron_text::read::<ColumnMap>(&whole[..cut]).unwrap_err();
            let words = in_words(&fault.code);
            let foreign = ["struct", "ColumnMap", "enum", "EOF"];
            assert!(!foreign.iter().any(|f| words.contains(f)), "{cut}: {words}");
        }
    }
}
