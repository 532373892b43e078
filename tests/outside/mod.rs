//! Programs outside of this crate that say what is right, and what they have said.
//!
//! A comparison puts questions to such a program. All of them are put where the program is installed; with
//! `LOOPWRIGHT_OUTSIDE=required` it has to be. A spread sample of them is answered on every machine out of `tests/recorded/`,
//! where the answers of the program were written down once. A question that is not the recorded one fails, so that an
//! old recording never stands for other circuits.

mod recording;
mod resistors;

pub use recording::Recording;

use crate::ngspice::{self, Pair};

/// Answers of a program.
pub enum Said {
    /// By the program itself, now.
    Live,
    /// Out of a recording, or into one.
    Recorded(Recording),
}

impl Said {
    /// The installed program; `None` where there is none and none is required.
    pub fn live(version: Option<String>, install: &str) -> Option<Self> {
        let required = std::env::var_os("LOOPWRIGHT_OUTSIDE").is_some_and(|value| value == "required");
        assert!(version.is_some() || !required, "LOOPWRIGHT_OUTSIDE=required, and a program is missing: {install}");
        if version.is_none() {
            eprintln!("only the recorded answers are compared: {install}");
        }
        version.map(|_| Self::Live)
    }

    /// An answer to each question; `ask` puts them to the program.
    pub fn answers(&mut self, questions: &[String], ask: impl FnOnce() -> Vec<String>) -> Vec<String> {
        match self {
            Self::Live => ask(),
            Self::Recorded(recording) => recording.answers(questions, ask),
        }
    }

    /// What ngspice says of a netlist: the volts of the first node of each pair over the second.
    pub fn volts(&mut self, netlist: &str, pairs: &[Pair]) -> Vec<f64> {
        let ask = || {
            let volts: Vec<String> =
                ngspice::volts(netlist, pairs).iter().map(|volts| format!("{volts:.9e}")).collect();
            vec![volts.join(" ")]
        };
        let volts: Vec<f64> =
            self.answers(&[fingerprint(netlist)], ask).iter().flat_map(|line| numbers(line)).collect();
        assert_eq!(volts.len(), pairs.len());
        volts
    }

    /// To be called after the last question.
    pub fn finish(self) {
        if let Self::Recorded(recording) = self {
            recording.finish();
        }
    }
}

/// ngspice itself.
pub fn ngspice() -> Option<Said> {
    Said::live(ngspice::version(), "install the Debian package ngspice")
}

/// What ngspice said to `tests/recorded/ngspice-NAME.txt`.
pub fn ngspice_recorded(name: &str) -> Said {
    Said::Recorded(Recording::open(&format!("ngspice-{name}"), ngspice::version))
}

/// The numbers of an answer.
pub fn numbers(answer: &str) -> impl Iterator<Item = f64> + '_ {
    answer.split(' ').map(|number| number.parse().unwrap_or_else(|_| panic!("no number: {number}")))
}

/// A netlist in sixteen digits (FNV-1a). Numbers count to six digits: the last bit of a power is another on other machines.
fn fingerprint(netlist: &str) -> String {
    let words = netlist.split_inclusive(char::is_whitespace).map(|word| match word.trim_end().parse::<f64>() {
        Ok(number) => format!("{number:.5e} "),
        Err(_) => word.to_owned(),
    });
    let hash = words
        .flat_map(String::into_bytes)
        .fold(0xCBF2_9CE4_8422_2325_u64, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01B3));
    format!("{hash:016x}")
}

#[test]
fn a_fingerprint_tells_circuits_apart() {
    let one = fingerprint("R1 a b 1.000000e3\nR2 b 0 2.5e2\n");
    assert_eq!(one, fingerprint("R1 a b 1.0000000000001e3\nR2 b 0 2.5e2\n"), "the last bits do not count");
    for other in ["R1 a b 1.0001e3\nR2 b 0 2.5e2\n", "R1 a c 1e3\nR2 c 0 2.5e2\n", "R1 a b 1e3\n"] {
        assert_ne!(one, fingerprint(other));
    }
}
