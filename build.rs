//! Writes the table of built-in rule files, so that a file added under rules/ is in the binary:
//! each with its text and, since that is read many times faster, with what it says as JSON.

use std::error::Error;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

use serde::Serialize;
use serde_yaml::Value;

#[path = "src/rules/digest.rs"]
mod digest;
#[allow(dead_code, unreachable_pub, reason = "the reader of values needs only a part")]
#[path = "src/rules/forms.rs"]
mod forms;
#[allow(dead_code, unreachable_pub, reason = "the library's own file, of which types are used")]
#[path = "src/rules/written.rs"]
mod written;

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=rules");
    println!("cargo::rerun-if-changed=build.rs");
    let root = PathBuf::from(env::var("CARGO_MANIFEST_DIR")?).join("rules");
    let out = PathBuf::from(env::var("OUT_DIR")?);
    let mut files = Vec::new();
    collect(&root, &mut files)?;
    files.sort();
    let mut table = String::from("static BUILT_IN: &[BuiltIn] = &[\n");
    let mut digest = digest::EMPTY;
    for (index, path) in files.iter().enumerate() {
        let text = fs::read_to_string(path)?;
        digest = digest::digest(digest, &text);
        let name = path.strip_prefix(&root)?.display().to_string();
        let path = path.display().to_string();
        // A faulty file is in the binary all the same: `pack check` says what is wrong.
        let json = match json(&text) {
            Err(_) => "None".to_owned(),
            Ok((rules, cases)) => {
                let rules = written_to(&out.join(format!("{index}.json")), &rules)?;
                let cases = written_to(&out.join(format!("{index}_cases.json")), &cases)?;
                format!("Some(Json {{ rules: {rules}, cases: {cases} }})")
            }
        };
        writeln!(
            table,
            "BuiltIn {{ name: {name:?}, text: include_str!({path:?}), json: {json} }},"
        )?;
    }
    writeln!(table, "];\nconst BUILT_IN_DIGEST: u64 = {digest:#x};")?;
    fs::write(out.join("built_in.rs"), table)?;
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

/// What a rule file says, without the fields that it leaves out: first all but its cases, which no
/// interview needs, then those.
fn json(text: &str) -> Result<(String, String), Box<dyn Error>> {
    let mut file: written::File = serde_yaml::from_str(text)?;
    let cases = file.cases.take();
    Ok((as_json(&file)?, as_json(&cases)?))
}

fn as_json(written: &impl Serialize) -> Result<String, Box<dyn Error>> {
    let mut value = serde_yaml::to_value(written)?;
    drop_what_is_left_out(&mut value);
    Ok(serde_json::to_string(&value)?)
}

/// Writes a file; the expression that takes it into the binary.
fn written_to(path: &Path, text: &str) -> Result<String, Box<dyn Error>> {
    fs::write(path, text)?;
    Ok(format!("include_str!({:?})", path.display().to_string()))
}

fn drop_what_is_left_out(value: &mut Value) {
    match value {
        Value::Mapping(fields) => {
            fields.retain(|_, field| !field.is_null());
            fields.values_mut().for_each(drop_what_is_left_out);
        }
        Value::Sequence(items) => items.iter_mut().for_each(drop_what_is_left_out),
        _ => {}
    }
}
