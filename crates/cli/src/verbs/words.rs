//! The words list, the same the window shows.

use crate::args::JsonArg;
use crate::failure::Failure;
use crate::output;
use clap::Args;
use hangtrue_adjust::glossary::{Term, look_up};

#[derive(Debug, Args)]
pub struct WordsArgs {
    /// The word; without it, the whole list.
    pub word: Option<String>,
    #[command(flatten)]
    pub json: JsonArg,
}

pub fn run(args: &WordsArgs) -> Result<(), Failure> {
    let wanted = args.word.as_deref().unwrap_or_default();
    let found = look_up(wanted);
    if found.is_empty() {
        let why = format!("“{wanted}” is not in the words list; `hangtrue words` shows all of it");
        return Err(Failure::Asked(why));
    }
    if args.json.json {
        let row = |t: &&Term| serde_json::json!({"word": t.word, "means": t.means});
        return output::json(&found.iter().map(row).collect::<Vec<_>>());
    }
    found.iter().try_for_each(|t| output::line(&format!("{}\n    {}", t.word, t.means)))
}
