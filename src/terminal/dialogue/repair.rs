//! Which repair was done: those that the conclusion proposes come first.

use crate::interview::{State, Work, next_work};
use crate::rules::{Pack, RepairId};

use crate::terminal::dialogue::cautions::cautions;
use crate::terminal::screen::command::{AT_A_CHOICE, Command};
use crate::terminal::screen::menu::Menu;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::{Ended, Prompter};
use crate::terminal::screen::taken::Chosen;

/// So many are shown at once; more would scroll away.
const ON_ONE_SCREEN: usize = 9;
/// Where there are more, so many of the likeliest come first.
const MAX_PROPOSED: usize = 6;

/// Lets the repair that was done be chosen; none where the person stops here.
///
/// # Errors
/// [`Ended`] where the conversation can't go on.
pub fn choose_repair(
    prompter: &mut dyn Prompter,
    state: &State<'_>,
) -> Result<Option<RepairId>, Ended> {
    let pack = state.pack;
    let proposed = next_work(state).unwrap_or_else(|error| {
        prompter.say(&Page::of(Voice::Trouble, error.to_string()));
        Vec::new()
    });
    let repairs = in_order(pack, &proposed);
    if repairs.is_empty() {
        prompter.say(&Page::of(Voice::Trouble, "These rules hold no repairs."));
        return Ok(None);
    }
    let few = repairs.len() <= ON_ONE_SCREEN;
    let mut shown = if few { repairs.len() } else { MAX_PROPOSED };
    loop {
        prompter.say(&question());
        let titles = repairs.iter().take(shown).map(|repair| pack.repairs[*repair].title.as_str());
        let others = (shown < repairs.len()).then_some("another one (show them all)");
        match prompter.choose(&Menu::new(titles.chain(others), &AT_A_CHOICE))? {
            Chosen::Option(index) if index == shown => shown = repairs.len(),
            Chosen::Option(index) => {
                let chosen = repairs.get(index).copied();
                if let Some(repair) = chosen {
                    prompter.say(&done(pack, repair));
                }
                return Ok(chosen);
            }
            Chosen::Command(Command::Back) if !few && shown > MAX_PROPOSED => {
                shown = MAX_PROPOSED;
            }
            Chosen::Command(Command::Stop | Command::Back) => return Ok(None),
            Chosen::Command(_) | Chosen::Text(_) | Chosen::Several(_) => prompter.say(&help()),
        }
    }
}

fn question() -> Page {
    let mut page = Page::of(Voice::Question, "Which repair was done?");
    page.add(Voice::Quiet, "Those proposed in the conclusion come first.");
    page
}

fn help() -> Page {
    let mut page = Page::default();
    for line in Command::explained(&AT_A_CHOICE) {
        page.add(Voice::Quiet, line);
    }
    page.add(
        Voice::Quiet,
        "If two repairs were done at once, nobody can tell which one helped. Choose the first, \
         then run recheck again for the second.",
    );
    page
}

/// What comes after a repair: its cautions hold until it has proved itself.
fn done(pack: &Pack, repair: RepairId) -> Page {
    let mut page = Page::of(
        Voice::Plain,
        "Only what this repair may have changed, and what shows whether it helped, is asked again.",
    );
    page.extend(cautions(pack, &pack.repairs[repair].cautions));
    page
}

/// All repairs: those proposed first, in that order, the others as the pack has them.
fn in_order(pack: &Pack, proposed: &[Work]) -> Vec<RepairId> {
    let mut found: Vec<RepairId> = Vec::new();
    for repair in proposed.iter().filter_map(Work::repair).chain(pack.repairs.indices()) {
        if !found.contains(&repair) {
            found.push(repair);
        }
    }
    found
}
