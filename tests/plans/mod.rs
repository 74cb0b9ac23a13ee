//! Plans that are asked for with nothing wrong: their numbers against a sheet of formulas of its own, what
//! is missing for them, and the drawings to scale. All cars are invented.

mod asked;
mod drawn;
mod sheet;

use boostwright::interview::{Round, fold};
use boostwright::report::conclude;
use boostwright::report::model::{Conclusion, WorkLine};
use boostwright::rules::{Given, Pack};

use crate::reference::table::{Row, rows};

/// The rows of one car in the sheet, by their kind.
fn of_car(name: &str, kind: &str) -> Vec<Row> {
    let mut found = rows("plans.csv");
    found.retain(|row| row["case"] == name && row["kind"] == kind);
    assert!(!found.is_empty(), "{name} has no {kind}");
    found
}

/// What the answers of a car in the sheet come to, some of them left out.
#[track_caller]
fn planned(pack: &Pack, name: &str, without: &[&str]) -> Conclusion {
    planned_beyond(pack, name, without, &[])
}

/// The same where nobody can say more to these questions.
#[track_caller]
fn planned_beyond(pack: &Pack, name: &str, without: &[&str], unknown: &[String]) -> Conclusion {
    let answers = of_car(name, "answer");
    let answers = answers.iter().map(|row| (row["id"].clone(), Given::Text(row["value"].clone())));
    let answers = answers.filter(|(id, _)| !without.contains(&id.as_str()));
    let unknown = unknown.iter().map(|id| (id.clone(), Given::Text("unknown".to_owned())));
    let answers = answers.chain(unknown).collect();
    let complaint = pack.complaints.find(&of_car(name, "complaint")[0]["id"]).unwrap();
    let mut round = Round { complaints: vec![complaint], ..Round::default() };
    round.read_answers(pack, &answers).unwrap();
    conclude(&fold(pack, &[round], None), None)
}

/// The work that is planned.
#[track_caller]
fn plan<'c>(conclusion: &'c Conclusion, id: &str) -> &'c WorkLine {
    let all = conclusion.planned.iter().chain(&conclusion.next_work);
    all.into_iter().find(|work| work.id == id).unwrap_or_else(|| panic!("{id} is not planned"))
}

fn value(conclusion: &Conclusion, id: &str) -> Option<f64> {
    conclusion.workings.iter().find(|working| working.id == id).map(|working| working.value)
}

fn in_force(conclusion: &Conclusion, id: &str) -> bool {
    conclusion.cautions.iter().any(|caution| caution.id == id && caution.in_force)
}
