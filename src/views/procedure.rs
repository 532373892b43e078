//! How a board is switched on and off, how a conductor is moved, how loops, buses and supplies are measured: one
//! procedure, for every sheet that speaks of it.
//!
//! In which order mains and battery come is on the board's sheet (`battery-port connect=`); where it is not, the battery
//! comes last and goes first, as is common practice. The procedures hold the marks `{on}` and `{off}` in its place, and
//! [`told`] puts the site's order in; `{battery}`, `{supplies}` and `{siren}` are what stays alive where the site has it,
//! `{to service}` and `{tell service}` who hears of it.

use crate::base::Id;
use crate::model::{Battery, Board, BoardKind, DeviceKind, Site, Zone};
use crate::terms::{Bank, Connect};

/// In which order the two supplies of a board come; they go in the reverse.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Order {
    /// Mains, then battery.
    BatteryLast,
    /// Battery, then mains.
    BatteryFirst,
    /// The boards of the site differ.
    EachItsOwn,
}

impl Order {
    /// The order of a board.
    pub(crate) fn of_board(site: &Site, board: Id<Board>) -> Self {
        match sheet(site, board) {
            Some(Connect::First) => Self::BatteryFirst,
            Some(Connect::Last) | None => Self::BatteryLast,
        }
    }

    /// The order of all boards with a battery.
    pub(crate) fn of_site(site: &Site) -> Self {
        let boards = site.boards.entries().filter(|(_, board)| board.battery.is_some());
        let mut orders = boards.map(|(id, _)| Self::of_board(site, id));
        let first = orders.next().unwrap_or(Self::BatteryLast);
        if orders.all(|order| order == first) { first } else { Self::EachItsOwn }
    }

    /// Switching a board on, by the supplies that there are.
    fn on(self, fed: Fed) -> String {
        if self == Self::EachItsOwn {
            return "check the wiring while nothing is connected, then connect transformer and battery, + to +, in the order that the terminal schedule gives for the board".to_owned();
        }
        let steps = self.of([fed.mains.then(mains_on), fed.battery.then(|| CONNECT.to_owned())]);
        let steps = if steps.is_empty() { "give it its supply".to_owned() } else { steps.join(", then ") };
        let comma = if fed.mains && fed.battery { "," } else { ", then" };
        format!("check the wiring while nothing is connected{comma} {steps}")
    }

    /// Switching it off.
    fn off(self, fed: Fed) -> String {
        let lead = if fed.several { EACH_LEAD_OFF } else { LEAD_OFF };
        if self == Self::EachItsOwn {
            let mains = mains_off("the transformer");
            return format!("{lead}, and {mains}, in the order that the terminal schedule gives for the board");
        }
        let steps = self.of([fed.battery.then(|| lead.to_owned()), fed.mains.then(|| mains_off("the transformer"))]);
        if steps.is_empty() { "take its supply away".to_owned() } else { steps.join(", then ") }
    }

    /// What there is of two steps, which are given in the order of common practice.
    fn of(self, steps: [Option<String>; 2]) -> Vec<String> {
        let mut steps: Vec<String> = steps.into_iter().flatten().collect();
        if self == Self::BatteryFirst {
            steps.reverse();
        }
        steps
    }
}

/// What there is to switch.
#[derive(Clone, Copy)]
struct Fed {
    /// A transformer.
    mains: bool,
    /// A battery.
    battery: bool,
    /// Several batteries side by side.
    several: bool,
}

impl Fed {
    fn by<'b>(boards: impl Iterator<Item = &'b Board> + Clone) -> Self {
        Self {
            mains: boards.clone().any(|board| board.transformer.is_some()),
            battery: boards.clone().any(|board| board.battery.is_some()),
            several: boards.clone().any(|board| board.battery.as_ref().is_some_and(side_by_side)),
        }
    }
}

/// Puts a battery in use. Of what colour a lead is says the terminal schedule.
const CONNECT: &str = "connect the battery, + to +";

/// What a board's sheet says.
fn sheet(site: &Site, board: Id<Board>) -> Option<Connect> {
    site.part_of(board)?.battery_port.as_ref()?.connect
}

/// Switching a board on and off, for its own table; `None` where it has neither battery nor transformer.
pub(crate) fn of_board(site: &Site, id: Id<Board>) -> Option<String> {
    let board = &site.boards[id];
    if board.battery.is_none() || board.transformer.is_none() {
        return None;
    }
    let order = Order::of_board(site, id);
    let basis = match sheet(site, id) {
        Some(_) => "by the board's sheet",
        None => "common practice; the board's sheet prevails",
    };
    let fed = Fed::by(std::iter::once(board));
    let live = if fed.several { " One battery of several keeps the board alive." } else { "" };
    Some(format!("Switch on: {}. Switch off: {} ({basis}).{live}", order.on(fed), order.off(fed)))
}

/// Takes the mains off a transformer. A plug that a screw holds is not pulled: with the screw loosened the outlet's cover may fall
/// across its live pins.
pub(crate) fn mains_off(transformer: &str) -> String {
    format!("unplug {transformer} or, where a screw holds its plug, switch off the breaker of its outlet")
}

/// Gives a transformer its mains.
pub(crate) fn mains_on() -> String {
    "plug the transformer in or switch its outlet's breaker on".to_owned()
}

/// Takes a battery out of use.
const LEAD_OFF: &str = "take one lead off the battery and cap it";

/// The same of batteries side by side: one with both its leads on keeps the board alive.
const EACH_LEAD_OFF: &str = "take one lead off each battery and cap it";

/// How the battery of a board is taken out of use.
pub(crate) fn lead_off(battery: &Battery) -> &'static str {
    if side_by_side(battery) { EACH_LEAD_OFF } else { LEAD_OFF }
}

/// How it is put to use again.
pub(crate) fn lead_on(battery: &Battery) -> &'static str {
    if side_by_side(battery) {
        "put the lead back on each battery, + to +"
    } else {
        "put the battery lead back on, + to +"
    }
}

/// True of several batteries unless they are known to be all in a row.
fn side_by_side(battery: &Battery) -> bool {
    battery.total() > 1 && battery.wired.as_ref().is_none_or(|wired| wired.value != Bank::Series)
}

/// A procedure with the site's order of mains and battery.
pub(crate) fn told(site: &Site, procedure: &str) -> String {
    let order = Order::of_site(site);
    let of_site = Fed::by(site.boards.iter());
    let fed = site.boards.iter().filter(|board| board.transformer.is_some() || board.battery.is_some()).count();
    let supplies = if site.boards.iter().any(|board| board.kind == BoardKind::PowerSupply) || fed > 1 {
        " A power supply or a board with a transformer or battery of its own stays live: switch it off as well."
    } else {
        ""
    };
    let siren = site.devices.iter().any(|device| device.kind == DeviceKind::Sounder && device.battery.is_some());
    let siren = if siren {
        " A siren with a battery of its own may sound when its cable is lifted: ears protected, nobody on a ladder beside it, and take its battery off first where you can."
    } else {
        ""
    };
    let [to_service, tell_service] = if site.communicators.is_empty() {
        [""; 2]
    } else {
        [" and the service is told", " Tell the monitoring service before and after."]
    };
    let procedure = procedure.replace("{to service}", to_service).replace("{tell service}", tell_service);
    let alive = if of_site.battery { " The battery alone keeps the board alive." } else { "" };
    let procedure = procedure.replace("{on}", &order.on(of_site)).replace("{off}", &order.off(of_site));
    let procedure = procedure.replace("{battery}", alive);
    procedure.replace("{supplies}", supplies).replace("{siren}", siren)
}

/// Before a conductor is moved.
pub(crate) const BOARD_OFF: &str =
    "Switch the board off before you land, lift or move a conductor: {off}.{battery}{supplies}{siren}";

/// When all is landed.
pub(crate) const BOARD_ON: &str = "Switch the board on in this order: {on}. Off in the reverse: {off}.";

/// True where a loop can be read without any supply: nothing in it has one of its own. What feeds on the loop has none off its board.
pub(crate) fn is_passive(site: &Site, id: Id<Zone>) -> bool {
    let fed = |device| site.device_part(device).is_some_and(|part| part.supply.is_some());
    // The fault contact of a supply that is off tells its fault.
    !site.devices_of(id).any(|(device, item)| fed(device) || item.board.is_some())
}

/// How the ohms of a loop are taken: with the board's own supply on where something in the loop has one.
pub(crate) const LOOP_OHMS: &str = "switch the board off ({off}), lift the loop's conductors off its two terminals, leave joints as they are, and keep the two apart. Where nothing in the loop has a supply, read across the two conductors now. Else switch the board on again, because many detectors open or close their contact without supply, and read then: to the board the lifted loop is in alarm or trouble, so the sounders' conductors are off before{to service}. Switch it off to land them. Hold the \
     probes together first and take that reading off.";

/// How conductors are lifted one after another in a loop that can be read without any supply.
pub(crate) const LIFT_DARK: &str =
    "Switch the board off before you lift a conductor. Before each step land again what the step before it lifted.";

/// The same of a loop in which something has a supply.
pub(crate) const LIFT_FED: &str = "Switch the board off to lift and to land, and on again to read: something in this loop opens or closes its contact without supply. To the board the lifted loop is in alarm or trouble then: the sounders' conductors are off before{to service}. Before each step land again what the step before it lifted.";

/// Where the sounders are while a board is worked on.
pub(crate) const SOUNDERS_OFF: &str = "The sounders' conductors are off the boards and capped until they are tried: nothing sounds beside an ear or a ladder.{siren}";

/// How the volts of a loop are taken.
pub(crate) const LOOP_VOLTS: &str = "everything connected and the board on, at the two terminals.";

/// How the ohms of a bus are taken.
pub(crate) const BUS_OHMS: &str = "switch the board off ({off}), and every board of the bus that has a supply of its own; everything connected, probes on A and B.";

/// How a relay that watches a supply is tried; [`relay_here`] is the same for the sheet that has its table.
pub(crate) const RELAY: &str = "Try each supply relay: switch off the board or power supply that feeds it, lift its + conductor there, which the installer's commissioning sheet names, and switch on again: the relay's zone must show trouble, or the alarm where its loop reads alike for both. Switch it off to land the conductor.";

/// How a relay that watches a supply is tried, above the table that names its conductor.
pub(crate) fn relay_here() -> String {
    RELAY.replace("the installer's commissioning sheet", "the table below")
}

/// How a supply passes a fire detector.
pub(crate) const IN_AND_OUT: &str = "Take the supply through each detector's own terminals, one conductor in and one out under the same screw, cut and not looped; do not tee off to a detector, or a cut of the tee goes unseen.";
