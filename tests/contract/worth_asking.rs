//! Which question is asked of several: what tells most for its minutes, what could show a danger, and when
//! asking ends.

use super::bench::{Bench, ids, next};

/// Three causes; questions that tell them apart more or less well, in more or less time.
const NARROW: &str = "
complaints:
  too_high: {title: Boost too high, start: narrow, shows: [high]}
questions:
  seen: {text: Boost high?, answer: yes_or_no}
  slow: {text: A telling test that takes long, answer: yes_or_no, minutes: 180}
  quick: {text: The same test but quick, answer: yes_or_no, minutes: 10}
  weak: {text: A weak test, answer: yes_or_no, minutes: 10}
  idle: {text: A test of something else, answer: yes_or_no, minutes: 1}
findings:
  high: {when: seen, leak: 0}
  slow_told: {when: slow, leak: 0.02}
  quick_told: {when: quick, leak: 0.02}
  weak_told: {when: weak, leak: 0.4}
  idle_told: {when: idle, leak: 0.5}
causes:
  first: {title: First, common: 0.1, brings: {high: 0.9, slow_told: 0.95, quick_told: 0.95, weak_told: 0.5}}
  second: {title: Second, common: 0.1, brings: {high: 0.9}}
steps:
  narrow:
    ask_best_of: [slow, weak, quick, idle]
    until: clear
    then: [{go: conclude}]
";

#[test]
fn the_question_that_tells_most_for_its_minutes_is_asked_first() {
    let bench = Bench::new(NARROW);
    let told = bench.replay("complaint: too_high\nanswers: {}\n");
    assert_eq!(next(&told), Some("quick"));
    let told = bench.replay("complaint: too_high\nanswers: {quick: unknown}\n");
    assert_eq!(next(&told), Some("weak"));
}

#[test]
fn the_dearer_asking_is_the_more_telling_question_comes_first() {
    let dear = format!("pack: {{asking: 40}}\n{NARROW}");
    let told =
        Bench::new(&dear).replay("complaint: too_high\nanswers: {quick: unknown, idle: no}\n");
    assert_eq!(next(&told), Some("slow"));
}

#[test]
fn what_could_bring_a_stop_caution_is_asked_first() {
    let stop = "cautions:\n  stop: {level: stop, when: not idle, text: Stop.}\n";
    let told = Bench::new(&format!("{NARROW}{stop}")).replay("complaint: too_high\nanswers: {}\n");
    assert_eq!(next(&told), Some("idle"));
}

#[test]
fn what_could_only_stop_together_with_another_answer_waits_for_that_answer() {
    let pack = |when: &str| {
        format!("{NARROW}cautions:\n  stop: {{level: stop, when: {when}, text: Stop.}}\n")
    };
    let due = |when: &str, answers: &str| {
        let told = Bench::new(&pack(when))
            .replay(&format!("complaint: too_high\nanswers: {{{answers}}}\n"));
        next(&told).map(str::to_owned)
    };
    let both = "not idle and weak";
    assert_eq!(due(both, ""), Some("quick".to_owned()));
    assert_eq!(due(both, "weak: no"), Some("quick".to_owned()));
    assert_eq!(due(both, "weak: yes"), Some("idle".to_owned()));
    assert_eq!(due("not idle or weak", ""), Some("weak".to_owned()));
    assert_eq!(due("not (idle or weak)", "weak: no"), Some("idle".to_owned()));
    // In force already: no further answer brings it.
    assert_eq!(due("not idle or weak", "weak: yes"), Some("quick".to_owned()));
}

#[test]
fn what_could_only_stop_a_repair_waits_its_turn() {
    let stop = "repairs:\n  renew: {title: Renew it, mends: [second]}\n\
                cautions:\n  stop: {level: stop, when: not idle, text: Stop., forbids: [renew]}\n";
    let told = Bench::new(&format!("{NARROW}{stop}")).replay("complaint: too_high\nanswers: {}\n");
    assert_eq!(next(&told), Some("quick"));
}

#[test]
fn asking_ends_when_the_lead_stands_clear() {
    let told = Bench::new(NARROW).replay("complaint: too_high\nanswers: {quick: yes, slow: yes}\n");
    assert_eq!(next(&told), None);
    assert!(ids(&told, "open_questions").contains(&"weak"));
}

#[test]
fn a_step_until_clear_asks_no_more_once_the_lead_stands_clear() {
    let in_order =
        NARROW.replace("ask_best_of: [slow, weak, quick, idle]", "ask: [quick, slow, weak, idle]");
    let clear = "complaint: too_high\nanswers: {quick: yes, slow: yes}\n";
    assert_eq!(next(&Bench::new(&in_order).replay(clear)), None);
    // Without the word the step asks all it has.
    let all = in_order.replace("    until: clear\n", "");
    assert_eq!(next(&Bench::new(&all).replay(clear)), Some("weak"));
    // What could show a danger is asked all the same.
    let stop = "cautions:\n  stop: {level: stop, when: not idle, text: Stop.}\n";
    let told = Bench::new(&format!("{in_order}{stop}")).replay(clear);
    assert_eq!(next(&told), Some("idle"));
}

/// A branch that is not taken, behind which a question stands that tells the two causes apart.
const BRANCHED: &str = "
complaints:
  too_high: {title: Boost too high, start: fork, shows: [high]}
questions:
  seen: {text: Boost high?, answer: yes_or_no}
  which_way: {text: Which way?, answer: yes_or_no}
  aside: {text: A telling test, answer: yes_or_no}
findings:
  high: {when: seen, leak: 0}
  turned: {when: which_way, leak: 0.5}
  aside_told: {when: aside, leak: 0.02}
causes:
  first: {title: First, common: 0.1, brings: {high: 0.9, aside_told: 0.95}}
  second: {title: Second, common: 0.1, brings: {high: 0.9}}
steps:
  fork: {ask: [seen, which_way], then: [{when: turned, go: side}, {go: conclude}]}
  side: {ask: [aside], then: [{go: conclude}]}
";

#[test]
fn where_the_steps_settle_nothing_what_tells_the_causes_apart_is_asked() {
    let bench = Bench::new(BRANCHED);
    let told = bench.replay("complaint: too_high\nanswers: {seen: yes, which_way: no}\n");
    assert_eq!(next(&told), Some("aside"));
    assert!(ids(&told, "open_questions").contains(&"aside"));
}

#[test]
fn whoever_cannot_say_most_of_it_is_not_asked_on() {
    let bench = Bench::new(BRANCHED);
    let told = bench.replay("complaint: too_high\nanswers: {seen: yes, which_way: unknown}\n");
    assert_eq!(next(&told), None);
}
