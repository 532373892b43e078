//! A zone whose description names one of its rooms, and not another in which it watches as well.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::checks::Context;
use crate::checks::detection::opening_claimed_twice;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Site, Zone};
use crate::terms::Senses;
use crate::words::Screen;

check!("description-misses-room", Basis::Practice, "a description that names one room of its zone and not another");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, zone) in site.zones_in_use().filter(|(id, zone)| zone.whole && !is_claimed_twice(site, *id)) {
        let (said, phrase) = (words(&zone.description.value), phrase(&zone.description.value));
        let devices: Vec<(Id<Device>, &Device)> =
            site.devices_of(id).filter(|(id, of)| watches(site, *id, of)).collect();
        let places: Vec<BTreeSet<String>> = devices.iter().map(|(_, device)| place(site, device)).collect();
        let mut holders: BTreeMap<&str, usize> = BTreeMap::new();
        for word in places.iter().flatten() {
            *holders.entry(word).or_default() += 1;
        }
        // What several places are called tells none from another, but "windows" tells of every window.
        let is_named = |at: usize| {
            let mut titles = devices.get(at).into_iter().flat_map(|(_, device)| titles(site, device));
            if titles.any(|title| phrase.contains(&self::phrase(title))) {
                return true;
            }
            let own = || places.get(at).into_iter().flatten();
            let all = own().any(|word| said.contains(&format!("{word}s")));
            let mut own = own().filter(|word| holders.get(word.as_str()) == Some(&1));
            all || own
                .any(|word| said.iter().any(|said| said.starts_with(word.as_str()) || word.starts_with(said.as_str())))
        };
        let (named, missed): (Vec<_>, Vec<_>) = devices.iter().enumerate().partition(|(at, _)| is_named(*at));
        let rooms: BTreeSet<_> = named.iter().filter_map(|(_, (_, device))| device.room).collect();
        let elsewhere = |(_, (_, device)): &&(usize, &(Id<Device>, &Device))| {
            device.room.is_some_and(|room| !rooms.contains(&room))
        };
        let Some((_, (device, item))) = missed.iter().find(elsewhere).filter(|_| !named.is_empty()) else { continue };
        let (number, called) = (zone.number.value, Screen.device(site, *device));
        let room = item.room.map(|room| format!(", in {}", site.rooms[room].title)).unwrap_or_default();
        let title = format!("zone {number} also watches {called}{room}");
        let finding = Diagnostic::new(&RULE, zone.description.span, title)
            .here("does not tell of it")
            .also(item.span(), "is in this zone")
            .why("The dispatcher reads the description and nothing else, and sends people to the place that it names. Whoever came in elsewhere is behind them.")
            .help("Name both places in the description, or give the other a zone of its own.")
            .about(number);
        sink.push(finding);
    }
}

/// True where two zones watch one opening: which of them is meant is asked first.
fn is_claimed_twice(site: &Site, zone: Id<Zone>) -> bool {
    let mut openings = site.devices_of(zone).filter_map(|(_, device)| device.opening.as_ref());
    openings.any(|opening| opening_claimed_twice::claims(site, opening.value).len() > 1)
}

/// True for what tells of somebody or of something in a room.
fn watches(site: &Site, id: Id<Device>, device: &Device) -> bool {
    device.room.is_some() && !matches!(site.senses(id), None | Some(Senses::Supply | Senses::Tamper))
}

/// What people call the place of a device: its opening, its room and its level.
fn titles<'s>(site: &'s Site, device: &Device) -> impl Iterator<Item = &'s str> + use<'s> {
    let opening = device.opening.as_ref().map(|opening| site.openings[opening.value].title.as_str());
    let room = device.room.map(|room| &site.rooms[room]);
    let level = room.map(|room| site.levels[room.level].title.as_str());
    [opening, room.map(|room| room.title.as_str()), level].into_iter().flatten()
}

/// The words of these.
fn place(site: &Site, device: &Device) -> BTreeSet<String> {
    titles(site, device).flat_map(words).collect()
}

/// A text with one blank before, between and behind its words, so that one is found in another as a whole.
fn phrase(text: &str) -> String {
    let text = text.to_lowercase();
    let words: Vec<&str> =
        text.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    format!(" {} ", words.join(" "))
}

/// Words of a text. Short ones (in, of, the) tell no place from another; numbers do.
fn words(text: &str) -> BTreeSet<String> {
    let text = text.to_lowercase();
    let all = text.split(|letter: char| !letter.is_alphanumeric());
    let tells = |word: &str| word.chars().count() > 2 && word != "the" || word.parse::<u32>().is_ok();
    all.filter(|word| tells(word)).map(str::to_owned).collect()
}
