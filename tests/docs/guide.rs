//! The guide for authors of rules: its example holds, each mistake gives the message it shows, and
//! its tables leave nothing out.

use std::fs;
use std::sync::Arc;

use boostwright::formula::OWN;
use boostwright::interview::{Round, fold, try_case};
use boostwright::quantity::{Kind, offered_units};
use boostwright::rules::explain::RULE_FILE;
use boostwright::rules::yaml::RouteStep;
use boostwright::rules::{Code, Loaded, PackSource, load};
use tempfile::TempDir;

use super::markdown::{Block, blocks, code_words, section};
use crate::pack_verbs::mappings;
use crate::project::text;

fn guide() -> String {
    text("rules/README.md")
}

/// A folder with one rule file, laid over the built-in pack.
fn over_the_built_in(rules: &str) -> (TempDir, Loaded) {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("mine.yaml"), rules).unwrap();
    let sources = [PackSource::BuiltIn, PackSource::Folder(folder.path().to_path_buf())];
    let loaded = load(&sources).unwrap();
    (folder, loaded)
}

/// The faults as they are printed, without the folder they happen to lie in.
fn drawn(folder: &TempDir, loaded: &Loaded) -> String {
    let here = format!("{}/", folder.path().display());
    let text = loaded.faults.draw(false).join("\n\n").replace(&here, "");
    text.lines().map(|line| format!("{}\n", line.trim_end())).collect()
}

/// The first rule file of the guide.
pub(super) fn first_cause(guide: &str) -> String {
    let found = blocks(guide).into_iter().find(|block| block.language == "yaml");
    found.expect("the guide starts with an example").text
}

#[test]
fn the_first_cause_has_no_fault_and_its_case_comes_out() {
    let (folder, loaded) = over_the_built_in(&first_cause(&guide()));
    assert_eq!(drawn(&folder, &loaded), "");
    let case = &loaded.pack.cases["bracket_that_bends"];
    let trial = try_case(&loaded.pack, case, &Arc::default());
    assert_eq!(trial.differs, []);
}

#[test]
fn the_question_of_the_first_cause_comes_up_though_no_step_names_it() {
    let (_folder, loaded) = over_the_built_in(&first_cause(&guide()));
    let pack = &loaded.pack;
    let complaints = vec![pack.complaints.find("boost_too_high_controller_off").unwrap()];
    let state = fold(pack, &[Round { complaints, ..Round::default() }], None);
    assert!(state.open.contains(&pack.questions.find("bracket_bends").unwrap()));
}

#[test]
fn every_common_mistake_gives_the_message_that_the_guide_shows() {
    let guide = guide();
    let start = guide.find("\n## Common mistakes\n").unwrap();
    let end = guide.find("\n## What a good rule looks like\n").unwrap();
    let found: Vec<Block<'_>> = blocks(&guide[start..end]);
    for pair in found.chunks(2) {
        let [mistake, message] = pair else { panic!("{} has no message", pair[0].heading) };
        assert_eq!((mistake.language, message.language), ("yaml", "text"), "{}", mistake.heading);
        assert_eq!(mistake.heading, message.heading);
        let (folder, loaded) = over_the_built_in(&mistake.text);
        assert_eq!(drawn(&folder, &loaded), message.text, "{}", mistake.heading);
    }
    assert!(found.len() > 20, "only {} blocks", found.len());
}

/// The part of the guide that a mapping is explained in: the route to one of its kind.
fn part<'a>(guide: &'a str, route: &[RouteStep]) -> &'a str {
    match route {
        [RouteStep::Key(name), ..] => section(guide, &format!("### {name}")),
        _ => panic!("no section: {route:?}"),
    }
}

#[test]
fn every_section_and_field_is_explained_in_the_words_that_editors_show() {
    let guide = guide();
    let plain = guide.split_whitespace().collect::<Vec<_>>().join(" ");
    for name in RULE_FILE.fields.iter().map(|field| field.name) {
        assert!(guide.contains(&format!("\n### {name}\n")), "{name} has no heading");
    }
    for section in RULE_FILE.fields {
        assert!(plain.contains(section.meaning), "{}: {}", section.name, section.meaning);
    }
    for (route, mapping) in mappings().into_iter().filter(|(route, _)| !route.is_empty()) {
        for field in mapping.fields {
            let name = format!("`{}`", field.name);
            let name = if field.must { format!("**{name}**") } else { name };
            let row = format!("\n| {name} | {} |\n", field.meaning);
            assert!(part(&guide, &route).contains(&row), "{route:?} has no row {row}");
        }
    }
}

#[test]
fn every_code_is_listed_with_what_it_says() {
    let guide = guide();
    let listed = section(&guide, "## What each code means").lines();
    let listed: Vec<&str> = listed.filter(|line| line.starts_with("| `")).collect();
    let codes = Code::ALL.iter().map(|code| format!("| `{}` | {} |", code.name(), code.meaning()));
    assert_eq!(listed, codes.collect::<Vec<String>>());
}

#[test]
fn every_unit_kind_and_function_of_the_language_is_listed() {
    let guide = guide();
    let words = code_words(&guide);
    for (dimension, units) in offered_units() {
        for unit in units {
            assert!(words.contains(unit), "{unit}, a unit of {dimension}, is missing");
        }
    }
    for kind in Kind::words() {
        assert!(words.contains(&kind), "{kind} is missing");
    }
    for (function, ..) in OWN {
        let listed = words.iter().any(|word| word.split('(').next() == Some(function));
        assert!(listed, "{function} is missing");
    }
}

#[test]
fn strengths_are_worth_what_the_guide_says() {
    let guide = guide();
    let rows: Vec<(&str, f64)> = section(&guide, "## How rules are weighed")
        .lines()
        .filter_map(|line| {
            let mut cells = line.split('|').map(str::trim).skip(1);
            let word = cells.next()?.strip_prefix('`')?.strip_suffix('`')?;
            Some((word, cells.next()?.parse().unwrap()))
        })
        .collect();
    assert_eq!(rows.len(), 6);
    for (word, chance) in rows {
        let rules = format!(
            "questions:\n  seen:\n    text: Seen?\n    answer: yes_or_no\n\
             findings:\n  it_is_seen:\n    when: seen\n    leak: 0\n\
             causes:\n  it_is_there:\n    title: It\n    common: 0.5\n    brings: {{it_is_seen: {word}}}\n"
        );
        let (_folder, loaded) = over_the_built_in(&rules);
        let findings = loaded.pack.network.findings();
        assert_eq!(findings.last().unwrap().links[0].strength, chance, "{word}");
    }
}
