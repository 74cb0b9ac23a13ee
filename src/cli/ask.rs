//! `boostwright ask`: the guided interview.

use super::arguments::{AskOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::interviewing::{Kept, finish, say_what_it_is, screen};
use super::opening::{rounds, say_warning};
use super::{output, packs};
use crate::formula::nearest;
use crate::interview::Round;
use crate::rules::{CarStateId, ComplaintId, Pack};
use crate::session::{Session, SessionFile, session_path};
use crate::terminal::{
    Ended, Finish, Page, Prompter, Scope, Screen, Talk, Voice, choose_complaints,
};

pub(super) fn run(options: &AskOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    let pack = packs::sound(stack)?;
    let car = options.car.as_deref().map(|id| car_state(pack, id)).transpose()?;
    let mut screen = screen()?;
    let path = session_path(options.session.as_deref());
    let mut file = match SessionFile::open(&path) {
        Ok(file) => {
            say_what_it_is(&mut screen, &file, pack);
            file
        }
        Err(error) if error.is_missing() => {
            // Nobody is asked what can't be kept.
            SessionFile::could_begin(&path).map_err(Failure::Session)?;
            match begin(&mut screen, pack)? {
                Begun::With(session) => {
                    SessionFile::create(&path, session).map_err(Failure::Session)?
                }
                Begun::Left(exit) => return Ok(exit),
            }
        }
        Err(error) => return Err(Failure::Session(error)),
    };
    say_warning(&mut file);
    let mut rounds = rounds(&mut file, pack)?;
    let repair = rounds.last().and_then(|round| round.repair);
    let (outcome, state) = loop {
        let mut kept = Kept::in_file(&mut file);
        let mut talk =
            Talk::new(pack, rounds, Scope::Everything, &mut screen, &mut kept).only_in(car);
        let outcome = talk.run();
        let state = talk.fold();
        rounds = talk.rounds();
        if outcome != Ok(Finish::ToComplaint) {
            break (outcome, state);
        }
        match choose_complaints(&mut screen, pack) {
            Ok(Some(chosen)) => complain_of(pack, &mut file, &mut rounds, chosen)?,
            Ok(None) => break (Ok(Finish::Stopped), state),
            Err(ended) => break (Err(ended), state),
        }
    };
    if let (Ok(Finish::Done), Some(car)) = (outcome, car) {
        screen.say(&nothing_more(pack, car));
    }
    finish(outcome, &mut screen, &mut file, &state, repair)
}

/// With `--car` the end is only the end of what can be answered there.
fn nothing_more(pack: &Pack, car: CarStateId) -> Page {
    let title = &pack.car_states[car].title;
    Page::of(Voice::Task, format!("Nothing more can be answered with the car {title}."))
}

/// The complaints are said anew. What was answered is about the car, and stays.
fn complain_of(
    pack: &Pack,
    file: &mut SessionFile,
    rounds: &mut [Round],
    chosen: Vec<ComplaintId>,
) -> Result<(), Failure> {
    file.session.complain_of(pack.complaints.ids_at(&chosen));
    file.save().map_err(Failure::Session)?;
    if let Some(first) = rounds.first_mut() {
        first.complaints = chosen;
    }
    Ok(())
}

enum Begun {
    With(Session),
    Left(Exit),
}

/// A new session starts with what brought the person here.
fn begin(screen: &mut Screen, pack: &Pack) -> Result<Begun, Failure> {
    if pack.complaints.is_empty() {
        return Err(Failure::NoComplaints);
    }
    Ok(match choose_complaints(screen, pack) {
        Ok(Some(chosen)) => Begun::With(Session::start(pack, pack.complaints.ids_at(&chosen))),
        Ok(None) => {
            output::message("No session was started.");
            Begun::Left(Exit::Done)
        }
        Err(Ended::Interrupted | Ended::Gone) => {
            output::message("");
            Begun::Left(Exit::Interrupted)
        }
    })
}

fn car_state(pack: &Pack, id: &str) -> Result<CarStateId, Failure> {
    pack.car_states.find(id).ok_or_else(|| {
        let near = nearest(id, pack.car_states.ids()).map(str::to_owned);
        let known = pack.car_states.ids().map(str::to_owned).collect();
        Failure::UnknownCarState { id: id.to_owned(), near, known }
    })
}
