//! What brought the person here: one complaint, or several.

use crate::rules::{ComplaintId, Pack};

use crate::terminal::screen::command::{AT_A_CHOICE, Command};
use crate::terminal::screen::menu::Menu;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::{Ended, Prompter};
use crate::terminal::screen::taken::Chosen;

/// Lets the complaints be chosen; none where the person stops here.
///
/// # Errors
/// [`Ended`] where the conversation can't go on.
pub fn choose_complaints(
    prompter: &mut dyn Prompter,
    pack: &Pack,
) -> Result<Option<Vec<ComplaintId>>, Ended> {
    let mut chosen: Vec<ComplaintId> = Vec::new();
    loop {
        let left: Vec<ComplaintId> =
            pack.complaints.indices().filter(|place| !chosen.contains(place)).collect();
        if left.is_empty() {
            return Ok(Some(chosen));
        }
        let none = "no, that's all".to_owned();
        let enough = (!chosen.is_empty()).then_some(none);
        let titles = left.iter().map(|place| pack.complaints[*place].title.clone());
        let texts: Vec<String> = enough.into_iter().chain(titles).collect();
        prompter.say(&question(chosen.is_empty()));
        match prompter.choose(&Menu::new(&texts, &AT_A_CHOICE))? {
            Chosen::Option(0) if !chosen.is_empty() => return Ok(Some(chosen)),
            Chosen::Option(index) => {
                let offset = usize::from(!chosen.is_empty());
                if let Some(complaint) = index.checked_sub(offset).and_then(|at| left.get(at)) {
                    prompter.say(&about(pack, *complaint));
                    chosen.push(*complaint);
                }
            }
            Chosen::Command(Command::Back) => {
                if chosen.pop().is_none() {
                    prompter.say(&Page::of(Voice::Trouble, "This is the first question."));
                }
            }
            Chosen::Command(Command::Stop) => return Ok(None),
            Chosen::Command(_) | Chosen::Text(_) | Chosen::Several(_) => prompter.say(&help(pack)),
        }
    }
}

fn question(first: bool) -> Page {
    let text = if first { "What is wrong with the boost?" } else { "Anything else?" };
    let mut page = Page::of(Voice::Question, text);
    if first {
        page.add(Voice::Quiet, "Type the number or use the arrow keys, then press Enter.");
    }
    page
}

fn about(pack: &Pack, complaint: ComplaintId) -> Page {
    Page::of(Voice::Plain, pack.complaints[complaint].about.as_deref().unwrap_or_default())
}

fn help(pack: &Pack) -> Page {
    let mut page = Page::of(Voice::Heading, "The complaints");
    for (_, complaint) in pack.complaints.iter() {
        let about = complaint.about.as_deref().unwrap_or_default();
        page.add(Voice::Plain, format!("{}. {about}", complaint.title));
    }
    for line in Command::explained(&AT_A_CHOICE) {
        page.add(Voice::Quiet, line);
    }
    page
}
