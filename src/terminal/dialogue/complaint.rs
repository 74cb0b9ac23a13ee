//! What brought the person here: one complaint, or several, from one list with fixed numbers.

use indexmap::IndexMap;

use crate::rules::{ComplaintId, Pack};

use crate::terminal::dialogue::find::matching;
use crate::terminal::screen::command::{AT_A_CHOICE, Command};
use crate::terminal::screen::menu::Menu;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::{Ended, Prompter};
use crate::terminal::screen::taken::Chosen;

/// Lets the complaints be chosen, in the order of the numbers typed; none where the person stops here.
///
/// # Errors
/// [`Ended`] where the conversation can't go on.
pub fn choose_complaints(
    prompter: &mut dyn Prompter,
    pack: &Pack,
) -> Result<Option<Vec<ComplaintId>>, Ended> {
    let listed = listed(pack);
    let titles = listed.iter().map(|(_, own)| &pack.complaints[*own].title);
    let menu = Menu::new(titles, &AT_A_CHOICE).taking_several(None).taking_text();
    let menu = menu.under(listed.iter().map(|(group, _)| group.clone()));
    prompter.say(&question());
    let mut shown = menu.clone();
    loop {
        match prompter.choose(&shown)? {
            Chosen::Several(taken) if !taken.is_empty() => {
                let chosen: Vec<ComplaintId> =
                    taken.iter().filter_map(|at| Some(listed.get(*at)?.1)).collect();
                chosen.iter().for_each(|complaint| prompter.say(&about(pack, *complaint)));
                return Ok(Some(chosen));
            }
            Chosen::Text(words) => match found(pack, &listed, &words) {
                found if found.is_empty() => {
                    prompter.say(&nothing_found(&words));
                    // Said above the whole list, it would have left the screen at once.
                    shown = menu.clone().listing(Vec::new());
                }
                found => {
                    prompter.say(&Page::of(Voice::Question, format!("\"{words}\" may be:")));
                    shown = menu.clone().listing(found);
                }
            },
            // Back from what was found to the whole list.
            Chosen::Command(Command::Back) if shown.listed.is_some() => shown = menu.clone(),
            Chosen::Command(Command::Back) => {
                prompter.say(&Page::of(Voice::Trouble, "This is the first question."));
            }
            Chosen::Command(Command::Stop) => return Ok(None),
            Chosen::Command(_) | Chosen::Option(_) => prompter.say(&help(pack, &listed)),
            Chosen::Several(_) => {
                let one = "At least one is needed. If nothing fits, choose what comes nearest.";
                prompter.say(&Page::of(Voice::Trouble, one));
                shown = menu.clone().listing(Vec::new());
            }
        }
    }
}

type Listed = Vec<(Option<String>, ComplaintId)>;

/// The complaints by their groups, in each and among the groups the commonest first.
fn listed(pack: &Pack) -> Listed {
    let common = |own: &ComplaintId| pack.complaints[*own].common;
    let mut groups: IndexMap<Option<String>, Vec<ComplaintId>> = IndexMap::new();
    for (place, complaint) in pack.complaints.iter() {
        groups.entry(complaint.group.clone()).or_default().push(place);
    }
    groups.values_mut().for_each(|own| own.sort_by(|a, b| common(b).total_cmp(&common(a))));
    let all = |own: &Vec<ComplaintId>| own.iter().map(common).sum::<f64>();
    groups.sort_by(|_, a, _, b| all(b).total_cmp(&all(a)));
    let flat = |(group, own): (Option<String>, Vec<ComplaintId>)| {
        own.into_iter().map(move |complaint| (group.clone(), complaint))
    };
    groups.into_iter().flat_map(flat).collect()
}

fn question() -> Page {
    let mut page = Page::of(Voice::Question, "What is wrong with the boost?");
    page.add(
        Voice::Quiet,
        "Type the number, or several: 1 3, the one that matters most first. Or type a word, such as \
         whistle, and see what it may be.",
    );
    page
}

fn nothing_found(words: &str) -> Page {
    let text = format!(
        "Nothing matches \"{words}\". Type another word or a number, or b to see the list again."
    );
    Page::of(Voice::Trouble, text)
}

/// What the words typed may mean, by places in the list.
fn found(pack: &Pack, listed: &Listed, words: &str) -> Vec<usize> {
    let texts: Vec<String> = listed
        .iter()
        .map(|(_, own)| {
            let complaint = &pack.complaints[*own];
            format!("{} {}", complaint.title, complaint.also.join(" "))
        })
        .collect();
    matching(words, &texts)
}

fn about(pack: &Pack, complaint: ComplaintId) -> Page {
    Page::of(Voice::Plain, pack.complaints[complaint].about.as_deref().unwrap_or_default())
}

fn help(pack: &Pack, listed: &Listed) -> Page {
    let mut page = Page::of(Voice::Heading, "The complaints");
    for complaint in listed.iter().map(|(_, own)| &pack.complaints[*own]) {
        let about = complaint.about.as_deref().unwrap_or_default();
        page.add(Voice::Plain, format!("{}. {about}", complaint.title));
    }
    for line in Command::explained(&AT_A_CHOICE) {
        page.add(Voice::Quiet, line);
    }
    page
}
