//! The sheet as text for a printer, with its boxes: every open question, in working order.

use super::doubles::without_doubles;
use super::kit::kit;
use super::plan::{CarPart, Plan, Stretch, number_of, was_put_off};
use crate::interview::State;
use crate::quantity::{Unit, print_value, readable_unit};
use crate::rules::{AnswerForm, Measure, Pack, QuestionId};
use crate::text::{Clean, columns, spaced, wrapped};

/// Room for one value.
pub(super) const BLANK: &str = "____________";
/// Rows of a table to fill in.
const BLANK_ROWS: usize = 8;
/// What stands before a thing to tick.
pub(super) const BOX: &str = "[ ]";

/// The sheet in lines of at most `width` columns. `name` is the session's, `car` what the person
/// calls the car.
#[must_use]
pub fn sheet_text(
    state: &State<'_>,
    plan: &Plan,
    (name, car): (&str, Option<&str>),
    width: usize,
) -> Clean {
    let mut sheet = Sheet::begin(state, plan, width);
    sheet.head(name, car);
    sheet.stops();
    if plan.parts.is_empty() {
        sheet.nothing_left();
    } else {
        sheet.kit(&without_doubles(kit(plan, state.pack)));
        for part in &plan.parts {
            sheet.part(part);
        }
        sheet.foot(name);
    }
    Clean::new(sheet.lines.join("\n") + "\n")
}

/// A sheet being drawn.
pub(super) struct Sheet<'a, 'p> {
    pub(super) state: &'a State<'p>,
    pub(super) pack: &'p Pack,
    pub(super) plan: &'a Plan,
    width: usize,
    pub(super) lines: Vec<Clean>,
}

impl<'a, 'p> Sheet<'a, 'p> {
    /// One with nothing on it yet.
    pub(super) fn begin(state: &'a State<'p>, plan: &'a Plan, width: usize) -> Self {
        Self { state, pack: state.pack, plan, width: width.max(40), lines: Vec::new() }
    }
}

impl Sheet<'_, '_> {
    pub(super) fn line(&mut self, text: &str) {
        self.lines.push(text.into());
    }

    /// A paragraph behind a mark, its further lines under the text.
    pub(super) fn paragraph(&mut self, mark: &str, text: &str) {
        self.lines.extend(wrapped(text, self.width, &mark.into(), columns(mark)));
    }

    pub(super) fn head(&mut self, name: &str, car: Option<&str>) {
        let complaints = self.state.complaints.iter();
        let titles = complaints
            .map(|complaint| Clean::line(&self.pack.complaints[*complaint].title).to_string());
        let titles = titles.collect::<Vec<String>>().join(" / ");
        self.paragraph("", &format!("{titles}: round {}", self.state.round));
        self.paragraph("Session: ", name);
        if let Some(car) = car {
            self.paragraph("Car:     ", car);
        }
        self.line("");
        self.line(&format!("Date {BLANK}   By {BLANK}"));
    }

    /// What is forbidden for now, before all else.
    pub(super) fn stops(&mut self) {
        for caution in &self.state.danger.in_force {
            let caution = &self.pack.cautions[*caution];
            self.line("");
            self.paragraph(
                &format!("{}: ", caution.level.to_string().to_uppercase()),
                &caution.text,
            );
        }
    }

    pub(super) fn nothing_left(&mut self) {
        self.line("");
        self.paragraph("", "There is nothing left to check.");
    }

    pub(super) fn kit(&mut self, kit: &[String]) {
        if kit.is_empty() {
            return;
        }
        self.title("Kit");
        for tool in kit {
            self.paragraph(&format!("  {BOX} "), tool);
        }
    }

    pub(super) fn title(&mut self, text: &str) {
        self.line("");
        self.line(&"=".repeat(self.width));
        self.paragraph("", &text.to_uppercase());
    }

    pub(super) fn part(&mut self, part: &CarPart) {
        let minutes = part.minutes(self.pack);
        match part.car.map(|car| &self.pack.car_states[car]) {
            None => self.title(&format!("Wherever the car is (about {minutes:.0} min)")),
            Some(car) => {
                self.title(&format!("{} (about {minutes:.0} min)", car.title));
                if let Some(how) = &car.how {
                    self.paragraph("  ", how);
                }
            }
        }
        for caution in part.cautions(self.pack) {
            let caution = &self.pack.cautions[caution];
            self.paragraph(
                &format!("  {}: ", caution.level.to_string().to_uppercase()),
                &caution.text,
            );
        }
        for stretch in &part.stretches {
            self.stretch(stretch);
        }
    }

    fn stretch(&mut self, stretch: &Stretch) {
        let setup = stretch.setup.map(|setup| &self.pack.setups[setup]);
        if let Some(setup) = setup {
            self.line("");
            self.paragraph(&format!("  {BOX} SET UP: "), &setup.title);
            if let Some(how) = &setup.how {
                self.paragraph("      ", how);
            }
        }
        for question in &stretch.questions {
            self.question(*question);
        }
        if let Some(setup) = setup {
            self.line("");
            self.paragraph(&format!("  {BOX} PUT BACK: "), &setup.put_back);
        }
    }

    fn question(&mut self, place: QuestionId) {
        let pack = self.pack;
        let question = &pack.questions[place];
        let number = number_of(self.plan, place).unwrap_or_default();
        self.line("");
        self.paragraph(&format!("{number:>3}. "), &question.text);
        self.paragraph(
            "     ",
            &format!("({}, {:.0} min)", pack.questions.id(place), question.minutes),
        );
        if was_put_off(self.state, place) {
            self.paragraph("     ", "Left for later before.");
        }
        let wanted: Vec<String> =
            question.not_before.iter().filter_map(|before| self.before(*before)).collect();
        for before in wanted {
            self.paragraph("     ", &before);
        }
        if let Some(how) = &question.how {
            self.paragraph("     How: ", how);
        }
        let care: Vec<String> =
            question.cautions.iter().map(|caution| spaced(pack.cautions.id(*caution))).collect();
        let details = [("Tools", question.tools.join(", ")), ("Cautions", care.join(", "))];
        for (name, text) in details.iter().filter(|(_, text)| !text.is_empty()) {
            self.paragraph(&format!("     {name}: "), text);
        }
        if let Some(normal) = &question.normal {
            self.paragraph("     Normal: ", normal);
        }
        self.line("");
        self.room(place);
    }

    /// What has to be known first, where it is on this sheet.
    fn before(&self, before: QuestionId) -> Option<String> {
        let number = number_of(self.plan, before)?;
        Some(match self.pack.questions[before].answer {
            AnswerForm::YesOrNo => format!("Only if {number} is yes."),
            _ => format!("Only after {number}."),
        })
    }

    fn room(&mut self, place: QuestionId) {
        let questions = &self.pack.questions;
        let question = &questions[place];
        let cant_say = ticked("can't say");
        match &question.answer {
            AnswerForm::YesOrNo => {
                let ticks = [ticked("yes"), ticked("no"), cant_say];
                self.paragraph("     ", &ticks.join("     "));
            }
            AnswerForm::Choose(options) => {
                for (id, text) in options {
                    self.paragraph(&format!("     {BOX} "), &format!("{text} ({id})"));
                }
                self.paragraph("     ", &cant_say);
            }
            AnswerForm::AnyOf(options) => {
                self.paragraph("     ", "Tick all that are true:");
                for option in options {
                    let (id, text) = (questions.id(*option), &questions[*option].text);
                    self.paragraph(&format!("     {BOX} "), &format!("{text} ({id})"));
                }
                let ticks = [ticked("none of these (none)"), cant_say];
                self.paragraph("     ", &ticks.join("     "));
            }
            AnswerForm::Measure(measure) => {
                if let Some(range) = plausible(measure) {
                    self.paragraph("     Plausible: ", &range);
                }
                let readings = readings(question.repeats, &measure.unit);
                self.paragraph("     ", &format!("{readings}     {cant_say}"));
            }
            AnswerForm::Table(columns) => {
                let heads: Vec<String> = columns
                    .iter()
                    .map(|(column, kind)| format!("{} in {}", spaced(column), readable_unit(*kind)))
                    .collect();
                self.paragraph("     ", &heads.join("   |   "));
                for row in 1..=BLANK_ROWS {
                    self.line(&format!("     {row:>2}  {BLANK}   |   {BLANK}"));
                }
                self.paragraph("     ", &cant_say);
            }
        }
    }

    pub(super) fn foot(&mut self, name: &str) {
        self.title("Afterwards");
        let cars = self.plan.parts.iter().flat_map(|part| &part.stretches);
        if cars.into_iter().any(|stretch| stretch.setup.is_some()) {
            self.paragraph(&format!("  {BOX} "), "Everything that was set up has been put back.");
        }
        let text = format!(
            "Type the answers in with `boostwright ask {name}`, or directly with `boostwright \
             answer {name} id=value`; the ids are in brackets. Put ; between several readings. \
             Leave out what you did not check."
        );
        self.paragraph("  ", &text);
    }
}

/// A box and its word, held together.
fn ticked(word: &str) -> String {
    format!("{BOX} {word}").replace(' ', "\u{a0}")
}

/// Room for one reading, or for each of several.
fn readings(repeats: usize, unit: &Unit) -> String {
    let unit = if unit.is_one() { String::new() } else { format!("\u{a0}{unit}") };
    if repeats < 2 {
        return format!("{BLANK}{unit}");
    }
    let blanks: Vec<String> =
        (1..=repeats).map(|number| format!("{number}:\u{a0}{BLANK}{unit}")).collect();
    blanks.join("   ")
}

/// What a reading may plausibly be, and what is assumed where nobody measures.
fn plausible(measure: &Measure) -> Option<String> {
    let assumed = measure.typical.map(|(value, uncertainty)| {
        let typical = print_value(value, uncertainty, &measure.unit, measure.kind);
        format!("{typical} is assumed if not measured")
    });
    let parts: Vec<String> = measure.range().into_iter().chain(assumed).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}
