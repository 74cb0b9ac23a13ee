//! Numbers in a conclusion: figures, workings, readings and curves.

use serde_json::Value as Json;

use super::forms::{
    Field, chance, code, flag, list, number, number_or_null, object, or_null, text, text_or_null,
};
use super::lines::named;

pub(super) fn shown() -> Json {
    object(
        "A number as people read it.",
        vec![
            Field("best", text(), "The value alone."),
            Field("value", text(), "With one standard uncertainty."),
            Field("band", text_or_null(), "The 95 % band."),
        ],
        Vec::new(),
    )
}

/// The fields of a number in SI.
fn in_si() -> Vec<Field> {
    vec![
        Field("value", number(), "The value, in the unit."),
        Field("unit", text(), "Coherent SI, or rpm."),
        Field("standard_uncertainty", number(), "One standard uncertainty, in the unit."),
        Field("low", number(), "Lower end of the 95 % band."),
        Field("high", number(), "Upper end of the 95 % band."),
        Field("shown", shown(), "The same as people read it."),
    ]
}

pub(super) fn figure() -> Json {
    object("A number with its band.", in_si(), Vec::new())
}

pub(super) fn working() -> Json {
    let own = vec![
        Field("id", text(), "Its id."),
        Field("title", text(), "What it is."),
        Field("rests_on_answers", flag(), "Not on typical values alone."),
        Field("named", flag(), "A step on the way names it."),
    ];
    let methods = code(&["first_order", "monte_carlo", "conditioned"]);
    object(
        "A number that was worked out.",
        [own, in_si()].concat(),
        vec![
            Field("says", text(), "What it means."),
            Field("step", text(), "The first step that names it."),
            Field("band_from", methods, "How the band was found."),
            Field("effective_draws", number(), "How many draws a conditioned band is worth."),
            Field("formula", text(), "The formula of the rules."),
            Field("formula_in_short", text(), "The formula with long lists cut short."),
            Field("with_numbers", text(), "The formula with its numbers put in."),
            Field("source", text(), "Where the relation is from."),
            Field("assumed", list(text()), "Questions that typical values stand in for."),
            Field("widest", list(share()), "What makes the band wide, the widest first."),
        ],
    )
}

fn share() -> Json {
    object(
        "How much one input makes of the variance of a result.",
        vec![
            Field("id", text(), "Id of the question."),
            Field("title", text(), "What it is."),
            Field("share", chance(), "Its share."),
            Field("assumed", flag(), "A typical value so far."),
        ],
        Vec::new(),
    )
}

pub(super) fn narrowing() -> Json {
    object(
        "An input that makes bands wide.",
        vec![
            Field("id", text(), "Id of the question."),
            Field("title", text(), "What it is."),
            Field("assumed", flag(), "A typical value so far."),
            Field("narrower", chance(), "By how much all bands would be narrower, were it known."),
            Field("most", text(), "The working to which it does most."),
            Field("most_title", text(), "Its title."),
            Field("most_narrower", chance(), "By how much that band would be narrower."),
        ],
        Vec::new(),
    )
}

pub(super) fn refused() -> Json {
    object(
        "A working without a result.",
        vec![
            Field("id", text(), "Its id."),
            Field("title", text(), "What it is."),
            Field("code", gap(), "Why there is no number."),
            Field("reason", text(), "The same in words."),
        ],
        Vec::new(),
    )
}

pub(super) fn curve() -> Json {
    object(
        "One quantity against another.",
        vec![
            Field("id", text(), "Its id."),
            Field("title", text(), "What it shows."),
            Field("over", text(), "The quantity that runs along."),
            Field("over_unit", text(), "Its unit in the points."),
            Field("unit", text(), "The unit of the values in the points."),
            Field("shown_over_unit", text(), "The same units as people read them."),
            Field("shown_unit", text(), "The same units as people read them."),
            Field("points", list(point()), "Its points; none where they were left out."),
            Field("shown_rows", list(row()), "The points as people read them."),
            Field("source", text(), "Where the relation is from."),
        ],
        Vec::new(),
    )
}

fn point() -> Json {
    object(
        "A point of a curve.",
        vec![
            Field("at", number(), "Where along."),
            Field("value", number_or_null(), "The value there."),
            Field("low", number_or_null(), "Lower end of the 95 % band."),
            Field("high", number_or_null(), "Upper end of the 95 % band."),
        ],
        vec![
            Field("because", gap(), "Why there is no value."),
            Field("because_text", text(), "The same in words."),
        ],
    )
}

fn row() -> Json {
    object(
        "A point as people read it.",
        vec![
            Field("at", text(), "Where along."),
            Field("value", text(), "The value, or why there is none."),
            Field("band", text(), "The 95 % band."),
        ],
        Vec::new(),
    )
}

pub(super) fn reading() -> Json {
    let clash = object(
        "That the engine can hardly explain it.",
        vec![
            Field("standard_uncertainty", number(), "What it is taken with instead, coherent SI."),
            Field("doubt", or_null(named()), "The answer that, were it wrong, would explain it."),
        ],
        Vec::new(),
    );
    object(
        "An answer that is a reading of what a formula works out; coherent SI.",
        vec![
            Field("id", text(), "Its id."),
            Field("of", text(), "Id of the question."),
            Field("title", text(), "What it is."),
            Field("round", number(), "When it was taken, from 1."),
            Field("value", number(), "What was read."),
            Field("unit", text(), "Coherent SI, or rpm."),
            Field("standard_uncertainty", number(), "Of answer and formula together."),
            Field("expected", number_or_null(), "What the other readings lead one to expect."),
            Field("expected_standard_uncertainty", number_or_null(), "How sure that is."),
            Field("chance", chance(), "Of a reading as far off as this or farther."),
            Field("shown", text(), "The reading as people read it."),
            Field("shown_expected", text_or_null(), "The 95 % band of what was expected."),
        ],
        vec![Field("clash", clash, "Where the engine can hardly explain it.")],
    )
}

fn gap() -> Json {
    code(&["unknown", "refused"])
}
