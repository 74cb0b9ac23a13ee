//! A curve with its band in letters: dots of braille for the curve, every third for the ends of its
//! band, numbers and units along the axes.

use super::axis::Axis;
use super::drawing::{Drawing, SpotValues, letter};
use crate::text::columns;

/// Rows of letters, at most.
const MAX_ROWS: usize = 14;
/// More columns add nothing.
const MAX_COLUMNS: usize = 64;
/// With fewer nothing can be seen.
const MIN_COLUMNS: usize = 16;
/// Where the dots of a braille letter stand in its code, by row and column.
const DOTS: [[u32; 2]; 4] = [[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]];
const BRAILLE: u32 = 0x2800;
/// Of the ends of the band each third dot is drawn.
const BAND_SPACING: usize = 3;

/// The plot as lines of at most `width` letters; none where there is nothing to see or no room.
pub(super) fn braille(drawing: &Drawing, width: usize) -> Vec<String> {
    let (Some(along), Some(across)) = (drawing.along_axis(), drawing.across_axis()) else {
        return Vec::new();
    };
    let ticks = across.ticks();
    let labels: Vec<String> = ticks.iter().map(|tick| across.label(*tick)).collect();
    let margin = labels.iter().map(String::len).max().unwrap_or(0);
    let room = width.saturating_sub(margin + 2).min(MAX_COLUMNS);
    if room < MIN_COLUMNS || ticks.len() < 2 || columns(&drawing.across) > width {
        return Vec::new();
    }
    // Every number of the axis falls on a row.
    let rows_a_step = ((MAX_ROWS - 1) / (ticks.len() - 1)).max(1);
    let mut canvas = Canvas::new(along, across, room, rows_a_step * (ticks.len() - 1) + 1);
    canvas.curve(drawing);
    let mut lines = vec![format!("{:>margin$}", drawing.across)];
    for (row, letters) in canvas.letters(drawing).iter().enumerate() {
        let label = if row % rows_a_step == 0 {
            labels.iter().rev().nth(row / rows_a_step).map(String::as_str)
        } else {
            None
        };
        let (label, edge) = label.map_or(("", '│'), |label| (label, '┤'));
        let line = format!("{label:>margin$} {edge}{}", letters.iter().collect::<String>());
        lines.push(line.trim_end().to_owned());
    }
    lines.extend(canvas.foot(drawing, margin));
    lines
}

/// Dots in letters, two across and four down in each, and the axes they stand against.
struct Canvas {
    along: Axis,
    across: Axis,
    columns: usize,
    rows: usize,
    codes: Vec<Vec<u32>>,
}

impl Canvas {
    fn new(along: Axis, across: Axis, columns: usize, rows: usize) -> Self {
        Self { along, across, columns, rows, codes: vec![vec![0; columns]; rows] }
    }

    fn row(&self, value: f64) -> usize {
        place(1.0 - self.across.share(value), self.rows)
    }

    fn column(&self, at: f64) -> usize {
        place(self.along.share(at), self.columns)
    }

    /// The curve as one line, and the ends of its band as dots.
    fn curve(&mut self, drawing: &Drawing) {
        let mut before = None;
        for dot in 0..self.columns * 2 {
            let Some(values) = drawing.at(self.at(dot)) else {
                before = None;
                continue;
            };
            let SpotValues { value, low, high } = values;
            if dot % BAND_SPACING == 0 {
                for end in [low, high] {
                    let down = self.dot_row(end);
                    self.set(dot, down);
                }
            }
            let down = self.dot_row(value);
            // A steep curve stays one line.
            let from = before.unwrap_or(down);
            for between in from.min(down)..=from.max(down) {
                self.set(dot, between);
            }
            before = Some(down);
        }
    }

    /// What lies along the axis at a column of dots. The middle of the first letter is the low
    /// end, that of the last the high one.
    fn at(&self, dot: usize) -> f64 {
        let last = (self.columns.max(2) - 1) * 2;
        #[expect(clippy::cast_precision_loss, reason = "a few hundred dots at most")]
        let share = (dot as f64 - 0.5) / last as f64;
        self.along.low + share.clamp(0.0, 1.0) * (self.along.high - self.along.low)
    }

    /// The row of dots for a value; its number stands at the middle of a row of letters.
    fn dot_row(&self, value: f64) -> usize {
        place(1.0 - self.across.share(value), (self.rows - 1) * 4 + 1) + 1
    }

    fn set(&mut self, across: usize, down: usize) {
        let code = self.codes.get_mut(down / 4).and_then(|row| row.get_mut(across / 2));
        if let Some(code) = code {
            *code |= DOTS[down % 4][across % 2];
        }
    }

    /// The rows of letters, the marks over them: a letter where something was measured, an upright
    /// where a plan has no value yet.
    fn letters(&self, drawing: &Drawing) -> Vec<Vec<char>> {
        let letter_of = |code: &u32| match code {
            0 => ' ',
            code => char::from_u32(BRAILLE + code).unwrap_or(' '),
        };
        let mut rows: Vec<Vec<char>> =
            self.codes.iter().map(|row| row.iter().map(letter_of).collect()).collect();
        for (place, mark) in drawing.marks.iter().enumerate() {
            let column = self.column(mark.at);
            if mark.value.is_none() {
                let empty = |row: &&mut Vec<char>| row[column] == ' ';
                rows.iter_mut().filter(empty).for_each(|row| row[column] = '┊');
            }
            rows[mark.value.map_or(0, |value| self.row(value))][column] = letter(place);
        }
        rows
    }

    /// The axis below, its numbers, and what they are.
    fn foot(&self, drawing: &Drawing, margin: usize) -> Vec<String> {
        let columns = self.columns;
        let mut edge = vec!['─'; columns];
        let mut numbers = vec![' '; columns];
        let mut free = 0;
        for tick in self.along.ticks() {
            let at = self.column(tick);
            let label: Vec<char> = self.along.label(tick).chars().collect();
            let start = at.saturating_sub(label.len() / 2).min(columns.saturating_sub(label.len()));
            edge[at] = '┬';
            if start >= free && label.len() <= columns {
                numbers[start..start + label.len()].copy_from_slice(&label);
                free = start + label.len() + 1;
            }
        }
        let indent = " ".repeat(margin + 2);
        let line = |letters: Vec<char>| letters.into_iter().collect::<String>();
        vec![
            format!("{}└{}", " ".repeat(margin + 1), line(edge)),
            format!("{indent}{}", line(numbers)).trim_end().to_owned(),
            format!("{indent}{}", at_right(&drawing.along, columns)).trim_end().to_owned(),
        ]
    }
}

/// The place of a share of the way among `count`, the ends included.
fn place(share: f64, count: usize) -> usize {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "from 0 to a few hundred"
    )]
    let place = (share.clamp(0.0, 1.0) * (count.max(1) - 1) as f64).round() as usize;
    place
}

/// A text at the right end of so many columns; empty where it is too long.
fn at_right(text: &str, room: usize) -> String {
    match room.checked_sub(columns(text)) {
        Some(before) => " ".repeat(before) + text,
        None => String::new(),
    }
}
