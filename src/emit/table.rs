//! Tables as CSV files: RFC 4180 with a header line, CRLF and UTF-8.

use super::escape;
use crate::views::Table;

/// The file of a table; every cell is guarded against spreadsheets that would run it.
pub(crate) fn csv(table: &Table) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).flexible(true).from_writer(Vec::new());
    let header = table.columns.iter().map(|column| (*column).to_owned()).collect();
    for row in std::iter::once(&header).chain(&table.rows) {
        let cells = row.iter().map(|cell| escape::csv_cell(cell));
        // Writing to memory cannot fail.
        let _ = writer.write_record(cells);
    }
    writer.into_inner().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_and_guarded() {
        let table = Table {
            columns: vec!["a", "b"],
            rows: vec![vec!["x, \"y\"".into(), "=1+1".into()], vec![String::new(), "two\nlines".into()]],
        };
        let text = String::from_utf8(csv(&table)).unwrap();
        assert_eq!(text, "a,b\r\n\"x, \"\"y\"\"\",'=1+1\r\n,\"two\nlines\"\r\n");
    }
}
