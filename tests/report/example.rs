//! A conclusion with everything in it, on an invented car: each text that a pack or a person could
//! have written can be swapped for another.

use boostwright::interview::Origin;
use boostwright::report::drawing::{Drawing, PlotMark, Spot, SpotValues};
use boostwright::report::model::{
    AlternativeLine, AnswerLine, Basis, CauseLine, CautionLine, Conclusion, CurveLine, DoubtLine,
    FigureLine, GapCode, Ids, InferenceCode, InferenceLine, Named, NarrowingLine, ReasonLine,
    RefusedLine, RowLine, SetLine, ShareLine, Shown, SizeLine, VerdictLine, WorkKind, WorkLine,
    WorkingLine,
};
use boostwright::report::scale_drawing::{Point, ScaleDrawing, ScaleForm, ScaleShape};
use boostwright::rules::Stroke;
use boostwright::text::Clean;

/// The example as its author wrote it.
pub(super) fn example() -> Conclusion {
    written(&str::to_owned)
}

/// A port of 24 mm.
fn drawing(foreign: &dyn Fn(&str) -> String) -> ScaleDrawing {
    ScaleDrawing {
        // Letters, digits and _, as every id.
        id: "port".to_owned(),
        title: Clean::line(foreign("The port")),
        about: Some(Clean::line(foreign("Seen from the pipe."))),
        shapes: vec![ScaleShape {
            form: ScaleForm::Circle { at: Point { x: 0.0, y: 0.0 }, diameter: 24.0 },
            stroke: Stroke::Thick,
            label: Some(Clean::line(foreign("new port"))),
        }],
    }
}

/// The example with every text of a stranger put through `foreign`.
#[expect(clippy::too_many_lines, reason = "one literal")]
pub(super) fn written(foreign: &dyn Fn(&str) -> String) -> Conclusion {
    let question = |id: &str, text: &str| Named { id: foreign(id), text: foreign(text) };
    let caution = |id: &str, level: &str, text: &str, in_force| CautionLine {
        id: foreign(id),
        level: level.to_owned(),
        text: foreign(text),
        in_force,
    };
    let reason = |says: &str, times, holds| ReasonLine {
        finding: foreign("a_finding"),
        times,
        holds,
        probability: Some(if holds { 0.9 } else { 0.1 }),
        earlier: false,
        says: foreign(says),
    };
    let answer = |id: &str, text: &str, shown: &str, sources: &[&str]| {
        let sources: Vec<String> = sources.iter().map(|source| foreign(source)).collect();
        AnswerLine {
            id: foreign(id),
            text: foreign(text),
            shown: foreign(shown),
            source: sources.join("; "),
            sources,
        }
    };
    Conclusion {
        complaint: Ids::One(foreign("boost_creeps")),
        complaint_titles: vec![foreign("Boost creeps up")],
        round: 2,
        supposed: vec![foreign("peak_boost=0.9 bar")],
        next_question: Some(question("flap_lift", "How far does the flap lift?")),
        open_questions: vec![foreign("flap_lift"), foreign("rod_travel")],
        cautions: vec![
            caution("lean", "stop", "The mixture is lean. No more pulls until it is mended.", true),
            caution("stands", "danger", "Stands on firm ground, wheels chocked.", false),
            caution("eyes", "care", "Goggles on.", false),
        ],
        causes: vec![
            CauseLine {
                id: foreign("port_small"),
                title: foreign("Port too small"),
                probability: 0.62,
                speaks_for: vec![
                    reason("Not seen before.", Some(2.0), false),
                    reason("Boost climbs with speed.", Some(3.24), true),
                    reason("Too weak to mention.", Some(1.1), true),
                ],
                against: vec![reason("The rod stops early.", Some(0.4), true)],
                weaker: 0,
                about: None,
                confirmed_by: vec![question("port", "Diameter of the port")],
            },
            CauseLine {
                id: foreign("rod_seized"),
                title: foreign("Rod seized"),
                probability: 0.31,
                speaks_for: vec![reason("The rod does not move.", None, true)],
                against: Vec::new(),
                weaker: 0,
                about: None,
                confirmed_by: Vec::new(),
            },
            CauseLine {
                id: foreign("hose_off"),
                title: foreign("Hose off"),
                probability: 0.004,
                speaks_for: Vec::new(),
                against: Vec::new(),
                weaker: 0,
                about: None,
                confirmed_by: Vec::new(),
            },
        ],
        likely_sets: vec![
            SetLine {
                causes: vec![foreign("port_small")],
                titles: vec![foreign("Port too small")],
                probability: 0.5,
            },
            SetLine {
                causes: vec![foreign("port_small"), foreign("rod_seized")],
                titles: vec![foreign("Port too small"), foreign("Rod seized")],
                probability: 0.12,
            },
        ],
        workshop_check: Some(question("rod_alone_moves", "Does the rod move alone?")),
        next_work: vec![
            WorkLine {
                leaves_as_is: false,
                kind: WorkKind::Check,
                id: foreign("flap_lift"),
                minutes: 15.0,
                chance: 0.02,
                expect: foreign("6 mm or more"),
                title: foreign("How far does the flap lift?"),
                how: Some(foreign("Open the gate with air and measure.")),
                tools: vec![foreign("regulated air"), foreign("steel rule")],
                parts: Vec::new(),
                cautions: vec![foreign("axle_stands")],
                made_for: Some(question("open_the_port", "Open the port")),
                after_check: None,
                alternatives: Vec::new(),
                sizes: Vec::new(),
                missing: Vec::new(),
            },
            WorkLine {
                leaves_as_is: false,
                kind: WorkKind::Repair,
                id: foreign("open_the_port"),
                minutes: 240.0,
                chance: 0.56,
                expect: foreign("peak boost 0.62 bar (0.55 to 0.70 bar)"),
                title: foreign("Open the port"),
                how: None,
                tools: Vec::new(),
                parts: vec![foreign("gasket")],
                cautions: Vec::new(),
                made_for: None,
                after_check: Some(question("flap_lift", "How far does the flap lift?")),
                sizes: vec![SizeLine {
                    id: "rod_turns".into(),
                    title: foreign("turns of the rod"),
                    shown: Shown {
                        best: "2.5".into(),
                        value: "2.5 ± 0.5".into(),
                        band: Some("1.5 to 3.5".into()),
                    },
                }],
                missing: vec![question("wall", "How thick is the wall?")],
                alternatives: vec![AlternativeLine {
                    id: foreign("accept_a_higher_base"),
                    title: foreign("Accept the boost that the gate can hold"),
                    minutes: 20.0,
                    mends: false,
                }],
            },
        ],
        planned: Vec::new(),
        only_planned: false,
        verdict: Some(VerdictLine {
            told: None,
            by_word: false,
            forecast_now: Some(figure("0.70 bar", "0.66 to 0.74 bar")),
            verdict: "better".to_owned(),
            probability: 0.93,
            before: Some(figure("0.92 bar", "0.90 to 0.94 bar")),
            after: Some(figure("0.71 bar", "0.69 to 0.73 bar")),
            predicted: Some(figure("0.62 bar", "0.55 to 0.69 bar")),
            repair: Some(question("free_the_rod", "Free the rod")),
            judged_by: Some(foreign("peak_boost")),
            judged_by_title: Some(foreign("Highest boost")),
            model_held: Some(false),
            expected_reading: Some(figure("0.62 bar", "0.54 to 0.70 bar")),
            chance: Some(0.025),
            because: None,
            because_text: None,
        }),
        new_since_repair: Vec::new(),
        denied: Vec::new(),
        doubts: vec![DoubtLine {
            answers: vec![question("needle", "What does the needle do?")],
            lead: foreign("rod_seized"),
            lead_title: foreign("Rod seized"),
            probability: 0.55,
            fits: 0.1,
        }],
        clear: false,
        standing_clear: Vec::new(),
        workings: vec![working(foreign), on_typical_values_alone(foreign)],
        narrowing: vec![NarrowingLine {
            id: "port_diameter".to_owned(),
            title: "port diameter".to_owned(),
            assumed: false,
            narrower: 0.12,
            most: "opening_margin".to_owned(),
            most_title: "Opening margin".to_owned(),
            most_narrower: 0.4,
        }],
        refused: vec![RefusedLine {
            id: foreign("turbine_area"),
            title: foreign("Area of the turbine"),
            code: GapCode::Refused,
            reason: foreign("pressure: it must stand above the back pressure"),
        }],
        readings: Vec::new(),
        curves: vec![curve(foreign)],
        drawings: vec![drawing(foreign)],
        findings: Vec::new(),
        answers: vec![
            answer("peak_boost", "What is the highest boost?", "0.92 ± 0.02 bar", &[]),
            answer("needle", "What does the needle do?", "it climbs", &[]),
        ],
        assumptions: vec![answer(
            "discharge",
            "Discharge coefficient of the gate",
            "0.75 ± 0.08",
            &["A study of gates (doi 10.1/2)"],
        )],
        not_known: vec![question("hose", "Where does the hose start?")],
        put_back: vec![foreign("Unhook the wire, hook the rod on again.")],
        contradiction: Some(vec![foreign("gauge"), foreign("sticks")]),
        clashing: vec![answer("gauge", "Does the gauge read zero?", "yes", &[])],
        inference: InferenceLine {
            exact: false,
            left_out: 0.013,
            rests_on: InferenceCode::Pairs,
            rests_on_text: "the likeliest sets".to_owned(),
        },
        left_out: None,
        internal_error: None,
    }
}

fn figure(best: &str, band: &str) -> FigureLine {
    FigureLine {
        value: 0.0,
        unit: "Pa".to_owned(),
        standard_uncertainty: 0.0,
        low: 0.0,
        high: 0.0,
        shown: Shown { best: best.to_owned(), value: best.to_owned(), band: Some(band.to_owned()) },
    }
}

fn working(foreign: &dyn Fn(&str) -> String) -> WorkingLine {
    let sources = vec![foreign("A study of gates (doi 10.1/2)"), foreign("A textbook (3.2)")];
    WorkingLine {
        id: foreign("creep"),
        title: foreign("Lowest boost that the port can hold"),
        value: 62_000.0,
        unit: "Pa".to_owned(),
        standard_uncertainty: 4_000.0,
        low: 55_000.0,
        high: 69_000.0,
        basis: Some(Basis {
            band_from: "first_order".to_owned(),
            effective_draws: None,
            formula: foreign("creep(port_area, top_speed, discharge, leak)"),
            formula_in_short: foreign("creep(port_area, top_speed, discharge, … 1 more)"),
            with_numbers: None,
            source: sources.join("; "),
            assumed: vec![foreign("discharge")],
            widest: vec![
                share(foreign("Discharge coefficient of the gate"), 0.8, true),
                share(foreign("port diameter"), 0.15, false),
                share(foreign("leak"), 0.05, false),
            ],
        }),
        origin: Some(Origin::Sum {
            words: foreign("creep of port area"),
            numbers: foreign("62 kPa"),
        }),
        sources,
        rests_on_answers: true,
        shown: Shown {
            best: "0.62 bar".to_owned(),
            value: "0.62 ± 0.04 bar".to_owned(),
            band: Some("0.55 to 0.69 bar".to_owned()),
        },
        says: Some(foreign("This port holds 0.62 ± 0.04 bar at the top.")),
        headline: foreign("This port holds 0.62 bar (0.55 to 0.69 bar) at the top."),
        named: true,
        step: None,
    }
}

/// A working that no answer stands below: it says nothing about this car.
fn on_typical_values_alone(foreign: &dyn Fn(&str) -> String) -> WorkingLine {
    WorkingLine {
        title: foreign("Never shown"),
        says: Some(foreign("Never shown.")),
        headline: foreign("Never shown."),
        rests_on_answers: false,
        ..working(foreign)
    }
}

fn share(title: String, share: f64, assumed: bool) -> ShareLine {
    ShareLine { id: title.clone(), title, share, assumed }
}

fn curve(foreign: &dyn Fn(&str) -> String) -> CurveLine {
    let spot = |at: f64, values: Option<[f64; 3]>| Spot {
        at,
        values: values.map(|[value, low, high]| SpotValues { value, low, high }),
    };
    let row = |at: &str, value: &str, band: &str| RowLine {
        at: at.to_owned(),
        value: foreign(value),
        band: band.to_owned(),
    };
    CurveLine {
        id: foreign("boost_by_port"),
        title: foreign("Boost against port"),
        over: foreign("port"),
        over_unit: "m".to_owned(),
        unit: "Pa".to_owned(),
        shown_over_unit: "mm".to_owned(),
        shown_unit: "bar".to_owned(),
        points: Vec::new(),
        shown_rows: vec![
            row("16 mm", "the gate can't pass so much", ""),
            row("20 mm", "0.90 bar", "0.80 to 1.00 bar"),
            row("24 mm", "0.60 bar", "0.50 to 0.70 bar"),
            row("28 mm", "0.50 bar", "0.40 to 0.60 bar"),
        ],
        drawing: Drawing {
            along: Clean::line(foreign("port in mm")),
            across: "bar".into(),
            spots: vec![
                spot(16.0, None),
                spot(20.0, Some([0.9, 0.8, 1.0])),
                spot(24.0, Some([0.6, 0.5, 0.7])),
                spot(28.0, Some([0.5, 0.4, 0.6])),
            ],
            marks: vec![
                PlotMark {
                    title: Clean::line(foreign("as it is, 21 mm")),
                    at: 21.0,
                    value: Some(0.92),
                },
                PlotMark { title: Clean::line(foreign("planned, 26 mm")), at: 26.0, value: None },
            ],
        },
        source: foreign("A textbook (3.2)"),
        sources: vec![foreign("A textbook (3.2)")],
    }
}
