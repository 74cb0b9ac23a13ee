//! Causes, findings, answers and cautions in a conclusion.

use serde_json::Value as Json;

use super::forms::{Field, chance, code, flag, list, number, number_or_null, object, text};

pub(super) fn named() -> Json {
    object(
        "An entry of the rules.",
        vec![Field("id", text(), "Its id."), Field("text", text(), "Its words.")],
        Vec::new(),
    )
}

pub(super) fn caution() -> Json {
    object(
        "What can hurt.",
        vec![
            Field("id", text(), "Its id."),
            Field("level", code(&["stop", "danger", "care"]), "How badly."),
            Field("text", text(), "What to do or leave."),
            Field("in_force", flag(), "By what was answered, not just with a task ahead."),
        ],
        Vec::new(),
    )
}

pub(super) fn cause() -> Json {
    object(
        "Something that may be wrong with the car.",
        vec![
            Field("id", text(), "Its id."),
            Field("title", text(), "Its name."),
            Field("probability", chance(), "That it is present."),
            Field("for", list(reason()), "What speaks for it."),
            Field("against", list(reason()), "What speaks against it."),
            Field("confirmed_by", list(named()), "Open questions that would confirm it."),
        ],
        vec![
            Field("weaker", number(), "How many weaker reasons are not listed."),
            Field("about", text(), "What it is."),
        ],
    )
}

fn reason() -> Json {
    object(
        "A finding and what it does to a cause.",
        vec![
            Field("finding", text(), "Its id."),
            Field(
                "times",
                number_or_null(),
                "What it multiplies the odds by; null where unbounded.",
            ),
            Field("holds", flag(), "It is true rather than ruled out."),
            Field("probability", number_or_null(), "How likely it is, or was, true."),
            Field("earlier", flag(), "It was seen before the repair, and not since."),
            Field("says", text(), "The finding in words."),
        ],
        Vec::new(),
    )
}

pub(super) fn set() -> Json {
    object(
        "Causes that are present together, and no others.",
        vec![
            Field("causes", list(text()), "Their ids; none where nothing is wrong."),
            Field("titles", list(text()), "Their names."),
            Field("probability", chance(), "That it is just these."),
        ],
        Vec::new(),
    )
}

pub(super) fn doubt() -> Json {
    object(
        "An answer that, were it wrong, would put another cause in the lead.",
        vec![
            Field("answers", list(named()), "The questions."),
            Field("lead", text(), "The cause that would lead."),
            Field("lead_title", text(), "Its name."),
            Field("probability", chance(), "Its chance then."),
            Field("fits", chance(), "The chance that all else gives to what was answered."),
        ],
        Vec::new(),
    )
}

pub(super) fn finding() -> Json {
    object(
        "What answers show.",
        vec![
            Field("id", text(), "Its id."),
            Field("probability", number_or_null(), "How likely it is true; null where unknown."),
            Field("says", text(), "The finding in words."),
        ],
        Vec::new(),
    )
}

pub(super) fn answer() -> Json {
    object(
        "A question with its answer.",
        vec![
            Field("id", text(), "Id of the question."),
            Field("text", text(), "What was asked."),
            Field("shown", text(), "The answer as people read it."),
        ],
        vec![Field("source", text(), "Where a typical value is from.")],
    )
}

pub(super) fn new_line() -> Json {
    object(
        "A finding that came with the last repair.",
        vec![
            Field("finding", text(), "Its id."),
            Field("says", text(), "The finding in words."),
            Field("cause", text(), "The cause that brings it most often."),
            Field("cause_title", text(), "Its name."),
        ],
        Vec::new(),
    )
}

pub(super) fn denied() -> Json {
    object(
        "A finding of the complaint that answers rule out.",
        vec![
            Field("complaint", text(), "Id of the complaint."),
            Field("finding", text(), "Id of the finding."),
            Field("says", text(), "The finding in words."),
            Field("answers", list(named()), "The questions whose answers rule it out."),
        ],
        Vec::new(),
    )
}
