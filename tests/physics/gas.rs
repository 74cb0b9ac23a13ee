//! Burned petrol gas: the values that a check of the tables goes by, and its edges. Columns of other
//! libraries stand in `reference`.

use boostwright::physics::burned::{
    burned_gas_constant, burned_gas_gamma, burned_gas_heat_capacity,
};
use boostwright::quantity::Quantity;
use proptest::prelude::{prop_assert, proptest};

use super::{near, si, wide};

#[test]
fn burned_gas_at_lambda_1_and_1100_kelvin_is_that_of_the_nasa_polynomials() {
    let source = "NASA polynomials, iso-octane in dry air, λ 1, 1100 K";
    near(source, burned_gas_heat_capacity(1.0, si(1100.0)).unwrap().si(), 1295.0, 3.0);
    near(source, burned_gas_gamma(1.0, si(1100.0)).unwrap(), 1.288, 0.001);
    near(source, burned_gas_constant(1.0).unwrap().si(), 289.6, 0.2);
}

#[test]
fn burned_gas_over_the_mixtures_is_that_of_the_nasa_polynomials() {
    let source = "NASA polynomials, iso-octane in dry air, 900, 1100 and 1300 K";
    // Equivalence ratio; gas constant; heat capacities; gammas. To 0.3 %: sets of polynomials differ
    // by that, mostly in the water.
    let printed = [
        (0.9, 289.3, [1233.0, 1281.0, 1321.0], [1.307, 1.292, 1.280]),
        (1.0, 289.7, [1244.0, 1294.0, 1335.0], [1.303, 1.288, 1.277]),
        (1.1, 295.4, [1255.0, 1305.0, 1347.0], [1.308, 1.293, 1.281]),
        (1.2, 301.2, [1267.0, 1317.0, 1358.0], [1.312, 1.297, 1.285]),
    ];
    for (ratio, constant, heats, gammas) in printed {
        let lambda = 1.0 / ratio;
        near(source, burned_gas_constant(lambda).unwrap().si(), constant, 0.15);
        for ((temperature, heat), gamma) in
            [900.0, 1100.0, 1300.0].into_iter().zip(heats).zip(gammas)
        {
            let found = burned_gas_heat_capacity(lambda, si(temperature)).unwrap().si();
            near(source, found, heat, 0.003 * heat);
            near(source, burned_gas_gamma(lambda, si(temperature)).unwrap(), gamma, 0.0015);
        }
    }
}

proptest! {
    #![proptest_config(wide())]

    #[test]
    fn heat_capacity_less_gas_constant_is_what_gamma_says(
        lambda in 0.8..1.15f64,
        temperature in 300.0..1500.0f64,
    ) {
        let heat = burned_gas_heat_capacity(lambda, si(temperature)).unwrap().si();
        let gamma = burned_gas_gamma(lambda, si(temperature)).unwrap();
        let constant = burned_gas_constant(lambda).unwrap().si();
        prop_assert!((heat - constant - heat / gamma).abs() < 1e-9 * heat);
    }

    /// A derivative that jumps would upset the propagation of uncertainty.
    #[test]
    fn properties_run_through_lambda_1_without_a_jump(step in 1e-6..1e-4f64) {
        let rich = burned_gas_constant(1.0 - step).unwrap().si();
        let lean = burned_gas_constant(1.0 + step).unwrap().si();
        prop_assert!((rich - lean).abs() < 200.0 * step);
    }
}
