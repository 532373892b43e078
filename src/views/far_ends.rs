//! The far ends of the cables, room by room: which colour goes where at the devices.

use serde::Serialize;

use super::ends::meets;
use super::loop_path;
use super::natural::natural;
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::Room;
use crate::register::{Cable, Function};
use crate::words;

/// What ends in one room.
#[derive(Serialize)]
pub(crate) struct RoomSheet {
    title: String,
    rows: Vec<FarEnd>,
}

/// A conductor, or a loop's pair, at the far end of its cable.
#[derive(Serialize)]
struct FarEnd {
    cable: String,
    /// The cable's first row.
    first: bool,
    /// Conductors with nothing to do.
    spare: bool,
    conductors: String,
    function: String,
    goes: String,
}

/// Rooms from the lowest level up; cables by label.
pub(crate) fn by_room(compiled: &Compiled) -> Vec<RoomSheet> {
    let Compiled { site, wiring, .. } = compiled;
    let mut rooms: Vec<(Id<Room>, &Room)> = site.rooms.entries().collect();
    rooms.sort_by(|(a, one), (b, other)| {
        let storey = |room: &Room| site.levels[room.level].storey;
        storey(one).cmp(&storey(other)).then_with(|| natural(&one.title, &other.title)).then_with(|| a.cmp(b))
    });
    let sheet = |(id, room): (Id<Room>, &Room)| {
        let mut cables: Vec<&Cable> = wiring.cables.iter().filter(|c| site.runs[c.run].room == Some(id)).collect();
        cables.sort_by(|a, b| natural(&a.label, &b.label));
        let rows: Vec<FarEnd> = cables.into_iter().flat_map(|cable| rows(compiled, cable)).collect();
        let title = format!("{}, {}", room.title, site.levels[room.level].title);
        (!rows.is_empty()).then_some(RoomSheet { title, rows })
    };
    rooms.into_iter().filter_map(sheet).collect()
}

fn rows(compiled: &Compiled, cable: &Cable) -> Vec<FarEnd> {
    let Compiled { site, wiring, .. } = compiled;
    let mut rows = Vec::new();
    let row = |conductors: String, function: String, goes: String| FarEnd {
        cable: cable.label.clone(),
        first: false,
        spare: false,
        conductors,
        function,
        goes,
    };
    for used in &cable.conductors {
        match used.function {
            // The pair has one row, with its path.
            Function::LoopBack(_) => {}
            Function::LoopOut(zone) => {
                let pair = cable.conductors.iter().filter(|other| {
                    other.run == used.run && matches!(other.function, Function::LoopOut(_) | Function::LoopBack(_))
                });
                let pair: Vec<String> = pair.map(|other| words::conductor(site, cable, other.position)).collect();
                rows.push(row(
                    pair.join(", "),
                    words::pair(site, used.run, used.function),
                    loop_path::at_end_of(site, wiring, used.run, zone),
                ));
            }
            function @ (Function::SupplyPositive(_)
            | Function::SupplyNegative(_)
            | Function::BusPlus
            | Function::BusMinus
            | Function::BusA
            | Function::BusB
            | Function::LineInTip
            | Function::LineInRing
            | Function::LineOutTip
            | Function::LineOutRing) => rows.push(row(
                words::conductor(site, cable, used.position),
                words::function(site, used.run, function),
                meets(site, wiring, used, &used.far),
            )),
        }
    }
    if !cable.spare.is_empty() {
        let park = "park both ends, marked".to_owned();
        rows.push(FarEnd { spare: true, ..row(words::spare(site, cable), "spare".into(), park) });
    }
    if let Some(first) = rows.first_mut() {
        first.first = true;
    }
    rows
}
