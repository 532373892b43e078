//! ngspice, the circuit simulator of Berkeley's line: a netlist in, the volts between its nodes out.

use std::collections::BTreeMap;
use std::io::Write;
use std::process::Command;

/// Two nodes of a netlist; `0` is the ground.
pub type Pair = (String, String);

/// The version of the installed program; `None` where there is none.
pub fn version() -> Option<String> {
    let said = Command::new("ngspice").arg("--version").output().ok()?;
    let said = String::from_utf8_lossy(&said.stdout).into_owned();
    said.split_whitespace().find(|word| word.starts_with("ngspice-")).map(str::to_owned)
}

/// Runs a netlist, and gives the volts of the first node of each pair over the second.
pub fn volts(netlist: &str, pairs: &[Pair]) -> Vec<f64> {
    let printed = run(netlist);
    let of = |node: &String| match node.as_str() {
        "0" => 0.0,
        node => *printed.get(node).unwrap_or_else(|| panic!("ngspice gave no volts for the node {node}")),
    };
    pairs.iter().map(|(one, other)| of(one) - of(other)).collect()
}

/// Fails with the first of what differs, of so many that were compared.
pub fn none_differs(wrong: &[String], compared: usize) {
    let shown = wrong[..wrong.len().min(20)].join("\n");
    assert!(wrong.is_empty(), "{} of {compared} differ:\n{shown}", wrong.len());
}

/// Every `name = value` that a netlist prints. Names are in small letters.
fn run(netlist: &str) -> BTreeMap<String, f64> {
    let mut file = tempfile::Builder::new().suffix(".cir").tempfile().unwrap();
    file.write_all(netlist.as_bytes()).unwrap();
    let output = Command::new("ngspice").arg("-b").arg(file.path()).output().expect("ngspice");
    let said = String::from_utf8_lossy(&output.stdout);
    let printed: BTreeMap<String, f64> = said
        .lines()
        .filter_map(|line| line.split_once(" = "))
        .filter_map(|(name, value)| Some((name.trim().to_owned(), value.trim().parse().ok()?)))
        .collect();
    assert!(!printed.is_empty(), "{said}\n{}", String::from_utf8_lossy(&output.stderr));
    printed
}
