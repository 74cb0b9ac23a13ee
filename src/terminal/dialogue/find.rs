//! Finding by words: what a person types is held against texts, slips of the keys and endings forgiven.
//! A word that stands in few texts tells more than one that stands in many (inverse document frequency:
//! Spärck Jones, "A statistical interpretation of term specificity", 1972).

use strsim::normalized_damerau_levenshtein;

/// Less alike than this, two words have nothing to do with one another.
const ALIKE: f64 = 0.75;
/// A word that begins as another ends otherwise: leak and leaking.
const SAME_STEM: f64 = 0.9;
const SHORTEST_STEM: usize = 4;
/// Texts that match less than this share of the best one are left out.
const NEAR_THE_BEST: f64 = 0.5;

/// The texts that match what was typed, by place, the best first.
pub(in crate::terminal) fn matching(typed: &str, texts: &[String]) -> Vec<usize> {
    let texts: Vec<Vec<String>> = texts.iter().map(|text| words(text)).collect();
    let mut scores = vec![0.0; texts.len()];
    for word in words(typed) {
        let alike: Vec<f64> = texts.iter().map(|text| best(&word, text)).collect();
        #[expect(clippy::cast_precision_loss, reason = "a few hundred texts")]
        let (all, with) =
            (alike.len() as f64, alike.iter().filter(|alike| **alike > 0.0).count() as f64);
        let tells = (all / with.max(1.0)).ln() + f64::EPSILON;
        scores.iter_mut().zip(alike).for_each(|(score, alike)| *score += alike * tells);
    }
    let most = scores.iter().copied().fold(0.0, f64::max);
    let near = |place: &usize| scores[*place] > 0.0 && scores[*place] >= NEAR_THE_BEST * most;
    let mut found: Vec<usize> = (0..texts.len()).filter(near).collect();
    found.sort_by(|a, b| scores[*b].total_cmp(&scores[*a]));
    found
}

fn best(word: &str, text: &[String]) -> f64 {
    text.iter().map(|other| alike(word, other)).fold(0.0, f64::max)
}

/// How alike two words are, 0 to 1; 0 where they have nothing to do with one another.
fn alike(one: &str, other: &str) -> f64 {
    if one == other {
        return 1.0;
    }
    let shorter = one.chars().count().min(other.chars().count());
    if shorter >= SHORTEST_STEM && (one.starts_with(other) || other.starts_with(one)) {
        return SAME_STEM;
    }
    let alike = normalized_damerau_levenshtein(one, other);
    if shorter >= SHORTEST_STEM && alike >= ALIKE { SAME_STEM * alike } else { 0.0 }
}

fn words(text: &str) -> Vec<String> {
    let text = text.to_lowercase();
    let between = |letter: char| !letter.is_alphanumeric();
    text.split(between).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}
