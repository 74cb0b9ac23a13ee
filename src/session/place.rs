//! Where a session is kept when nobody said where.

use std::path::{Path, PathBuf};

/// The file of a session without a name. It lies in the folder where the person works, in sight
/// like any other document, and the other verbs take its name; a hidden place shared by all cars
/// would mix them.
const DEFAULT_NAME: &str = "boost.yaml";

/// The path given, or else [`DEFAULT_NAME`] in the present folder.
#[must_use]
pub fn session_path(given: Option<&Path>) -> PathBuf {
    given.map_or_else(|| PathBuf::from(DEFAULT_NAME), Path::to_path_buf)
}
