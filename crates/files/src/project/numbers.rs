//! Words and numbers of a project's text that stand for no number a pattern can have:
//! RON allows `NaN` and `inf` (also with a suffix, as `NaNf64`), and a number too large
//! for 64 bits is read as infinite.

/// The first such word outside strings and comments, with its line counted from 1.
pub(super) fn no_number(text: &str) -> Option<(usize, String)> {
    let mut rest = text;
    while let Some((word, after)) = next_word(rest) {
        if is_no_number(word) {
            let before = text.len() - after.len() - word.len();
            let line = text.get(..before).map_or(0, |t| t.matches('\n').count()) + 1;
            return Some((line, word.to_owned()));
        }
        rest = after;
    }
    None
}

/// The next run of letters, digits and what numbers are written with, and what follows it.
fn next_word(mut rest: &str) -> Option<(&str, &str)> {
    loop {
        rest = rest.trim_start_matches(|c: char| !of_word(c) && !matches!(c, '"' | '/' | '\''));
        if let Some(raw) = raw_string(rest) {
            rest = raw;
        } else if let Some(string) = rest.strip_prefix('"') {
            rest = after_quote(string);
        } else if let Some(letter) = rest.strip_prefix('\'') {
            rest = after_letter(letter);
        } else if let Some(comment) = rest.strip_prefix("//") {
            rest = comment.split_once('\n').map_or("", |(_, after)| after);
        } else if let Some(comment) = rest.strip_prefix("/*") {
            rest = after_comment(comment);
        } else if let Some(slash) = rest.strip_prefix('/') {
            rest = slash;
        } else {
            let end = rest.find(|c| !of_word(c)).unwrap_or(rest.len());
            return (end > 0).then(|| rest.split_at(end));
        }
    }
}

fn of_word(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '_' | '.' | '+' | '-')
}

/// What follows a string, its opening quotation mark read already.
fn after_quote(string: &str) -> &str {
    let mut escaped = false;
    for (at, c) in string.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return string.get(at + 1..).unwrap_or_default(),
            _ => {}
        }
    }
    ""
}

/// What follows a letter in single marks, its first mark read already.
fn after_letter(letter: &str) -> &str {
    let body = letter.strip_prefix('\\').unwrap_or(letter);
    let mut chars = body.chars();
    chars.next();
    let rest = chars.as_str();
    // A long escape ends at the next mark; what is no letter at all is read on.
    if letter.starts_with('\\') {
        rest.split_once('\'').map_or(rest, |(_, after)| after)
    } else {
        rest.strip_prefix('\'').unwrap_or(letter)
    }
}

/// What follows a string like `r#"…"#`, if one begins here.
fn raw_string(text: &str) -> Option<&str> {
    let marks = text.strip_prefix("br").or_else(|| text.strip_prefix('r'))?;
    let body = marks.trim_start_matches('#');
    let string = body.strip_prefix('"')?;
    let end = format!("\"{}", "#".repeat(marks.len() - body.len()));
    Some(string.split_once(&end).map_or("", |(_, after)| after))
}

/// What follows a comment that may hold others, its beginning read already.
fn after_comment(mut rest: &str) -> &str {
    let mut depth = 1;
    while depth > 0 {
        let Some(at) = rest.find("*/") else { return "" };
        match rest.find("/*").filter(|open| *open < at) {
            Some(open) => {
                depth += 1;
                rest = rest.get(open + 2..).unwrap_or_default();
            }
            None => {
                depth -= 1;
                rest = rest.get(at + 2..).unwrap_or_default();
            }
        }
    }
    rest
}

fn is_no_number(word: &str) -> bool {
    let small = word.strip_suffix("f32");
    let plain = small.or_else(|| word.strip_suffix("f64")).unwrap_or(word);
    let plain = plain.trim_start_matches(['+', '-']);
    if matches!(plain, "NaN" | "inf") {
        return true;
    }
    if !plain.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        return false;
    }
    let digits = plain.replace('_', "");
    match small {
        Some(_) => digits.parse::<f32>().is_ok_and(f32::is_infinite),
        None => digits.parse::<f64>().is_ok_and(f64::is_infinite),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_for_no_number_is_found_in_every_spelling() {
        for word in [
            "NaN", "inf", "-inf", "+inf", "NaNf64", "inff32", "-NaNf32", "1e999", "1E+400",
            "-2_0e999", "1e39f32", "1e999f64",
        ] {
            for text in [
                format!("(a: 1.0,\n b: {word},\n)"),
                format!("[1, // it's \"one\n{word}]"),
                format!("(r#\"NaN\"# /* \" /* 1 */ inf */,\n{word})"),
                format!("('\"', '\\'',\n{word})"),
            ] {
                assert_eq!(no_number(&text), Some((2, word.to_owned())), "{text}");
            }
        }
    }

    #[test]
    fn words_in_strings_and_comments_are_free() {
        for text in [
            "(a: \"NaN\", b: \"say \\\"NaN\\\" twice\", c: 1.0)",
            "(a: \"http://inf\", b: 3) // NaN\n/* inf */",
            "(a: r\"\\\", b: r##\"inf \"# NaN\"##, c: information)",
            "(a: 1e308, b: -1.7e+308, c: 0xff, d: 3.0e38f32, e: inf_a, f: NaNs)",
            "'N' / \"",
            "",
        ] {
            assert_eq!(no_number(text), None, "{text}");
        }
    }
}
