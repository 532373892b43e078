//! Which thing of the old site is which thing of the new one.
//!
//! By name first. Then what is left over on both sides is held against each other, kind by kind, until nothing more
//! is found: two things are one when they are alike but for the name, and no third one is like them.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use super::facts::{Facts, Thing, nested};
use super::{Atom, Kind, Subject};
use crate::compiled::Compiled;
use crate::record::fact;

/// Cables that have no partner, whatever they are like: the registers know them.
#[derive(Debug, Default)]
pub struct Apart {
    /// Those of the old site of which the new one's register says what became of them.
    old: BTreeSet<Subject>,
    /// Those of the new site that the old one's register knew as dead or out, and those that are new after it.
    new: BTreeSet<Subject>,
}

impl Apart {
    /// A label is given once. So a cable whose label the new register still has, or has had, was not labelled anew, unless the
    /// spec gives another label in so many words. Where the old register is the later one, as when a change is taken back, what is
    /// one is what was one when the change was made.
    pub(crate) fn of(old: &Compiled, new: &Compiled) -> Self {
        let labels = |side: &Compiled| -> BTreeSet<String> {
            side.wiring.cables.iter().map(|cable| cable.label.clone()).collect()
        };
        let (before, after) = (labels(old), labels(new));
        let follows = before.is_subset(&new.wiring.given);
        if !follows && after.is_subset(&old.wiring.given) {
            let Self { old: after, new: before } = Self::of(new, old);
            return Self { old: before, new: after };
        }
        let written = |label: &String| {
            let cable = new.wiring.cables.iter().find(|cable| cable.label == *label);
            cable.is_some_and(|cable| new.site.runs[cable.run].label.is_some())
        };
        let is_alone = |label: &&String| {
            old.wiring.given.contains(*label) && !before.contains(*label) || follows && !written(label)
        };
        let alone: BTreeSet<&String> = after.iter().filter(|label| !before.contains(*label)).filter(is_alone).collect();
        let relabelled = after.iter().any(|label| !before.contains(label) && !alone.contains(label));
        let is_dead = |label: &String| new.wiring.dead.iter().any(|dead| dead.label == *label);
        let is_gone = |label: &&String| is_dead(label) || follows && !relabelled;
        let gone = before.iter().filter(|label| !after.contains(*label)).filter(is_gone);
        let subject = |label: &String| Subject::new(Kind::Cable, label.as_str());
        Self { old: gone.map(subject).collect(), new: alone.into_iter().map(subject).collect() }
    }
}

/// Old subject → new subject, for everything that is in both.
pub(crate) fn pairs(old: &Facts, new: &Facts, apart: &Apart) -> BTreeMap<Subject, Subject> {
    let mut pairs = in_one_place(old, new);
    let taken: BTreeSet<Subject> = pairs.values().cloned().collect();
    for subject in old.keys().filter(|subject| new.contains_key(subject) && !taken.contains(subject)) {
        pairs.entry(subject.clone()).or_insert_with(|| subject.clone());
    }
    pairs.extend(joined_rooms(old, new, &pairs));
    let (users, newer_users) = (referrers(old), referrers(new));
    loop {
        let before = pairs.len();
        for kind in Kind::ALL {
            for likeness in likenesses(kind) {
                let found = alike(kind, *likeness, (old, &users), (new, &newer_users), &pairs, apart);
                pairs.extend(found);
            }
        }
        if pairs.len() == before {
            return pairs;
        }
    }
}

/// Devices without a name are known by their part and room. Where one is exchanged, and another of the old part comes up in the same
/// room, that one has its key. So what stays is looked for first: the title, or the end of a cable.
fn in_one_place(old: &Facts, new: &Facts) -> BTreeMap<Subject, Subject> {
    const OWNER: [&str; 4] = [fact::Device::kind, nested::ZONE, nested::CIRCUIT, fact::Device::room];
    let title = |facts: &Facts, subject: &Subject| facts.get(subject)?.fields.get(fact::Device::title).cloned();
    // By key it is the same one, with the same title.
    let is_itself = |subject: &Subject| title(old, subject).is_some_and(|was| Some(was) == title(new, subject));
    let mut found: BTreeMap<Subject, Subject> = BTreeMap::new();
    for telling in [fact::Device::title, fact::Device::cable] {
        let by_place = |facts: &Facts, taken: &BTreeSet<&Subject>| {
            let mut places: BTreeMap<String, Vec<Subject>> = BTreeMap::new();
            for (subject, thing) in facts {
                let is_known = thing.named || thing.fields.contains_key(fact::Device::opening);
                let Some(tells) = thing.fields.get(telling) else { continue };
                if subject.kind == Kind::Device && !is_known && !taken.contains(subject) {
                    let owner = OWNER.map(|field| thing.fields.get(field));
                    places.entry(format!("{owner:?} {tells:?}")).or_default().push(subject.clone());
                }
            }
            places
        };
        let before = by_place(old, &found.keys().collect());
        let now = by_place(new, &found.values().collect());
        for (place, mine) in before {
            let (Some([other]), [one]) = (now.get(&place).map(Vec::as_slice), mine.as_slice()) else { continue };
            let both_known = new.contains_key(one) && old.contains_key(other);
            if one != other && !both_known && !is_itself(one) && !is_itself(other) {
                found.insert(one.clone(), other.clone());
            }
        }
    }
    found
}

/// Rooms that are no more, each with the room that has all its doors and windows now: no opening moves, so the wall between them
/// was taken out, or the room has another name. What hung in it hangs there.
fn joined_rooms(old: &Facts, new: &Facts, pairs: &BTreeMap<Subject, Subject>) -> Vec<(Subject, Subject)> {
    let room_of = |thing: &Thing| match thing.fields.get(nested::ROOM)?.as_slice() {
        [Atom::Thing(room)] => Some(room.clone()),
        _ => None,
    };
    let mut now: BTreeMap<Subject, BTreeSet<Option<Subject>>> = BTreeMap::new();
    for (subject, thing) in old.iter().filter(|(subject, _)| subject.kind == Kind::Opening) {
        if let Some(was) = room_of(thing).filter(|was| !pairs.contains_key(was)) {
            let is = pairs.get(subject).and_then(|is| new.get(is)).and_then(room_of);
            now.entry(was).or_default().insert(is);
        }
    }
    let only = |(was, rooms): (Subject, BTreeSet<Option<Subject>>)| match Vec::from_iter(rooms).as_slice() {
        [Some(is)] => Some((was, is.clone())),
        _ => None,
    };
    now.into_iter().filter_map(only).collect()
}

/// In what two things must agree to be one: the fields that count, strictest first.
#[derive(Clone, Copy)]
enum Likeness {
    /// All facts but the title.
    All,
    /// Only these.
    In(&'static [&'static str]),
}

fn likenesses(kind: Kind) -> &'static [Likeness] {
    match kind {
        Kind::Site | Kind::Monitoring | Kind::Accept => &[],
        // The same opening is watched by another zone; the same spot has another part; the same part hangs elsewhere.
        Kind::Device => &[
            Likeness::All,
            Likeness::In(&[fact::Device::kind, fact::Device::opening]),
            Likeness::In(&[fact::Device::kind, nested::ZONE, fact::Device::room]),
            Likeness::In(&[fact::Device::kind, nested::CIRCUIT, fact::Device::room]),
            Likeness::In(&[fact::Device::kind, nested::ZONE, fact::Device::part]),
            Likeness::In(&[fact::Device::kind, nested::CIRCUIT, fact::Device::part]),
            Likeness::In(&[fact::Device::kind, fact::Device::part, fact::Device::room]),
        ],
        // Labels were given anew, or a cable is replaced by one of another type.
        Kind::Cable => &[
            Likeness::All,
            Likeness::In(&[fact::Run::belongs_to, fact::Place::room, fact::Run::at_far_end, fact::Run::shares]),
        ],
        Kind::Conductor => &[Likeness::In(&[nested::CABLE, nested::COLOUR])],
        // Its number is another, and it is the same zone.
        Kind::Zone => &[Likeness::All, Likeness::In(&[fact::Zone::description, fact::Zone::kind, fact::Zone::area])],
        Kind::Level
        | Kind::Room
        | Kind::Opening
        | Kind::Board
        | Kind::Area
        | Kind::Bus
        | Kind::Circuit
        | Kind::Spare
        | Kind::Communicator
        | Kind::CableType
        | Kind::Part => &[Likeness::All],
    }
}

/// What refers to a thing: thing → those that do, with the field.
type Referrers<'f> = BTreeMap<&'f Subject, BTreeSet<(&'f Subject, &'f str)>>;

fn referrers(facts: &Facts) -> Referrers<'_> {
    let mut found = Referrers::new();
    for (subject, thing) in facts {
        for (field, value) in &thing.fields {
            for atom in value {
                if let Atom::Thing(target) = atom {
                    found.entry(target).or_default().insert((subject, field));
                }
            }
        }
    }
    found
}

fn alike(
    kind: Kind,
    likeness: Likeness,
    (old, users): (&Facts, &Referrers<'_>),
    (new, newer_users): (&Facts, &Referrers<'_>),
    pairs: &BTreeMap<Subject, Subject>,
    apart: &Apart,
) -> Vec<(Subject, Subject)> {
    let taken: BTreeSet<&Subject> = pairs.values().collect();
    let same: BTreeMap<Subject, Subject> = taken.iter().map(|s| ((*s).clone(), (*s).clone())).collect();
    let of_kind = |subject: &Subject| subject.kind == kind;
    let left = old.iter().filter(|(s, _)| of_kind(s) && !pairs.contains_key(s) && !apart.old.contains(s));
    let left = group(left, likeness, pairs);
    let right = new.iter().filter(|(s, _)| of_kind(s) && !taken.contains(s) && !apart.new.contains(s));
    let right = group(right, likeness, &same);
    let mut found = Vec::new();
    for (signature, mine) in &left {
        let (Some(theirs), [one]) = (right.get(signature), mine.as_slice()) else { continue };
        let [other] = theirs.as_slice() else { continue };
        if is_evidence(kind, (old, *one, users), (new, *other, newer_users), pairs, apart) {
            found.push(((*one).clone(), (*other).clone()));
        }
    }
    found
}

/// Things by what counts in them. A reference to a thing that has no partner yet counts as its kind only.
fn group<'f>(
    things: impl Iterator<Item = (&'f Subject, &'f Thing)>,
    likeness: Likeness,
    names: &BTreeMap<Subject, Subject>,
) -> BTreeMap<String, Vec<&'f Subject>> {
    let mut groups: BTreeMap<String, Vec<&Subject>> = BTreeMap::new();
    for (subject, thing) in things {
        if let Some(signature) = signature(thing, likeness, names) {
            groups.entry(signature).or_default().push(subject);
        }
    }
    groups
}

fn signature(thing: &Thing, likeness: Likeness, names: &BTreeMap<Subject, Subject>) -> Option<String> {
    let counts = |field: &str| match likeness {
        Likeness::All => field != "title" && field != "name",
        Likeness::In(fields) => fields.contains(&field),
    };
    let mut text = String::new();
    let (mut known, mut unknown) = (0, 0);
    for (field, value) in thing.fields.iter().filter(|(field, _)| counts(field)) {
        let _ = write!(text, "\n{field}:");
        for atom in value {
            let _ = match atom {
                Atom::Text(words) => write!(text, " {words:?}"),
                Atom::Figure { exact, .. } => write!(text, " {exact}"),
                Atom::Thing(subject) => match names.get(subject) {
                    Some(Subject { kind, key }) => {
                        known += 1;
                        write!(text, " {kind:?} {key:?}")
                    }
                    None => {
                        unknown += 1;
                        write!(text, " a {:?}", subject.kind)
                    }
                },
            };
        }
    }
    // A loose likeness says something only where the telling field is there and everything that it refers to is known.
    match likeness {
        Likeness::In(fields) => {
            let tells = fields.get(1).is_some_and(|field| thing.fields.contains_key(*field));
            (tells && known > 0 && unknown == 0).then_some(text)
        }
        Likeness::All => Some(text),
    }
}

/// Two bare names with nothing said of them are alike as well. So places, parts and other named things need a sign
/// that they are one: the same title, or something that refers to both.
fn is_evidence(
    kind: Kind,
    (old, one, users): (&Facts, &Subject, &Referrers<'_>),
    (new, other, newer_users): (&Facts, &Subject, &Referrers<'_>),
    pairs: &BTreeMap<Subject, Subject>,
    apart: &Apart,
) -> bool {
    if matches!(kind, Kind::Zone | Kind::Device | Kind::Cable | Kind::Conductor) {
        return true;
    }
    let title = |facts: &Facts, subject: &Subject| {
        facts.get(subject).and_then(|thing| thing.fields.get(fact::Device::title).cloned())
    };
    if title(old, one).is_some() && title(old, one) == title(new, other) {
        return true;
    }
    // What hung on a cable that is another one now may as well have gone to another place.
    let on_another = |user: &Subject| {
        let cable = old.get(user).and_then(|thing| thing.fields.get(fact::Device::cable));
        cable.into_iter().flatten().any(|atom| matches!(atom, Atom::Thing(cable) if apart.old.contains(cable)))
    };
    let empty = BTreeSet::new();
    let theirs = newer_users.get(other).unwrap_or(&empty);
    users
        .get(one)
        .unwrap_or(&empty)
        .iter()
        .filter(|(user, _)| !apart.old.contains(*user) && !on_another(user))
        .any(|(user, field)| pairs.get(user).is_some_and(|user| theirs.contains(&(user, *field))))
}
