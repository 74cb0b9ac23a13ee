//! What is left when writing is cut short.

use std::fs;
use std::io::{self, Write};

use boostwright::session::{SessionFile, write_session, write_whole};

use super::bench::{folder, names, two_rounds};

/// Takes so many bytes, then fails as a full disk does.
struct FullAfter {
    left: usize,
}

impl Write for FullAfter {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.left == 0 {
            return Err(io::ErrorKind::StorageFull.into());
        }
        let taken = bytes.len().min(self.left);
        self.left -= taken;
        Ok(taken)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_full_disk_is_told_wherever_it_strikes() {
    let mut whole = Vec::new();
    write_session(&two_rounds(), &mut whole).unwrap();
    for left in (0..whole.len()).step_by(37) {
        let error = write_session(&two_rounds(), &mut FullAfter { left }).unwrap_err();
        assert_eq!(error.kind(), io::ErrorKind::StorageFull);
    }
}

#[test]
fn a_writer_that_fails_half_way_leaves_the_old_file_and_nothing_else() {
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    fs::write(&path, "the old text").unwrap();
    let failed = write_whole(&path, |out| {
        out.write_all(b"the new te")?;
        Err(io::ErrorKind::StorageFull.into())
    });
    assert_eq!(failed.unwrap_err().kind(), io::ErrorKind::StorageFull);
    assert_eq!(fs::read_to_string(&path).unwrap(), "the old text");
    assert_eq!(names(&folder), ["boost.yaml"]);
}

#[test]
fn what_a_killed_program_left_behind_is_cleared_away() {
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    drop(SessionFile::create(&path, two_rounds()).unwrap());
    for name in [".boost.yaml.a1B2c3.part", ".other.yaml.a1B2c3.part", "boost.yaml.part"] {
        fs::write(folder.path().join(name), "format: 1\nrou").unwrap();
    }
    assert_eq!(SessionFile::open(&path).unwrap().session, two_rounds());
    assert_eq!(
        names(&folder),
        [".boost.yaml.lock", ".other.yaml.a1B2c3.part", "boost.yaml", "boost.yaml.part"]
    );
}

/// Kills the program at ever later moments of saving an answer: what it said it kept is there, and
/// the file is whole.
#[cfg(unix)]
#[test]
fn a_program_killed_at_any_moment_leaves_a_whole_session() {
    use std::process::Stdio;
    use std::time::Instant;

    use boostwright::rules::Given;
    use boostwright::session::read_session;

    use super::program::Bench;

    const TURNS: u32 = 60;

    let bench = Bench::begun();
    let path = bench.folder.path().join("boost.yaml");
    let start = Instant::now();
    assert_eq!(bench.run(&["answer", "boost.yaml", "times_repaired=0"]).code, 0);
    let whole_run = start.elapsed();
    let mut killed = 0;
    let mut at_least = 0;
    for turn in 1..=TURNS {
        let mut child = bench
            .command(&["answer", "boost.yaml", &format!("times_repaired={turn}")])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // From before the program reads the file to after it has saved.
        std::thread::sleep(whole_run.mul_f64(1.2) * turn / TURNS);
        child.kill().unwrap();
        if child.wait().unwrap().success() {
            at_least = turn;
        } else {
            killed += 1;
        }
        let (session, _) = read_session(&path).unwrap();
        let Given::Text(kept) = &session.rounds[0].answers["times_repaired"] else { panic!() };
        let kept: u32 = kept.parse().unwrap();
        assert!((at_least..=turn).contains(&kept), "turn {turn}: {kept}, not from {at_least} on");
        at_least = kept;
    }
    assert!(killed > 0, "every program was done before it was killed");
    // Whatever was left lying about, the next program goes on.
    assert_eq!(bench.run(&["answer", "boost.yaml", "needle=level"]).code, 0);
    assert_eq!(names(&bench.folder), [".boost.yaml.lock", "boost.yaml"]);
}
