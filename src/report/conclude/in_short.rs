//! A formula cut to a length that says something at a glance.

/// Arguments that a call keeps.
const MOST_ARGUMENTS: usize = 3;

/// The formula with long lists of arguments cut: `turbine_area_from(boost = 0.8 bar, …, 17 more)`
/// keeps the first three. A short formula stays as it is.
pub(super) fn in_short(formula: &str) -> String {
    let mut short = String::new();
    // For each bracket that is open: how many commas it has seen.
    let mut open: Vec<usize> = Vec::new();
    let hidden = |open: &[usize]| open.iter().any(|commas| *commas >= MOST_ARGUMENTS);
    for letter in formula.chars() {
        match letter {
            '(' => {
                if !hidden(&open) {
                    short.push(letter);
                }
                open.push(0);
            }
            ')' => {
                let commas = open.pop().unwrap_or(0);
                if hidden(&open) {
                    continue;
                }
                if commas >= MOST_ARGUMENTS {
                    short.push_str(&format!(", … {} more", commas + 1 - MOST_ARGUMENTS));
                }
                short.push(letter);
            }
            ',' => {
                if let Some(commas) = open.last_mut() {
                    *commas += 1;
                }
                if !hidden(&open) {
                    short.push(letter);
                }
            }
            _ if hidden(&open) => {}
            _ => short.push(letter),
        }
    }
    short
}

#[cfg(test)]
mod tests {
    use super::in_short;

    #[test]
    fn a_call_keeps_its_first_three_arguments_and_counts_the_others() {
        assert_eq!(in_short("f(a, b = 2, c, d, g(1, 2), e) + 1"), "f(a, b = 2, c, … 3 more) + 1");
    }

    #[test]
    fn a_call_inside_another_is_cut_by_its_own_count() {
        assert_eq!(in_short("circle(area(a, b, c, d), 2)"), "circle(area(a, b, c, … 1 more), 2)");
    }

    #[test]
    fn what_is_short_stays_as_it_is() {
        for formula in ["(a + b) / c", "max(a, b, c)", "if x > 2 bar then 1 else 0", ")(,"] {
            assert_eq!(in_short(formula), formula);
        }
    }
}
