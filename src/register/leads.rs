//! The leads that power and earth a board: transformer, battery, earth.
//!
//! They are short, seldom in a wall and follow from the part's terminals, so the register does not keep them. They take
//! room under their screws like everything else.

use crate::model::{Board, Part, Site};

use super::wiring::{Lead, OnTerminal, Wiring};

/// Puts the leads of every board on its terminals.
pub(crate) fn connect(site: &Site, wiring: &mut Wiring) {
    for (id, board) in site.boards.entries() {
        let Some(part) = site.part_of(id) else { continue };
        for (mark, lead) in leads(board, part) {
            wiring.terminals.entry((id, mark)).or_default().push(OnTerminal::Lead(lead));
        }
    }
}

fn leads(board: &Board, part: &Part) -> Vec<(String, Lead)> {
    let mut leads = Vec::new();
    let by_lead = board.transformer.as_ref().filter(|transformer| transformer.run.is_none());
    if let (Some(port), Some(_)) = (&part.ac_port, by_lead) {
        leads.push((port.a.value.clone(), Lead::AcA));
        leads.push((port.b.value.clone(), Lead::AcB));
    }
    if let (Some(port), Some(_)) = (&part.battery_port, &board.battery) {
        leads.push((port.positive.value.clone(), Lead::BatteryPositive));
        leads.push((port.negative.value.clone(), Lead::BatteryNegative));
    }
    if let Some(earth) = &board.earth {
        let mark = earth.terminal.as_ref().or(part.earth.as_ref());
        leads.extend(mark.map(|mark| (mark.value.clone(), Lead::Earth)));
    }
    leads
}
