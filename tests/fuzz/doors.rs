//! The doors that strangers' texts come in by. Each takes any bytes, and breaks only where the
//! program would: by a panic, or by a promise that doesn't hold.

use std::sync::Arc;

use boostwright::formula::{
    Evaluator, Expression, Input, InputValue, Meaning, Names, Type, VarId, check, parse,
};
use boostwright::interview::{Round, fold, read_answer, unanswerable};
use boostwright::quantity::{Kind, Unit, print_exact, read, read_unsettled};
use boostwright::report::{conclude, json};
use boostwright::rules::{Faults, FileText, Given, Loaded, Pack, PackSource, load};
use boostwright::session::{read_session_text, take};
use boostwright::text::is_clean;

use super::seeds;

/// One door: its name, what goes in, and sound texts to start from.
pub(super) struct Door {
    pub(super) name: &'static str,
    pub(super) enter: fn(&[u8]),
    pub(super) seeds: fn() -> Vec<String>,
}

pub(super) const DOORS: [Door; 5] = [
    Door { name: "unit", enter: unit, seeds: seeds::units },
    Door { name: "formula", enter: formula, seeds: seeds::formulas },
    Door { name: "pack", enter: pack, seeds: seeds::packs },
    Door { name: "session", enter: session, seeds: seeds::sessions },
    Door { name: "answers", enter: answers, seeds: seeds::answers },
];

/// A unit, or a number with one.
pub(super) fn unit(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Ok(unit) = Unit::parse(text) {
        assert!(unit.scale() > 0.0 && unit.scale().is_finite());
        assert_eq!(Unit::parse(unit.symbol()).as_ref(), Ok(&unit));
    }
    for kind in [Kind::GAUGE_PRESSURE, Kind::TEMPERATURE, Kind::NUMBER] {
        match read(text, kind, None) {
            Ok(entry) => {
                assert!(entry.si.is_finite());
                let uncertainty = entry.uncertainty.unwrap_or(0.0);
                assert!(uncertainty.is_finite() && uncertainty >= 0.0);
                assert!(!print_exact(entry.si, uncertainty, &entry.unit, kind).is_empty());
            }
            Err(error) => assert_tame(&error.to_string()),
        }
    }
    if let Ok((entry, _)) = read_unsettled(text) {
        assert!(entry.si.is_finite());
    }
}

/// A formula over a name of every sort.
pub(super) fn formula(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let names = Invented::new();
    match check(text, &names, None) {
        Ok(formula) => {
            let evaluator = names.evaluator();
            drop(evaluator.remarks(&formula));
            if formula.gives == Type::Bool {
                let _ = evaluator.weigh(&formula);
            } else if let Ok(worked) = evaluator.estimate(&formula) {
                assert!(worked.band.low.is_finite() && worked.band.high.is_finite());
            }
        }
        Err(faults) => {
            for fault in faults {
                assert!(text.get(fault.span.clone()).is_some(), "{fault:?}");
                assert!(!fault.help().is_empty());
                assert_tame(&fault.draw(text, false));
            }
        }
    }
}

/// A pack of one file: loaded, drawn and, where it is sound, begun.
pub(super) fn pack(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let loaded = of_one_file(text);
    assert_drawn(&loaded.faults);
    if loaded.faults.any_error() {
        return;
    }
    drop(unanswerable(&loaded.pack));
    for complaint in loaded.pack.complaints.indices().take(2) {
        let round = Round { complaints: vec![complaint], ..Round::default() };
        drop(fold(&loaded.pack, &[round], None));
    }
}

/// A session, or a file of answers, taken in with a small pack.
pub(super) fn session(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    match read_session_text("answers.yaml", text.to_owned()) {
        Ok((session, source)) => SMALL.with(|pack| match take(&session, &source, pack) {
            Ok(taken) => {
                assert_drawn(&taken.left_out);
                drop(fold(pack, &taken.rounds, None));
            }
            Err(faults) => assert_drawn(&faults),
        }),
        Err(error) => assert_tame(&error.to_string()),
    }
}

/// One text as the answer to every question of a small pack, and what follows from it.
pub(super) fn answers(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    SMALL.with(|pack| {
        let mut round = Round::default();
        round.complaints.extend(pack.complaints.indices().next());
        for (place, question) in pack.questions.iter() {
            match read_answer(pack, question, &Given::Text(text.to_owned())) {
                Ok(answer) => round.give(place, answer),
                Err(error) => assert_tame(&error.to_string()),
            }
        }
        if round.answers.is_empty() {
            return;
        }
        let told = json(&conclude(&fold(pack, &[round], None), None));
        let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
        for cause in told["causes"].as_array().into_iter().flatten() {
            let probability = cause["probability"].as_f64().expect("a probability");
            assert!((0.0..=1.0).contains(&probability));
        }
    });
}

fn of_one_file(text: &str) -> Loaded {
    let file = FileText { name: "rules.yaml".to_owned(), text: text.to_owned().into() };
    load(&[PackSource::Texts(vec![file])]).expect("nothing has to be read")
}

const SMALL_PACK: &str = include_str!("../session/pack/rules.yaml");

thread_local! {
    static SMALL: Pack = {
        let loaded = of_one_file(SMALL_PACK);
        assert!(!loaded.faults.any_error());
        loaded.pack
    };
}

/// Every message has a place, a way out, and nothing that steers the screen.
fn assert_drawn(faults: &Faults) {
    for (drawn, fault) in faults.draw(false).iter().zip(&faults.list) {
        assert!(!fault.message().is_empty() && !fault.help().is_empty());
        assert!(drawn.contains("--> ") && drawn.contains("= help: "), "{drawn}");
        assert_tame(drawn);
    }
    for position in faults.positions().iter().take(faults.list.len()) {
        assert!(position.line > 0 && position.column > 0);
    }
}

fn assert_tame(text: &str) {
    // The drawing library shows controls as signs of their own.
    let wild = text.chars().find(|letter| *letter != '\n' && !is_clean(*letter));
    assert_eq!(wild, None, "{text:?}");
}

/// A name of every sort, and what it stands for.
struct Invented {
    given: Vec<String>,
    body: Expression,
}

const OPTIONS: [&str; 2] = ["loud", "soft"];
const COLUMNS: [(&str, Kind); 2] = [("pressure", Kind::GAUGE_PRESSURE), ("travel", Kind::NUMBER)];

impl Invented {
    fn new() -> Self {
        Self { given: vec!["a".to_owned()], body: parse("a + a").expect("a relation") }
    }

    fn evaluator(&self) -> Evaluator<'_> {
        let known = |entry| Input { value: Some(entry), known: true, ..Input::default() };
        let number = |value, uncertainty| known(InputValue::Number { value, uncertainty });
        let cells = vec![
            number(90_000.0, 2000.0),
            number(101_325.0, 0.0),
            Input::default(),
            Input { sure: 0.9, ..known(InputValue::Bool(true)) },
            Input { sure: 0.9, options: OPTIONS.len(), ..known(InputValue::Option(0)) },
            known(InputValue::Table(vec![[40_000.0, 0.0], [80_000.0, 4.0]])),
        ];
        Evaluator::new(cells, Vec::new(), &[], Arc::default())
    }
}

impl Names for Invented {
    fn find(&self, name: &str) -> Option<Meaning<'_>> {
        Some(match name {
            "x" => Meaning::Value { variable: VarId(0), kind: Kind::GAUGE_PRESSURE },
            "y" => Meaning::Value { variable: VarId(1), kind: Kind::ABSOLUTE_PRESSURE },
            "z" => Meaning::Value { variable: VarId(2), kind: Kind::NUMBER },
            "hisses" => Meaning::Bool { variable: VarId(3) },
            "sound" => Meaning::Choice { variable: VarId(4), options: OPTIONS.to_vec() },
            "opening" => Meaning::Table { variable: VarId(5), columns: COLUMNS.to_vec() },
            "twice" => Meaning::Relation { given: &self.given, body: &self.body },
            _ => return None,
        })
    }

    fn all(&self) -> Vec<&str> {
        vec!["x", "y", "z", "hisses", "sound", "opening", "twice"]
    }
}
