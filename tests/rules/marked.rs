//! A fault inside a scalar is marked where the file writes it.

#[path = "../../src/rules/inside.rs"]
mod inside;

use inside::inside;

/// What is marked of `scalar`, when `inner` is at fault in its content `content`.
fn marked<'a>(scalar: &'a str, content: &str, inner: &str) -> &'a str {
    let at = content.find(inner).expect("inner stands in the content");
    &scalar[inside(scalar, &(0..scalar.len()), &(at..at + inner.len()))]
}

#[test]
fn a_formula_is_marked_at_the_spot_however_the_file_writes_it() {
    assert_eq!(marked("1 + nope", "1 + nope", "nope"), "nope");
    assert_eq!(marked("\"1 + nope\"", "1 + nope", "nope"), "nope");
    assert_eq!(marked("'a''s + nope'", "a's + nope", "nope"), "nope");
    assert_eq!(marked("1 +\n      nope - 2", "1 + nope - 2", "nope"), "nope");
    assert_eq!(marked("1 +\n      nope - 2", "1 + nope - 2", "1 + nope"), "1 +\n      nope");
}

#[test]
fn a_scalar_with_escapes_is_marked_whole() {
    assert_eq!(marked("\"1\\t+ nope\"", "1\t+ nope", "nope"), "\"1\\t+ nope\"");
}
