//! Outputs that switch: relays and transistors by their sheets, and how circuits are switched.

use super::item::{Reference, record};
use super::names::Names;
use crate::model::{self, Rating, SwitchKind};
use crate::quantity::{Amperes, Seconds, Volts};
use crate::terms::ZoneType;

record! {
    /// A relay or transistor of a board.
    SheetSwitch by name {
        /// The name that others refer to.
        name: String,
        /// "relay" or "transistor".
        kind: &'static str => "kind",
        /// Mark of a relay's common.
        common: Option<String> => "common terminal",
        /// Mark of a relay's make contact.
        make: Option<String> => "make terminal",
        /// Mark of a relay's break contact.
        r#break: Option<String> => "break terminal",
        /// Mark of a transistor.
        terminal: Option<String> => "terminal",
        /// The side of a load that a transistor switches: "plus" or "minus".
        side: Option<&'static str> => "switches",
        /// Most voltage that it switches in direct current.
        volts: Option<Volts> => "most volts d.c.",
        /// Most direct current that it switches.
        amperes: Option<Amperes> => "most current d.c.",
        /// Most voltage that it switches in alternating current.
        ac_volts: Option<Volts> => "most volts a.c.",
        /// Most alternating current that it switches.
        ac_amperes: Option<Amperes> => "most current a.c.",
    }

    /// The supply of its own that a load has and a dry contact switches.
    OwnSupply {
        /// Its voltage.
        volts: Volts => "volts",
        /// The current through the contact.
        amperes: Amperes => "current",
        /// "dc" or "ac".
        kind: &'static str => "kind",
        /// Mark at its pair of terminals.
        mark: String => "terminals",
        /// Whether the contact switches a coil.
        coil: bool => "coil",
        /// Whether a diode across that coil is built in.
        diode: bool => "diode built in",
    }

    /// How a circuit is switched.
    Switching {
        /// Name of the board.
        board: Option<Reference> => "switched by",
        /// Name of its relay or transistor.
        switch: Option<String> => "switched by",
        /// "make" or "break".
        contact: &'static str => "contact",
        /// Whether the contact is dry: nothing of ours feeds the load.
        dry: bool => "dry contact",
        /// What drives it, in the order of the text.
        drives: Vec<Drive> => "driven by",
    }

    /// What drives a relay or transistor.
    Drive {
        /// The event.
        by: &'static str => "",
        /// Of an alarm, the only type of zone that counts.
        zone_type: Option<&'static str> => "type",
        /// Name of the only area that counts.
        area: Option<Reference> => "area",
        /// How long it then stays driven, in seconds.
        seconds: Option<Seconds> => "for",
    }
}

impl SheetSwitch {
    /// A relay or transistor.
    pub(crate) fn of(switch: &model::Switch) -> Self {
        let model::Switch { name, kind, direct: Rating { volts, current } } = switch;
        let bare = Self {
            name: name.value.clone(),
            kind: switch.noun(),
            common: None,
            make: None,
            r#break: None,
            terminal: None,
            side: None,
            volts: *volts,
            amperes: *current,
            ac_volts: None,
            ac_amperes: None,
        };
        match kind {
            SwitchKind::Relay { common, make, breaks, alternating: Rating { volts, current } } => Self {
                common: Some(common.clone()),
                make: make.clone(),
                r#break: breaks.clone(),
                ac_volts: *volts,
                ac_amperes: *current,
                ..bare
            },
            SwitchKind::Transistor { mark, side } => {
                Self { terminal: Some(mark.clone()), side: Some(side.word()), ..bare }
            }
        }
    }
}

impl OwnSupply {
    /// The supply of its own of a load.
    pub(crate) fn of(supply: &model::OwnSupply) -> Self {
        let model::OwnSupply { place: _, volts, current, kind, mark, coil, diode } = supply;
        Self { volts: *volts, amperes: *current, kind: kind.word(), mark: mark.clone(), coil: *coil, diode: *diode }
    }
}

impl Switching {
    /// How a circuit is switched.
    pub(crate) fn of(names: &Names<'_>, switching: &model::Switching) -> Self {
        let model::Switching { switch, contact, dry, drives } = switching;
        let of = switch.as_ref().map(|switch| switch.value);
        Self {
            board: of.map(|of| names.board(of.board)),
            switch: of.and_then(|of| names.site.switch(of)).map(|switch| switch.name.value.clone()),
            contact: contact.word(),
            dry: *dry,
            drives: drives.iter().map(|drive| Drive::of(names, drive)).collect(),
        }
    }
}

impl Drive {
    fn of(names: &Names<'_>, drive: &model::Drive) -> Self {
        let model::Drive { by, kind, area, lasts } = drive;
        Self {
            by: by.value.word(),
            zone_type: kind.map(ZoneType::word),
            area: area.map(|area| names.area(area)),
            seconds: *lasts,
        }
    }
}
