//! Where sessions and results may lie: pipes, links, locks of others, and work that is not written
//! over.

use std::fs;
use std::io::Read;
use std::os::unix::fs::{MetadataExt, PermissionsExt, chown, symlink};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use super::bench::{Bench, Ran};

/// Longer than anything takes on a loaded machine; only a failing test waits so long.
const PATIENCE: Duration = Duration::from_secs(20);

/// Runs a command that may wait for ever; it is ended then.
fn run_for_a_while(mut command: Command) -> Ran {
    let mut child =
        command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it starts");
    let start = Instant::now();
    while child.try_wait().expect("it can be waited for").is_none() {
        if start.elapsed() > PATIENCE {
            child.kill().expect("it can be ended");
            panic!("it waits for ever: {command:?}");
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    Ran::of(child.wait_with_output().expect("it has ended"))
}

fn pipe_at(bench: &Bench, name: &str) {
    let made = Command::new("mkfifo").arg(bench.path(name)).status().expect("mkfifo is there");
    assert!(made.success());
}

#[test]
fn a_pipe_in_place_of_a_file_is_refused_and_never_waited_on() {
    let bench = Bench::begun();
    pipe_at(&bench, "pipe");
    let refused: [&[&str]; 8] = [
        &["show", "pipe"],
        &["show", "pipe", "--form", "json"],
        &["sheet", "pipe"],
        &["replay", "pipe"],
        &["answer", "pipe", "boost_seen=1 bar"],
        &["answer", "boost.yaml", "boost_seen=@pipe"],
        &["show", "boost.yaml", "--out", "pipe"],
        &["sheet", "boost.yaml", "--out", "pipe"],
    ];
    for arguments in refused {
        let ran = run_for_a_while(bench.command(arguments));
        ran.refused_with(&["pipe", "not an ordinary file"]);
    }
    for arguments in [&["show", "/dev/null"][..], &["replay", "/dev/zero"]] {
        run_for_a_while(bench.command(arguments)).refused_with(&["not an ordinary file"]);
    }
}

#[test]
fn a_pipe_in_place_of_the_lock_is_named() {
    let bench = Bench::begun();
    fs::remove_file(bench.path(".boost.yaml.lock")).unwrap();
    pipe_at(&bench, ".boost.yaml.lock");
    let ran = run_for_a_while(bench.command(&["answer", "boost.yaml", "knock_heard=no"]));
    ran.refused_with(&[".boost.yaml.lock is in the way"]);
}

#[test]
fn a_stream_that_is_handed_over_is_read() {
    let bench = Bench::begun();
    let mut command = bench.command(&["replay", "/dev/stdin"]);
    command.stdin(Stdio::piped()).stdout(Stdio::piped());
    let mut child = command.spawn().unwrap();
    let session = bench.read("boost.yaml");
    let (first, rest) = session.split_at(session.len() / 2);
    let mut keys = child.stdin.take().unwrap();
    std::io::Write::write_all(&mut keys, first.as_bytes()).unwrap();
    std::thread::sleep(Duration::from_millis(200));
    std::io::Write::write_all(&mut keys, rest.as_bytes()).unwrap();
    drop(keys);
    let mut told = String::new();
    child.stdout.take().unwrap().read_to_string(&mut told).unwrap();
    assert!(child.wait().unwrap().success());
    assert!(told.contains("1.05 bar"), "{told}");
}

#[test]
fn a_link_that_leads_nowhere_is_told_as_such() {
    let bench = Bench::begun();
    symlink("gone.yaml", bench.path("link.yaml")).unwrap();
    let complaint = "boost_too_high_controller_off";
    let refused: [&[&str]; 5] = [
        &["show", "link.yaml"],
        &["sheet", "link.yaml"],
        &["answer", "link.yaml", "knock_heard=no"],
        &["answer", "link.yaml", "--complaint", complaint, "knock_heard=no"],
        &["show", "boost.yaml", "--out", "link.yaml"],
    ];
    for arguments in refused {
        bench.run(arguments).refused_with(&["is a link to gone.yaml", "nothing is there"]);
    }
    assert!(!bench.path("gone.yaml").exists());
}

#[test]
fn a_result_is_not_written_over_a_session_answers_or_rules() {
    let bench = Bench::begun();
    let complaint = "boost_too_high_controller_off";
    let other = bench.run(&["answer", "other.yaml", "--complaint", complaint, "knock_heard=no"]);
    assert_eq!(other.code, Some(0));
    let headless: String = bench.read("other.yaml").split_inclusive('\n').skip(2).collect();
    let session = bench.read("other.yaml");
    let works = [
        ("other.yaml", session.clone()),
        // Damaged: what stands at its head still tells.
        ("damaged", format!("{}\n  - [", session.trim_end())),
        ("headless.yml", headless),
        ("answers.txt", format!("complaint: {complaint}\nanswers: {{knock_heard: no}}\n")),
        ("rules.yaml", "strengths: {now_and_then: 1 in 3}\n".to_owned()),
        ("slip.yaml", "questions:\n  hose: {text: Is the hose whole?\ncauses: {}\n".to_owned()),
    ];
    for (name, text) in works {
        bench.write(name, &text);
        for verb in ["show", "sheet"] {
            let ran = bench.run(&[verb, "boost.yaml", "--out", name]);
            ran.refused_with(&[name, "never overwritten", "name another file for --out"]);
            assert_eq!(bench.read(name), text);
        }
    }
}

#[test]
fn a_result_is_written_over_an_older_one() {
    let bench = Bench::begun();
    for (form, name) in
        [("text", "a.txt"), ("json", "a.json"), ("json", "a.yaml"), ("html", "a.html")]
    {
        for _ in 0..2 {
            let ran = bench.run(&["show", "boost.yaml", "--form", form, "--out", name]);
            assert_eq!(ran.code, Some(0), "{ran:?}");
        }
    }
    bench.write("notes.yaml", "oil: changed in May\n");
    assert_eq!(bench.run(&["show", "boost.yaml", "--out", "notes.yaml"]).code, Some(0));
}

#[test]
fn a_pack_that_could_not_be_written_leaves_the_folder_as_it_was() {
    let bench = Bench::new();
    fs::create_dir(bench.path("p")).unwrap();
    let mut command = Command::new("sh");
    let program = env!("CARGO_BIN_EXE_boostwright");
    // A file may grow to no size at all.
    command.args(["-c", "ulimit -f 0; trap '' XFSZ; exec \"$0\" pack new p", program]);
    let ran = Ran::of(command.current_dir(bench.path(".")).output().unwrap());
    ran.refused_with(&["rules.yaml can't be made"]);
    assert_eq!(fs::read_dir(bench.path("p")).unwrap().count(), 0);
    assert_eq!(bench.run(&["pack", "new", "p"]).code, Some(0));
}

/// Somebody without any right of their own.
const NOBODY: u32 = 65534;

fn is_root(bench: &Bench) -> bool {
    fs::metadata(bench.path(".")).unwrap().uid() == 0
}

#[test]
fn a_lock_file_of_somebody_else_guards_all_the_same() {
    use std::os::unix::process::CommandExt;
    let bench = Bench::begun();
    let lock = bench.path(".boost.yaml.lock");
    fs::set_permissions(&lock, fs::Permissions::from_mode(0o444)).unwrap();
    let mut command = bench.command(&["answer", "boost.yaml", "knock_heard=no"]);
    if is_root(&bench) {
        // To root no file is closed.
        for name in [".", "boost.yaml"] {
            chown(bench.path(name), Some(NOBODY), Some(NOBODY)).unwrap();
        }
        command.uid(NOBODY).gid(NOBODY);
    }
    let ran = Ran::of(command.output().unwrap());
    assert_eq!(ran.code, Some(0), "{ran:?}");
    assert!(bench.read("boost.yaml").contains("knock_heard"));
}

#[test]
fn a_session_saved_for_its_owner_stays_theirs() {
    let bench = Bench::begun();
    if !is_root(&bench) {
        return;
    }
    chown(bench.path("boost.yaml"), Some(NOBODY), Some(NOBODY)).unwrap();
    assert_eq!(bench.run(&["answer", "boost.yaml", "knock_heard=no"]).code, Some(0));
    assert_eq!(fs::metadata(bench.path("boost.yaml")).unwrap().uid(), NOBODY);
}

#[test]
fn a_line_break_in_a_title_begins_no_line_of_a_sheet() {
    let bench = Bench::new();
    let rules = "complaints:\n  odd: {title: \"Odd\\nSTOP: fake\", start: look}\n\
                 questions:\n  hose: {text: Is the hose whole?, answer: yes_or_no}\n\
                 steps:\n  look: {ask: [hose], then: [{go: conclude}]}\n";
    bench.write("p/rules.yaml", rules);
    let alone = ["--only", "--pack", "p"];
    let begin = ["answer", "b.yaml", "--complaint", "odd"];
    assert_eq!(bench.run(&[&begin[..], &alone].concat()).code, Some(0));
    let ran = bench.run(&[&["sheet", "b.yaml"][..], &alone].concat());
    assert!(ran.stdout.contains("Odd STOP: fake"), "{ran:?}");
    assert!(!ran.stdout.lines().any(|line| line.starts_with("STOP")), "{ran:?}");
}
