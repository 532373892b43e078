//! What the work had its hands on: runs that are landed otherwise, devices at whose terminals a conductor is lifted or landed.

use std::collections::{BTreeMap, BTreeSet};

use super::cables::is_landed_whole;
use super::devices::has_moved;
use super::{Keys, Sides};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::diff::{Change, FieldChange, Kind, STARTS_IN, Subject};
use crate::model::{Device, Owner, Run};
use crate::record::fact;
use crate::register::Point;
use crate::terms::WireUse;

/// The runs of the new site of whose conductors one is landed that was not, or elsewhere, or does something else; those of
/// cables that are pulled or taken over are among them.
pub(super) fn runs(sides: &Sides<'_>) -> BTreeSet<Id<Run>> {
    let wiring = &sides.new.wiring;
    let whole = wiring.cables.iter();
    let whole = whole.filter(|cable| is_landed_whole(sides, &Subject::new(Kind::Cable, cable.label.as_str())));
    let mut found: BTreeSet<Id<Run>> =
        whole.flat_map(|cable| cable.conductors.iter().map(|used| used.run).chain([cable.run])).collect();
    let landing = [fact::Conductor::near, fact::Conductor::far, fact::Conductor::does];
    for change in sides.changes(Kind::Conductor) {
        let lands = change.old.is_none() || landing.iter().any(|field| change.field(field).is_some());
        let Some((subject, _)) = change.new.as_ref().filter(|_| lands) else { continue };
        let Some((cable, position)) = sides.new_keys.conductors.get(&subject.key) else { continue };
        let cable = wiring.cables.get(*cable);
        let used = cable.and_then(|cable| cable.conductors.iter().find(|used| used.position == *position));
        found.extend(used.filter(|used| used.function.wire_use() != WireUse::Reserved).map(|used| used.run));
    }
    found
}

/// Whether a conductor of the new site is kept for later: it lands nowhere.
pub(super) fn is_kept(sides: &Sides<'_>, key: &str) -> bool {
    let used = sides.new_keys.conductors.get(key).and_then(|(cable, position)| {
        let cable = sides.new.wiring.cables.get(*cable)?;
        cable.conductors.iter().find(|used| used.position == *position)
    });
    used.is_some_and(|used| used.function.wire_use() == WireUse::Reserved)
}

/// Whether a device or cable that stays differs on paper alone: it or its room has another name, a length or a way was put right.
pub(super) fn is_on_paper(sides: &Sides<'_>, change: &Change) -> bool {
    let (Some(_), Some((is, _))) = (&change.old, &change.new) else { return false };
    let of_cable =
        [fact::Place::room, STARTS_IN, fact::Run::length, fact::Run::route, fact::Run::way, fact::Run::passes];
    let of_device = [fact::Device::title, fact::Device::room, fact::Device::spot, fact::Device::existing];
    if is.kind == Kind::Cable {
        let only = |field: &FieldChange| {
            of_cable.contains(&field.field.as_str()) || field.field.starts_with(fact::Run::reserved)
        };
        return !is_landed_whole(sides, is) && change.fields.iter().all(only);
    }
    let moved = sides.new_keys.devices.get(&is.key).is_some_and(|id| has_moved(&sides.new.site, change, *id));
    !moved && !change.is_another() && change.fields.iter().all(|field| of_device.contains(&field.field.as_str()))
}

/// What these runs belong to.
pub(super) fn owners(sides: &Sides<'_>) -> BTreeSet<Owner> {
    runs(sides).into_iter().map(|run| sides.new.site.runs[run].owner).collect()
}

/// The devices of the new site that were there before, and have other conductors at their terminals now.
pub(super) fn devices(sides: &Sides<'_>) -> BTreeSet<Id<Device>> {
    let renamed = |kind: Kind, key: &str| sides.found.diff.now(Subject::new(kind, key)).key;
    let before = landed(sides.old, &sides.old_keys, &renamed, &|_| false);
    let same = |_: Kind, key: &str| key.to_owned();
    let now =
        landed(sides.new, &sides.new_keys, &same, &|label| is_landed_whole(sides, &Subject::new(Kind::Cable, label)));
    let none = BTreeSet::new();
    let others = before.iter().filter(|(device, had)| now.get(*device).unwrap_or(&none) != *had);
    others.filter_map(|(device, _)| sides.new_keys.devices.get(device)).copied().collect()
}

/// By the keys of devices: each conductor at one, with its terminal, and whether it is landed anew.
type Landed = BTreeMap<String, BTreeSet<(String, usize, String, bool)>>;

fn landed(
    compiled: &Compiled,
    keys: &Keys,
    name: &dyn Fn(Kind, &str) -> String,
    is_anew: &dyn Fn(&str) -> bool,
) -> Landed {
    let names: BTreeMap<Id<Device>, &String> = keys.devices.iter().map(|(key, device)| (*device, key)).collect();
    let mut found = Landed::new();
    for cable in &compiled.wiring.cables {
        let (label, anew) = (name(Kind::Cable, &cable.label), is_anew(&cable.label));
        for used in &cable.conductors {
            for point in used.near.iter().chain(&used.far) {
                let Point::Device(device, mark) = point else { continue };
                let Some(key) = names.get(device) else { continue };
                let conductor = (label.clone(), used.position, mark.clone(), anew);
                found.entry(name(Kind::Device, key)).or_default().insert(conductor);
            }
        }
    }
    found
}
