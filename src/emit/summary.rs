//! Tables of many sites as one page that stands alone, by way of Markdown as every page.

use std::fmt::Write;

use super::chapter::stand_alone;
use super::escape::markdown::{enclose, page};
use crate::views::Orientation;
use crate::views::portfolio::summary::Section;

/// What the page adds to the style of all pages: small type, and names that may be long.
static STYLE: &str = include_str!("../../templates/portfolio.css");

/// The page of some tables; `line` is printed at its foot.
pub(crate) fn summary(title: &str, line: &str, sections: &[Section]) -> String {
    let mut text = format!("# {title}\n\n{}\n", enclose(line));
    for Section { title, about, table } in sections {
        // Writing to a string cannot fail.
        let _ = writeln!(text, "\n## {title}\n");
        if !about.is_empty() {
            let _ = writeln!(text, "{}\n", enclose(about));
        }
        if table.rows.is_empty() {
            text.push_str("Nothing.\n");
            continue;
        }
        row(&mut text, &table.columns);
        row(&mut text, &vec!["---"; table.columns.len()]);
        for cells in &table.rows {
            let cells: Vec<String> = cells.iter().map(|cell| enclose(cell)).collect();
            row(&mut text, &cells);
        }
    }
    stand_alone(("portfolio", Orientation::Landscape, STYLE), title, line, &page(&text))
}

fn row(text: &mut String, cells: &[impl AsRef<str>]) {
    for cell in cells {
        let _ = write!(text, "| {} ", cell.as_ref());
    }
    text.push_str("|\n");
}
