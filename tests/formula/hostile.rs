//! Formulas that mean harm end with a message: nothing overflows the stack, nothing blows up.

use std::borrow::Cow;
use std::sync::Arc;

use boostwright::formula::{
    Evaluator, Expression, Formula, Input, MAX_BYTES, Meaning, Names, Node, Type, VarId, check,
    parse,
};
use boostwright::quantity::Kind;
use proptest::prelude::{any, proptest};
use proptest::string::string_regex;
use proptest::test_runner::Config;

use super::workbench::{Bench, close, refusal, value};

#[test]
fn deep_nesting_of_any_sort_is_refused() {
    for formula in [
        "(".repeat(900),
        "(".repeat(400) + "1" + &")".repeat(400),
        "-".repeat(900) + "1",
        "not ".repeat(900) + "yes",
        "abs(".repeat(400) + "1",
        "if yes then ".repeat(300) + "1",
        "if yes then 1 else ".repeat(150) + "1",
        "2^".repeat(400) + "1",
    ] {
        assert!(refusal(&formula).contains("nested too deep"), "{formula:.40}");
    }
}

#[test]
fn long_formulas_are_refused() {
    assert!(refusal(&"1".repeat(MAX_BYTES + 1)).contains("bytes long"));
    assert!(refusal(&("1+".repeat(1500) + "1")).contains("too many parts"));
}

#[test]
fn a_chain_is_as_deep_as_it_is_long_and_bounded_too() {
    close(value(&("1+".repeat(200) + "1")), 201.0, 0.0);
    assert!(refusal(&("1+".repeat(400) + "1")).contains("steps inside one another"));
    let truths = "yes and ".repeat(400) + "yes";
    assert!(refusal(&truths).contains("steps inside one another"));
}

/// Relations `twice`, and `chain_n` that call one another.
struct Relations(Vec<(String, Vec<String>, Expression)>);

impl Relations {
    fn of(written: &[(&str, &str, &str)]) -> Self {
        let relation = |(name, given, body): &(&str, &str, &str)| {
            let given = given.split_whitespace().map(str::to_owned).collect();
            ((*name).to_owned(), given, parse(body).expect(body))
        };
        Self(written.iter().map(relation).collect())
    }
}

impl Names for Relations {
    fn find(&self, name: &str) -> Option<Meaning<'_>> {
        let (_, given, body) = self.0.iter().find(|(known, _, _)| known == name)?;
        Some(Meaning::Relation { given, body })
    }

    fn all(&self) -> Vec<&str> {
        self.0.iter().map(|(name, _, _)| name.as_str()).collect()
    }
}

/// What a formula over relations is refused for.
fn refused(names: &Relations, formula: &str) -> String {
    let faults = check(formula, names, None).expect_err(formula);
    faults.iter().map(|fault| fault.message()).collect::<Vec<_>>().join("; ")
}

#[test]
fn relations_that_double_with_every_call_are_refused() {
    let names = Relations::of(&[("twice", "x", "x + x")]);
    let formula = "twice(".repeat(60) + "1" + &")".repeat(60);
    assert!(refused(&names, &formula).contains("pieces"));
    let names = Relations::of(&[
        ("a", "x", "b(x) * b(x) * b(x) * b(x)"),
        ("b", "x", "c(x) * c(x) * c(x) * c(x)"),
        ("c", "x", "d(x) * d(x) * d(x) * d(x)"),
        ("d", "x", "e(x) * e(x) * e(x) * e(x)"),
        ("e", "x", "f(x) * f(x) * f(x) * f(x)"),
        ("f", "x", "x * x * x * x * x * x * x"),
    ]);
    assert!(refused(&names, "a(1)").contains("pieces"));
}

#[test]
fn relations_that_call_themselves_are_refused() {
    let names = Relations::of(&[("a", "x", "b(x)"), ("b", "x", "a(x)")]);
    assert!(refused(&names, "a(1)").contains("calls itself"));
}

#[test]
fn relations_that_are_deep_in_one_another_are_refused() {
    let body = |next: &str| "1+".repeat(100) + next + "(x)";
    let (a, b, c) = (body("b"), body("c"), body("d"));
    let names = Relations::of(&[("a", "x", &a), ("b", "x", &b), ("c", "x", &c), ("d", "x", "x")]);
    // The call is the last term, so each relation adds one step; with the call first, all of them.
    assert!(check("a(1)", &names, None).is_ok());
    let body = |next: &str| format!("{next}(x)") + &"+1".repeat(100);
    let (a, b, c) = (body("b"), body("c"), body("d"));
    let names = Relations::of(&[("a", "x", &a), ("b", "x", &b), ("c", "x", &c), ("d", "x", "x")]);
    assert!(refused(&names, "a(1)").contains("steps inside one another"));
}

#[test]
fn truths_put_into_one_another_are_bounded() {
    struct Doubled(Node);
    impl Names for Doubled {
        fn find(&self, name: &str) -> Option<Meaning<'_>> {
            (name == "before").then_some(Meaning::Inline { node: &self.0, id: None })
        }
        fn all(&self) -> Vec<&str> {
            vec!["before"]
        }
    }
    let mut node = Node::Bool(true);
    for _ in 0..40 {
        match check("before and before", &Doubled(node), None) {
            Ok(formula) => node = formula.node,
            Err(faults) => {
                assert!(faults[0].message().contains("pieces"), "{faults:?}");
                return;
            }
        }
    }
    panic!("forty doublings were let through");
}

#[test]
fn a_long_chain_of_workings_is_refused_and_not_followed_to_the_end_of_the_stack() {
    // VarId 0 is given; each working adds one to the one before.
    let working = |variable: usize| Formula {
        text: String::new(),
        node: Node::Math {
            operation: boostwright::formula::Math::Magnitude,
            arguments: vec![Node::Read(VarId(variable))],
        },
        gives: Type::Quantity(Kind::NUMBER),
        spreads: Vec::new(),
        chances: 0,
    };
    let formulas: Vec<Formula> = (0..20_000).map(working).collect();
    let order: Vec<usize> = (0..formulas.len()).collect();
    let entry = boostwright::formula::InputValue::Number { value: 1.0, uncertainty: 0.1 };
    let cell = Input { value: Some(entry), known: true, ..Input::default() };
    let evaluator = Evaluator::new(
        vec![cell],
        formulas.iter().map(Cow::Borrowed).collect(),
        &order,
        Arc::default(),
    );
    close(evaluator.estimate(&working(100)).expect("near the bottom").band.uncertainty, 0.1, 1e-9);
    let told = evaluator.estimate(&working(19_999)).expect_err("far up").to_string();
    assert!(told.contains("too deep"), "{told}");
}

#[test]
fn a_page_of_comparisons_is_weighed_or_left_unweighed_but_ends() {
    let names =
        Bench((0..20).map(|place| super::workbench::truth(TRUTHS[place], true, 0.9)).collect());
    let formula = names.sound(&TRUTHS[..20].join(" and "));
    let told = names.evaluator().chance(&formula).expect_err("too many").to_string();
    assert!(told.contains("too many comparisons"), "{told}");
}

#[test]
fn a_page_of_chances_is_worked_out_once_and_not_for_every_comparison() {
    // Each chance takes ten thousand draws; seventy times seventy of them would take minutes.
    let names = Bench(vec![super::workbench::number("x", "0 ± 1")]);
    let one = |limit: usize| format!("chance_below(x^2, {limit}) > 0");
    let formula = names.sound(&(0..70).map(one).collect::<Vec<_>>().join(" and "));
    let started = std::time::Instant::now();
    assert!(names.evaluator().chance(&formula).is_err());
    assert!(started.elapsed().as_secs() < 20, "{:?}", started.elapsed());
}

const TRUTHS: [&str; 20] = [
    "a1", "b1", "c1", "d1", "e1", "f1", "g1", "h1", "i1", "j1", "k1", "l1", "m1", "n1", "o1", "p1",
    "q1", "r1", "s1", "t1",
];

proptest! {
    #![proptest_config(Config { cases: 512, failure_persistence: None, ..Config::default() })]

    #[test]
    fn no_text_makes_the_reader_panic(text in any::<String>()) {
        drop(Bench(Vec::new()).check(&text));
    }

    #[test]
    fn no_jumble_of_the_languages_own_pieces_makes_it_panic(
        text in string_regex(
            "((1|2\\.5|0|1e300|\\.5|,|=|==|<|>=|\\+|-|\\*|/|\\^|\\(|\\)|±|°C|bar|mm2|psi|N m|%|if|then|else|and|or|not|yes|x|y|min|sqrt|known|chance_below|circle_area|nozzle_flow|−|é)( |)){0,40}"
        ).expect("a pattern")
    ) {
        let names = Bench(vec![super::workbench::number("x", "1 bar ± 0.1"), super::workbench::truth("y", true, 0.9)]);
        if let Ok(formula) = names.check(&text) {
            let evaluator = names.evaluator();
            drop(evaluator.remarks(&formula));
            match formula.gives {
                Type::Bool => drop(evaluator.weigh(&formula)),
                _ => if let Ok(worked) = evaluator.estimate(&formula) {
                    assert!(worked.band.low.is_finite() && worked.band.high.is_finite());
                },
            }
        } else if let Err(faults) = names.check(&text) {
            for fault in faults {
                assert!(text.get(fault.span.clone()).is_some(), "{text}: {fault:?}");
                drop(fault.draw(&text, false));
            }
        }
    }
}
