//! Whatever a person answers survives saving and loading unchanged.

use boostwright::rules::Given;
use boostwright::session::{PackMark, Session, SessionRound, read_session, write_session};
use indexmap::IndexMap;
use proptest::collection::vec;
use proptest::prelude::{Just, Strategy, any, prop_oneof, proptest};

use super::bench::folder;

/// Texts that YAML takes for something else, and any others.
fn tricky() -> impl Strategy<Value = String> {
    let known = [
        "",
        " ",
        "no",
        "yes",
        "on",
        "~",
        "null",
        "true",
        "010",
        "0x1f",
        "1e3",
        "1.50",
        ".inf",
        ".nan",
        "12:30",
        "2026-01-01",
        "- a",
        "a: b",
        "# a",
        "a #b",
        "{a}",
        "[a]",
        "*a",
        "&a",
        "!a",
        "|",
        ">",
        "%a",
        "@a",
        "`a",
        "'",
        "\"",
        "'a",
        "\\",
        "\n",
        "a\n",
        "\na",
        " a\n  b\n",
        "a\r\nb",
        "\t",
        "a\tb",
        "\u{0}",
        "\u{7f}",
        "\u{85}",
        "\u{feff}",
        "\u{2028}",
        "0,85 bar",
        "24 mm ± 0.2",
        "−60 kPa",
        "<<",
        "---",
        "...",
        "? a",
        "=",
        "17 inHg; 18 inHg",
    ];
    prop_oneof![
        proptest::sample::select(known.to_vec()).prop_map(str::to_owned),
        any::<String>(),
        "[ -~\n]{0,40}",
    ]
}

fn id() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-z][a-z0-9_]{0,12}",
        proptest::sample::select(vec!["no", "null", "y", "true", "on", "answers"])
            .prop_map(str::to_owned),
    ]
}

fn given() -> impl Strategy<Value = Given> {
    let row = vec((id(), tricky()), 0..3)
        .prop_map(|cells| cells.into_iter().collect::<IndexMap<String, String>>());
    prop_oneof![4 => tricky().prop_map(Given::Text), 1 => vec(row, 1..4).prop_map(Given::Rows)]
}

fn answers() -> impl Strategy<Value = IndexMap<String, Given>> {
    vec((id(), given()), 0..8).prop_map(|answers| answers.into_iter().collect())
}

fn later() -> impl Strategy<Value = SessionRound> {
    (id(), answers(), proptest::option::of(tricky())).prop_map(|(repair, answers, conclusion)| {
        SessionRound { repair: Some(repair), answers, conclusion, ..SessionRound::default() }
    })
}

fn session() -> impl Strategy<Value = Session> {
    let first = (vec(id(), 1..3), answers(), proptest::option::of(tricky())).prop_map(
        |(complaints, answers, conclusion)| SessionRound {
            complaints,
            answers,
            conclusion,
            ..SessionRound::default()
        },
    );
    let pack = prop_oneof![
        Just(None),
        (tricky(), "[0-9a-f]{16}").prop_map(|(name, digest)| Some(PackMark { name, digest })),
    ];
    (pack, proptest::option::of(tricky()), first, vec(later(), 0..3)).prop_map(
        |(pack, car, first, later)| {
            let rounds = std::iter::once(first).chain(later).collect();
            Session { pack, car, rounds }
        },
    )
}

proptest! {
    #[test]
    fn any_session_comes_back_unchanged(session in session()) {
        let folder = folder();
        let path = folder.path().join("boost.yaml");
        let mut bytes = Vec::new();
        write_session(&session, &mut bytes).unwrap();
        std::fs::write(&path, &bytes).unwrap();
        let (back, _) = read_session(&path).map_err(|error| {
            proptest::test_runner::TestCaseError::fail(error.to_string())
        })?;
        assert_eq!(back, session);
    }

    #[test]
    fn any_text_is_read_or_refused_without_a_panic(text in any::<String>()) {
        let folder = folder();
        let path = folder.path().join("boost.yaml");
        std::fs::write(&path, text).unwrap();
        if let Err(error) = read_session(&path) {
            assert!(!error.to_string().is_empty());
        }
    }
}
