//! Units as people write them, against the symbols that they stand for.

use boostwright::quantity::{Dimension, Kind, read, read_as_spelt};

const VOLUME: Kind = Kind::plain(Dimension::VOLUME);
const LENGTH: Kind = Kind::plain(Dimension::LENGTH);
const ROTATION: Kind = Kind::plain(Dimension::ROTATION);

#[test]
fn what_people_write_is_the_unit_that_they_mean() {
    let spelt = [
        ("1.05 Bar", "1.05 bar", Kind::GAUGE_PRESSURE),
        ("15 PSI", "15 psi", Kind::GAUGE_PRESSURE),
        ("15 Psi ± 1", "15 psi ± 1", Kind::GAUGE_PRESSURE),
        ("105 KPA", "105 kPa", Kind::GAUGE_PRESSURE),
        ("18 inhg", "18 inHg", Kind::GAUGE_PRESSURE),
        ("14.9 psig", "14.9 psi", Kind::GAUGE_PRESSURE),
        ("12 Psig", "12 psi", Kind::GAUGE_PRESSURE),
        ("0.62 kg/cm2", "0.62 kgf/cm2", Kind::GAUGE_PRESSURE),
        ("29 psia", "29 psi", Kind::ABSOLUTE_PRESSURE),
        ("22 C", "22 °C", Kind::TEMPERATURE),
        ("22 deg C", "22 °C", Kind::TEMPERATURE),
        ("22 celsius", "22 °C", Kind::TEMPERATURE),
        ("72 F", "72 °F", Kind::TEMPERATURE),
        ("2.0 l", "2 L", VOLUME),
        ("2,0 litre", "2 L", VOLUME),
        ("1998 ccm", "1998 cm3", VOLUME),
        ("122 cu in", "122 in3", VOLUME),
        ("24 MM", "24 mm", LENGTH),
        ("2500 RPM; 2600 Rpm", "2500 rpm; 2600 rpm", ROTATION),
    ];
    for (spelt, symbol, kind) in spelt {
        let got = read_as_spelt(spelt, kind, None);
        let wanted = read(symbol, kind, None).expect("symbols");
        assert_eq!(got.map(|got| (got.si, got.uncertainty)), Ok((wanted.si, wanted.uncertainty)));
    }
}

#[test]
fn what_may_mean_two_things_is_asked_for_again() {
    // A thousandth or a million, another kind of pressure, another dimension.
    for (text, kind) in [
        ("900 Mbar", Kind::GAUGE_PRESSURE),
        ("0.1 mpa", Kind::GAUGE_PRESSURE),
        ("29 psia", Kind::GAUGE_PRESSURE),
        ("2 litres", Kind::GAUGE_PRESSURE),
        ("12 C", Kind::TEMPERATURE_DIFFERENCE),
        ("12 elephants", Kind::GAUGE_PRESSURE),
    ] {
        assert!(read_as_spelt(text, kind, None).is_err(), "{text} was taken");
    }
}
