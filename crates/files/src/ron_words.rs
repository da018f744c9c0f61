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
        | Error::NoSuchEnumVariant { found, expected, .. } => {
            format!("“{found}” is not known here; known are: {}", expected.join(", "))
        }
        Error::MissingStructField { field, .. } => format!("“{field}” is missing"),
        Error::DuplicateStructField { field, .. } => format!("“{field}” stands there twice"),
        Error::ExpectedComma => "a comma is missing before this".into(),
        Error::ExpectedString => "a text in quotation marks was expected".into(),
        Error::ExpectedFloat | Error::ExpectedInteger | Error::InvalidIntegerDigit { .. } => {
            "a number was expected".into()
        }
        Error::ExpectedBoolean => "true or false was expected".into(),
        Error::IntegerOutOfBounds => "the number is too large".into(),
        Error::TrailingCharacters => "something stands behind the end".into(),
        Error::ExceededRecursionLimit => "it is nested too deep".into(),
        Error::Message(words) => words.clone(),
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
        _ => "this is not written as such a file is".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::in_words;
    use crate::batch::ColumnMap;

    #[test]
    fn a_misspelt_word_is_named_with_the_known_ones() {
        let text = "(unit: Ell, measures: {})";
        let fault = ron::from_str::<ColumnMap>(text).unwrap_err();
        let words = in_words(&fault.code);
        assert!(words.contains("Ell") && words.contains("Mm"), "{words}");
    }

    #[test]
    fn no_fault_shows_the_program_inside() {
        let whole = "(name: [\"a\"], unit: Mm, measures: {waist_girth: Column(\"b\")})";
        ron::from_str::<ColumnMap>(whole).unwrap();
        for cut in 0..whole.len() {
            let fault = ron::from_str::<ColumnMap>(&whole[..cut]).unwrap_err();
            let words = in_words(&fault.code);
            let foreign = ["struct", "ColumnMap", "enum", "EOF"];
            assert!(!foreign.iter().any(|f| words.contains(f)), "{cut}: {words}");
        }
    }
}
