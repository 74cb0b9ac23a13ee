//! The program itself in a real terminal: keys, widths, signals, and nothing lost.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use tempfile::{TempDir, tempdir};

use super::desk::{CTRL_C, CTRL_D, CTRL_Z, DOWN, Desk, ENTER, ESC, UP, command, program};

/// The answers that a session's file holds, as lines of YAML.
fn saved(folder: &Path) -> Vec<String> {
    let text = fs::read_to_string(folder.join("boost.yaml")).unwrap_or_default();
    let answers = text.split("answers:").nth(1).unwrap_or_default();
    answers.lines().map(str::trim).filter(|line| line.contains(": ")).map(str::to_owned).collect()
}

/// A folder with a session at its first question, and the desk at it.
fn begun(columns: u16) -> (TempDir, Desk) {
    let folder = tempdir().unwrap();
    let mut desk = Desk::ask(columns, folder.path());
    desk.asked("What is wrong with the boost?").line("1");
    desk.asked("Is the hose whole?");
    (folder, desk)
}

/// From the first question to the conclusion, with a look at everything on the way.
fn whole_interview(columns: u16) {
    let (folder, mut desk) = begun(columns);
    desk.line("h").asked("Look and feel along it.");
    desk.line("w").asked("hose split would lead");
    desk.line("?").asked("stop for today");
    desk.line("xyz").asked("\"xyz\" is not one of the choices");
    // A value has no place here; what is said of it names all that was typed.
    desk.line("0,52 bar").asked("\"0,52 bar\" is not one of the choices");
    desk.press("7").sees("> 7").press("\x1b[Z").press(UP).press(UP).press(DOWN).sees("> 2 no");
    desk.press(UP).sees("> 1 yes").press(ENTER);
    desk.asked("What does the needle do?").line("l");
    desk.asked("At what pressure does the rod start to move?").press(ESC);
    desk.asked("What does the needle do?").line("1");
    desk.asked("At what pressure does the rod start to move?").line("4,2 bar");
    desk.asked("outside the plausible range").line("0,42");
    desk.asked("Is it 0,42 bar?").line("y");
    desk.asked("Pressure against travel?").line("c");
    desk.asked("What is the highest boost?").line("0.9 bar");
    desk.asked("2/3").line("0.92 bar");
    desk.asked("3/3").line("");
    desk.asked("with the gate tied open?").line("later");
    desk.asked("Does the gate stick?").line("2");
    desk.asked("with the gate tied open?").line("0.5 bar");
    desk.asked("Put back first: gate tied open").line("1");
    desk.sees("after a repair: boostwright recheck boost.yaml");
    assert_eq!(desk.end(), 0);
    assert_eq!(
        saved(folder.path())[..7],
        [
            "hose_sound: yes",
            "needle: climbs",
            "opens_at: 0,42 bar",
            "travel: unknown",
            "peak: 0.9 bar; 0.92 bar",
            "gate_sticks: no",
            "peak_tied_open: 0.5 bar",
        ]
    );
}

#[test]
fn a_whole_interview_at_eighty_columns() {
    whole_interview(80);
}

#[test]
fn a_whole_interview_at_forty_columns() {
    whole_interview(40);
}

#[test]
fn killed_at_any_prompt_it_goes_on_with_nothing_lost_but_the_line_being_typed() {
    let folder = tempdir().unwrap();
    let kill = |desk: &mut Desk| {
        desk.signal("KILL").end();
    };
    let mut desk = Desk::ask(80, folder.path());
    kill(desk.asked("What is wrong with the boost?").press("1").sees("> 1"));
    let steps = [
        ("What is wrong with the boost?", "1\r", "Is the hose whole?"),
        ("Is the hose whole?", "1\r", "What does the needle do?"),
        ("What does the needle do?", "1\r", "At what pressure"),
        ("At what pressure", "0.42 bar\r", "Pressure against travel?"),
        ("Pressure against travel?", "0.4 bar\r0 mm\r", "row 2, pressure"),
        ("What is the highest boost?", "0.9 bar\r", "2/3"),
        ("2/3", "0.92 bar\r", "3/3"),
        ("3/3", "0.91 bar\r", "with the gate tied open?"),
        ("with the gate tied open?", "l\r", "Does the gate stick?"),
        ("Does the gate stick?", "unkno", "> unkno"),
    ];
    for (now, keys, then) in steps {
        let mut desk = Desk::ask(80, folder.path());
        let mut lines = keys.split_inclusive(ENTER).peekable();
        desk.asked(now);
        // What comes before the next prompt stands would be dropped: each is waited for by its name.
        let mut prompts =
            if now.starts_with("Pressure") { vec!["row 1, travel"] } else { vec!["2/3", "3/3"] }
                .into_iter();
        while let Some(line) = lines.next() {
            desk.press(line);
            if lines.peek().is_some() {
                desk.asked(prompts.next().unwrap());
            }
        }
        kill(desk.sees(then));
    }
    assert_eq!(
        saved(folder.path()),
        [
            "hose_sound: yes",
            "needle: climbs",
            "opens_at: 0.42 bar",
            "- pressure: 0.4 bar",
            "travel: 0 mm",
            "peak: 0.9 bar; 0.92 bar; 0.91 bar",
            "peak_tied_open: later",
        ]
    );
}

#[test]
fn a_file_changed_meanwhile_is_told_and_the_person_chooses() {
    let (folder, mut desk) = begun(80);
    let path = folder.path().join("boost.yaml");
    let theirs = fs::read_to_string(&path).unwrap() + "# changed in an editor\n";
    fs::write(&path, &theirs).unwrap();
    desk.line("1").asked("was changed by somebody else").asked("Is the hose whole?");
    assert_eq!(fs::read_to_string(&path).unwrap(), theirs);
    desk.line("1").asked("What does the needle do?");
    assert_eq!(saved(folder.path()), ["hose_sound: yes"]);
    assert_eq!(fs::read_to_string(folder.path().join("boost.yaml.other")).unwrap(), theirs);
}

#[test]
fn ctrl_c_ends_with_130_the_cursor_shown_and_the_answers_saved() {
    for typed in ["", "0.4"] {
        let (folder, mut desk) = begun(80);
        desk.line("1").asked("What does the needle do?").line("1").asked("At what pressure");
        if !typed.is_empty() {
            desk.press(typed).sees(&format!("> {typed}"));
        }
        desk.press(CTRL_C);
        assert_eq!(desk.end(), 130, "{}", desk.shown());
        assert!(!desk.cursor_is_hidden());
        assert!(desk.shown().contains("To continue: boostwright ask boost.yaml"));
        assert_eq!(saved(folder.path()), ["hose_sound: yes", "needle: climbs"]);
    }
}

#[test]
fn ctrl_c_before_there_is_a_session_leaves_no_file() {
    let folder = tempdir().unwrap();
    let mut desk = Desk::ask(80, folder.path());
    desk.asked("What is wrong with the boost?").press(CTRL_C);
    assert_eq!(desk.end(), 130);
    assert!(!folder.path().join("boost.yaml").exists());
}

#[test]
fn told_to_end_by_a_signal_it_ends_with_130_and_the_answers_saved() {
    for signal in ["INT", "TERM", "HUP"] {
        let (folder, mut desk) = begun(80);
        desk.line("1").asked("What does the needle do?").signal(signal);
        assert_eq!(desk.end(), 130, "{signal}: {}", desk.shown());
        assert_eq!(saved(folder.path()), ["hose_sound: yes"]);
    }
}

#[test]
fn it_ends_when_the_terminal_is_closed() {
    let (folder, mut desk) = begun(80);
    desk.line("1").asked("What does the needle do?");
    drop(desk.master.take());
    desk.signal("HUP");
    desk.end();
    assert_eq!(saved(folder.path()), ["hose_sound: yes"]);
}

#[test]
fn the_end_of_input_stops_for_today() {
    for at_a_value in [false, true] {
        let (_folder, mut desk) = begun(80);
        if at_a_value {
            desk.line("1").asked("What does the needle do?").line("1").asked("At what pressure");
        }
        desk.press(CTRL_D).sees("Every answer is saved in boost.yaml.");
        assert_eq!(desk.end(), 0);
    }
}

#[test]
fn keys_pressed_while_nobody_reads_answer_nothing_and_are_not_echoed() {
    let (folder, mut desk) = begun(80);
    // All at once, so that most of them come before the question they would answer.
    desk.press(&format!("1\r2\r1\r{CTRL_D}"));
    desk.asked("What does the needle do?").sees("before this question appeared was ignored");
    assert_eq!(saved(folder.path()), ["hose_sound: yes"]);
    assert!(!desk.shown().contains("^D"), "{}", desk.shown());
    desk.press(CTRL_D).sees("Every answer is saved in boost.yaml.");
    assert_eq!(desk.end(), 0);
}

#[test]
fn a_paste_of_many_lines_is_one_line() {
    let (folder, mut desk) = begun(80);
    // More than a terminal holds at once.
    desk.press(&format!("1\r{}", "2\r".repeat(4000))).asked("What does the needle do?");
    desk.line("1").asked("At what pressure does the rod start to move?");
    desk.press("0.42 bar\r0.5 bar\r0.6 bar\r").asked("row 1, pressure");
    assert_eq!(saved(folder.path()), ["hose_sound: yes", "needle: climbs", "opens_at: 0.42 bar"]);
    desk.press(CTRL_D);
    assert_eq!(desk.end(), 0);
}

#[test]
fn no_key_answers_before_enter() {
    for keys in ["2", "n", "no"] {
        let (folder, mut desk) = begun(80);
        desk.press(keys).sees("> 2 no");
        assert!(saved(folder.path()).is_empty());
        desk.press("\x7f\x7f").press("y").sees("> 1 yes").press(ENTER);
        desk.asked("What does the needle do?");
        assert_eq!(saved(folder.path()), ["hose_sound: yes"]);
    }
}

#[test]
fn a_fresh_typing_replaces_the_answer_that_stands_in_the_line() {
    let (folder, mut desk) = begun(80);
    desk.line("1").asked("What does the needle do?").line("1").asked("At what pressure");
    desk.line("1050 mbar").asked("row 1, pressure").line("b").sees("> 1050 mbar");
    desk.line("15 psi").asked("row 1, pressure");
    assert_eq!(saved(folder.path())[2], "opens_at: 15 psi");
    // It can still be kept, and changed.
    desk.line("b").sees("> 15 psi").press(ENTER).asked("row 1, pressure");
    desk.line("b").sees("> 15 psi").press("\x7f\x7f\x7f\x7f\x7f").line("4 psi");
    desk.asked("row 1, pressure");
    assert_eq!(saved(folder.path())[2], "opens_at: 14 psi");
    desk.press(CTRL_D);
    assert_eq!(desk.end(), 0);
}

#[test]
fn back_at_the_first_question_leads_to_the_complaint() {
    let (folder, mut desk) = begun(80);
    desk.line("b").asked("What is wrong with the boost?").line("2");
    desk.asked("Is the hose whole?").line("1");
    desk.asked("What does the needle do?").line("s").sees("Every answer is saved");
    assert_eq!(desk.end(), 0);
    let text = fs::read_to_string(folder.path().join("boost.yaml")).unwrap();
    assert!(text.contains("complaint: too_low"), "{text}");
    assert_eq!(saved(folder.path()), ["hose_sound: yes"]);
}

#[test]
fn what_was_put_back_is_remembered_from_one_day_to_the_next() {
    let (folder, mut desk) = begun(80);
    desk.line("1").asked("needle do?").line("1").asked("At what pressure").line("0.4 bar");
    desk.asked("row 1, pressure").line("c").asked("What is the highest boost?").line("0.9 bar");
    desk.asked("2/3").line("").asked("with the gate tied open?").line("0.5 bar");
    desk.asked("Put back first: gate tied open").line("1").asked("Does the gate stick?").line("s");
    assert_eq!(desk.end(), 0);
    let mut desk = Desk::ask(80, folder.path());
    desk.asked("Does the gate stick?");
    assert!(!desk.shown().contains("Put back first"), "{}", desk.shown());
    desk.line("1").sees("after a repair");
    assert_eq!(desk.end(), 0);
    assert!(!desk.shown().to_lowercase().contains("put back"), "{}", desk.shown());
    let text = fs::read_to_string(folder.path().join("boost.yaml")).unwrap();
    assert!(text.contains("put_back: tied_open"), "{text}");
}

#[test]
fn a_second_program_on_the_same_session_is_refused() {
    let (folder, mut first) = begun(80);
    let mut second = Desk::ask(80, folder.path());
    second.sees("boost.yaml is open in another boostwright");
    assert_eq!(second.end(), 2);
    first.line("s");
    assert_eq!(first.end(), 0);
}

#[test]
fn nothing_but_the_conclusion_goes_to_stdout() {
    let folder = tempdir().unwrap();
    fs::write(
        folder.path().join("boost.yaml"),
        "complaint: too_high\nanswers: {hose_sound: no, needle: climbs, opens_at: 0.4 bar, travel: unknown}\n",
    )
    .unwrap();
    let pack = super::garage::folder();
    let line = format!("{} --only --pack {} ask > out", program(), pack.display());
    let mut shell = portable_pty::CommandBuilder::new("sh");
    shell.args(["-c", &line]);
    shell.cwd(folder.path());
    let mut desk = Desk::start(80, shell);
    desk.asked("Does the gate stick?").line("2").sees("Saved in");
    assert_eq!(desk.end(), 0);
    let out = fs::read_to_string(folder.path().join("out")).unwrap();
    assert!(out.contains("Hose split"), "{out}");
    assert!(!out.contains("Does the gate stick? 1 yes") && !out.contains("b back"), "{out}");
    assert!(!desk.shown().contains("WHAT IS LIKELY WRONG"), "{}", desk.shown());
}

#[test]
fn colour_is_left_out_where_the_person_wants_none() {
    let coloured = |desk: &mut Desk| {
        desk.asked("What is wrong with the boost?");
        desk.raw.windows(3).any(|bytes| bytes == b"\x1b[1")
    };
    let folder = tempdir().unwrap();
    assert!(coloured(&mut Desk::ask(80, folder.path())));
    // An empty NO_COLOR counts as none (no-color.org).
    for (value, wanted) in [("1", false), ("", true)] {
        let mut command = command(folder.path(), &["ask"]);
        command.env("NO_COLOR", value);
        assert_eq!(coloured(&mut Desk::start(80, command)), wanted, "NO_COLOR={value}");
    }
}

/// `ask` with the built-in rules.
fn ask_in(folder: &Path) -> portable_pty::CommandBuilder {
    let mut ask = portable_pty::CommandBuilder::new(program());
    ask.arg("ask");
    ask.cwd(folder);
    ask.env("TERM", "xterm-256color");
    ask
}

#[test]
fn a_number_that_is_no_option_is_not_taken_for_its_first_digit() {
    let folder = tempdir().unwrap();
    // The built-in rules know more than nine complaints, so that a first digit settles nothing.
    let mut desk = Desk::start(80, ask_in(folder.path()));
    desk.asked("What is wrong with the boost?")
        .line("99")
        .asked("\"99\" is not one of the choices");
    desk.line("0").asked("At least one is needed");
    // Backspace takes back one digit at a time.
    desk.press("17").sees("> 17").press("\x7f").sees("> 1").press("\x7f").press("2").sees("> 2");
    desk.press(CTRL_C);
    assert_eq!(desk.end(), 130);
}

/// No shell is there to go on with it, so that it isn't stopped; but the terminal was given back and taken
/// again, and the answer typed behind it counts.
#[test]
fn ctrl_z_takes_nothing_from_the_prompt() {
    let folder = tempdir().unwrap();
    let mut desk = Desk::start(80, ask_in(folder.path()));
    desk.asked("What is wrong with the boost?").press(CTRL_Z);
    desk.line("20").asked("What boost should the car hold").press(CTRL_Z);
    desk.line("0.5 bar").asked("What is the highest boost");
    desk.press(CTRL_C);
    assert_eq!(desk.end(), 130);
    let saved = fs::read_to_string(folder.path().join("boost.yaml")).unwrap();
    assert!(saved.contains("expected_base_boost: 0.5 bar"), "{saved}");
}

#[test]
fn narrow_terminals_do_no_harm() {
    for columns in [1, 2, 5, 12] {
        let folder = tempdir().unwrap();
        fs::write(
            folder.path().join("boost.yaml"),
            "complaint: too_high\nanswers: {hose_sound: yes, needle: climbs}\n",
        )
        .unwrap();
        let mut plain = command(folder.path(), &["ask"]);
        plain.env("NO_COLOR", "1");
        let mut desk = Desk::start(columns, plain);
        // A prompt behind the text: what comes before it stands is dropped.
        desk.wait_for_bytes(b"Enter\r\n").wait_for_prompt().line("9 bar");
        desk.wait_for_bytes(b"plausible").wait_for_prompt().line("x");
        desk.wait_for_bytes(b"number").wait_for_prompt().line("0.4 bar\x7f\x7f\x7f");
        desk.wait_for_bytes(b"Enter\r\n").wait_for_prompt().line("y");
        desk.wait_for_bytes(b"Enter\r\n").wait_for_prompt().line("s");
        assert_eq!(desk.end(), 0, "{columns}: {}", String::from_utf8_lossy(&desk.raw));
    }
}

#[test]
fn where_nobody_can_be_asked_it_says_what_to_use_instead() {
    for verb in [&["ask"][..], &["recheck", "boost.yaml"]] {
        let folder = tempdir().unwrap();
        let output =
            Command::new(program()).args(verb).current_dir(folder.path()).output().unwrap();
        let told = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2));
        assert!(output.stdout.is_empty());
        for part in ["is not a terminal", "boostwright answer", "boostwright replay"] {
            assert!(told.contains(part), "{told}");
        }
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0, "nothing is begun");
    }
}

#[test]
fn a_state_of_the_car_that_is_not_known_is_refused_with_the_nearest() {
    let folder = tempdir().unwrap();
    let mut desk = Desk::start(80, command(folder.path(), &["ask", "--car", "parkd"]));
    desk.sees("no such state of the car; did you mean parked?");
    assert_eq!(desk.end(), 2);
}

#[test]
fn a_recheck_asks_what_the_repair_made_stale_and_gives_its_verdict() {
    let folder = tempdir().unwrap();
    fs::write(
        folder.path().join("boost.yaml"),
        "complaint: too_high\nanswers: {hose_sound: no, needle: climbs, opens_at: 0.42 bar, peak: 0.9 bar}\n",
    )
    .unwrap();
    let mut desk = Desk::start(80, command(folder.path(), &["recheck", "boost.yaml"]));
    desk.asked("Which repair was done?").line("1");
    desk.asked("Is the hose whole?").signal("KILL").end();
    let mut desk = Desk::start(80, command(folder.path(), &["recheck", "boost.yaml"]));
    desk.asked("Is the hose whole?").line("1");
    desk.asked("What is the highest boost?").line("0.50 bar").asked("2/3").line("");
    desk.sees("Verdict: cured").sees("before").sees("0.90 bar");
    desk.sees("predicted").sees("0.520 bar").sees("after").sees("0.50 bar");
    assert_eq!(desk.end(), 0);
}
