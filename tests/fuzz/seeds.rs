//! Sound texts to start from: the project's own.

use std::fs;
use std::path::{Path, PathBuf};

use boostwright::quantity::offered_units;

/// Units as people write them, alone and behind numbers.
pub(crate) fn units() -> Vec<String> {
    let units = offered_units().flat_map(|(_, units)| units.iter());
    units.flat_map(|unit| [(*unit).to_owned(), format!("0.85 {unit} ± 0.02")]).collect()
}

/// The formulas of the built-in rules that stand on one line, and some in names of their own.
pub(crate) fn formulas() -> Vec<String> {
    let own = [
        "x - y > 0.1 bar",
        "if sound == loud then 1 else 0",
        "interpolate(opening, travel = 4 mm) > 1 bar",
        "not hisses and (x > 1 bar or known(z))",
        "chance_between(x, 0.2 bar, 1 bar) + chance_below(y, 1 bar)",
        "absolute(x, 1 bar) / (1 bar ± 2 %)",
        "twice(x) + circle_area(z) * 2 bar / 1 mm2",
        "min(x, y, 1 bar) ^ 2 / sqrt(4 bar2)",
    ];
    let built_in = files("rules").into_iter().flat_map(|text| {
        let lines = text.lines().filter_map(|line| {
            let line = line.trim_start();
            line.strip_prefix("formula: ")
                .or_else(|| line.strip_prefix("when: "))
                .map(str::to_owned)
        });
        lines.collect::<Vec<String>>()
    });
    own.iter().map(|formula| (*formula).to_owned()).chain(built_in).collect()
}

/// Small packs, sound ones and such with one mistake.
pub(crate) fn packs() -> Vec<String> {
    let folders = ["tests/broken/packs", "tests/report/pack", "tests/session/pack"];
    folders.iter().flat_map(|folder| files(folder)).collect()
}

/// Sessions and files of answers, sound ones and such with one mistake.
pub(crate) fn sessions() -> Vec<String> {
    ["tests/session/bad", "transcripts-demo"].iter().flat_map(|folder| files(folder)).collect()
}

/// Answers as people give them.
pub(crate) fn answers() -> Vec<String> {
    let answers = [
        "0.85 bar",
        "0,85; 0,86; 0,84 bar",
        "24 mm ± 0.2",
        "-3 °C",
        "5/8 in",
        "17 inHg",
        "2",
        "12 %",
        "yes",
        "no",
        "unknown",
        "later",
        "climbs",
        "loud",
        "0.4 bar: 0.5 mm; 0.6 bar: 2 mm; 0.8 bar: 4 mm",
        "2500 rpm",
        "1e3 Pa",
    ];
    answers.iter().map(|answer| (*answer).to_owned()).collect()
}

/// The texts of the YAML files below a folder.
fn files(folder: &str) -> Vec<String> {
    let mut paths = paths_below(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder));
    paths.sort();
    let rules = paths.iter().filter(|path| path.extension().is_some_and(|ending| ending == "yaml"));
    rules.filter_map(|path| fs::read_to_string(path).ok()).collect()
}

fn paths_below(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let paths = entries.flatten().map(|entry| entry.path());
    paths.flat_map(|path| if path.is_dir() { paths_below(&path) } else { vec![path] }).collect()
}
