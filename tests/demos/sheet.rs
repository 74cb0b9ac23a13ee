//! What each recording puts on paper: two pages, with the job that is next and all that can hurt.

use super::recording::{Concluded, conclusions};

/// The sheet's words without its line ends.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn at(one: &Concluded) -> String {
    format!("{} round {}\n{}", one.name, one.round, one.sheet)
}

#[test]
fn every_sheet_has_two_pages_at_most() {
    for one in conclusions() {
        let lines = one.sheet.lines().count();
        assert!(lines <= 120, "{lines} lines: {}", at(one));
        assert!(one.sheet.lines().all(|line| line.chars().count() <= 80), "{}", at(one));
    }
}

#[test]
fn the_next_check_and_the_next_repair_stand_on_the_sheet() {
    let mut repairs = 0;
    for one in conclusions() {
        let sheet = flat(&one.sheet).to_lowercase();
        let work = one.json["next_work"].as_array().unwrap();
        let first = |kind: &str| work.iter().find(|work| work["kind"] == kind);
        if let Some(check) = work.first().filter(|work| work["kind"] == "check") {
            let title = flat(check["title"].as_str().unwrap()).to_lowercase();
            assert!(sheet.contains(&title), "{title}: {}", at(one));
        }
        let Some(repair) = first("repair") else { continue };
        repairs += 1;
        let how = repair["how"].as_str().unwrap_or_default();
        let title = repair["title"].as_str().unwrap();
        for text in [title, how] {
            assert!(sheet.contains(&flat(text).to_lowercase()), "{text}: {}", at(one));
        }
        for size in repair["sizes"].as_array().into_iter().flatten() {
            let best = size["shown"]["best"].as_str().unwrap().to_lowercase();
            assert!(sheet.contains(&best), "{best}: {}", at(one));
        }
    }
    assert!(repairs > 5, "only {repairs}");
}

#[test]
fn what_can_hurt_stands_whole_on_the_sheet() {
    let mut looked_at = 0;
    for one in conclusions() {
        let sheet = flat(&one.sheet);
        let repair = one.json["next_work"].as_array().unwrap().iter();
        let repair = repair.clone().find(|work| work["kind"] == "repair");
        let own = repair.and_then(|work| work["cautions"].as_array());
        for caution in one.json["cautions"].as_array().unwrap() {
            let goes_with_the_repair = own.is_some_and(|own| own.contains(&caution["id"]));
            if caution["in_force"] == true || goes_with_the_repair {
                let text = flat(caution["text"].as_str().unwrap());
                assert!(sheet.contains(&text), "{text}: {}", at(one));
                looked_at += 1;
            }
        }
    }
    assert!(looked_at > 10, "only {looked_at}");
}

#[test]
fn nothing_is_fetched_twice() {
    for one in conclusions() {
        let kit = one.sheet.split("\nKIT\n").nth(1).unwrap_or_default();
        let kit = kit.split("\n\n").next().unwrap();
        let pieces: Vec<String> =
            kit.split("[ ] ").skip(1).map(|piece| flat(piece).to_lowercase()).collect();
        for (place, piece) in pieces.iter().enumerate() {
            assert!(!pieces[place + 1..].contains(piece), "{piece}: {}", at(one));
        }
    }
}

/// What is not on it is counted, and how to print it is said.
#[test]
fn the_questions_that_are_left_out_are_counted() {
    let mut told = 0;
    for one in conclusions() {
        let open = one.json["open_questions"].as_array().unwrap();
        let shown =
            open.iter().filter(|id| one.sheet.contains(&format!("({}, ", id.as_str().unwrap())));
        let left = open.len() - shown.count();
        let says = format!("Not on this sheet: {left} more open questions");
        let nothing_to_do = one.sheet.contains("There is nothing left to check.");
        assert_eq!(
            flat(&one.sheet).contains(&says),
            left > 0 && !nothing_to_do,
            "{says}: {}",
            at(one)
        );
        told += usize::from(left > 0);
    }
    assert!(told > 5, "only {told}");
}
