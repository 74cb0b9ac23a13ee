//! The form of a conclusion in JSON as a JSON Schema (draft 7), for whoever reads it by a program. What
//! only `--full` prints need not be there; nothing that is not named here ever is.

mod forms;
mod lines;
mod numbers;
mod work;

use serde_json::{Value as Json, json};

use forms::{Field, by_name, chance, code, flag, list, number, object, or_null, text};
use lines::{answer, cause, caution, denied, doubt, finding, named, new_line, set};
use numbers::{curve, narrowing, reading, refused, working};
use work::{verdict, work};

/// The schema of a conclusion.
#[must_use]
pub fn conclusion_schema() -> Json {
    let mut schema = object(
        "What an interview has come to. Numbers are in coherent SI, rotation in rpm, and never rounded; \
         chances run from 0 to 1.",
        [asked(), concluded(), worked_out(), about_itself()].concat(),
        only_sometimes(),
    );
    if let Json::Object(fields) = &mut schema {
        fields.insert("$schema".into(), "http://json-schema.org/draft-07/schema#".into());
        fields.insert("title".into(), "Conclusion of boostwright".into());
    }
    schema
}

fn asked() -> Vec<Field> {
    let complaint = json!({"anyOf": [text(), list(text())]});
    vec![
        Field("complaint", complaint, "Id of the complaint, or ids where there are several."),
        Field("complaint_titles", list(text()), "The same in words."),
        Field("round", number(), "The round, from 1; each repair opens another."),
        Field("next_question", or_null(named()), "What is asked next."),
        Field("open_questions", list(text()), "Questions that may still come up."),
        Field("answers", list(answer()), "What was answered."),
        Field("assumptions", list(answer()), "Typical values in place of answers."),
        Field("not_known", list(named()), "What nobody could answer."),
        Field("cautions", list(caution()), "What can hurt, the worst first."),
        Field("put_back", list(text()), "What to put back before the next drive."),
    ]
}

fn concluded() -> Vec<Field> {
    vec![
        Field("causes", list(cause()), "The causes, the likeliest first."),
        Field("likely_sets", list(set()), "Sets of causes present together, the likeliest first."),
        Field("clear", flag(), "Whether the lead stands clear of the other causes."),
        Field("standing_clear", list(text()), "The causes that stand clear."),
        Field("doubts", list(doubt()), "Answers that the lead hangs on, the most doubtful first."),
        Field("next_work", list(work()), "Checks and repairs, in the order to do them."),
        Field("contradiction", or_null(list(text())), "Answers that can't all be true."),
    ]
}

fn worked_out() -> Vec<Field> {
    vec![
        Field("workings", list(working()), "What was worked out."),
        Field("narrowing", list(narrowing()), "What to measure to narrow the bands most."),
        Field("refused", list(refused()), "What could not be worked out."),
        Field("curves", list(curve()), "One quantity against another, with its band."),
        Field("findings", list(finding()), "What the answers show."),
    ]
}

fn about_itself() -> Vec<Field> {
    let inference = object(
        "How the chances were worked out.",
        vec![
            Field("exact", flag(), "Whether nothing was left out."),
            Field("left_out", chance(), "By how much a chance may be off."),
            Field(
                "rests_on",
                code(&["contradiction", "all_sets", "pairs", "draws", "chains", "failed"]),
                "What they rest on.",
            ),
            Field("rests_on_text", text(), "The same in words."),
        ],
        Vec::new(),
    );
    vec![Field("inference", inference, "How sure the chances themselves are.")]
}

fn only_sometimes() -> Vec<Field> {
    vec![
        Field("supposed", list(text()), "Answers that nobody gave, laid over the others."),
        Field("planned", list(work()), "Work whose plan was asked for, with or without a fault."),
        Field("workshop_check", named(), "The check that tells most, for one with all tools."),
        Field("verdict", verdict(), "How the last repair turned out."),
        Field("new_since_repair", list(new_line()), "What was not so before the last repair."),
        Field("denied", list(denied()), "What the complaint shows and answers rule out."),
        Field("readings", list(reading()), "What readings have taught of the engine."),
        Field("clashing", list(answer()), "The answers that clash, as they were given."),
        Field("left_out", left_out(), "What was left out; --full prints everything."),
        Field("internal_error", text(), "A slip of the program: the rest is not whole."),
    ]
}

fn left_out() -> Json {
    object(
        "What was left out.",
        vec![
            Field("note", text(), "How to get all of it."),
            Field("unlikely_causes", by_name(chance()), "Causes below 0.01, with their chances."),
            Field("likely_sets", number(), "Sets of causes below 0.01."),
            Field("reasons", number(), "Reasons that hardly change the odds of the causes listed."),
            Field("findings", number(), "Findings that no answer tells anything of."),
            Field("workings", number(), "Workings that say nothing about this car."),
            Field("answer_fields", list(text()), "Fields that the answers lack."),
            Field("working_fields", list(text()), "Fields that the workings listed lack."),
            Field("curve_points", number(), "Points of curves as numbers."),
        ],
        Vec::new(),
    )
}
