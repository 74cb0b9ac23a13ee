//! The conclusion as one page of HTML that needs nothing else: no scripts, nothing fetched, for a phone
//! at the car, a screen by day or night, and a printer. The first page stands on top; behind a list of
//! contents follows the rest, what it rests on folded away.

use std::ops::RangeFrom;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::document::{
    Block, Detail, Details, Document, Entry, Room, Section, Table, details, first_page,
};
use super::drawing::{Drawing, letter};
use super::model::Conclusion;
use super::plot::svg as plotted;
use super::scale_drawing::ScaleDrawing;
use super::svg;
use crate::text::Clean;

const STYLE: &str = include_str!("page.css");

/// The conclusion as a page of HTML. That foreign text can't become markup is seen to here.
#[must_use]
pub fn html(conclusion: &Conclusion) -> Clean {
    let first = first_page(conclusion, &[], Room::Ample, 0);
    Clean::new(page(&first, &details(conclusion), &conclusion.drawings).into_string() + "\n")
}

fn page(first: &Document, details: &Details, drawings: &[ScaleDrawing]) -> Markup {
    let mut places = 1..;
    let summary = parts(&first.sections, &mut places);
    let open = parts(&details.open, &mut places);
    let folded = parts(&details.folded, &mut places);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (first.title.as_str()) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                header {
                    h1 id="title" { (first.title.as_str()) }
                    (blocks("title", &first.opening))
                }
                main {
                    @for part in &summary { (part.plain()) }
                    (contents(open.iter().chain(&folded), !drawings.is_empty()))
                    @for part in &open { (part.plain()) }
                    (drawn_to_scale(drawings))
                    @for part in &folded { (part.folded()) }
                }
                footer { p { "Made by boostwright " (env!("CARGO_PKG_VERSION")) "." } }
            }
        }
    }
}

fn parts<'a>(sections: &'a [Section], places: &mut RangeFrom<usize>) -> Vec<Part<'a>> {
    places.zip(sections).map(|(place, section)| Part { place, section }).collect()
}

/// In print as long as in the world: no drawing is made to fit the page.
fn drawn_to_scale(drawings: &[ScaleDrawing]) -> Markup {
    if drawings.is_empty() {
        return html! {};
    }
    html! {
        section id="drawn" aria-labelledby="title-drawn" {
            h2 id="title-drawn" { "Drawn to scale" }
            div.plate.scale role="img" tabindex="0" aria-labelledby="title-drawn" { (svg::page(drawings)) }
        }
    }
}

fn contents<'a>(parts: impl Iterator<Item = &'a Part<'a>>, is_drawn: bool) -> Markup {
    html! {
        nav aria-labelledby="contents" {
            h2 id="contents" { "Contents" }
            ul {
                @for part in parts {
                    li { a href={ "#" (part.anchor()) } { (part.section.title.as_str()) } }
                }
                @if is_drawn { li { a href="#drawn" { "Drawn to scale" } } }
            }
        }
    }
}

/// A section and its number on the page. The names made of that hold nothing that is foreign.
struct Part<'a> {
    place: usize,
    section: &'a Section,
}

impl Part<'_> {
    fn anchor(&self) -> String {
        format!("part-{}", self.place)
    }

    /// The name of its heading, by which what stands below it is labelled.
    fn label(&self) -> String {
        format!("title-{}", self.place)
    }

    fn plain(&self) -> Markup {
        let label = self.label();
        html! {
            section id=(self.anchor()) aria-labelledby=(label) {
                h2 id=(label) { (self.section.title.as_str()) }
                (blocks(&label, &self.section.blocks))
            }
        }
    }

    /// The anchor lies inside: a link to what lies in a folded element opens it (HTML Standard,
    /// scrolling to the fragment).
    fn folded(&self) -> Markup {
        let label = self.label();
        html! {
            details {
                summary { h2 id=(label) { (self.section.title.as_str()) } }
                div id=(self.anchor()) { (blocks(&label, &self.section.blocks)) }
            }
        }
    }
}

fn blocks(label: &str, blocks: &[Block]) -> Markup {
    html! {
        @for (place, block) in blocks.iter().enumerate() {
            @match block {
                Block::Paragraph(text) => p { (text.as_str()) },
                Block::Warning { level, text } => (warning(level, text)),
                Block::Points(texts) => ul.points { @for text in texts { li { (text.as_str()) } } },
                Block::Entries(entries) => ul { @for entry in entries { (item(entry)) } },
                Block::Ticks(texts) => ul.points { @for text in texts { li { (tick(text)) } } },
                Block::Table(table) => (self::table(label, place, table)),
                Block::Plot(drawing) => (figure(label, drawing)),
            }
        }
    }
}

fn warning(level: &str, text: &str) -> Markup {
    let class = match level {
        "stop" => "warning stop",
        "danger" => "warning danger",
        _ => "warning",
    };
    html! { p class=(class) { strong { (level) } " " (text) } }
}

fn tick(text: &str) -> Markup {
    html! { label { input type="checkbox"; " " (text) } }
}

fn item(entry: &Entry) -> Markup {
    html! {
        li {
            @if !entry.mark.is_empty() { span.mark { (entry.mark.as_str()) } " " }
            span.title { (entry.title.as_str()) }
            @if !entry.details.is_empty() {
                dl { @for detail in &entry.details { (self::detail(detail)) } }
            }
        }
    }
}

fn detail(detail: &Detail) -> Markup {
    html! {
        dt { (detail.label) }
        dd { @if detail.is_formula { code { (detail.text.as_str()) } } @else { (detail.text.as_str()) } }
    }
}

/// Too wide for a phone it is moved sideways, which keys can do, too.
fn table(label: &str, place: usize, table: &Table) -> Markup {
    let own = format!("{label}-{place}");
    html! {
        // Its section and what its first column lists: of several tables each has a name of its own.
        div.table role="region" tabindex="0" aria-labelledby={ (label) " " (own) } {
            table {
                thead {
                    tr {
                        @for (place, cell) in table.head.iter().enumerate() {
                            th scope="col" id=[(place == 0).then_some(&own)] { (cell.as_str()) }
                        }
                    }
                }
                tbody { @for row in &table.rows { tr { (cells(row)) } } }
            }
        }
    }
}

fn cells(row: &[Clean]) -> Markup {
    html! {
        @for (place, cell) in row.iter().enumerate() {
            @if place == 0 { th scope="row" { (cell.as_str()) } } @else { td { (unbroken(cell.as_str())) } }
        }
    }
}

/// A number stays with its unit.
fn unbroken(cell: &str) -> String {
    let is_number = cell.starts_with(|first: char| first.is_ascii_digit() || first == '-');
    if is_number { cell.replace(' ', "\u{a0}") } else { cell.to_owned() }
}

fn figure(label: &str, drawing: &Drawing) -> Markup {
    let Some(picture) = plotted(drawing) else { return html! {} };
    html! {
        figure {
            // Its texts are escaped by what draws it.
            div.plate role="img" tabindex="0" aria-labelledby=(label) { (PreEscaped(picture)) }
            figcaption {
                "The line, and in grey its 95 % band."
                @for (place, mark) in drawing.marks.iter().enumerate() {
                    " " strong { (letter(place)) } " " (mark.title.as_str()) "."
                }
            }
        }
    }
}
