//! The conclusion as one page of HTML that needs nothing else: no scripts, nothing fetched, light
//! and plain, for a phone at the car and for a printer.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::document::{Block, Detail, Document, Entry, Table, document};
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
    Clean::new(page(&document(conclusion), &conclusion.drawings).into_string() + "\n")
}

fn page(document: &Document, drawings: &[ScaleDrawing]) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (document.title.as_str()) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main {
                    h1 { (document.title.as_str()) }
                    (blocks(&document.opening))
                    @for section in &document.sections {
                        section {
                            h2 { (section.title.as_str()) }
                            (blocks(&section.blocks))
                        }
                    }
                    @if !drawings.is_empty() {
                        section { h2 { "Drawn to scale" } figure { (svg::page(drawings)) } }
                    }
                }
            }
        }
    }
}

fn blocks(blocks: &[Block]) -> Markup {
    html! {
        @for block in blocks {
            @match block {
                Block::Paragraph(text) => p { (text.as_str()) },
                Block::Warning { level, text } => (warning(level, text)),
                Block::Points(texts) => ul.points { @for text in texts { li { (text.as_str()) } } },
                Block::Entries(entries) => ul { @for entry in entries { (item(entry)) } },
                Block::Ticks(texts) => ul.ticks { @for text in texts { li { (text.as_str()) } } },
                Block::Table(table) => (self::table(table)),
                Block::Plot(drawing) => (figure(drawing)),
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

fn table(table: &Table) -> Markup {
    html! {
        table {
            thead { tr { @for cell in &table.head { th scope="col" { (cell.as_str()) } } } }
            tbody { @for row in &table.rows { tr { @for cell in row { td { (cell.as_str()) } } } } }
        }
    }
}

fn figure(drawing: &Drawing) -> Markup {
    let Some(picture) = plotted(drawing) else { return html! {} };
    html! {
        figure {
            // Its texts are escaped by what draws it.
            (PreEscaped(picture))
            figcaption {
                "The line, and in grey its 95 % band."
                @for (place, mark) in drawing.marks.iter().enumerate() {
                    " " strong { (letter(place)) } " " (mark.title.as_str()) "."
                }
            }
        }
    }
}
