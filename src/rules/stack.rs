//! The files of one or more packs laid over one another: every entry with the file it stands in.
//! Ids are unique in a pack; a pack that lies over another adds, and replaces only what its head
//! says it replaces.

use std::collections::{HashMap, HashSet};

use indexmap::IndexMap;

use super::fault::{Fault, Mark, Place, StackFault};
use super::read::ReadFile;
use super::strengths::known_strength;
use super::written as w;
use super::yaml::{Route, RouteStep};
use crate::formula::nearest;

/// An entry as written, and where.
#[derive(Debug, Clone)]
pub(super) struct Entry<T> {
    pub(super) written: T,
    pub(super) file: usize,
    /// The file of the entry that it took the place of.
    pub(super) replaced: Option<usize>,
    /// Part of it could not be read; nothing more is said about it.
    pub(super) spoilt: bool,
    /// The question that it is an option of: options that may be true together are questions, too.
    pub(super) list: Option<String>,
}

pub(super) type Entries<T> = IndexMap<String, Entry<T>>;

/// All entries of all files, by section.
#[derive(Debug, Default)]
pub(super) struct Stack {
    pub(super) heads: Vec<Entry<w::Head>>,
    /// The pack of each file: its place among the heads.
    pub(super) layers: Vec<usize>,
    pub(super) complaints: Entries<w::Complaint>,
    pub(super) car_states: Entries<w::CarState>,
    pub(super) setups: Entries<w::Setup>,
    pub(super) instruments: Entries<w::Instrument>,
    pub(super) questions: Entries<w::Question>,
    pub(super) conditions: Entries<String>,
    pub(super) arguments: Entries<w::Arguments>,
    pub(super) relations: Entries<w::Relation>,
    pub(super) workings: Entries<w::Working>,
    pub(super) curves: Entries<w::Curve>,
    pub(super) drawings: Entries<w::Drawing>,
    pub(super) readings: Entries<w::Reading>,
    pub(super) findings: Entries<w::Finding>,
    pub(super) causes: Entries<w::Cause>,
    pub(super) repairs: Entries<w::Repair>,
    pub(super) cautions: Entries<w::Caution>,
    pub(super) steps: Entries<w::Step>,
    pub(super) strengths: Entries<String>,
    pub(super) sources: Entries<w::Source>,
    pub(super) cases: Entries<w::Case>,
    /// Ids that were given in two sections.
    pub(super) contested: HashSet<String>,
    /// Words for strengths that a pack replaced, with what each was worth before.
    pub(super) strengths_before: IndexMap<String, String>,
}

/// The files of one pack: index of each file and what was read from it.
pub(super) type PackFiles = Vec<(usize, ReadFile)>;

/// Lays packs over one another, the lowest first.
pub(super) fn lay(packs: Vec<PackFiles>, faults: &mut Vec<Fault>) -> Stack {
    let mut stack = Stack::default();
    let mut owners: HashMap<String, Owner> = HashMap::new();
    for (layer, files) in packs.into_iter().enumerate() {
        let head = head(&files, faults);
        let head_file =
            files.iter().find(|(_, read)| read.file.pack.is_some()).map_or(0, |(index, _)| *index);
        let mut lay = Laying {
            layer,
            head_file,
            replaces: head.replaces.clone().unwrap_or_default(),
            replaced: HashSet::new(),
            contested: Vec::new(),
            repeated: Vec::new(),
            owners: &mut owners,
            faults,
        };
        lay.admit_asking(&head);
        for (index, read) in files {
            stack.layers.resize(index + 1, layer);
            lay.file(&mut stack, index, read);
        }
        lay.report_unused_replacements();
        lay.report_repeated_ids();
        let file = head_file;
        stack.heads.push(Entry { written: head, file, replaced: None, spoilt: false, list: None });
    }
    stack
}

/// The field of the head that all packs of a stack share.
const ASKING: &str = "asking";

/// Where an id was first given.
struct Owner {
    section: &'static str,
    file: usize,
    layer: usize,
    list: Option<String>,
}

/// An id that was given before.
struct Repeated {
    id: String,
    replaceable: bool,
    again: Place,
    first: Place,
    label: String,
}

struct Laying<'a> {
    layer: usize,
    head_file: usize,
    replaces: Vec<String>,
    replaced: HashSet<String>,
    contested: Vec<String>,
    repeated: Vec<Repeated>,
    owners: &'a mut HashMap<String, Owner>,
    faults: &'a mut Vec<Fault>,
}

/// The head of a pack: the one file that has it.
fn head(files: &PackFiles, faults: &mut Vec<Fault>) -> w::Head {
    let mut heads =
        files.iter().filter_map(|(index, read)| read.file.pack.as_ref().map(|head| (*index, head)));
    let Some((first, head)) = heads.next() else { return w::Head::default() };
    for (index, _) in heads {
        let place =
            |file| Place { file, route: vec![RouteStep::Key("pack".to_owned())], mark: Mark::Key };
        let fault = Fault::new(StackFault::TwoHeads, place(index));
        faults.push(fault.against(place(first), "the first"));
    }
    head.clone()
}

impl Laying<'_> {
    fn file(&mut self, stack: &mut Stack, file: usize, read: ReadFile) {
        let ReadFile { file: written, spoilt } = read;
        if self.layer > 0 {
            self.note_strengths(stack, written.strengths.as_ref());
        }
        let mut add = Adding { laying: self, file, spoilt: &spoilt };
        add.section("complaints", written.complaints, &mut stack.complaints);
        add.section("car_states", written.car_states, &mut stack.car_states);
        add.section("setups", written.setups, &mut stack.setups);
        add.section("instruments", written.instruments, &mut stack.instruments);
        add.questions(written.questions, &mut stack.questions);
        add.section("conditions", written.conditions, &mut stack.conditions);
        add.section("arguments", written.arguments, &mut stack.arguments);
        add.section("relations", written.relations, &mut stack.relations);
        add.section("workings", written.workings, &mut stack.workings);
        add.section("curves", written.curves, &mut stack.curves);
        add.section("drawings", written.drawings, &mut stack.drawings);
        add.section("readings", written.readings, &mut stack.readings);
        add.section("findings", written.findings, &mut stack.findings);
        add.section("causes", written.causes, &mut stack.causes);
        add.section("repairs", written.repairs, &mut stack.repairs);
        add.section("cautions", written.cautions, &mut stack.cautions);
        add.section("steps", written.steps, &mut stack.steps);
        add.section("strengths", written.strengths, &mut stack.strengths);
        add.section("sources", written.sources, &mut stack.sources);
        add.section("cases", written.cases, &mut stack.cases);
        for (section, id) in &spoilt {
            stack.keep_spoilt(section, id, file);
        }
        stack.contested.extend(std::mem::take(&mut self.contested));
    }

    /// Keeps what words for strengths were worth before a pack gives them again.
    fn note_strengths(&self, stack: &mut Stack, given: Option<&w::Section<String>>) {
        for word in given.into_iter().flat_map(|given| given.keys()) {
            let below = stack.strengths.get(word).map(|entry| entry.written.clone());
            if let Some(before) =
                below.or_else(|| known_strength(word).map(|worth| worth.to_string()))
                && self.replaces.contains(word)
            {
                stack.strengths_before.insert(word.clone(), before);
            }
        }
    }

    /// What a pack says of the whole stack in its head, which the packs below rest on, is replaced as
    /// an entry is.
    fn admit_asking(&mut self, head: &w::Head) {
        if self.layer == 0 || head.asking.is_none() {
            return;
        }
        if self.replaces.iter().any(|named| named == ASKING) {
            self.replaced.insert(ASKING.to_owned());
            return;
        }
        let place = Place { file: self.head_file, route: route("pack", ASKING), mark: Mark::Key };
        self.faults.push(Fault::new(StackFault::UnsaidAsking, place));
    }

    /// A file that was copied repeats all that the first one gives: that is told once.
    fn report_repeated_ids(&mut self) {
        let mut told: Vec<(Repeated, Vec<String>)> = Vec::new();
        for repeated in std::mem::take(&mut self.repeated) {
            let files = |known: &Repeated| (known.again.file, known.first.file, known.replaceable);
            let same = told.iter_mut().find(|(known, _)| {
                known.again.file != known.first.file && files(known) == files(&repeated)
            });
            match same {
                Some((_, more)) => more.push(repeated.id),
                None => told.push((repeated, Vec::new())),
            }
        }
        for (Repeated { id, replaceable, again, first, label }, more) in told {
            let fault = StackFault::RepeatedId { id, more, replaceable };
            self.faults.push(Fault::new(fault, again).against(first, label));
        }
    }

    fn report_unused_replacements(&mut self) {
        for (index, id) in self.replaces.iter().enumerate() {
            if self.replaced.contains(id) {
                continue;
            }
            let known = self.owners.keys().map(String::as_str);
            let near = nearest(id, known.filter(|known| *known != id)).map(str::to_owned);
            let mut route = route("pack", "replaces");
            route.push(RouteStep::Index(index));
            let place = Place { file: self.head_file, route, mark: Mark::Value };
            self.faults
                .push(Fault::new(StackFault::NothingReplaced { id: id.clone(), near }, place));
        }
    }
}

impl Laying<'_> {
    /// Whether a word for strengths may be given over other packs. The words that every pack knows are
    /// used by those below, though none of them gives them.
    fn admit_strength(&mut self, file: usize, word: &str) -> bool {
        let Some(worth) = known_strength(word) else { return true };
        if self.replaces.iter().any(|named| named == word) {
            self.replaced.insert(word.to_owned());
            return true;
        }
        let place = Place { file, route: route("strengths", word), mark: Mark::Key };
        self.faults
            .push(Fault::new(StackFault::UnsaidStrength { word: word.to_owned(), worth }, place));
        false
    }
}

struct Adding<'a, 'b> {
    laying: &'a mut Laying<'b>,
    file: usize,
    spoilt: &'a HashSet<(String, String)>,
}

impl Adding<'_, '_> {
    fn section<T>(
        &mut self,
        name: &'static str,
        written: Option<w::Section<T>>,
        into: &mut Entries<T>,
    ) {
        for (id, entry) in written.into_iter().flatten() {
            let spoilt =
                !self.spoilt.is_empty() && self.spoilt.contains(&(name.to_owned(), id.clone()));
            self.entry(name, (id, entry), (spoilt, None), into);
        }
    }

    /// Questions, each followed by those of its options that may be true together.
    fn questions(
        &mut self,
        written: Option<w::Section<w::Question>>,
        into: &mut Entries<w::Question>,
    ) {
        for (list, question) in written.into_iter().flatten() {
            let options = question.options();
            self.section("questions", Some([(list.clone(), question)].into()), into);
            let spoilt = into.get(&list).is_none_or(|entry| entry.spoilt);
            // What replaces a list takes its options away.
            if into.get(&list).is_some_and(|entry| entry.replaced.is_some()) {
                let gone = |id: &str| !options.contains_key(id);
                into.retain(|id, entry| entry.list.as_ref() != Some(&list) || !gone(id));
            }
            for (id, text) in options {
                let option = w::Question { text: Some(text), ..w::Question::default() };
                self.entry("questions", (id, option), (spoilt, Some(list.clone())), into);
            }
        }
    }

    fn entry<T>(
        &mut self,
        section: &'static str,
        (id, written): (String, T),
        (spoilt, list): (bool, Option<String>),
        into: &mut Entries<T>,
    ) {
        let file = self.file;
        if self.admit(section, &id, list.as_deref()) {
            let replaced = into.get(&id).map(|below| below.file);
            if list.is_some() {
                // An option stands behind its list, whatever it takes the place of.
                into.shift_remove(&id);
            }
            into.insert(id, Entry { written, file, replaced, spoilt, list });
        } else {
            // That it is named elsewhere is no second mistake.
            into.entry(id).or_insert(Entry { written, file, replaced: None, spoilt: true, list });
        }
    }

    /// Whether the id may be taken: new, or said to be replaced in the same section, itself or with the
    /// list that it is an option of.
    fn admit(&mut self, section: &'static str, id: &str, list: Option<&str>) -> bool {
        let laying = &mut *self.laying;
        if let Some(owner) = laying.owners.get(id) {
            let over = owner.layer < laying.layer;
            let replaceable = over && owner.section == section;
            let names = |id: &str| laying.replaces.iter().any(|named| named == id);
            let with_list =
                list.is_some_and(|list| owner.list.as_deref() == Some(list) && names(list));
            if replaceable && names(id) {
                laying.replaced.insert(id.to_owned());
            } else if !(replaceable && with_list) {
                let key = |file, section, list: Option<&str>| Place {
                    file,
                    route: route_in(section, id, list),
                    mark: Mark::Key,
                };
                laying.repeated.push(Repeated {
                    id: id.to_owned(),
                    replaceable,
                    again: key(self.file, section, list),
                    first: key(owner.file, owner.section, owner.list.as_deref()),
                    label: format!("first given here, in {}", owner.section),
                });
                if owner.section != section {
                    laying.contested.push(id.to_owned());
                }
                return false;
            }
        } else if section == "strengths"
            && laying.layer > 0
            && !laying.admit_strength(self.file, id)
        {
            return false;
        }
        let list = list.map(str::to_owned);
        let owner = Owner { section, file: self.file, layer: laying.layer, list };
        laying.owners.insert(id.to_owned(), owner);
        true
    }
}

pub(super) fn route(section: &str, id: &str) -> Route {
    vec![RouteStep::Key(section.to_owned()), RouteStep::Key(id.to_owned())]
}

/// The way to an entry, which may be an option of a list.
pub(super) fn route_in(section: &str, id: &str, list: Option<&str>) -> Route {
    let Some(list) = list else { return route(section, id) };
    let inside = ["answer", "any_of", id].map(|key| RouteStep::Key(key.to_owned()));
    route(section, list).into_iter().chain(inside).collect()
}

impl Stack {
    /// The pack that a file is part of, the lowest being 0.
    pub(super) fn layer(&self, file: usize) -> usize {
        self.layers.get(file).copied().unwrap_or_default()
    }

    /// An entry that could not be read at all still has its id, so that references to it are no
    /// second fault.
    fn keep_spoilt(&mut self, section: &str, id: &str, file: usize) {
        fn keep<T: Default>(entries: &mut Entries<T>, id: &str, file: usize) {
            entries.entry(id.to_owned()).or_insert_with(|| Entry {
                written: T::default(),
                file,
                replaced: None,
                spoilt: true,
                list: None,
            });
        }
        match section {
            "complaints" => keep(&mut self.complaints, id, file),
            "car_states" => keep(&mut self.car_states, id, file),
            "setups" => keep(&mut self.setups, id, file),
            "instruments" => keep(&mut self.instruments, id, file),
            "questions" => keep(&mut self.questions, id, file),
            "conditions" => keep(&mut self.conditions, id, file),
            "arguments" => keep(&mut self.arguments, id, file),
            "relations" => keep(&mut self.relations, id, file),
            "workings" => keep(&mut self.workings, id, file),
            "curves" => keep(&mut self.curves, id, file),
            "drawings" => keep(&mut self.drawings, id, file),
            "readings" => keep(&mut self.readings, id, file),
            "findings" => keep(&mut self.findings, id, file),
            "causes" => keep(&mut self.causes, id, file),
            "repairs" => keep(&mut self.repairs, id, file),
            "cautions" => keep(&mut self.cautions, id, file),
            "steps" => keep(&mut self.steps, id, file),
            "strengths" => keep(&mut self.strengths, id, file),
            "sources" => keep(&mut self.sources, id, file),
            "cases" => keep(&mut self.cases, id, file),
            _ => {}
        }
    }
}
