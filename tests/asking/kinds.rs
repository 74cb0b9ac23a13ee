//! What moves the gate is asked first, and what the car hasn't got is never at fault.

use super::owner::Held;
use crate::built_in::built_in;

/// A gate moved by a motor has neither signal hose nor canister.
const BY_MOTOR: [(&str, &str); 3] = [
    ("actuator_kind", "electric_actuator"),
    ("gate_kind", "internal_gate"),
    ("boost_control_kind", "unit_valve"),
];

#[test]
fn an_electric_gate_is_tried_within_six_questions() {
    let pack = built_in();
    for complaint in [
        "boost_too_high_controller_off",
        "boost_climbs_at_speed",
        "controller_without_effect",
        "never_reaches_target",
        "slow_to_build",
        "boost_spikes_then_settles",
    ] {
        let held = Held::with(pack, complaint, &BY_MOTOR);
        let asked = held.ids(pack);
        let place = asked.iter().position(|id| *id == "gate_motor_sweeps");
        assert!(place.is_some_and(|place| place < 6), "{complaint}: {asked:?}");
    }
}

#[test]
fn no_hose_and_no_canister_is_blamed_on_a_car_with_an_electric_gate() {
    let pack = built_in();
    let answers =
        [&BY_MOTOR[..], &[("boost_seen", "1.05 bar"), ("expected_base_boost", "0.5 bar")]].concat();
    let state = Held::with(pack, "boost_too_high_controller_off", &answers).state(pack);
    for id in [
        "signal_hose_open",
        "signal_hose_blocked",
        "signal_from_wrong_place",
        "signal_too_slow",
        "actuator_seized",
        "diaphragm_split",
        "wrong_side_of_canister",
        "spring_too_stiff",
        "preload_too_high",
    ] {
        let chance = state.ranked.probability(pack.causes.find(id).unwrap());
        assert!(chance <= 0.001, "{id}: {chance}");
    }
}
