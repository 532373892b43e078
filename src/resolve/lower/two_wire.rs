//! Two-wire detectors and the inputs that feed them, by their sheets.

use crate::base::Spanned;
use crate::model::{Listed, LoopFed, LoopFeed};
use crate::quantity::{Amperes, Volts};
use crate::schema::Reading;
use crate::terms::Side;

pub(super) fn loop_fed_of(reading: &Reading) -> Option<LoopFed> {
    let volts = |name: &str| reading.quantity::<Volts>(name).map(|volts| volts.value);
    let mark = |name: &str| reading.text(name).map(|mark| mark.value);
    Some(LoopFed {
        place: Spanned::new((), reading.name_span),
        min: volts("min")?,
        max: volts("max"),
        idle: reading.quantity::<Amperes>("idle")?.value,
        alarm_volts: (volts("alarm-min")?, volts("alarm-max")?),
        alarm: reading.quantity::<Amperes>("alarm").map(|current| current.value),
        positive: mark("positive"),
        negative: mark("negative"),
        either_way: reading.flag("either-way"),
        identifier: reading.text("identifier"),
    })
}

pub(super) fn loop_feed_of(reading: &Reading) -> LoopFeed {
    let listed = |listed: &Reading| {
        let most = listed.count("most").map(|most| most.value);
        Some(Listed { identifier: listed.text("identifier")?, most })
    };
    LoopFeed {
        place: Spanned::new((), reading.name_span),
        limit: reading.quantity::<Amperes>("limit"),
        resistor: reading.resistance("resistor"),
        positive: reading.word("positive", Side::from_word).map(|side| side.value),
        contacts: reading.flag("contacts"),
        listed: reading.all("listed").filter_map(listed).collect(),
    }
}
