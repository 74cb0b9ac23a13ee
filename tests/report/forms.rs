//! What each form makes of one fixed conclusion.

use boostwright::report::model::{Conclusion, CurveLine, WorkingLine};
use boostwright::report::{html, json, markdown, text};

use super::example::example;
use super::page::{faults, read};

#[test]
fn text_at_80_columns() {
    insta::assert_snapshot!(text(&example(), 80));
}

#[test]
fn text_at_40_columns() {
    insta::assert_snapshot!(text(&example(), 40));
}

#[test]
fn markdown_with_tables_and_a_plot_in_letters() {
    insta::assert_snapshot!(markdown(&example()));
}

#[test]
fn html_as_one_page_with_its_plot() {
    insta::assert_snapshot!(html(&example()));
}

#[test]
fn a_page_of_html_fetches_nothing_and_runs_nothing() {
    let html = html(&example());
    for forbidden in ["<script", "<link", "<img", "<iframe", "@import", "url(", "src="] {
        assert!(!html.contains(forbidden), "{forbidden}");
    }
    // Links lead to places on the page.
    assert_eq!(html.matches("href=").count(), html.matches("href=\"#").count());
}

#[test]
fn a_page_of_html_can_be_found_ones_way_about_in() {
    assert_eq!(faults(&read(&html(&example()))), [""; 0]);
}

/// Sections with the same title are told apart.
#[test]
fn every_section_has_a_place_of_its_own_whatever_its_title() {
    let mut conclusion = example();
    let curve = conclusion.curves[0].clone();
    for title in ["Contents", "…", "Curve", "curve!"] {
        conclusion.curves.push(CurveLine { title: title.to_owned(), ..curve.clone() });
    }
    assert_eq!(faults(&read(&html(&conclusion))), [""; 0]);
}

#[test]
fn what_stands_on_typical_values_alone_is_left_out() {
    let shown = text(&example(), 80);
    assert!(shown.contains("This port holds 0.62 bar") && !shown.contains("Never shown"));
}

#[test]
fn stops_come_before_all_else() {
    let conclusion = example();
    let (text, markdown) = (text(&conclusion, 80), markdown(&conclusion));
    for form in [text.to_lowercase(), markdown.to_lowercase()] {
        let place = |words: &str| form.find(words).unwrap();
        assert!(place("the mixture is lean") < place("in short"));
        assert!(place("in short") < place("what is likely wrong"));
        assert!(place("what is likely wrong") < place("what to do next"));
        assert!(place("what to do next") < place("how it was worked out"));
    }
}

#[test]
fn a_clash_after_a_repair_sends_one_to_what_was_touched() {
    let clash =
        |round| Conclusion { round, contradiction: Some(vec!["needle".to_owned()]), ..example() };
    let told = |round| text(&clash(round), 80).replace("\n  ", " ");
    let hint = "Look first at whatever was touched";
    assert!(told(2).contains(hint) && !told(1).contains(hint));
}

#[test]
fn many_numbers_stand_in_a_table_by_step_on_any_width() {
    let mut conclusion = example();
    let one = conclusion.workings.remove(0);
    let named = |place: usize| WorkingLine {
        title: format!("Number {place} of a plan whose title takes more than a narrow page"),
        named: true,
        step: Some(if place < 4 { "Look" } else { "Plan" }.to_owned()),
        ..one.clone()
    };
    conclusion.workings = (0..8).map(named).collect();
    for width in [40, 80] {
        let text = text(&conclusion, width);
        assert!(text.lines().all(|line| line.chars().count() <= width), "{text}");
        let table = text.split("THE NUMBERS AT A GLANCE").nth(1).unwrap();
        let table = table.split("HOW IT WAS WORKED OUT").next().unwrap();
        assert_eq!(table.matches("0.62 bar").count(), 8, "{table}");
        assert!(table.find("Look").unwrap() < table.find("Plan").unwrap(), "{table}");
    }
    conclusion.workings.truncate(3);
    assert!(!text(&conclusion, 80).contains("AT A GLANCE"));
}

#[test]
fn json_has_the_keys_that_scripts_rest_on() {
    let conclusion: serde_json::Value = serde_json::from_str(&json(&example())).unwrap();
    let keys = [
        "complaint",
        "round",
        "next_question",
        "open_questions",
        "workings",
        "findings",
        "causes",
        "likely_sets",
        "next_work",
        "cautions",
        "contradiction",
        "inference",
        "verdict",
        "refused",
    ];
    for key in keys {
        assert!(conclusion.get(key).is_some(), "{key}");
    }
}
