//! Small helpers for words on the desk.

/// The text with its first letter large.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |f| f.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_first_letter_is_made_large() {
        assert_eq!(super::capital("élan"), "Élan");
    }
}
