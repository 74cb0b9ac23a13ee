//! Every package of the build against `.ci/licences.yaml`: licences, reasons, where packages come
//! from, and that none is a version with a known fault of safety. All advisories need a network and are
//! left to whoever updates a dependency.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;
use std::process::Command;

use boostwright::rules::yaml::read;
use serde::Deserialize;

use crate::project::{root, rust_files, text};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Policy {
    allowed: BTreeSet<String>,
    exceptions: BTreeMap<String, Exception>,
    archived: BTreeMap<String, Archived>,
    /// By the name of the advisory.
    mended: BTreeMap<String, Mended>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Mended {
    package: String,
    /// The first version without the fault.
    from: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Exception {
    licence: String,
    reason: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Archived {
    owners: Vec<PathBuf>,
    reason: String,
}

#[derive(Deserialize)]
struct Metadata {
    packages: Vec<Package>,
}

#[derive(Deserialize)]
struct Package {
    name: String,
    version: String,
    /// An SPDX expression; an older form has `/` for `OR`.
    license: Option<String>,
    /// None for the package under test itself.
    source: Option<String>,
}

fn policy() -> Policy {
    read(&text(".ci/licences.yaml")).unwrap()
}

fn output(command: &mut Command) -> String {
    let output = command.current_dir(root()).output().unwrap();
    let words = |bytes| String::from_utf8(bytes).unwrap();
    assert!(output.status.success(), "{command:?}: {}", words(output.stderr));
    words(output.stdout)
}

/// The packages of the build on this machine: those of other systems are not here to be asked.
fn packages() -> Vec<Package> {
    let about = output(Command::new("rustc").arg("-vV"));
    let host = about.lines().find_map(|line| line.strip_prefix("host: ")).unwrap();
    let listed = output(Command::new(env!("CARGO")).args([
        "metadata",
        "--offline",
        "--locked",
        "--format-version=1",
        "--filter-platform",
        host,
    ]));
    let packages = serde_json::from_str::<Metadata>(&listed).unwrap().packages;
    assert!(packages.len() > 50, "only {} packages listed", packages.len());
    packages
}

/// Whether an SPDX expression can be met with licences that `allows` lets in. `AND` binds before
/// `OR`; a licence and its `WITH` part count as one name.
fn can_be_met(expression: &str, allows: &dyn Fn(&str) -> bool) -> bool {
    let spaced = expression.replace('(', " ( ").replace(')', " ) ").replace('/', " OR ");
    let mut words: Vec<&str> = spaced.split_whitespace().rev().collect();
    let met = either(&mut words, allows);
    met && words.is_empty()
}

/// The words stand in reverse, so that the next is the last.
fn either(words: &mut Vec<&str>, allows: &dyn Fn(&str) -> bool) -> bool {
    let mut met = both(words, allows);
    while words.pop_if(|word| *word == "OR").is_some() {
        met |= both(words, allows);
    }
    met
}

fn both(words: &mut Vec<&str>, allows: &dyn Fn(&str) -> bool) -> bool {
    let mut met = single(words, allows);
    while words.pop_if(|word| *word == "AND").is_some() {
        met &= single(words, allows);
    }
    met
}

fn single(words: &mut Vec<&str>, allows: &dyn Fn(&str) -> bool) -> bool {
    match words.pop() {
        Some("(") => {
            let met = either(words, allows);
            words.pop() == Some(")") && met
        }
        Some(licence) if words.pop_if(|word| *word == "WITH").is_some() => {
            let addition = words.pop().unwrap_or_default();
            allows(&format!("{licence} WITH {addition}"))
        }
        Some(licence) => allows(licence),
        None => false,
    }
}

#[test]
fn every_package_has_a_licence_that_the_policy_allows() {
    let policy = policy();
    let refused: Vec<String> = packages()
        .into_iter()
        .filter(|package| {
            let exception = policy.exceptions.get(&package.name).map(|let_in| &let_in.licence);
            let allows = |licence: &str| {
                policy.allowed.contains(licence) || exception.is_some_and(|also| also == licence)
            };
            !package.license.as_deref().is_some_and(|licence| can_be_met(licence, &allows))
        })
        .map(|package| format!("{}: {:?}", package.name, package.license))
        .collect();
    assert!(refused.is_empty(), "not allowed by .ci/licences.yaml: {refused:#?}");
}

#[test]
fn every_exception_is_needed_and_gives_its_reason() {
    let policy = policy();
    let packages = packages();
    for (name, exception) in &policy.exceptions {
        let package = packages.iter().find(|package| package.name == *name);
        let licence = package.and_then(|package| package.license.as_deref()).unwrap();
        let without = can_be_met(licence, &|licence| policy.allowed.contains(licence));
        assert!(!without, "{name} needs no exception");
        assert!(exception.reason.trim().len() > 20, "{name}: why?");
    }
}

#[test]
fn an_archived_package_is_still_used_and_has_its_owners_alone() {
    let packages = packages();
    for (name, archived) in policy().archived {
        assert!(packages.iter().any(|package| package.name == name), "{name} is gone");
        assert!(archived.reason.trim().len() > 20, "{name}: why?");
        let owners: Vec<PathBuf> = archived.owners.iter().map(|owner| root().join(owner)).collect();
        let mut users: Vec<PathBuf> = rust_files(&root().join("src"))
            .into_iter()
            .filter(|file| fs::read_to_string(file).unwrap().contains(&format!("{name}::")))
            .collect();
        users.sort();
        assert_eq!(users, owners, "{name} is to be used there and nowhere else");
    }
}

#[test]
fn every_package_comes_from_one_registry() {
    let sources: BTreeSet<String> =
        packages().into_iter().filter_map(|package| package.source).collect();
    assert_eq!(sources.len(), 1, "{sources:?}");
    assert!(sources.iter().all(|source| source.starts_with("registry+")), "{sources:?}");
}

/// The numbers of a version, so that they compare as numbers.
fn numbers(version: &str) -> Vec<u64> {
    let plain = version.split(['-', '+']).next().unwrap_or_default();
    plain.split('.').map(|number| number.parse().unwrap()).collect()
}

#[test]
fn no_package_is_a_version_with_a_known_fault_of_safety() {
    let packages = packages();
    for (advisory, Mended { package, from }) in policy().mended {
        let mut used = packages.iter().filter(|known| known.name == package).peekable();
        assert!(used.peek().is_some(), "{advisory}: {package} is gone");
        for known in used {
            let version = &known.version;
            assert!(numbers(version) >= numbers(&from), "{advisory}: {package} {version}");
        }
    }
    assert!(numbers("0.10.2+deprecated") > numbers("0.9.34"));
}

#[test]
fn licence_expressions_read_as_spdx_says() {
    let allows = |licence: &str| ["MIT", "Apache-2.0", "Zlib WITH extra"].contains(&licence);
    for met in ["MIT", "GPL-2.0 OR MIT", "MIT/GPL-2.0", "MIT AND Apache-2.0", "Zlib WITH extra"] {
        assert!(can_be_met(met, &allows), "{met}");
    }
    for met in ["(GPL-2.0 OR MIT) AND Apache-2.0", "GPL-2.0 AND Zlib OR MIT"] {
        assert!(can_be_met(met, &allows), "{met}");
    }
    for refused in ["", "GPL-2.0", "MIT AND GPL-2.0", "(MIT OR Zlib) AND GPL-2.0", "Zlib"] {
        assert!(!can_be_met(refused, &allows), "{refused}");
    }
    for not_spdx in ["MIT Apache-2.0", "(MIT", "MIT)", "MIT AND", "MIT WITH"] {
        assert!(!can_be_met(not_spdx, &allows), "{not_spdx}");
    }
}
