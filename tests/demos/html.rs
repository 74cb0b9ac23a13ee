//! The HTML form of every round of every recording: no heavier than a phone at the car takes at once,
//! and built as readers of screens need it.

use super::recording::conclusions;
use crate::report::page::{faults, read};

#[test]
fn every_page_stays_under_250_kilobytes() {
    for one in conclusions() {
        let bytes = one.html.len();
        assert!(bytes <= 250_000, "{} round {}: {bytes} bytes", one.name, one.round);
    }
}

#[test]
fn every_page_can_be_found_ones_way_about_in() {
    for one in conclusions() {
        assert_eq!(faults(&read(&one.html)), [""; 0], "{} round {}", one.name, one.round);
    }
}

/// All that the text form says in its own words is there, too.
#[test]
fn causes_and_work_stand_on_the_page() {
    for one in conclusions() {
        let text = read(&one.html).text();
        for work in one.json["next_work"].as_array().unwrap() {
            let title = work["title"].as_str().unwrap();
            assert!(text.contains(title), "{}: {title}", one.name);
        }
        let lead = one.json["causes"][0]["title"].as_str().unwrap();
        let cured = one.screen.contains("WHAT TO KEEP AN EYE ON");
        let likely = one.json["causes"][0]["probability"].as_f64().unwrap() >= 0.03;
        assert!(cured || !likely || text.contains(lead), "{}: {lead}", one.name);
    }
}
