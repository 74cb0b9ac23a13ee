//! Foreign text can't drive what shows it.

use boostwright::terminal::{Page, Voice};
use boostwright::text::{Clean, is_clean};
use proptest::prelude::{any, proptest};

proptest! {
    #[test]
    fn nothing_but_clean_letters_and_line_ends_is_left(text in any::<String>()) {
        let cleaned = Clean::new(text.as_str());
        assert!(cleaned.chars().all(|letter| letter == '\n' || is_clean(letter)));
        assert_eq!(cleaned.chars().count(), text.chars().count(), "letters are replaced, not lost");
    }

    #[test]
    fn whatever_a_page_says_its_lines_are_clean(text in any::<String>(), columns in 0_usize..100) {
        for line in Page::of(Voice::Stop, &text).lines(columns) {
            assert!(line.text.chars().all(is_clean), "{:?}", line.text);
        }
    }

    #[test]
    fn ordinary_text_is_left_as_it_is(text in "[ -~äöüßéñ°²³µΩ±−→·„“’…–—日本語]*") {
        assert_eq!(Clean::new(text.as_str()).as_str(), text);
    }
}

/// C0, DEL and C1 are what terminals obey (ECMA-48, 5.2 to 5.4); the others turn the reading
/// direction, end a line, or are not seen (Unicode 15, chapter 23.2 to 23.9; UAX 9, 2.1 to 2.6).
#[test]
fn each_kind_of_unclean_letter_is_taken_out() {
    let unclean = [
        '\0',
        '\u{7}',
        '\u{8}',
        '\r',
        '\u{1b}',
        '\u{7f}',
        '\u{80}',
        '\u{85}',
        '\u{9b}',
        '\u{9d}',
        '\u{ad}',
        '\u{61c}',
        '\u{200b}',
        '\u{200d}',
        '\u{200e}',
        '\u{202a}',
        '\u{202e}',
        '\u{2028}',
        '\u{2029}',
        '\u{2060}',
        '\u{2066}',
        '\u{2069}',
        '\u{feff}',
        '\u{fff9}',
        '\u{e0001}',
        '\u{e0041}',
        '\u{e007f}',
        '\u{e0100}',
    ];
    for letter in unclean {
        assert_eq!(Clean::new(format!("a{letter}b")), "a\u{fffd}b", "{letter:?}");
    }
}

#[test]
fn an_escape_sequence_comes_out_as_harmless_text() {
    assert_eq!(Clean::new("\u{1b}[2Jgone"), "\u{fffd}[2Jgone");
    assert_eq!(Clean::line("one\ntwo\tthree"), "one two three");
}

/// The sequences that colour are "select graphic rendition" (ECMA-48:1991, 8.3.117): `ESC [`, numbers
/// with `;` between them, `m`.
#[test]
fn of_a_coloured_text_the_colours_are_left_and_no_other_sequence() {
    let red = "\u{1b}[1;31mSTOP\u{1b}[0m";
    assert_eq!(Clean::coloured(red), red);
    for (wild, shown) in [
        ("\u{1b}[2Jgone", "\u{fffd}[2Jgone"),
        ("\u{1b}[31", "\u{fffd}[31"),
        ("\u{1b}[?25lm", "\u{fffd}[?25lm"),
        ("\u{1b}]0;title\u{7}", "\u{fffd}]0;title\u{fffd}"),
        ("\u{1b}\u{1b}[31mred", "\u{fffd}\u{1b}[31mred"),
        ("\u{9b}31m\u{202e}", "\u{fffd}31m\u{fffd}"),
    ] {
        assert_eq!(Clean::coloured(wild), shown);
    }
}

proptest! {
    #[test]
    fn safe_json_is_the_same_json(text in any::<String>()) {
        let json = serde_json::to_string(&text).unwrap();
        let safe = Clean::json(&json);
        assert!(safe.chars().all(is_clean));
        assert_eq!(serde_json::from_str::<String>(&safe).unwrap(), text);
    }
}
