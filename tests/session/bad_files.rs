//! Each file of `bad/` is one mistake; its snapshot is what the person is told.

use std::path::{Path, PathBuf};

use boostwright::rules::{PackSource, load_to_walk};
use boostwright::session::{read_session, read_session_text, take};
use insta::{Settings, assert_snapshot};

use super::bench::pack;

fn bad_files() -> Vec<PathBuf> {
    std::fs::read_dir("tests/session/bad")
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "yaml"))
        .collect()
}

#[test]
fn every_bad_file_is_refused_with_its_place_and_a_way_out() {
    let pack = pack();
    let bad = bad_files();
    assert!(bad.len() > 20, "only {} bad files", bad.len());
    for path in bad {
        let mistake = path.file_stem().unwrap().to_string_lossy().into_owned();
        let message = match read_session(&path) {
            Err(error) => error.to_string(),
            Ok((session, source)) => match take(&session, &source, &pack) {
                Err(faults) => faults.draw(false).join("\n\n"),
                Ok(_) => panic!("{mistake} was taken"),
            },
        };
        let mut settings = Settings::clone_current();
        settings.set_prepend_module_to_snapshot(false);
        settings.set_snapshot_path("bad");
        settings.set_omit_expression(true);
        settings.bind(|| assert_snapshot!(mistake, message));
    }
}

#[test]
fn a_file_that_is_too_large_is_refused_unread() {
    let folder = super::bench::folder();
    let path = folder.path().join("boost.yaml");
    std::fs::write(&path, vec![b'#'; (4 << 20) + 1]).unwrap();
    let message = read_session(&path).unwrap_err().to_string();
    assert!(message.contains("larger than 4 MiB"), "{message}");
}

#[test]
fn a_missing_file_and_a_folder_are_told_apart() {
    let missing = read_session(Path::new("tests/session/no_such.yaml")).unwrap_err();
    assert!(missing.is_missing());
    let folder = read_session(Path::new("tests/session")).unwrap_err();
    assert!(!folder.is_missing());
    assert!(folder.to_string().contains("is a folder"), "{folder}");
}

#[test]
fn a_file_opened_by_hand_into_nonsense_keeps_every_byte() {
    let folder = super::bench::folder();
    for bad in bad_files() {
        let path = folder.path().join("boost.yaml");
        std::fs::copy(&bad, &path).unwrap();
        if let Ok(mut file) = boostwright::session::SessionFile::open(&path) {
            assert!(file.rounds(&pack()).is_err(), "{}", bad.display());
        }
        assert_eq!(std::fs::read(&bad).unwrap(), std::fs::read(&path).unwrap());
    }
}

#[test]
fn a_hundred_thousand_unknown_names_are_refused_at_once() {
    use std::fmt::Write as _;

    let pack = load_to_walk(&[PackSource::BuiltIn]).unwrap().pack;
    let mut text = String::from("complaint: boost_too_high_controller_off\nanswers:\n");
    for place in 0..100_000 {
        let _ = writeln!(text, "  boost_nobody_{place}: no");
    }
    let (session, source) = read_session_text("many.yaml", text).unwrap();
    let clock = crate::clock::Clock::start();
    let refused = take(&session, &source, &pack).unwrap_err();
    // Looking for the nearest name to each took half a minute.
    assert!(clock.worked() < std::time::Duration::from_secs(2), "{:?}", clock.worked());
    assert_eq!(refused.list.len(), 100_000);
}
