//! The verbs for authors of rules: a pack begun, a schema for editors, pictures, lists, faults as
//! data.

mod check;
pub(crate) mod draft7;
mod forms;
mod graph;
mod laid_over;
mod list;
mod new;
mod schema;
mod telling;
mod test;

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use boostwright::rules::explain::{Holds, Mapping, RULE_FILE};
use boostwright::rules::yaml::{Route, RouteStep};
use boostwright::rules::{Loaded, PackSource, load};
use tempfile::TempDir;

/// Every mapping of a rule file with fixed fields, and a route to one of its kind.
pub(super) fn mappings() -> Vec<(Route, &'static Mapping)> {
    let mut found = vec![(Route::new(), &RULE_FILE)];
    let mut at = 0;
    while let Some((route, mapping)) = found.get(at).cloned() {
        for field in mapping.fields {
            let mut route = route.clone();
            route.push(RouteStep::Key(field.name.to_owned()));
            let inner = match field.holds {
                Holds::Fields(inner) | Holds::Answer(inner) => inner,
                Holds::Section(inner) => {
                    route.push(RouteStep::Key("it".to_owned()));
                    inner
                }
                Holds::List(inner) => {
                    route.push(RouteStep::Index(0));
                    inner
                }
                _ => continue,
            };
            found.push((route, inner));
        }
        at += 1;
    }
    found
}

/// A folder with one rule file.
fn folder(rules: &str) -> TempDir {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("rules.yaml"), rules).unwrap();
    folder
}

/// The rules in a folder, alone.
fn alone(folder: &Path) -> Loaded {
    load(&[PackSource::Folder(folder.to_path_buf())]).unwrap()
}

/// Exit code, stdout and stderr of the program.
fn outcome(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let mut command = Command::cargo_bin("boostwright").unwrap();
    let output = command.env_clear().current_dir(folder).args(arguments).output().unwrap();
    let words = |bytes| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), words(output.stdout), words(output.stderr))
}
