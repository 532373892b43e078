//! What a terminal is for.

use crate::base::wording::list;
use crate::base::{Id, Spanned};
use crate::model::{Board, Part, Role, Site};
use crate::terms::{SwitchContact, WireUse};

/// Why a board's terminal for the positive of a bus stays empty.
pub(crate) const OWN_SUPPLY: &str = "this board has a supply of its own";

/// What is done with the positive of a bus that ends at such a board.
pub(crate) const UNUSED: &str = "insulate it and park it, for this board has a supply of its own";

/// "input 5, sensed"; "return of inputs 5 and 6"; "supply + of output aux". Empty where the board's part is not known.
pub(crate) fn roles(site: &Site, board: Id<Board>, roles: &[Role]) -> String {
    let part = site.part_of(board);
    let returns: Vec<String> = roles
        .iter()
        .filter_map(|role| if let Role::InputReturn(position) = role { Some(input(part, *position)) } else { None })
        .collect();
    let noun = if returns.len() == 1 { "input" } else { "inputs" };
    let shared = (!returns.is_empty()).then(|| format!("return of {noun} {}", list(&returns, "and")));
    let said: Vec<String> = roles.iter().filter_map(|role| one(part, *role)).chain(shared).collect();
    said.join("; ")
}

fn input(part: Option<&Part>, position: usize) -> String {
    part.and_then(|part| part.inputs.get(position)).map(|input| input.number.value.to_string()).unwrap_or_default()
}

/// `None` where it has no words of its own: an input's return stands with the others that share it.
fn one(part: Option<&Part>, role: Role) -> Option<String> {
    let of_output = |does: WireUse, position: usize| {
        let output = part.and_then(|part| part.outputs.get(position));
        format!("{} of output {}", does.printed(), output.map_or("", |output| output.name.value.as_str()))
    };
    let of_switch = |position: usize, what: &str| {
        let switch = part.and_then(|part| part.switches.get(position));
        let name = switch.map_or_else(String::new, super::switch);
        if what.is_empty() { name } else { format!("{name}, {what}") }
    };
    // Of several ports each has its name.
    let of_port = |what: &str, names: &[&Spanned<String>], position: usize| {
        let name = names.get(position).filter(|_| names.len() > 1);
        name.map_or_else(|| what.to_owned(), |name| format!("{what} of port {}", name.value))
    };
    let of_bus = |what: &str, position: usize| {
        let names: Vec<_> = part.iter().flat_map(|part| &part.bus_ports).map(|port| &port.name).collect();
        of_port(what, &names, position)
    };
    let of_line = |does: WireUse, position: usize| {
        let names: Vec<_> = part.iter().flat_map(|part| &part.line_ports).map(|port| &port.name).collect();
        of_port(does.printed(), &names, position)
    };
    let of_way = |does: WireUse, way: u32| match way {
        0 => format!("{} into the strip", does.printed()),
        way => format!("{} of way {way}", does.printed()),
    };
    Some(match role {
        Role::AcA => "AC supply A".to_owned(),
        Role::AcB => "AC supply B".to_owned(),
        Role::BatteryPositive => "battery +".to_owned(),
        Role::BatteryNegative => "battery −".to_owned(),
        Role::Earth => "earth".to_owned(),
        Role::FaultA => "fault contact A".to_owned(),
        Role::FaultB => "fault contact B".to_owned(),
        Role::Declared(position) => part.and_then(|part| part.others.get(position))?.purpose.clone(),
        Role::OutputPositive(position) => of_output(WireUse::SupplyPositive, position),
        Role::OutputNegative(position) => of_output(WireUse::SupplyNegative, position),
        Role::RelayCommon(position) => of_switch(position, "common"),
        Role::RelayMake(position) => of_switch(position, SwitchContact::Make.printed()),
        Role::RelayBreak(position) => of_switch(position, SwitchContact::Break.printed()),
        Role::Transistor(position) => of_switch(position, ""),
        Role::WayPositive(way) => of_way(WireUse::SupplyPositive, way),
        Role::WayNegative(way) => of_way(WireUse::SupplyNegative, way),
        Role::BusPlus(port) => of_bus(WireUse::BusPlus.printed(), port),
        Role::BusMinus(port) => of_bus(WireUse::BusMinus.printed(), port),
        Role::BusA(port) => of_bus(WireUse::BusA.printed(), port),
        Role::BusB(port) => of_bus(WireUse::BusB.printed(), port),
        Role::BusShield(port) => of_bus("shield of the bus", port),
        Role::LineInTip(port) => of_line(WireUse::LineInTip, port),
        Role::LineInRing(port) => of_line(WireUse::LineInRing, port),
        Role::LineOutTip(port) => of_line(WireUse::LineOutTip, port),
        Role::LineOutRing(port) => of_line(WireUse::LineOutRing, port),
        Role::InputSignal(position) => format!("input {}, sensed", input(part, position)),
        Role::InputReturn(_) | Role::Other => return None,
    })
}
