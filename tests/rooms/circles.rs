//! Circles of files: which file of `src/` uses which, read from `use` lines and paths in the text, and
//! the strongly connected components of that (Kosaraju's algorithm, as in Cormen et al., *Introduction
//! to Algorithms*, §20.5).
//!
//! What `mod.rs` only passes on with `pub use` counts as used where it is written, not in `mod.rs`.
//! What stands behind `#[cfg(test)]` is not looked at.

use std::collections::{BTreeMap, BTreeSet};

type Module = Vec<String>;

/// What a module passes on from another: by name, or all of it.
#[derive(Default)]
struct PassedOn {
    by_name: BTreeMap<String, Module>,
    all_of: Vec<Module>,
}

struct Source<'a> {
    files: BTreeMap<Module, Vec<&'a str>>,
    passed_on: BTreeMap<Module, PassedOn>,
}

/// The circles of files within one room, each file as its module: `ranking::queries::plan`. `files` are
/// paths below `src/` in parts, without `.rs`, with their text.
pub(super) fn circles(files: &[(Vec<String>, String)]) -> Vec<Vec<String>> {
    let files = files.iter().map(|(path, text)| (module(path), code(text))).collect();
    let mut source = Source { files, passed_on: BTreeMap::new() };
    source.note_passed_on();
    let uses: BTreeMap<&Module, BTreeSet<Module>> =
        source.files.keys().map(|file| (file, source.used_by(file))).collect();
    let mut done = BTreeSet::new();
    let mut order = Vec::new();
    for file in uses.keys() {
        visit(file, &|file| uses[file].iter().cloned().collect(), &mut done, &mut order);
    }
    let users = |file: &Module| {
        let all = uses.iter().filter(|(_, used)| used.contains(file));
        all.map(|(user, _)| (*user).clone()).collect()
    };
    let mut done = BTreeSet::new();
    let mut circles = Vec::new();
    for file in order.iter().rev() {
        let mut circle = Vec::new();
        visit(file, &users, &mut done, &mut circle);
        if circle.len() > 1 {
            circle.sort();
            circles.push(circle.iter().map(|module| module.join("::")).collect());
        }
    }
    circles
}

/// Goes on to all neighbours not yet met; notes each file after those behind it.
fn visit(
    file: &Module,
    next: &impl Fn(&Module) -> Vec<Module>,
    done: &mut BTreeSet<Module>,
    order: &mut Vec<Module>,
) {
    if done.insert(file.clone()) {
        next(file).iter().for_each(|one| visit(one, next, done, order));
        order.push(file.clone());
    }
}

fn module(path: &[String]) -> Module {
    let path = path.strip_suffix(&["mod".to_owned()]).unwrap_or(path);
    path.strip_suffix(&["lib".to_owned()]).unwrap_or(path).to_vec()
}

/// The lines without comments and tests.
fn code(text: &str) -> Vec<&str> {
    let lines = text.lines().take_while(|line| !line.contains("#[cfg(test)]"));
    lines.map(|line| line.split("//").next().unwrap()).collect()
}

impl Source<'_> {
    fn note_passed_on(&mut self) {
        let mut passed_on: BTreeMap<Module, PassedOn> = BTreeMap::new();
        for file in self.files.keys() {
            for (_, path) in self.use_lines(file).iter().filter(|(is_public, _)| *is_public) {
                let (name, from) = path.split_last().unwrap();
                let Some(from) = self.start(file, from) else { continue };
                let own = passed_on.entry(file.clone()).or_default();
                if name == "*" {
                    own.all_of.push(from);
                } else {
                    own.by_name.insert(name.clone(), from);
                }
            }
        }
        self.passed_on = passed_on;
    }

    /// The files of its own room that a file uses.
    fn used_by(&self, file: &Module) -> BTreeSet<Module> {
        let private = self.use_lines(file).into_iter().filter(|(is_public, _)| !is_public);
        let paths = private.map(|(_, path)| path).chain(self.paths(file));
        let used = paths.filter_map(|path| self.owner(self.start(file, &path)?));
        used.filter(|used| used.first() == file.first() && used != file).collect()
    }

    /// Every path that a file's `use` lines name, and whether it is passed on.
    fn use_lines(&self, file: &Module) -> Vec<(bool, Vec<String>)> {
        let mut found = Vec::new();
        for statement in self.files[file].join(" ").split(';') {
            let Some((before, tree)) = statement.rsplit_once("use ") else { continue };
            let before = before.trim_end();
            let is_public = before.ends_with("pub") || before.ends_with(')');
            if is_public || before.is_empty() || before.ends_with(['{', '}', ']']) {
                let paths = expanded(tree).into_iter();
                found.extend(paths.map(|path| {
                    let path = path.split(" as ").next().unwrap();
                    (is_public, path.split("::").map(|part| part.trim().to_owned()).collect())
                }));
            }
        }
        found
    }

    /// Every path in the text itself.
    fn paths(&self, file: &Module) -> Vec<Vec<String>> {
        let is_part = |letter: char| letter.is_alphanumeric() || letter == '_' || letter == ':';
        let lines = self.files[file].iter().filter(|line| !line.contains("use "));
        let words = lines.flat_map(|line| line.split(|letter| !is_part(letter)));
        let paths = words.filter(|word| word.contains("::") && !word.starts_with("::"));
        paths.map(|path| path.split("::").map(str::to_owned).collect()).collect()
    }

    /// A path from the root of the crate; none where it leads out of it.
    fn start(&self, file: &Module, path: &[String]) -> Option<Module> {
        let (first, rest) = path.split_first()?;
        let mut from = match first.as_str() {
            "crate" => Module::new(),
            "self" => file.clone(),
            "super" => file.split_last()?.1.to_vec(),
            child => {
                let below = [file.as_slice(), &[child.to_owned()]].concat();
                return self.files.contains_key(&below).then(|| [&below, rest].concat());
            }
        };
        let mut rest = rest;
        while let Some((_, more)) = rest.split_first().filter(|(part, _)| part.as_str() == "super")
        {
            from.pop();
            rest = more;
        }
        Some([&from, rest].concat())
    }

    /// The file in which what a path leads to is written.
    fn owner(&self, path: Module) -> Option<Module> {
        let known = (0..=path.len()).rev().find(|end| self.files.contains_key(&path[..*end]))?;
        let (file, rest) = path.split_at(known);
        let Some(name) = rest.first() else { return Some(file.to_vec()) };
        let Some(passed_on) = self.passed_on.get(file) else { return Some(file.to_vec()) };
        let from = passed_on.by_name.get(name).or_else(|| {
            passed_on.all_of.iter().find(|module| {
                let lines = self.files.get(*module).into_iter().flatten();
                let names = [" struct ", " enum ", " fn ", " trait ", " const ", " type "];
                lines.clone().any(|line| {
                    names.iter().any(|kind| format!(" {line}").contains(&format!("{kind}{name}")))
                })
            })
        });
        match from {
            Some(from) => self.owner([from.as_slice(), std::slice::from_ref(name)].concat()),
            None => Some(file.to_vec()),
        }
    }
}

/// `a::{b, c::{d, e}}` as `a::b`, `a::c::d`, `a::c::e`.
fn expanded(tree: &str) -> Vec<String> {
    let Some((before, inner)) = tree.split_once('{') else {
        return vec![tree.trim().trim_end_matches("::self").to_owned()];
    };
    let inner = inner.rsplit_once('}').map_or(inner, |(inner, _)| inner);
    let mut depth = 0;
    let branches = inner.split(|letter| {
        depth += i32::from(letter == '{') - i32::from(letter == '}');
        letter == ',' && depth == 0
    });
    let branches = branches.filter(|branch| !branch.trim().is_empty());
    branches.flat_map(|branch| expanded(&format!("{}{}", before.trim(), branch.trim()))).collect()
}

#[test]
fn a_circle_is_found_also_behind_a_name_that_is_passed_on() {
    let file = |path: &str, text: &str| {
        (path.split('/').map(str::to_owned).collect::<Vec<String>>(), text.to_owned())
    };
    let files = |from_b: &str| {
        [
            file("room/mod", "mod a;\nmod b;\nmod c;\npub use a::{One, Other};\nuse b::two;"),
            file("room/a", "use std::fs;\nuse crate::{other::X, room::b::{self, two}};\n"),
            file("room/b", from_b),
            file("room/c", "pub(super) fn three() { super::a::One::new() }"),
            file("other/mod", "use crate::room::One;"),
        ]
    };
    let none = Vec::<Vec<String>>::new();
    assert_eq!(circles(&files("use std::fmt;")), none);
    let circle = [["room::a".to_owned(), "room::b".to_owned()].to_vec()].to_vec();
    assert_eq!(circles(&files("use super::One;")), circle);
    assert_eq!(circles(&files("fn two() { crate::room::One::new() }")), circle);
    let longer = ["room::a", "room::b", "room::c"].map(str::to_owned).to_vec();
    assert_eq!(circles(&files("use super::c::three;")), [longer]);
    assert_eq!(circles(&files("// use super::One;\n#[cfg(test)]\nuse super::One;")), none);
    let with_head = circles(&files("use super::head;"));
    assert_eq!(with_head, [["room", "room::b"].map(str::to_owned).to_vec()]);
}
