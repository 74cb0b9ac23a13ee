//! The conclusion as text for a terminal or a printer, in the order a person needs it: what not to
//! do, what is wrong, what to do, and only then the numbers.

use super::model::{CauseLine, Conclusion, FigureLine, WorkKind, WorkLine, WorkingLine};

/// Causes less likely than this are not worth a line.
const WORTH_A_LINE: f64 = 0.03;
const MOST_CAUSES: usize = 8;
const MOST_REASONS: usize = 4;
/// An answer that all else gives less chance than this looks like a slip.
const ODD: f64 = 0.15;

/// The conclusion as lines of at most `width` columns.
#[must_use]
pub fn text(conclusion: &Conclusion, width: usize) -> String {
    let mut page = Page { width: width.max(20), lines: Vec::new() };
    page.all(conclusion);
    page.lines.join("\n") + "\n"
}

struct Page {
    width: usize,
    lines: Vec<String>,
}

impl Page {
    fn all(&mut self, conclusion: &Conclusion) {
        self.heading_line(conclusion);
        self.stops(conclusion);
        self.verdict(conclusion);
        self.contradiction(conclusion);
        self.causes(conclusion);
        self.sets(conclusion);
        self.doubts(conclusion);
        self.next(conclusion);
        self.put_back(conclusion);
        self.workings(conclusion);
        self.curves(conclusion);
        self.answers(conclusion);
        self.other_cautions(conclusion);
        self.section("Before you start");
        self.paragraph(
            "",
            "The law of the place and licensed practice come before anything said here: welding, fuel \
             lines, emission parts and road tests may need a qualified person or a permit.",
        );
    }

    fn heading_line(&mut self, conclusion: &Conclusion) {
        let titles = conclusion.complaint_titles.join(" / ");
        self.paragraph("", &format!("{titles}: round {}", conclusion.round));
        if !conclusion.supposed.is_empty() {
            self.paragraph("SUPPOSED, NOT ANSWERED: ", &conclusion.supposed.join(", "));
        }
    }

    fn section(&mut self, title: &str) {
        self.lines.push(String::new());
        self.lines.push(title.to_uppercase());
    }

    /// A paragraph behind a mark, wrapped, its further lines under the text.
    fn paragraph(&mut self, mark: &str, text: &str) {
        let indent = " ".repeat(mark.chars().count());
        let options =
            textwrap::Options::new(self.width).initial_indent(mark).subsequent_indent(&indent);
        self.lines.extend(
            textwrap::wrap(text, options).into_iter().map(|line| line.trim_end().to_owned()),
        );
    }

    fn stops(&mut self, conclusion: &Conclusion) {
        let in_force: Vec<_> =
            conclusion.cautions.iter().filter(|caution| caution.in_force).collect();
        if in_force.is_empty() {
            return;
        }
        self.section("First");
        for caution in in_force {
            self.paragraph(&format!("  {}: ", caution.level.to_uppercase()), &caution.text);
        }
    }

    fn verdict(&mut self, conclusion: &Conclusion) {
        let Some(verdict) = &conclusion.verdict else { return };
        self.section("After the repair");
        if let Some(repair) = &verdict.repair {
            self.paragraph("  Done: ", &repair.text);
        }
        let sure = percent(verdict.probability);
        let word = verdict.verdict.replace('_', " ");
        self.paragraph("  Verdict: ", &format!("{word} ({sure})"));
        let figures = [
            ("before", &verdict.before),
            ("after", &verdict.after),
            ("predicted", &verdict.predicted),
        ];
        for (name, figure) in figures {
            if let Some(figure) = figure {
                self.paragraph(&format!("  {name:9} "), &shown(figure));
            }
        }
        match verdict.model_held {
            Some(true) => self.paragraph("  ", "What was measured lies where it was predicted: the calculation held."),
            Some(false) => self.paragraph("  ", "What was measured lies outside the band that was predicted: the calculation did not hold for this car. A pull with the gate tied open would match it anew."),
            None => {}
        }
        if let Some(because) = &verdict.because {
            self.paragraph("  ", &format!("It can't be told: {because}."));
        }
    }

    fn contradiction(&mut self, conclusion: &Conclusion) {
        let Some(answers) = &conclusion.contradiction else { return };
        self.section("The answers clash");
        let names = answers.join(", ");
        self.paragraph("  ", &format!("These can't all be true: {names}. Look at them again and change the one that is wrong."));
    }

    fn causes(&mut self, conclusion: &Conclusion) {
        if conclusion.causes.is_empty() {
            return;
        }
        self.section("What is likely wrong");
        let worth = |cause: &&CauseLine| cause.probability >= WORTH_A_LINE;
        let listed: Vec<_> = conclusion.causes.iter().filter(worth).take(MOST_CAUSES).collect();
        for cause in &listed {
            self.cause(cause);
        }
        match listed.first() {
            None => self.paragraph("  ", "Nothing stands out. All may be as it should be."),
            Some(lead) if conclusion.clear => {
                self.paragraph("  ", &format!("{} stands clear.", lead.title));
            }
            Some(_) => self.paragraph("  ", "The lead does not stand clear yet."),
        }
    }

    fn cause(&mut self, cause: &CauseLine) {
        self.paragraph(&format!("{:>6}  ", percent(cause.probability)), &cause.title);
        for (word, reasons) in [("for", &cause.speaks_for), ("against", &cause.against)] {
            for reason in reasons.iter().take(MOST_REASONS) {
                let times = match reason.times {
                    None => "settles it".to_owned(),
                    Some(times) => format!("odds × {}", times_text(times)),
                };
                self.paragraph(
                    &format!("          {word:7}  "),
                    &format!("{} ({times})", reason.says),
                );
            }
        }
    }

    fn sets(&mut self, conclusion: &Conclusion) {
        let several = conclusion.likely_sets.iter().filter(|set| set.causes.len() > 1).take(3);
        let one = conclusion.likely_sets.first().is_some_and(|set| set.causes.len() <= 1);
        let pairs: Vec<String> = several
            .filter(|set| set.probability >= 0.05)
            .map(|set| {
                format!("{} together ({})", set.causes.join(" and "), percent(set.probability))
            })
            .collect();
        if pairs.is_empty() {
            return;
        }
        let opening =
            if one { "One cause may not explain it all" } else { "More than one thing is wrong" };
        self.paragraph("  ", &format!("{opening}: {}.", pairs.join("; ")));
    }

    /// A slip of one answer can carry the lead: which, and what would lead then.
    fn doubts(&mut self, conclusion: &Conclusion) {
        for (number, doubt) in conclusion.doubts.iter().enumerate() {
            let asked: Vec<&str> =
                doubt.answers.iter().map(|answer| answer.text.as_str()).collect();
            let odd = number == 0 && doubt.fits < ODD;
            let opening = if odd {
                "Look at this answer again, it fits ill with the others"
            } else {
                "The lead hangs on this answer"
            };
            let text = format!(
                "{opening}: {} Were it wrong, this would lead: {} ({}).",
                asked.join(" / "),
                doubt.lead_title,
                percent(doubt.probability)
            );
            self.paragraph("  ", &text);
        }
    }

    fn next(&mut self, conclusion: &Conclusion) {
        if conclusion.next_work.is_empty() && conclusion.next_question.is_none() {
            return;
        }
        self.section("What to do next");
        for (number, work) in conclusion.next_work.iter().enumerate() {
            self.work(number + 1, work);
        }
        if let Some(question) = &conclusion.next_question {
            self.paragraph("  Next question: ", &question.text);
        }
    }

    fn work(&mut self, number: usize, work: &WorkLine) {
        let (kind, chance) = match work.kind {
            WorkKind::Check => {
                ("Check", format!("settles something in {} of cases", percent(work.chance)))
            }
            WorkKind::Repair => {
                ("Repair", format!("chance that it mends what is wrong {}", percent(work.chance)))
            }
        };
        self.paragraph(
            &format!("{number:>3}. "),
            &format!("{kind}: {} ({} min, {chance})", work.title, work.minutes),
        );
        let details = [
            ("tools", work.tools.join(", ")),
            ("parts", work.parts.join(", ")),
            ("expect", work.expect.clone()),
        ];
        for (name, text) in details {
            if !text.is_empty() {
                self.paragraph(&format!("       {name}: "), &text);
            }
        }
    }

    fn put_back(&mut self, conclusion: &Conclusion) {
        if conclusion.put_back.is_empty() {
            return;
        }
        self.section("Put back before the next drive");
        for text in &conclusion.put_back {
            self.paragraph("  [ ] ", text);
        }
    }

    fn workings(&mut self, conclusion: &Conclusion) {
        let worth_showing = |working: &&WorkingLine| working.named || working.says.is_some();
        let shown: Vec<_> = conclusion.workings.iter().filter(worth_showing).collect();
        if shown.is_empty() {
            return;
        }
        self.section("How it was worked out");
        for working in shown {
            let band = working
                .shown_band
                .as_ref()
                .map_or_else(String::new, |band| format!(", 95 % between {band}"));
            self.paragraph("  ", &format!("{}: {}{band}", working.title, working.shown));
            if let Some(says) = &working.says {
                self.paragraph("      ", says);
            }
            self.paragraph("      = ", &working.formula);
            self.paragraph("      source: ", &working.source);
            if !working.assumed.is_empty() {
                self.paragraph("      assumed: ", &working.assumed.join(", "));
            }
            let wide: Vec<String> = working
                .widest
                .iter()
                .filter(|share| share.share >= 0.1)
                .map(|share| format!("{} ({})", share.id, percent(share.share)))
                .collect();
            if !wide.is_empty() {
                self.paragraph("      the band comes from: ", &wide.join(", "));
            }
        }
    }

    fn curves(&mut self, conclusion: &Conclusion) {
        for curve in &conclusion.curves {
            self.section(&curve.title);
            let head = format!(
                "{} in {}; {} with its 95 % band",
                curve.over.replace('_', " "),
                curve.shown_over_unit,
                curve.shown_unit
            );
            self.paragraph("  ", &head);
            for row in &curve.shown_rows {
                self.paragraph("  ", row);
            }
        }
    }

    fn answers(&mut self, conclusion: &Conclusion) {
        let groups = [
            ("What you answered", &conclusion.answers),
            ("What was assumed, since nobody measured", &conclusion.assumptions),
        ];
        for (title, answers) in groups {
            if answers.is_empty() {
                continue;
            }
            self.section(title);
            for answer in answers {
                let source = if answer.source.is_empty() || title.starts_with("What you") {
                    String::new()
                } else {
                    format!(" [{}]", answer.source)
                };
                self.paragraph("  ", &format!("{} {}{source}", answer.text, answer.shown));
            }
        }
        if !conclusion.not_known.is_empty() {
            self.section("What nobody could say");
            for question in &conclusion.not_known {
                self.paragraph("  ", &question.text);
            }
        }
    }

    fn other_cautions(&mut self, conclusion: &Conclusion) {
        let with_tasks: Vec<_> =
            conclusion.cautions.iter().filter(|caution| !caution.in_force).collect();
        if with_tasks.is_empty() {
            return;
        }
        self.section("Take care");
        for caution in with_tasks {
            self.paragraph(&format!("  {}: ", caution.level), &caution.text);
        }
    }
}

fn shown(figure: &FigureLine) -> String {
    figure.shown.clone()
}

fn percent(share: f64) -> String {
    let hundredths = share * 100.0;
    if share > 0.0 && hundredths < 1.0 {
        "below 1 %".to_owned()
    } else if share < 1.0 && hundredths > 99.0 {
        "above 99 %".to_owned()
    } else {
        format!("{hundredths:.0} %")
    }
}

fn times_text(times: f64) -> String {
    if times >= 10.0 {
        format!("{times:.0}")
    } else if times >= 0.1 {
        format!("{times:.1}")
    } else {
        format!("{times:.2}")
    }
}
