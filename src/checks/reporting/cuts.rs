//! What the service's form keeps of the descriptions: the first so many characters, and nothing else is shortened.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::{cut, length};
use crate::diag::{Diagnostic, Rule};
use crate::model::{Site, Zone};

/// The least number of cut descriptions that may make a form narrow.
const SEVERAL: usize = 3;

/// What the form does to a site's descriptions.
pub(super) struct Cuts {
    /// Zones whose description loses something, by number.
    pub(super) cut: Vec<Id<Zone>>,
    /// Zones that read the same, capitals aside, each group by number.
    pub(super) alike: Vec<Vec<Id<Zone>>>,
    /// True where the form cuts most of the descriptions: then the form is the one cause.
    pub(super) narrow: bool,
}

/// What the dispatcher reads of a zone.
pub(super) fn read(site: &Site, zone: &Zone) -> String {
    let description = zone.description.value.trim();
    site.monitoring.as_ref().map_or_else(
        || description.to_owned(),
        |monitoring| cut(description, monitoring.description_width.value as usize),
    )
}

/// True where a zone's description loses something.
fn is_cut(site: &Site, zone: &Zone) -> bool {
    let width = site.monitoring.as_ref().map(|monitoring| monitoring.description_width.value as usize);
    width.is_some_and(|width| length(zone.description.value.trim_end()) > width)
}

/// See [`Cuts`].
pub(super) fn of_site(site: &Site) -> Cuts {
    let mut groups: BTreeMap<String, Vec<Id<Zone>>> = BTreeMap::new();
    for (id, zone) in site.zones_in_use() {
        let read = read(site, zone);
        if !read.is_empty() {
            groups.entry(read.to_lowercase()).or_default().push(id);
        }
    }
    let cut: Vec<Id<Zone>> = site.zones_in_use().filter(|(_, zone)| is_cut(site, zone)).map(|(id, _)| id).collect();
    let narrow = cut.len() >= SEVERAL && cut.len() * 2 > site.zones_in_use().count();
    Cuts { cut, alike: groups.into_values().filter(|zones| zones.len() > 1).collect(), narrow }
}

impl Cuts {
    /// True where zones of this group are told apart by the words that the form cuts.
    pub(super) fn by_form(&self, group: &[Id<Zone>]) -> bool {
        group.iter().any(|zone| self.cut.binary_search(zone).is_ok())
    }

    /// The zones that are cut and still read like no other, where their descriptions are to blame and not the form.
    pub(super) fn alone(&self) -> impl Iterator<Item = Id<Zone>> {
        let alike: Vec<Id<Zone>> = self.alike.iter().flatten().copied().collect();
        let cut = if self.narrow { &[] } else { self.cut.as_slice() };
        cut.iter().copied().filter(move |zone| !alike.contains(zone))
    }
}

/// A finding about a zone whose description the form cuts: what it says, what is lost, why that matters, and what of the
/// place comes first.
pub(super) fn finding(
    site: &Site,
    id: Id<Zone>,
    rule: &'static Rule,
    (title, lost, why, first): (String, String, &str, &str),
) -> Option<Diagnostic> {
    let width = &site.monitoring.as_ref()?.description_width;
    let zone = &site.zones[id];
    let (description, taken) = (&zone.description, width.value as usize);
    let finding = Diagnostic::new(rule, description.span, title)
        .here(format!("{} characters{lost}", length(&description.value)))
        .also(width.span, format!("{taken} are taken"))
        .why(why)
        .figure(format!("the dispatcher reads: {}|", cut(&description.value, taken)))
        .help(format!("Say it in {taken} characters, the {first} first."))
        .about(zone.number.value);
    Some(finding)
}

/// The word of its room that a zone's description has and the dispatcher does not read, as the room's title writes it.
pub(super) fn lost_room(site: &Site, id: Id<Zone>) -> Option<String> {
    let zone = &site.zones[id];
    let words = |text: &str| -> Vec<String> {
        text.to_lowercase().split(|letter: char| !letter.is_alphanumeric()).map(str::to_owned).collect()
    };
    let (whole, kept) = (words(&zone.description.value), words(&read(site, zone)));
    let rooms = site.devices_of(id).filter_map(|(_, device)| device.room);
    let mut titles = rooms.flat_map(|room| site.rooms[room].title.split_whitespace());
    // Short words (in, of, the) tell no room from another.
    let lost = |word: &&str| {
        let word = word.to_lowercase();
        word.chars().count() > 3 && whole.contains(&word) && !kept.contains(&word)
    };
    titles.find(lost).map(str::to_owned)
}
