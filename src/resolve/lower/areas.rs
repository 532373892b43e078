//! Areas with their times, ways to the keypad and cross zones.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Span, Spanned};
use crate::model::{Area, CrossZones, Walk};
use crate::quantity::{Metres, Seconds};
use crate::schema::Reading;

use super::{Lower, Top, sorted, title_of};
use crate::resolve::rules;

impl Lower<'_> {
    pub(super) fn area_list(&mut self, tops: &[Top<'_>]) {
        let mut numbers: BTreeMap<u32, Span> = BTreeMap::new();
        let sorted = sorted(tops, "area", "name");
        let given: BTreeSet<u32> =
            sorted.iter().filter_map(|(reading, _)| reading.count("number")).map(|number| number.value).collect();
        for (position, (reading, _)) in sorted.into_iter().enumerate() {
            let Some(name) = reading.text("name") else { continue };
            let written = reading.count("number");
            let place = written.as_ref().map_or(name.span, |number| number.span);
            let own = u32::try_from(position + 1).unwrap_or(u32::MAX);
            let free = |number: &u32| !given.contains(number) && !numbers.contains_key(number);
            let number = written.map_or_else(|| (own..=u32::MAX).find(free).unwrap_or(own), |number| number.value);
            match numbers.get(&number) {
                Some(earlier) => self.sink.push(rules::duplicate_area_number(number, place, *earlier)),
                None => {
                    numbers.insert(number, place);
                }
            }
            let mut walks: Vec<Walk> = reading.all("walk").filter_map(|walk| self.walk(walk)).collect();
            let door = |walk: &Walk| self.site.openings[walk.from.value].name.value.clone();
            walks.sort_by_cached_key(|walk| (door(walk), walk.from.span));
            let mut cross_zones: Vec<CrossZones> = reading.all("cross-zones").map(cross_zones_of).collect();
            cross_zones.sort_by_cached_key(|cross| {
                (cross.zones.iter().map(|zone| zone.value).collect::<Vec<_>>(), cross.span())
            });
            let area = self.site.areas.push(Area {
                title: title_of(reading, &name.value),
                name: name.clone(),
                number,
                entry: reading.quantity::<Seconds>("entry"),
                exit: reading.quantity::<Seconds>("exit"),
                abort: reading.quantity::<Seconds>("abort"),
                swinger_shutdown: reading.count("swinger-shutdown"),
                sounder_cut_off: reading.quantity::<Seconds>("sounder-cut-off"),
                walks,
                cross_zones,
                whole: reading.all_whole(),
            });
            self.areas.enter(&name.value, area);
        }
    }

    /// A way whose two ends are known.
    fn walk(&mut self, reading: &Reading) -> Option<Walk> {
        let from = self.names.refer(&self.openings, reading.text("from"));
        let to = self.names.refer(&self.boards, reading.text("to"));
        let rooms = reading.one("through").map(|through| through.texts("rooms")).unwrap_or_default();
        let through = rooms.iter().filter_map(|room| self.names.find(&self.rooms, room)).collect();
        Some(Walk {
            from: from?,
            to: to?,
            time: reading.quantity::<Seconds>("time"),
            length: reading.quantity::<Metres>("length"),
            through,
        })
    }
}

fn cross_zones_of(reading: &Reading) -> CrossZones {
    let mut zones = reading.counts("zones");
    zones.sort_by_key(|zone| (zone.value, zone.span));
    CrossZones {
        zones,
        window: reading.quantity::<Seconds>("window").map(|window| window.value),
        place: Spanned::new((), reading.name_span),
    }
}
