//! Creating, opening and saving; locks, links and permissions.

use std::fs;
use std::path::Path;

use boostwright::session::{Problem, SessionFile, read_session, take};

use super::bench::{folder, names, pack, text, two_rounds};

#[test]
fn a_session_comes_back_as_it_was_saved() {
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    let file = SessionFile::create(&path, two_rounds()).unwrap();
    drop(file);
    assert_eq!(SessionFile::open(&path).unwrap().session, two_rounds());
}

#[test]
fn the_file_reads_as_a_person_would_write_it() {
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    drop(SessionFile::create(&path, two_rounds()).unwrap());
    let digest = pack().digest;
    let written = fs::read_to_string(&path).unwrap().replace(&digest, "DIGEST");
    let written = written.replace(env!("CARGO_PKG_VERSION"), "VERSION");
    insta::assert_snapshot!(written);
}

#[test]
fn an_answer_given_again_moves_to_the_end() {
    let mut session = two_rounds();
    session.rounds.pop();
    session.give("hose_is_sound", text("no"));
    let answers = &session.rounds[0].answers;
    assert_eq!(answers.keys().last().unwrap(), "hose_is_sound");
    assert_eq!(answers["hose_is_sound"], text("no"));
}

#[test]
fn an_answer_is_taken_back_from_the_latest_round_that_has_it() {
    let mut session = two_rounds();
    assert_eq!(session.take_back("peak_boost"), Some(1));
    assert_eq!(session.take_back("peak_boost"), Some(0));
    assert_eq!(session.take_back("peak_boost"), None);
    assert_eq!(session.rounds[0].answers.len(), 5);
}

#[test]
fn a_second_program_is_refused_until_the_first_is_done() {
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    let first = SessionFile::create(&path, two_rounds()).unwrap();
    let refused = SessionFile::open(&path).unwrap_err();
    assert!(matches!(refused.problem, Problem::Busy), "{refused}");
    assert!(refused.to_string().contains("open in another boostwright"), "{refused}");
    // To look at it is no harm.
    assert!(read_session(&path).is_ok());
    drop(first);
    assert!(SessionFile::open(&path).is_ok());
}

#[test]
fn creating_never_overwrites() {
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    fs::write(&path, "my notes").unwrap();
    let refused = SessionFile::create(&path, two_rounds()).unwrap_err();
    assert!(matches!(refused.problem, Problem::Exists), "{refused}");
    assert_eq!(fs::read_to_string(&path).unwrap(), "my notes");
}

#[test]
fn a_session_needs_its_folder() {
    let refused = SessionFile::create(Path::new("/no/such/folder/boost.yaml"), two_rounds());
    assert!(matches!(refused.unwrap_err().problem, Problem::NoFolder));
}

#[test]
fn an_answers_file_is_taken_up_as_a_session() {
    let folder = folder();
    let path = folder.path().join("answers.yaml");
    fs::write(&path, "complaint: boost_too_high\nanswers:\n  hose_is_sound: yes\n").unwrap();
    let mut file = SessionFile::open(&path).unwrap();
    let taken = file.rounds(&pack()).unwrap();
    assert_eq!(taken.rounds.len(), 1);
    assert_eq!(taken.rounds[0].answers.len(), 1);
    file.save().unwrap();
    drop(file);
    let written = fs::read_to_string(&path).unwrap();
    assert!(written.contains("\nformat: 1\n"), "{written}");
    let (session, source) = read_session(&path).unwrap();
    assert_eq!(take(&session, &source, &pack()).unwrap().rounds, taken.rounds);
}

#[test]
fn an_answers_file_may_hold_rounds() {
    let folder = folder();
    let path = folder.path().join("answers.yaml");
    let text = "rounds:\n- complaint: [boost_too_high]\n  answers: {needle: climbs}\n\
                - repair: open_the_port\n  answers: {peak_boost: 0.5 bar}\n";
    fs::write(&path, text).unwrap();
    let (session, source) = read_session(&path).unwrap();
    let taken = take(&session, &source, &pack()).unwrap();
    assert_eq!(taken.rounds.len(), 2);
    assert!(taken.rounds[1].repair.is_some());
}

#[cfg(unix)]
mod unix {
    use std::fs::{self, Permissions};
    use std::os::unix::fs::{PermissionsExt, symlink};

    use boostwright::session::{Problem, SessionFile};

    use super::super::bench::{folder, text, two_rounds};

    fn mode(path: &std::path::Path) -> u32 {
        fs::metadata(path).unwrap().permissions().mode() & 0o777
    }

    #[test]
    fn a_new_session_has_the_rights_of_the_persons_other_files() {
        let folder = folder();
        let (path, other) = (folder.path().join("boost.yaml"), folder.path().join("other"));
        fs::write(&other, "").unwrap();
        drop(SessionFile::create(&path, two_rounds()).unwrap());
        assert_eq!(mode(&path), mode(&other));
    }

    #[test]
    fn saving_keeps_the_rights_a_person_gave() {
        let folder = folder();
        let path = folder.path().join("boost.yaml");
        let mut file = SessionFile::create(&path, two_rounds()).unwrap();
        fs::set_permissions(&path, Permissions::from_mode(0o600)).unwrap();
        file.save().unwrap();
        assert_eq!(mode(&path), 0o600);
    }

    #[test]
    fn a_write_protected_session_is_not_replaced() {
        let folder = folder();
        let path = folder.path().join("boost.yaml");
        drop(SessionFile::create(&path, two_rounds()).unwrap());
        fs::set_permissions(&path, Permissions::from_mode(0o444)).unwrap();
        let refused = SessionFile::open(&path).unwrap_err();
        assert!(matches!(refused.problem, Problem::WriteProtected), "{refused}");
    }

    #[test]
    fn a_link_stays_a_link_and_shares_the_lock() {
        let folder = folder();
        let (path, link) = (folder.path().join("boost.yaml"), folder.path().join("link.yaml"));
        drop(SessionFile::create(&path, two_rounds()).unwrap());
        symlink(&path, &link).unwrap();
        let mut file = SessionFile::open(&link).unwrap();
        assert!(matches!(SessionFile::open(&path).unwrap_err().problem, Problem::Busy));
        file.session.give("needle", text("level"));
        file.save().unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert!(fs::read_to_string(&path).unwrap().contains("needle: level"));
    }

    #[test]
    fn a_hard_link_is_the_same_session_until_a_save_parts_it() {
        let folder = folder();
        let (path, link) = (folder.path().join("boost.yaml"), folder.path().join("link.yaml"));
        drop(SessionFile::create(&path, two_rounds()).unwrap());
        fs::hard_link(&path, &link).unwrap();
        let mut file = SessionFile::open(&path).unwrap();
        assert!(matches!(SessionFile::open(&link).unwrap_err().problem, Problem::Busy));
        file.session.give("needle", text("level"));
        file.save().unwrap();
        let warning = file.take_warning().expect("the other name keeps the old text");
        assert!(matches!(warning.problem, Problem::Parted), "{warning}");
        assert!(warning.to_string().contains("hard link"), "{warning}");
        assert_eq!(SessionFile::open(&link).unwrap().session, two_rounds());
        file.save().unwrap();
        assert!(file.take_warning().is_none(), "it is parted once");
    }

    #[test]
    fn a_lock_file_that_is_deleted_lets_nobody_else_in() {
        let folder = folder();
        let (path, lock) =
            (folder.path().join("boost.yaml"), folder.path().join(".boost.yaml.lock"));
        let mut file = SessionFile::create(&path, two_rounds()).unwrap();
        for _ in 0..2 {
            fs::remove_file(&lock).unwrap();
            assert!(matches!(SessionFile::open(&path).unwrap_err().problem, Problem::Busy));
            // Each save puts a new file there.
            file.save().unwrap();
        }
        drop(file);
        SessionFile::open(&path).expect("it is free again");
    }

    #[test]
    fn a_device_is_never_taken_for_a_session() {
        let refused = SessionFile::open(std::path::Path::new("/dev/zero")).unwrap_err();
        assert!(matches!(refused.problem, Problem::NotPlain), "{refused}");
    }
}

#[test]
fn only_the_session_and_its_lock_are_left_in_the_folder() {
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    let mut file = SessionFile::create(&path, two_rounds()).unwrap();
    file.save().unwrap();
    assert_eq!(names(&folder), [".boost.yaml.lock", "boost.yaml"]);
}
