//! What a terminal is for, in words.

use crate::base::Id;
use crate::base::wording::list;
use crate::model::{Board, Part, Role, Site};

/// "input 5, sensed"; "return of inputs 5 and 6"; "aux, positive".
pub fn words(site: &Site, board: Id<Board>, roles: &[Role]) -> String {
    let part = site.part_of(board);
    let returns: Vec<String> = roles.iter().filter_map(|role| input(part?, role)).collect();
    let others = roles.iter().filter(|role| !matches!(role, Role::InputReturn(_))).map(|role| one(part, *role));
    let noun = if returns.len() == 1 { "input" } else { "inputs" };
    let shared = (!returns.is_empty()).then(|| format!("return of {noun} {}", list(&returns, "and")));
    let said: Vec<String> = others.chain(shared).filter(|words| !words.is_empty()).collect();
    said.join("; ")
}

fn input(part: &Part, role: &Role) -> Option<String> {
    let Role::InputReturn(position) = role else { return None };
    part.inputs.get(*position).map(|input| input.number.value.to_string())
}

fn one(part: Option<&Part>, role: Role) -> String {
    let output = |position: usize| {
        part.and_then(|part| part.outputs.get(position)).map_or("output", |output| output.name.value.as_str())
    };
    let number = |position: usize| {
        part.and_then(|part| part.inputs.get(position)).map(|input| input.number.value.to_string()).unwrap_or_default()
    };
    match role {
        Role::OutputPositive(position) => format!("output {}, positive", output(position)),
        Role::OutputNegative(position) => format!("output {}, negative", output(position)),
        Role::BusPlus(_) => "bus supply +".into(),
        Role::BusMinus(_) => "bus supply −".into(),
        Role::BusA(_) => "bus data A".into(),
        Role::BusB(_) => "bus data B".into(),
        Role::LineInTip(_) => "line from the street, tip".into(),
        Role::LineInRing(_) => "line from the street, ring".into(),
        Role::LineOutTip(_) => "on to the house phones, tip".into(),
        Role::LineOutRing(_) => "on to the house phones, ring".into(),
        Role::InputSignal(position) => format!("input {}, sensed", number(position)),
        Role::WayPositive(0) => "feed of the strip, positive".into(),
        Role::WayNegative(0) => "feed of the strip, negative".into(),
        Role::WayPositive(way) => format!("way {way}, positive"),
        Role::WayNegative(way) => format!("way {way}, negative"),
        Role::InputReturn(_) | Role::Other => String::new(),
    }
}
