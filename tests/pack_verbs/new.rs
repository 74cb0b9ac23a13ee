//! `pack new`: a small pack that works as it stands, and never over what is there.

use std::fs;
use std::sync::Arc;

use boostwright::interview::{Round, fold, try_case};
use boostwright::rules::{PackSource, STARTER, begin_pack, load};
use tempfile::TempDir;

use super::outcome;

#[test]
fn a_pack_just_begun_has_no_fault_and_its_case_comes_out() {
    let folder = TempDir::new().unwrap();
    let dir = folder.path().join("packs/mine");
    let file = begin_pack(&dir).unwrap();
    assert_eq!(fs::read_to_string(file).unwrap(), STARTER);
    let loaded = load(&[PackSource::BuiltIn, PackSource::Folder(dir)]).unwrap();
    assert_eq!(loaded.faults.draw(false).concat(), "");
    let case = &loaded.pack.cases["breather_full_of_underseal"];
    assert_eq!(try_case(&loaded.pack, case, &Arc::default()).differs, []);
}

#[test]
fn the_question_of_a_pack_just_begun_comes_up_in_an_interview() {
    let folder = TempDir::new().unwrap();
    begin_pack(folder.path()).unwrap();
    let pack = load(&[PackSource::BuiltIn, PackSource::Folder(folder.path().into())]).unwrap().pack;
    let complaints = vec![pack.complaints.find("boost_too_high_controller_off").unwrap()];
    let state = fold(&pack, &[Round { complaints, ..Round::default() }], None);
    assert!(state.open.contains(&pack.questions.find("breather_open").unwrap()));
}

#[test]
fn it_shows_one_of_each_and_explains_it() {
    for section in ["pack", "questions", "findings", "causes", "repairs", "cases"] {
        let at = STARTER.find(&format!("\n{section}:")).unwrap_or_else(|| panic!("no {section}"));
        let before = STARTER[..at].lines().last().unwrap();
        assert!(before.starts_with("# "), "{section} has no comment: {before}");
    }
}

#[test]
fn a_folder_that_holds_something_is_left_alone() {
    let folder = TempDir::new().unwrap();
    fs::create_dir(folder.path().join("mine")).unwrap();
    fs::write(folder.path().join("mine/notes.txt"), "mine").unwrap();
    let (code, out, err) = outcome(folder.path(), &["pack", "new", "mine"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(
        err.contains("mine isn't empty") && err.contains("name a new or empty folder"),
        "{err}"
    );
    assert_eq!(fs::read_dir(folder.path().join("mine")).unwrap().count(), 1);
    let (code, out, err) = outcome(folder.path(), &["pack", "new", "mine/notes.txt"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("is a file"), "{err}");
    assert_eq!(fs::read_to_string(folder.path().join("mine/notes.txt")).unwrap(), "mine");
}

#[test]
fn a_second_pack_is_not_begun_over_the_first() {
    let folder = TempDir::new().unwrap();
    let (code, out, _) = outcome(folder.path(), &["pack", "new", "mine"]);
    assert_eq!(code, 0);
    assert!(out.contains("boostwright pack check mine"), "{out}");
    fs::write(folder.path().join("mine/rules.yaml"), "pack: {name: changed}\n").unwrap();
    assert_eq!(outcome(folder.path(), &["pack", "new", "mine"]).0, 2);
    let kept = fs::read_to_string(folder.path().join("mine/rules.yaml")).unwrap();
    assert_eq!(kept, "pack: {name: changed}\n");
}
