//! Which conduits a cable goes into, in words, and which others are in them.

use std::collections::BTreeMap;

use super::wire_labels::few;
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{Conduit, Run};
use crate::register::Cable;
use crate::words;

/// The conduits of a site, by the cables in them.
pub(crate) struct Conduits<'c> {
    compiled: &'c Compiled,
    all: Vec<(&'c Conduit, Vec<Id<Run>>)>,
    /// Positions among all, by the run that a cable is.
    of: BTreeMap<Id<Run>, Vec<usize>>,
}

impl<'c> Conduits<'c> {
    /// Those of a site.
    pub(crate) fn of(compiled: &'c Compiled) -> Self {
        let site = &compiled.site;
        let all: Vec<_> = site.conduits.iter().map(|conduit| (conduit, conduit.cables(site))).collect();
        let mut of: BTreeMap<Id<Run>, Vec<usize>> = BTreeMap::new();
        for (at, (_, runs)) in all.iter().enumerate() {
            for run in runs {
                of.entry(*run).or_default().push(at);
            }
        }
        Self { compiled, all, of }
    }

    fn holding(&self, cable: &Cable) -> impl Iterator<Item = &(&'c Conduit, Vec<Id<Run>>)> {
        self.of.get(&cable.run).into_iter().flatten().filter_map(|at| self.all.get(*at))
    }

    /// "in Duct under the yard", for each that it goes into.
    pub(crate) fn words(&self, cable: &Cable) -> Vec<String> {
        self.holding(cable).map(|(conduit, _)| inside(conduit)).collect()
    }

    /// "with YARD-COIL-1 in Duct under the yard", for each that it shares.
    pub(crate) fn shared(&self, cable: &Cable) -> Vec<String> {
        self.holding(cable).filter_map(|(conduit, runs)| self.with(cable, conduit, runs)).collect()
    }

    /// As [`Self::shared`]; of those in which it lies alone as [`Self::words`].
    pub(crate) fn each(&self, cable: &Cable) -> Vec<String> {
        let one = |(conduit, runs): &(&Conduit, Vec<Id<Run>>)| {
            self.with(cable, conduit, runs).unwrap_or_else(|| inside(conduit))
        };
        self.holding(cable).map(one).collect()
    }

    fn with(&self, cable: &Cable, conduit: &Conduit, runs: &[Id<Run>]) -> Option<String> {
        let others = runs.iter().filter(|run| **run != cable.run).map(|run| words::cable(&self.compiled.wiring, *run));
        let others: Vec<&str> = others.filter(|label| !label.is_empty()).collect();
        (!others.is_empty()).then(|| format!("with {} {}", few(&others), inside(conduit)))
    }
}

fn inside(conduit: &Conduit) -> String {
    format!("in {}", conduit.title.value)
}
