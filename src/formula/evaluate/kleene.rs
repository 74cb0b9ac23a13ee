//! Three-valued logic: yes, no, and not known (Kleene, *Introduction to Metamathematics* (1952), §64,
//! the strong tables). "And" is decided by a no and "or" by a yes, whatever the other side is; what is
//! not known never turns into a no.

use super::error::EvalFailure;

/// A truth that may be unknown. The right side of a connective is only asked for where the left one
/// doesn't decide it.
///
/// ```
/// use boostwright::formula::{EvalError, Kleene};
///
/// let unknown: Result<bool, EvalError> = Err(EvalError::Unknown);
/// assert_eq!(unknown.clone().conjunction(|| Ok(false)), Ok(false));
/// assert_eq!(unknown.clone().disjunction(|| Ok(true)), Ok(true));
/// assert_eq!(unknown.clone().conjunction(|| Ok(true)), unknown);
/// ```
pub trait Kleene: Clone {
    #[must_use]
    fn negation(self) -> Self;

    #[must_use]
    fn conjunction(self, other: impl FnOnce() -> Self) -> Self;

    /// By De Morgan's law.
    #[must_use]
    fn disjunction(self, other: impl FnOnce() -> Self) -> Self {
        self.negation().conjunction(|| other().negation()).negation()
    }

    /// Whether both are the same.
    #[must_use]
    fn equivalence(self, other: impl FnOnce() -> Self) -> Self {
        let other = other();
        let both = self.clone().conjunction(|| other.clone());
        both.disjunction(|| self.negation().conjunction(|| other.negation()))
    }

    /// The branch that this decides for; where it is unknown, what both branches agree on.
    #[must_use]
    fn conditional(self, then: impl FnOnce() -> Self, otherwise: impl FnOnce() -> Self) -> Self {
        let (then, otherwise) = (then(), otherwise());
        let agreed = then.clone().conjunction(|| otherwise.clone());
        let taken = self.clone().conjunction(|| then);
        let not_taken = self.negation().conjunction(|| otherwise);
        taken.disjunction(|| not_taken).disjunction(|| agreed)
    }
}

/// The error of the left side stands where both sides have one.
impl<E: EvalFailure> Kleene for Result<bool, E> {
    fn negation(self) -> Self {
        self.map(|truth| !truth)
    }

    fn conjunction(self, other: impl FnOnce() -> Self) -> Self {
        if let Ok(false) = self {
            return self;
        }
        match other() {
            Ok(false) => Ok(false),
            right => self.and(right),
        }
    }

    /// A branch that isn't taken is not looked at.
    fn conditional(self, then: impl FnOnce() -> Self, otherwise: impl FnOnce() -> Self) -> Self {
        match self {
            Ok(true) => then(),
            Ok(false) => otherwise(),
            Err(error) => match (then(), otherwise()) {
                (Ok(a), Ok(b)) if a == b => Ok(a),
                _ => Err(error),
            },
        }
    }
}
