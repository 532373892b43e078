//! Symbols between the two wires of a pair, and in a wire. Those of resistor, fuse, battery, earth and transformer are the
//! general ones of IEC 60617.

use super::Thing;
use crate::draw::role::Role;
use crate::draw::scene::Scene;
use crate::draw::text;
use crate::quantity::Colour;

/// Length of a resistor along its wire, and its width.
const RESISTOR: (f64, f64) = (6.5, 2.4);
/// The same of a fuse.
const FUSE: (f64, f64) = (4.0, 1.6);
/// Between symbols on one wire, and from a wire to the first.
const APART: f64 = 1.6;
/// Between the plates of a battery, and half the longer of them.
const PLATES: (f64, f64) = (0.9, 1.5);
/// Radius of a winding of a transformer.
const WINDING: f64 = 1.3;

impl Thing {
    /// How far its two wires are apart at least.
    pub(super) fn reach(&self) -> f64 {
        let fuse = |fused: bool| if fused { FUSE.0 + APART } else { 0.0 };
        2.0 * APART
            + match self {
                Self::Link => 0.0,
                Self::Resistor(_) => RESISTOR.0,
                Self::Battery(fused) => PLATES.0 + fuse(*fused),
                Self::Transformer(fused) => 3.0 * WINDING + fuse(*fused),
            }
    }

    /// Adds it between two wires of a pair, which end at `x`.
    pub(super) fn add(&self, scene: &mut Scene, x: f64, (top, bottom): (f64, f64)) {
        let wire = |scene: &mut Scene, from: f64, to: f64| scene.line(Role::Conductor, &[(x, from), (x, to)]);
        let start = top + APART;
        match self {
            Self::Link => wire(scene, top, bottom),
            Self::Resistor(bands) => {
                wire(scene, top, start);
                resistor(scene, (x - RESISTOR.1 / 2.0, start), bands, false);
                wire(scene, start + RESISTOR.0, bottom);
            }
            Self::Battery(fused) => {
                let plate = behind_fuse(scene, x, top, *fused);
                scene.line(Role::Symbol, &[(x - PLATES.1, plate), (x + PLATES.1, plate)]);
                let other = plate + PLATES.0;
                scene.line(Role::Symbol, &[(x - PLATES.1 / 2.0, other), (x + PLATES.1 / 2.0, other)]);
                wire(scene, other, bottom);
            }
            Self::Transformer(fused) => {
                let winding = behind_fuse(scene, x, top, *fused);
                scene.circle(Role::Symbol, (x, winding + WINDING), WINDING);
                scene.circle(Role::Symbol, (x, winding + 2.0 * WINDING), WINDING);
                wire(scene, winding + 3.0 * WINDING, bottom);
            }
        }
    }
}

/// Adds the wire down to the symbol, with the fuse where there is one; where the symbol starts.
fn behind_fuse(scene: &mut Scene, x: f64, top: f64, fused: bool) -> f64 {
    let start = top + APART;
    let end = if fused { start + FUSE.0 + APART } else { start };
    scene.line(Role::Conductor, &[(x, top), (x, end)]);
    if fused {
        scene.rectangle(Role::Resistor, (x - FUSE.1 / 2.0, start), (FUSE.1, FUSE.0));
    }
    end
}

/// A resistor along a wire that starts at `x`, at the height of the wire; where it ends.
pub(super) fn in_wire(scene: &mut Scene, (x, y): (f64, f64), bands: &[Colour]) -> f64 {
    resistor(scene, (x, y - RESISTOR.1 / 2.0), bands, true);
    x + RESISTOR.0
}

/// Its length along the wire.
pub(super) const IN_WIRE: f64 = RESISTOR.0;

fn resistor(scene: &mut Scene, (x, y): (f64, f64), bands: &[Colour], lies: bool) {
    let turned = |(along, across): (f64, f64)| if lies { (along, across) } else { (across, along) };
    let mut along = 0.9;
    for band in bands {
        let (right, down) = turned((along, 0.0));
        scene.coloured(*band, |scene| scene.rectangle(Role::Band, (x + right, y + down), turned((0.6, RESISTOR.1))));
        along += 1.0;
    }
    scene.rectangle(Role::Resistor, (x, y), turned(RESISTOR));
}

/// The earth at the end of a wire that comes from the left.
pub(super) fn earth(scene: &mut Scene, (x, y): (f64, f64)) {
    for (nth, half) in [1.6, 1.1, 0.6].into_iter().enumerate() {
        let x = x + 0.8 * text::count(nth);
        scene.line(Role::Symbol, &[(x, y - half), (x, y + half)]);
    }
}
