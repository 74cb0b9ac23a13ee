//! The guide for authors of rules: its example holds, each mistake gives the message it shows, and
//! its tables leave nothing out.

use std::fs;
use std::rc::Rc;

use boostwright::formula::OWN;
use boostwright::interview::{Round, fold, try_case};
use boostwright::quantity::{Kind, offered_units};
use boostwright::rules::{Loaded, PackSource, fields_of, load, written as w};
use tempfile::TempDir;

use super::markdown::{Block, blocks, code_words, section};
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
    let trial = try_case(&loaded.pack, case, &Rc::default());
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

#[test]
fn every_section_and_field_is_explained() {
    let guide = guide();
    let explained = |heading: &str, fields: Option<&'static [&'static str]>| {
        let part = section(&guide, heading);
        let words: Vec<&str> =
            code_words(part).iter().flat_map(|code| code.split([':', ' '])).collect();
        for field in fields.unwrap() {
            let in_example =
                part.contains(&format!(" {field}: ")) || part.contains(&format!(" {field}:\n"));
            assert!(words.contains(field) || in_example, "{heading} doesn't explain {field}");
        }
    };
    for name in fields_of::<w::File>().unwrap() {
        assert!(guide.contains(&format!("\n### {name}\n")), "{name} has no heading");
    }
    explained("### pack", fields_of::<w::Head>());
    explained("### complaints", fields_of::<w::Complaint>());
    explained("### car_states", fields_of::<w::CarState>());
    explained("### setups", fields_of::<w::Setup>());
    explained("### instruments", fields_of::<w::Instrument>());
    explained("### questions", fields_of::<w::Question>());
    explained("### questions", fields_of::<w::AnswerFields>());
    explained("### relations", fields_of::<w::Relation>());
    explained("### workings", fields_of::<w::Working>());
    explained("### curves", fields_of::<w::Curve>());
    explained("### findings", fields_of::<w::Finding>());
    explained("### causes", fields_of::<w::Cause>());
    explained("### repairs", fields_of::<w::Repair>());
    explained("### cautions", fields_of::<w::Caution>());
    explained("### steps", fields_of::<w::Step>());
    explained("### steps", fields_of::<w::Branch>());
    explained("### sources", fields_of::<w::Source>());
    explained("### cases", fields_of::<w::Case>());
    explained("### cases", fields_of::<w::Expected>());
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
