//! Rule files that mean harm are refused quickly, with a message, and get nowhere near the screen.

use std::fs::{self, File};
use std::path::Path;
use std::process::Output;
use std::time::Duration;

use assert_cmd::Command;
use boostwright::text::is_clean;
use tempfile::TempDir;

use super::bench::{SOUND, checked_text};
use crate::clock::Clock;

/// What a person waits without wondering. Unoptimised, the program is some ten times slower.
const QUICK: Duration = Duration::from_secs(if cfg!(debug_assertions) { 10 } else { 2 });

fn program() -> Command {
    let mut command = Command::cargo_bin("boostwright").unwrap();
    command.env_clear().timeout(Duration::from_secs(60));
    command
}

/// `pack check` of a folder alone.
fn check(folder: &Path) -> Output {
    program().args(["pack", "check", "--only"]).arg(folder).output().unwrap()
}

fn folder() -> TempDir {
    TempDir::new().unwrap()
}

/// Exit code, and all that reaches the screen.
fn seen(output: &Output) -> (i32, String) {
    let text = [output.stdout.as_slice(), output.stderr.as_slice()].concat();
    (output.status.code().expect("it ends by itself"), String::from_utf8(text).unwrap())
}

/// Does it within the time.
fn quickly<T>(what: &str, work: impl Fn() -> T) -> T {
    let clock = Clock::start();
    let done = work();
    let took = clock.worked();
    assert!(took < QUICK, "{what} takes {took:?}");
    done
}

/// Codes of the faults of a text.
fn codes(what: &str, text: &str) -> Vec<&'static str> {
    quickly(what, || {
        let (_folder, loaded) = checked_text(text);
        let drawn = loaded.faults.draw(false);
        assert!(!drawn.is_empty(), "{what}");
        loaded.faults.list.iter().map(|fault| fault.code().name()).collect()
    })
}

#[test]
fn aliases_that_grow_tenfold_with_every_line_are_refused() {
    let mut text = String::from("pack:\n  name: &a0 [boost, boost]\n");
    for level in 1..=30 {
        let aliases = vec![format!("*a{}", level - 1); 10].join(", ");
        text += &format!("  name{level}: &a{level} [{aliases}]\n");
    }
    assert!(codes("alias bomb", &text).contains(&"banned-yaml"));
}

#[test]
fn a_hundred_thousand_brackets_are_refused_whatever_their_sort() {
    for bracket in ["[", "{", "- ", "? ", "[{", "{a: ", "- - - a\n", "((", "\"", "'", "|\n", "&a "]
    {
        let count = 200_000 / bracket.len();
        let found = codes(bracket, &format!("questions: {}", bracket.repeat(count)));
        assert!(!found.is_empty(), "{bracket}");
        let found = codes(bracket, &bracket.repeat(count));
        assert!(!found.is_empty(), "{bracket}");
    }
    let closed = "[".repeat(100_000) + &"]".repeat(100_000);
    assert_eq!(codes("closed", &format!("questions: {closed}")), ["deep-yaml"]);
    let steps: String = (0..500).map(|depth| " ".repeat(depth) + "a:\n").collect();
    assert_eq!(codes("block style", &steps), ["deep-yaml"]);
}

#[test]
fn a_session_of_a_hundred_thousand_brackets_is_refused_too() {
    let folder = folder();
    let path = folder.path().join("answers.yaml");
    fs::write(&path, format!("answers: {}", "[".repeat(100_000))).unwrap();
    let output = quickly("replay", || program().arg("replay").arg(&path).output().unwrap());
    let (code, text) = seen(&output);
    assert_eq!(code, 2);
    assert!(text.contains("nested more than"), "{text}");
}

#[test]
fn a_file_of_nothing_but_mistakes_is_told_some_of_them_soon() {
    // As large as a file may be; unoptimised, large enough for what grows by its square to show.
    let size = if cfg!(debug_assertions) { 250_000 } else { 1_000_000 };
    let filled = |line: &dyn Fn(usize) -> String| -> String {
        let mut text = String::new();
        for place in 0.. {
            let next = line(place);
            if text.len() + next.len() > size {
                break;
            }
            text += &next;
        }
        text
    };
    let entries: [(&str, &dyn Fn(usize) -> String); 8] = [
        ("findings:\n", &|n| format!("  f{n}: {{when: nobody_{n} > 1, leak: 0.1}}\n")),
        ("findings:\n", &|n| format!("  f{n}: {{wen: a}}\n")),
        ("findings:\n", &|_| "  same: {when: a}\n".to_owned()),
        ("causes:\n", &|n| format!("  c{n}: {{title: a, common: 0.1, brings: {{f{n}: 1}}}}\n")),
        ("steps:\n", &|n| format!("  s{n}: {{then: [{{go: s{}}}]}}\n", n + 1)),
        ("steps:\n", &|n| format!("  s{n}: {{then: [{{go: s{}}}, {{go: s0}}]}}\n", n / 2)),
        ("workings:\n", &|n| format!("  w{n}: {{formula: w{} + 1}}\n", n + 1)),
        ("relations:\n", &|n| format!("  r{n}: {{given: [x], formula: r{}(x)}}\n", n / 2)),
    ];
    for (section, entry) in entries {
        let text = section.to_owned() + &filled(entry);
        codes(&entry(7), &text);
    }
    codes("letters", &format!("pack:\n  about: \"{}\"\n", "\\e".repeat(size / 3)));
    codes("one line", &format!("pack: {{{}}}\n", "a, ".repeat(size / 4)));
    codes("one key", &format!("{}: 1\n", "a".repeat(size)));
}

#[test]
fn a_file_of_a_gigabyte_is_refused_unread() {
    let folder = folder();
    let path = folder.path().join("large.yaml");
    File::create(&path).unwrap().set_len(1 << 30).unwrap();
    let (code, text) = seen(&quickly("a gigabyte", || check(folder.path())));
    assert_eq!(code, 2);
    assert!(text.contains("large.yaml") && text.contains("1 MiB"), "{text}");
    assert!(text.trim().lines().count() == 1, "{text}");
}

#[test]
fn more_files_and_deeper_folders_than_a_pack_has_are_refused() {
    let many = folder();
    for place in 0..300 {
        fs::write(many.path().join(format!("{place}.yaml")), "questions: {}\n").unwrap();
    }
    let (code, text) = seen(&quickly("many files", || check(many.path())));
    assert_eq!((code, text.contains("200 files")), (2, true), "{text}");
    let deep = folder();
    fs::create_dir_all(deep.path().join("a/".repeat(100))).unwrap();
    let (code, text) = seen(&quickly("deep folders", || check(deep.path())));
    assert_eq!((code, text.contains("too deep")), (2, true), "{text}");
}

#[cfg(unix)]
#[test]
fn links_are_not_followed_in_a_circle_or_out_of_the_folder() {
    use std::os::unix::fs::symlink;
    let elsewhere = folder();
    let secret = elsewhere.path().join("secret.yaml");
    fs::write(&secret, "the key is under the mat\n").unwrap();
    let folder = folder();
    symlink(folder.path(), folder.path().join("circle")).unwrap();
    symlink(folder.path(), folder.path().join("circle.yaml")).unwrap();
    symlink("/", folder.path().join("root")).unwrap();
    symlink(elsewhere.path(), folder.path().join("out")).unwrap();
    symlink(&secret, folder.path().join("out.yaml")).unwrap();
    symlink("/dev/zero", folder.path().join("zero.yaml")).unwrap();
    let (code, text) = seen(&quickly("links alone", || check(folder.path())));
    assert_eq!((code, text.contains("holds no rule file")), (2, true), "{text}");
    fs::write(folder.path().join("rules.yaml"), SOUND).unwrap();
    let (code, text) = seen(&quickly("links beside rules", || check(folder.path())));
    // Each is told, and none is followed.
    assert_eq!(code, 0, "{text}");
    assert!(text.starts_with("0 errors, 6 warnings\n"), "{text}");
    for link in ["circle", "circle.yaml", "out", "out.yaml", "root", "zero.yaml"] {
        assert!(text.contains(&format!("{}:1:1", folder.path().join(link).display())), "{text}");
    }
    assert!(!text.contains("the key is under"), "{text}");
}

#[test]
fn what_other_programs_keep_hidden_in_the_folder_is_no_rule_file() {
    let folder = folder();
    fs::write(folder.path().join("rules.yaml"), SOUND).unwrap();
    fs::create_dir_all(folder.path().join(".git/logs/refs/remotes/origin/deep")).unwrap();
    for hidden in [".git/config.yaml", "._rules.yaml", ".rules.yaml"] {
        fs::write(folder.path().join(hidden), b"\0\x05\x16\x07: [").unwrap();
    }
    let (code, text) = seen(&check(folder.path()));
    assert_eq!((code, text.as_str()), (0, "0 errors, 0 warnings\n"));
}

/// Clears the screen, sets its title, turns the reading direction, in the ways YAML can write it.
const WILD: [&str; 4] = [r"\e[2J\e]0;mine\a", r"\x9b2J\x9d", r"\u202egnp.exe\u2066", r"\0\b\b\b\r"];

/// Every section with its fields; `T` stands for a text, `I` for the start of an id.
const EVERY_FIELD: &str = "
pack: {name: T, version: T, author: T, licence: T, about: T, language: T, replaces: [T]}
complaints: {Ic: {title: T, about: T, start: Is, shows: [T], judged_by: T, better: T,
    gone_when: T, comparable_within: {T: T}}}
car_states: {Ik: {title: T, how: T, minutes: T, cautions: [T]}}
setups: {Iu: {title: T, how: T, put_back: T, minutes: T}}
instruments: {Ii: {title: T, class: T, span: T, uncertainty: T}}
questions:
  Iq: {text: T, how: T, why: T, normal: T, car: T, setup: T, tools: [T], minutes: T, sure: T,
    repeats: T, holds: T, fits: T, not_before: [T], answer: {choose: {Io: T, other: T}}}
  Im: {text: T, answer: {measure: T, unit: T, from: T, to: T, typical: T, read_with: [T]}}
  It: {text: T, answer: {table: {Ia: T, Ib: T}}}
relations: {Ir: {given: [T], formula: T}}
workings: {Iw: {title: T, formula: T, unit: T, says: T}}
curves: {Iv: {title: T, over: T, from: T, to: T, steps: T, formula: T, marks: [{at: T}]}}
readings: {Ij: {of: T, should_be: T, when: T, good_to: T}}
findings: {If: {when: T, says: T, leak: T, source: [T]}}
causes: {Ix: {title: T, about: T, common: T, fits: T, brings: {If: T}, confirmed_by: [T]}}
repairs: {Ip: {title: T, how: T, tools: [T], parts: [T], mends: [T], predicts: {T: T}}}
cautions: {Id: {level: T, text: T, when: T, forbids: [T]}}
strengths: {Ih: T}
sources: {Ie: {title: T, kind: T, where: T}}
steps: {Is: {title: T, ask: [T], work: [T], until: T, then: [{when: T, go: T}]}}
cases: {In: {about: T, complaint: T, answers: {T: T}, then: {first: T, repair: T, cautions: [T]}}}
";

/// A pack with a wild text in every field, and perhaps in every name that its author chooses.
fn wild_pack(wild: &str, wild_names: bool) -> String {
    let mut pack = String::new();
    let mut letters = EVERY_FIELD.chars();
    while let Some(letter) = letters.next() {
        match letter {
            'T' => pack += &format!("\"a {wild} b\""),
            'I' => {
                let name = letters.next().unwrap();
                let wild = if wild_names { wild } else { "" };
                pack += &format!("\"an_id_{name}{wild}\"");
            }
            _ => pack.push(letter),
        }
    }
    pack
}

fn assert_tame(text: &str) {
    let wild = text.chars().find(|letter| *letter != '\n' && !is_clean(*letter));
    assert_eq!(wild, None, "{text:?}");
}

#[test]
fn what_steers_a_screen_is_refused_in_every_text_and_never_reaches_one() {
    for wild in WILD {
        for wild_names in [false, true] {
            let folder = folder();
            fs::write(folder.path().join("rules.yaml"), wild_pack(wild, wild_names)).unwrap();
            let output = quickly("wild texts", || check(folder.path()));
            let (code, text) = seen(&output);
            assert_eq!(code, 1, "{wild}");
            assert!(text.contains("steering-letter"), "{text}");
            assert_tame(&text);
            for verb in [&["pack", "test"][..], &["pack", "list"], &["ask", "no_such.yaml"]] {
                let mut command = program();
                command.current_dir(folder.path()).args(verb);
                command.args(["--only", "--pack", "."]);
                assert_tame(&seen(&command.output().unwrap()).1);
            }
        }
    }
}

#[cfg(unix)]
#[test]
fn names_of_files_and_folders_reach_the_screen_as_text() {
    let folder = folder();
    let pack = folder.path().join("a\u{1b}[2Jb\u{202e}");
    fs::create_dir(&pack).unwrap();
    let (code, text) = seen(&check(&pack));
    assert_eq!(code, 2);
    assert_tame(&text);
    fs::write(pack.join("r\u{1b}]0;x\u{7}\u{9b}.yaml"), "questions: {a: {}}\n").unwrap();
    let (code, text) = seen(&check(&pack));
    assert_eq!(code, 1);
    assert_tame(&text);
    for verb in ["replay", "show", "answer"] {
        let output = program().arg(verb).arg(pack.join("none\u{1b}[2J.yaml")).output().unwrap();
        assert_tame(&seen(&output).1);
    }
    fs::write(pack.join("answers\u{1b}.yaml"), "complaint: [\"x\\e[2J\"]\n").unwrap();
    let output = program().arg("replay").arg(pack.join("answers\u{1b}.yaml")).output().unwrap();
    assert_tame(&seen(&output).1);
}
