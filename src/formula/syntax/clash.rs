//! Kinds that don't go together, and things that are of no kind at all.

use crate::quantity::Kind;

/// Why two kinds don't go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clash {
    WrongDimension { wanted: Kind },
    WrongReading { wanted: Kind },
    GaugeForAbsolute,
    AbsoluteForGauge,
    PointForDifference,
    ComparedDimensions,
    ComparedReadings,
    AddedDimensions,
    AddedReadings,
    ReadingFromDifference,
    GaugeWithAbsolute,
    PowersTooLarge,
    TorqueTimesRotation,
    PowerOfUnit,
}

/// What stands where something else is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Found {
    Number,
    Truth,
    Choice,
    Table,
}

impl Clash {
    pub(super) fn message(self) -> &'static str {
        match self {
            Self::WrongDimension { .. } => "wrong dimension",
            Self::WrongReading { .. } => "wrong kind",
            Self::GaugeForAbsolute => "gauge where absolute is wanted",
            Self::AbsoluteForGauge => "absolute where gauge is wanted",
            Self::PointForDifference => "a temperature where a difference is wanted",
            Self::ComparedDimensions | Self::AddedDimensions => "the two sides differ in dimension",
            Self::ComparedReadings => "a difference meets a reading on a scale",
            Self::AddedReadings => "two readings on a scale can't be added",
            Self::ReadingFromDifference => "a reading can't be taken from a difference",
            Self::GaugeWithAbsolute => "gauge and absolute pressure meet",
            Self::PowersTooLarge => "the powers of the units grow too large",
            Self::TorqueTimesRotation => {
                "torque times speed of rotation is not power: a turn is 2π radians"
            }
            Self::PowerOfUnit => "a quantity with a unit can't be raised to this power",
        }
    }

    pub(super) fn help(self) -> String {
        let help = match self {
            Self::WrongDimension { wanted } | Self::WrongReading { wanted } => {
                return format!("give a {wanted}");
            }
            Self::GaugeForAbsolute => "use absolute(gauge, ambient)",
            Self::AbsoluteForGauge => "use gauge(pressure, ambient)",
            Self::PointForDifference => {
                "write a temperature difference in K, or subtract two temperatures"
            }
            Self::ComparedDimensions => "compare like with like",
            Self::ComparedReadings => {
                "compare a difference with a difference, a reading with a reading"
            }
            Self::AddedDimensions => "add like to like",
            Self::AddedReadings => "add a difference to a reading, or subtract the two readings",
            Self::ReadingFromDifference => "swap the two, or subtract two readings",
            Self::GaugeWithAbsolute => {
                "convert one of them with absolute(gauge, ambient) or gauge(pressure, ambient)"
            }
            Self::PowersTooLarge => "check the formula",
            Self::TorqueTimesRotation => "use shaft_power(torque, speed)",
            Self::PowerOfUnit => {
                "make the base a plain number, for example a ratio of two pressures"
            }
        };
        help.to_owned()
    }
}

impl Found {
    pub(super) fn called(self) -> &'static str {
        match self {
            Self::Number => "a number",
            Self::Truth => "yes or no",
            Self::Choice => "a choice",
            Self::Table => "a table",
        }
    }

    /// How it becomes a number.
    pub(super) fn to_number(self) -> &'static str {
        match self {
            Self::Number => "give a number",
            Self::Truth => "turn it into a number with if … then … else …",
            Self::Choice => "turn it into a number with if choice == option then … else …",
            Self::Table => "read one value from it with interpolate(table, column = value)",
        }
    }

    /// How it becomes yes or no.
    pub(super) fn to_truth(self) -> &'static str {
        match self {
            Self::Number | Self::Truth => "compare it with a limit, for example > 0.5 bar",
            Self::Choice => "compare it with one of its options, using ==",
            Self::Table => "read it with interpolate and compare that",
        }
    }
}
