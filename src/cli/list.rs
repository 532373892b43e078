//! `loopwright list`: a table of the packet on the screen, whole or in part.
//!
//! The rows are those of the CSV beside the sheet, so that screen and paper cannot differ.

use std::fmt::Write;
use std::path::Path;

use unicode_width::UnicodeWidthStr;

use super::arguments::Listed;
use super::disk::DiskFiles;
use super::report::{self, Site};
use super::screen::Screen;
use super::{Exit, Stop, plain, question};
use crate::base::wording::list;
use crate::diag::neutral::words;
use crate::diag::{Format, json};
use crate::session::{self, Table};

/// Between two columns.
const GAP: &str = "  ";

/// A column is not made narrower than this.
const NARROWEST: usize = 6;

/// Which rows are printed.
struct Wanted<'a> {
    /// The column in which it stands; none for any.
    column: Option<usize>,
    /// In small letters.
    text: &'a str,
}

/// Prints the table, as CSV where that is asked for.
pub(super) fn run(
    screen: &mut Screen,
    listed: Listed,
    path: &Path,
    wanted: &[String],
    csv: bool,
) -> Result<Exit, Stop> {
    let folder = question::one_site(path)?;
    let files = DiskFiles::open(&folder)
        .map_err(|error| Stop::new(format!("cannot read {}: {}", folder.display(), plain(&error))))?;
    let (outcome, table) = session::table(&files, listed.sheet());
    let Some(Table { columns, mut rows }) = table.filter(|_| !outcome.failed()) else {
        return report::print(screen, &[Site::new(folder, outcome, None)]);
    };
    let lower: Vec<String> = wanted.iter().map(|wanted| wanted.to_lowercase()).collect();
    let wanted = lower.iter().map(|wanted| parsed(wanted, &columns)).collect::<Result<Vec<_>, _>>()?;
    rows.retain(|row| wanted.iter().all(|wanted| fits(wanted, row)));
    let table = Table { columns, rows };
    let text = match screen.format {
        _ if csv => session::csv(&table),
        Format::Human(look) => aligned(&table, look.width),
        Format::Short => parted_by_tabs(&table),
        Format::Json => json::print(&objects(&table)),
    };
    screen.print(&text)?;
    Ok(Exit::Clean)
}

/// "board=panel": in that column; anything else: in some column.
fn parsed<'a>(wanted: &'a str, columns: &[&str]) -> Result<Wanted<'a>, Stop> {
    let Some((column, text)) = wanted.split_once('=') else { return Ok(Wanted { column: None, text: wanted }) };
    match columns.iter().position(|known| known.to_lowercase() == column.trim()) {
        Some(at) => Ok(Wanted { column: Some(at), text: text.trim() }),
        None => {
            let known: Vec<String> = columns.iter().map(|column| format!("\"{column}\"")).collect();
            Err(Stop::new(format!("there is no column \"{column}\""))
                .help(format!("the columns are {}", list(&known, "and"))))
        }
    }
}

/// A number stands for itself: "zone=1" is not zone 10.
fn fits(wanted: &Wanted<'_>, row: &[String]) -> bool {
    let is_number = !wanted.text.is_empty() && wanted.text.bytes().all(|byte| byte.is_ascii_digit());
    let has = |cell: &String| {
        if is_number && wanted.column.is_some() {
            cell == wanted.text
        } else {
            cell.to_lowercase().contains(wanted.text)
        }
    };
    match wanted.column {
        Some(column) => row.get(column).is_some_and(has),
        None => row.iter().any(has),
    }
}

/// Aligned columns, those left out that are empty in every row. Where the screen is too narrow the widest are cut.
fn aligned(table: &Table, width: Option<usize>) -> String {
    let Table { columns, rows } = table;
    let rows: Vec<Vec<String>> = rows.iter().map(|row| row.iter().map(|cell| words(cell)).collect()).collect();
    let filled = |at: &usize| rows.iter().any(|row| row.get(*at).is_some_and(|cell| !cell.is_empty()));
    let shown: Vec<usize> = (0..columns.len()).filter(filled).collect();
    if shown.is_empty() {
        return "no rows\n".to_owned();
    }
    let cell = |row: &[String], at: usize| row.get(at).cloned().unwrap_or_default();
    let heading: Vec<String> = columns.iter().map(|column| (*column).to_owned()).collect();
    let all: Vec<Vec<String>> =
        std::iter::once(&heading).chain(&rows).map(|row| shown.iter().map(|at| cell(row, *at)).collect()).collect();
    let mut widths = vec![0; shown.len()];
    for row in &all {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(cell.width());
        }
    }
    let gaps = GAP.len() * (widths.len() - 1);
    while width.is_some_and(|width| widths.iter().sum::<usize>() + gaps > width) {
        let Some(widest) = widths.iter_mut().max().filter(|widest| **widest > NARROWEST) else { break };
        *widest -= 1;
    }
    let mut text = String::new();
    for row in &all {
        let cells: Vec<String> = row.iter().zip(&widths).map(|(cell, width)| padded(cell, *width)).collect();
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{}", cells.join(GAP).trim_end());
    }
    text
}

/// Text in so many columns, cut with a mark or filled with blanks.
fn padded(text: &str, width: usize) -> String {
    let mut cut = text.to_owned();
    if cut.width() > width {
        while cut.width() >= width && cut.pop().is_some() {}
        cut.push('…');
    }
    let blanks = width.saturating_sub(cut.width());
    cut + &" ".repeat(blanks)
}

fn parted_by_tabs(table: &Table) -> String {
    let heading: Vec<String> = table.columns.iter().map(|column| (*column).to_owned()).collect();
    let line = |row: &Vec<String>| row.iter().map(|cell| words(cell)).collect::<Vec<_>>().join("\t") + "\n";
    std::iter::once(&heading).chain(&table.rows).map(line).collect()
}

/// A row as an object, its columns by their names.
fn objects(table: &Table) -> Vec<serde_json::Map<String, serde_json::Value>> {
    let object = |row: &Vec<String>| {
        let pairs = table.columns.iter().zip(row);
        pairs.map(|(column, cell)| ((*column).to_owned(), serde_json::Value::from(cell.as_str()))).collect()
    };
    table.rows.iter().map(object).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> Table {
        let row = |cells: [&str; 3]| cells.map(str::to_owned).to_vec();
        Table {
            columns: vec!["zone", "what", "empty"],
            rows: vec![row(["1", "Küche 扉", ""]), row(["10", "Hall", ""])],
        }
    }

    #[test]
    fn columns_are_aligned_and_cut_where_the_screen_is_narrow() {
        assert_eq!(aligned(&table(), None), "zone  what\n1     Küche 扉\n10    Hall\n");
        assert_eq!(aligned(&table(), Some(12)), "zone  what\n1     Küche…\n10    Hall\n");
    }

    #[test]
    fn a_number_is_that_number_and_text_is_part_of_a_cell() {
        let rows = |wanted: &str| {
            let wanted = parsed(wanted, &["zone", "what", "empty"]).unwrap();
            table().rows.iter().filter(|row| fits(&wanted, row)).count()
        };
        assert_eq!([rows("zone=1"), rows("1"), rows("what=ha"), rows("hall"), rows("garden")], [1, 2, 1, 1, 0]);
        assert!(parsed("colour=red", &["zone"]).is_err());
    }
}
