//! What the fields of a question are for.

use super::mapping::{Holds, Mapping, Value, field, source, text, texts, word};

pub(super) static QUESTION: Mapping = Mapping {
    meaning: "One thing that a person can say or measure.",
    fields: &[
        text("text", "the question").must(),
        field(
            "answer",
            Holds::Answer(&ANSWER),
            "its form: `yes_or_no`, or a mapping with one of `measure`, `choose`, `any_of` and \
             `table`",
        )
        .must(),
        text("how", "how to do it; shown on request"),
        text("why", "why it is asked; shown on request"),
        text("normal", "what a sound car shows, in one line"),
        text("car", "the car state that it needs"),
        text("setup", "the set-up that it needs"),
        text("minutes", "how long it takes (default: 5)"),
        texts("tools", "tools that it needs, a list of texts"),
        text(
            "sure",
            "how often such an answer is right: `90 in 100` (default: what the head's `usual` says, \
             otherwise always). For what is told or chosen; a measurement has `slips`",
        ),
        text("repeats", "how many readings are taken, 1 to 20; their scatter counts"),
        word(
            "holds",
            &["car", "until_touched", "each_run"],
            "`until_touched` (as if left out), `car` (a property of the car), `each_run` (asked again after every repair)",
        ),
        texts("cautions", "cautions shown before it is asked"),
        text(
            "fits",
            "the cars it applies to, as a condition: `turbo_kind == one_turbo` (default: all). \
             Once the condition is known to be false, the question is not asked",
        ),
        texts(
            "not_before",
            "questions that must first be answered with yes, a number or a choice. One that \
             doesn't fit the car is not waited for",
        ),
        texts("invalidates", "questions whose answers this reading disturbs"),
        texts("also", "other words by which a person may look for it"),
        source(),
    ],
};

static ANSWER: Mapping = Mapping {
    meaning: "How a question is answered: with one of `measure`, `choose`, `any_of` and `table`.",
    fields: &[
        field("measure", Holds::Kind, "what is measured: a word from the list below"),
        text("unit", "the unit that is asked for (default: that of the range)"),
        text(
            "from",
            "the smallest plausible value; below it the question is asked again. Of a pressure \
             difference from 0 on a minus is dropped: a gauge shows a vacuum with one",
        ),
        text("to", "the largest plausible value; above it the question is asked again"),
        text("typical", "assumed, and shown as assumed, until it is measured: `0.75 ± 0.08`"),
        text("uncertainty", "one standard uncertainty: `0.02 bar`, or `2 %` of the reading"),
        text(
            "slips",
            "how often such a reading is off altogether, by a wrong scale or a wrong hose: `3 in \
             100` (default: what the head's `usual` says, otherwise never; with a `typical` value \
             always never)",
        ),
        texts("read_with", "instruments, instead of `uncertainty`"),
        field(
            "choose",
            Holds::Pairs(Value::Any),
            "2 to 20 options: the id that formulas compare with, and the text that is shown",
        ),
        field(
            "any_of",
            Holds::Pairs(Value::Any),
            "2 to 20 options, any number of which may be true: an id of its own that formulas read \
             as a yes or no, and the text that is shown",
        ),
        text(
            "overlooked",
            "how often an option of `any_of` that is true isn't picked: `30 in 100` (default: as \
             seldom as any answer is wrong)",
        ),
        field(
            "table",
            Holds::Pairs(Value::Kind),
            "two columns, each with what is measured; read by `interpolate()`",
        ),
    ],
};
