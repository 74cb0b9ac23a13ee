//! Packs from folders and from the binary. Rule files come from strangers: the number and size of
//! files are bounded, links are not followed, nothing outside the folder is read. A file that is no
//! text is a fault among others, so that the rest is looked at all the same.

use std::fmt;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::built_in;
use super::digest::{self, digest};
use super::fault::{Fault, Faults, FileText, Mark, Place, Severity, ShapeFault};
use super::link::link;
use super::lint::lint;
use super::origin::{Origin, origins};
use super::pack::Pack;
use super::read::{ReadFile, read_fully};
use super::replaced::{Replaced, replaced};
use super::stack::{PackFiles, Stack, lay};
use super::undecided::undecided;
use super::written::File;

/// The largest rule file that is read.
const MAX_FILE_BYTES: u64 = 1 << 20;
/// The most rule files in one pack.
const MAX_FILES: usize = 200;
/// The most that all files of one pack may hold together.
const MAX_PACK_BYTES: u64 = 16 << 20;
/// How deep folders may lie in one another.
const MAX_FOLDER_DEPTH: usize = 4;

/// Where a pack comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PackSource {
    /// The one in the binary.
    BuiltIn,
    Folder(PathBuf),
    /// Files that are at hand already.
    Texts(Vec<FileText>),
}

/// Why a pack could not even be looked at.
#[derive(Debug)]
pub struct Unreadable {
    pub path: PathBuf,
    pub reason: String,
}

impl fmt::Display for Unreadable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.path.display(), self.reason)
    }
}

impl std::error::Error for Unreadable {}

/// A stack of packs, loaded: the pack to walk, and what is wrong with it.
#[derive(Debug)]
pub struct Loaded {
    /// Only to be walked where no fault is an error.
    pub pack: Pack,
    pub faults: Faults,
    /// Every entry of every section, and where it stands.
    pub origins: Vec<Origin>,
    /// What the packs replace in those below them.
    pub replaced: Vec<Replaced>,
}

/// Loads packs, the lowest first, each laid over those before it. Every fault is found.
///
/// # Errors
/// A folder that can't be read at all.
pub fn load(sources: &[PackSource]) -> Result<Loaded, Unreadable> {
    let (mut all, stack, pack) = linked(sources, true)?;
    let poor = lint(&stack, &pack, &all.faults);
    all.faults.extend(poor);
    // What follows from an error is no second fault.
    if !all.faults.iter().any(|fault| fault.severity == Severity::Error) {
        all.faults.extend(undecided(&stack, &pack));
    }
    let origins = origins(&stack);
    let replaced = replaced(&stack, &origins);
    Ok(Loaded { pack, faults: all.sorted(), origins, replaced })
}

/// Loads packs to hold an interview with. Of the built-in one alone only what an interview needs is
/// loaded: no cases and no origins; and it is not linted, since its tests do that.
///
/// # Errors
/// A folder that can't be read at all.
pub fn load_to_walk(sources: &[PackSource]) -> Result<Loaded, Unreadable> {
    if *sources != [PackSource::BuiltIn] {
        return load(sources);
    }
    let (all, _, pack) = linked(sources, false)?;
    Ok(Loaded { pack, faults: all.sorted(), origins: Vec::new(), replaced: Vec::new() })
}

/// Reads packs, lays them over one another and links them.
fn linked(sources: &[PackSource], cases: bool) -> Result<(AllFiles, Stack, Pack), Unreadable> {
    let mut all = AllFiles::default();
    let packs = all.read(sources, cases)?;
    let stack = lay(packs, &mut all.faults);
    let (mut pack, linked) = link(&stack);
    all.faults.extend(linked);
    pack.digest = digest_of(sources, &all.files);
    Ok((all, stack, pack))
}

/// The files of all packs.
#[derive(Default)]
struct AllFiles {
    files: Vec<FileText>,
    faults: Vec<Fault>,
}

impl AllFiles {
    /// Reads packs; the cases of the built-in one only where they are wanted.
    fn read(&mut self, sources: &[PackSource], cases: bool) -> Result<Vec<PackFiles>, Unreadable> {
        let mut packs = Vec::with_capacity(sources.len());
        for source in sources {
            let texts = match source {
                PackSource::BuiltIn => built_in::files(cases).collect(),
                PackSource::Folder(folder) => {
                    unread(folder_files(folder, self.files.len(), &mut self.faults)?)
                }
                PackSource::Texts(texts) => unread(texts.clone()),
            };
            packs.push(texts.into_iter().map(|(file, known)| self.add(file, known)).collect());
        }
        Ok(packs)
    }

    /// A file with what it says. What is known before was checked when the program was made: its
    /// tests see to that.
    fn add(&mut self, file: FileText, known: Option<File>) -> (usize, ReadFile) {
        let index = self.files.len();
        let no_text = self.faults.iter().any(|fault| fault.place.file == index);
        let read = match known {
            Some(known) => ReadFile { file: known, ..ReadFile::default() },
            // What is left of it is no rules.
            None if no_text => ReadFile::default(),
            None => read_fully(index, &file, &mut self.faults),
        };
        self.files.push(file);
        (index, read)
    }

    /// The faults with their files, errors first.
    fn sorted(mut self) -> Faults {
        self.faults.sort_by_key(|fault| fault.severity);
        Faults { files: self.files, list: self.faults, places: Vec::new() }
    }
}

fn unread(texts: Vec<FileText>) -> Vec<(FileText, Option<File>)> {
    texts.into_iter().map(|text| (text, None)).collect()
}

/// The rule files of a folder, of which the first will have the number `next`.
fn folder_files(
    folder: &Path,
    next: usize,
    faults: &mut Vec<Fault>,
) -> Result<Vec<FileText>, Unreadable> {
    let mut paths = Vec::new();
    find_files(folder, 0, &mut paths)?;
    if paths.iter().all(|(_, kind)| *kind == Found::Link) {
        return Err(unreadable(folder, "the folder holds no rule files (.yaml or .yml)"));
    }
    paths.sort();
    let mut total = 0;
    let mut found = Vec::with_capacity(paths.len());
    for (index, (path, kind)) in paths.into_iter().enumerate() {
        let text = match kind {
            Found::File => text_of(file_bytes(&path)?, next + index, faults),
            Found::Link => {
                let place =
                    Place { file: next + index, route: Vec::new(), mark: Mark::Bytes(0..0) };
                faults.push(Fault::new(ShapeFault::Link, place));
                String::new()
            }
        };
        total += text.len() as u64;
        if total > MAX_PACK_BYTES {
            return Err(unreadable(folder, "the pack holds more than 16 MiB of rules"));
        }
        found.push(FileText { name: path.display().to_string(), text: text.into() });
    }
    Ok(found)
}

/// The text of a file; of one that is none, what shows why.
fn text_of(bytes: Vec<u8>, file: usize, faults: &mut Vec<Fault>) -> String {
    let nul = bytes.iter().position(|byte| *byte == 0);
    let (bytes, bad) = match (nul, String::from_utf8(bytes)) {
        (None, Ok(text)) => {
            return text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text);
        }
        (Some(nul), Ok(text)) => (text.into_bytes(), nul),
        (_, Err(error)) => {
            let bad = error.utf8_error().valid_up_to();
            (error.into_bytes(), bad)
        }
    };
    faults.push(no_text(file, &bytes, bad));
    foreign_text(&bytes, bad)
}

fn unreadable(path: &Path, reason: impl Into<String>) -> Unreadable {
    Unreadable { path: path.to_path_buf(), reason: reason.into() }
}

/// What lies where a rule file may.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Found {
    File,
    /// A link to a folder, or with the name of a rule file: not followed, but told.
    Link,
}

fn find_files(
    folder: &Path,
    depth: usize,
    found: &mut Vec<(PathBuf, Found)>,
) -> Result<(), Unreadable> {
    if depth > MAX_FOLDER_DEPTH {
        return Err(unreadable(folder, "folders are nested too deep"));
    }
    let entries = fs::read_dir(folder).map_err(|error| unreadable(folder, plain(&error)))?;
    for entry in entries {
        let entry = entry.map_err(|error| unreadable(folder, plain(&error)))?;
        let path = entry.path();
        // Hidden ones are what other programs keep there: of a version control, of a Mac, of an editor.
        if entry.file_name().as_encoded_bytes().starts_with(b".") {
            continue;
        }
        // The entry's own type: a link is neither a file nor a folder.
        let kind = entry.file_type().map_err(|error| unreadable(&path, plain(&error)))?;
        let rules = path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml");
        if kind.is_dir() {
            find_files(&path, depth + 1, found)?;
        } else if kind.is_file() && rules {
            found.push((path, Found::File));
        } else if kind.is_symlink() && (rules || path.is_dir()) {
            found.push((path, Found::Link));
        }
        if found.len() > MAX_FILES {
            return Err(unreadable(folder, format!("the pack has more than {MAX_FILES} files")));
        }
    }
    Ok(())
}

/// A fault of a file that is no text, at its first bad byte.
fn no_text(file: usize, bytes: &[u8], bad: usize) -> Fault {
    let zeros = |from: usize| bytes.iter().skip(from).step_by(2).filter(|byte| **byte == 0).count();
    // Of ASCII in UTF-16 every second byte is NUL, of most other languages many are.
    let halves = |from: usize| zeros(from) * 4 > bytes.len() && zeros(1 - from) * 20 < bytes.len();
    let kind = if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        ShapeFault::Utf16
    } else if bytes.starts_with(&APPLE_DOUBLE) {
        ShapeFault::AppleDouble
    } else if halves(0) || halves(1) {
        ShapeFault::Utf16Unmarked
    } else if bytes.get(bad) == Some(&0) && std::str::from_utf8(bytes).is_ok() {
        ShapeFault::Nul
    } else if bytes.contains(&0) {
        ShapeFault::Binary
    } else {
        ShapeFault::NotUtf8
    };
    Fault::new(kind, Place { file, route: Vec::new(), mark: Mark::Bytes(bad..bad + 1) })
}

/// What files of AppleDouble begin with (RFC 1740, appendix B).
const APPLE_DOUBLE: [u8; 4] = [0x00, 0x05, 0x16, 0x07];

/// As much of a file that is no text as is needed to show where: up to the bad line's end.
fn foreign_text(bytes: &[u8], bad: usize) -> String {
    const SHOWN: usize = 60;
    let behind = bytes.get(bad..).unwrap_or_default();
    let end = behind.iter().take(SHOWN).position(|byte| *byte == b'\n').unwrap_or(SHOWN);
    let (sound, behind) =
        (bytes.get(..bad).unwrap_or_default(), behind.get(..end).unwrap_or(behind));
    String::from_utf8_lossy(sound).into_owned() + &String::from_utf8_lossy(behind)
}

fn file_bytes(path: &Path) -> Result<Vec<u8>, Unreadable> {
    let file = fs::File::open(path).map_err(|error| unreadable(path, plain(&error)))?;
    let mut bytes = Vec::new();
    file.take(MAX_FILE_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(path, plain(&error)))?;
    if bytes.len() as u64 > MAX_FILE_BYTES {
        return Err(unreadable(path, "the file is larger than 1 MiB"));
    }
    Ok(bytes)
}

fn plain(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such folder or file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "you may not read it".to_owned(),
        std::io::ErrorKind::NotADirectory => "this is not a folder".to_owned(),
        _ => error.to_string(),
    }
}

/// The digest of all files, of which those in the binary were counted when it was made.
fn digest_of(sources: &[PackSource], files: &[FileText]) -> String {
    let (before, counted) = match sources.first() {
        Some(PackSource::BuiltIn) => (built_in::DIGEST, built_in::count()),
        _ => (digest::EMPTY, 0),
    };
    let rest = files.iter().skip(counted);
    format!("{:016x}", rest.fold(before, |before, file| digest(before, &file.text)))
}
