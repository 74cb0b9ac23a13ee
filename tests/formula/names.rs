//! Which words can be names, and what a name may stand for.

use boostwright::formula::{Formula, Meaning, Names, Unusable, check, unusable};

use super::workbench::{Bench, close, number};

#[test]
fn letters_digits_and_underscores_make_a_name_unless_they_are_a_unit_or_a_word() {
    for word in ["boost", "_x", "m1", "minimum", "port_2", "gauge", "Boost"] {
        assert_eq!(unusable(word), None, "{word}");
    }
    for word in ["bar", "mm2", "psi", "K", "rpm", "in", "h", "min"] {
        assert_eq!(unusable(word), Some(Unusable::Unit), "{word}");
    }
    for word in ["if", "then", "else", "and", "or", "not", "yes", "no"] {
        assert_eq!(unusable(word), Some(Unusable::Reserved), "{word}");
    }
    for word in ["", "2x", "a-b", "a b", "é", "%"] {
        assert_eq!(unusable(word), Some(Unusable::Letters), "{word}");
    }
}

/// Names with one finding beside them.
struct WithFinding {
    bench: Bench,
    finding: Formula,
}

impl Names for WithFinding {
    fn find(&self, name: &str) -> Option<Meaning<'_>> {
        match name {
            "finding" => Some(Meaning::Inline { node: &self.finding.node, id: None }),
            _ => self.bench.find(name),
        }
    }

    fn all(&self) -> Vec<&str> {
        self.bench.all()
    }
}

#[test]
fn a_finding_that_is_put_in_keeps_its_own_literals_and_chances() {
    let bench = Bench(vec![number("x", "1"), number("y", "5")]);
    // Φ(1) = 0.841344746 each: 1 against 0 ± 1, and the chance of 0 ± 1 to lie below 1.
    let finding = bench.sound("x > (0 ± 1) and chance_below(0 ± 1, x) > 0.8");
    let names = WithFinding { bench, finding };
    // Two literals and a chance of its own stand before: 5 against 5 ± 2 is even, and
    // chance_below(0 ± 1, 0) is one half.
    let text = "y > (5 ± 2) and chance_below(0 ± 1, 0) > 0.4 and finding";
    let formula = check(text, &names, None).expect("sound");
    let chance = names.bench.evaluator().chance(&formula).expect("a chance");
    close(chance, 0.5 * 0.841_344_746_068_5, 1e-8);
}

#[test]
fn as_of_takes_a_value_and_names_of_questions() {
    let names = Bench(vec![number("pull", "0.7 bar ± 0.02"), number("port", "18 mm")]);
    // Without a past the value is that of now, with its uncertainty.
    let band = names.worked("as_of(2 * pull, pull, port)").expect("a band").band;
    assert!((band.value - 1.4e5).abs() < 1e-6 && (band.uncertainty - 4e3).abs() < 1e-3, "{band:?}");
    for formula in ["as_of()", "as_of(pull)", "as_of(pull, 2 * port)"] {
        let faults = names.check(formula).expect_err(formula);
        assert!(faults[0].message().contains("names of questions"), "{formula}: {faults:?}");
    }
}
