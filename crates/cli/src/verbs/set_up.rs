//! Putting what belongs to an installed program where the system looks for it: icon,
//! menu entry and file type (freedesktop.org: Desktop Entry, Icon Theme and
//! shared-mime-info specifications), completions of the shells, pages of the manual,
//! and the licence texts.

use crate::args::Command;
use crate::failure::Failure;
use crate::output;
use clap::Args;
use clap::CommandFactory;
use clap_complete::Shell;
use hangtrue_files::save::{Over, write_output};
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct SetUpArgs {
    /// The folder of shared files (default: $XDG_DATA_HOME, else ~/.local/share).
    #[arg(long, value_name = "FOLDER")]
    pub share: Option<PathBuf>,
}

const ICON: &[u8] = include_bytes!("../../../../assets/desktop/hangtrue.svg");
const ENTRY: &[u8] = include_bytes!("../../../../assets/desktop/hangtrue.desktop");
const FILE_TYPE: &[u8] = include_bytes!("../../../../assets/desktop/hangtrue.xml");

/// Every licence: what it is of, its file, and its text.
const LICENCES: [(&str, &str, &str); 4] = [
    ("Hangtrue, at your choice: MIT", "LICENSE-MIT", include_str!("../../../../LICENSE-MIT")),
    ("or Apache 2.0", "LICENSE-APACHE", include_str!("../../../../LICENSE-APACHE")),
    ("The font Lato", "OFL-Lato.txt", include_str!("../../../../assets/fonts/OFL-Lato.txt")),
    (
        "The font Vollkorn",
        "OFL-Vollkorn.txt",
        include_str!("../../../../assets/fonts/OFL-Vollkorn.txt"),
    ),
];

/// Shows the licence texts.
pub fn licences() -> Result<(), Failure> {
    for (of, _, text) in LICENCES {
        output::line(&format!("== {of}\n\n{}\n", text.trim_end()))?;
    }
    Ok(())
}

/// Puts everything into the folder of shared files.
pub fn run(args: &SetUpArgs) -> Result<(), Failure> {
    let share = match &args.share {
        Some(folder) => folder.clone(),
        None => own_share().ok_or_else(|| {
            Failure::Asked("the system names no home folder; say where with --share FOLDER".into())
        })?,
    };
    // A menu knows nothing of the shell's way to programs: there it is named in full. In
    // a folder that was named the files are for whoever packs them.
    let program = if args.share.is_none() { own_program() } else { None };
    for (place, mut bytes) in files()? {
        if let Some(program) = program.as_ref().filter(|_| bytes == ENTRY) {
            bytes = entry_of(program).into_bytes();
        }
        let place = share.join(place);
        if let Some(folder) = place.parent() {
            std::fs::create_dir_all(folder)
                .map_err(|source| Failure::NoFolder { path: folder.to_owned(), source })?;
        }
        // They are ours alone and the same each time: an older one is written over.
        write_output(&place, &bytes, Over::Replace)?;
        output::line(&place.display().to_string())?;
    }
    output::line("A desktop that does not show them by itself is told so:")?;
    for (program, folder) in
        [("update-mime-database", "mime"), ("update-desktop-database", "applications")]
    {
        output::line(&format!("  {program} {}", share.join(folder).display()))?;
    }
    Ok(())
}

/// The folder of a person's shared files (XDG Base Directory Specification).
fn own_share() -> Option<PathBuf> {
    let named = |name: &str| std::env::var_os(name).filter(|v| !v.is_empty()).map(PathBuf::from);
    named("XDG_DATA_HOME").or_else(|| Some(named("HOME")?.join(".local").join("share")))
}

/// This program, as the entry of a menu names it; none when its place cannot be told, or
/// cannot be written in such an entry.
fn own_program() -> Option<String> {
    let place = std::env::current_exe().ok()?.into_os_string().into_string().ok()?;
    let odd = |c: char| c.is_control() || matches!(c, '"' | '`' | '$' | '\\' | '%');
    (!place.contains(odd)).then_some(place)
}

/// The entry with the program's own place (Desktop Entry Specification, “The Exec key”:
/// an argument with a space is quoted).
fn entry_of(program: &str) -> String {
    let entry = String::from_utf8_lossy(ENTRY);
    entry.replace("Exec=hangtrue %f", &format!("Exec=\"{program}\" %f"))
}

/// Every file and its place in the folder of shared files.
fn files() -> Result<Vec<(PathBuf, Vec<u8>)>, Failure> {
    let mut files: Vec<(PathBuf, Vec<u8>)> = [
        ("icons/hicolor/scalable/apps/hangtrue.svg", ICON),
        ("applications/hangtrue.desktop", ENTRY),
        ("mime/packages/hangtrue.xml", FILE_TYPE),
    ]
    .map(|(place, bytes)| (place.into(), bytes.to_vec()))
    .into();
    for (_, name, text) in LICENCES {
        files.push((Path::new("doc/hangtrue").join(name), text.into()));
    }
    for (shell, place) in [
        (Shell::Bash, "bash-completion/completions/hangtrue"),
        (Shell::Zsh, "zsh/site-functions/_hangtrue"),
        (Shell::Fish, "fish/vendor_completions.d/hangtrue.fish"),
    ] {
        let mut text = Vec::new();
        clap_complete::generate(shell, &mut Command::command(), "hangtrue", &mut text);
        files.push((place.into(), text));
    }
    let mut command = Command::command();
    command.build();
    files.push(page(&command, "hangtrue")?);
    for verb in command.get_subcommands().filter(|v| v.get_name() != "help") {
        files.push(page(verb, &format!("hangtrue-{}", verb.get_name()))?);
    }
    Ok(files)
}

/// A page of the manual, made from the arguments.
fn page(command: &clap::Command, name: &str) -> Result<(PathBuf, Vec<u8>), Failure> {
    let mut text = Vec::new();
    clap_mangen::Man::new(command.clone()).title(name).render(&mut text)?;
    Ok((Path::new("man/man1").join(format!("{name}.1")), text))
}
