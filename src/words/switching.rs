//! Relays and transistors, and what drives them.

use super::Medium;
use crate::base::Id;
use crate::base::wording::{a, list};
use crate::model::{Circuit, Drive, Fed, Site, Switch, SwitchRef, Switching};
use crate::terms::DrivenBy;

/// A relay or transistor by its name, with its noun unless the name says it: "relay-1", "relay lamps".
pub(crate) fn switch(switch: &Switch) -> String {
    let (noun, name) = (switch.noun(), &switch.name.value);
    if name.starts_with(noun) { name.clone() } else { format!("{noun} {name}") }
}

/// A contact of a relay, or a transistor: "relay-1, make contact".
pub(crate) fn contact(of: &Switch, switching: &Switching) -> String {
    let name = switch(of);
    if of.common().is_some() { format!("{name}, {}", switching.contact.printed()) } else { name }
}

impl Medium {
    /// "relay `relay-1` of panel `main`".
    pub(crate) fn switch(self, site: &Site, of: SwitchRef) -> String {
        let named = site.switch(of).map_or_else(String::new, |switch| match self {
            Self::Screen => format!("{} {}", switch.noun(), self.name(&switch.name.value)),
            Self::Paper => super::switching::switch(switch),
        });
        format!("{named} of {}", self.board(site, of.board))
    }
}

/// What drives a circuit's relay or transistor: "an alarm of a fire zone in House; a key of a keypad, for 2 s".
pub(crate) fn drives(site: &Site, switching: &Switching) -> String {
    let drives: Vec<String> = switching.drives.iter().map(|one| drive(site, one)).collect();
    list(&drives, "or")
}

fn drive(site: &Site, drive: &Drive) -> String {
    let Drive { by, kind, area, lasts } = drive;
    let kind = kind.map(|kind| format!(" of {} zone", a(&kind.word().replace('-', " "))));
    let area = area.map(|area| match by.value {
        DrivenBy::Armed | DrivenBy::Disarmed => format!(" of {}", site.areas[area].title),
        DrivenBy::Alarm
        | DrivenBy::Delay
        | DrivenBy::Trouble
        | DrivenBy::MainsLost
        | DrivenBy::Key
        | DrivenBy::Clock => format!(" in {}", site.areas[area].title),
    });
    let lasts = lasts.map(|lasts| format!(", for {lasts}"));
    [Some(by.value.printed().to_owned()), kind, area, lasts].into_iter().flatten().collect()
}

/// What a circuit's cables feed, on paper: loads and sounders, detectors, devices on the way to the service.
pub(crate) fn hung(site: &Site, circuit: Id<Circuit>) -> String {
    let things = site.consumers_on(circuit).filter_map(|(fed, _)| match fed {
        Fed::Device(id) => Some(super::placed(site, id)),
        Fed::Hop(hop) => site.hop(hop).map(|hop| hop.name.value.clone()),
    });
    list(&things.collect::<Vec<_>>(), "and")
}
