//! Work in a conclusion: what to do next, and how the last repair turned out.

use serde_json::Value as Json;

use super::forms::{Field, chance, code, flag, list, number, object, or_null, text};
use super::lines::named;
use super::numbers::{figure, shown};

pub(super) fn work() -> Json {
    object(
        "A check or a repair.",
        vec![
            Field("kind", code(&["check", "repair", "planned"]), "Which of these."),
            Field("id", text(), "Id of the question or the repair."),
            Field("minutes", number(), "How long it takes from where the car is."),
            Field("chance", chance(), "That it cures, or settles something."),
            Field("expect", text(), "What it should bring, or what is normal."),
            Field("title", text(), "What is done."),
            Field("tools", list(text()), "What it is done with."),
            Field("parts", list(text()), "What is fitted."),
            Field("cautions", list(text()), "Ids of the cautions that go with it."),
        ],
        vec![
            Field("made_for", named(), "The repair to do if the check finds something."),
            Field("after_check", named(), "The check to make before the repair."),
            Field("alternatives", list(alternative()), "Other ways out of the same fault."),
            Field("sizes", list(size()), "The numbers that the repair is done by."),
            Field("missing", list(named()), "What must be measured before the repair is done."),
            Field("leaves_as_is", flag(), "By its own forecast the repair changes nothing."),
            Field("how", text(), "How it is done."),
        ],
    )
}

fn alternative() -> Json {
    object(
        "Another way out of a fault.",
        vec![
            Field("id", text(), "Id of the repair."),
            Field("title", text(), "What is done."),
            Field("minutes", number(), "How long it takes."),
            Field("mends", flag(), "False for a way to live with the fault."),
        ],
        Vec::new(),
    )
}

fn size() -> Json {
    object(
        "A number that a repair is done by.",
        vec![
            Field("id", text(), "Id of the working or the question."),
            Field("title", text(), "What it is."),
            Field("shown", shown(), "The number as people read it."),
        ],
        Vec::new(),
    )
}

pub(super) fn verdict() -> Json {
    let outcomes = ["cured", "better", "unchanged", "worse", "not_comparable"];
    let reasons = ["conditions_differ", "nothing_new", "not_measured_twice"];
    object(
        "How a repair turned out.",
        vec![
            Field("verdict", code(&outcomes), "The outcome."),
            Field("probability", chance(), "That it is so."),
            Field("by_word", flag(), "It rests on what the person says alone."),
            Field("before", or_null(figure()), "The deciding value before."),
            Field("after", or_null(figure()), "The same after."),
            Field("predicted", or_null(figure()), "The same as it was predicted."),
        ],
        vec![
            Field("told", code(&outcomes), "What the person says."),
            Field("repair", named(), "What was done."),
            Field("model_held", flag(), "Whether the reading lies where it was predicted."),
            Field(
                "expected_reading",
                figure(),
                "The prediction with all uncertainty of a reading.",
            ),
            Field("chance", chance(), "Of a reading as far out as this or farther."),
            Field("judged_by", text(), "Id of the deciding value."),
            Field("judged_by_title", text(), "The same in words."),
            Field("forecast_now", figure(), "What all that is known gives now."),
            Field("because", code(&reasons), "Why it can't be told."),
            Field("because_text", text(), "The same in words."),
        ],
    )
}
