//! The project's own files, for tests that hold them against one another.

use std::fs;
use std::path::{Path, PathBuf};

/// The folder that Cargo.toml lies in.
pub(super) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The text of a file, named from the root.
pub(super) fn text(file: &str) -> String {
    fs::read_to_string(root().join(file)).unwrap_or_else(|error| panic!("{file}: {error}"))
}

/// Every Rust file below a folder, in no order.
pub(super) fn rust_files(folder: &Path) -> Vec<PathBuf> {
    files_below(folder, "rs")
}

/// The built-in rule files, in no order.
pub(super) fn rule_files() -> Vec<PathBuf> {
    files_below(&root().join("rules"), "yaml")
}

/// Every file below a folder that ends so, in no order.
fn files_below(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files_below(&path, ending));
        } else if path.extension().is_some_and(|own| own == ending) {
            found.push(path);
        }
    }
    found
}
