//! What every section and field of a rule file is for, and which form its value has. One table for
//! all who need it: the messages about unknown fields, the schema for editors, the guide.
//!
//! What a value means is left to the linker.

use super::yaml::RouteStep;

/// The fields that a mapping may have.
#[derive(Debug)]
pub struct Mapping {
    /// What it is, in a sentence or two. Markdown, as everywhere here.
    pub meaning: &'static str,
    pub fields: &'static [Field],
}

/// One field of a mapping.
#[derive(Debug)]
pub struct Field {
    pub name: &'static str,
    /// Whether the mapping is of no use without it.
    pub must: bool,
    pub holds: Holds,
    pub meaning: &'static str,
}

/// The form of a value.
#[derive(Debug)]
pub enum Holds {
    /// A text, a number or a truth: each is read as the text that stands there.
    Text,
    /// One of these words.
    Word(&'static [&'static str]),
    /// A word for what can be measured.
    Kind,
    /// A list of texts.
    Texts,
    /// One text, or a list of texts.
    OneOrMore,
    /// Names of the author's own or of other entries, each with a text.
    Pairs(Value),
    /// Fields that are fixed.
    Fields(&'static Mapping),
    /// A list of mappings with the same fields.
    List(&'static Mapping),
    /// Entries by id, all with the same fields.
    Section(&'static Mapping),
    /// `yes_or_no`, or a mapping with one of `measure`, `choose` and `table`.
    Answer(&'static Mapping),
    /// Questions, each with an answer as a person gives it: a text, or the rows of a table.
    Answers,
}

/// What stands behind the names of a [`Holds::Pairs`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Value {
    Any,
    /// A chance, or a word for a strength.
    Strength,
    /// The kind of a column: a word for what can be measured.
    Kind,
}

impl Field {
    const fn must(mut self) -> Self {
        self.must = true;
        self
    }
}

const fn field(name: &'static str, holds: Holds, meaning: &'static str) -> Field {
    Field { name, must: false, holds, meaning }
}

const fn text(name: &'static str, meaning: &'static str) -> Field {
    field(name, Holds::Text, meaning)
}

const fn texts(name: &'static str, meaning: &'static str) -> Field {
    field(name, Holds::Texts, meaning)
}

const fn word(name: &'static str, words: &'static [&'static str], meaning: &'static str) -> Field {
    field(name, Holds::Word(words), meaning)
}

const fn source() -> Field {
    texts("source", "a list of sources")
}

const fn section(name: &'static str, entries: &'static Mapping) -> Field {
    field(name, Holds::Section(entries), entries.meaning)
}

/// A rule file.
pub static RULE_FILE: Mapping = Mapping {
    meaning: "Rules about cars. Any file may hold any section, each section once a file.",
    fields: &[
        field("pack", Holds::Fields(&HEAD), HEAD_MEANING),
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

const CONDITIONS_MEANING: &str = "Conditions with a name, each written once and used by that name wherever a condition may stand.";

const HEAD_MEANING: &str =
    "The head of a pack: who made it, and what for. Once in a folder; may be left out.";

static HEAD: Mapping = Mapping {
    meaning: HEAD_MEANING,
    fields: &[
        text("name", "what the pack is called"),
        text("version", "tells one state of it from another"),
        text("language", "the language of its texts, for example `en-GB`"),
        text("author", "who made it"),
        text("licence", "the terms on which others may use it"),
        text("about", "what it is for, and for which cars"),
        text(
            "asking",
            "minutes that a question costs beside its work: the more, the fewer and the more telling questions are asked (left out: 4)",
        ),
        field(
            "usual",
            Holds::Fields(&USUAL),
            "how reliable the answers to this pack's own questions are, where a question doesn't say",
        ),
        texts("replaces", "ids of entries in the packs below that this pack means to replace"),
    ],
};

static USUAL: Mapping = Mapping {
    meaning: "How reliable the answers to this pack's own questions are, where a question doesn't say.",
    fields: &[
        text("sure", "`sure` of what is told or chosen: `95 in 100`; left out: always right"),
        text(
            "slips",
            "`slips` of what is measured and has no `typical` value: `5 in 100`; left out: never",
        ),
    ],
};

static COMPLAINT: Mapping = Mapping {
    meaning: "What brings a person here.",
    fields: &[
        text("title", "in the person's own words").must(),
        text("start", "the first step, or `conclude`").must(),
        texts(
            "shows",
            "findings that are true because this is the complaint, unless an answer decides them",
        ),
        text("about", "a few lines for whoever isn't sure that it is theirs"),
        text("judged_by", "the question or working whose number tells whether a repair worked"),
        word(
            "better",
            &["lower", "higher"],
            "`lower` or `higher`: which way that number should go",
        ),
        text("gone_when", "a condition: the complaint is gone"),
        text(
            "told_by",
            "the question that `recheck` puts first, a choice: is it gone? Its options `gone`, `better`, `same` and `worse` count in the verdict, others don't",
        ),
        field(
            "comparable_within",
            Holds::Pairs(Value::Any),
            "questions with amounts, `{air_temperature: 5 K}`: runs that differ by more are not held against each other",
        ),
    ],
};

static CAR_STATE: Mapping = Mapping {
    meaning: "Where the car is: on the road, cold on stands.",
    fields: &[
        text("title", "how it is called in a sentence: `parked, engine off`").must(),
        text("how", "how to get there safely"),
        text("minutes", "how long it takes to get there (left out: 5)"),
        texts("cautions", "cautions that go with it; `[]` where nothing could hurt"),
    ],
};

static SETUP: Mapping = Mapping {
    meaning: "A temporary change for a test, undone before the next question that wants another or none.",
    fields: &[
        text("title", "what is changed, in a few words"),
        text("how", "how to change it safely"),
        text("put_back", "what to undo; left out, a warning"),
        text("minutes", "how long it takes to change (left out: 0)"),
        texts("cautions", "cautions that go with it; `[]` where nothing could hurt"),
    ],
};

static INSTRUMENT: Mapping = Mapping {
    meaning: "What a reading was taken with, and so how well.",
    fields: &[
        text("title", "what it is called"),
        text(
            "class",
            "`1.6 %` of the span: taken as equally likely anywhere within ± class × span",
        ),
        text("span", "the width of its scale: `1.6 bar`"),
        text("uncertainty", "in place of class and span: one standard uncertainty"),
        source(),
    ],
};

static QUESTION: Mapping = Mapping {
    meaning: "One thing that a person can tell or measure.",
    fields: &[
        text("text", "the question").must(),
        field(
            "answer",
            Holds::Answer(&ANSWER),
            "its form: `yes_or_no`, or a mapping with one of `measure`, `choose` and `table`",
        )
        .must(),
        text("how", "how to do it; shown on request"),
        text("why", "what it is good for; shown on request"),
        text("normal", "what a sound car gives, in one line"),
        text("car", "the state of the car that it needs"),
        text("setup", "the set-up that it needs"),
        text("minutes", "how long it takes (left out: 5)"),
        texts("tools", "tools that it needs, a list of texts"),
        text(
            "sure",
            "how often such an answer is right: `90 in 100`; left out: as the head's `usual` says, else always. For what is told or chosen; a measurement has `slips`",
        ),
        text("repeats", "how many readings are taken, 1 to 20; their scatter counts"),
        word(
            "holds",
            &["car", "until_touched", "each_run"],
            "`until_touched` (as if left out), `car` (a property of the car), `each_run` (asked again after every repair)",
        ),
        texts("cautions", "cautions that are shown before it is asked"),
        text(
            "fits",
            "the cars it can be asked of, as a condition: `turbo_kind == one_turbo`; left out: all. Once the condition is known not to hold the question is not asked",
        ),
        texts(
            "not_before",
            "questions that must be answered well first: yes, or any number or choice. One that doesn't fit the car is not waited for",
        ),
        texts("invalidates", "questions whose answers this reading disturbs"),
        source(),
    ],
};

static ANSWER: Mapping = Mapping {
    meaning: "How a question is answered: with one of `measure`, `choose` and `table`.",
    fields: &[
        field("measure", Holds::Kind, "what is measured: a word from the list below"),
        text("unit", "the unit that is asked for; left out, that of the range"),
        text("from", "the least that is plausible; below it the person is asked again"),
        text("to", "the most that is plausible; above it the person is asked again"),
        text("typical", "assumed, and shown as assumed, while nobody has measured: `0.75 ± 0.08`"),
        text("uncertainty", "one standard uncertainty: `0.02 bar`, or `2 %` of the reading"),
        text(
            "slips",
            "how often such a reading is off altogether, by a wrong scale or a wrong hose: `3 in 100`; left out: as the head's `usual` says, else never. With a `typical` value: never",
        ),
        texts("read_with", "instruments, in place of `uncertainty`"),
        field(
            "choose",
            Holds::Pairs(Value::Any),
            "2 to 20 options: the id that formulas compare with, and the text that is shown",
        ),
        field(
            "table",
            Holds::Pairs(Value::Kind),
            "two columns, each with what is measured; read by `interpolate()`",
        ),
    ],
};

static ARGUMENTS: Mapping = Mapping {
    meaning: "Arguments that several calls share, so that the engine is described once. A call that names the set takes from it what it doesn't give itself.",
    fields: &[
        field(
            "values",
            Holds::Pairs(Value::Any),
            "arguments of functions or relations, each with its formula over answers, workings and relations",
        )
        .must(),
    ],
};

static RELATION: Mapping = Mapping {
    meaning: "A formula with parameters, put in wherever it is called.",
    fields: &[
        texts("given", "names of its parameters"),
        text("formula", "may read the parameters, answers and workings").must(),
    ],
};

static WORKING: Mapping = Mapping {
    meaning: "A value that is calculated from answers and shown with its formula, numbers, unit, uncertainty and source.",
    fields: &[
        text("title", "what it is called; left out, the id in words"),
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
        text("title", "what it shows; left out, the id in words"),
        text("over", "the variable: a new name, or a question or working to vary").must(),
        text("from", "where it begins, with its unit").must(),
        text("to", "where it ends, with its unit").must(),
        text("steps", "points, 2 to 200 (left out: 11)"),
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
        text("title", "what it is; left out, the name under `at` in words"),
        text("at", "the question or working that tells where along the curve it stands").must(),
        text("value", "the question or working with what was measured there; a plan has none"),
    ],
};

static READING: Mapping = Mapping {
    meaning: "An answer that is a reading of what a formula works out, and so teaches what goes into it.",
    fields: &[
        text("of", "the measured question").must(),
        text("should_be", "what it should read: a formula over answers, workings and relations")
            .must(),
        text(
            "when",
            "a condition; the reading counts with the chance that it holds. Left out: always",
        ),
        text("good_to", "one standard uncertainty of the formula itself: `0.03 bar`").must(),
        source(),
    ],
};

static FINDING: Mapping = Mapping {
    meaning: "A statement that is more or less likely true, given the answers.",
    fields: &[
        text("when", "a condition").must(),
        text("says", "the statement for the person; left out, the id in words"),
        text("leak", "the chance of it with no cause present: `2 in 100`").must(),
        source(),
    ],
};

static CAUSE: Mapping = Mapping {
    meaning: "What may be wrong.",
    fields: &[
        text("title", "what is wrong, in a few words").must(),
        text(
            "common",
            "how many of the cars that come with any boost complaint have it: `3 in 100`",
        )
        .must(),
        text("about", "what it looks like"),
        text(
            "fits",
            "the cars it can be in, as a condition: `external_gate_fitted`; left out: all. Once the condition is known not to hold the cause is impossible and counts nowhere",
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
        text("succeeds", "how often it works (left out: 9 in 10)"),
        text("minutes", "how long it takes (left out: 60)"),
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
            "questions with the working that says what each should read afterwards",
        ),
        texts(
            "alternatives",
            "other repairs for the same fault, shown below it and proposed by themselves only where it can't be; ways to live with the fault as well, which mend nothing",
        ),
        source(),
    ],
};

static CAUTION: Mapping = Mapping {
    meaning: "What can hurt a person, the engine or the law.",
    fields: &[
        word("level", &["stop", "danger", "care"], "`stop`, `danger` or `care` (left out: care)"),
        text("when", "a condition; while it holds, the caution is in force whatever is asked"),
        text("text", "what not to do, and until when"),
        texts(
            "forbids",
            "car states, setups, questions and repairs that are not proposed while it is in force",
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
            "questions of which the one that settles most for its minutes is asked, then the next, unless another question of the pack settles over a third more",
        ),
        word(
            "until",
            &["clear"],
            "`clear`: nothing more of `ask` once the lead stands clear, but for what could show a danger. `ask_best_of` ends by itself when the lead is clear or nothing left is worth its minutes",
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
        text("when", "a condition; not known is not taken. Left out: always"),
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
            "`standard`, `book`, `maker`, `paper`, `trade`, `practice` or `memory` (left out: practice)",
        ),
        text("where", "number, page, address"),
    ],
};

static CASE: Mapping = Mapping {
    meaning: "The pack's own tests: `pack test` holds a whole interview with a person who knows these answers and can't say anything else.",
    fields: &[
        text("about", "what car it is; say so where it is invented"),
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
        texts("cautions", "cautions that must be in force"),
        texts("no_cautions", "cautions that must not be in force"),
        text("repair", "the first repair that must be proposed"),
        text("questions_at_most", "how many questions may be asked"),
    ],
};

/// The fields that the mapping at a route may have, where they are fixed.
pub(super) fn fields_at(route: &[RouteStep]) -> Option<Vec<&'static str>> {
    Some(mapping_at(route)?.fields.iter().map(|field| field.name).collect())
}

/// The mapping at a route through a rule file.
#[must_use]
pub fn mapping_at(route: &[RouteStep]) -> Option<&'static Mapping> {
    match route.iter().try_fold(Spot::Mapping(&RULE_FILE), Spot::go)? {
        Spot::Mapping(mapping) => Some(mapping),
        Spot::Entries(_) | Spot::Items(_) => None,
    }
}

/// Somewhere in a rule file.
#[derive(Clone, Copy)]
enum Spot {
    Mapping(&'static Mapping),
    /// Ids lead to mappings.
    Entries(&'static Mapping),
    /// Indices lead to mappings.
    Items(&'static Mapping),
}

impl Spot {
    fn go(self, step: &RouteStep) -> Option<Self> {
        match (self, step) {
            (Self::Mapping(mapping), RouteStep::Key(key)) => {
                let field = mapping.fields.iter().find(|field| field.name == key)?;
                match field.holds {
                    Holds::Fields(inner) | Holds::Answer(inner) => Some(Self::Mapping(inner)),
                    Holds::Section(entries) => Some(Self::Entries(entries)),
                    Holds::List(items) => Some(Self::Items(items)),
                    _ => None,
                }
            }
            (Self::Entries(mapping), RouteStep::Key(_))
            | (Self::Items(mapping), RouteStep::Index(_)) => Some(Self::Mapping(mapping)),
            _ => None,
        }
    }
}
