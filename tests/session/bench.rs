//! The small pack of invented rules, and sessions held with it.

use std::path::PathBuf;

use boostwright::rules::{Given, Pack, PackSource, load};
use boostwright::session::Session;
use tempfile::TempDir;

pub(super) const PACK: &str = "tests/session/pack";

pub(super) fn pack() -> Pack {
    let loaded = load(&[PackSource::Folder(PathBuf::from(PACK))]).expect("the folder is there");
    assert!(!loaded.faults.any_error(), "{}", loaded.faults.draw(false).join("\n"));
    loaded.pack
}

pub(super) fn text(answer: &str) -> Given {
    Given::Text(answer.to_owned())
}

/// A session of two rounds with an answer of each form.
pub(super) fn two_rounds() -> Session {
    let mut session = Session::start(&pack(), vec!["boost_too_high".to_owned()]);
    session.car = Some("hatchback, two litres, invented".to_owned());
    session.give("hose_is_sound", text("yes"));
    session.give("peak_boost", text("0,92; 0,94; 0,91 bar"));
    session.give("needle", text("climbs"));
    session.give("times_repaired", text("2"));
    session.give("rod_starts_to_move", text("unknown"));
    let row = |pressure: &str, travel: &str| {
        [("pressure", pressure), ("travel", travel)]
            .map(|(column, cell)| (column.to_owned(), cell.to_owned()))
            .into_iter()
            .collect()
    };
    session.give(
        "travel_under_air",
        Given::Rows(vec![row("0.4 bar", "0.5 mm"), row("0.6 bar", "2 mm")]),
    );
    session.conclude("gate_too_small, 0.81");
    session.open_round("open_the_port");
    session.give("peak_boost", text("0.55 bar ± 0.02"));
    session
}

/// A folder of its own for one test.
pub(super) fn folder() -> TempDir {
    TempDir::new().expect("a folder for the test")
}

/// Every name in a folder, hidden ones too.
pub(super) fn names(folder: &TempDir) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder.path())
        .expect("the folder is there")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}
