//! The arguments of a call brought into the order in which its function takes them, by place, by name
//! or out of sets.

use super::checker::{Checker, owned};
use super::names::{Meaning, nearest};
use crate::formula::syntax::Mistake;
use crate::formula::syntax::expression::{Argument, Expression, Form};
use crate::formula::syntax::fault::Span;

/// Arguments brought into the order of `wanted`; faults for too many, too few, repeated, unknown.
pub(super) fn arranged<'a>(
    checker: &mut Checker<'a>,
    name: &str,
    wanted: &[&str],
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Vec<&'a Expression>> {
    let places = placed(checker, name, wanted, arguments)?;
    complete(checker, name, wanted, places, span)
}

/// One argument of a call, and the set it is taken from where it isn't the call's own.
pub(super) struct Given<'a> {
    pub(super) tree: &'a Expression,
    pub(super) set: Option<&'a str>,
}

/// The same as [`arranged`], where names of sets may stand among the arguments: what the call doesn't
/// give itself is taken from the first of them that has it.
pub(super) fn arranged_with_sets<'a>(
    checker: &mut Checker<'a>,
    name: &str,
    wanted: &[&str],
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Vec<Given<'a>>> {
    let (mut own, mut sets) = (Vec::new(), Vec::new());
    for argument in arguments {
        match named_set(checker, argument) {
            None => own.push(argument),
            Some(Meaning::Arguments { values }) => sets.push((argument, values)),
            Some(_) => return checker.depends_on_error(),
        }
    }
    let places = placed(checker, name, wanted, own)?;
    let own = |tree| Given { tree, set: None };
    let mut places: Vec<Option<Given<'a>>> =
        places.into_iter().map(|place| place.map(own)).collect();
    for (argument, values) in sets {
        let Form::Name(set) = &argument.value.form else { continue };
        let mut takes = false;
        for (place, wanted) in places.iter_mut().zip(wanted) {
            if let Some((_, tree)) = values.iter().find(|(value, _)| value == wanted) {
                takes = true;
                place.get_or_insert(Given { tree, set: Some(set) });
            }
        }
        if !takes {
            let (set, function) = (set.clone(), name.to_owned());
            return checker.refuse(&argument.value.span, Mistake::IdleArguments { set, function });
        }
    }
    complete(checker, name, wanted, places, span)
}

/// The set that an argument names, if it names one; or that it names what is faulty itself.
fn named_set<'a>(checker: &Checker<'a>, argument: &'a Argument) -> Option<Meaning<'a>> {
    let Form::Name(name) = &argument.value.form else { return None };
    if argument.name.is_some() || checker.is_parameter(name) {
        return None;
    }
    let names = checker.names;
    names
        .find(name)
        .filter(|meaning| matches!(meaning, Meaning::Arguments { .. } | Meaning::Faulty))
}

/// Arguments at their places; faults for too many, repeated, unknown.
fn placed<'a>(
    checker: &mut Checker<'a>,
    name: &str,
    wanted: &[&str],
    arguments: impl IntoIterator<Item = &'a Argument>,
) -> Option<Vec<Option<&'a Expression>>> {
    let mut places: Vec<Option<&'a Expression>> = vec![None; wanted.len()];
    let (mut sound, mut by_place) = (true, 0);
    for argument in arguments {
        let (place, at) = match &argument.name {
            Some((word, at)) => (wanted.iter().position(|known| known == word), at),
            None => (Some(by_place), &argument.value.span),
        };
        by_place += usize::from(argument.name.is_none());
        let mistake = match place.map(|place| (place, places.get_mut(place))) {
            Some((_, Some(free @ None))) => {
                *free = Some(&argument.value);
                continue;
            }
            Some((place, Some(Some(_)))) => {
                Mistake::GivenTwice { argument: wanted[place].to_owned() }
            }
            Some((_, None)) => {
                let (function, wanted) = (name.to_owned(), owned(wanted));
                return checker.refuse(at, Mistake::TooManyArguments { function, wanted });
            }
            None => unknown_argument(name, argument, wanted),
        };
        checker.refuse::<()>(at, mistake);
        sound = false;
    }
    sound.then_some(places)
}

/// The arguments at all places; a fault for what is missing.
fn complete<T>(
    checker: &mut Checker<'_>,
    name: &str,
    wanted: &[&str],
    places: Vec<Option<T>>,
    span: &Span,
) -> Option<Vec<T>> {
    let missing = places.iter().zip(wanted).filter(|(place, _)| place.is_none());
    let missing: Vec<String> = missing.map(|(_, name)| (*name).to_owned()).collect();
    if missing.is_empty() {
        return Some(places.into_iter().flatten().collect());
    }
    let (function, wanted) = (name.to_owned(), owned(wanted));
    checker.refuse(span, Mistake::MissingArguments { function, missing, wanted })
}

/// An argument whose name the function doesn't know.
fn unknown_argument(name: &str, argument: &Argument, wanted: &[&str]) -> Mistake {
    let word = argument.name.as_ref().map_or_else(String::new, |(word, _)| word.clone());
    let near = nearest(&word, wanted.iter().copied()).map(str::to_owned);
    Mistake::UnknownArgument { function: name.to_owned(), word, near, wanted: owned(wanted) }
}
