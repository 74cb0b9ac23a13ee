//! What is saved reads back: odd letters, more rounds or bytes than are read, a disk that fails once
//! the new text is in its place.

use std::fmt::Write as _;
use std::process::Command;

use super::bench::{Bench, Ran};

/// Letters that end a line for one reader and not for another, that steer a screen, or that nobody
/// sees.
const ODD: [&str; 9] = [
    "1.05\n\u{2028}bar",
    "\u{2028}\ntrue",
    "a\n\u{2029}b",
    "\u{85}\nb",
    "\r\nb",
    "a\u{7}\u{1b}[31m",
    "\u{202e}abc",
    "\u{feff}a\n\tb",
    "\"quoted\" \\ and\u{200b}\n\nlines",
];

#[test]
fn an_answer_with_odd_letters_is_refused_or_reads_again() {
    for odd in ODD {
        let bench = Bench::begun();
        for id in ["boost_seen", "knock_heard"] {
            let before = bench.read("boost.yaml");
            let ran = bench.run(&["answer", "boost.yaml", &format!("{id}={odd}")]);
            if ran.code == Some(2) {
                assert_eq!(bench.read("boost.yaml"), before, "{odd:?}");
            }
        }
        let shown = bench.run(&["show", "boost.yaml"]);
        assert_eq!(shown.code, Some(0), "{odd:?}: {shown:?}\n{}", bench.read("boost.yaml"));
        assert!(!shown.stdout.contains(['\u{2028}', '\u{202e}', '\u{1b}']), "{odd:?}: {shown:?}");
    }
}

#[test]
fn what_is_only_kept_comes_through_a_save_as_it_was() {
    for odd in ODD {
        let bench = Bench::begun();
        let escaped: String =
            odd.chars().map(|letter| format!("\\U{:08X}", u32::from(letter))).collect();
        let begun = bench.read("boost.yaml");
        bench.write(
            "boost.yaml",
            &begun.replace("rounds:", &format!("car: \"{escaped}\"\nrounds:")),
        );
        let saved = bench.run(&["answer", "boost.yaml", "knock_heard=no"]);
        assert_eq!(saved.code, Some(0), "{odd:?}: {saved:?}");
        let shown = bench.run(&["show", "boost.yaml"]);
        assert_eq!(shown.code, Some(0), "{odd:?}: {shown:?}\n{}", bench.read("boost.yaml"));
        let (session, _) =
            boostwright::session::read_session(&bench.path("boost.yaml")).expect("it reads again");
        assert_eq!(session.car.as_deref(), Some(odd));
    }
}

#[test]
fn a_pack_whose_name_holds_odd_letters_locks_nobody_out() {
    for name in ["\\u2028\\ntrue", "\\n\\u2028c"] {
        let bench = Bench::new();
        let rules = format!(
            "pack: {{name: \"{name}\"}}\n\
             complaints:\n  too_high: {{title: Boost too high, start: look}}\n\
             questions:\n  hose: {{text: Is the hose whole?, answer: yes_or_no}}\n\
             steps:\n  look: {{ask: [hose], then: [{{go: conclude}}]}}\n"
        );
        bench.write("odd/rules.yaml", &rules);
        let alone = ["--only", "--pack", "odd"];
        let begin = ["answer", "b.yaml", "--complaint", "too_high", "hose=yes"];
        assert_eq!(bench.run(&[&begin[..], &alone].concat()).code, Some(0));
        let ran = bench.run(&[&["show", "b.yaml"][..], &alone].concat());
        assert_eq!(ran.code, Some(0), "{ran:?}\n{}", bench.read("b.yaml"));
    }
}

#[test]
fn a_save_that_would_be_larger_than_what_is_read_is_refused() {
    let bench = Bench::begun();
    let begun = bench.read("boost.yaml");
    // Four bytes short of the 4 MiB that are read.
    let note = (4 << 20) - 4 - begun.len() - "car: \n".len();
    let full = begun.replace("rounds:", &format!("car: {}\nrounds:", "x".repeat(note)));
    bench.write("boost.yaml", &full);
    assert_eq!(bench.run(&["show", "boost.yaml"]).code, Some(0));
    bench.run(&["answer", "boost.yaml", "knock_heard=no"]).refused_with(&[
        "was not saved",
        "4 MiB",
        "untouched",
    ]);
    assert!(bench.read("boost.yaml") == full, "the old file stays");
    assert_eq!(bench.run(&["show", "boost.yaml"]).code, Some(0));
}

#[test]
fn numbers_that_other_rules_asked_for_come_through_a_save_as_they_were_written() {
    let bench = Bench::begun();
    let numbers = ["1.10", "0x1F", "1e3", ".inf", "007"];
    let mut lines = String::from("answers:\n");
    for (place, number) in numbers.iter().enumerate() {
        let _ = writeln!(lines, "    other_{place}: {number}");
    }
    let begun = bench.read("boost.yaml").replacen("answers:\n", &lines, 1);
    let digest = begun.lines().find(|line| line.contains("digest:")).unwrap();
    bench.write("boost.yaml", &begun.replacen(digest, "  digest: '0123456789abcdef'", 1));
    let ran = bench.run(&["answer", "boost.yaml", "knock_heard=no"]);
    assert_eq!(ran.code, Some(0), "{ran:?}");
    let (session, _) = boostwright::session::read_session(&bench.path("boost.yaml")).unwrap();
    for (place, number) in numbers.iter().enumerate() {
        let kept = &session.rounds[0].answers[&format!("other_{place}")];
        assert_eq!(*kept, boostwright::rules::Given::Text((*number).to_owned()));
    }
}

#[test]
fn what_is_wrong_with_a_session_is_told_at_its_own_line() {
    let bench = Bench::begun();
    let begun = bench.read("boost.yaml");
    let at = begun.lines().count() + 1;
    bench.write("boost.yaml", &format!("{begun}    [needle, knock]: yes\n"));
    bench.run(&["show", "boost.yaml"]).refused_with(&[&format!("boost.yaml:{at}:5"), "as a key"]);
    let mut bytes = begun.into_bytes();
    bytes.extend(b"    knock_heard: \xff\n");
    std::fs::write(bench.path("boost.yaml"), bytes).unwrap();
    bench.run(&["show", "boost.yaml"]).refused_with(&[&format!("line {at} is not UTF-8")]);
    bench.write("boost.yaml", "format: 2\nwritten_by: boostwright 0.1.0\n");
    let ran = bench.run(&["show", "boost.yaml"]);
    ran.refused_with(&["format 2", "Use the version that wrote it"]);
}

/// Runs a command with one kind of system call failing. None where nothing is installed to do so.
fn with_failing(bench: &Bench, what: &str, arguments: &[&str]) -> Option<Ran> {
    let mut strace = Command::new("strace");
    strace.args(["-f", "-qq", "-o", "/dev/null", "-e", &format!("inject={what}")]);
    let command = bench.command(arguments);
    strace.arg(command.get_program()).args(command.get_args());
    strace.env("NO_COLOR", "1").current_dir(bench.path("."));
    strace.output().ok().map(Ran::of)
}

#[cfg(target_os = "linux")]
#[test]
fn where_no_thread_can_be_started_the_work_is_done_without() {
    let bench = Bench::begun();
    let alike = bench.run(&["show", "boost.yaml"]).stdout;
    for failing in ["clone3:error=EAGAIN", "clone3:error=EAGAIN:when=2+"] {
        let Some(ran) = with_failing(&bench, failing, &["show", "boost.yaml"]) else { return };
        assert_eq!((ran.code, &ran.stdout), (Some(0), &alike), "{ran:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn where_the_folder_cannot_be_brought_to_the_disk_it_is_saved_and_said_so() {
    let bench = Bench::begun();
    for (error, question) in [("EIO", "knock_heard"), ("ENOSPC", "last_work")] {
        // The first goes to the new file, the second to its folder.
        let failing = format!("fsync:error={error}:when=2");
        let answer = format!("{question}=unknown");
        let Some(ran) = with_failing(&bench, &failing, &["answer", "boost.yaml", &answer]) else {
            return;
        };
        let after = bench.read("boost.yaml");
        assert!(after.contains(question), "{after}");
        assert_eq!(ran.code, Some(0), "{ran:?}");
        ran.says(&["boost.yaml is saved", "not yet safe against a power cut"]);
        assert!(!ran.stderr.contains("untouched"), "{ran:?}");
        // Where the file itself is refused, nothing is.
        let failing = format!("fsync:error={error}:when=1");
        let ran = with_failing(&bench, &failing, &["answer", "boost.yaml", "boost_seen=1.1 bar"])
            .expect("it ran before");
        ran.refused_with(&["could not be saved", "untouched"]);
        assert_eq!(bench.read("boost.yaml"), after);
    }
}

#[test]
fn a_session_of_a_hundred_rounds_can_still_be_answered() {
    let bench = Bench::begun();
    let mut full = bench.read("boost.yaml");
    for _ in 1..100 {
        let _ = write!(full, "- repair: mend_signal_hose\n  answers: {{}}\n");
    }
    bench.write("boost.yaml", &full);
    let ran = bench.run(&["show", "boost.yaml"]);
    // The repair need not be known to say whether there is room.
    assert!(!ran.stderr.contains("more than 100 rounds"), "{ran:?}");
    bench.write("boost.yaml", &(full + "- repair: mend_signal_hose\n  answers: {}\n"));
    bench.run(&["show", "boost.yaml"]).refused_with(&["more than 100 rounds"]);
}
