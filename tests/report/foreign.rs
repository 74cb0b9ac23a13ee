//! Texts of strangers in every form: they can't break it, whatever they hold.

use boostwright::report::model::Conclusion;
use boostwright::report::{html, markdown, text};
use boostwright::text::{Clean, is_clean};
use proptest::collection::vec;
use proptest::prelude::{ProptestConfig, Strategy, any, prop_assert, prop_assert_eq, proptest};
use proptest::sample::select;
use pulldown_cmark::{Event, Options, Parser};

use super::example::written;

/// What breaks careless forms, and what steers terminals.
const PIECES: [&str; 46] = [
    "<script>alert(1)</script>",
    "</style>",
    "<!--",
    "-->",
    "]]>",
    "</code>",
    "<",
    ">",
    "&lt;",
    "&#60;",
    "\"",
    "'",
    "](https://example.org)",
    "[x] ",
    "![",
    "[^1]",
    "`",
    "```",
    "~~~",
    "*",
    "_",
    "|",
    "\\",
    "# ",
    "- ",
    "+ ",
    "12. ",
    "3) ",
    "> ",
    "---",
    "===",
    "$",
    "{#id}",
    "www.example.org",
    "https://example.org",
    "a@example.org",
    "\n",
    "\n\n    ",
    "\r",
    "\t",
    "\u{1b}[31m",
    "\u{202e}",
    "\u{2028}",
    "\u{200b}",
    "\0",
    "漢字",
];

fn foreign() -> impl Strategy<Value = String> {
    let piece = select(PIECES.to_vec()).prop_map(str::to_owned);
    let letters = any::<[char; 3]>().prop_map(|letters| letters.iter().collect());
    let words = select(vec!["boost", "rod ", " "]).prop_map(str::to_owned);
    vec(proptest::prop_oneof![piece, letters, words], 1..6)
        .prop_map(|pieces| pieces.concat())
        .prop_filter("something is left to read", |text| !Clean::line(text).trim().is_empty())
}

fn with_text(foreign: &str) -> Conclusion {
    written(&|_| foreign.to_owned())
}

/// The markup of a page of HTML, texts left out, and the size of a drawing, which grows with its words.
fn tags(html: &str) -> Vec<&str> {
    let parts = html.split('<').skip(1);
    let tags = parts.map(|part| part.split('>').next().unwrap_or_default());
    tags.map(|tag| if tag.starts_with("svg xmlns=") { "svg" } else { tag }).collect()
}

/// The markup of Markdown with its usual extensions, texts left out, and the texts.
fn events(markdown: &str) -> (Vec<String>, String) {
    // Smart quotes change letters, not markup; against attributes of headings there is no escape.
    let left_out = Options::ENABLE_SMART_PUNCTUATION | Options::ENABLE_HEADING_ATTRIBUTES;
    let options = Options::all().difference(left_out);
    let mut markup = Vec::new();
    let mut texts = String::new();
    for event in Parser::new_ext(markdown, options) {
        match event {
            Event::Text(text) => texts.push_str(&text),
            Event::Code(text) => {
                markup.push("code".to_owned());
                texts.push_str(&text);
            }
            event => markup.push(format!("{event:?}")),
        }
    }
    (markup, texts)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..Default::default() })]

    #[test]
    fn no_line_of_text_is_wider_than_the_page_or_drives_the_terminal(
        foreign in foreign(),
        width in 20_usize..120,
    ) {
        let text = text(&with_text(&foreign), width);
        for line in text.lines() {
            prop_assert!(textwrap::core::display_width(line) <= width, "{line:?}");
        }
        prop_assert!(text.chars().all(|letter| letter == '\n' || is_clean(letter)));
    }

    #[test]
    fn markdown_keeps_its_markup_and_shows_the_text_as_it_stands(foreign in foreign()) {
        let (markup, texts) = events(&markdown(&with_text(&foreign)));
        let (harmless, _) = events(&markdown(&with_text("boost")));
        prop_assert_eq!(markup, harmless);
        prop_assert!(texts.contains(Clean::line(&foreign).trim()), "{texts:?}");
    }

    #[test]
    fn html_keeps_its_markup(foreign in foreign()) {
        let hostile = html(&with_text(&foreign));
        let harmless = html(&with_text("boost"));
        prop_assert_eq!(tags(&hostile), tags(&harmless));
        prop_assert!(hostile.chars().all(|letter| letter == '\n' || is_clean(letter)));
    }
}
