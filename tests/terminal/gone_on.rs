//! A file that is gone on with says which car, complaint and round it is, and need not be named.

use std::fs;

use tempfile::{TempDir, tempdir};

use super::desk::{CTRL_C, Desk, command};

fn begun() -> TempDir {
    let folder = tempdir().unwrap();
    let session = "complaint: too_high\ncar: an invented estate\nanswers:\n  hose_sound: yes\n";
    fs::write(folder.path().join("boost.yaml"), session).unwrap();
    folder
}

#[test]
fn whoever_goes_on_reads_which_car_and_complaint_it_is() {
    for verb in ["ask", "recheck"] {
        let folder = begun();
        let mut desk = Desk::start(80, command(folder.path(), &[verb]));
        desk.sees("boost.yaml, an invented estate: Boost too high, round 1");
        desk.wait_for_prompt().press(CTRL_C);
        assert_eq!(desk.end(), 130, "{verb}: {}", desk.shown());
    }
}
