//! What can stop a command.

use crate::output;
use hangtrue_adjust::reading::DroopError;
use hangtrue_adjust::{ChangeError, StartError};
use hangtrue_cut::CutError;
use hangtrue_drape::PredictError;
use hangtrue_files::album::AlbumError;
use hangtrue_files::batch::BatchError;
use hangtrue_files::class::ClassError;
use hangtrue_files::droops::DroopsError;
use hangtrue_files::exchange::ExchangeError;
use hangtrue_files::exports::SendError;
use hangtrue_files::journal::JournalError;
use hangtrue_files::photo::PhotoError;
use hangtrue_files::print::PrintError;
use hangtrue_files::project::ProjectError;
use hangtrue_files::read::ReadError;
use hangtrue_files::save::SaveError;
use hangtrue_files::words_of_io;
use hangtrue_files::worn::WornJobError;
use hangtrue_lay::LayError;
use hangtrue_pattern::PatternError;
use hangtrue_pattern::units::LengthError;
use std::path::PathBuf;

/// A command that could not be done; its message is for the maker.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    /// The project file.
    #[error(transparent)]
    Project(#[from] ProjectError),
    /// There is no project of that name.
    #[error(
        "“{name}” cannot be read: it is not there; check the name and the folder, or begin it: hangtrue begin {name}",
        name = .0.display()
    )]
    NoProject(PathBuf),
    /// A file could not be saved.
    #[error(transparent)]
    Save(#[from] SaveError),
    /// The project has no pattern to start with.
    #[error(transparent)]
    Start(Box<StartError>),
    /// A change cannot be made.
    #[error(transparent)]
    Change(Box<ChangeError>),
    /// The pattern does not hold what was named.
    #[error(transparent)]
    Pattern(#[from] PatternError),
    /// Printing.
    #[error(transparent)]
    Print(#[from] PrintError),
    /// The pieces cannot be cut as planned.
    #[error(transparent)]
    Cut(#[from] CutError),
    /// The pieces cannot be laid on that cloth.
    #[error(transparent)]
    Lay(#[from] LayError),
    /// A file of another kind.
    #[error(transparent)]
    Exchange(Box<ExchangeError>),
    /// A photo.
    #[error(transparent)]
    Photo(Box<PhotoError>),
    /// A photo of a fitting.
    #[error(transparent)]
    Album(Box<AlbumError>),
    /// The journal.
    #[error(transparent)]
    Journal(Box<JournalError>),
    /// A table that cannot be drafted from.
    #[error("“{}”: {source}", path.display())]
    Table {
        /// The table.
        path: PathBuf,
        /// What is wrong with it.
        #[source]
        source: Box<BatchError>,
    },
    /// A class list.
    #[error("“{}”: {source}", path.display())]
    Class {
        /// The list.
        path: PathBuf,
        /// What is wrong with it.
        #[source]
        source: Box<ClassError>,
    },
    /// What a class was printed into.
    #[error(transparent)]
    ClassFolder(#[from] Box<ClassError>),
    /// Marks on a photo of the worn toile.
    #[error("“{}”: {source}", path.display())]
    Marks {
        /// The file.
        path: PathBuf,
        /// What is wrong.
        #[source]
        source: Box<WornJobError>,
    },
    /// A file of droops or of reading rules.
    #[error("“{}”: {source}", path.display())]
    Droops {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        #[source]
        source: Box<DroopsError>,
    },
    /// A droop that cannot be.
    #[error(transparent)]
    Droop(Box<DroopError>),
    /// The toile cannot be settled.
    #[error(transparent)]
    Hang(Box<PredictError>),
    /// The batch.
    #[error(transparent)]
    Batch(#[from] BatchError),
    /// A length on the command line.
    #[error(transparent)]
    Length(#[from] LengthError),
    /// A file that cannot be read.
    #[error(transparent)]
    Unreadable(#[from] ReadError),
    /// A folder that cannot be made.
    #[error("the folder “{}” cannot be made: {}; choose another place", path.display(), words_of_io(source))]
    NoFolder {
        /// The folder.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: std::io::Error,
    },
    /// A measures file, a plan or a column map that is not one.
    #[error("“{}” cannot be read as a {kind}: {why}; {like}", path.display())]
    NotAFile {
        /// The file.
        path: PathBuf,
        /// What it should be.
        kind: &'static str,
        /// What the reader met.
        why: String,
        /// What to do, with an example.
        like: &'static str,
    },
    /// Left and right are not apart.
    #[error("{why}, with: hangtrue apart {}", project.display())]
    Apart {
        /// What is wrong.
        #[source]
        why: Box<ChangeError>,
        /// The project.
        project: PathBuf,
    },
    /// Something on the command line.
    #[error("{0}")]
    Asked(String),
    /// Standard output is gone.
    #[error(
        "what was to be shown could not be written: {}; what the command saves is saved whole or not at all",
        words_of_io(.0)
    )]
    Output(#[from] std::io::Error),
    /// Machine output could not be made.
    #[error("the machine form could not be written: {0}")]
    Json(#[from] serde_json::Error),
}

impl Failure {
    /// Whether nobody reads standard output any more. Files never come here: what
    /// cannot be saved is a failure of its own.
    pub fn is_closed_pipe(&self) -> bool {
        let source = match self {
            Self::Output(source) | Self::Batch(BatchError::Write(source)) => source,
            _ => return false,
        };
        source.kind() == std::io::ErrorKind::BrokenPipe
    }

    /// The message, with lengths in the project's unit.
    pub fn words(&self) -> String {
        output::words(self)
    }
}

impl From<SendError> for Failure {
    fn from(error: SendError) -> Self {
        match error {
            SendError::Drawing(error) => error.into(),
            SendError::Paper(error) => error.into(),
        }
    }
}

/// Errors that are large are kept in a box.
macro_rules! boxed {
    ($($variant:ident($error:ty)),*) => {$(
        impl From<$error> for Failure {
            fn from(error: $error) -> Self {
                Self::$variant(Box::new(error))
            }
        }
    )*};
}

boxed!(Hang(PredictError), Start(StartError), Change(ChangeError), Droop(DroopError));
boxed!(Exchange(ExchangeError), Photo(PhotoError), Album(AlbumError), Journal(JournalError));
