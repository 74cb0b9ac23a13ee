//! A conclusion does not depend on how many threads work it out.

use boostwright::interview::fold;
use boostwright::report::{conclude, json};
use rayon::ThreadPoolBuilder;

use super::recording::Recording;
use crate::built_in::built_in;

/// Four threads also where there are fewer cores, so that those that wait take up other work.
#[test]
fn one_thread_and_four_conclude_the_same() {
    for name in ["port_too_small", "port_planned"] {
        let recording = Recording::of(name);
        let (pack, rounds) = (built_in(), &recording.rounds);
        let on = |threads: usize| {
            let pool = ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            pool.install(|| {
                json(&conclude(&fold(pack, rounds, None), rounds.last().and_then(|r| r.repair)))
            })
        };
        let alone = on(1);
        for _ in 0..3 {
            assert_eq!(on(4), alone, "{name}");
        }
    }
}
