//! What is longer than the screen goes through a pager, and what warns stands in colour, where a person
//! sits before it; nowhere else.

use std::process::Command;

use portable_pty::CommandBuilder;

use super::desk::{CTRL_C, Desk, command, program};
use crate::project::root;

/// The functions of the formula language: longer than any screen here.
fn long(pager: Option<&str>, more: &[&str]) -> CommandBuilder {
    let mut long = command(root(), &[&["calc", "--list"], more].concat());
    long.env_remove("PAGER");
    if let Some(pager) = pager {
        long.env("PAGER", pager);
    }
    long
}

fn flat(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// How a command ended in a terminal, and all that it said.
fn ended(command: CommandBuilder) -> (u32, String) {
    let mut desk = Desk::start(80, command);
    let code = desk.end();
    (code, flat(&desk.raw))
}

const MARKS: &str = "sed 's/^/paged: /'";

#[test]
fn a_long_result_goes_through_the_pager_of_the_persons_choice() {
    let (code, said) = ended(long(Some(MARKS), &[]));
    assert_eq!(code, 0, "{said}");
    assert!(said.contains("paged: circle_area"), "{said}");
}

#[test]
fn no_pager_where_the_person_wants_none_or_the_terminal_can_not() {
    let mut dumb = long(Some(MARKS), &[]);
    dumb.env("TERM", "dumb");
    for command in [long(Some(MARKS), &["--no-pager"]), long(Some(""), &[]), dumb] {
        let (code, said) = ended(command);
        assert_eq!(code, 0, "{said}");
        assert!(said.contains("circle_area") && !said.contains("paged:"), "{said}");
    }
}

#[test]
fn what_fits_on_the_screen_is_not_paged() {
    let mut short = command(root(), &["show", "transcripts-demo/hose_off.yaml"]);
    short.env("PAGER", MARKS);
    // The small pack doesn't know the recording's questions; whatever it says is short.
    let (_, said) = ended(short);
    assert!(!said.contains("paged:"), "{said}");
}

#[test]
fn a_pager_that_is_not_there_costs_nothing() {
    let (code, said) = ended(long(Some("no-such-pager-of-ours 2>/dev/null"), &[]));
    assert_eq!(code, 0, "{said}");
    assert!(said.contains("circle_area"), "{said}");
}

#[test]
fn a_pipe_is_never_paged() {
    let run = |pager: &str| {
        let mut command = Command::new(program());
        command.args(["calc", "--list"]).env("PAGER", pager).env("TERM", "xterm");
        command.output().unwrap()
    };
    let (paged, plain) = (run(MARKS), run(""));
    assert!(paged.status.success() && !paged.stdout.is_empty());
    assert_eq!(paged.stdout, plain.stdout);
}

#[test]
fn leaving_the_pager_early_is_no_failure() {
    let (code, said) = ended(long(Some("head -n 3"), &[]));
    assert_eq!(code, 0, "{said}");
    if Command::new("less").arg("--version").output().is_err() {
        return;
    }
    let mut desk = Desk::start(80, long(None, &[]));
    desk.sees("Arguments go by place or by name").press("q");
    assert_eq!(desk.end(), 0, "{}", desk.shown());
}

/// It reaches the pager, too; whichever of the two ends by it, the code is that of an interrupt.
#[test]
fn ctrl_c_that_ends_the_pager_ends_the_program_with_130() {
    let mut desk = Desk::start(80, long(Some("cat > /dev/null; echo is read; sleep 50"), &[]));
    desk.sees("is read").press(CTRL_C);
    assert_eq!(desk.end(), 130, "{}", desk.shown());
}

/// The first page of an invented car whose boost nothing limits.
fn with_a_stop(environment: &[(&str, &str)]) -> Vec<u8> {
    let mut command = CommandBuilder::new(program());
    command.args(["show", "transcripts-demo/wrong_answer.yaml"]);
    command.cwd(root());
    command.env("TERM", "xterm-256color");
    command.env_remove("NO_COLOR");
    for (name, value) in environment {
        command.env(name, value);
    }
    let mut desk = Desk::start(80, command);
    desk.end();
    desk.raw
}

/// `ESC [ 31 m` is red (ECMA-48:1991, 8.3.117).
#[test]
fn what_can_hurt_stands_in_colour_where_colour_is_wanted() {
    let coloured = String::from_utf8(with_a_stop(&[])).unwrap();
    for level in ["STOP: ", "DANGER: "] {
        let lines: Vec<&str> = coloured.lines().filter(|line| line.contains(level)).collect();
        assert!(!lines.is_empty(), "{coloured}");
        assert!(lines.iter().all(|line| line.contains("\u{1b}[31m")), "{lines:?}");
    }
    let plain = coloured.lines().find(|line| line.contains("WHAT TO DO NOW")).unwrap();
    assert!(!plain.contains('\u{1b}'), "{plain:?}");
    for without in [("NO_COLOR", "1"), ("TERM", "dumb")] {
        let said = with_a_stop(&[without]);
        assert!(!said.contains(&0x1b) && flat(&said).contains("STOP: "), "{without:?}");
    }
    // An empty NO_COLOR counts as none (no-color.org).
    assert!(with_a_stop(&[("NO_COLOR", "")]).contains(&0x1b));
}
