//! Sentences round a value that came out below zero.

#[path = "../../src/interview/words/turned.rs"]
mod turned;

use turned::{for_itself, turned};

#[test]
fn a_negative_value_above_something_is_below_it() {
    assert_eq!(turned(" above the spring.").as_deref(), Some(" below the spring."));
    assert_eq!(turned(" earlier than planned.").as_deref(), Some(" later than planned."));
}

#[test]
fn without_a_word_to_turn_the_number_stands_for_itself_and_further_sentences_stay() {
    assert_eq!(turned(". Below zero leave it."), None);
    assert_eq!(
        for_itself("Relieve it by ", "Relief of the stop: -0.4 mm", ". Below zero leave it."),
        "Relief of the stop: -0.4 mm. Below zero leave it."
    );
}
