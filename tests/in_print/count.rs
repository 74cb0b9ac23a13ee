//! How resolved cases that stand in print come out: at which place the rules name the cause that was
//! found. `cargo bench --bench in_print > tests/in_print/README.md` writes the table there.

#![allow(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a tool for developers, which says on the screen what it found"
)]

use boostwright::interview::fold;
use boostwright::report::conclude;
use boostwright::rules::{Pack, PackSource, load_to_walk};
use boostwright::session::{read_session_text, take};
use serde_yaml::{Value, from_str, to_string};

const CASES: &str = include_str!("cases.yaml");

/// A cause named later than this is as good as not named.
const LAST: usize = 9;

/// Somebody who knows the trade, from the facts of 96 of these cases: of 100 first, and among three.
const BY_TRADE: [(&str, u8, u8); 2] = [("told", 57, 73), ("tested", 70, 85)];

fn main() {
    let pack = load_to_walk(&[PackSource::BuiltIn]).expect("the built-in rules").pack;
    let cases: Vec<Value> = from_str(CASES).expect("it is YAML");
    let places = |kind: &str| -> Vec<Option<usize>> {
        cases.iter().map(|case| place(&pack, case, kind)).collect()
    };
    let (told, tested) = (places("told"), places("tested"));
    println!("{}", include_str!("head.md").trim_end());
    println!(
        "\n| facts | first | among three | by trade knowledge alone |\n| --- | --- | --- | --- |"
    );
    for ((name, first, three), places) in BY_TRADE.iter().zip([&told, &tested]) {
        let of = |most: usize| {
            let within = places.iter().filter(|place| place.is_some_and(|at| at < most)).count();
            format!("{within} ({:.0} %)", percent(within, places.len()))
        };
        println!("| {name} | {} | {} | {first} and {three} % |", of(1), of(3));
    }
    println!("\n| case | cause that was found | place by what was told | with the tests |");
    println!("| --- | --- | --- | --- |");
    for ((case, told), tested) in cases.iter().zip(told).zip(tested) {
        let causes = match causes(case).join(", ") {
            none if none.is_empty() => "none of the rules'".to_owned(),
            some => some,
        };
        let (id, page) = (text(case, "id"), text(case, "where"));
        println!("| {id} ({page}) | {causes} | {} | {} |", shown(told), shown(tested));
    }
}

/// At which place the first of the right causes is named.
fn place(pack: &Pack, case: &Value, kind: &str) -> Option<usize> {
    let answers = to_string(&case[kind]).expect("it was YAML");
    let (session, source) = read_session_text(text(case, "id"), answers).expect("answers");
    let rounds = take(&session, &source, pack).expect("answers to questions").rounds;
    let right = causes(case);
    let named = conclude(&fold(pack, &rounds, None), None).causes;
    named.iter().take(LAST).position(|cause| right.contains(&cause.id.as_str()))
}

fn causes(case: &Value) -> Vec<&str> {
    let all = case["causes"].as_sequence().expect("a list");
    all.iter().filter_map(Value::as_str).collect()
}

fn text<'c>(case: &'c Value, key: &str) -> &'c str {
    case[key].as_str().expect("a text")
}

fn shown(place: Option<usize>) -> String {
    place.map_or_else(|| "later".to_owned(), |place| (place + 1).to_string())
}

#[expect(clippy::cast_precision_loss, reason = "some hundred")]
fn percent(part: usize, whole: usize) -> f64 {
    100.0 * part as f64 / whole as f64
}
