//! Conduits that cables are pulled through.

use crate::base::{Id, Spanned};
use crate::quantity::Metres;

use super::run::Run;
use super::site::Site;

/// A conduit, duct or raceway.
#[derive(Clone, Debug, PartialEq)]
pub struct Conduit {
    /// Name for people.
    pub title: Spanned<String>,
    /// Diameter inside.
    pub inside: Spanned<Metres>,
    /// The runs whose cables lie in it, in the order of the text.
    pub runs: Vec<Spanned<Id<Run>>>,
    /// False where something in it was reported: nothing is concluded from what it lacks.
    pub(crate) whole: bool,
}

impl Conduit {
    /// The runs that have the cables in it, each once: of a run that shares a cable, its host.
    pub(crate) fn cables(&self, site: &Site) -> Vec<Id<Run>> {
        let host = |run: &Spanned<Id<Run>>| site.runs[run.value].along.as_ref().map_or(run.value, |host| host.value);
        let mut cables: Vec<Id<Run>> = self.runs.iter().map(host).collect();
        cables.sort();
        cables.dedup();
        cables
    }

    /// The diameters of the cables in it that are known, and how many are not; `None` where none is known.
    pub(crate) fn diameters(&self, site: &Site) -> Option<(Vec<Metres>, usize)> {
        let of = |run: &Id<Run>| site.cables[site.runs[*run].cable.as_ref()?.value].diameter;
        let cables = self.cables(site);
        let known: Vec<Metres> = cables.iter().filter_map(of).collect();
        let unknown = cables.len() - known.len();
        (self.whole && !known.is_empty()).then_some((known, unknown))
    }
}
