//! Of several readings that clash the odd one is found, wherever it stands. All formulas are straight
//! lines, so that the closed form is exact: see `readings.rs`.

use serde_json::Value;

use super::bench::{Bench, entry, number};

/// The width in tenths is N(2.0, 0.2²) mm, and each reading has √(0.05² + 0.05²) mm on top.
const PACK: &str = "
complaints:
  loose: {title: The bracket is loose, start: look}
questions:
  first: {text: First gap, answer: {measure: length, unit: mm, from: 0 mm, to: 9 mm, uncertainty: 0.05 mm}}
  second: {text: Second gap, answer: {measure: length, unit: mm, from: 0 mm, to: 9 mm, uncertainty: 0.05 mm}}
  third: {text: Third gap, answer: {measure: length, unit: mm, from: 0 mm, to: 9 mm, uncertainty: 0.05 mm}}
  width: {text: Width, answer: {measure: length, unit: mm, from: 0 mm, to: 90 mm, uncertainty: 0.2 mm, typical: 20 mm ± 2}}
workings:
  bracket: {formula: width + 0 * first}
readings:
  first_read: {of: first, should_be: width / 10, good_to: 0.05 mm}
  second_read: {of: second, should_be: width / 10, good_to: 0.05 mm}
  third_read: {of: third, should_be: width / 10, good_to: 0.05 mm}
steps:
  look: {ask: [first, second, third], work: [bracket], then: [{go: conclude}]}
";

fn replay(gaps: [&str; 3]) -> Value {
    let [first, second, third] = gaps;
    Bench::new(PACK).replay(&format!(
        "rounds:\n- {{complaint: loose, answers: \
         {{first: {first} mm, second: {second} mm, third: {third} mm}}}}\n"
    ))
}

fn assert_odd(told: &Value, odd: &str) {
    for id in ["first_read", "second_read", "third_read"] {
        let reading = entry(told, "readings", id);
        assert_eq!(!reading["clash"].is_null(), id == odd, "{reading}");
        assert_eq!(number(reading, "chance") < 1e-3, id == odd, "{reading}");
    }
}

#[test]
fn it_is_found_wherever_it_stands() {
    assert_odd(&replay(["2.9", "2.1", "2.1"]), "first_read");
    assert_odd(&replay(["2.1", "2.9", "2.1"]), "second_read");
    assert_odd(&replay(["2.1", "2.1", "2.9"]), "third_read");
}

/// Given the second, 2.1 mm, the first should be (25·2.0 + 200·2.1)/225 = 2.0889 mm with a variance of
/// 1/225: it stands at one in twenty with √((0.8111/1.96)² − 1/225) = 0.4084 mm. The width is then
/// 10·(25·2.0 + 400·2.1 + 2.9/0.4084²)/(425 + 1/0.4084²) = 21.05 mm.
#[test]
fn it_is_believed_less_until_it_stands_at_one_in_twenty() {
    let told = replay(["2.9", "2.1", "2.1"]);
    let clash = &entry(&told, "readings", "first_read")["clash"];
    let widened = number(clash, "standard_uncertainty") * 1e3;
    assert!((widened / 0.408_4 - 1.0).abs() < 0.03, "{clash}");
    let width = number(entry(&told, "workings", "bracket"), "value") * 1e3;
    assert!((width - 21.05).abs() < 0.05, "{width}");
}
