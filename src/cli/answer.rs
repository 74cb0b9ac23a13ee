//! `boostwright answer`: answers without prompts, for scripts and for those who know what they
//! measured. All of one command are taken, or none.

use super::arguments::{AnswerOptions, StackOptions};
use super::exit::{Exit, Failure};
use super::given::answers;
use super::opening::{rounds, say_warning};
use super::{output, packs};
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
        Err(error) => return Err(Failure::Session(error)),
    };
    // What had to be left out was said when the file was opened.
    let taken = take(&file.session, &Source::none(""), pack)
        .map_err(|faults| Failure::NotTaken { path: options.session.clone(), faults })?;
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
        let (path, begun) = (options.session.clone(), begun.to_vec());
        return Err(Failure::OtherComplaint { path, begun });
    }
    let changed = make(change, &mut file.session, pack)?;
    file.save().map_err(Failure::Session)?;
    say_warning(&mut file);
    output::message(&changed);
    Ok(file)
}

fn begin(options: &AnswerOptions, change: &Change, pack: &Pack) -> Result<SessionFile, Failure> {
    let mut session = Session::start(pack, options.complaints.clone());
    let changed = make(change, &mut session, pack)?;
    let mut file = SessionFile::create(&options.session, session).map_err(Failure::Session)?;
    say_warning(&mut file);
    output::message(format!("{} started.\n{changed}", options.session.display()).trim_end());
    Ok(file)
}

/// Makes the change and tells what was done, to be said once it is saved.
fn make(change: &Change, session: &mut Session, pack: &Pack) -> Result<String, Failure> {
    let done = change.make(session, pack).map_err(Failure::NotChanged)?;
    Ok(done.iter().map(ToString::to_string).collect::<Vec<String>>().join("\n"))
}

fn check_complaints(ids: &[String], pack: &Pack) -> Result<(), Failure> {
    for id in ids {
        if pack.complaints.find(id).is_none() {
            return Err(Failure::unknown_complaint(id, pack));
        }
    }
    Ok(())
}

fn no_session(options: &AnswerOptions, pack: &Pack) -> Failure {
    let complaints = pack.complaints.ids().map(str::to_owned).collect();
    Failure::NoSession { path: options.session.clone(), complaints }
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
        output::message(format!(
            "This contradicts the complaint ({}): {}. Check it again.",
            pack.complaints[denied.complaint].title,
            pack.questions.ids_at(&denied.answers).join(", ")
        ));
    }
    if let Some(error) = state.internal_error() {
        return Err(Failure::Inference(error.to_string()));
    }
    let session = options.session.display();
    match state.walk.next {
        Some(next) => {
            let text = &pack.questions[next.question].text;
            output::result(Clean::line(format!("{}: {text}", pack.questions.id(next.question))))?;
        }
        None => output::message(format!(
            "No questions are left. `boostwright show {session}` gives the conclusion."
        )),
    }
    let Ranked::Contradiction(answers) = &state.ranked else { return Ok(Exit::Done) };
    output::message(format!(
        "These answers can't all be true: {}. Check them again; `boostwright answer {session} \
         --drop ID` takes one back.",
        pack.questions.ids_at(answers).join(", ")
    ));
    Ok(Exit::Failed)
}
