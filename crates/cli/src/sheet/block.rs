//! The parts of a sheet, and how they are written: as Markdown, and as one HTML file.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use kickstill_rig::report::Table;

/// One part of a sheet.
pub(crate) enum Block {
    /// The sheet's title, or with 2 a heading.
    Heading(u8, String),
    /// A paragraph.
    Text(String),
    /// Something to heed.
    Caution(String),
    /// A table.
    Table(Table),
    /// Drawings or charts side by side, each as SVG with what it shows. Markdown has none.
    Pictures(Vec<(String, String)>),
}

/// As Markdown, which has no place for pictures in the same file.
pub(crate) fn markdown(blocks: &[Block]) -> String {
    let parts: Vec<String> = blocks
        .iter()
        .filter_map(|block| match block {
            Block::Heading(level, text) => {
                Some(format!("{} {text}\n", "#".repeat(usize::from(*level))))
            }
            Block::Text(text) => Some(format!("{text}\n")),
            Block::Caution(text) => Some(format!("> {text}\n")),
            Block::Table(table) => Some(table.markdown()),
            Block::Pictures(_) => None,
        })
        .collect();
    parts.join("\n")
}

/// Ink on paper, for a printer as for a screen. Nothing is fetched from anywhere.
const STYLE: &str = "\
body{margin:8mm auto;max-width:190mm;padding:0 4mm;color:#1d354c;background:#fff;font:10pt/1.4 Verdana,'DejaVu Sans',sans-serif}
h1{font-size:18pt;margin:0 0 2mm;border-bottom:1.5pt solid}
h2{font-size:12pt;margin:6mm 0 1.5mm;break-after:avoid}
table{border-collapse:collapse;width:100%;font-size:9pt}
th,td{padding:.6mm 2mm .6mm 0;border-bottom:.5pt solid #b9b09a;text-align:left;vertical-align:top}
tr,figure{break-inside:avoid}
figure{margin:1mm 0}
.row{display:flex;gap:3mm;break-inside:avoid}
.row figure{flex:1;min-width:0}
.narrow{columns:2;column-gap:8mm}
.narrow td:nth-child(3){font-size:7pt;color:#6a614f;overflow-wrap:anywhere}
figure svg{width:100%;height:auto}
figcaption{font-size:8pt;color:#6a614f}
.caution{border-left:3pt solid #964a1d;padding-left:3mm;margin:2mm 0}
.broken{color:#ad1f1c;font-weight:bold}
@page{size:A4;margin:10mm}
";

/// A table of so few columns runs in two columns of the page.
const NARROW: usize = 3;

/// As one HTML file that stands alone.
pub(crate) fn html(title: &str, blocks: &[Block]) -> String {
    let body = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body { @for block in blocks { (part(block)) } }
        }
    };
    body.into_string() + "\n"
}

fn part(block: &Block) -> Markup {
    match block {
        Block::Heading(1, text) => html! { h1 { (text) } },
        Block::Heading(_, text) => html! { h2 { (text) } },
        Block::Text(text) => html! { p { (text) } },
        Block::Caution(text) => html! { p.caution { (text) } },
        Block::Table(table) => html! {
            div.narrow[table.head.len() <= NARROW] { (ruled(table)) }
        },
        // Both writers of SVG escape what they are given.
        Block::Pictures(pictures) => html! {
            div.row {
                @for (svg, words) in pictures {
                    figure { (PreEscaped(svg)) figcaption { (words) } }
                }
            }
        },
    }
}

fn ruled(table: &Table) -> Markup {
    html! {
            table {
                thead { tr { @for cell in &table.head { th scope="col" { (cell) } } } }
                tbody {
                    @for row in &table.rows {
                        tr { @for cell in row { td.broken[cell == "BROKEN"] { (cell) } } }
                    }
                }
            }
    }
}
