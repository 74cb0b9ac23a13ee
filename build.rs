//! Writes the table of built-in rule files, so that a file added under rules/ is in the binary.

use std::error::Error;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=rules");
    println!("cargo::rerun-if-changed=build.rs");
    let root = PathBuf::from(env::var("CARGO_MANIFEST_DIR")?).join("rules");
    let mut files = Vec::new();
    collect(&root, &mut files)?;
    files.sort();
    let mut table = String::from("static BUILT_IN: &[(&str, &str)] = &[\n");
    for file in files {
        let name = file.strip_prefix(&root)?.display().to_string();
        writeln!(table, "    ({name:?}, include_str!({:?})),", file.display().to_string())?;
    }
    table.push_str("];\n");
    fs::write(PathBuf::from(env::var("OUT_DIR")?).join("built_in.rs"), table)?;
    Ok(())
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) -> Result<(), Box<dyn Error>> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            collect(&path, files)?;
        } else if path.extension().is_some_and(|ending| ending == "yaml") {
            files.push(path);
        }
    }
    Ok(())
}
