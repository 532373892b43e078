//! CSV files: a second reader finds the cells that were written, and no spreadsheet would run one.

use std::io::Write;
use std::process::{Command, Stdio};

use loopwright::emit::escape::csv_cell;
use loopwright::views::DOCUMENTS;

use super::sites::{empty_site, full_site, hostile_site, packet};

/// What Python's csv module reads.
fn read(bytes: &[u8]) -> Vec<Vec<String>> {
    let script = "import csv, io, json, sys\n\
                  text = sys.stdin.buffer.read().decode('utf-8')\n\
                  print(json.dumps(list(csv.reader(io.StringIO(text, newline=''), strict=True))))";
    let mut python = Command::new("python3")
        .args(["-c", script])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("this check needs python3");
    python.stdin.take().unwrap().write_all(bytes).unwrap();
    let output = python.wait_with_output().unwrap();
    assert!(output.status.success());
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn python_reads_what_was_written() {
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
