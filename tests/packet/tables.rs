//! CSV files: a second reader finds the cells that were written, and no spreadsheet would run one.

use loopwright::emit::escape::csv_cell;
use loopwright::views::DOCUMENTS;

use super::sites::{empty_site, full_site, hostile_site, packet};

fn read(bytes: &[u8]) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(bytes);
    let row = |record: csv::Result<csv::StringRecord>| record.unwrap().iter().map(str::to_owned).collect();
    reader.records().map(row).collect()
}

#[test]
fn a_reader_finds_what_was_written() {
    let mut rows_seen = 0;
    for made in [full_site(), empty_site(), hostile_site()] {
        let packet = packet(&made);
        for document in DOCUMENTS {
            let Some(table) = document.table else { continue };
            let table = table(&made);
            let bytes = &packet.files[&format!("{}.csv", document.name)];
            assert_eq!(bytes.iter().filter(|b| **b == b'\n').count(), table.rows.len() + 1, "one line a row");
            let mut wanted: Vec<Vec<String>> = vec![table.columns.iter().map(|c| (*c).to_owned()).collect()];
            wanted.extend(table.rows.iter().map(|row| row.iter().map(|cell| csv_cell(cell)).collect()));
            assert_eq!(read(bytes), wanted, "{}", document.name);
            assert!(wanted.iter().all(|row| row.len() == table.columns.len()));
            assert!(wanted.iter().flatten().all(|cell| !cell.starts_with(['=', '@'])));
            rows_seen += table.rows.len();
        }
    }
    assert!(rows_seen > 100);
}
