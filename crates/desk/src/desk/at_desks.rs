//! Which projects lie on a desk at this moment: a locked file for each in the desks'
//! own folder, so that a second desk on the same project says so. It is known of the
//! desks of one person on one machine.

use std::fs::{File, OpenOptions, TryLockError};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

/// The mark that a project lies on this desk, until it is dropped.
pub(super) struct AtDesk {
    project: PathBuf,
    mark: PathBuf,
    /// Locked while the project lies here; none when another desk has the lock.
    lock: Option<File>,
}

impl AtDesk {
    /// Marks the project as lying here.
    pub fn mark(own_folder: &Path, project: &Path) -> Self {
        let folder = own_folder.join("at-desks");
        let mut name = DefaultHasher::new();
        project.hash(&mut name);
        let mark = folder.join(format!("{:016x}", name.finish()));
        // A mark that cannot be made warns nobody; saving still looks at the file.
        let _ = std::fs::create_dir_all(&folder);
        let file = OpenOptions::new().create(true).truncate(false).write(true).open(&mark).ok();
        let is_elsewhere =
            file.as_ref().is_some_and(|f| matches!(f.try_lock(), Err(TryLockError::WouldBlock)));
        let lock = file.filter(|_| !is_elsewhere);
        Self { project: project.to_owned(), mark, lock }
    }

    pub fn project(&self) -> &Path {
        &self.project
    }

    /// Whether another desk has the project.
    pub fn is_elsewhere(&self) -> bool {
        self.lock.is_none() && self.mark.exists()
    }
}

impl Drop for AtDesk {
    fn drop(&mut self) {
        // Who has the lock takes the mark away with it.
        if self.lock.is_some() {
            let _ = std::fs::remove_file(&self.mark);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_second_desk_on_a_project_knows_and_the_next_after_both_does_not() {
        let own = std::env::temp_dir().join(format!("hangtrue-desks-{}", std::process::id()));
        let project = Path::new("/somewhere/p.ron");
        let first = AtDesk::mark(&own, project);
        let second = AtDesk::mark(&own, project);
        let other = AtDesk::mark(&own, Path::new("/elsewhere/p.ron"));
        assert!(!first.is_elsewhere() && second.is_elsewhere() && !other.is_elsewhere());
        drop((first, second, other));
        assert!(!AtDesk::mark(&own, project).is_elsewhere());
        std::fs::remove_dir_all(&own).unwrap();
    }
}
