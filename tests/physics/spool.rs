//! Boost beginning and building, held against what was measured on engines, and against what a
//! mechanic knows of what makes it late.

use boostwright::formula::functions::find;
use boostwright::physics::fit::Engine;
use boostwright::physics::spool::{
    Car, Pull, SpoolEngine, Wheels, boost_time, car_time, dragging_from, pull_time, rotor_inertia,
    speed_at_boost, steady_boost, threshold_speed,
};
use boostwright::quantity::{Quantity, Rotation};
use proptest::prelude::{Strategy, prop_assert, prop_assume, proptest};

use super::{near, si, wide};

const KPA: f64 = 1e3;
const RPM: f64 = 1.0 / 60.0;

/// Where `function` comes to 0 between two places; it must change its sign.
fn zero(mut low: f64, mut high: f64, function: impl Fn(f64) -> f64) -> f64 {
    let rises = function(high) > 0.0;
    assert_ne!(function(low) > 0.0, rises, "no zero between {low} and {high}");
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if (function(middle) > 0.0) == rises { high = middle } else { low = middle }
    }
    low
}

/// A point of a dynamometer map with the gate shut: air g/s, λ, before the compressor kPa and K,
/// before the turbine K, behind it kPa, and the boost pressure measured, kPa.
struct Point(f64, f64, f64, f64, f64, f64, f64);

/// The boost pressure, kPa, at which the model's turbocharger balances at the point's flow. The engine
/// is made to draw that flow, whatever its speed.
fn balanced(point: &Point, turbine_area: f64, stoichiometric: f64, efficiency: f64) -> f64 {
    let &Point(air, lambda, before, cool, hot, behind, _) = point;
    let example = SpoolEngine::example();
    let speed = 25.0;
    let spool = |plenum: f64| SpoolEngine {
        turbine_area: si(turbine_area * 1e-6),
        engine: Engine {
            leak_area: si(0.0),
            volumetric_efficiency: air * 1e-3 * 287.05 * cool / (1e-3 * speed * plenum * KPA),
            // The flow of gas by the engine's own stoichiometric ratio; the model has 14.7.
            lambda: lambda * stoichiometric / 14.7,
            ambient: si(before * KPA),
            ambient_temperature: si(cool),
            inlet_heating: si(0.0),
            inlet_drop: si(0.0),
            charge_drop: si(0.0),
            exhaust_drop: si((behind - before) * KPA),
            reference_flow: si(air * 1e-3),
            cooler_effectiveness: 1.0,
            compressor_efficiency: 0.71 + efficiency,
            turbine_efficiency: 0.67 + efficiency,
            turbine_inlet_temperature: si(hot),
            ..example.engine
        },
        ..example
    };
    zero(before + 0.5, 220.0, |plenum| {
        threshold_speed(si((plenum - before) * KPA), &spool(plenum))
            .map_or(1.0, |found| found.si() - speed)
    })
}

/// Engine maps of Linköping University's course TSFS09 (2.0 and 2.3 litres, one type of turbocharger of
/// 56/52 mm), measured on the dynamometer; read in the course's data files. Turbine areas: 281 and
/// 406 mm², each from one point of its engine. Points whose pressure behind the turbine lies under
/// that before the compressor are left out: the model has no such thing.
///
/// The boost measured lies within 5 kPa, at wheel efficiencies from the literature. Pulses drive a turbine harder than a steady stream: at 1550 rpm
/// the larger engine made the boost of 2550 rpm on 8 % less flow. Its area comes from a point at 2548 rpm,
/// so it is taken as so much smaller below 1600; that leaves the model up to 6 kPa low there.
#[test]
fn boost_with_the_gate_shut_is_that_of_two_engines_on_the_dynamometer() {
    let two_litre = [
        (1250, Point(26.38, 0.994, 101.6, 305.5, 1026.6, 102.1, 136.6)),
        (1250, Point(33.50, 0.994, 101.5, 306.9, 1078.9, 103.0, 156.5)),
    ];
    let larger = [
        (1050, Point(19.72, 0.998, 101.1, 294.5, 936.0, 103.1, 115.9)),
        (1300, Point(28.41, 0.997, 100.9, 295.5, 1033.7, 105.3, 128.9)),
        (1549, Point(34.77, 0.999, 100.7, 295.8, 1071.5, 106.6, 137.5)),
        (2550, Point(25.69, 0.998, 101.3, 296.1, 996.2, 104.4, 117.7)),
        (2548, Point(33.93, 0.998, 101.0, 296.5, 1045.7, 106.4, 130.7)),
        (2550, Point(42.59, 0.997, 100.7, 297.5, 1087.5, 108.9, 143.8)),
        (3299, Point(33.42, 0.998, 100.9, 298.3, 1067.7, 106.4, 129.7)),
    ];
    let all = two_litre.iter().map(|of| (of, 281.0, 14.0));
    let of_larger = |speed: i32| if speed < 1600 { 406.0 / 1.08 } else { 406.0 };
    for ((speed, point), area, ratio) in
        all.chain(larger.iter().map(|of| (of, of_larger(of.0), 14.6)))
    {
        let (found, measured) = (balanced(point, area, ratio, 0.0), point.6);
        let low = if area < 400.0 && area > 300.0 { 6.0 } else { 5.0 };
        let within = measured - low..measured + 5.0;
        assert!(within.contains(&found), "{speed} rpm: {found:.1}, not {measured} kPa");
    }
    // With efficiencies uncertain by 0.04 each, points above 1600 rpm lie within two of these.
    for (_, point) in larger.iter().filter(|(speed, _)| *speed > 1600) {
        let [low, high] = [-0.08, 0.08].map(|off| balanced(point, 406.0, 14.6, off));
        assert!((low..high).contains(&point.6), "{} not within {low} to {high}", point.6);
    }
}

/// The 2.0-litre engine of those maps at 2000 rpm, λ 0.99: 377 mm² for the gas held 58.4 kPa of boost,
/// 394 mm² 35.0, 412 mm² 24.5. Areas were worked out from pressure and flow, and hold turbine, gate and
/// pulsation together, so that only the size of the effect can be compared.
#[test]
fn a_leak_costs_as_much_boost_as_an_opened_gate_did_on_the_dynamometer() {
    let spool = |turbine: f64, leak: f64| {
        let example = SpoolEngine::example();
        SpoolEngine {
            turbine_area: si(turbine),
            engine: Engine {
                leak_area: si(leak),
                volumetric_efficiency: 0.94,
                volume_per_turn: si(0.99e-3),
                lambda: 0.99,
                exhaust_drop: si(16.2 * KPA),
                inlet_drop: si(2.9 * KPA),
                charge_drop: si(2.0 * KPA),
                reference_flow: si(0.1),
                cooler_effectiveness: 0.8,
                ..example.engine
            },
            ..example
        }
    };
    let speed: Rotation = si(2000.0 * RPM);
    let boost =
        |turbine, leak| steady_boost(speed, &spool(turbine, leak)).map_or(4e5, |it| it.si());
    let turbine = zero(250e-6, 900e-6, |area| boost(area, 0.0) - 58.4 * KPA);
    let [some, more] = [17e-6, 35e-6].map(|leak| boost(turbine, leak) / KPA);
    near("17 mm² more", 58.4 - some, 58.4 - 35.0, 0.5 * 23.4);
    near("35 mm² more", 58.4 - more, 58.4 - 24.5, 0.5 * 33.9);
}

/// Inertia of whole rotors: Westin 2002 for 56/52 mm (quoted with the maps above), a generic 1.8-litre
/// engine in a published parameter set (Eriksson 2008, set by hand), a 12.7-litre diesel (Wahlström and
/// Eriksson, Proc. IMechE D 225, 2011).
#[test]
fn rotors_have_the_inertia_that_was_published() {
    for (compressor, turbine, published) in
        [(56e-3, 52e-3, 2.55e-5), (60e-3, 50e-3, 3.0e-5), (80e-3, 80e-3, 1.98e-4)]
    {
        let wheels = Wheels { compressor_diameter: si(compressor), turbine_diameter: si(turbine) };
        let found = rotor_inertia(&wheels).unwrap();
        near("published", found / published, 1.0, 0.15);
    }
}

/// The 2.3-litre engine at light load: air stepped from 9.2 to 17.0 g/s, the shaft at 20,700 rpm then,
/// at 28,024, 33,469 and 36,319 after one, two and three seconds, and at 39,000 in the end (same maps).
/// Here a very heavy car keeps the engine's speed, and full throttle draws the 17 g/s. The turbine's area
/// is the one that gives the end; what is tested is the course in time, within 8 % of shaft speed, and
/// that a rotor as heavy as another published figure for this turbocharger (1.25e-4 kg m²) misses it.
#[test]
fn the_shaft_gains_speed_as_it_did_on_the_dynamometer() {
    let example = SpoolEngine::example();
    let speed = 15.0;
    let spool = |area: f64| SpoolEngine {
        turbine_area: si(area),
        engine: Engine {
            leak_area: si(0.0),
            volume_per_turn: si(1.145e-3),
            volumetric_efficiency: 0.017 * 287.05 * 296.0 / (1.145e-3 * speed * 106e3),
            lambda: 1.0,
            ambient: si(101.0 * KPA),
            ambient_temperature: si(295.0),
            inlet_heating: si(0.0),
            inlet_drop: si(0.0),
            charge_drop: si(0.0),
            exhaust_drop: si(2.5 * KPA),
            reference_flow: si(0.017),
            cooler_effectiveness: 0.8,
            compressor_efficiency: 0.71,
            turbine_efficiency: 0.67,
            turbine_inlet_temperature: si(905.0),
            ..example.engine
        },
        ..example
    };
    // The boost that the compressor gives at a shaft speed and 17 g/s, by its head coefficient.
    let boost_at = |shaft_rpm: f64| {
        let rim = std::f64::consts::PI * 0.056 * shaft_rpm / 60.0;
        let lost = 0.017 / (0.085 * 1.193 * 0.056 * 0.056);
        1.193 * 0.60 * (rim * rim - lost * lost)
    };
    let end = boost_at(39_000.0);
    let area =
        zero(200e-6, 420e-6, |area| steady_boost(si(speed), &spool(area)).unwrap().si() - end);
    let time_to = |shaft_rpm: f64, inertia_factor: f64| {
        let car = Car { mass: si(1e7), ..Car::example() };
        let pull = Pull { start_speed: si(speed), charge_volume: si(0.0), car, inertia_factor };
        boost_time(si(boost_at(shaft_rpm)), &pull, &spool(area))
            .map_or(f64::INFINITY, |time| time.si())
    };
    for (seconds, measured) in [(1.0, 28_024.0), (2.0, 33_469.0), (3.0, 36_319.0)] {
        let (early, late) = (time_to(0.92 * measured, 1.0), time_to(1.08 * measured, 1.0));
        assert!(early < seconds && seconds < late, "{measured} rpm: {early:.2} to {late:.2} s");
        assert!(time_to(0.92 * measured, 5.0) > seconds, "{measured} rpm by a heavy rotor");
    }
}

/// Of an engine that boost can begin on.
fn any_spool() -> impl Strategy<Value = SpoolEngine> {
    let wheels = (0.9..1.15f64, 0.044..0.062f64);
    ((0.6..1.4f64, 300.0..480.0f64), wheels, (0.66..0.76f64, 0.62..0.72f64), 0.0..15e-6f64)
        .prop_map(|((volume, area), (turbine, compressor), (of_compressor, of_turbine), leak)| {
            let example = SpoolEngine::example();
            SpoolEngine {
                turbine_area: si(area * 1e-6 * volume),
                wheels: Wheels {
                    compressor_diameter: si(compressor * volume.cbrt()),
                    turbine_diameter: si(compressor * turbine * 0.93 * volume.cbrt()),
                },
                engine: Engine {
                    volume_per_turn: si(volume * 1e-3),
                    reference_flow: si(0.15 * volume),
                    leak_area: si(leak),
                    compressor_efficiency: of_compressor,
                    turbine_efficiency: of_turbine,
                    ..example.engine
                },
                ..example
            }
        })
}

/// Where boost begins, and where a pull reaches it, turns a second.
fn begins(boost: f64, spool: &SpoolEngine) -> Option<(f64, f64)> {
    let pull = Pull::example();
    let steady = threshold_speed(si(boost), spool).ok()?.si();
    Some((steady, speed_at_boost(si(boost), &pull, spool).ok()?.si()))
}

fn with(spool: &SpoolEngine, change: impl FnOnce(&mut SpoolEngine)) -> SpoolEngine {
    let mut changed = *spool;
    change(&mut changed);
    changed
}

proptest! {
    #![proptest_config(wide())]

    #[test]
    fn what_takes_gas_air_or_heat_makes_boost_later_on_any_engine(
        spool in any_spool(), boost in 15e3..60e3f64, size in 2e-6..20e-6f64,
    ) {
        let before = begins(boost, &spool);
        prop_assume!(before.is_some());
        let before = before.unwrap();
        let engine = spool.engine;
        let faults = [
            ("gate leak", with(&spool, |it| it.engine.leak_area = si(engine.leak_area.si() + size))),
            ("crack", with(&spool, |it| it.exhaust_leak = si(size))),
            ("charge leak", with(&spool, |it| it.charge_leak = si(size))),
            ("larger turbine", with(&spool, |it| it.turbine_area = si(1.05 * it.turbine_area.si()))),
            ("blocked exhaust", with(&spool, |it| it.engine.exhaust_drop = si(60e3))),
            ("cooler gas", with(&spool, |it| it.engine.turbine_inlet_temperature = si(1150.0))),
        ];
        for (fault, faulty) in faults {
            let after = begins(boost, &faulty);
            prop_assert!(
                after.is_none_or(|after| after.0 > before.0 && after.1 > before.1),
                "{fault}: {before:?} to {after:?}"
            );
        }
    }

    /// By the same pressure ratio the thin air of a height begins as early; by the same gauge reading,
    /// which is what people see, later.
    #[test]
    fn thin_air_makes_a_boost_on_the_gauge_later(spool in any_spool(), boost in 25e3..60e3f64) {
        let thin = with(&spool, |it| it.engine.ambient = si(84_556.0));
        let (low, high) = (begins(boost, &spool), begins(boost, &thin));
        prop_assume!(low.is_some() && high.is_some());
        prop_assert!(high.unwrap().0 > low.unwrap().0);
        prop_assert!(high.unwrap().1 > low.unwrap().1);
    }

    /// A higher gear gives the shaft more time for each turn of the engine; a heavy rotor takes it.
    #[test]
    fn a_higher_gear_reaches_boost_at_a_lower_speed_and_later(spool in any_spool(), boost in 20e3..60e3f64) {
        let reached = |ratio: f64, factor: f64| {
            let car = Car { gear_ratio: ratio, ..Car::example() };
            let pull = Pull { car, inertia_factor: factor, ..Pull::example() };
            let speed = speed_at_boost(si(boost), &pull, &spool).ok()?.si();
            Some((speed, boost_time(si(boost), &pull, &spool).ok()?.si()))
        };
        let (third, fourth, heavy) = (reached(1.4, 1.0), reached(1.0, 1.0), reached(1.4, 1.3));
        prop_assume!(third.is_some() && fourth.is_some() && heavy.is_some());
        let (third, fourth, heavy) = (third.unwrap(), fourth.unwrap(), heavy.unwrap());
        prop_assert!(fourth.0 < third.0 && fourth.1 > third.1);
        prop_assert!(heavy.0 > third.0 && heavy.1 > third.1);
    }

    #[test]
    fn the_boost_of_a_speed_is_the_boost_whose_speed_that_is(spool in any_spool(), boost in 5e3..60e3f64) {
        let speed = threshold_speed(si(boost), &spool);
        prop_assume!(speed.is_ok());
        let back = steady_boost(speed.unwrap(), &spool).unwrap().si();
        prop_assert!((back - boost).abs() < 1.0, "{back} Pa");
    }
}

/// A brake that drags costs seconds, and no turns: boost comes rather earlier in engine speed.
#[test]
fn what_holds_the_car_back_costs_time_and_not_engine_speed() {
    let spool = SpoolEngine::example();
    let free = Pull::example();
    let held = Pull { car: Car { dragging: si(600.0), ..free.car }, ..free };
    let reached = |pull| speed_at_boost(si(40e3), pull, &spool).unwrap().si();
    assert!(reached(&held) < reached(&free));
    let time =
        |pull: &Pull| pull_time(si(50e3), si(50.0), si(80.0), &pull.car, &spool).unwrap().si();
    assert!(time(&held) > 1.05 * time(&free));
    // A car that is quicker than the model has it is pushed, as it were.
    let quicker = si(0.9 * time(&free));
    let pushed = dragging_from(quicker, si(50e3), si(50.0), si(80.0), &free.car, &spool);
    assert!(pushed.unwrap().si() < 0.0);
    let waited = |pull| boost_time(si(40e3), pull, &spool).unwrap().si();
    assert!(waited(&held) > waited(&free));
}

#[test]
fn what_lies_out_of_range_is_refused_by_its_name() {
    let (spool, pull) = (SpoolEngine::example(), Pull::example());
    let name = |refused: boostwright::physics::Refusal| (refused.quantity, refused.reason);
    let no_boost = name(threshold_speed(si(0.0), &spool).unwrap_err());
    assert_eq!((no_boost.0, no_boost.1.contains("above 0")), ("boost", true));
    assert_eq!(name(threshold_speed(si(4.1e5), &spool).unwrap_err()).0, "boost");
    let huge = with(&spool, |it| it.exhaust_leak = si(1e-2));
    let never = name(threshold_speed(si(40e3), &huge).unwrap_err());
    assert!(never.0 == "boost" && never.1.contains("isn't reached"), "{never:?}");
    let tiny = with(&spool, |it| it.wheels.compressor_diameter = si(0.02));
    assert_eq!(name(threshold_speed(si(40e3), &tiny).unwrap_err()).0, "compressor_diameter");
    let eager = with(&spool, |it| {
        it.turbine_area = si(200e-6);
        it.engine.exhaust_drop = si(0.0);
        (it.engine.compressor_efficiency, it.engine.turbine_efficiency) = (0.84, 0.84);
    });
    let above = steady_boost(si(70.0), &eager).unwrap_err();
    assert_eq!(above.above, Some(4e5), "{above}");
    let weak = Pull { car: Car { mass: si(1e6), dragging: si(1e5), ..pull.car }, ..pull };
    let stuck = name(boost_time(si(80e3), &weak, &spool).unwrap_err());
    assert!(stuck.0 == "gear_ratio" && stuck.1.contains("too little pull"), "{stuck:?}");
    let light = Pull { inertia_factor: 0.05, ..pull };
    assert_eq!(name(boost_time(si(40e3), &light, &spool).unwrap_err()).0, "inertia_factor");
    let backwards = pull_time(si(5e4), si(60.0), si(50.0), &pull.car, &spool).unwrap_err();
    assert_eq!(backwards.quantity, "to_speed");
    let quick = dragging_from(si(0.1), si(5e4), si(50.0), si(80.0), &pull.car, &spool).unwrap_err();
    assert!(quick.quantity == "time" && quick.reason.contains("no such car"), "{quick}");
    assert_eq!(car_time(si(4e4), si(0.0), &pull.car, &spool).unwrap_err().quantity, "start_speed");
}

/// A band compares draws that hardly differ, so that the steps of the integration must not show: a leak
/// that grows by 1 mm² makes boost later by as much from each to the next.
#[test]
fn a_pull_changes_smoothly_with_a_leak() {
    let spool = SpoolEngine::example();
    let reached = |leak: f64| {
        let leaky = with(&spool, |it| it.engine.leak_area = si(leak * 1e-6));
        speed_at_boost(si(40e3), &Pull::example(), &leaky).unwrap().si() / RPM
    };
    let speeds: Vec<f64> = (0..=20).map(|leak| reached(f64::from(leak))).collect();
    let rises: Vec<f64> = speeds.windows(2).map(|pair| pair[1] - pair[0]).collect();
    for pair in rises.windows(2) {
        assert!(pair[0] > 2.0 && (pair[1] - pair[0]).abs() < 0.5, "{rises:.2?}");
    }
}

/// Functions that run a whole engine are drawn a thousand times for a band, so each is said to be slow.
#[test]
fn each_function_of_a_whole_engine_is_known_to_be_slow() {
    for name in ["threshold_speed", "steady_boost", "speed_at_boost", "boost_time", "car_time"] {
        assert!(find(name).unwrap().slow, "{name}");
    }
}
