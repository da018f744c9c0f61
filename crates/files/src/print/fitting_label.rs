//! What stands on every piece and sheet that is printed for the maker's own table:
//! whose it is, for which fitting, and when it was printed.

use hangtrue_adjust::{AllowanceSet, Document, OPEN_ROUND};

/// The lines of the label for a version: the client's name or code, if there is one;
/// the fitting, and the day.
pub fn fitting_label(document: &Document, version: &str, date: &str) -> Vec<String> {
    let client = Some(document.client.trim()).filter(|c| !c.is_empty()).map(str::to_owned);
    client.into_iter().chain([fitting_and_day(document, version, date)]).collect()
}

/// The same for files that are sent out, which carry the name or code only when that was
/// asked for.
pub fn sent_label(document: &Document, version: &str, date: &str, with_name: bool) -> Vec<String> {
    if with_name {
        return fitting_label(document, version, date);
    }
    vec![fitting_and_day(document, version, date)]
}

fn fitting_and_day(document: &Document, version: &str, date: &str) -> String {
    let fitting = match version {
        OPEN_ROUND if document.cutting.set == Some(AllowanceSet::Finished) => finished(document),
        OPEN_ROUND => document.fitting(),
        named => named.to_owned(),
    };
    format!("{fitting}, {date}")
}

/// What is cut with the allowances of finished trousers is no toile any more.
fn finished(document: &Document) -> String {
    match document.rounds().last() {
        Some((name, _)) => format!("finished pair after “{name}”"),
        None => "finished pair".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use hangtrue_adjust::{Change, CloseRound};

    #[test]
    fn pieces_of_two_fittings_never_carry_the_same_words() {
        let mut document = crate::demo::bare().unwrap();
        document.client = "A7".into();
        let first = fitting_label(&document, OPEN_ROUND, "2026-11-26");
        assert_eq!(first, ["A7", "toile 1, 2026-11-26"]);
        let close = CloseRound { date: "2026-11-27".into(), note: String::new() };
        document.push("toile 1", Change::CloseRound(close));
        assert_eq!(fitting_label(&document, OPEN_ROUND, "2026-11-26")[1], "toile 2, 2026-11-26");
        assert_eq!(fitting_label(&document, "toile 1", "2026-11-28")[1], "toile 1, 2026-11-28");
        assert_eq!(sent_label(&document, OPEN_ROUND, "d", false), ["toile 2, d"]);
        assert_eq!(sent_label(&document, OPEN_ROUND, "d", true), ["A7", "toile 2, d"]);
        document.cutting.set = Some(AllowanceSet::Finished);
        assert_eq!(
            fitting_label(&document, OPEN_ROUND, "d")[1],
            "finished pair after “toile 1”, d"
        );
        document.client = " ".into();
        assert_eq!(fitting_label(&document, OPEN_ROUND, "d").len(), 1);
    }
}
