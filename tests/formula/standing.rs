//! Where a reading stands among those that a result lets one expect. Values by scipy 1.17.1: `norm.cdf`
//! summed over the values, and its roots by `brentq`.

use boostwright::formula::Standing;

const VALUES: [f64; 3] = [0.0, 1.0, 5.0];

#[test]
fn it_is_that_of_the_values_with_the_uncertainty_on_top() {
    for (reading, below) in [(0.3, 0.268_834_513_8), (1.7, 0.639_635_470_5), (5.9, 0.988_023_227_0)]
    {
        let standing = Standing::among(&VALUES, reading, 0.5).unwrap();
        assert!((standing.below - below).abs() < 1e-9, "{reading}: {}", standing.below);
        let tail = 2.0 * below.min(1.0 - below);
        assert!((standing.chance() - tail).abs() < 1e-9, "{reading}: {}", standing.chance());
        assert!((standing.low + 0.720_788_631_1).abs() < 1e-6, "{}", standing.low);
        assert!((standing.high - 5.719_765_735_4).abs() < 1e-6, "{}", standing.high);
    }
}

#[test]
fn right_on_a_value_known_exactly_is_no_surprise() {
    let on_it = Standing::among(&[2.0], 2.0, 0.0).unwrap();
    assert!((on_it.chance() - 1.0).abs() < 1e-12);
    assert!(Standing::among(&[2.0], 2.5, 0.0).unwrap().chance() < 1e-12);
}

#[test]
fn among_no_values_nothing_stands() {
    assert_eq!(Standing::among(&[], 1.0, 0.1), None);
}

#[test]
fn a_larger_uncertainty_makes_no_reading_less_likely() {
    let chances = [0.1, 0.3, 1.0, 3.0]
        .map(|uncertainty| Standing::among(&VALUES, 6.0, uncertainty).unwrap().chance());
    assert!(chances.windows(2).all(|pair| pair[0] < pair[1]), "{chances:?}");
}
