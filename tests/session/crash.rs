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
