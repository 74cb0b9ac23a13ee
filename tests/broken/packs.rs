//! Each pack of `packs/` is one mistake; its snapshot is what its author is told, and
//! `culprits.yaml` says which message must mark what.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

use boostwright::rules::Severity;
use boostwright::rules::yaml::read;
use insta::{Settings, assert_snapshot};

use super::bench::{Told, checked, told};

const PACKS: &str = "tests/broken/packs";

/// For each pack the messages in order, each as a code and the text above its carets.
pub(super) type Culprits = BTreeMap<String, Vec<BTreeMap<String, String>>>;

pub(super) fn culprits() -> Culprits {
    read(&fs::read_to_string("tests/broken/culprits.yaml").unwrap()).unwrap()
}

/// Every broken pack: its name and its files.
fn packs() -> BTreeMap<String, Vec<PathBuf>> {
    let rules = |path: &PathBuf| path.extension().is_some_and(|ending| ending == "yaml");
    let inside = |folder: PathBuf| {
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect::<Vec<PathBuf>>()
    };
    let mut found = BTreeMap::new();
    for path in inside(PACKS.into()) {
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        if path.is_dir() {
            found.insert(name, inside(path).into_iter().filter(rules).collect());
        } else if rules(&path) {
            found.insert(name, vec![path]);
        }
    }
    found
}

/// What `pack check` says about a pack, without the folder it happens to lie in.
fn messages(files: &[PathBuf]) -> (Vec<String>, String) {
    let texts: Vec<(&str, Vec<u8>)> = files
        .iter()
        .map(|file| (file.file_name().unwrap().to_str().unwrap(), fs::read(file).unwrap()))
        .collect();
    let (folder, loaded) = checked(&texts);
    let here = format!("{}/", folder.path().display());
    let drawn = loaded.faults.draw(false).into_iter().map(|drawn| drawn.replace(&here, ""));
    let counts = [Severity::Error, Severity::Warning].map(|severity| loaded.faults.count(severity));
    (drawn.collect(), format!("errors: {}, warnings: {}", counts[0], counts[1]))
}

/// That the place named and the text marked are one and the same spot of the file.
fn assert_stands_there(told: &Told, files: &[PathBuf], name: &str) {
    let file = files.iter().find(|file| file.ends_with(&told.file)).unwrap();
    let Ok(text) = fs::read_to_string(file) else { return };
    let line = text.split('\n').nth(told.line - 1).unwrap_or_default();
    let there: String = line.chars().skip(told.column - 1).collect();
    // A long text is drawn with its middle left out, a letter that is not seen as one that is.
    let start: Vec<char> = told.marked.split("...").next().unwrap().chars().collect();
    let same = start
        .iter()
        .zip(there.chars().chain(std::iter::repeat(' ')))
        // A control is drawn as the sign for it (U+2400 and on).
        .all(|(drawn, written)| {
            *drawn == written || *drawn == '\u{fffd}' || ('\u{2400}'..='\u{2421}').contains(drawn)
        });
    assert!(same, "{name}: {told:?} marks something else than {there:?}");
}

#[test]
fn every_broken_pack_is_told_what_is_wrong_where_and_what_to_do() {
    let culprits = culprits();
    let packs = packs();
    assert!(packs.len() > 200, "only {} broken packs", packs.len());
    let mut wrong = Vec::new();
    for (name, files) in &packs {
        let (drawn, counts) = messages(files);
        let told: Vec<Told> = drawn.iter().map(|drawn| told(drawn)).collect();
        let marked: Vec<BTreeMap<String, String>> = told
            .iter()
            .map(|told| BTreeMap::from([(told.code.clone(), told.marked.clone())]))
            .collect();
        let wanted = culprits.get(name).unwrap_or_else(|| panic!("{name} has no culprit"));
        if marked != *wanted {
            wrong.push(format!("{name}: {wanted:?} wanted\n{}", drawn.join("\n\n")));
        }
        for told in &told {
            assert!(told.help.len() > 5, "{name}: {told:?}");
            assert_stands_there(told, files, name);
        }
        let mut settings = Settings::clone_current();
        settings.set_prepend_module_to_snapshot(false);
        settings.set_snapshot_path("packs");
        settings.set_omit_expression(true);
        let text = format!("{}\n\n{counts}", drawn.join("\n\n"));
        let text: Vec<&str> = text.lines().map(str::trim_end).collect();
        settings.bind(|| assert_snapshot!(name.as_str(), text.join("\n")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
    for name in culprits.keys() {
        assert!(packs.contains_key(name), "{name} is no broken pack");
    }
}
