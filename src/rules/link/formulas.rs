//! Relations, workings, curves, findings and cautions: everything that holds a formula, checked in
//! an order in which each stands behind what it reads.

use std::collections::{HashMap, HashSet};

use super::entries::entries;
use super::ids::usable_id;
use super::linker::{At, Linker, Spot};
use super::order::order;
use super::vocabulary::Vocabulary;
use crate::formula::{
    Expression, Form, Formula, Meaning, Names, Node, Span, Type, VarId, check, check_tree,
    is_function, nearest_function, parse,
};
use crate::quantity::{Kind, Unit, readable_unit};
use crate::rules::fault::Severity;
use crate::rules::pack::{Caution, Curve, CurveMark, Finding, Forbidden, Level, Pack, Working};
use crate::rules::stack::Stack;
use crate::rules::table::{QuestionId, TypedIndex, WorkingId};
use crate::rules::text::{Piece, RawPiece, Template, pieces};
use crate::text::spaced;

const MAX_CURVE_STEPS: usize = 200;

pub(super) struct Formulas {
    pub(super) words: Vocabulary,
    questions: usize,
    workings: usize,
}

/// A formula that could be read, with what it reads.
struct Readable<'a> {
    at: At<'a>,
    text: &'a str,
    tree: Option<Expression>,
}

impl Formulas {
    pub(super) fn new(stack: &Stack) -> Self {
        Self {
            words: Vocabulary::new(&stack.contested),
            questions: stack.questions.len(),
            workings: stack.workings.len(),
        }
    }

    pub(super) fn link(&mut self, linker: &mut Linker<'_>, pack: &mut Pack) {
        let stack = linker.stack;
        for (index, id) in stack.questions.keys().enumerate() {
            let form =
                pack.questions.find(id).map(|place: QuestionId| &pack.questions[place].answer);
            let form = form.filter(|_| !linker.formless.contains(id));
            self.words.question(id, VarId(index), form);
        }
        self.relations(linker);
        self.workings(linker, pack);
        self.findings(linker, pack);
        self.curves(linker, pack);
        self.cautions(linker, pack);
    }

    fn relations(&mut self, linker: &mut Linker<'_>) {
        let stack = linker.stack;
        for (at, written) in entries("relations", &stack.relations) {
            usable_id(linker, at);
            let given = written.given.clone().unwrap_or_default();
            let body = read_tree(linker, at, "formula", written.formula.as_ref()).tree;
            self.words.relation(at.id(), given, body);
        }
        self.circular_relations(linker);
        // Names are checked here too, so that a relation nobody calls is not left unread.
        for (at, written) in entries("relations", &stack.relations) {
            let given: HashSet<&str> = written.given.iter().flatten().map(String::as_str).collect();
            let Some(body) = self.words.body(at.id()) else { continue };
            let spot = at.field("formula");
            for (name, span) in body.names() {
                let known = given.contains(name)
                    || self.words.find(name).is_some()
                    || stack.workings.contains_key(name)
                    || self.is_option(stack, name);
                if !known {
                    let names =
                        given.iter().copied().chain(stack.questions.keys().map(String::as_str));
                    let names = names.chain(stack.workings.keys().map(String::as_str));
                    let inside = spot.part(span.clone());
                    linker.unknown(&inside, name, names, "a name this relation can read");
                }
            }
            for (name, span) in body.calls() {
                if !is_function(name) && !stack.relations.contains_key(name) {
                    let relations = stack.relations.keys().map(String::as_str);
                    let help = nearest_function(name, relations).map_or_else(
                        || "calc --list names every function".to_owned(),
                        |near| format!("did you mean {near}?"),
                    );
                    let message = format!("unknown function {name}");
                    let inside = spot.part(span.clone());
                    linker.note(Severity::Error, "formula", &inside, message, "not known", help);
                }
            }
        }
    }

    /// Relations that call one another in a circle. Each is then faulty, so that no call of it is
    /// a second mistake.
    fn circular_relations(&mut self, linker: &mut Linker<'_>) {
        let stack = linker.stack;
        let calls: Vec<Vec<(usize, Span)>> = stack
            .relations
            .keys()
            .map(|id| {
                let body = self.words.body(id).map(Expression::calls).unwrap_or_default();
                let index = |name: &str| stack.relations.get_index_of(name);
                body.iter()
                    .filter_map(|(name, span)| Some((index(name)?, (*span).clone())))
                    .collect()
            })
            .collect();
        let reads: Vec<Vec<usize>> = calls.iter().map(|called| distinct(called)).collect();
        let circular = order(&reads).circular;
        for (index, (at, _)) in entries("relations", &stack.relations).enumerate() {
            if !circular.contains(&index) {
                continue;
            }
            let next = calls[index].iter().find(|(read, _)| circular.contains(read));
            if let Some((read, span)) = next {
                let other = stack.relations.get_index(*read).map_or("", |(id, _)| id.as_str());
                circle(linker, at, &at.field("formula").part(span.clone()), other, "calls");
            }
            self.words.relation(at.id(), Vec::new(), None);
        }
    }

    fn is_option(&self, stack: &Stack, name: &str) -> bool {
        use crate::rules::written::AnswerForm;
        stack.questions.values().any(|entry| match &entry.written.answer {
            Some(AnswerForm::Fields(fields)) => {
                fields.choose.as_ref().is_some_and(|options| options.contains_key(name))
            }
            _ => false,
        })
    }

    /// For each formula: the places, among `ids`, of what it reads, relations looked through.
    fn reads(&self, formulas: &[Readable<'_>], ids: &HashMap<&str, usize>) -> Vec<Vec<usize>> {
        formulas
            .iter()
            .map(|formula| {
                let mut found = Vec::new();
                let mut relations = HashSet::new();
                if let Some(tree) = &formula.tree {
                    self.collect(tree, ids, &mut found, &mut relations);
                }
                found.sort_unstable();
                found.dedup();
                found
            })
            .collect()
    }

    fn collect<'a>(
        &'a self,
        tree: &'a Expression,
        ids: &HashMap<&str, usize>,
        found: &mut Vec<usize>,
        relations: &mut HashSet<&'a str>,
    ) {
        for (name, _) in tree.names() {
            found.extend(ids.get(name));
        }
        for (name, _) in tree.calls() {
            if let Some(body) = self.words.body(name)
                && relations.insert(name)
            {
                self.collect(body, ids, found, relations);
            }
        }
    }

    fn workings(&mut self, linker: &mut Linker<'_>, pack: &mut Pack) {
        let stack = linker.stack;
        let formulas: Vec<Readable<'_>> = entries("workings", &stack.workings)
            .map(|(at, written)| {
                usable_id(linker, at);
                read_tree(linker, at, "formula", written.formula.as_ref())
            })
            .collect();
        let mut checked: Vec<Option<Formula>> = vec![None; formulas.len()];
        let order = self.ordered(linker, &formulas, "formula");
        for index in &order {
            let formula = &formulas[*index];
            checked[*index] = self.checked(linker, formula, "formula", None);
            let slot = VarId(self.questions + index);
            self.words.working(formula.at.id(), slot, checked[*index].as_ref());
        }
        pack.working_order = order.into_iter().map(WorkingId::from_index).collect();
        for ((at, written), formula) in entries("workings", &stack.workings).zip(checked) {
            // Of a formula that could not be checked nobody knows what it gives, and so which unit fits.
            let named = written.unit.as_ref().filter(|_| formula.is_some());
            let formula = formula.unwrap_or_else(left_out);
            let kind = formula.kind().unwrap_or(Kind::NUMBER);
            let unit = named.and_then(|unit| linker.unit(&at.field("unit"), unit, kind));
            let says = self.template(linker, &at.field("says"), written.says.as_ref());
            let working = Working {
                title: linker.text(&at.field("title"), written.title.as_ref()),
                unit: unit.unwrap_or_else(|| readable_unit(kind)),
                formula,
                says,
                sources: linker.sources(&at.field("source"), written.source.as_ref()),
            };
            pack.workings.push(at.id().to_owned(), working);
        }
    }

    /// Indices in reading order; those on a circle are reported and left out.
    fn ordered(
        &mut self,
        linker: &mut Linker<'_>,
        formulas: &[Readable<'_>],
        field: &str,
    ) -> Vec<usize> {
        let ids: HashMap<&str, usize> =
            formulas.iter().enumerate().map(|(index, formula)| (formula.at.id(), index)).collect();
        let reads = self.reads(formulas, &ids);
        let ordered = order(&reads);
        for index in &ordered.circular {
            let at = formulas[*index].at;
            let next = reads[*index].iter().find(|read| ordered.circular.contains(read));
            let Some(other) = next.map(|read| formulas[*read].at.id()) else { continue };
            let names = formulas[*index].tree.as_ref().map(Expression::names).unwrap_or_default();
            let named = names.iter().find(|(name, _)| *name == other);
            let spot = at.field(field);
            let spot = named.map_or_else(|| spot.clone(), |(_, span)| spot.part((*span).clone()));
            circle(linker, at, &spot, other, "reads");
            self.words.working(at.id(), VarId(0), None);
        }
        ordered.order
    }

    fn checked(
        &self,
        linker: &mut Linker<'_>,
        formula: &Readable<'_>,
        field: &str,
        wanted: Option<Kind>,
    ) -> Option<Formula> {
        let tree = formula.tree.as_ref()?;
        if linker.is_full() {
            return None;
        }
        match check_tree(formula.text, tree, &self.words, wanted) {
            Ok(checked) => Some(checked),
            Err(faults) => {
                linker.formula_faults(&formula.at.field(field), faults);
                None
            }
        }
    }

    fn findings(&mut self, linker: &mut Linker<'_>, pack: &mut Pack) {
        let stack = linker.stack;
        let formulas: Vec<Readable<'_>> = entries("findings", &stack.findings)
            .map(|(at, written)| {
                usable_id(linker, at);
                if written.when.is_none() {
                    linker.missing(at, "when");
                }
                read_tree(linker, at, "when", written.when.as_ref())
            })
            .collect();
        let mut checked: Vec<Option<Formula>> = vec![None; formulas.len()];
        for index in self.ordered(linker, &formulas, "when") {
            let formula = &formulas[index];
            checked[index] = self
                .checked(linker, formula, "when", None)
                .filter(|checked| is_truth(linker, &formula.at.field("when"), checked));
            self.words.finding(formula.at.id(), index, checked[index].as_ref());
        }
        for ((at, written), when) in entries("findings", &stack.findings).zip(checked) {
            let says = self.template(linker, &at.field("says"), written.says.as_ref());
            let finding = Finding {
                when: when.unwrap_or_else(left_out),
                says: says.unwrap_or_else(|| Template::plain(&spaced(at.id()))),
                sources: linker.sources(&at.field("source"), written.source.as_ref()),
            };
            pack.findings.push(at.id().to_owned(), finding);
        }
    }

    /// A condition over answers, workings and findings; one that was written but can't be told is
    /// never known, and so never taken.
    pub(super) fn condition(
        &self,
        linker: &mut Linker<'_>,
        spot: &Spot<'_>,
        text: Option<&String>,
    ) -> Option<Formula> {
        let text = text?;
        if linker.is_full() {
            return Some(left_out());
        }
        match check(text, &self.words, None) {
            Ok(formula) => {
                is_truth(linker, spot, &formula);
                Some(formula)
            }
            Err(faults) => {
                linker.formula_faults(spot, faults);
                Some(left_out())
            }
        }
    }

    /// A formula over answers and workings that gives this kind.
    pub(super) fn value(
        &self,
        linker: &mut Linker<'_>,
        spot: &Spot<'_>,
        text: &str,
        wanted: Kind,
    ) -> Option<Formula> {
        if linker.is_full() {
            return None;
        }
        match check(text, &self.words, Some(wanted)) {
            Ok(formula) => Some(formula),
            Err(faults) => {
                linker.formula_faults(spot, faults);
                None
            }
        }
    }

    /// The variable of a number's name: a question or a working.
    pub(super) fn number(
        &self,
        linker: &mut Linker<'_>,
        spot: &Spot<'_>,
        name: &str,
    ) -> Option<(VarId, Kind)> {
        match self.words.find(name) {
            Some(Meaning::Value { variable, kind }) => Some((variable, kind)),
            Some(Meaning::Faulty) => None,
            Some(_) => {
                linker.error(
                    "not-a-number",
                    spot,
                    format!("{name} gives no number"),
                    "name a measurement or a working",
                );
                None
            }
            None => {
                linker.unknown(spot, name, self.words.all(), "a measurement or a working");
                None
            }
        }
    }

    fn curves(&mut self, linker: &mut Linker<'_>, pack: &mut Pack) {
        let stack = linker.stack;
        for (at, written) in entries("curves", &stack.curves) {
            if let Some(curve) = self.curve(linker, pack, at, written) {
                pack.curves.push(at.id().to_owned(), curve);
            }
        }
    }

    fn curve(
        &mut self,
        linker: &mut Linker<'_>,
        pack: &Pack,
        at: At<'_>,
        written: &crate::rules::written::Curve,
    ) -> Option<Curve> {
        let (Some(over), Some(from), Some(to), Some(_)) =
            (&written.over, &written.from, &written.to, &written.formula)
        else {
            for (field, text) in [
                ("over", &written.over),
                ("from", &written.from),
                ("to", &written.to),
                ("formula", &written.formula),
            ] {
                if text.is_none() {
                    linker.lacking(at, field, "it is not drawn");
                }
            }
            return None;
        };
        let own = VarId(self.questions + self.workings);
        let known = match (pack.questions.find(over), pack.workings.find(over)) {
            (Some(_), _) | (_, Some(_)) => Some(self.number(linker, &at.field("over"), over)?),
            _ => None,
        };
        let (from, dimension) = linker.any_value(&at.field("from"), from)?;
        let (to, to_dimension) = linker.any_value(&at.field("to"), to)?;
        let (slot, kind) = known.unwrap_or((own, Kind::plain(dimension)));
        if to_dimension != kind.dimension || dimension != kind.dimension {
            linker.error(
                "dimension",
                &at.field("to"),
                "the ends of the curve differ in dimension",
                format!("give both as {kind}"),
            );
            return None;
        }
        if from >= to {
            linker.error(
                "range",
                &at.field("to"),
                "the curve ends where it begins, or before",
                "let to: be more than from:",
            );
            return None;
        }
        if known.is_none() {
            self.words.variable(over, own, kind);
        }
        let formula = read_tree(linker, at, "formula", written.formula.as_ref());
        let formula = self.checked(linker, &formula, "formula", None);
        if known.is_none() {
            self.words.forget(over);
        }
        let formula = formula?;
        let gives = formula.kind().unwrap_or(Kind::NUMBER);
        let unit =
            written.unit.as_ref().and_then(|unit| linker.unit(&at.field("unit"), unit, gives));
        let title = linker.text(&at.field("title"), written.title.as_ref());
        let marks = self.curve_marks(linker, at, written, (kind, gives));
        Some(Curve {
            title: title.unwrap_or_else(|| spaced(at.id())),
            over: slot,
            over_unit: literal_unit(written.from.as_deref()).unwrap_or_else(|| readable_unit(kind)),
            over_name: over.clone(),
            from,
            to,
            steps: linker.count(
                &at.field("steps"),
                written.steps.as_ref(),
                11,
                2..=MAX_CURVE_STEPS,
            ),
            unit: unit.unwrap_or_else(|| readable_unit(gives)),
            formula,
            marks,
            sources: linker.sources(&at.field("source"), written.source.as_ref()),
        })
    }

    fn curve_marks(
        &self,
        linker: &mut Linker<'_>,
        at: At<'_>,
        written: &crate::rules::written::Curve,
        (along, across): (Kind, Kind),
    ) -> Vec<CurveMark> {
        let mut found = Vec::new();
        for (index, mark) in written.marks.iter().flatten().enumerate() {
            let spot = at.field("marks").item(index);
            let Some(place) = &mark.at else {
                linker.warning(
                    "lacking-field",
                    &spot,
                    "a mark stands nowhere, so it is passed over",
                    "add at: with a measurement or a working",
                );
                continue;
            };
            let Some(at) = self.on_axis(linker, &spot.under("at"), place, along) else { continue };
            let value = mark.value.as_ref();
            let value =
                value.and_then(|name| self.on_axis(linker, &spot.under("value"), name, across));
            let title = linker.text(&spot.under("title"), mark.title.as_ref());
            found.push(CurveMark { title: title.unwrap_or_else(|| spaced(place)), at, value });
        }
        found
    }

    /// A number that can stand on an axis of a curve.
    fn on_axis(
        &self,
        linker: &mut Linker<'_>,
        spot: &Spot<'_>,
        name: &str,
        axis: Kind,
    ) -> Option<VarId> {
        let (slot, kind) = self.number(linker, spot, name)?;
        if kind.dimension == axis.dimension {
            return Some(slot);
        }
        linker.error(
            "dimension",
            spot,
            format!("{name} is {kind}, and the curve has {axis} there"),
            "name a measurement or a working of that kind",
        );
        None
    }

    fn cautions(&mut self, linker: &mut Linker<'_>, pack: &mut Pack) {
        const LEVELS: [(&str, Level); 3] =
            [("stop", Level::Stop), ("danger", Level::Danger), ("care", Level::Care)];
        let stack = linker.stack;
        for (at, written) in entries("cautions", &stack.cautions) {
            let word = written.level.as_deref().unwrap_or("care");
            let level = LEVELS.iter().find(|(known, _)| *known == word).map(|(_, level)| *level);
            if level.is_none() {
                let known = LEVELS.iter().map(|(known, _)| *known);
                linker.wrong_word(&at.field("level"), word, known, "level");
            }
            let text = linker.text(&at.field("text"), written.text.as_ref());
            if text.is_none() {
                linker.warning(
                    "silent-caution",
                    &at.key(),
                    format!("{} says nothing", at.id()),
                    "add text:",
                );
            }
            let when = self.condition(linker, &at.field("when"), written.when.as_ref());
            if when.is_none() && written.forbids.is_some() {
                linker.warning(
                    "always-forbidden",
                    &at.field("forbids"),
                    "a caution without when: forbids nothing",
                    "add when:, or take forbids: out",
                );
            }
            linker.sources(&at.field("source"), written.source.as_ref());
            let caution = Caution {
                level: level.unwrap_or(Level::Care),
                when,
                text: text.unwrap_or_else(|| spaced(at.id())),
                forbids: forbids(linker, stack, &at.field("forbids"), written.forbids.as_ref()),
            };
            pack.cautions.push(at.id().to_owned(), caution);
        }
    }

    fn template(
        &self,
        linker: &mut Linker<'_>,
        spot: &Spot<'_>,
        text: Option<&String>,
    ) -> Option<Template> {
        let text = linker.text(spot, text)?;
        let mut found = Vec::new();
        for piece in pieces(&text) {
            match piece {
                RawPiece::Words(words) => found.push(Piece::Words(words.to_owned())),
                RawPiece::Name(name, span) => {
                    if let Some((slot, _)) = self.number(linker, &spot.part(span), name.trim()) {
                        found.push(Piece::Value(slot));
                    }
                }
                RawPiece::Open(open) => {
                    linker.error(
                        "brace",
                        &spot.part(open..open + 1),
                        "this brace is never closed",
                        "write {name} to show a value",
                    );
                }
            }
        }
        Some(Template(found))
    }
}

/// Notes that an entry goes in a circle by way of another, or of itself.
fn circle(linker: &mut Linker<'_>, at: At<'_>, spot: &Spot<'_>, other: &str, does: &str) {
    let (message, help) = if other == at.id() {
        let message = format!("{other} {does} itself");
        (message, "nothing can be worked out from itself: put in what it is made of")
    } else {
        let message = format!("{} {does} itself, by way of {other}", at.id());
        (message, "break the circle: one of them must do without the others")
    };
    linker.error("circle", spot, message, help);
}

/// The entries called, each once.
fn distinct(called: &[(usize, Span)]) -> Vec<usize> {
    let mut found: Vec<usize> = called.iter().map(|(index, _)| *index).collect();
    found.sort_unstable();
    found.dedup();
    found
}

fn forbids(
    linker: &mut Linker<'_>,
    stack: &Stack,
    spot: &Spot<'_>,
    ids: Option<&Vec<String>>,
) -> Vec<Forbidden> {
    let mut found = Vec::new();
    for (index, id) in ids.into_iter().flatten().enumerate() {
        fn place<P: TypedIndex>(index: Option<usize>) -> Option<P> {
            index.map(P::from_index)
        }
        let forbidden = place(stack.car_states.get_index_of(id))
            .map(Forbidden::CarState)
            .or_else(|| place(stack.setups.get_index_of(id)).map(Forbidden::Setup))
            .or_else(|| place(stack.questions.get_index_of(id)).map(Forbidden::Question))
            .or_else(|| place(stack.repairs.get_index_of(id)).map(Forbidden::Repair));
        match forbidden {
            Some(forbidden) => found.push(forbidden),
            None => {
                let known = stack.car_states.keys().chain(stack.setups.keys());
                let known = known.chain(stack.questions.keys()).chain(stack.repairs.keys());
                linker.unknown(
                    &spot.item(index),
                    id,
                    known.map(String::as_str),
                    "a car state, setup, question or repair",
                );
            }
        }
    }
    found
}

fn read_tree<'a>(
    linker: &mut Linker<'_>,
    at: At<'a>,
    field: &str,
    text: Option<&'a String>,
) -> Readable<'a> {
    let Some(text) = text else {
        if field == "formula" {
            linker.lacking(at, field, "it is never known");
        }
        return Readable { at, text: "", tree: None };
    };
    match parse(text) {
        Ok(tree) => Readable { at, text, tree: Some(tree) },
        Err(fault) => {
            linker.formula_faults(&at.field(field), vec![fault]);
            Readable { at, text, tree: None }
        }
    }
}

fn is_truth(linker: &mut Linker<'_>, spot: &Spot<'_>, formula: &Formula) -> bool {
    if formula.gives == Type::Bool {
        return true;
    }
    linker.note(
        Severity::Error,
        "not-a-truth",
        spot,
        "this gives no yes or no",
        "a value",
        "compare it with a limit, for example > 0.5 bar",
    );
    false
}

/// Stands for a formula that the pack left out, or that reads what was left out: never known. A
/// faulty one is replaced by it too, but then the pack is not walked.
fn left_out() -> Formula {
    Formula {
        text: String::new(),
        node: Node::LeftOut,
        gives: Type::Bool,
        spreads: Vec::new(),
        chances: 0,
    }
}

/// The unit a literal was written in.
fn literal_unit(text: Option<&str>) -> Option<Unit> {
    match parse(text?).ok()?.form {
        Form::Literal { unit, .. } => unit,
        _ => None,
    }
}
