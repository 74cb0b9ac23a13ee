//! Small turns of phrase that several sections share.

use crate::quantity::typeset;
use crate::text::Clean;

/// A text as a page has it: safe to show, on one line, its units as people write them.
pub(in crate::report) fn set(text: impl AsRef<str>) -> Clean {
    Clean::line(typeset(text.as_ref()))
}

/// Minutes as people say them: `45 min`, `2 h 35 min`.
pub(in crate::report) fn duration(minutes: f64) -> String {
    let minutes = minutes.max(0.0).round();
    if minutes < 100.0 {
        return format!("{minutes:.0} min");
    }
    let (hours, rest) = ((minutes / 60.0).floor(), minutes % 60.0);
    if rest < 0.5 { format!("{hours:.0} h") } else { format!("{hours:.0} h {rest:.0} min") }
}

/// How many times, with the digits that count.
pub(in crate::report) fn times(times: f64) -> String {
    if times >= 10.0 {
        format!("{times:.0}")
    } else if times >= 0.1 {
        format!("{times:.1}")
    } else if times >= 0.01 {
        format!("{times:.2}")
    } else {
        "under 0.01".to_owned()
    }
}

/// A sentence without its full stop, to go on behind it.
pub(in crate::report) fn open_ended(sentence: &str) -> &str {
    sentence.trim_end().trim_end_matches('.')
}
