//! Cables side by side: the diameter of the bundle, and the cables that set out on one way.
//!
//! The diameter is that of round cables that lie as loosely as three equal ones do, the loosest that more than two of one
//! diameter can: three circles of diameter 1 fill 63 − 36·√3 = 0.646 of the circle around them. So D = √(Σd² / 0.646), and
//! at least the two thickest side by side. Of 3 to 7 equal cables it lies above the best packing that is known, by 10 % at
//! most. Out of scope: twisted bundles, flat cables, and how a bundle is bound.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::model::{Room, Run, Site};
use crate::quantity::Metres;
use crate::terms::Passage;

/// The diameter of a bundle of round cables.
pub(crate) fn diameter(cables: &[Metres]) -> Metres {
    let mut sorted: Vec<f64> = cables.iter().map(|cable| cable.0).collect();
    sorted.sort_by(|one, other| other.total_cmp(one));
    let side_by_side: f64 = sorted.iter().take(2).sum();
    let filled = 63.0 - 36.0 * 3_f64.sqrt();
    let squares: f64 = sorted.iter().map(|cable| cable * cable).sum();
    if sorted.len() <= 2 { Metres(side_by_side) } else { Metres(side_by_side.max((squares / filled).sqrt())) }
}

/// The share of a conduit's inside that round cables fill.
pub(crate) fn filled(cables: &[Metres], inside: Metres) -> f64 {
    cables.iter().map(|cable| cable.0 * cable.0).sum::<f64>() / (inside.0 * inside.0)
}

/// The way on which a cable sets out. Those of one way are pulled together.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Way {
    /// The room in which it starts.
    pub(crate) from: Option<Id<Room>>,
    /// The run at whose end it starts, where that is at no board and nobody has written how it goes on: a thing elsewhere
    /// in the room is another place. Boards of one room are one place.
    after: Option<Id<Run>>,
    /// Where it goes first.
    pub(crate) by: By,
}

/// Where a cable goes first.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum By {
    /// What its route says up to the first comma, in small letters.
    Leg(String),
    /// To this room, where the spec says no route; through the roof, a shaft, open air or the ground, where it says that.
    To(Option<Id<Room>>, Option<Passage>),
}

/// What a run's route says up to the first comma.
pub(crate) fn leg(run: &Run) -> Option<&str> {
    run.route.as_ref()?.split([',', ';']).next().map(str::trim)
}

/// The way on which a cable sets out; `None` for one that is not pulled, and for one of which no route is written and that
/// stays in its room and passes nothing: who knows where in the room it goes?
pub(crate) fn way(site: &Site, id: Id<Run>) -> Option<Way> {
    let run = &site.runs[id];
    let leg = leg(run);
    let pulled = !run.along_written && !run.existing && run.cable.is_some();
    if !pulled || leg.is_none() && stays(site, id) {
        return None;
    }
    let at_board = |before: Id<Run>| site.runs[before].mounted.iter().any(|item| item.board().is_some());
    let after = run.upstream.filter(|before| leg.is_none() && !at_board(*before) && site.ends_in(*before).is_none());
    let passes = run.passes.as_ref().map(|passes| passes.value);
    let through = passes.filter(|passes| match passes {
        Passage::Attic | Passage::Plenum | Passage::Riser | Passage::Outdoors | Passage::Underground => true,
        Passage::Mains | Passage::Stud | Passage::Joist | Passage::FireWall => false,
    });
    let by = leg.map_or_else(|| By::To(run.room, through), |leg| By::Leg(leg.to_lowercase()));
    Some(Way { from: site.start_room(id), after, by })
}

/// True for a cable that stays in its room and passes nothing.
fn stays(site: &Site, id: Id<Run>) -> bool {
    site.start_room(id) == site.runs[id].room && site.runs[id].passes.is_none()
}

/// The cables that are pulled, by way, of each the farthest first.
pub(crate) fn of_site(site: &Site) -> BTreeMap<Way, Vec<Id<Run>>> {
    let mut bundles: BTreeMap<Way, Vec<Id<Run>>> = BTreeMap::new();
    for (id, _) in site.runs.entries() {
        if let Some(way) = way(site, id) {
            bundles.entry(way).or_default().push(id);
        }
    }
    let metres = |run: &Id<Run>| site.runs[*run].length.as_ref().map_or(0.0, |length| length.value.0);
    for runs in bundles.values_mut() {
        runs.sort_by(|one, other| metres(other).total_cmp(&metres(one)));
    }
    bundles
}

/// Of these the ways on which something is pulled through a hole, with all that goes through it. Where all stay in their room and
/// pass nothing no hole is needed, and what was in the wall before has its own.
pub(crate) fn bored(site: &Site) -> BTreeMap<Way, Vec<Id<Run>>> {
    let mut bundles = of_site(site);
    bundles.retain(|_, runs| runs.iter().any(|run| !stays(site, *run)));
    bundles
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The best packings of equal circles in a circle that are known: radius of one over that of the circle around them.
    /// R. L. Graham, B. D. Lubachevsky, K. J. Nurmela, P. R. J. Östergård, "Dense packings of congruent circles in a
    /// circle", 1998, from memory; those of 1 to 7 are proved and follow from their figures: 1, 1/2, 2√3 − 3, √2 − 1,
    /// 1/(1 + 1/sin 36°), 1/3, 1/3.
    #[test]
    fn a_bundle_is_never_smaller_than_the_best_packing_and_little_larger() {
        let ratios = [1.0, 0.5, 0.4641, 0.4142, 0.3702, 0.3333, 0.3333];
        for (count, ratio) in (1..).zip(ratios) {
            let best = 1.0 / ratio;
            let ours = diameter(&vec![Metres(1.0); count]).0;
            assert!(ours >= best - 5e-4 && ours <= best * 1.10, "{count} cables: {ours}, best {best}");
            if count <= 3 {
                assert!((ours - best).abs() < 5e-4, "{count} cables: {ours}, best {best}");
            }
        }
    }

    /// Trade size 1/2 of thin-walled tubing has 0.622 in and 0.304 in² inside, of which 40 % is 0.122 in² (NEC chapter 9
    /// table 4); four cables of 0.16 in have 0.0804 in².
    #[test]
    fn four_cables_fill_a_conduit_as_the_table_of_its_area_says() {
        let inch = 0.0254;
        let share = filled(&[Metres(0.16 * inch); 4], Metres(0.622 * inch));
        assert!((share - 0.0804 / 0.304).abs() < 5e-4, "{share}");
        let six = filled(&[Metres(0.16 * inch); 6], Metres(0.622 * inch));
        let seven = filled(&[Metres(0.16 * inch); 7], Metres(0.622 * inch));
        assert!(six < 0.122 / 0.304 && seven > 0.122 / 0.304, "{six} {seven}");
    }

    /// Two equal circles and one of 2/3 between them and the circle around both: it needs no more room.
    #[test]
    fn a_thin_cable_lies_in_the_gap_of_two_thick_ones() {
        let of = |cables: &[f64]| diameter(&cables.iter().copied().map(Metres).collect::<Vec<_>>());
        assert_eq!(of(&[3.0, 3.0, 2.0]), Metres(6.0));
        assert_eq!(of(&[3.0, 2.0]), Metres(5.0));
        assert_eq!(of(&[]), Metres(0.0));
        assert_eq!(of(&[2.0, 3.0, 3.0]), of(&[3.0, 2.0, 3.0]));
    }
}
