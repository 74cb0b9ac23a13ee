//! Every pair of colours on the HTML page, by day and by night, by the formula of WCAG 2.2
//! (<https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio>, success criteria 1.4.3 and 1.4.11).

use std::collections::HashMap;

use crate::project::text;

/// Least contrast of letters (1.4.3, level AA), and of a sign that says something (1.4.11).
const OF_LETTERS: f64 = 4.5;
const OF_SIGNS: f64 = 3.0;

/// Relative luminance of a colour in sRGB, 0 to 1.
fn luminance(colour: &str) -> f64 {
    let digits = colour.strip_prefix('#').unwrap_or_else(|| panic!("{colour} is no colour"));
    assert_eq!(digits.len(), 6, "{colour}");
    let channel = |place: usize| {
        let part = f64::from(u8::from_str_radix(&digits[place..place + 2], 16).unwrap()) / 255.0;
        if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * channel(0) + 0.7152 * channel(2) + 0.0722 * channel(4)
}

/// Contrast of two colours, 1 to 21.
fn contrast(one: &str, other: &str) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// A rule of the style sheet: the medium it is for, its selector and its declarations.
struct Rule {
    medium: String,
    selector: String,
    declarations: Vec<(String, String)>,
}

/// The style sheet without comments, rule by rule.
fn rules() -> Vec<Rule> {
    let sheet = text("src/report/page.css");
    let without: String = sheet
        .split("/*")
        .enumerate()
        .map(
            |(place, part)| {
                if place == 0 { part } else { part.split_once("*/").expect("a comment ends").1 }
            },
        )
        .collect();
    let (mut found, mut medium, mut rest) = (Vec::new(), String::new(), without.as_str());
    while let Some(at) = rest.find(['{', '}']) {
        let before = rest[..at].trim().to_owned();
        let opens = rest[at..].starts_with('{');
        rest = &rest[at + 1..];
        if !opens {
            medium.clear();
        } else if before.starts_with("@media") {
            medium = before;
        } else {
            let end = rest.find('}').expect("a rule ends");
            let declarations = rest[..end].split(';').filter_map(|line| {
                let (name, value) = line.split_once(':')?;
                Some((name.trim().to_owned(), value.trim().to_owned()))
            });
            let declarations = declarations.collect();
            found.push(Rule { medium: medium.clone(), selector: before, declarations });
            rest = &rest[end + 1..];
        }
    }
    found
}

/// The named colours by day, and by night, which changes some of them.
fn schemes() -> [HashMap<String, String>; 2] {
    let colours = |wanted: &dyn Fn(&str) -> bool| -> HashMap<String, String> {
        let rules = rules();
        let roots = rules.iter().filter(|rule| rule.selector == ":root" && wanted(&rule.medium));
        let all = roots.flat_map(|rule| rule.declarations.clone());
        all.filter(|(name, _)| name.starts_with("--")).collect()
    };
    let day = colours(&|medium| medium.is_empty());
    let mut night = day.clone();
    night.extend(colours(&|medium| medium.contains("prefers-color-scheme: dark")));
    assert!(day.len() > 10 && night != day);
    [day, night]
}

/// The name behind `var(...)` in a value.
fn variable(value: &str) -> Option<&str> {
    value.split_once("var(").and_then(|(_, behind)| behind.split_once(')')).map(|(name, _)| name)
}

fn declared<'r>(rule: &'r Rule, name: &str) -> Option<&'r str> {
    let own = rule.declarations.iter().find(|(own, _)| own == name);
    own.map(|(_, value)| variable(value).unwrap_or_else(|| panic!("{value} has no name")))
}

/// What letters and grounds there are: every letter may stand on every ground, but where a rule that
/// is not the page's own sets both.
fn pairs() -> Vec<(String, String)> {
    let rules = rules();
    let (mut letters, mut grounds, mut pairs) = (Vec::new(), Vec::new(), Vec::new());
    for rule in &rules {
        match (declared(rule, "color"), declared(rule, "background")) {
            (Some(letter), Some(ground)) if rule.selector != "body" => {
                pairs.push((letter.to_owned(), ground.to_owned()));
            }
            (letter, ground) => {
                letters.extend(letter);
                grounds.extend(ground);
            }
        }
    }
    assert!(letters.len() >= 3 && grounds.len() >= 4, "{letters:?} {grounds:?}");
    let all = letters.iter().flat_map(|letter| {
        grounds.iter().map(move |ground| ((*letter).to_owned(), (*ground).to_owned()))
    });
    pairs.extend(all);
    pairs
}

/// Values of the standard itself: black on white is 21 to 1; and of Understanding SC 1.4.3, which
/// gives #777777 on white as 4.47, too little (recalled, not looked up).
#[test]
fn contrast_is_that_of_the_standard() {
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    assert!((contrast("#777777", "#ffffff") - 4.48).abs() < 0.011);
    assert!(contrast("#777777", "#ffffff") < OF_LETTERS);
    assert!(contrast("#767676", "#ffffff") > OF_LETTERS);
}

#[test]
fn every_pair_of_colours_can_be_read_by_day_and_by_night() {
    for (scheme, name) in schemes().iter().zip(["day", "night"]) {
        for (letter, ground) in pairs() {
            let found = contrast(&scheme[&letter], &scheme[&ground]);
            assert!(found >= OF_LETTERS, "by {name} {letter} on {ground}: {found:.2}");
        }
    }
}

/// The edge of a warning says how badly it can hurt.
#[test]
fn the_edge_of_a_warning_stands_out_by_day_and_by_night() {
    let edges =
        [("--note-edge", "--note"), ("--danger-edge", "--danger"), ("--stop-edge", "--stop")];
    for scheme in schemes() {
        for (edge, ground) in edges {
            for ground in [ground, "--paper"] {
                let found = contrast(&scheme[edge], &scheme[ground]);
                assert!(found >= OF_SIGNS, "{edge} on {ground}: {found:.2}");
            }
        }
    }
}

/// A colour that no name stands for would escape the sums above.
#[test]
fn no_colour_stands_outside_the_list() {
    const COLOURED: [&str; 8] = [
        "color",
        "background",
        "background-color",
        "border",
        "border-left",
        "border-top",
        "border-bottom",
        "outline",
    ];
    for rule in rules().iter().filter(|rule| rule.selector != ":root") {
        for (name, value) in &rule.declarations {
            assert!(!value.contains('#') && !value.contains("rgb"), "{}: {value}", rule.selector);
            let plain = value == "0" || variable(value).is_some();
            assert!(
                !COLOURED.contains(&name.as_str()) || plain,
                "{}: {name} {value}",
                rule.selector
            );
        }
    }
}
