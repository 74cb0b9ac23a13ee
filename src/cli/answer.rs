//! `boostwright answer`: answers without prompts, for scripts and for those who know what they
//! measured. All of one command are taken, or none.

use super::arguments::{AnswerOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::given::answers;
use super::opening::{refused, rounds, say_warning};
use super::{output, packs};
use crate::formula::nearest;
use crate::interview::{Ranked, State, fold};
use crate::rules::{Level, Pack};
use crate::session::{Change, Session, SessionFile, Source, take};
use crate::text::Clean;

pub(super) fn run(options: &AnswerOptions, stack: &StackOptions) -> Result<Exit, Failure> {
    let pack = packs::sound(stack)?;
    let change = Change { given: answers(&options.answers)?, dropped: options.dropped.clone() };
    check_complaints(&options.complaints, pack)?;
    let file = match SessionFile::open(&options.session) {
        Ok(file) => go_on(file, options, &change, pack)?,
        Err(error) if error.is_missing() && !options.complaints.is_empty() => {
            begin(options, &change, pack)?
        }
        Err(error) if error.is_missing() => return Err(no_session(options, pack)),
        Err(error) => return Err(refused(&error)),
    };
    // What had to be left out was said when the file was opened.
    let taken = take(&file.session, &Source::none(""), pack)
        .map_err(|faults| Failure::new(Clean::join(&faults.draw(packs::colour()), "\n\n")))?;
    let state = fold(pack, &taken.rounds, None);
    tell(&state, options)
}

/// Changes a session that is there.
fn go_on(
    mut file: SessionFile,
    options: &AnswerOptions,
    change: &Change,
    pack: &Pack,
) -> Result<SessionFile, Failure> {
    rounds(&mut file, pack)?;
    let begun = file.session.rounds.first().map_or(&[][..], |first| &first.complaints);
    if !options.complaints.is_empty() && options.complaints != begun {
        return Err(Failure::new(format!(
            "{} was begun with {}: leave --complaint out, or name another file",
            options.session.display(),
            begun.join(", ")
        )));
    }
    let changed = make(change, &mut file.session, pack)?;
    file.save().map_err(|error| refused(&error))?;
    say_warning(&mut file);
    output::message(&changed);
    Ok(file)
}

fn begin(options: &AnswerOptions, change: &Change, pack: &Pack) -> Result<SessionFile, Failure> {
    let mut session = Session::start(pack, options.complaints.clone());
    let changed = make(change, &mut session, pack)?;
    let mut file =
        SessionFile::create(&options.session, session).map_err(|error| refused(&error))?;
    say_warning(&mut file);
    output::message(format!("{} begun.\n{changed}", options.session.display()).trim_end());
    Ok(file)
}

/// Makes the change and tells what was done, to be said once it is saved.
fn make(change: &Change, session: &mut Session, pack: &Pack) -> Result<String, Failure> {
    change
        .make(session, pack)
        .map(|changed| changed.0.join("\n"))
        .map_err(|refused| Failure::new(format!("{}\nNothing was changed.", refused.join("\n"))))
}

fn check_complaints(ids: &[String], pack: &Pack) -> Result<(), Failure> {
    for id in ids {
        if pack.complaints.find(id).is_none() {
            let way_out = match nearest(id, pack.complaints.ids()) {
                Some(near) => format!("did you mean {near}?"),
                None => known_complaints(pack),
            };
            return Err(Failure::new(format!("{id} is no complaint of these rules: {way_out}")));
        }
    }
    Ok(())
}

fn no_session(options: &AnswerOptions, pack: &Pack) -> Failure {
    Failure::new(format!(
        "{}: there is no such session. Look at the name, or begin one with --complaint ID ({}).",
        options.session.display(),
        known_complaints(pack)
    ))
}

fn known_complaints(pack: &Pack) -> String {
    let known: Vec<&str> = pack.complaints.ids().collect();
    format!("known are: {}", known.join(", "))
}

/// What has to be known now, on stderr; the next question in one line on stdout.
fn tell(state: &State<'_>, options: &AnswerOptions) -> Result<Exit, Failure> {
    let pack = state.pack;
    for caution in &state.danger.in_force {
        let caution = &pack.cautions[*caution];
        if caution.level == Level::Stop {
            output::message(format!("STOP: {}", caution.text));
        }
    }
    for setup in &state.in_place {
        output::message(format!("Put back first: {}", pack.setups[*setup].put_back));
    }
    for denied in state.denied() {
        let ids: Vec<&str> =
            denied.answers.iter().map(|question| pack.questions.id(*question)).collect();
        output::message(format!(
            "This denies the complaint ({}): {}. Look at it once more.",
            pack.complaints[denied.complaint].title,
            ids.join(", ")
        ));
    }
    if let Some(error) = state.internal_error() {
        return Err(Failure::new(error.to_string()));
    }
    let session = options.session.display();
    match state.walk.next {
        Some(next) => {
            let text = &pack.questions[next.question].text;
            output::result(Clean::line(format!("{}: {text}", pack.questions.id(next.question))))?;
        }
        None => output::message(format!(
            "Nothing is left to ask. `boostwright show {session}` gives the conclusion."
        )),
    }
    let Ranked::Contradiction(answers) = &state.ranked else { return Ok(Exit::Done) };
    let ids: Vec<&str> = answers.iter().map(|question| pack.questions.id(*question)).collect();
    output::message(format!(
        "These answers can't all be true: {}. Look at them again; `boostwright answer {session} \
         --drop ID` takes one back.",
        ids.join(", ")
    ));
    Ok(Exit::Failed)
}
