//! What a terminal is for.

use crate::base::Id;
use crate::base::wording::list;
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
        Role::BusPlus(_) => WireUse::BusPlus.printed().to_owned(),
        Role::BusMinus(_) => WireUse::BusMinus.printed().to_owned(),
        Role::BusA(_) => WireUse::BusA.printed().to_owned(),
        Role::BusB(_) => WireUse::BusB.printed().to_owned(),
        Role::BusShield(_) => "shield of the bus".to_owned(),
        Role::LineInTip(_) => WireUse::LineInTip.printed().to_owned(),
        Role::LineInRing(_) => WireUse::LineInRing.printed().to_owned(),
        Role::LineOutTip(_) => WireUse::LineOutTip.printed().to_owned(),
        Role::LineOutRing(_) => WireUse::LineOutRing.printed().to_owned(),
        Role::InputSignal(position) => format!("input {}, sensed", input(part, position)),
        Role::InputReturn(_) | Role::Other => return None,
    })
}
