//! Units as people write them on paper.

use boostwright::quantity::typeset;

#[test]
fn a_unit_behind_a_number_gets_its_power() {
    assert_eq!(typeset("380 mm2 (360 to 400 mm2)"), "380 mm² (360 to 400 mm²)");
    assert_eq!(typeset("0.07e-5 K^-1, 7 m3 and 2 m3/h"), "0.07e-5 per K, 7 m³ and 2 m³/h");
    assert_eq!(typeset("area in mm2"), "area in mm²");
    assert_eq!(typeset("mm2"), "mm²");
}

#[test]
fn degrees_stand_at_their_number() {
    assert_eq!(typeset("19 deg (15 to 27\u{a0}deg)"), "19° (15 to 27°)");
}

#[test]
fn names_stay_as_they_are() {
    for text in ["port_mm2", "the m2 valve", "a deg of care", "mm2.yaml lies here", "2 mm2s"] {
        assert_eq!(typeset(text), text);
    }
}
