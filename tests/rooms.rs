//! The order of the rooms: a room of `src/` uses only rooms on floors below its own. Inside a room no
//! files use each other in a circle; `circles` finds those.

mod circles;

use std::fs;
use std::path::{Path, PathBuf};

use crate::project::{root, rust_files};

/// Every room and its floor, the ground floor first. Rooms on one floor know nothing of one
/// another.
const FLOORS: [(&str, usize); 12] = [
    ("text", 1),
    ("quantity", 2),
    ("calibration", 3),
    ("physics", 3),
    ("ranking", 3),
    ("formula", 4),
    ("rules", 5),
    ("interview", 6),
    ("session", 7),
    ("report", 8),
    ("terminal", 8),
    ("cli", 9),
];

fn floor(room: &str) -> Option<usize> {
    FLOORS.iter().find(|(known, _)| *known == room).map(|(_, floor)| *floor)
}

/// The rooms that a text names behind `crate::`, with the line.
fn rooms_used(text: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for (index, line) in text.lines().enumerate() {
        for behind in line.split("crate::").skip(1) {
            let end = behind.find(|letter: char| !letter.is_alphanumeric() && letter != '_');
            found.push((index + 1, behind[..end.unwrap_or(behind.len())].to_owned()));
        }
    }
    found
}

/// What in a file of `room` breaks the order.
fn trespasses(room: &str, text: &str) -> Vec<String> {
    let Some(own) = floor(room) else { return vec![format!("{room} has no floor")] };
    rooms_used(text)
        .into_iter()
        .filter(|(_, used)| used != room && floor(used).is_none_or(|floor| floor >= own))
        .map(|(line, used)| format!("line {line}: {room} uses {used:?}"))
        .collect()
}

fn source() -> PathBuf {
    root().join("src")
}

/// The folder of `src/` that a file lies in.
fn room_of(file: &Path) -> Option<String> {
    let mut parts = file.strip_prefix(source()).unwrap().components();
    let first = parts.next()?.as_os_str().to_str()?.to_owned();
    parts.next().map(|_| first)
}

#[test]
fn a_room_uses_only_rooms_on_floors_below() {
    let mut looked_at = 0;
    for file in rust_files(&source()) {
        let Some(room) = room_of(&file) else { continue };
        let broken = trespasses(&room, &fs::read_to_string(&file).unwrap());
        assert!(broken.is_empty(), "{}: {broken:?}", file.display());
        looked_at += 1;
    }
    assert!(looked_at > 50, "only {looked_at} files looked at");
}

#[test]
fn every_room_of_the_house_has_a_floor_and_every_floor_its_room() {
    let mut rooms: Vec<String> =
        rust_files(&source()).iter().filter_map(|file| room_of(file)).collect();
    rooms.sort();
    rooms.dedup();
    let mut known: Vec<&str> = FLOORS.iter().map(|(room, _)| *room).collect();
    known.sort_unstable();
    assert_eq!(rooms, known);
}

#[test]
fn a_use_of_the_same_floor_or_one_above_is_found() {
    assert_eq!(trespasses("physics", "use crate::quantity::Kind;").len(), 0);
    assert_eq!(trespasses("physics", "use crate::physics::root;").len(), 0);
    assert_eq!(trespasses("physics", "use crate::ranking::Network;").len(), 1);
    assert_eq!(trespasses("ranking", "let x = crate::formula::check(a);").len(), 1);
    assert_eq!(trespasses("rules", "use crate::{formula, session};").len(), 1);
}

#[test]
fn the_files_of_a_room_do_not_use_each_other_in_a_circle() {
    let files: Vec<(Vec<String>, String)> = rust_files(&source())
        .iter()
        .map(|file| {
            let below = file.strip_prefix(source()).unwrap().with_extension("");
            let parts = below.iter().map(|part| part.to_str().unwrap().to_owned());
            (parts.collect(), fs::read_to_string(file).unwrap())
        })
        .collect();
    let circles = circles::circles(&files);
    assert!(circles.is_empty(), "files that use each other in a circle: {circles:#?}");
}
