//! What each form makes of one fixed conclusion.

use boostwright::report::{html, json, markdown, text};
use boostwright::terminal::clean_line;

use super::example::example;

#[test]
fn text_at_80_columns() {
    insta::assert_snapshot!(text(&example(), 80, &clean_line));
}

#[test]
fn text_at_40_columns() {
    insta::assert_snapshot!(text(&example(), 40, &clean_line));
}

#[test]
fn markdown_with_tables_and_a_plot_in_letters() {
    insta::assert_snapshot!(markdown(&example(), &clean_line));
}

#[test]
fn html_as_one_page_with_its_plot() {
    insta::assert_snapshot!(html(&example(), &clean_line));
}

#[test]
fn a_page_of_html_fetches_nothing_and_runs_nothing() {
    let html = html(&example(), &clean_line);
    for forbidden in ["<script", "<link", "<img", "<iframe", "@import", "url(", "src=", "href="] {
        assert!(!html.contains(forbidden), "{forbidden}");
    }
}

#[test]
fn what_stands_on_typical_values_alone_is_left_out() {
    let shown = text(&example(), 80, &clean_line);
    assert!(shown.contains("This port holds 0.62 bar") && !shown.contains("Never shown"));
}

#[test]
fn stops_come_before_all_else() {
    let conclusion = example();
    let (text, markdown) = (text(&conclusion, 80, &clean_line), markdown(&conclusion, &clean_line));
    for form in [text.to_lowercase(), markdown.to_lowercase()] {
        let place = |words: &str| form.find(words).unwrap();
        assert!(place("the mixture is lean") < place("in short"));
        assert!(place("in short") < place("what is likely wrong"));
        assert!(place("what is likely wrong") < place("what to do next"));
        assert!(place("what to do next") < place("how it was worked out"));
    }
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
    ];
    for key in keys {
        assert!(conclusion.get(key).is_some(), "{key}");
    }
}
