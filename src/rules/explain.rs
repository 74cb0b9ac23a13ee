//! What every section and field of a rule file is for, and which form its value has. One table for
//! all who need it: the messages about unknown fields, the schema for editors, the guide.
//!
//! What a value means is left to the linker.

use super::explain_questions::QUESTION;
pub use super::mapping::{Field, Holds, Mapping, Value};
use super::mapping::{field, section, source, text, texts, word};
use super::yaml::RouteStep;

/// A rule file.
pub static RULE_FILE: Mapping = Mapping {
    meaning: "Rules about cars. Any file may hold any section, each section once per file.",
    fields: &[
        field("pack", Holds::Fields(&HEAD), HEAD.meaning),
        section("complaints", &COMPLAINT),
        section("car_states", &CAR_STATE),
        section("setups", &SETUP),
        section("instruments", &INSTRUMENT),
        section("questions", &QUESTION),
        field("conditions", Holds::Pairs(Value::Any), CONDITIONS_MEANING),
        section("arguments", &ARGUMENTS),
        section("relations", &RELATION),
        section("workings", &WORKING),
        section("curves", &CURVE),
        section("drawings", &DRAWING),
        section("readings", &READING),
        section("findings", &FINDING),
        section("causes", &CAUSE),
        section("repairs", &REPAIR),
        section("cautions", &CAUTION),
        section("steps", &STEP),
        field(
            "strengths",
            Holds::Pairs(Value::Any),
            "Words of your own for strengths, each with its chance: `now_and_then: 1 in 3`.",
        ),
        section("sources", &SOURCE),
        section("cases", &CASE),
    ],
};

const CONDITIONS_MEANING: &str = "Conditions with a name, each written once and used by that name \
    wherever a condition may stand.";

static HEAD: Mapping = Mapping {
    meaning: "The head of a pack: who made it, and what for. Once in a folder; may be left out.",
    fields: &[
        text("name", "what the pack is called"),
        text("version", "the version of its contents"),
        text("language", "the language of its texts, for example `en-GB`"),
        text("author", "who made it"),
        text("licence", "the terms under which others may use it"),
        text("about", "what it is for, and for which cars"),
        text(
            "asking",
            "minutes that a question costs besides its own: the more, the fewer and the more \
             decisive the questions (default: 4)",
        ),
        field("usual", Holds::Fields(&USUAL), USUAL.meaning),
        texts("replaces", "ids of entries in the packs below that this pack means to replace"),
    ],
};

static USUAL: Mapping = Mapping {
    meaning: "how reliable the answers to this pack's own questions are, unless a \
    question says otherwise",
    fields: &[
        text("sure", "`sure` of what is told or chosen: `95 in 100` (default: always right)"),
        text(
            "slips",
            "`slips` of what is measured and has no `typical` value: `5 in 100` (default: never)",
        ),
    ],
};

static COMPLAINT: Mapping = Mapping {
    meaning: "What the owner complains of.",
    fields: &[
        text("title", "in the owner's own words").must(),
        text("start", "the first step, or `conclude`").must(),
        texts(
            "shows",
            "findings that the complaint itself makes true, unless an answer decides them",
        ),
        text("about", "a few lines for anyone not sure that it is their complaint"),
        text("judged_by", "the question or working whose number tells whether a repair worked"),
        word(
            "better",
            &["lower", "higher"],
            "`lower` or `higher`: the direction in which that number should move",
        ),
        text("gone_when", "a condition: the complaint has gone"),
        text(
            "told_by",
            "the question that `recheck` asks first, a choice: has it gone? The options `gone`, \
             `better`, `same` and `worse` count in the verdict, others don't",
        ),
        text("group", "the heading that the menu of complaints puts it under"),
        text(
            "common",
            "how many of those who come bring it: `3 in 10`. The menu lists the commonest first",
        ),
        texts("also", "other words that people use for it, by which the menu finds it"),
        field(
            "comparable_within",
            Holds::Pairs(Value::Any),
            "questions with amounts, `{air_temperature: 5 K}`: runs that differ by more are not \
             compared",
        ),
    ],
};

static CAR_STATE: Mapping = Mapping {
    meaning: "Where the car is: on the road, cold on stands.",
    fields: &[
        text("title", "what it is called in a sentence: `parked, engine off`").must(),
        text("how", "how to get the car there safely"),
        text("minutes", "how long it takes to get there (default: 5)"),
        texts("cautions", "cautions that go with it; `[]` if nothing can hurt"),
    ],
};

static SETUP: Mapping = Mapping {
    meaning: "A temporary change for a test, undone before the next question that needs another or \
        none.",
    fields: &[
        text("title", "what is changed, in a few words"),
        text("how", "how to change it safely"),
        text("put_back", "what to undo; a warning if left out"),
        text("minutes", "how long it takes to change (default: 0)"),
        texts("cautions", "cautions that go with it; `[]` if nothing can hurt"),
    ],
};

static INSTRUMENT: Mapping = Mapping {
    meaning: "What a reading was taken with, and how accurate that is.",
    fields: &[
        text("title", "what it is called"),
        text(
            "class",
            "`1.6 %` of the span: the error is taken as equally likely anywhere within ± class × \
             span",
        ),
        text("span", "the range of its scale: `1.6 bar`"),
        text("uncertainty", "instead of class and span: one standard uncertainty"),
        source(),
    ],
};

static ARGUMENTS: Mapping = Mapping {
    meaning: "Arguments that several calls share, so that the engine is described once. A call \
        that names the set takes from it what it doesn't give itself.",
    fields: &[field("values", Holds::Pairs(Value::Any), "arguments, each with its formula").must()],
};

static RELATION: Mapping = Mapping {
    meaning: "A formula with parameters, put in wherever it is called.",
    fields: &[
        texts("given", "names of its parameters"),
        text("formula", "may read the parameters, answers and workings").must(),
    ],
};

static WORKING: Mapping = Mapping {
    meaning: "A value calculated from answers, shown with its unit, uncertainty and source, and \
        with what it came from.",
    fields: &[
        text("title", "what it is called (default: the id in words)"),
        text("formula", "may read answers, other workings and relations").must(),
        text("unit", "the unit to show it in"),
        text(
            "says",
            "one line with the value: `Boost passes it by {opening_margin}.` In quotes where it starts with `{`",
        ),
        source(),
    ],
};

static CURVE: Mapping = Mapping {
    meaning: "A working over a range of one variable.",
    fields: &[
        text("title", "what it shows (default: the id in words)"),
        text("over", "the variable: a new name, or a question or working to vary").must(),
        text("from", "where it starts, with its unit").must(),
        text("to", "where it ends, with its unit").must(),
        text("steps", "points, 2 to 200 (default: 11)"),
        text("formula", "reads the variable").must(),
        text("unit", "the unit to show it in"),
        field(
            "marks",
            Holds::List(&CURVE_MARK),
            "what was measured or planned, shown against the curve: a list of mappings",
        ),
        source(),
    ],
};

static CURVE_MARK: Mapping = Mapping {
    meaning: "Something measured or planned, shown against a curve.",
    fields: &[
        text("title", "what it is (default: the name under `at` in words)"),
        text("at", "the question or working that gives its place along the curve").must(),
        text("value", "the question or working that was measured there; a plan has none"),
    ],
};

static DRAWING: Mapping = Mapping {
    meaning: "Parts of a plan drawn to scale, 1:1, from measured and planned sizes.",
    fields: &[
        text("title", "what it shows, and seen from where (default: the id in words)"),
        text("about", "a line below it: what to check before it is used"),
        field(
            "shapes",
            Holds::List(&SHAPE),
            "circles, lines, dimensions, angles and holes: a list of mappings. One that can't be worked out is left out",
        )
        .must(),
    ],
};

static SHAPE: Mapping = Mapping {
    meaning: "A shape of a drawing. Its places and sizes are formulas that give lengths, x to the right, y up.",
    fields: &[
        word(
            "kind",
            &["circle", "line", "dimension", "angle", "holes"],
            "`circle`, `line`, `dimension`: a line with arrows and its length, `angle`: an arc with arrows and its \
                degrees, or `holes`: a circle for each row of a table (default: line)",
        ),
        text("title", "what it is; with it the size of a circle or dimension is written beside it"),
        text("x", "of its centre or start (default: 0 mm)"),
        text("y", "of its centre or start (default: 0 mm)"),
        text("across", "the diameter of a circle, of an arc or of each hole"),
        text("to_x", "where a line or dimension ends (default: that of its start)"),
        text("to_y", "where a line or dimension ends (default: that of its start)"),
        text("from_angle", "where an arc starts, an angle from x towards y (default: 0 deg)"),
        text("to_angle", "where it ends"),
        text(
            "table",
            "the table question of the holes: an angle clockwise from the top, and how far out from `x` and `y`",
        ),
        word(
            "stroke",
            &["thick", "thin", "dashed"],
            "`thick` for what is new, `thin` for what is there, `dashed` for what is limits or hidden (default: thin)",
        ),
        text("tolerance", "how exactly it is to be made: `0.1 mm`, written behind its size as ±"),
    ],
};

static READING: Mapping = Mapping {
    meaning: "An answer that measures what a formula calculates, and so refines the formula's \
        inputs.",
    fields: &[
        text("of", "the measured question").must(),
        text("should_be", "what it should read: a formula over answers, workings and relations")
            .must(),
        text(
            "when",
            "a condition; the reading counts with the chance that it holds (default: always)",
        ),
        text(
            "good_to",
            "one standard uncertainty of the formula itself: `0.03 bar`, or `5 %` of the reading",
        )
        .must(),
        source(),
    ],
};

static FINDING: Mapping = Mapping {
    meaning: "A statement that the answers make more or less likely.",
    fields: &[
        text("when", "a condition").must(),
        text("says", "the statement for the reader (default: the id in words)"),
        text("leak", "its chance with no cause present: `2 in 100`").must(),
        source(),
    ],
};

static CAUSE: Mapping = Mapping {
    meaning: "What may be wrong.",
    fields: &[
        text("title", "what is wrong, in a few words").must(),
        text("common", "how many of the cars with any boost complaint have it: `3 in 100`").must(),
        text("about", "what it looks like"),
        text(
            "fits",
            "the cars it can occur in, as a condition: `external_gate_fitted` (default: all). Once \
             the condition is known to be false, the cause is impossible and counts nowhere",
        ),
        field("brings", Holds::Pairs(Value::Strength), "findings, each with its strength").must(),
        texts("confirmed_by", "the questions that settle it"),
        texts("confused_with", "causes that look like it"),
        source(),
    ],
};

static REPAIR: Mapping = Mapping {
    meaning: "What to do.",
    fields: &[
        text("title", "what is done, in a few words"),
        text("how", "how to do it safely"),
        texts("mends", "the causes it mends"),
        text("succeeds", "how often it works (default: 9 in 10)"),
        text("minutes", "how long it takes (default: 60)"),
        texts("tools", "tools that it needs, a list of texts"),
        texts("parts", "parts that it needs, a list of texts"),
        texts("cautions", "cautions that go with it"),
        texts(
            "invalidates",
            "questions whose answers no longer hold after it, asked again by `recheck`",
        ),
        field(
            "predicts",
            Holds::Pairs(Value::Any),
            "questions, each with the working that predicts its reading afterwards",
        ),
        texts("sizes", "workings and questions whose values it is done by, shown beside it"),
        text(
            "planned_when",
            "a condition: while it holds the work is planned, with or without a fault, and stands with \
             its sizes on the first page",
        ),
        texts(
            "needs",
            "questions that must be answered before it is done; those that are not are named beside it",
        ),
        texts(
            "alternatives",
            "other repairs for the same fault, shown below it and proposed on their own only if it \
             can't be; also ways to live with the fault, which cure nothing",
        ),
        source(),
    ],
};

static CAUTION: Mapping = Mapping {
    meaning: "What can hurt a person or the engine, or break the law.",
    fields: &[
        word("level", &["stop", "danger", "care"], "`stop`, `danger` or `care` (default: care)"),
        text("when", "a condition; while it holds, the caution applies whatever is asked"),
        text("text", "what not to do, and until when"),
        texts(
            "forbids",
            "car states, setups, questions and repairs that are not proposed while it applies",
        ),
        source(),
    ],
};

static STEP: Mapping = Mapping {
    meaning: "The way through the questions. Each step is entered once in an interview.",
    fields: &[
        text("title", "what it is about, in a few words"),
        texts("ask", "questions, in this order"),
        texts("work", "workings that belong to this step"),
        texts(
            "ask_best_of",
            "candidate questions, asked in order of information per minute; they wait while \
             another question of the pack is more than a third better",
        ),
        word(
            "until",
            &["clear"],
            "`clear`: of `ask` only what leads on to something worth its minutes is asked, and \
             nothing once one cause is well ahead, except what could show a danger. `ask_best_of` \
             ends by itself when one is well ahead or nothing left is worth its minutes",
        ),
        field(
            "then",
            Holds::List(&BRANCH),
            "branches: the first whose `when` holds is taken; the last has no `when`",
        )
        .must(),
    ],
};

static BRANCH: Mapping = Mapping {
    meaning: "Where a step goes from here.",
    fields: &[
        text("when", "a condition; if it is not known, the branch is not taken (default: always)"),
        text("go", "the next step, or `conclude`").must(),
    ],
};

static SOURCE: Mapping = Mapping {
    meaning: "Where numbers and methods come from.",
    fields: &[
        text("title", "what it is called"),
        word(
            "kind",
            &["standard", "book", "maker", "paper", "trade", "practice", "memory"],
            "`standard`, `book`, `maker`, `paper`, `trade`, `practice` or `memory` (default: \
             practice)",
        ),
        text("where", "number, page, address"),
    ],
};

static CASE: Mapping = Mapping {
    meaning: "The pack's own tests: `pack test` runs a whole interview with someone who knows these answers and nothing else.",
    fields: &[
        text("about", "which car it is; say so if it is invented"),
        field("complaint", Holds::OneOrMore, "the complaint, or a list of them").must(),
        field(
            "answers",
            Holds::Answers,
            "as a person would write them: `0.92 bar`, `0.92 bar ± 0.02`, `yes`, an option's id, `unknown`",
        ),
        field("then", Holds::Fields(&EXPECTED), "what must come out"),
        source(),
    ],
};

static EXPECTED: Mapping = Mapping {
    meaning: "What must come out of a case.",
    fields: &[
        text("first", "the likeliest cause"),
        field(
            "among_first",
            Holds::Pairs(Value::Any),
            "causes with the place each must reach, `{gate_too_small: 2}`",
        ),
        texts("cautions", "cautions that must apply"),
        texts("no_cautions", "cautions that must not apply"),
        text("repair", "the first repair that must be proposed"),
        text("questions_at_most", "how many questions may be asked"),
    ],
};

/// The fields that the mapping at a route may have, where they are fixed.
pub(super) fn fields_at(route: &[RouteStep]) -> Option<Vec<&'static str>> {
    Some(RULE_FILE.at(route)?.fields.iter().map(|field| field.name).collect())
}
