//! Hostile files handed to the program itself: sessions and packs made of sound ones. It ends by itself
//! with an exit code of its own, changes nothing, and never steers the screen.

use std::fs;
use std::path::Path;

use boostwright::text::is_clean;

use super::mutation::Mutator;
use super::saving::Shop;
use super::seeds;
use super::table::{Began, Row};

/// Mutated sessions through every verb that reads one.
pub(super) fn sessions(program: &Path, times: usize, seed: u64) -> Row {
    let mut row = Row::new("hostile sessions");
    let shop = Shop::open(program);
    let mut mutator = Mutator::new(seed, seeds::sessions());
    let verbs: [&[&str]; 4] = [
        &["show", "h.yaml"],
        &["show", "h.yaml", "--form", "json"],
        &["sheet", "h.yaml"],
        &["replay", "h.yaml"],
    ];
    for turn in 0..times {
        let text = mutator.next();
        fs::write(shop.folder.path().join("h.yaml"), &text).expect("the file is written");
        run(&shop, verbs[turn % verbs.len()], &mut row, &text);
        let after = fs::read_to_string(shop.folder.path().join("h.yaml")).unwrap_or_default();
        row.expect(after == text, || format!("changed: {text:?}"));
    }
    row
}

/// Mutated packs through `pack check` and a first answer.
pub(super) fn packs(program: &Path, times: usize, seed: u64) -> Row {
    let mut row = Row::new("broken packs");
    let shop = Shop::open(program);
    let mut mutator = Mutator::new(seed, seeds::packs());
    fs::create_dir_all(shop.folder.path().join("p")).expect("a folder for the pack");
    for _ in 0..times {
        let text = mutator.next();
        fs::write(shop.folder.path().join("p/r.yaml"), &text).expect("the file is written");
        run(&shop, &["pack", "check", "p"], &mut row, &text);
    }
    row
}

fn run(shop: &Shop, arguments: &[&str], row: &mut Row, text: &str) {
    let began = Began::now();
    let output = shop.command(arguments).output().expect("the program starts");
    row.ran(began);
    let code = output.status.code();
    row.struck += usize::from(code != Some(0));
    let told = || format!("{arguments:?} {code:?} at {text:?}");
    row.expect(matches!(code, Some(0..=2)), told);
    let said = [output.stdout, output.stderr].concat();
    match String::from_utf8(said) {
        Ok(said) => {
            let wild = said.chars().find(|letter| *letter != '\n' && !is_clean(*letter));
            row.expect(wild.is_none(), || format!("shows {wild:?}: {}", told()));
        }
        Err(_) => row.fail(format!("shows what is no text: {}", told())),
    }
}
