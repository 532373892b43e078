//! Within what time a service must miss a way that has fallen silent.
//!
//! The figures are asked of supervising stations. The household chapter leaves the interval to the contract with the
//! station, so for a household they are held up as practice.

use super::limits::NFPA_72;
use super::source::{Figure, Known, Source};
use crate::model::{Communicator, Site};
use crate::terms::Profile;

/// A figure with what it holds for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supervision {
    /// What it holds for.
    pub what: &'static str,
    /// Seconds.
    pub figure: Figure,
}

/// One way, by the edition of 2010.
const SINGLE_2010: Supervision = Supervision {
    what: "a single way",
    figure: Figure::new(300.0, Source::new(NFPA_72, "2010 edition", "26.6.3.3.1", Known::Summary)),
};
/// One way.
const SINGLE: Supervision = Supervision {
    what: "a single way",
    figure: Figure::new(3600.0, Source::new(NFPA_72, "2013 edition and later", "26.6.3.3.1", Known::Summary)),
};
/// Ways of two technologies.
const TWO: Supervision = Supervision {
    what: "each of several ways of different kinds",
    figure: Figure::new(6.0 * 3600.0, Source::new(NFPA_72, "2013 edition and later", "26.6.3", Known::Summary)),
};

/// The test report, whatever the ways. No document that was read has a figure for a household: the contract has one, and a
/// month is the longest that is usual.
pub(crate) const TEST_REPORT: Supervision =
    Supervision { what: "the test report", figure: Figure::practice(31.0 * 86_400.0) };

/// Every row.
pub(super) const ROWS: &[Supervision] = &[SINGLE_2010, SINGLE, TWO, TEST_REPORT];

/// The row that a way is held against, by the ways that its panel has; `None` where profile and edition have none.
pub(crate) fn of_way(site: &Site, way: &Communicator) -> Option<Supervision> {
    if site.profile != Some(Profile::UsHousehold) {
        return None;
    }
    let first = way.path.as_ref()?.value;
    let panel = site.panel_of_way(way);
    let beside = site.communicators.iter().filter(|other| site.panel_of_way(other) == panel);
    let mut kinds = beside.filter_map(|way| Some(way.path.as_ref()?.value));
    let earlier = site.edition.is_some_and(|edition| edition < 2013);
    match (kinds.any(|kind| kind != first), earlier) {
        (false, true) => Some(SINGLE_2010),
        (false, false) => Some(SINGLE),
        // What earlier editions ask of several ways is no row here.
        (true, true) => None,
        (true, false) => Some(TWO),
    }
}
