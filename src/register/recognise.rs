//! Which old cable a run is: by identity, not by line or position.
//!
//! A run is first looked for by the label that it is given, then by its name, then by what it belongs to with what is
//! mounted at its far end and where that is, and by its order only where nothing else tells two of a kind apart. A
//! name that the new side no longer has anywhere was renamed and excludes nothing; one that it still has and that
//! stands elsewhere now does. In doubt a run is a new cable: that costs a label, while a wrong match costs a house with
//! wrong labels.
//!
//! Pure functions over plain data, for the register and for whoever compares two sites. Out of scope: what follows.

use std::collections::{BTreeMap, BTreeSet};

use super::entry::{Known, Mounting};
use super::owner::OwnerName;

/// What a cable is recognised by.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Features {
    /// The label that the spec gives it, or that it has.
    pub(crate) label: Option<String>,
    /// The name of its run.
    pub(crate) name: Option<String>,
    /// What it belongs to.
    pub(crate) of: OwnerName,
    /// The name of its type.
    pub(crate) kind: String,
    /// The name of the room where it ends.
    pub(crate) room: Option<String>,
    /// What is mounted at its far end.
    pub(crate) mounted: Vec<Mounting>,
    /// True for a run that was in the wall before, by the spec.
    pub(crate) existing: bool,
}

/// The names that the new side has.
#[derive(Clone, Debug, Default)]
pub(crate) struct Names {
    /// What cables may belong to.
    pub(crate) owners: BTreeSet<OwnerName>,
    /// Types of cable.
    pub(crate) kinds: BTreeSet<String>,
    /// Rooms.
    pub(crate) rooms: BTreeSet<String>,
    /// Openings, devices and boards that cables may end at.
    pub(crate) mounted: BTreeSet<Known>,
}

/// Old and new cables in pairs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Pairing {
    /// For each new one the position of the old one that it is.
    pub(crate) old_of: Vec<Option<usize>>,
    /// New ones that equally fit more old ones than there are new ones of the kind, or fewer: with all of both, by
    /// position. They were paired in order.
    pub(crate) guesses: Vec<Guess>,
}

/// Cables that nothing but order tells apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Guess {
    /// Positions of the old ones.
    pub(crate) old: Vec<usize>,
    /// Positions of the new ones.
    pub(crate) new: Vec<usize>,
}

/// Pairs cables; both sides are in the order of their runs.
pub(crate) fn pair(old: &[Features], new: &[Features], names: &Names) -> Pairing {
    let mut search = Search::new(old, new, names);
    search.pass(|cable| cable.label.clone(), |_, _, _| true);
    search.pass(|cable| cable.name.clone(), Search::same_kind);
    search.pass(|c| Some((c.of.clone(), c.room.clone(), sorted(&c.mounted))), Search::same_kind);
    search.pass(|c| Some((c.of.clone(), knowns(c)?)), Search::same_kind);
    search.pass_shared(|of, known| (of.clone(), known.clone()), Search::same_kind);
    search.pass_shared(|_, known| known.clone(), Search::same_kind);
    search.pass(|c| Some((family(&c.of)?, c.room.clone(), sorted(&c.mounted))), Search::renamed_owner);
    let numbers = renumbered(old, new);
    let now = |of: &OwnerName| numbers.get(of).unwrap_or(of).clone();
    search.pass(|c| Some((now(&c.of), c.room.clone(), sorted(&c.mounted))), Search::same_kind);
    search.pass(|c| Some(c.of.clone()), Search::same_end);
    search.pass(|c| Some((now(&c.of), c.room.clone(), sorted(&c.mounted))), |_, _, new| new.existing);
    search.put_to_use();
    search.pairing
}

/// Pairs only what is beyond doubt: for cables that have been out of use.
pub(crate) fn pair_again(old: &[Features], new: &[Features], names: &Names) -> Pairing {
    let mut search = Search::new(old, new, names);
    search.pass(|cable| cable.label.clone(), |search, old, new| search.same_kind(old, new) && old.room == new.room);
    search.pass(|cable| Some((cable.name.clone()?, cable.room.clone())), Search::same_kind);
    search.pass(|c| knowns(c).map(|knowns| (c.of.clone(), c.room.clone(), knowns)), Search::same_kind);
    search.pairing
}

type Fits<'f> = fn(&Search<'f>, &Features, &Features) -> bool;

struct Search<'f> {
    old: &'f [Features],
    new: &'f [Features],
    names: &'f Names,
    /// The types of the old ones.
    kinds: BTreeSet<&'f str>,
    free: BTreeSet<usize>,
    pairing: Pairing,
}

impl<'f> Search<'f> {
    fn new(old: &'f [Features], new: &'f [Features], names: &'f Names) -> Self {
        let pairing = Pairing { old_of: vec![None; new.len()], guesses: Vec::new() };
        let kinds = old.iter().map(|cable| cable.kind.as_str()).collect();
        Self { old, new, names, kinds, free: (0..old.len()).collect(), pairing }
    }

    /// Pairs those that have one key, in order.
    fn pass<K: Ord>(&mut self, key: impl Fn(&Features) -> Option<K>, fits: Fits<'f>) {
        let mut groups: BTreeMap<K, (Vec<usize>, Vec<usize>)> = BTreeMap::new();
        for (position, cable) in self.old.iter().enumerate().filter(|(position, _)| self.free.contains(position)) {
            if let Some(key) = key(cable) {
                groups.entry(key).or_default().0.push(position);
            }
        }
        for (position, cable) in self.unpaired() {
            if let Some(key) = key(cable) {
                groups.entry(key).or_default().1.push(position);
            }
        }
        for (old, new) in groups.into_values() {
            self.pair_group(old, new, fits);
        }
    }

    /// Pairs those that share something with a name of its own, where that can mean one only.
    fn pass_shared<K: Ord>(&mut self, key: impl Fn(&OwnerName, &Known) -> K, fits: Fits<'f>) {
        let keys = |cable: &Features| -> Vec<K> { named(cable).map(|known| key(&cable.of, known)).collect() };
        let mut holders: BTreeMap<K, Vec<usize>> = BTreeMap::new();
        for position in &self.free {
            for key in self.old.get(*position).map(keys).unwrap_or_default() {
                holders.entry(key).or_default().push(*position);
            }
        }
        for (position, cable) in self.unpaired() {
            let mut found: Vec<usize> =
                keys(cable).iter().filter_map(|key| holders.get(key)).flatten().copied().collect();
            found.retain(|old| self.free.contains(old));
            found.sort_unstable();
            found.dedup();
            self.pair_group(found, vec![position], fits);
        }
    }

    /// A spare cable that the spec no longer keeps, and the one run that was there before, of its type and to its room, of which
    /// nothing else is known: that is the cable, put to use.
    fn put_to_use(&mut self) {
        let key = |cable: &'f Features| (&cable.kind, &cable.room);
        let is_spare = |of: &OwnerName| matches!(of, OwnerName::Spare(_));
        let gone = |cable: &Features| is_spare(&cable.of) && !self.names.owners.contains(&cable.of);
        let old: Vec<(usize, &Features)> =
            self.free.iter().filter_map(|at| Some((*at, self.old.get(*at)?))).filter(|(_, one)| gone(one)).collect();
        let mut new = self.unpaired();
        new.retain(|(_, cable)| {
            cable.existing && cable.label.is_none() && !is_spare(&cable.of) && cable.room.is_some()
        });
        let alone = |one: &'f Features, all: &[(usize, &'f Features)]| {
            let mut alike = all.iter().filter(|(_, other)| key(other) == key(one)).map(|(at, _)| *at);
            alike.next().filter(|_| alike.next().is_none())
        };
        for (at, cable) in &new {
            if let (Some(was), Some(_)) = (alone(cable, &old), alone(cable, &new)) {
                self.free.remove(&was);
                if let Some(slot) = self.pairing.old_of.get_mut(*at) {
                    *slot = Some(was);
                }
            }
        }
    }

    fn unpaired(&self) -> Vec<(usize, &'f Features)> {
        let paired = |position: usize| self.pairing.old_of.get(position).copied().flatten().is_some();
        self.new.iter().enumerate().filter(|(position, _)| !paired(*position)).collect()
    }

    fn pair_group(&mut self, old: Vec<usize>, new: Vec<usize>, fits: Fits<'f>) {
        let fit = |one: usize, other: usize| match (self.old.get(one), self.new.get(other)) {
            (Some(one), Some(other)) => fits(self, one, other),
            _ => false,
        };
        let (olds, news) = (old, new);
        let old: Vec<usize> = olds.iter().copied().filter(|o| news.iter().any(|n| fit(*o, *n))).collect();
        let new: Vec<usize> = news.iter().copied().filter(|n| olds.iter().any(|o| fit(*o, *n))).collect();
        let mut pairs = Vec::new();
        let mut left = old.clone();
        for position in &new {
            if let Some(at) = left.iter().position(|one| fit(*one, *position)) {
                pairs.push((left.remove(at), *position));
            }
        }
        for (one, other) in pairs {
            self.free.remove(&one);
            if let Some(slot) = self.pairing.old_of.get_mut(other) {
                *slot = Some(one);
            }
        }
        if !old.is_empty() && !new.is_empty() && old.len() != new.len() {
            self.pairing.guesses.push(Guess { old, new });
        }
    }

    /// A cable does not become one of another type; its type may have another name now, which was none of another type's. Only of
    /// one that was there before was the type taken wrong.
    fn same_kind(&self, old: &Features, new: &Features) -> bool {
        old.kind == new.kind || !self.names.kinds.contains(&old.kind) && !self.kinds.contains(new.kind.as_str())
    }

    fn renamed_owner(&self, old: &Features, new: &Features) -> bool {
        self.same_kind(old, new) && !self.names.owners.contains(&old.of)
    }

    /// Nothing says that they end at different places.
    fn same_end(&self, old: &Features, new: &Features) -> bool {
        let room = old.room == new.room || old.room.as_ref().is_some_and(|room| !self.names.rooms.contains(room));
        self.same_kind(old, new) && room && !named(old).any(|known| self.names.mounted.contains(known))
    }
}

/// The zones that have another number now: old to new. The old number is on no cable any more, though it may be kept for a later
/// zone, and the new one was on none, each
/// of their cables is of the same type, ends in the same room and has the same things at its end, something among them, and no
/// other zone is like either of them.
fn renumbered<'f>(old: &'f [Features], new: &'f [Features]) -> BTreeMap<OwnerName, OwnerName> {
    let owners = |cables: &'f [Features]| cables.iter().map(|cable| &cable.of).collect::<BTreeSet<&OwnerName>>();
    let (had, has) = (owners(old), owners(new));
    let zones = |cables: &[Features], is_left: &dyn Fn(&OwnerName) -> bool| {
        let mut shapes: BTreeMap<OwnerName, Vec<Shape>> = BTreeMap::new();
        for cable in cables.iter().filter(|cable| matches!(cable.of, OwnerName::Zone(_)) && is_left(&cable.of)) {
            let shape = (cable.kind.clone(), cable.room.clone(), sorted(&cable.mounted));
            shapes.entry(cable.of.clone()).or_default().push(shape);
        }
        let mut zones: BTreeMap<Vec<Shape>, Vec<OwnerName>> = BTreeMap::new();
        for (of, mut shape) in shapes {
            shape.sort();
            if shape.iter().any(|(_, _, mounted)| !mounted.is_empty()) {
                zones.entry(shape).or_default().push(of);
            }
        }
        zones
    };
    let gone = zones(old, &|of| !has.contains(of));
    let mut come = zones(new, &|of| !had.contains(of));
    let both = gone.into_iter().filter_map(|(shape, was)| Some((<[_; 1]>::try_from(was).ok()?, come.remove(&shape)?)));
    both.filter_map(|([was], is)| <[_; 1]>::try_from(is).ok().map(|[is]| (was, is))).collect()
}

/// What a cable is like: its type, the room where it ends, what is mounted there.
type Shape = (String, Option<String>, Vec<Mounting>);

/// A bus, circuit, spare cable or line may be renamed. A zone that has another number is told by all of it: see [`renumbered`].
fn family(of: &OwnerName) -> Option<&'static str> {
    match of {
        OwnerName::Zone(_) => None,
        OwnerName::Bus(_) => Some("bus"),
        OwnerName::Circuit(_) => Some("circuit"),
        OwnerName::Spare(_) => Some("spare"),
        OwnerName::Line(_) => Some("line"),
        OwnerName::Transformer(_) => Some("transformer"),
    }
}

fn sorted(mounted: &[Mounting]) -> Vec<Mounting> {
    let mut mounted = mounted.to_vec();
    mounted.sort();
    mounted
}

/// What is mounted, whatever its part is now; `None` where nothing is.
fn knowns(cable: &Features) -> Option<Vec<Known>> {
    let mut knowns: Vec<Known> = cable.mounted.iter().map(|mounting| mounting.known.clone()).collect();
    knowns.sort();
    (!knowns.is_empty()).then_some(knowns)
}

/// What is mounted and has a name of its own.
fn named(cable: &Features) -> impl Iterator<Item = &Known> {
    cable.mounted.iter().map(|mounting| &mounting.known).filter(|known| !matches!(known, Known::Title(_)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cable(of: &str, room: &str, mounted: &[Known]) -> Features {
        Features {
            label: None,
            name: None,
            of: of.parse().unwrap(),
            kind: "pair".into(),
            room: Some(room.into()),
            mounted: mounted.iter().map(|known| Mounting { known: known.clone(), part: None }).collect(),
            existing: false,
        }
    }

    fn opening(name: &str) -> Known {
        Known::Opening(name.into())
    }

    fn title(name: &str) -> Known {
        Known::Title(name.into())
    }

    /// The names that the new side has are those that it uses.
    fn paired(old: &[Features], new: &[Features]) -> Vec<Option<usize>> {
        let names = Names {
            owners: new.iter().map(|cable| cable.of.clone()).collect(),
            kinds: new.iter().map(|cable| cable.kind.clone()).collect(),
            rooms: new.iter().filter_map(|cable| cable.room.clone()).collect(),
            mounted: new.iter().flat_map(|cable| named(cable).cloned()).collect(),
        };
        pair(old, new, &names).old_of
    }

    #[test]
    fn a_label_comes_before_a_name_and_a_name_before_all_else() {
        let mut old = [cable("zone 1", "hall", &[opening("a")]), cable("zone 2", "hall", &[opening("b")])];
        old[0].label = Some("Z1".into());
        old[1].name = Some("long".into());
        let mut new = [cable("zone 1", "hall", &[opening("a")]), cable("zone 1", "hall", &[])];
        new[1].label = Some("Z1".into());
        new[0].name = Some("long".into());
        assert_eq!(paired(&old, &new), [Some(1), Some(0)]);
    }

    #[test]
    fn what_is_mounted_tells_cables_apart_and_order_does_not() {
        let old = [cable("zone 1", "hall", &[title("x")]), cable("zone 1", "hall", &[title("y")])];
        let new = [cable("zone 1", "hall", &[]), old[1].clone(), old[0].clone()];
        assert_eq!(paired(&old, &new), [None, Some(1), Some(0)]);
    }

    #[test]
    fn the_same_window_in_another_zone_is_the_same_cable() {
        let old = [cable("zone 1", "hall", &[opening("a")]), cable("zone 2", "hall", &[opening("b")])];
        let new = [cable("zone 1", "hall", &[opening("b")]), cable("zone 2", "hall", &[opening("a")])];
        assert_eq!(paired(&old, &new), [Some(1), Some(0)]);
    }

    #[test]
    fn a_zone_with_another_number_keeps_its_cables_where_nothing_else_is_like_it() {
        let zone = |number: u32| {
            let of = format!("zone {number}");
            [cable(&of, "hall", &[]), cable(&of, "hall", &[title("Motion")])]
        };
        assert_eq!(paired(&zone(1), &zone(2)), [Some(0), Some(1)]);
        let kept = Names { owners: zone(1).map(|cable| cable.of).into(), ..Names::default() };
        assert_eq!(pair(&zone(1), &zone(2), &kept).old_of, [Some(0), Some(1)]);
        let two: Vec<Features> = zone(2).into_iter().chain(zone(3)).collect();
        assert_eq!(paired(&zone(1), &two), [None; 4]);
        let both: Vec<Features> = zone(1).into_iter().chain(zone(2)).collect();
        assert_eq!(paired(&zone(1), &both), [Some(0), Some(1), None, None]);
    }

    #[test]
    fn a_spare_cable_that_was_there_is_the_one_run_that_can_be_it() {
        let old = [cable("spare coil", "hall", &[])];
        let used = Features { existing: true, ..cable("zone 2", "hall", &[opening("a")]) };
        assert_eq!(paired(&old, std::slice::from_ref(&used)), [Some(0)]);
        assert_eq!(paired(&old, &[cable("zone 2", "hall", &[opening("a")])]), [None]);
        assert_eq!(paired(&old, &[used.clone(), cable("spare coil", "hall", &[])]), [None, Some(0)]);
        assert_eq!(paired(&old, &[used.clone(), used]), [None, None]);
    }

    #[test]
    fn another_motion_detector_in_another_zone_is_another_cable() {
        let old = [cable("zone 1", "hall", &[title("Motion")])];
        assert_eq!(paired(&old, &[cable("zone 2", "hall", &[title("Motion 2")])]), [None]);
        assert_eq!(paired(&old, &[cable("zone 2", "attic", &[title("Motion")])]), [None]);
    }

    #[test]
    fn a_renamed_bus_room_or_type_is_none_the_less_recognised() {
        let old = [cable("bus data", "hall", &[title("Sounder")])];
        assert_eq!(paired(&old, &[cable("bus trunk", "hall", &[title("Sounder")])]), [Some(0)]);
        let old = [cable("zone 1", "hall", &[title("Motion, hall")])];
        let mut new = [cable("zone 1", "front-hall", &[title("Motion, front hall")])];
        assert_eq!(paired(&old, &new), [Some(0)]);
        new[0].kind = "pair-22".into();
        assert_eq!(paired(&old, &new), [Some(0)]);
        // A name that another type had already is no new name of this one.
        let other = Features { kind: "pair-22".into(), ..cable("zone 2", "hall", &[opening("a")]) };
        assert_eq!(paired(&[old[0].clone(), other.clone()], &[new[0].clone(), other]), [None, Some(1)]);
    }

    #[test]
    fn a_cable_of_another_type_or_to_another_room_is_another() {
        let old = [cable("zone 1", "hall", &[title("Motion")]), cable("zone 2", "attic", &[])];
        let elsewhere = cable("zone 3", "hall", &[]);
        let mut new = [cable("zone 1", "attic", &[title("Motion 2")]), cable("zone 2", "attic", &[]), elsewhere];
        assert_eq!(paired(&old, &new), [None, Some(1), None]);
        new[1].kind = "quad".into();
        assert_eq!(paired(&old, &new), [None, None, None]);
    }

    #[test]
    fn a_window_that_another_cable_ends_at_now_excludes() {
        let old = [cable("zone 1", "hall", &[opening("a")])];
        let new = [cable("zone 1", "hall", &[title("Motion")]), cable("zone 2", "attic", &[opening("a")])];
        assert_eq!(paired(&old, &new), [None, Some(0)]);
    }

    #[test]
    fn two_of_a_kind_are_paired_in_order_and_told() {
        let old = [cable("zone 1", "hall", &[]), cable("zone 1", "hall", &[])];
        let pairing = pair(&old, &old, &Names::default());
        assert_eq!((pairing.old_of, pairing.guesses), (vec![Some(0), Some(1)], vec![]));
        let pairing = pair(&old, &old[..1], &Names::default());
        assert_eq!(pairing.old_of, [Some(0)]);
        assert_eq!(pairing.guesses, [Guess { old: vec![0, 1], new: vec![0] }]);
    }
}
