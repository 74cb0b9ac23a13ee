//! Boost far over what was planned keeps the car off the road until the gate has been seen to open
//! (common practice: nothing is driven on boost before air has moved the gate).

use super::{Answers, TOO_HIGH, asked_on_the_road, caution, concluded};
use crate::built_in::built_in;

const FAR_OVER: &Answers<'_> = &[
    ("boost_seen", "1.2 bar"),
    ("expected_base_boost", "0.5 bar"),
    ("gauge_at_rest", "0 bar"),
    ("what_off_means", "plain_hose_fitted"),
    ("hose_is_sound", "yes"),
    ("fluids_are_dry", "yes"),
    ("knock_heard", "no"),
];

#[test]
fn boost_far_over_forbids_the_road_until_air_has_opened_the_gate() {
    let pack = built_in();
    let road = |more: &Answers<'_>| {
        let said = concluded(pack, TOO_HIGH, &[FAR_OVER, more]);
        assert_eq!(caution(&said, "boost_far_over"), Some("danger"));
        let forbidden = caution(&said, "gate_not_seen_to_open").is_some();
        (forbidden, asked_on_the_road(pack, &said).len())
    };
    assert_eq!(road(&[]), (true, 0));
    assert_eq!(road(&[("air_from_hose_end", "unknown")]), (true, 0));
    assert_eq!(road(&[("actuator_kind", "electric_actuator")]), (true, 0));
    let opened: [&Answers<'_>; 4] = [
        &[("air_from_hose_end", "flap_opens")],
        &[("air_from_hose_end", "unknown"), ("air_at_canister", "canister_moves")],
        &[("actuator_kind", "electric_actuator"), ("gate_motor_sweeps", "yes")],
        &[("actuator_kind", "vacuum_canister"), ("vacuum_holds", "yes")],
    ];
    for more in opened {
        let (forbidden, asked) = road(more);
        assert!(!forbidden && asked > 0, "{more:?}: {asked}");
    }
    // The canister moves, but nothing reaches it through the hose.
    let cut_off = [("air_from_hose_end", "nothing_moves"), ("air_at_canister", "canister_moves")];
    assert_eq!(road(&cut_off), (true, 0));
}

#[test]
fn boost_a_little_over_asks_for_its_pulls_as_ever() {
    let pack = built_in();
    let little = [("boost_seen", "0.65 bar"), ("air_from_hose_end", "flap_opens")];
    let said = concluded(pack, TOO_HIGH, &[&FAR_OVER[1..], &little]);
    assert_eq!(caution(&said, "gate_not_seen_to_open"), None);
    assert!(asked_on_the_road(pack, &said).contains(&"peak_boost"));
}
