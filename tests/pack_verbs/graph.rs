//! `pack graph`: what is drawn, and that no foreign text gets out of its label.

use std::fs;
use std::io::{self, Write as _};
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use boostwright::rules::graph::{
    Edge, Graph, Lines, Network, Node, NodeMark, Shape, draw, graphviz, mermaid,
};
use boostwright::rules::{Loaded, PackSource, load};
use boostwright::text::Clean;
use proptest::collection::vec;
use proptest::prelude::{Strategy, any, prop_assert_eq, prop_oneof, proptest};
use proptest::sample::select;
use tempfile::TempDir;

use super::{alone, folder, outcome};

const RULES: &str = "\
complaints:
  too_high: {title: Boost too high, start: first}
questions:
  hose: {text: Is the hose whole?, answer: yes_or_no}
  clamp: {text: Is the clamp tight?, answer: yes_or_no}
findings:
  hose_open: {when: not hose, leak: 0.02, says: The hose is open.}
  clamp_loose: {when: not clamp, leak: 0.1}
causes:
  hose_off: {title: The hose is off, common: 4 in 100, brings: {hose_open: usually, clamp_loose: 0.33}}
  clamp_old: {title: The clamp is old, common: 0.1, brings: {clamp_loose: often}}
steps:
  first: {title: A first look, ask: [hose], then: [{when: hose_open, go: last}, {go: second}]}
  second: {ask_best_of: [clamp], until: clear, then: [{go: third}]}
  third: {ask: [clamp], then: [{go: last}]}
  last: {then: [{go: conclude}]}
";

fn rules() -> (TempDir, Loaded) {
    let folder = folder(RULES);
    let loaded = alone(folder.path());
    (folder, loaded)
}

fn ids(graph: &Graph) -> Vec<&str> {
    graph.nodes.iter().map(|node| node.id.as_str()).collect()
}

/// Edges by ids, with what stands at them.
fn edges(graph: &Graph) -> Vec<(&str, &str, &str)> {
    let id = |place: usize| graph.nodes[place].id.as_str();
    graph.edges.iter().map(|edge| (id(edge.from), id(edge.to), edge.text.as_str())).collect()
}

#[test]
fn the_steps_are_drawn_with_branches_in_their_order_and_questions() {
    let (_folder, loaded) = rules();
    let graph = draw(&loaded, None, None, Lines::Few).unwrap();
    assert_eq!(ids(&graph), ["first", "second", "third", "last", "conclude", "too_high"]);
    assert_eq!(
        edges(&graph),
        [
            ("too_high", "first", ""),
            ("first", "last", "1: hose_open"),
            ("first", "second", "else"),
            ("second", "third", ""),
            ("third", "last", ""),
            ("last", "conclude", ""),
        ]
    );
    assert_eq!(graph.nodes[0].texts, ["A first look", "(first)", "asks hose"]);
    assert_eq!(
        graph.nodes[1].texts,
        ["(second)", "asks the best of clamp", "until one cause is well ahead"]
    );
}

#[test]
fn causes_and_findings_are_drawn_with_their_strengths() {
    let (_folder, loaded) = rules();
    let graph = draw(&loaded, Some(Network::Causes), None, Lines::Few).unwrap();
    assert_eq!(ids(&graph), ["hose_off", "clamp_old", "hose_open", "clamp_loose"]);
    assert_eq!(
        edges(&graph),
        [
            ("hose_off", "hose_open", "usually 0.8"),
            ("hose_off", "clamp_loose", "0.33"),
            ("clamp_old", "clamp_loose", "often 0.5"),
        ]
    );
    assert_eq!(graph.nodes[0].texts, ["The hose is off", "(hose_off)", "common 0.04"]);
    assert_eq!(graph.nodes[2].texts, ["The hose is open.", "(hose_open)", "leak 0.02"]);
}

#[test]
fn around_an_entry_only_what_is_two_lines_away_is_drawn() {
    let (_folder, loaded) = rules();
    // The id alone tells the network.
    let graph = draw(&loaded, None, Some("hose_open"), Lines::Few).unwrap();
    assert_eq!(ids(&graph), ["hose_off", "hose_open", "clamp_loose"]);
    let marks: Vec<Option<NodeMark>> = graph.nodes.iter().map(|node| node.mark).collect();
    assert_eq!(marks, [None, Some(NodeMark::Centre), Some(NodeMark::Cut)]);
    let graph = draw(&loaded, None, Some("too_high"), Lines::Few).unwrap();
    assert_eq!(ids(&graph), ["first", "second", "last", "too_high"]);
    assert_eq!(edges(&graph).len(), 3);
}

#[test]
fn the_end_where_all_paths_meet_makes_no_neighbours() {
    let rules = "\
complaints: {too_high: {title: High, start: a}, too_low: {title: Low, start: b}}
steps: {a: {then: [{go: conclude}]}, b: {then: [{go: conclude}]}}
";
    let folder = folder(rules);
    let graph = draw(&alone(folder.path()), None, Some("a"), Lines::Few).unwrap();
    assert_eq!(ids(&graph), ["a", "conclude", "too_high"]);
    assert!(graph.nodes.iter().all(|node| node.mark != Some(NodeMark::Cut)));
}

#[test]
fn boxes_are_gathered_by_file() {
    let folder = folder(RULES);
    let more = "steps: {fourth: {then: [{go: first}]}}\n";
    fs::write(folder.path().join("steps.yaml"), more).unwrap();
    let graph = draw(&alone(folder.path()), None, None, Lines::Few).unwrap();
    let groups: Vec<&str> =
        graph.groups.iter().map(|name| name.rsplit('/').next().unwrap()).collect();
    assert_eq!(groups, ["rules.yaml", "steps.yaml"]);
    let group = |id: &str| graph.nodes.iter().find(|node| node.id == id).unwrap().group;
    assert_eq!((group("first"), group("fourth"), group("conclude")), (Some(0), Some(1), None));
}

#[test]
fn an_id_that_is_not_there_is_told_with_a_way_out() {
    let folder = folder(RULES);
    let say = |arguments: &[&str]| {
        let all = [&["pack", "graph", "--only", "."], arguments].concat();
        let (code, out, err) = outcome(folder.path(), &all);
        assert_eq!((code, out.as_str()), (2, ""));
        err
    };
    assert!(say(&["--around", "hose_of"]).contains("did you mean hose_off?"));
    assert!(say(&["--around", "hose_off", "--of", "steps"]).contains("no step or complaint"));
}

#[test]
fn a_faulty_pack_is_not_drawn() {
    let folder = folder(&RULES.replace("go: last}", "go: lost}"));
    let (code, out, err) = outcome(folder.path(), &["pack", "graph", "--only", "."]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("pack check"), "{err}");
}

#[test]
fn a_step_that_asks_dozens_names_a_few_until_it_is_looked_at() {
    let loaded = load(&[PackSource::BuiltIn]).unwrap();
    let longest = |graph: &Graph| {
        let lengths = graph.nodes.iter().flat_map(|node| &node.texts).map(|text| text.len());
        lengths.max().unwrap()
    };
    let (id, step) = loaded
        .pack
        .steps
        .iter()
        .map(|(place, step)| (loaded.pack.steps.id(place), step))
        .max_by_key(|(_, step)| step.ask.len())
        .unwrap();
    assert!(step.ask.len() > 20, "no long step to try");
    assert!(longest(&draw(&loaded, None, None, Lines::Few).unwrap()) < 400);
    let around = draw(&loaded, None, Some(id), Lines::Few).unwrap();
    let last = loaded.pack.questions.id(*step.ask.last().unwrap());
    assert!(around.nodes.iter().flat_map(|node| &node.texts).any(|text| text.contains(last)));
}

/// A pack in which each of 40 causes brings all of 8 findings, and one finding of its own, which
/// nothing else brings.
fn tangled() -> String {
    let mut rules =
        String::from("questions: {seen: {text: Seen?, answer: yes_or_no}}\nfindings:\n");
    for shared in 0..8 {
        rules.push_str(&format!("  shared_{shared}: {{when: seen, leak: 0.2}}\n"));
    }
    for cause in 0..40 {
        rules.push_str(&format!("  own_{cause}: {{when: seen, leak: 0.01}}\n"));
    }
    rules.push_str("causes:\n");
    for cause in 0..40 {
        let shared: String = (0..8).map(|shared| format!("shared_{shared}: 0.5, ")).collect();
        rules.push_str(&format!(
            "  cause_{cause}: {{title: A, common: 0.01, brings: {{{shared}own_{cause}: 0.9}}}}\n"
        ));
    }
    rules
}

#[test]
fn where_causes_bring_much_each_is_drawn_with_the_findings_that_tell_it_best() {
    let folder = folder(&tangled());
    let loaded = alone(folder.path());
    let draw = |lines| draw(&loaded, Some(Network::Causes), None, lines).unwrap();
    let (few, all) = (draw(Lines::Few), draw(Lines::All));
    assert_eq!((few.edges.len(), all.edges.len()), (80, 360));
    for cause in 0..40 {
        let (id, own) = (format!("cause_{cause}"), format!("own_{cause}"));
        assert!(edges(&few).iter().any(|edge| (edge.0, edge.1) == (&id, &own)), "{own}");
        let node = few.nodes.iter().find(|node| node.id == id).unwrap();
        assert_eq!(node.texts.last().unwrap(), "brings 7 more findings");
    }
    assert!(all.nodes.iter().flat_map(|node| &node.texts).all(|text| !text.contains("more")));
}

#[test]
fn around_an_entry_with_many_lines_only_its_own_are_drawn() {
    let folder = folder(&tangled());
    let loaded = alone(folder.path());
    let around = |lines| draw(&loaded, None, Some("shared_0"), lines).unwrap();
    let few = around(Lines::Few);
    assert_eq!(few.edges.len(), 40);
    assert!(edges(&few).iter().all(|edge| edge.1 == "shared_0"));
    assert_eq!(around(Lines::All).edges.len(), 360);
}

/// Whether Graphviz is there to be tried; where not, that is said past the test runner, which keeps
/// what a passing test prints to itself.
fn can_draw(test: &str) -> bool {
    let is_there = Command::new("dot").arg("-V").output().is_ok_and(|tried| tried.status.success());
    if !is_there {
        let mut out = io::stderr();
        writeln!(out, "{test}: skipped, dot is not installed").unwrap();
    }
    is_there
}

/// What Graphviz makes of a graph in some format.
fn drawn(graph: &Graph, format: &str) -> String {
    let folder = TempDir::new().unwrap();
    let (file, out) = (folder.path().join("graph.dot"), folder.path().join("out"));
    fs::write(&file, graphviz(graph).as_str()).unwrap();
    let mut dot = Command::new("dot")
        .arg(format!("-T{format}"))
        .arg("-o")
        .arg(&out)
        .arg(&file)
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let end = Instant::now() + MAX_DRAWING;
    while dot.try_wait().unwrap().is_none() {
        if Instant::now() > end {
            dot.kill().unwrap();
            panic!("not drawn in {MAX_DRAWING:?}");
        }
        sleep(Duration::from_millis(20));
    }
    let done = dot.wait_with_output().unwrap();
    let said = String::from_utf8_lossy(&done.stderr).into_owned();
    assert!(done.status.success() && said.is_empty(), "{said}");
    fs::read_to_string(out).unwrap()
}

/// Half a second is usual; the machine may be busy.
const MAX_DRAWING: Duration = Duration::from_secs(30);

#[test]
fn graphviz_reads_every_text() {
    if !can_draw("graphviz_reads_every_text") {
        return;
    }
    let hard = "a \" b \\\" c \\ d } ] ; // -> <b> &amp; # /* \\N \\";
    let plain = drawn(&two_boxes(hard, hard), "plain");
    let count = |word: &str| plain.lines().filter(|line| line.starts_with(word)).count();
    assert_eq!((count("node "), count("edge ")), (2, 1));
}

#[test]
fn graphviz_draws_the_built_in_pack() {
    if !can_draw("graphviz_draws_the_built_in_pack") {
        return;
    }
    let loaded = load(&[PackSource::BuiltIn]).unwrap();
    for network in [Network::Steps, Network::Causes] {
        let graph = draw(&loaded, Some(network), None, Lines::Few).unwrap();
        let svg = drawn(&graph, "svg");
        let count = |class: &str| svg.matches(&format!("class=\"{class}\"")).count();
        assert_eq!((count("node"), count("edge")), (graph.nodes.len(), graph.edges.len()));
    }
}

/// Foreign texts in every place that holds one.
fn two_boxes(title: &str, condition: &str) -> Graph {
    let node = |shape, group| Node {
        id: title.to_owned(),
        shape,
        group,
        texts: vec![title.to_owned(), "second text".to_owned()],
        mark: None,
    };
    Graph {
        sideways: false,
        groups: vec![title.to_owned()],
        nodes: vec![node(Shape::Step, Some(0)), node(Shape::Finding, None)],
        edges: vec![Edge { from: 0, to: 1, text: condition.to_owned(), weight: 0.5 }],
    }
}

/// Without blanks, which wrapping may move.
fn bare(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}

/// The texts in double quotes of a DOT file and what stands between them, read as the DOT language
/// says: within quotes a backslash and the letter behind it go together. Comments and `#` lines
/// outside of quotes would be passed over, so there must be none.
fn dot_labels(dot: &str) -> (Vec<String>, String) {
    let (mut labels, mut between) = (Vec::new(), String::new());
    let mut letters = dot.chars();
    while let Some(letter) = letters.next() {
        if letter != '"' {
            between.push(letter);
            continue;
        }
        let mut label = String::new();
        loop {
            match letters.next().expect("a label is never closed") {
                '"' => break,
                '\\' => match letters.next().expect("a label ends in a backslash") {
                    'n' => label.push('\n'),
                    sign @ ('"' | '\\') => label.push(sign),
                    other => panic!("\\{other} would be read as an escape"),
                },
                other => label.push(other),
            }
        }
        // Entities are read last, and only `&` is written as one.
        let parts: Vec<&str> = label.split('&').collect();
        let entities = parts.iter().skip(1).all(|part| part.starts_with("amp;"));
        assert!(entities, "an entity of a stranger's in {label}");
        labels.push(label.replace("&amp;", "&"));
        between.push('"');
    }
    (labels, between)
}

/// The same for Mermaid, whose quotes know no escape: only letters, digits, blanks, a few signs,
/// codes and line breaks of our own may stand in them.
fn mermaid_labels(text: &str) -> (Vec<String>, String) {
    let (mut labels, mut between) = (Vec::new(), String::new());
    for (place, part) in text.split('"').enumerate() {
        if place % 2 == 0 {
            between.push_str(part);
            continue;
        }
        between.push('"');
        let mut label = String::new();
        let part = part.replace("<br/>", "\n");
        let mut rest = part.as_str();
        while let Some(letter) = rest.chars().next() {
            rest = &rest[letter.len_utf8()..];
            if letter == '#' {
                let (code, behind) = rest.split_once(';').expect("a code ends in ;");
                label.push(char::from_u32(code.parse().unwrap()).unwrap());
                rest = behind;
            } else {
                let tame = letter.is_alphanumeric() || "\n ,?()_.-".contains(letter);
                assert!(tame, "{letter} stands in {part}");
                label.push(letter);
            }
        }
        labels.push(label);
    }
    (labels, between)
}

/// What ends labels, starts markup or drives a terminal, in one language or the other.
const HARD: [&str; 31] = [
    "\"",
    "\\",
    "\\\"",
    "\"]",
    "];",
    "\n",
    "\r\n",
    "\\N",
    "\\l",
    "&quot;",
    "&",
    "#34;",
    "#",
    ";",
    "<br/>",
    "<",
    ">",
    "`",
    "%%",
    "%%{init}%%",
    "end",
    "{",
    "}",
    "|",
    "-->",
    "//",
    "/*",
    "1. a",
    "style a: #1;",
    "\u{202e}",
    " ",
];

fn title() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        any::<char>().prop_map(String::from),
        select(HARD.as_slice()).prop_map(str::to_owned),
    ];
    vec(piece, 0..12).prop_map(|pieces| pieces.concat())
}

/// The texts of a drawing's labels without blanks, fonts left out, and what stands between them.
fn read(drawing: &str, labels: fn(&str) -> (Vec<String>, String)) -> (Vec<String>, String) {
    let (found, between) = labels(drawing);
    let found = found.iter().map(|label| bare(label)).filter(|label| label != "Helvetica");
    (found.collect(), between)
}

proptest! {
    #[test]
    fn no_text_gets_out_of_its_label(title in title()) {
        let (tame, graph) = (two_boxes("tame", "tame"), two_boxes(&title, &title));
        let shown = bare(&Clean::line(&title));
        let in_box = format!("{shown}secondtext");
        for (found, as_ever) in [
            (read(&graphviz(&graph), dot_labels), read(&graphviz(&tame), dot_labels)),
            (read(&mermaid(&graph), mermaid_labels), read(&mermaid(&tame), mermaid_labels)),
        ] {
            let boxes = found.0.iter().filter(|text| **text == in_box).count();
            prop_assert_eq!(boxes, 2);
            // A line without a text has no label.
            if !shown.is_empty() {
                prop_assert_eq!(found.0, [&shown, &in_box, &in_box, &shown].map(String::clone));
                prop_assert_eq!(found.1, as_ever.1);
            }
        }
    }
}
