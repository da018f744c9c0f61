//! Driving the real binary in a folder of its own.

// Not every test program uses every helper.
#![allow(dead_code)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A file of the repository.
pub fn asset(path: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(path).display().to_string()
}

/// A folder that is removed with its content at the end of a test.
pub struct Folder(pub PathBuf);

impl Folder {
    pub fn new(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("hangtrue-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        Self(folder)
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }

    pub fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    pub fn write(&self, name: &str, bytes: impl AsRef<[u8]>) {
        fs::write(self.path(name), bytes).unwrap();
    }

    pub fn copy(&self, from: &str, to: &str) {
        fs::copy(self.path(from), self.path(to)).unwrap();
    }

    /// Runs the command in the folder, with no display to draw on.
    pub fn hangtrue(&self, args: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_hangtrue"))
            .args(args)
            .current_dir(&self.0)
            .env_remove("DISPLAY")
            .env_remove("WAYLAND_DISPLAY")
            .output()
            .unwrap()
    }

    /// What the command says when it goes well.
    pub fn good(&self, args: &[&str]) -> String {
        let output = self.hangtrue(args);
        let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(output.status.success(), "{args:?}: {complaint}");
        String::from_utf8(output.stdout).unwrap()
    }

    /// What it says when it refuses.
    pub fn refused(&self, args: &[&str]) -> String {
        let out = self.hangtrue(args);
        assert!(!out.status.success(), "{args:?} was not refused");
        String::from_utf8_lossy(&out.stderr).into_owned()
    }

    /// The JSON a command writes.
    pub fn json(&self, args: &[&str]) -> serde_json::Value {
        serde_json::from_str(&self.good(args)).unwrap()
    }

    /// Starts the demo's body as a project of that name.
    pub fn begin(&self, project: &str) {
        let measures = asset("assets/demo/measures.ron");
        self.good(&["begin", project, "--measures", &measures, "--unit", "1/16"]);
    }

    /// The same with its usual lines marked.
    pub fn marked(&self, project: &str) {
        self.begin(project);
        self.good(&["mark", project, "--usual"]);
    }

    /// A project with its lines marked and 3/8 in pinned mid-thigh.
    pub fn pinned(&self, project: &str, amount: &str) {
        self.marked(project);
        let at = format!("middle={amount}");
        self.good(&["pin", project, "--piece", "back", "--line", "thigh", "--at", &at]);
    }

    /// Every file with its bytes, to see that nothing was touched.
    pub fn content(&self) -> Vec<(PathBuf, Vec<u8>)> {
        let mut files = Vec::new();
        let mut folders = vec![self.0.clone()];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else if path.is_file() {
                    files.push((path.clone(), fs::read(path).unwrap()));
                }
            }
        }
        files.sort();
        files
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// Checks a PDF with qpdf and gives its number of pages by poppler's pdfinfo;
/// a machine without them fails the test, it does not skip it.
pub fn pages(pdf: &Path) -> usize {
    let checked = Command::new("qpdf").arg("--check").arg(pdf).output().expect("qpdf");
    assert!(checked.status.success(), "{}: {checked:?}", pdf.display());
    let info = Command::new("pdfinfo").arg(pdf).output().expect("pdfinfo of poppler-utils");
    let info = String::from_utf8(info.stdout).unwrap();
    let pages = info.lines().find_map(|l| l.strip_prefix("Pages:")).expect("a number of pages");
    pages.trim().parse().unwrap()
}
