//! Circuits solved by ngspice: many of them, side by side, in one netlist.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::circuit::Circuit;
use crate::ngspice;

/// A netlist of circuits that touch at the ground only. Conductors that end in the air need some path to it: 1 PΩ from
/// each node, which moves a terminal by less than a part in 10⁹.
pub fn netlist(circuits: &[Circuit]) -> String {
    let mut text = "loops\n.options rshunt=1e15\n".to_owned();
    let mut saved = String::new();
    for (index, circuit) in circuits.iter().enumerate() {
        let name = |node: usize| if node == 0 { "0".to_owned() } else { format!("c{index}n{node}") };
        writeln!(text, "Vs{index} s{index} 0 DC {:e}", circuit.supply).unwrap();
        writeln!(text, "Rp{index} s{index} t{index} {:e}", circuit.pull_up).unwrap();
        // The terminal itself stays a node of its own, also where the loop is shorted at the board.
        writeln!(text, "Vt{index} t{index} {} DC 0", name(circuit.find(1))).unwrap();
        for (number, (a, b, ohms)) in circuit.resistors().enumerate() {
            writeln!(text, "R{index}n{number} {} {} {ohms:e}", name(a), name(b)).unwrap();
        }
        write!(saved, " v(t{index})").unwrap();
    }
    // Saving little and printing all of it is an order faster than asking for each voltage by name.
    text + ".control\nset numdgt=15\nsave" + &saved + "\nop\nprint all\nquit 0\n.endc\n.end\n"
}

/// The terminal voltage of each circuit.
pub fn solve(circuits: &[Circuit]) -> Vec<f64> {
    let volts: BTreeMap<usize, f64> = ngspice::run(&netlist(circuits))
        .into_iter()
        .filter_map(|(name, volts)| Some((name.strip_prefix('t')?.parse().ok()?, volts)))
        .collect();
    assert_eq!(volts.len(), circuits.len());
    // By number, and as many as there are circuits: each has its own.
    volts.into_values().collect()
}
