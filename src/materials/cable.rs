//! Cable to be pulled, by type, and which runs are cut from which box.

use std::collections::BTreeMap;

use super::cutting::TRACE;
use super::cutting::{self, Plan};
use crate::base::Id;
use crate::base::natural::natural;
use crate::model::{CableType, Site};
use crate::profiles::stock;
use crate::quantity::{LengthUnit, Metres};
use crate::register::Wiring;

/// The cable of one type.
#[derive(Clone, Debug)]
pub(crate) struct Lot {
    /// The type.
    pub(crate) kind: Id<CableType>,
    /// How much is in a box.
    pub(crate) in_box: Metres,
    /// True where the spec does not say that, and the usual box is taken.
    pub(crate) assumed: bool,
    /// The cables, by label.
    pub(crate) pieces: Vec<Piece>,
    /// How they are cut: positions in the list above.
    pub(crate) plan: Plan,
}

/// A cable to be pulled.
#[derive(Clone, Debug)]
pub(crate) struct Piece {
    /// Its label.
    pub(crate) label: String,
    /// Its length with slack.
    pub(crate) length: Metres,
}

impl Lot {
    /// Length of all its cables.
    pub(crate) fn length(&self) -> Metres {
        self.pieces.iter().map(|piece| piece.length).sum()
    }

    /// Length of some of them.
    pub(crate) fn length_of(&self, cut: &[usize]) -> Metres {
        cut.iter().filter_map(|at| self.pieces.get(*at)).map(|piece| piece.length).sum()
    }

    /// What is left of a box.
    pub(crate) fn left(&self, cut: &[usize]) -> Metres {
        let left = self.in_box - self.length_of(cut);
        if left.0.abs() < TRACE { Metres(0.0) } else { left }
    }
}

/// How much comes in a box of a type, and whether that is taken for usual and not said.
pub(crate) fn in_box(kind: &CableType, unit: LengthUnit) -> (Metres, bool) {
    kind.box_length.map_or_else(|| (stock::usual_box(unit), true), |length| (length, false))
}

/// The cable that is bought, by the titles of its types: none that was in the wall before, and none that is dead.
pub(crate) fn lots(site: &Site, wiring: &Wiring) -> Vec<Lot> {
    let mut pieces: BTreeMap<Id<CableType>, Vec<Piece>> = BTreeMap::new();
    for cable in wiring.cables.iter().filter(|cable| !site.runs[cable.run].existing) {
        let Some(length) = &site.runs[cable.run].length else { continue };
        pieces.entry(cable.kind).or_default().push(Piece { label: cable.label.clone(), length: length.value });
    }
    let lot = |(kind, mut pieces): (Id<CableType>, Vec<Piece>)| {
        pieces.sort_by(|one, other| natural(&one.label, &other.label));
        let (in_box, assumed) = in_box(&site.cables[kind], site.lengths);
        let lengths: Vec<Metres> = pieces.iter().map(|piece| piece.length).collect();
        Lot { kind, in_box, assumed, plan: cutting::plan(&lengths, in_box), pieces }
    };
    let mut lots: Vec<Lot> = pieces.into_iter().map(lot).collect();
    let title = |lot: &Lot| site.cables[lot.kind].described();
    lots.sort_by(|one, other| natural(&title(one), &title(other)));
    lots
}
