//! Areas with their times, ways to the keypad and cross zones.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Span, Spanned};
use crate::model::{Area, CrossZones, Walk};
use crate::quantity::{Metres, Seconds};
use crate::schema::{Names as NameKind, Reading};

use super::{Lower, Top, sorted, title_of};
use crate::resolve::rules;

impl Lower<'_> {
    pub(super) fn area_list(&mut self, tops: &[Top<'_>]) {
        let mut numbers: BTreeMap<u32, Span> = BTreeMap::new();
        let sorted = sorted(tops, "area", "name");
        let given: BTreeSet<u32> =
            sorted.iter().filter_map(|(reading, _)| reading.count("number")).map(|number| number.value).collect();
        let several = sorted.len() > 1;
        let mut free = (1..).filter(|number| !given.contains(number));
        let mut unwritten: Vec<(Spanned<String>, u32)> = Vec::new();
        for (reading, _) in sorted {
            let Some(name) = reading.text("name") else { continue };
            let number = match reading.count("number") {
                Some(written) => {
                    match numbers.get(&written.value) {
                        Some(earlier) => self.sink.push(rules::duplicate_area_number(&written, *earlier)),
                        None => {
                            numbers.insert(written.value, written.span);
                        }
                    }
                    written.value
                }
                None => {
                    let number = free.next().unwrap_or(u32::MAX);
                    if reading.all_whole() && !self.names.is_repeated(NameKind::Area, &name.value) {
                        unwritten.push((name.clone(), number));
                    }
                    number
                }
            };
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
        if several {
            self.sink.extend(rules::area_number_unwritten(&unwritten));
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
