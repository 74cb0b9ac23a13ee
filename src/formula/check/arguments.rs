//! The arguments of a call brought into their places: by place, by name, or out of sets that the call
//! names.

use super::checked::owned;
use super::context::Context;
use super::names::{Meaning, nearest};
use crate::formula::syntax::Mistake;
use crate::formula::syntax::expression::{self, Expression, Form};
use crate::formula::syntax::fault::Span;
use crate::quantity::Kind;

/// What an argument must give.
#[derive(Clone, Copy)]
pub(super) enum Wanted {
    Any,
    Number,
    Truth,
    Kind(Kind),
}

/// An argument in its place, still to be checked.
pub(super) struct Argument<'a> {
    pub(super) tree: &'a Expression,
    pub(super) wanted: Wanted,
    /// The set it is taken from, where it isn't the call's own.
    pub(super) set: Option<&'a str>,
}

/// A call as it is written.
pub(super) struct Written<'a> {
    pub(super) name: &'a str,
    pub(super) arguments: &'a [expression::Argument],
    pub(super) span: &'a Span,
}

/// What is given at a place: the tree, and the set it is taken from.
type Given<'a> = (&'a Expression, Option<&'a str>);

/// A set of arguments that a call names.
struct Set<'a> {
    name: &'a str,
    span: &'a Span,
    values: &'a [(String, Expression)],
}

impl<'a> Written<'a> {
    /// Arguments brought into the order of `wanted`; faults for too many, too few, repeated, unknown.
    pub(super) fn placed(
        &self,
        context: &mut Context<'a>,
        wanted: &[(&str, Wanted)],
    ) -> Option<Vec<Argument<'a>>> {
        let places = self.places(context, self.arguments, wanted)?;
        self.complete(context, places, wanted)
    }

    /// The same where names of sets may stand among the arguments: what the call doesn't give itself
    /// is taken from the first of them that has it.
    pub(super) fn placed_with_sets(
        &self,
        context: &mut Context<'a>,
        wanted: &[(&str, Wanted)],
    ) -> Option<Vec<Argument<'a>>> {
        let (own, sets) = self.own_and_sets(context)?;
        let mut places = self.places(context, own, wanted)?;
        for Set { name, span, values } in sets {
            let mut takes = false;
            for (place, (wanted, _)) in places.iter_mut().zip(wanted) {
                if let Some((_, tree)) = values.iter().find(|(value, _)| value == wanted) {
                    takes = true;
                    place.get_or_insert((tree, Some(name)));
                }
            }
            if !takes {
                let (set, function) = (name.to_owned(), self.name.to_owned());
                return context.refuse(span, Mistake::IdleArguments { set, function });
            }
        }
        self.complete(context, places, wanted)
    }

    /// The arguments that the call gives itself, and the sets that it names. Nothing where one of
    /// them may be a set and is faulty itself: no call is said to miss what that holds.
    fn own_and_sets(
        &self,
        context: &mut Context<'a>,
    ) -> Option<(Vec<&'a expression::Argument>, Vec<Set<'a>>)> {
        let (mut own, mut sets) = (Vec::new(), Vec::new());
        for argument in self.arguments {
            let span = &argument.value.span;
            let name = match &argument.value.form {
                Form::Name(name) if argument.name.is_none() => name.as_str(),
                _ => {
                    own.push(argument);
                    continue;
                }
            };
            match context.meaning(name) {
                _ if context.is_parameter(name) => own.push(argument),
                Some(Meaning::Arguments { values }) => sets.push(Set { name, span, values }),
                Some(Meaning::Faulty) => return context.depends_on_error(),
                _ => own.push(argument),
            }
        }
        Some((own, sets))
    }

    /// What is given at each place; faults for too many, repeated, unknown.
    fn places(
        &self,
        context: &mut Context,
        arguments: impl IntoIterator<Item = &'a expression::Argument>,
        wanted: &[(&str, Wanted)],
    ) -> Option<Vec<Option<Given<'a>>>> {
        let names: Vec<&str> = wanted.iter().map(|(name, _)| *name).collect();
        let mut places: Vec<Option<Given<'a>>> = vec![None; wanted.len()];
        let (mut sound, mut by_place) = (true, 0);
        for argument in arguments {
            let (place, at) = match &argument.name {
                Some((word, at)) => (names.iter().position(|known| known == word), at),
                None => (Some(by_place), &argument.value.span),
            };
            by_place += usize::from(argument.name.is_none());
            let mistake = match place.map(|place| (place, places.get_mut(place))) {
                Some((_, Some(free @ None))) => {
                    *free = Some((&argument.value, None));
                    continue;
                }
                Some((place, Some(Some(_)))) => {
                    Mistake::GivenTwice { argument: names[place].to_owned() }
                }
                Some((_, None)) => {
                    let (function, wanted) = (self.name.to_owned(), owned(&names));
                    return context.refuse(at, Mistake::TooManyArguments { function, wanted });
                }
                None => self.unknown_argument(argument, &names),
            };
            context.refuse::<()>(at, mistake);
            sound = false;
        }
        sound.then_some(places)
    }

    /// The arguments at all places; a fault for what is missing.
    fn complete(
        &self,
        context: &mut Context,
        places: Vec<Option<Given<'a>>>,
        wanted: &[(&str, Wanted)],
    ) -> Option<Vec<Argument<'a>>> {
        let missing = places.iter().zip(wanted).filter(|(place, _)| place.is_none());
        let missing: Vec<String> = missing.map(|(_, (name, _))| (*name).to_owned()).collect();
        if !missing.is_empty() {
            let names: Vec<&str> = wanted.iter().map(|(name, _)| *name).collect();
            let (function, wanted) = (self.name.to_owned(), owned(&names));
            let mistake = Mistake::MissingArguments { function, missing, wanted };
            return context.refuse(self.span, mistake);
        }
        let given = places.into_iter().flatten().zip(wanted);
        Some(
            given
                .map(|((tree, set), (_, wanted))| Argument { tree, wanted: *wanted, set })
                .collect(),
        )
    }

    /// An argument whose name the function doesn't know.
    fn unknown_argument(&self, argument: &expression::Argument, wanted: &[&str]) -> Mistake {
        let word = argument.name.as_ref().map_or_else(String::new, |(word, _)| word.clone());
        let near = nearest(&word, wanted.iter().copied()).map(str::to_owned);
        let (function, wanted) = (self.name.to_owned(), owned(wanted));
        Mistake::UnknownArgument { function, word, near, wanted }
    }

    /// An argument of a function whose arguments have no names.
    pub(super) fn unnamed(
        &self,
        context: &mut Context,
        argument: &'a expression::Argument,
        wanted: Wanted,
    ) -> Option<Argument<'a>> {
        let Some((word, at)) = &argument.name else {
            return Some(Argument { tree: &argument.value, wanted, set: None });
        };
        let (function, word) = (self.name.to_owned(), word.clone());
        context.refuse(at, Mistake::NamedArgument { function, word })
    }
}
