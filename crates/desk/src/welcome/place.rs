//! Where a new project is to be saved: proposed from the client's name beside the
//! project used last, until the maker says another place.

use crate::board::places::{file_name, folder};
use crate::board::settings::Settings;
use std::path::PathBuf;

/// The place as it stands in the field.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct FilePlace {
    /// What the maker said; none while it is proposed.
    said: Option<String>,
}

impl FilePlace {
    /// The maker chose a file.
    pub fn chosen(&mut self, file: PathBuf) {
        let file = if file.extension().is_none() { file.with_extension("ron") } else { file };
        self.said = Some(file.display().to_string());
    }

    /// What was typed into the field.
    pub fn typed(&mut self, text: String) {
        self.said = Some(text);
    }

    /// The words in the field.
    pub fn text(&self, settings: &Settings, client: &str) -> String {
        self.said.clone().unwrap_or_else(|| proposed(settings, client).display().to_string())
    }
}

/// The client's name as a file, beside the project used last, else in the folder for
/// documents, else in the home folder.
fn proposed(settings: &Settings, client: &str) -> PathBuf {
    let name = format!("{}.ron", file_name(client));
    folder(settings).map_or_else(|| PathBuf::from(&name), |folder| folder.join(&name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_proposed_until_one_is_said() {
        let folder = std::env::temp_dir();
        let settings = Settings { recent: vec![folder.join("other.ron")], ..Settings::default() };
        let mut place = FilePlace::default();
        assert_eq!(
            place.text(&settings, "  A/B: 7 "),
            folder.join("A B 7.ron").display().to_string()
        );
        assert!(place.text(&settings, "..").ends_with("trousers.ron"), "no place but a name");
        place.chosen(PathBuf::from("/x/y"));
        assert_eq!(place.text(&settings, "A"), "/x/y.ron");
    }
}
