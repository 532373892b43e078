//! ngspice, the circuit simulator of Berkeley's line: a netlist in, the values that it prints out.

use std::collections::BTreeMap;
use std::io::Write;
use std::process::Command;

/// Runs a netlist, and gives every `name = value` that it prints. Names are in small letters.
pub fn run(netlist: &str) -> BTreeMap<String, f64> {
    let mut file = tempfile::Builder::new().suffix(".cir").tempfile().unwrap();
    file.write_all(netlist.as_bytes()).unwrap();
    let output = Command::new("ngspice")
        .arg("-b")
        .arg(file.path())
        .output()
        .expect("this check needs ngspice: install the Debian package ngspice");
    let said = String::from_utf8_lossy(&output.stdout);
    let printed: BTreeMap<String, f64> = said
        .lines()
        .filter_map(|line| line.split_once(" = "))
        .filter_map(|(name, value)| Some((name.trim().to_owned(), value.trim().parse().ok()?)))
        .collect();
    assert!(!printed.is_empty(), "{said}\n{}", String::from_utf8_lossy(&output.stderr));
    printed
}
