//! Foreign text can't drive the terminal.

use boostwright::quantity::is_tame;
use boostwright::terminal::{Page, Voice, clean, clean_line};
use proptest::prelude::{any, proptest};

proptest! {
    #[test]
    fn nothing_but_tame_letters_and_line_ends_is_left(text in any::<String>()) {
        let cleaned = clean(&text);
        assert!(cleaned.chars().all(|letter| letter == '\n' || is_tame(letter)));
        assert_eq!(cleaned.chars().count(), text.chars().count(), "letters are replaced, not lost");
    }

    #[test]
    fn whatever_a_page_says_its_lines_are_tame(text in any::<String>(), columns in 0_usize..100) {
        for line in Page::of(Voice::Stop, &text).lines(columns) {
            assert!(line.text.chars().all(is_tame), "{:?}", line.text);
        }
    }

    #[test]
    fn ordinary_text_is_left_as_it_is(text in "[ -~äöüßéñ°²³µΩ±−→·„“’…–—日本語]*") {
        assert_eq!(clean(&text), text);
    }
}

/// C0, DEL and C1 are what terminals obey (ECMA-48, 5.2 to 5.4); the others turn the reading
/// direction, end a line, or are not seen (Unicode 15, chapter 23.2 to 23.9; UAX 9, 2.1 to 2.6).
#[test]
fn each_kind_of_wild_letter_is_taken_out() {
    let wild = [
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
    for letter in wild {
        assert_eq!(clean(&format!("a{letter}b")), "a\u{fffd}b", "{letter:?}");
    }
}

#[test]
fn an_escape_sequence_comes_out_as_harmless_text() {
    assert_eq!(clean("\u{1b}[2Jgone"), "\u{fffd}[2Jgone");
    assert_eq!(clean_line("one\ntwo\tthree"), "one two three");
}
