//! The paper that labels are printed on: its geometry as the spec says it, and what about it cannot be.
//!
//! Grids are told by their millimetres alone, never by a number of a shop.

use crate::draw::label_sheet::Grid;
use crate::draw::{Point, Size};
use crate::model::{LabelSheet, Site};
use crate::quantity::Metres;
use crate::quantity::print::LengthUnit;
use crate::terms::{LabelGrid, PaperSize};

/// What two lengths may differ by and still be the same: a hundredth of a millimetre.
const SAME: f64 = 0.01;

/// The paper with labels that a site prints on.
pub(crate) fn grid(site: &Site) -> Grid {
    let said = site.label_sheet.as_ref().map(|sheet| sheet.value.clone()).unwrap_or_default();
    let LabelSheet { grid, paper, columns, rows, width, height, left, top, across, down, printed, used: _, code } =
        said;
    let common = common(grid.unwrap_or(match site.lengths {
        LengthUnit::Feet => LabelGrid::Letter3By10,
        LengthUnit::Metres => LabelGrid::A43By7,
    }));
    let length = |said: Option<Metres>, common: f64| said.map_or(common, millimetres);
    let count = |said: Option<u32>, common: usize| said.map_or(common, |count| count as usize);
    Grid {
        paper: paper.map_or(common.paper, size),
        columns: count(columns, common.columns),
        rows: count(rows, common.rows),
        label: Size { width: length(width, common.label.width), height: length(height, common.label.height) },
        corner: Point { x: length(left, common.corner.x), y: length(top, common.corner.y) },
        pitch: Size { width: length(across, common.pitch.width), height: length(down, common.pitch.height) },
        printed: printed.map(millimetres),
        coded: code,
    }
}

/// How many labels of the first sheet are gone.
pub(crate) fn used(site: &Site) -> usize {
    site.label_sheet.as_ref().map_or(0, |sheet| sheet.value.used as usize)
}

/// By how much the labels of a grid reach beyond the paper to the right and below, in millimetres; `None` where they stay
/// on it.
pub(crate) fn beyond(grid: &Grid) -> Option<(f64, f64)> {
    let end = |first: f64, many: usize, pitch: f64, one: f64| {
        first + f64::from(u32::try_from(many.saturating_sub(1)).unwrap_or(u32::MAX)) * pitch + one
    };
    let Grid { paper, columns, rows, label, corner, pitch, .. } = grid;
    let right = end(corner.x, *columns, pitch.width, label.width) - paper.width;
    let below = end(corner.y, *rows, pitch.height, label.height) - paper.height;
    (right > SAME || below > SAME).then_some((right.max(0.0), below.max(0.0)))
}

/// What of a grid lies over another part of it.
pub(crate) fn overlap(grid: &Grid) -> Option<&'static str> {
    let Grid { columns, rows, label, pitch, printed, .. } = grid;
    let over = [
        (*columns > 1 && label.width > pitch.width + SAME, "a label is wider than the way to the next one"),
        (*rows > 1 && label.height > pitch.height + SAME, "a label is higher than the way to the next one"),
        (printed.is_some_and(|zone| zone > label.height + SAME), "the printed zone is higher than the label"),
    ];
    over.into_iter().find(|(is, _)| *is).map(|(_, words)| words)
}

/// The height that a wrap must have around a cable: once around, and over the print. In millimetres.
pub(crate) fn wrap_needed(printed: f64, diameter: Metres) -> f64 {
    std::f64::consts::PI * millimetres(diameter) + printed
}

/// In millimetres as they were written: to a tenth of a thousandth.
fn millimetres(length: Metres) -> f64 {
    (length.0 * 1e7).round() / 1e4
}

fn size(paper: PaperSize) -> Size {
    match paper {
        PaperSize::Letter => Size { width: 215.9, height: 279.4 },
        PaperSize::A4 => Size { width: 210.0, height: 297.0 },
    }
}

/// The forms that are common: the gaps and margins add up to the paper.
fn common(grid: LabelGrid) -> Grid {
    let (paper, columns, rows, label, corner, pitch) = match grid {
        LabelGrid::Letter3By10 => (PaperSize::Letter, 3, 10, (66.675, 25.4), (4.7625, 12.7), (69.85, 25.4)),
        LabelGrid::A43By7 => (PaperSize::A4, 3, 7, (63.5, 38.1), (7.25, 15.15), (66.0, 38.1)),
    };
    let pair = |(width, height)| Size { width, height };
    Grid {
        paper: size(paper),
        columns,
        rows,
        label: pair(label),
        corner: Point { x: corner.0, y: corner.1 },
        pitch: pair(pitch),
        printed: None,
        coded: false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_common_forms_fill_their_paper() {
        for grid in [common(LabelGrid::Letter3By10), common(LabelGrid::A43By7)] {
            assert_eq!((beyond(&grid), overlap(&grid)), (None, None));
            let right = grid.corner.x + 2.0 * grid.pitch.width + grid.label.width;
            assert!((grid.paper.width - right - grid.corner.x).abs() < 1e-9, "the margins differ");
        }
    }

    #[test]
    fn a_wrap_goes_round_and_over_its_print() {
        assert!((wrap_needed(20.0, Metres(0.005)) - 35.708).abs() < 1e-3);
    }
}
