//! What is remembered between evaluators is found again only where everything below it is the same.

use std::borrow::Cow;
use std::sync::Arc;

use boostwright::formula::{Evaluator, Formula, Input, Memo, Node, Type, VarId, check};
use boostwright::quantity::Kind;

use super::workbench::{Bench, close};

/// A formula that hands on what stands behind a variable.
fn reads(variable: usize) -> Formula {
    Formula {
        text: "below".to_owned(),
        node: Node::Read(VarId(variable)),
        gives: Type::Quantity(Kind::NUMBER),
        spreads: Vec::new(),
        chances: 0,
    }
}

#[test]
fn a_formula_that_reads_another_one_is_worked_out_anew_where_that_one_differs() {
    let memo: Arc<Memo> = Arc::default();
    for (written, value) in [("1 ± 0.1", 1.0), ("2 ± 0.1", 2.0), ("1 ± 0.1", 1.0)] {
        let below = check(written, &Bench(Vec::new()), None).expect(written);
        let formulas = vec![Cow::Owned(below), Cow::Owned(reads(1))];
        let inputs = vec![Input::default()];
        let evaluator = Evaluator::new(inputs, formulas, &[0, 1], Arc::clone(&memo));
        close(evaluator.estimate_at(1).expect(written).band.value, value, 1e-12);
        close(evaluator.value(&reads(2)).expect(written), value, 1e-12);
    }
}
