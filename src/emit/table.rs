//! Tables as CSV files: RFC 4180 with a header line, CRLF and UTF-8.

use super::escape;
use crate::views::Table;

/// The file of a table; every cell is guarded against spreadsheets that would run it.
pub fn csv(table: &Table) -> Vec<u8> {
    let header = table.columns.iter().map(|column| (*column).to_owned()).collect();
    let line = |row: &Vec<String>| row.iter().map(|text| cell(text)).collect::<Vec<_>>().join(",") + "\r\n";
    std::iter::once(&header).chain(&table.rows).map(line).collect::<String>().into_bytes()
}

/// A cell: in quotes where a reader could mistake what is in it for the table's own marks.
fn cell(text: &str) -> String {
    let text = escape::csv_cell(text);
    if text.contains([',', '"', '\r', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
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
