//! When what hangs on a relay or transistor has its supply: in which cases it counts, and what never counts at once.
//!
//! A drive leaves a circuit out of a case only where it surely does: one that follows its event (without `for=`), that is for
//! every alarm (without `type=` and `area=`), and whose event is that of the supply in question. Everything else counts.

use super::case::{Demand, Supply};
use crate::base::Id;
use crate::model::{Area, Circuit, Drive, Site, SwitchRef};
use crate::terms::{DrivenBy, SwitchContact};

/// What stands one way or the other, never both.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Toggle {
    /// A relay, whose common has its make or its break contact.
    Relay(SwitchRef),
    /// An area, which is armed or is not.
    Arming(Id<Area>),
}

/// What a circuit needs to be closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Throw {
    /// What decides.
    pub(crate) by: Toggle,
    /// Which way it must stand: driven, or armed.
    pub(crate) on: bool,
}

/// The cases in which a circuit has no supply, because of what switches it.
pub(crate) fn off_in(site: &Site, circuit: &Circuit) -> Vec<(Supply, Demand)> {
    let cases = [Supply::Mains, Supply::Battery].map(|supply| [(supply, Demand::Idle), (supply, Demand::Alarm)]);
    let mut cases = cases.concat();
    cases.retain(|(supply, demand)| !may_feed(site, circuit, *supply, *demand));
    cases
}

/// True where a circuit may have its supply in a case, and for so long that it counts.
pub(crate) fn may_feed(site: &Site, circuit: &Circuit, supply: Supply, demand: Demand) -> bool {
    let Some(switching) = circuit.switching.as_ref().filter(|switching| !switching.drives.is_empty()) else {
        return true;
    };
    let mut drives = switching.drives.iter();
    match switching.contact {
        SwitchContact::Make => drives.any(|drive| {
            let follows_mains = drive.by.value == DrivenBy::MainsLost && drive.lasts.is_none();
            let has_mains = follows_mains && supply == Supply::Mains && is_of_its_panel(site, circuit, true);
            !has_mains && (demand == Demand::Alarm || drive.stays())
        }),
        SwitchContact::Break => !drives.any(|drive| surely_holds(site, circuit, drive, supply, demand)),
    }
}

/// True where a drive holds its relay for as long as the case lasts.
fn surely_holds(site: &Site, circuit: &Circuit, drive: &Drive, supply: Supply, demand: Demand) -> bool {
    if drive.lasts.is_some() {
        return false;
    }
    match drive.by.value {
        DrivenBy::Alarm => {
            let any = drive.kind.is_none() && drive.area.is_none();
            any && demand == Demand::Alarm && is_of_its_panel(site, circuit, false)
        }
        DrivenBy::MainsLost => supply == Supply::Battery && is_of_its_panel(site, circuit, true),
        DrivenBy::Armed
        | DrivenBy::Disarmed
        | DrivenBy::Delay
        | DrivenBy::Trouble
        | DrivenBy::Key
        | DrivenBy::Clock => false,
    }
}

/// True where what feeds a circuit is of the panel that drives what switches it; by its own battery and transformer, where
/// that is asked.
fn is_of_its_panel(site: &Site, circuit: &Circuit, own_supply: bool) -> bool {
    let Some((feed, (switch, ..))) = circuit.feed.as_ref().zip(site.switched_by(circuit)) else { return false };
    let (panel, board) = (site.panel_of(Some(switch.board)), feed.value.board);
    let of = if own_supply { site.supplied_by(board) } else { site.panel_of(Some(board)) };
    panel.is_some() && of == panel
}

/// What must stand one way for a circuit to be closed; `None` where nothing switches it, or more than that.
pub(crate) fn throw(circuit: &Circuit) -> Option<Throw> {
    let switching = circuit.switching.as_ref()?;
    let make = switching.contact == SwitchContact::Make;
    if let [Drive { by, area: Some(area), lasts: None, .. }] = switching.drives.as_slice()
        && let DrivenBy::Armed | DrivenBy::Disarmed = by.value
    {
        return Some(Throw { by: Toggle::Arming(*area), on: make == (by.value == DrivenBy::Armed) });
    }
    Some(Throw { by: Toggle::Relay(switching.switch.as_ref()?.value), on: make })
}
