//! What can't be kept is said before anybody is asked.

use std::fs;
use std::os::unix::fs::symlink;

use tempfile::tempdir;

use super::desk::{Desk, command};

#[test]
fn a_missing_folder_or_a_link_to_nothing_is_said_before_the_complaint_is_asked() {
    let folder = tempdir().unwrap();
    symlink("gone.yaml", folder.path().join("link.yaml")).unwrap();
    for (name, said) in [
        ("none/boost.yaml", "its folder does not exist"),
        ("link.yaml", "is a link to gone.yaml, and nothing is there"),
    ] {
        let mut desk = Desk::start(100, command(folder.path(), &["ask", name]));
        desk.sees(said);
        assert_eq!(desk.end(), 2);
        assert!(!desk.shown().contains("What is wrong with the boost?"), "{}", desk.shown());
    }
}

#[test]
fn a_recheck_of_a_session_without_room_for_a_round_asks_nothing() {
    let folder = tempdir().unwrap();
    let told = "answers: {hose_sound: yes, peak: 0.9 bar}";
    let rounds = format!("- repair: new_hose\n  {told}\n").repeat(99);
    let full = format!("format: 1\nrounds:\n- complaint: too_high\n  {told}\n{rounds}");
    fs::write(folder.path().join("boost.yaml"), &full).unwrap();
    let mut desk = Desk::start(100, command(folder.path(), &["recheck", "boost.yaml"]));
    desk.sees("as many rounds as a session can");
    assert_eq!(desk.end(), 2);
    assert!(!desk.shown().contains("Which repair was done?"), "{}", desk.shown());
    assert_eq!(fs::read_to_string(folder.path().join("boost.yaml")).unwrap(), full);
}
