//! The short names of faults, stable for scripts and editors, each with what it says in a line.
//! rules/README.md lists them; a test holds the list against this one.

macro_rules! codes {
    ($($code:ident $name:literal $meaning:literal;)*) => {
        /// The short name of a kind of fault.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Code {
            $(#[doc = $meaning] $code,)*
        }

        impl Code {
            /// Every code, in the order of their names.
            pub const ALL: &'static [Self] = &[$(Self::$code),*];

            /// As it is shown: `unknown-name`.
            #[must_use]
            pub fn name(self) -> &'static str {
                match self {
                    $(Self::$code => $name,)*
                }
            }

            /// What it says, in a line.
            #[must_use]
            pub fn meaning(self) -> &'static str {
                match self {
                    $(Self::$code => $meaning,)*
                }
            }
        }
    };
}

codes! {
    AlwaysForbidden "always-forbidden" "a caution forbids something without saying when";
    AnswerForm "answer-form" "an answer has an unknown form, or the wrong number of options or \
        columns";
    AskedTwice "asked-twice" "a step asks the same question twice";
    BannedYaml "banned-yaml" "anchors, aliases, tags, merge keys, second documents and lists as keys are not \
        read";
    Brace "brace" "a `{` in a text is never closed";
    Chance "chance" "not a chance: write `3 in 100`, or a number from 0 to 1";
    Circle "circle" "conditions, relations, workings or findings read themselves, or questions \
        wait for themselves, directly or through others";
    CountedTwice "counted-twice" "a cause brings a finding that is typed, and one that `reads_as` works out \
        from the same reading";
    DangerousQuestion "dangerous-question" "a question needs a car state or a set-up, and no \
        caution goes with it";
    DeadEnd "dead-end" "a step leads nowhere if none of its branches holds";
    DeepYaml "deep-yaml" "lists and mappings are nested too deep";
    Dimension "dimension" "a value or unit has the wrong dimension for its place";
    EmptyFile "empty-file" "the file holds no rules";
    FixedTruth "fixed-truth" "a condition holds always or never, whatever is answered";
    Formula "formula" "a formula can't be read, or its kinds don't match";
    Id "id" "an id can't be read in formulas, or reads badly there";
    IdleLeak "idle-leak" "every car shows the finding, so it decides nothing";
    IdleLoop "idle-loop" "steps go round in a circle without asking anything";
    IdleStrength "idle-strength" "a cause brings a finding with strength 0";
    Internal "internal" "a fault of boostwright itself: please report it";
    LackingField "lacking-field" "the entry is incomplete without this field; the rules still run";
    Link "link" "a link in the folder of a pack is not followed";
    LongText "long-text" "a text is too long";
    MendsNothing "mends-nothing" "a repair mends no cause";
    Misplaced "misplaced" "in a session: this belongs in a round, or in another one";
    MissingField "missing-field" "the entry needs this field";
    NoAnswer "no-answer" "an answer in a case or session is not one that its question accepts";
    NoComplaint "no-complaint" "there is no complaint to start from";
    NoFormat "no-format" "in a session: the format is not a whole number";
    NoRepair "no-repair" "in a session: a later round names no repair";
    NoRound "no-round" "in a session: the file has no rounds";
    NoSource "no-source" "a cause doesn't say where its numbers come from";
    NoText "no-text" "the file is not UTF-8 text";
    NoVerdict "no-verdict" "the choice under `told_by` has no option `gone`";
    NoYaml "no-yaml" "the file can't be read as YAML";
    NotANumber "not-a-number" "a number is wanted, but the name doesn't give one";
    NotATruth "not-a-truth" "a condition does not give yes or no";
    NothingReplaced "nothing-replaced" "the head says that the pack replaces something, but it \
        doesn't";
    NothingToPutBack "nothing-to-put-back" "a set-up doesn't say what to undo";
    Number "number" "a number of minutes or a count can't be read, or is out of range";
    Option "option" "no formula can compare with this option of a choice, or another says the same";
    Range "range" "a range, or a value in one, makes no sense";
    ReadTwice "read-twice" "an answer is already the reading of another formula";
    ReadsItself "reads-itself" "what an answer should read depends on that answer";
    Refused "refused" "a formula has a part that can't be worked out";
    RepeatedDefault "repeated-default" "a value only repeats its default, or what the head of its \
        pack says";
    RepeatedId "repeated-id" "the id is taken";
    RepeatedKey "repeated-key" "a key is given twice in one mapping";
    ReservedId "reserved-id" "the id is reserved";
    SettledCause "settled-cause" "no car or every car has the cause";
    ShadowedBranch "shadowed-branch" "a branch follows one that always holds";
    SilentCaution "silent-caution" "a caution says nothing";
    SteeringLetter "steering-letter" "an invisible character controls the screen";
    Strength "strength" "neither a word for a strength nor a chance";
    TeachesNothing "teaches-nothing" "nothing that goes into a reading's formula is uncertain";
    TooManyRounds "too-many-rounds" "in a session: more rounds than a session can hold";
    TwinCauses "twin-causes" "two causes bring the same findings equally strongly";
    TwoHeads "two-heads" "two files of the pack have a head";
    TypedStrength "typed-strength" "a finding that `reads_as` works out has a strength of its own";
    UnaskedQuestion "unasked-question" "no step asks the question and nothing reads it";
    Unit "unit" "not a unit";
    UnitAsId "unit-as-id" "an id would be read as a unit";
    UnknownField "unknown-field" "there is no such field or section";
    UnknownKind "unknown-kind" "nothing of this kind can be measured";
    UnknownName "unknown-name" "nothing has this id";
    UnknownWord "unknown-word" "not one of the words allowed here";
    UnmendedCause "unmended-cause" "no repair mends the cause";
    UnreachableStep "unreachable-step" "nothing leads to the step";
    UnsaidChange "unsaid-change" "the pack changes what those below depend on, without saying so \
        in its head";
    UnseenCause "unseen-cause" "no question can confirm the cause";
    UnseenLetter "unseen-letter" "a text contains an invisible character";
    UnusedName "unused-name" "no formula uses the condition, the set of arguments, the parameter or \
        the variable";
    UnusedOverlooked "unused-overlooked" "`overlooked` stands at a question that is no list";
    UnusedReadWith "unused-read-with" "`uncertainty` stands beside `read_with` and takes its place";
    UnusedSure "unused-sure" "`sure` stands at a measurement, where nobody reads it";
    UnweighedFinding "unweighed-finding" "no cause brings the finding";
    Value "value" "not a value with a suitable unit";
    WrongShape "wrong-shape" "a list, a mapping or a text is given where something else is wanted";
}
