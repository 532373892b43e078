//! Supplies in the JSON: currents, volts at every device, battery, charger and transformer.

use schemars::JsonSchema;
use serde::Serialize;

use super::super::names::Names;
use super::super::number::Number;
use super::super::parts::Taken;
use crate::base::Id;
use crate::calc::ambient;
use crate::calc::power::own_supply;
use crate::calc::power::standby::{self, Requirement};
use crate::calc::power::transformer;
use crate::calc::power::trees::heads;
use crate::calc::power::{self, Consumer, Demand, Feeding};
use crate::compiled::Compiled;
use crate::model::{self, Source};
use crate::profiles::standby as profile;
use crate::quantity::{AmpereHours, Celsius, Seconds, Volts};
use crate::words;

/// A board with a supply of its own, and what it feeds.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct BoardPower {
    /// Name of the board.
    pub(crate) board: String,
    /// Its outputs and the bus ports in use, in the order of its part. What a module fed by its bus gives counts where
    /// the bus begins.
    pub(crate) supplies: Vec<Supply>,
    /// What it takes with all that it feeds, at rest, in ampere.
    pub(crate) idle_amperes: Option<Number>,
    /// The same with everything in alarm.
    pub(crate) alarm_amperes: Option<Number>,
    /// What its battery must do and does.
    pub(crate) standby: Standby,
    /// Apparent power that its transformer must give, for alarm and charger at once; none without a transformer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) transformer_volt_amperes_needed: Option<Number>,
    /// Volts lost in the cable to it then, with hot wire; none where the spec has no such cable.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) transformer_cable_drop_volts: Option<Number>,
}

/// An output or bus port of a board.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct Supply {
    /// "output" or "bus-port".
    pub(crate) kind: &'static str,
    /// Its name.
    pub(crate) name: String,
    /// Volts on mains; null where the sheet does not say.
    pub(crate) mains_volts: Option<Number>,
    /// Volts at the end of the battery; null where there is no battery.
    pub(crate) battery_volts: Option<Number>,
    /// The most current that it gives; null where the sheet does not say.
    pub(crate) limit_amperes: Option<Number>,
    /// What it gives at rest.
    pub(crate) idle_amperes: Option<Number>,
    /// What it gives with everything in alarm.
    pub(crate) alarm_amperes: Option<Number>,
    /// What it feeds, in the order of the cables.
    pub(crate) loads: Vec<Load>,
    /// Outputs and bus ports of modules that it feeds, in the order of the cables. What they give is counted in this
    /// supply.
    pub(crate) of_modules: Vec<ModuleSupply>,
    /// Names of what it feeds of which no sheet says what it takes; not counted.
    pub(crate) unknown: Vec<String>,
}

/// An output or bus port of a module that takes its supply from its bus.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct ModuleSupply {
    /// Name of the module.
    pub(crate) board: String,
    /// "output" or "bus-port".
    pub(crate) kind: &'static str,
    /// Its name.
    pub(crate) name: String,
    /// The most current that it gives; null where the sheet does not say.
    pub(crate) limit_amperes: Option<Number>,
    /// What it gives at rest.
    pub(crate) idle_amperes: Option<Number>,
    /// What it gives with everything in alarm.
    pub(crate) alarm_amperes: Option<Number>,
}

/// What takes current.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct Load {
    /// "device", "board" or "hop".
    pub(crate) kind: &'static str,
    /// The id of the device, or the name of the board or hop.
    pub(crate) id: String,
    /// Labels of the cables from the supply to it.
    pub(crate) cables: Vec<String>,
    /// What it takes at rest.
    pub idle: Taken,
    /// What it takes in alarm.
    pub alarm: Taken,
    /// Least voltage with which it works.
    pub(crate) min_volts: Option<Number>,
    /// Most voltage that it stands.
    pub(crate) max_volts: Option<Number>,
    /// What arrives, in each case that occurs.
    pub(crate) volts: Vec<Arrives>,
}

/// Volts at a load in one case.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub(crate) struct Arrives {
    /// "mains", or "battery" for its end.
    pub(crate) supply: &'static str,
    /// "idle" or "alarm".
    pub(crate) demand: &'static str,
    /// With the cables at their hottest.
    pub(crate) hot: Option<Number>,
    /// With the cables at their coldest.
    pub(crate) cold: Option<Number>,
}

/// Battery figures of a board.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct Standby {
    /// Time at rest that the profile asks for, in seconds.
    pub(crate) asked_idle_seconds: Option<Number>,
    /// Time in alarm after it.
    pub(crate) asked_alarm_seconds: Option<Number>,
    /// Rated capacity that the profile asks for, its margin included, and no less than lasts its times new and warm.
    pub(crate) asked_ampere_hours: Option<Number>,
    /// Rated capacity that does it in the cold, old and at the currents that flow.
    pub(crate) advised_ampere_hours: Option<Number>,
    /// Rated capacity fitted, all together; null where there is no battery.
    pub(crate) fitted_ampere_hours: Option<Number>,
    /// Time at rest that a new battery gives at 25 °C, the time in alarm kept for its end; null without a battery.
    pub(crate) new_warm_seconds: Option<Number>,
    /// The same at the end of its life in the cold; null where it is too cold for the battery.
    pub(crate) old_cold_seconds: Option<Number>,
    /// Least time to charge it again, with the charger's full current to the end; null where no charger or battery is known.
    pub(crate) recharge_seconds: Option<Number>,
}

/// The boards with a supply of their own, by name.
pub(crate) fn power(names: &Names<'_>, compiled: &Compiled) -> Vec<BoardPower> {
    heads(&compiled.site).map(|board| of_board(names, compiled, board)).collect()
}

fn of_board(names: &Names<'_>, compiled: &Compiled, board: Id<model::Board>) -> BoardPower {
    let site = &compiled.site;
    let item = &site.boards[board];
    let currents = standby::currents(site, &compiled.power, board);
    let asked = transformer::asked(site, &compiled.power, board);
    let has_cable = item.transformer.as_ref().is_some_and(|transformer| transformer.run.is_some());
    BoardPower {
        board: item.name.value.clone(),
        supplies: compiled.power.of_board(board).map(|of| supply(names, of)).collect(),
        idle_amperes: Number::of(currents.idle.0),
        alarm_amperes: Number::of(currents.alarm.0),
        standby: standby_of(compiled, board, currents),
        transformer_volt_amperes_needed: asked.and_then(|asked| Number::of(asked.power.0)),
        transformer_cable_drop_volts: asked.filter(|_| has_cable).and_then(|asked| Number::of(asked.drop.0)),
    }
}

fn standby_of(compiled: &Compiled, board: Id<model::Board>, currents: own_supply::Currents) -> Standby {
    let site = &compiled.site;
    let item = &site.boards[board];
    let requirement = Requirement::from(profile::of_site(site));
    let cold = ambient::of_room(site, item.room).cold;
    let bank = standby::Bank::of(site, board);
    let fitted = bank.map(|bank| bank.capacity);
    let limit = bank.map_or(standby::COLDEST, |bank| bank.coldest);
    let gives = |capacity: AmpereHours, at: Celsius, aged| {
        requirement.gives(capacity, currents, at, aged).filter(|_| at >= limit)
    };
    let charger = site.part_of(board).and_then(|part| part.charger.as_ref());
    let recharge = fitted.zip(charger).map(|(fitted, charger)| requirement.recharge_time(fitted, charger.current));
    let seconds = |time: Option<Seconds>| time.and_then(|time| Number::of(time.0));
    Standby {
        asked_idle_seconds: Number::of(requirement.standby.0),
        asked_alarm_seconds: Number::of(requirement.alarm.0),
        asked_ampere_hours: Number::of(requirement.asked(currents).0),
        advised_ampere_hours: requirement
            .advised(currents, cold)
            .filter(|_| cold >= limit)
            .and_then(|advised| Number::of(advised.0)),
        fitted_ampere_hours: fitted.and_then(|fitted| Number::of(fitted.0)),
        new_warm_seconds: seconds(fitted.and_then(|fitted| gives(fitted, standby::RATED_TEMPERATURE, false))),
        old_cold_seconds: seconds(fitted.and_then(|fitted| gives(fitted, cold, true))),
        recharge_seconds: seconds(recharge),
    }
}

fn supply(names: &Names<'_>, feeding: &Feeding) -> Supply {
    let volts = |volts: Option<Volts>| volts.and_then(|volts| Number::of(volts.0));
    let (kind, name) = source(names, feeding.tree.source);
    Supply {
        kind,
        name,
        mains_volts: volts(feeding.tree.volts),
        battery_volts: volts(feeding.battery_volts),
        limit_amperes: feeding.tree.limit.and_then(|limit| Number::of(limit.0)),
        idle_amperes: Number::of(feeding.current(Demand::Idle).0),
        alarm_amperes: Number::of(feeding.current(Demand::Alarm).0),
        loads: feeding.tree.loads().map(|(node, of)| load(names, feeding, node, of)).collect(),
        of_modules: of_modules(names, feeding),
        unknown: feeding.tree.unknown.iter().map(|consumer| id_of(names, *consumer).1).collect(),
    }
}

fn of_modules(names: &Names<'_>, feeding: &Feeding) -> Vec<ModuleSupply> {
    let of_node = |(at, node): (usize, &power::Node)| {
        let outlet = node.outlet?;
        let (kind, name) = source(names, outlet);
        Some(ModuleSupply {
            board: names.board(outlet.board()).text,
            kind,
            name,
            limit_amperes: node.limit.and_then(|limit| Number::of(limit.0)),
            idle_amperes: Number::of(feeding.current_at(at, Demand::Idle).0),
            alarm_amperes: Number::of(feeding.current_at(at, Demand::Alarm).0),
        })
    };
    feeding.tree.nodes.iter().enumerate().skip(1).filter_map(of_node).collect()
}

/// Kind and name of a supply.
pub(super) fn source(names: &Names<'_>, source: Source) -> (&'static str, String) {
    let kind = match source {
        Source::Output(_) => "output",
        Source::Port(..) => "bus-port",
    };
    (kind, names.site.source_name(source).map(|name| name.value.clone()).unwrap_or_default())
}

fn id_of(names: &Names<'_>, consumer: Consumer) -> (&'static str, String) {
    match consumer {
        Consumer::Device(id) => ("device", names.device(id).text),
        Consumer::Board(id) => ("board", names.board(id).text),
        Consumer::Hop(line, hop) => {
            let hop = names.site.communicators[line].hops.get(hop);
            ("hop", hop.map(|hop| hop.name.value.clone()).unwrap_or_default())
        }
    }
}

fn load(names: &Names<'_>, feeding: &Feeding, node: usize, load: &power::Load) -> Load {
    let (kind, id) = id_of(names, load.consumer);
    let volts = |volts: Option<Volts>| volts.and_then(|volts| Number::of(volts.0));
    let arrives = |(supply, supply_word), (demand, demand_word)| {
        let (hot, cold) = feeding.volts(node, supply, demand)?;
        Some(Arrives { supply: supply_word, demand: demand_word, hot: Number::of(hot.0), cold: Number::of(cold.0) })
    };
    let demands = [(Demand::Idle, "idle"), (Demand::Alarm, "alarm")];
    let supplies = [(power::Supply::Mains, "mains"), (power::Supply::Battery, "battery")];
    Load {
        kind,
        id,
        cables: words::labels(names.wiring, &feeding.tree, node),
        idle: load.idle.into(),
        alarm: load.alarm.into(),
        min_volts: volts(load.min),
        max_volts: volts(load.max),
        volts: supplies
            .into_iter()
            .flat_map(|supply| demands.into_iter().filter_map(move |demand| arrives(supply, demand)))
            .collect(),
    }
}
