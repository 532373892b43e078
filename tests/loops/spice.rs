//! Circuits for ngspice: many of them, side by side, in one netlist.

use std::borrow::Borrow;
use std::fmt::Write as _;

use super::circuit::Circuit;
use crate::ngspice::Pair;

/// A netlist of circuits that touch at the ground only. Conductors that end in the air need some path to it: 1 PΩ from
/// each node, which moves a terminal by less than a part in 10⁹.
pub fn netlist<C: Borrow<Circuit>>(circuits: &[C]) -> String {
    let mut text = "loops\n.options rshunt=1e15\n".to_owned();
    let mut saved = String::new();
    for (index, circuit) in circuits.iter().map(Borrow::borrow).enumerate() {
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

/// The board's terminal of each of so many circuits, over the ground.
pub fn terminals(count: usize) -> Vec<Pair> {
    (0..count).map(|index| (format!("t{index}"), "0".to_owned())).collect()
}
