//! Excerpts, wrapping and small turns of English.

use boostwright::text::{Clean, capital, columns, either, excerpt, listed, range, spaced, wrapped};
use proptest::prelude::{any, proptest};

#[test]
fn an_excerpt_says_that_more_stood_there() {
    assert_eq!(excerpt("boost", 5), "boost");
    assert_eq!(excerpt("boost gauge", 5), "boost…");
    assert_eq!(excerpt("0,85 bär\n±", 9), "0,85 bär …");
}

#[test]
fn lists_have_their_word_before_the_last() {
    assert_eq!(listed::<&str>(&[]), "");
    assert_eq!(listed(&["hose"]), "hose");
    assert_eq!(listed(&["hose", "clip"]), "hose and clip");
    assert_eq!(either(&["hose", "clip", "port"]), "hose, clip or port");
}

#[test]
fn a_range_says_its_unit_once_and_an_open_one_which_end_it_has() {
    let bar = |number: &str| Some(format!("{number} bar"));
    let said = |from, to| range(from, to, "bar").unwrap_or_default();
    assert_eq!(said(bar("0"), bar("3")), "0 to 3 bar");
    assert_eq!(said(bar("0"), None), "at least 0 bar");
    assert_eq!(said(None, bar("3")), "at most 3 bar");
    assert_eq!(said(None, None), "");
    assert_eq!(range(Some("0".into()), Some("9".into()), "").unwrap_or_default(), "0 to 9");
}

#[test]
fn ids_become_words_and_sentences_begin_with_a_capital() {
    assert_eq!(spaced("port_too_small"), "port too small");
    assert_eq!(capital("ärger"), "Ärger");
    assert_eq!(capital(""), "");
}

#[test]
fn further_lines_stand_under_the_text_and_a_number_keeps_its_unit() {
    let lines = wrapped("press to 0.5\u{a0}bar and hold", 14, &"- ".into(), 2);
    assert_eq!(lines, ["- press to", "  0.5 bar and", "  hold"].map(Clean::from));
}

proptest! {
    #[test]
    fn no_line_is_wider_than_the_page(text in any::<String>(), width in 4_usize..60) {
        for line in wrapped(text.as_str(), width, &"- ".into(), 2) {
            assert!(columns(&line) <= width, "{line:?}");
        }
    }
}
