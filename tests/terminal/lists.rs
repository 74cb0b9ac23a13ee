//! Questions of whose options any number may be true: an invented pack, small enough to reckon by hand.

use boostwright::interview::{Answer, Round, State, fold, read_answer};
use boostwright::report::{conclude, json, plan, sheet_text, text};
use boostwright::rules::{Given, Loaded, Pack, PackSource, load};
use boostwright::session::read_session_text;

use super::garage::{Held, Memory, go_on, talk};

const RULES: &str = "
pack: {name: invented}
complaints:
  low: {title: Boost too low, start: look}
questions:
  noises:
    text: Which of these can be heard?
    answer:
      any_of:
        hiss: a hiss under boost
        whine: a whine that rises with the engine
        rattle: a rattle at idle
    minutes: 1
    source: [book]
  shaft_loose:
    text: Does the shaft feel loose?
    answer: yes_or_no
    not_before: [whine]
steps:
  look: {ask: [noises, shaft_loose], then: [{go: conclude}]}
findings:
  hisses: {when: hiss, says: It hisses., leak: 0.1}
  whines: {when: whine, says: It whines., leak: 0.2}
  rattles: {when: rattle, says: It rattles., leak: 0.2}
  is_loose: {when: shaft_loose, says: It is loose., leak: 0.1}
causes:
  split_hose: {title: Hose split, common: 0.2, brings: {hisses: 0.8}, confirmed_by: [hiss], source: [book]}
  worn_shaft:
    title: Shaft worn
    common: 0.1
    brings: {whines: 0.5, rattles: 0.25, is_loose: 0.8}
    confirmed_by: [whine]
    source: [book]
repairs:
  new_hose: {title: New hose, mends: [split_hose], invalidates: [hiss]}
  new_turbo: {title: New turbo, mends: [worn_shaft]}
sources:
  book: {title: Invented}
";

fn load_all(packs: &[&str]) -> Loaded {
    let folders: Vec<tempfile::TempDir> = packs
        .iter()
        .map(|rules| {
            let folder = tempfile::tempdir().unwrap();
            std::fs::write(folder.path().join("rules.yaml"), rules).unwrap();
            folder
        })
        .collect();
    let sources: Vec<PackSource> =
        folders.iter().map(|folder| PackSource::Folder(folder.path().to_path_buf())).collect();
    load(&sources).unwrap()
}

fn faults(packs: &[&str]) -> String {
    load_all(packs).faults.draw(false).join("\n")
}

fn pack() -> Pack {
    let loaded = load_all(&[RULES]);
    let drawn = loaded.faults.draw(false);
    assert!(drawn.is_empty(), "{}", drawn.join("\n"));
    loaded.pack
}

fn rounds(pack: &Pack, answers: &str) -> Vec<Round> {
    let file = format!("complaint: low\nanswers: {answers}\n");
    let (session, _) = read_session_text("invented", file).unwrap();
    let mut round = Round { complaints: pack.complaints.indices().collect(), ..Round::default() };
    round.read_answers(pack, &session.rounds[0].answers).unwrap();
    vec![round]
}

fn state<'p>(pack: &'p Pack, answers: &str) -> State<'p> {
    fold(pack, &rounds(pack, answers), None)
}

/// The chances of the hose and of the shaft.
fn chances(answers: &str) -> [f64; 2] {
    let pack = pack();
    let state = state(&pack, answers);
    [0, 1].map(|cause| state.ranked.probabilities()[cause])
}

#[track_caller]
fn assert_near(found: [f64; 2], wanted: [f64; 2]) {
    let near = found.iter().zip(wanted).all(|(found, wanted)| (found - wanted).abs() < 1e-9);
    assert!(near, "{found:?}, not {wanted:?}");
}

#[test]
fn what_is_picked_is_true_what_is_not_is_false_and_what_nobody_answered_is_not_known() {
    // By hand. Split hose: 0.2 · 0.82 to 0.8 · 0.1 with the hiss, 0.2 · 0.18 to 0.8 · 0.9 without. Worn
    // shaft: whine and rattle missing weigh 0.4 · 0.6 to 0.8 · 0.8; the whine alone 0.6 · 0.6 to 0.2 · 0.8.
    let hiss = 0.164 / (0.164 + 0.08);
    let no_hiss = 0.036 / (0.036 + 0.72);
    let neither = 0.1 * 0.24 / (0.1 * 0.24 + 0.9 * 0.64);
    let whine_alone = 0.1 * 0.36 / (0.1 * 0.36 + 0.9 * 0.16);
    assert_near(chances("{noises: [hiss]}"), [hiss, neither]);
    assert_near(chances("{noises: 'hiss, whine'}"), [hiss, whine_alone]);
    assert_near(chances("{noises: none}"), [no_hiss, neither]);
    assert_near(chances("{noises: []}"), [no_hiss, neither]);
    assert_near(chances("{noises: unknown}"), [0.2, 0.1]);
    // An option by itself leaves the others open; given after the list it counts, before it not.
    assert_near(chances("{hiss: yes}"), [hiss, 0.1]);
    assert_near(chances("{noises: [hiss], whine: yes}"), [hiss, whine_alone]);
    assert_near(chances("{whine: yes, noises: [hiss]}"), [hiss, neither]);
}

#[test]
fn options_are_asked_with_their_list_and_what_waits_for_one_waits_for_a_yes_to_it() {
    let pack = pack();
    let next = |answers: &str| {
        state(&pack, answers).walk.next.map(|next| pack.questions.id(next.question).to_owned())
    };
    assert_eq!(next("{}").as_deref(), Some("noises"));
    assert_eq!(next("{noises: [whine]}").as_deref(), Some("shaft_loose"));
    assert_eq!(next("{noises: [hiss]}"), None);
    assert_eq!(next("{noises: later}").as_deref(), Some("noises"));
    let open = pack.questions.ids_at(&state(&pack, "{}").open);
    assert_eq!(open, ["noises", "shaft_loose"], "no option stands there by itself");
}

#[test]
fn a_repair_that_makes_an_option_stale_makes_its_list_stale() {
    let pack = pack();
    let mut rounds = rounds(&pack, "{noises: [hiss]}");
    rounds.push(Round { repair: pack.repairs.find("new_hose"), ..Round::default() });
    let held = fold(&pack, &rounds, None).facts.held;
    assert!(held.is_empty(), "{held:?}");
}

#[test]
fn several_numbers_in_one_line_are_several_options() {
    let given = |line: &str| talk(&pack(), &[line, "s"]).memory.lines();
    for line in ["1 3", "1,3", " 3, 1 ", "1 and 3", "3 1 3", "1;3"] {
        assert_eq!(given(line), ["noises=[hiss, rattle]"], "{line}");
    }
    for line in ["0", "none", "None of these"] {
        assert_eq!(given(line), ["noises=none"], "{line}");
    }
    assert_eq!(given("c"), ["noises=unknown"]);
    assert_eq!(given("l"), ["noises=later"]);
}

#[test]
fn a_number_that_is_not_there_or_half_a_word_takes_nothing() {
    for line in ["4", "1 4", "0 1", "1 x", "-1", "1-3", "99999999999999999999"] {
        let held = talk(&pack(), &[line, "2", "s"]);
        assert!(held.says("is not one of the choices"), "{line}: {}", held.said);
        assert_eq!(held.memory.lines(), ["noises=[whine]"], "{line}");
    }
}

#[test]
fn who_goes_back_finds_the_options_picked_and_keeps_them_with_enter() {
    let held = talk(&pack(), &["1 2", "b", "", "s"]);
    assert_eq!(held.memory.lines(), ["noises=[hiss, whine]"], "{}", held.said);
    assert!(held.says("It hisses. It whines."), "what each means is said: {}", held.said);
}

#[test]
fn the_prompt_says_how_none_is_said() {
    let Held { said, .. } = talk(&pack(), &["s"]);
    assert!(said.contains("0 for none of these"), "{said}");
}

#[test]
fn a_list_reads_well_on_paper_and_in_the_conclusion() {
    let pack = pack();
    let state = state(&pack, "{noises: [hiss, rattle]}");
    let conclusion = conclude(&state, None);
    let shown = text(&conclusion, 120);
    assert!(shown.contains("a hiss under boost; a rattle at idle"), "{shown}");
    assert_eq!(shown.matches("Which of these can be heard?").count(), 1, "{shown}");
    assert!(json(&conclusion).contains("a hiss under boost; a rattle at idle"));
    let open = fold(&pack, &rounds(&pack, "{}"), None);
    let sheet = sheet_text(&open, &plan(&open), ("invented", None), 120);
    assert!(sheet.contains("a whine that rises with the engine (whine)"), "{sheet}");
    assert!(sheet.contains("[ ] none of these (none)"), "{sheet}");
}

#[test]
fn a_list_given_where_none_is_taken_is_refused_with_a_way_out() {
    let pack = pack();
    let refused = |id: &str, given: Given| {
        let question = &pack.questions[pack.questions.find(id).unwrap()];
        read_answer(&pack, question, &given).unwrap_err().to_string()
    };
    let list = Given::Picked(vec!["hiss".to_owned()]);
    assert!(refused("shaft_loose", list).contains("not a list"));
    assert!(refused("noises", Given::Text("his".to_owned())).contains("did you mean hiss?"));
    assert!(refused("noises", Given::Text(String::new())).contains("hiss, whine, rattle"));
    let question = &pack.questions[pack.questions.find("noises").unwrap()];
    let none = read_answer(&pack, question, &Given::Text("none".to_owned()));
    assert_eq!(none, Ok(Answer::Picked(Vec::new())));
}

#[test]
fn mistakes_in_a_list_are_told_where_they_stand() {
    let one = RULES.replace(
        "        whine: a whine that rises with the engine\n        rattle: a rattle at idle\n",
        "",
    );
    assert!(faults(&[&one]).contains("2 to 20 options, not 1"));
    let taken = RULES.replace("        rattle: a rattle", "        hisses: a rattle");
    let told = faults(&[&taken]);
    assert!(told.contains("the id hisses is taken") && told.contains("hisses: a rattle"), "{told}");
    let unread = RULES.replace("  hisses: {when: hiss,", "  hisses: {when: whine,");
    assert!(faults(&[&unread]).contains("hiss: a hiss under boost"), "{}", faults(&[&unread]));
}

#[test]
fn a_pack_that_replaces_a_list_replaces_its_options_with_it() {
    let over = "pack: {name: over, replaces: [noises]}\nquestions:\n  noises:\n    text: Which?\n    \
                answer: {any_of: {hiss: a hiss, whine: a whine, rattle: a rattle, clatter: a clatter}}\n    \
                minutes: 1\nfindings:\n  clatters: {when: clatter, says: It clatters., leak: 0.1}\n";
    let loaded = load_all(&[RULES, over]);
    assert!(!loaded.faults.any_error(), "{}", loaded.faults.draw(false).join("\n"));
    let noises = loaded.pack.questions.find("noises").unwrap();
    assert_eq!(loaded.pack.options_of(noises).len(), 4);
    let memory = Memory::default();
    assert_eq!(go_on(&loaded.pack, memory, &["4", "s"]).memory.lines(), ["noises=[clatter]"]);
}
