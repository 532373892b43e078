//! Boards in the JSON, each with its terminals and what is on them.

use schemars::JsonSchema;
use serde::Serialize;

use super::number::Number;
use super::places::room_name;
use crate::base::Id;
use crate::model::{self, BoardKind, terminal};
use crate::register::{OnTerminal, Wiring};

/// A panel, keypad, module, receiver or strip.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Board {
    /// The name that others refer to.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// "panel", "keypad", "module", "receiver" or "strip".
    pub kind: &'static str,
    /// Name of the part it is; none for a strip.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
    /// Name of the room it is in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// Height above the floor in metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mount: Option<Number>,
    /// Name of the bus it hangs on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bus: Option<String>,
    /// Its address on the bus.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub address: Option<u32>,
    /// The number by which the panel knows a module's first input.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub inputs_from: Option<u32>,
    /// Standby battery of a panel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub battery: Option<Battery>,
    /// Mains transformer of a panel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub transformer: Option<Transformer>,
    /// Its terminals, in their order on the board.
    pub terminals: Vec<Terminal>,
    /// Resistors fitted across two of its terminals.
    pub fitted: Vec<Fitted>,
}

/// A standby battery.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Battery {
    /// Rated capacity of one in ampere-hours.
    pub ampere_hours: Option<Number>,
    /// Batteries in parallel.
    pub count: u32,
    /// Day it was put in, as year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub installed: Option<String>,
}

/// A mains transformer.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Transformer {
    /// Secondary voltage.
    pub volts: Option<Number>,
    /// Apparent power.
    pub volt_amperes: Option<Number>,
    /// Which outlet it is on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outlet: Option<String>,
    /// Whether that outlet can be switched off.
    pub switched: bool,
}

/// A terminal and what is on it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Terminal {
    /// As printed on the board.
    pub mark: String,
    /// What lands here, in order of landing.
    pub holds: Vec<Held>,
}

/// What is on a terminal.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Held {
    /// A conductor of a cable.
    Conductor {
        /// Label of the cable.
        cable: String,
        /// Position in the cable, from 1.
        position: usize,
        /// Colour as a code of IEC 60757.
        #[serde(skip_serializing_if = "Option::is_none")]
        colour: Option<String>,
        /// What it does, in the words of the list of cables.
        function: &'static str,
    },
    /// A link to another terminal.
    Link {
        /// Name of the other board.
        board: String,
        /// Mark of the other terminal.
        terminal: String,
    },
}

/// A resistor fitted across two terminals.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct Fitted {
    /// The two marks.
    pub across: [String; 2],
    /// True where it stands between the first terminal and the cable instead of across the two.
    pub in_series: bool,
    /// Its value in ohm.
    pub ohms: Option<Number>,
    /// "resistor" for a loop's, "terminator" for a bus's.
    pub kind: &'static str,
    /// The zone whose loop it is in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub zone: Option<u32>,
}

/// The boards, by name.
pub fn boards(site: &model::Site, wiring: &Wiring) -> Vec<Board> {
    site.boards.entries().map(|(id, board)| of_board(site, wiring, id, board)).collect()
}

fn of_board(site: &model::Site, wiring: &Wiring, id: Id<model::Board>, board: &model::Board) -> Board {
    Board {
        name: board.name.value.clone(),
        title: board.title.clone(),
        kind: board.kind.noun(),
        part: board.part.map(|part| site.parts[part].name.value.clone()),
        room: room_name(site, board.room),
        mount: board.mount.and_then(|height| Number::of(height.0)),
        bus: board.bus.map(|(bus, _)| site.buses[bus].name.value.clone()),
        address: board.address.as_ref().map(|address| address.value),
        inputs_from: match board.kind {
            BoardKind::Module { inputs_from } => inputs_from,
            _ => None,
        },
        battery: board.battery.as_ref().map(|battery| Battery {
            ampere_hours: Number::of(battery.capacity.value.0),
            count: battery.count,
            installed: battery.installed.map(|day| day.to_string()),
        }),
        transformer: board.transformer.as_ref().map(|transformer| Transformer {
            volts: Number::of(transformer.volts.value.0),
            volt_amperes: Number::of(transformer.rating.value.0),
            outlet: transformer.outlet.clone(),
            switched: transformer.switched,
        }),
        terminals: terminal::terminals(site, id)
            .into_iter()
            .map(|terminal| {
                let on = wiring.terminals.get(&(id, terminal.mark.clone()));
                let holds = on.into_iter().flatten().filter_map(|item| held(site, wiring, item)).collect();
                Terminal { mark: terminal.mark, holds }
            })
            .collect(),
        fitted: wiring
            .fitted
            .iter()
            .filter(|fitted| fitted.board == id)
            .map(|fitted| Fitted {
                across: [fitted.across.0.clone(), fitted.across.1.clone()],
                in_series: fitted.in_series,
                ohms: fitted
                    .resistor
                    .map(|value| value.nominal)
                    .or(fitted.terminator)
                    .and_then(|value| Number::of(value.0)),
                kind: if fitted.terminator.is_some() { "terminator" } else { "resistor" },
                zone: fitted.zone.map(|zone| site.zones[zone].number.value),
            })
            .collect(),
    }
}

fn held(site: &model::Site, wiring: &Wiring, item: &OnTerminal) -> Option<Held> {
    match item {
        OnTerminal::Conductor(cable, conductor) => {
            let cable = wiring.cables.get(*cable)?;
            let conductor = cable.conductors.get(*conductor)?;
            Some(Held::Conductor {
                cable: cable.label.clone(),
                position: conductor.position + 1,
                colour: conductor.colour.map(crate::quantity::Colour::code),
                function: conductor.function.wire_use().word(),
            })
        }
        OnTerminal::Link(board, mark) => {
            Some(Held::Link { board: site.boards[*board].name.value.clone(), terminal: mark.clone() })
        }
    }
}
