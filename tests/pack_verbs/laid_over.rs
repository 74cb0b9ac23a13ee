//! `pack check` of a folder: laid over the built-in rules as `--pack` would, and what it says of what a
//! pack changes in those below it.

use std::fs;

use tempfile::TempDir;

use super::{folder, outcome};
use crate::project::rule_files;

/// A small pack that stands alone; all invented.
const OWN: &str = "\
complaints:
  mine: {title: It pulls to one side, start: my_step, shows: [my_finding]}
questions:
  my_question: {text: Is it so?, answer: yes_or_no}
findings:
  my_finding: {when: my_question, leak: 1 in 10}
causes:
  my_cause: {title: It is this, common: 1 in 10, brings: {my_finding: usually}}
repairs:
  my_repair: {title: Mend this, mends: [my_cause]}
steps:
  my_step: {ask: [my_question], then: [{go: conclude}]}
";

/// `pack check pack` and `pack check --pack pack`, in the folder above.
fn both_ways(rules: &str) -> [(i32, String, String); 2] {
    let above = TempDir::new().unwrap();
    fs::create_dir(above.path().join("pack")).unwrap();
    fs::write(above.path().join("pack/rules.yaml"), rules).unwrap();
    [["pack", "check", "pack"].as_slice(), &["pack", "check", "--pack", "pack"]]
        .map(|arguments| outcome(above.path(), arguments))
}

#[test]
fn a_folder_is_checked_as_it_would_be_laid_over() {
    for rules in [OWN, "strengths: {now_and_then: 1 in 3}\n"] {
        let [(code, out, err), _] = both_ways(rules);
        assert_eq!((code, out.starts_with("0 errors")), (0, true), "{out}{err}");
        assert!(err.contains("Laid over the built-in rules."), "{err}");
    }
}

#[test]
fn a_folder_that_only_stands_alone_is_told_as_such_with_what_stands_against_laying_it_over() {
    // A question of the built-in rules bears this id, and is read all over them.
    let rules = format!("{OWN}workings:\n  boost_seen: {{formula: 2 * 1 bar, unit: bar}}\n");
    let [alone, over] = both_ways(&rules);
    assert!(alone.2.contains("Checked on its own"), "{}", alone.2);
    assert!(alone.2.contains("Laid over the built-in rules it has 1 error:"), "{}", alone.2);
    assert!(alone.2.contains("pack check --pack pack"), "{}", alone.2);
    // One mistake, one message: nothing of what follows from it.
    assert_eq!(over.0, 1);
    assert!(over.1.starts_with("1 error,"), "{}\n{}", over.1, over.2);
    assert!(over.2.contains("the id boost_seen is taken"), "{}", over.2);
}

#[test]
fn a_finding_of_a_taken_id_has_no_follow_ups_either() {
    let section = "findings:\n  boost_seen: {when: my_question, leak: 1 in 10}\n";
    let [_, over] = both_ways(&OWN.replace("findings:\n", section));
    assert!(over.1.starts_with("1 error,"), "{}\n{}", over.1, over.2);
}

#[test]
fn a_word_for_a_strength_that_every_pack_knows_is_only_given_anew_where_that_is_said() {
    let silent = "strengths: {usually: 0.01, nearly_always: 0.02}\n";
    let [(code, out, err), _] = both_ways(silent);
    assert_eq!((code, out.starts_with("2 errors")), (1, true), "{out}{err}");
    for word in ["usually is a word that every pack uses, worth 0.8", "under replaces"] {
        assert!(err.contains(word), "{err}");
    }
    let laid = folder(silent);
    let pack = laid.path().to_str().unwrap();
    let complaint = "boost_too_high_controller_off";
    let (code, _, _) = outcome(
        laid.path(),
        &["answer", "s.yaml", "--pack", pack, "--complaint", complaint, "boost_seen=1.05 bar"],
    );
    assert_eq!(code, 2, "such a pack is not used");
    assert!(!laid.path().join("s.yaml").exists());
}

#[test]
fn what_a_replacement_changes_is_said_with_how_many_causes_it_reweighs() {
    let said = "pack: {replaces: [usually]}\nstrengths: {usually: 0.7}\n";
    let [(code, out, err), _] = both_ways(said);
    assert_eq!((code, out.starts_with("0 errors")), (0, true), "{out}{err}");
    assert!(
        err.contains("The strength usually is replaced: 0.8 becomes 0.7, which affects "),
        "{err}"
    );
    // Counted from the rules as they are written.
    let mut causes = 0;
    for path in rule_files() {
        causes += causes_that_say("usually", &fs::read_to_string(path).unwrap());
    }
    assert!(causes > 10 && err.contains(&format!("affects {causes} of ")), "{causes}: {err}");
}

/// How many causes of a rule file bring something with this strength.
fn causes_that_say(word: &str, text: &str) -> usize {
    let file: boostwright::rules::written::File = boostwright::rules::yaml::read(text).unwrap();
    let brings = file.causes.into_iter().flatten().filter_map(|(_, cause)| cause.brings);
    brings.filter(|brings| brings.values().any(|strength| strength == word)).count()
}

#[test]
fn words_that_a_pack_below_gives_and_what_asking_costs_are_replaced_only_where_that_is_said() {
    let above = TempDir::new().unwrap();
    for (name, rules) in [
        ("low", "strengths: {now_and_then: 1 in 3}\n"),
        ("high", "strengths: {now_and_then: 1 in 4}\n"),
        ("said", "pack: {replaces: [now_and_then]}\nstrengths: {now_and_then: 1 in 4}\n"),
        ("asks", "pack: {asking: 1}\n"),
        ("asks_so", "pack: {asking: 1, replaces: [asking]}\n"),
    ] {
        fs::create_dir(above.path().join(name)).unwrap();
        fs::write(above.path().join(name).join("rules.yaml"), rules).unwrap();
    }
    let check = |dir: &str| outcome(above.path(), &["pack", "check", "--pack", "low", dir]);
    assert_eq!(check("high").0, 1);
    let (code, _, err) = check("said");
    assert_eq!(code, 0, "{err}");
    assert!(err.contains("now_and_then is replaced: 1 in 3 becomes 1 in 4"), "{err}");
    assert!(err.contains("Laid over the packs in use."), "{err}");
    let (code, _, err) = check("asks");
    assert_eq!(code, 1);
    assert!(err.contains("list asking under replaces"), "{err}");
    assert_eq!(check("asks_so").0, 0);
}

#[test]
fn a_pack_that_is_used_alone_may_give_every_word_its_own_worth() {
    let alone = folder(&format!("{OWN}strengths: {{usually: 0.7}}\n"));
    let (code, out, err) = outcome(alone.path(), &["pack", "check", "--only", "."]);
    assert_eq!((code, out.as_str()), (0, "0 errors, 0 warnings\n"), "{err}");
}
