//! An earth conductor under a terminal that carries a signal or a supply.

use std::collections::BTreeSet;

use crate::base::{Id, Span};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::terminal::{Role, terminals};
use crate::model::{Board, Site};
use crate::words::{self, Screen};

check!("earth-on-signal", Basis::Contradiction, "an earth conductor on a terminal of another purpose");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut told: BTreeSet<Span> = BTreeSet::new();
    for (id, board) in site.boards.entries() {
        let own = board.earth.as_ref().and_then(|earth| earth.terminal.as_ref());
        let Some(mark) = own.or_else(|| site.part_of(id)?.earth.as_ref()) else { continue };
        let roles = carries(site, id, &mark.value);
        if roles.is_empty() || !told.insert(mark.span) {
            continue;
        }
        let what = words::roles(site, id, &roles);
        let title = format!(
            "terminal {} of {} is for the earth and for something else",
            Screen.name(&mark.value),
            Screen.board(site, id)
        );
        sink.push(
            Diagnostic::new(&RULE, mark.span, title)
                .here("the earth is put here")
                .also(board.part_span, format!("there this terminal is: {what}"))
                .why("An earth on a signal bridges the input or bus to the metal of the house: it reads false, or lightning and faults of the mains go through the board.")
                .help("Put the earth conductor under the terminal that the board's sheet names for it: earth-terminal \"…\" of the part.")
                .about(&board.name.value),
        );
    }
}

/// What a terminal carries that no earth may be on. A negative is left to the board's sheet: some join it to the earth.
fn carries(site: &Site, board: Id<Board>, mark: &str) -> Vec<Role> {
    let found = terminals(site, board).into_iter().find(|terminal| terminal.mark == mark);
    let carries = |role: &Role| match role {
        Role::AcA
        | Role::AcB
        | Role::BatteryPositive
        | Role::OutputPositive(_)
        | Role::RelayCommon(_)
        | Role::RelayMake(_)
        | Role::RelayBreak(_)
        | Role::Transistor(_)
        | Role::BusPlus(_)
        | Role::BusA(_)
        | Role::BusB(_)
        | Role::LineInTip(_)
        | Role::LineInRing(_)
        | Role::LineOutTip(_)
        | Role::LineOutRing(_)
        | Role::InputSignal(_)
        | Role::InputReturn(_)
        | Role::FaultA
        | Role::FaultB
        | Role::WayPositive(_) => true,
        Role::BatteryNegative
        | Role::BusShield(_)
        | Role::OutputNegative(_)
        | Role::BusMinus(_)
        | Role::WayNegative(_)
        | Role::Earth
        | Role::Declared(_)
        | Role::Other => false,
    };
    found.map(|terminal| terminal.roles.into_iter().filter(carries).collect()).unwrap_or_default()
}
