//! Holes for bundles of cable: which drill, how many holes, and what timber they ask for.
//!
//! A hole is wider than its bundle by a quarter (practice). In timber it is kept so small that it may stand in a bearing
//! member of a common size and needs no plate; where one hole would be wider, the cables are shared out over several.

use crate::profiles::framing::{BEARING, JOIST, JOIST_EDGE, NONBEARING, PLATE, STUD_EDGE};
use crate::profiles::holes::{self, Drill, WIDER};
use crate::profiles::limits::Limit;
use crate::quantity::Metres;

use super::bundle;

/// What a drill's hole may lack by rounding.
const TRACE: f64 = 1e-9;

/// The timber that is drilled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Timber {
    /// Studs, taken for 2×4.
    Stud,
    /// Joists and rafters, taken for 2×8.
    Joist,
}

impl Timber {
    /// Width of the stud, depth of the joist.
    pub(crate) fn width(self) -> Metres {
        match self {
            Self::Stud => holes::STUD,
            Self::Joist => holes::JOIST,
        }
    }

    /// The widest hole in its middle that a bearing member takes without a plate.
    pub(crate) fn widest(self) -> Metres {
        let width = self.width();
        let (share, edge) = match self {
            Self::Stud => (share(&BEARING), length(&PLATE).0.max(length(&STUD_EDGE).0)),
            Self::Joist => (share(&JOIST), length(&PLATE).0.max(length(&JOIST_EDGE).0)),
        };
        Metres((width.0 * share).min(width.0 - 2.0 * edge))
    }
}

fn share(limit: &Limit) -> f64 {
    limit.value.share().unwrap_or_default()
}

fn length(limit: &Limit) -> Metres {
    limit.value.length().unwrap_or_default()
}

/// The least timber for a hole in its middle.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Needs {
    /// Width of a bearing stud.
    pub(crate) bearing: Metres,
    /// Width of another stud.
    pub(crate) other: Metres,
    /// Width of a stud that needs no plate.
    pub(crate) no_plate: Metres,
    /// Depth of a joist.
    pub(crate) joist: Metres,
}

/// What a hole asks for.
pub(crate) fn needs(hole: Metres) -> Needs {
    let beside = |limit: &Limit| hole.0 + 2.0 * length(limit).0;
    let at_least = |limit: &Limit, edge: &Limit| Metres((hole.0 / share(limit)).max(beside(edge)));
    Needs {
        bearing: at_least(&BEARING, &STUD_EDGE),
        other: at_least(&NONBEARING, &STUD_EDGE),
        no_plate: Metres(beside(&PLATE)),
        joist: at_least(&JOIST, &JOIST_EDGE),
    }
}

/// The smallest drill for a bundle; `None` where none is large enough.
pub(crate) fn drill<'d>(cables: &[Metres], drills: &'d [Drill]) -> Option<&'d Drill> {
    let wants = bundle::diameter(cables).0 * WIDER.value;
    drills.iter().find(|drill| drill.diameter.0 + TRACE >= wants)
}

/// The fewest holes of one drill for all cables, none wider than so much; `None` where one cable alone is too thick.
pub(crate) fn holes<'d>(cables: &[Metres], drills: &'d [Drill], widest: Metres) -> Option<(usize, &'d Drill)> {
    let mut sorted = cables.to_vec();
    sorted.sort_by(|one, other| other.0.total_cmp(&one.0));
    let fits = |drill: &&Drill| drill.diameter.0 <= widest.0 + TRACE;
    let split = |count: usize| {
        // Each, the thickest first, goes where the bundle is thinnest until now.
        let mut shares: Vec<(Metres, Vec<Metres>)> = vec![(Metres(0.0), Vec::new()); count];
        for cable in &sorted {
            let (bundle, share) = shares.iter_mut().min_by(|(one, _), (other, _)| one.0.total_cmp(&other.0))?;
            share.push(*cable);
            *bundle = bundle::diameter(share);
        }
        let drills: Option<Vec<&Drill>> = shares.iter().map(|(_, share)| drill(share, drills).filter(fits)).collect();
        drills?.into_iter().max_by(|one, other| one.diameter.0.total_cmp(&other.diameter.0))
    };
    drill(sorted.get(..1)?, drills).filter(fits)?;
    let mut count = 1;
    while count <= sorted.len() {
        if let Some(drill) = split(count) {
            return Some((count, drill));
        }
        count += 1;
    }
    None
}

/// How many cables of one diameter a hole takes.
pub(crate) fn takes(cable: Metres, drill: &Drill) -> usize {
    let fits = |count: usize| bundle::diameter(&vec![cable; count]).0 * WIDER.value <= drill.diameter.0 + TRACE;
    (1..1000).take_while(|count| fits(*count)).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::LengthUnit;

    const INCH: f64 = 0.0254;

    fn inches(length: Metres) -> String {
        format!("{:.2}", length.0 / INCH)
    }

    /// The worked figures for a 2×4 (hole at most 1.40 in where it bears, 1.00 in without a plate) and a 2×8 joist (2.42 in, of
    /// which a reader of the code makes 2 3/8) that building departments hand out.
    #[test]
    fn common_timber_takes_the_holes_of_worked_examples() {
        assert_eq!(inches(Timber::Stud.widest()), "1.00");
        assert_eq!(inches(Timber::Joist.widest()), "2.42");
        let needs = needs(Metres(1.4 * INCH));
        assert_eq!(
            [needs.bearing, needs.other, needs.no_plate, needs.joist].map(inches),
            ["3.50", "2.65", "3.90", "5.40"]
        );
        let needs = super::needs(Metres(2.1 * INCH));
        assert_eq!([needs.bearing, needs.other, needs.joist].map(inches), ["5.25", "3.50", "6.30"]);
    }

    #[test]
    fn a_bundle_that_is_too_thick_for_one_hole_takes_several() {
        let drills = crate::profiles::holes::drills(LengthUnit::Feet);
        let cables = |count: usize| vec![Metres(0.16 * INCH); count];
        let found = |count: usize| {
            holes(&cables(count), &drills, Timber::Stud.widest()).map(|(many, drill)| (many, drill.name.clone()))
        };
        assert_eq!(found(1), Some((1, "1/4 in".to_owned())));
        // √(4 · 0.16² / 0.646) · 1.25 is 0.498 in.
        assert_eq!(found(4), Some((1, "1/2 in".to_owned())));
        // Sixteen want 0.995 in, seventeen 1.026: two holes, of nine at most.
        assert_eq!(found(16), Some((1, "1 in".to_owned())));
        assert_eq!(found(17), Some((2, "3/4 in".to_owned())));
        assert_eq!(holes(&[Metres(0.9 * INCH)], &drills, Timber::Stud.widest()), None);
        let one_inch = drills.iter().find(|drill| drill.name == "1 in").unwrap();
        assert_eq!(takes(Metres(0.16 * INCH), one_inch), 16);
    }
}
