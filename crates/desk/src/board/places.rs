//! Where files lie that a person names: folders that are proposed, names made from
//! words, and the whole of a place that was typed in part.

use super::settings::Settings;
use std::path::{Path, PathBuf};

/// The folder projects are put in: that of the project used last, else the folder for
/// documents, else the person's own. None when the system names none.
pub(crate) fn folder(settings: &Settings) -> Option<PathBuf> {
    let lately = settings.recent.iter().filter_map(|f| f.parent()).find(|f| f.is_dir());
    let documents = |home: PathBuf| {
        let documents = home.join("Documents");
        if documents.is_dir() { documents } else { home }
    };
    lately.map(Path::to_owned).or_else(|| home().map(documents))
}

fn home() -> Option<PathBuf> {
    std::env::var_os("HOME").or_else(|| std::env::var_os("USERPROFILE")).map(PathBuf::from)
}

/// Words as the name of a file: letters, digits, and what joins them; words without any
/// are those of a pair of trousers.
pub(crate) fn file_name(words: &str) -> String {
    let kept: String = words
        .chars()
        .map(|c| if c.is_alphanumeric() || "-_ ".contains(c) { c } else { ' ' })
        .collect();
    let words: Vec<&str> = kept.split_whitespace().collect();
    if words.is_empty() { "trousers".into() } else { words.join(" ") }
}

/// The whole of a place that was typed: what begins with no folder lies beside the
/// project, else where projects are put, and `~` is the person's own folder. A desk is
/// begun from a menu, so the folder it was begun in means nothing to anybody.
pub(crate) fn whole(typed: &Path, project: Option<&Path>, settings: &Settings) -> PathBuf {
    let typed = match (typed.strip_prefix("~"), home()) {
        (Ok(rest), Some(home)) => home.join(rest),
        _ => typed.to_owned(),
    };
    if typed.is_absolute() {
        return typed;
    }
    let beside = project.and_then(Path::parent).map(Path::to_owned);
    beside.or_else(|| folder(settings)).map_or_else(|| typed.clone(), |folder| folder.join(&typed))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_typed_in_part_lies_beside_the_project_else_where_projects_are_put() {
        let folder = std::env::temp_dir();
        let settings = Settings { recent: vec![folder.join("other.ron")], ..Settings::default() };
        let of = |typed: &str, project: Option<&str>| {
            whole(Path::new(typed), project.map(Path::new), &settings)
        };
        assert_eq!(of("a.pdf", Some("/p/q.ron")), Path::new("/p/a.pdf"));
        assert_eq!(of("b/a.pdf", None), folder.join("b/a.pdf"));
        assert_eq!(of("/x/a.pdf", Some("/p/q.ron")), Path::new("/x/a.pdf"));
        if let Some(home) = home() {
            assert_eq!(of("~/a.pdf", Some("/p/q.ron")), home.join("a.pdf"));
        }
    }
}
