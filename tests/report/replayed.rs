//! One recorded interview of two rounds, on a small pack, in each form that the program prints.

use std::process::{Command, Output};

const PACK: &str = "tests/report/pack";
const ANSWERS: &str = "tests/report/answers.yaml";

fn replayed(form: &str) -> String {
    let Output { status, stdout, stderr } = Command::new(env!("CARGO_BIN_EXE_boostwright"))
        .args(["replay", ANSWERS, "--form", form, "--only", "--pack", PACK])
        .output()
        .unwrap();
    assert!(status.success(), "{}", String::from_utf8_lossy(&stderr));
    String::from_utf8(stdout).unwrap()
}

#[test]
fn a_replayed_interview_as_text() {
    insta::assert_snapshot!(replayed("text"));
}

#[test]
fn a_replayed_interview_as_markdown() {
    insta::assert_snapshot!(replayed("markdown"));
}

#[test]
fn a_replayed_interview_as_html() {
    insta::assert_snapshot!(replayed("html"));
}

#[test]
fn numbers_and_bands_are_the_same_in_each_form_for_people() {
    // 0.90 bar * 21^2 / 27^2 is 0.544 bar; its band is that of the three readings and the factor.
    for form in ["text", "markdown", "html"] {
        let words: Vec<String> = replayed(form).split_whitespace().map(str::to_owned).collect();
        let page = words.join(" ");
        assert!(page.contains("0.54 bar") || page.contains("0.544"), "{form}");
    }
}
