//! Packs from folders and from the binary. Rule files come from strangers: the number and size of
//! files are bounded, links are not followed, nothing outside the folder is read. A file that is no
//! text is a fault among others, so that the rest is looked at all the same.

use std::fmt;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::fault::{Fault, Faults, FileText, Mark, Place, Severity};
use super::link::link;
use super::lint::lint;
use super::origin::{Origin, origins};
use super::pack::Pack;
use super::read::{ReadFile, read_fully, read_quickly};
use super::stack::{PackFiles, lay};

/// The largest rule file that is read.
const LARGEST_FILE: u64 = 1 << 20;
/// The most rule files in one pack.
const MOST_FILES: usize = 200;
/// The most that all files of one pack may hold together.
const LARGEST_PACK: u64 = 16 << 20;
/// How deep folders may lie in one another.
const DEEPEST_FOLDER: usize = 4;

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
}

/// Loads packs, the lowest first, each laid over those before it. Every fault is found.
///
/// # Errors
/// A folder that can't be read at all.
pub fn load(sources: &[PackSource]) -> Result<Loaded, Unreadable> {
    let mut files = Vec::new();
    let mut packs = Vec::new();
    let mut list = Vec::new();
    let mut layers = Vec::new();
    for (layer, source) in sources.iter().enumerate() {
        let texts = match source {
            PackSource::BuiltIn => built_in_files(),
            PackSource::Folder(folder) => folder_files(folder, files.len(), &mut list)?,
            PackSource::Texts(texts) => texts.clone(),
        };
        let quick = *source == PackSource::BuiltIn;
        packs.push(read_files(texts, quick, &mut files, &mut list));
        layers.resize(files.len(), layer);
    }
    let stack = lay(packs, &mut list);
    let (mut pack, linked) = link(&stack);
    list.extend(linked);
    let poor = lint(&stack, &pack, &list);
    list.extend(poor);
    list.sort_by_key(|fault: &Fault| fault.severity);
    pack.digest = digest(&files);
    Ok(Loaded { pack, faults: Faults { files, list }, origins: origins(&stack, &layers) })
}

fn read_files(
    texts: Vec<FileText>,
    quick: bool,
    files: &mut Vec<FileText>,
    faults: &mut Vec<Fault>,
) -> PackFiles {
    let mut read = Vec::new();
    for file in texts {
        let index = files.len();
        // The built-in pack was checked in full when the program was made (a test sees to it).
        let sound = if quick { read_quickly(&file.text) } else { None };
        let no_text = faults.iter().any(|fault| fault.place.file == index);
        let found = match sound {
            Some(sound) => ReadFile { file: sound, ..ReadFile::default() },
            // What is left of it is no rules.
            None if no_text => ReadFile::default(),
            None => read_fully(index, &file, faults),
        };
        read.push((index, found));
        files.push(file);
    }
    read
}

include!(concat!(env!("OUT_DIR"), "/built_in.rs"));

fn built_in_files() -> Vec<FileText> {
    BUILT_IN
        .iter()
        .map(|(name, text)| FileText { name: (*name).to_owned(), text: (*text).to_owned() })
        .collect()
}

/// The rule files of a folder, of which the first will have the number `next`.
fn folder_files(
    folder: &Path,
    next: usize,
    faults: &mut Vec<Fault>,
) -> Result<Vec<FileText>, Unreadable> {
    let mut paths = Vec::new();
    find_files(folder, 0, &mut paths)?;
    if paths.is_empty() {
        return Err(unreadable(folder, "the folder holds no rule file (.yaml or .yml)"));
    }
    paths.sort();
    let mut total = 0;
    let mut found = Vec::with_capacity(paths.len());
    for (index, path) in paths.into_iter().enumerate() {
        let text = match String::from_utf8(file_bytes(&path)?) {
            Ok(text) => text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text),
            Err(error) => {
                let bad = error.utf8_error().valid_up_to();
                let bytes = error.into_bytes();
                faults.push(no_text(next + index, &bytes, bad));
                foreign_text(&bytes, bad)
            }
        };
        total += text.len() as u64;
        if total > LARGEST_PACK {
            return Err(unreadable(folder, "the pack holds more than 16 MiB of rules"));
        }
        found.push(FileText { name: path.display().to_string(), text });
    }
    Ok(found)
}

fn unreadable(path: &Path, reason: impl Into<String>) -> Unreadable {
    Unreadable { path: path.to_path_buf(), reason: reason.into() }
}

fn find_files(folder: &Path, depth: usize, found: &mut Vec<PathBuf>) -> Result<(), Unreadable> {
    if depth > DEEPEST_FOLDER {
        return Err(unreadable(folder, "folders lie too deep in one another"));
    }
    let entries = fs::read_dir(folder).map_err(|error| unreadable(folder, plain(&error)))?;
    for entry in entries {
        let entry = entry.map_err(|error| unreadable(folder, plain(&error)))?;
        let path = entry.path();
        // The entry's own type: a link is neither a file nor a folder, and so is passed over.
        let kind = entry.file_type().map_err(|error| unreadable(&path, plain(&error)))?;
        let rules = path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml");
        if kind.is_dir() {
            find_files(&path, depth + 1, found)?;
        } else if kind.is_file() && rules {
            found.push(path);
        }
        if found.len() > MOST_FILES {
            return Err(unreadable(folder, format!("the pack has more than {MOST_FILES} files")));
        }
    }
    Ok(())
}

/// A fault of a file that is no text, at its first bad byte.
fn no_text(file: usize, bytes: &[u8], bad: usize) -> Fault {
    let told = if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        ("the file is UTF-16, not UTF-8", "save it again as UTF-8")
    } else if bytes.contains(&0) {
        ("the file is no text", "take it out of the folder, or let it end in something else")
    } else {
        ("this letter is no UTF-8", "save the file again as UTF-8: editors call it encoding")
    };
    Fault {
        code: "no-text",
        severity: Severity::Error,
        message: told.0.to_owned(),
        place: Place { file, route: Vec::new(), mark: Mark::Bytes(bad..bad + 1) },
        label: "here".to_owned(),
        other: None,
        help: told.1.to_owned(),
    }
}

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
    file.take(LARGEST_FILE + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(path, plain(&error)))?;
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(unreadable(path, "the file is larger than 1 MiB"));
    }
    Ok(bytes)
}

fn plain(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such folder or file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "it may not be read".to_owned(),
        std::io::ErrorKind::NotADirectory => "this is no folder".to_owned(),
        _ => error.to_string(),
    }
}

/// Tells one state of the rules from another (FNV-1a, 64 bits): a session remembers which rules
/// it was held with. No protection against forgery is meant.
fn digest(files: &[FileText]) -> String {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for byte in files.iter().flat_map(|file| file.text.bytes().chain([0])) {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
    }
    format!("{hash:016x}")
}
