//! Packs from folders and from the binary. Rule files come from strangers: the number and size of
//! files are bounded, links are not followed, nothing outside the folder is read.

use std::fmt;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::fault::{Fault, Faults, FileText};
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
            PackSource::Folder(folder) => folder_files(folder)?,
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
        let found = match sound {
            Some(sound) => ReadFile { file: sound, ..ReadFile::default() },
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

fn folder_files(folder: &Path) -> Result<Vec<FileText>, Unreadable> {
    let mut paths = Vec::new();
    find_files(folder, 0, &mut paths)?;
    if paths.is_empty() {
        return Err(unreadable(folder, "the folder holds no rule file (.yaml or .yml)"));
    }
    paths.sort();
    let mut total = 0;
    let mut found = Vec::with_capacity(paths.len());
    for path in paths {
        let text = file_text(&path)?;
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

fn file_text(path: &Path) -> Result<String, Unreadable> {
    let file = fs::File::open(path).map_err(|error| unreadable(path, plain(&error)))?;
    let mut bytes = Vec::new();
    file.take(LARGEST_FILE + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(path, plain(&error)))?;
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(unreadable(path, "the file is larger than 1 MiB"));
    }
    let text =
        String::from_utf8(bytes).map_err(|_| unreadable(path, "the file is no text (UTF-8)"))?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
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
