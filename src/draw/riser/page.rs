//! Bands on pages: a storey stands on one page where it can, and goes on with its next strip where it cannot.

use std::collections::BTreeMap;

use super::BETWEEN;
use super::bands::{Band, Flags, Plan};
use super::channel::{axis, tracks};
use super::grid::Side;
use super::wires::{Routed, taken_at_left, taken_at_right};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Scene};
use crate::draw::sheet::INSET;
use crate::draw::text::{height, wrap};

/// Radius of the dot at which a wire goes on elsewhere.
const DOT: f64 = 0.9;
/// Between a band's edge and its title.
const PAD: f64 = 1.0;

/// What stands on a page: pieces of bands.
#[derive(Debug, Default)]
pub(crate) struct Page {
    pieces: Vec<Piece>,
    /// What they take, and what they have.
    height: f64,
    room: f64,
}

/// A band, or some of its strips.
#[derive(Debug)]
struct Piece {
    storey: usize,
    band: usize,
    /// Its strips among those of the band.
    strips: std::ops::Range<usize>,
    top: f64,
    height: f64,
}

fn title_height() -> f64 {
    height(1, Role::Heading) + PAD
}

/// The pages of a plan, each with so much room for bands, the first with less by `head`.
pub(crate) fn pages(plan: &Plan, room: f64, head: f64) -> Vec<Page> {
    let mut pages = vec![Page { room: room - head, ..Page::default() }];
    let next = || Page { room, ..Page::default() };
    for (storey, bands) in plan.storeys.iter().enumerate() {
        let needs = |most: usize| storey_height(plan, bands, most);
        // All rooms stand behind the boards of a page, or none: of some, nobody would know that others are elsewhere.
        let rooms =
            || plan.storeys.iter().skip(storey).map(|bands| storey_height(plan, bands, usize::MAX)).sum::<f64>();
        if plan.rooms_from == Some(storey)
            && pages.last().is_some_and(|page| page.height > 0.0 && page.height + rooms() > page.room)
        {
            pages.push(next());
        }
        // What has no room on any page as a whole starts where both sides have room for a first strip.
        let whole = needs(usize::MAX);
        let least = if whole <= room { whole } else { needs(1) };
        if pages.last().is_some_and(|page| page.height > 0.0 && page.height + least > page.room) {
            pages.push(next());
        }
        let mut left: Vec<(usize, usize)> = bands.iter().enumerate().map(|(band, _)| (band, 0)).collect();
        while let Some(page) = pages.last_mut().filter(|_| !left.is_empty()) {
            left = page.take(plan, storey, &left);
            if !left.is_empty() {
                pages.push(next());
            }
        }
    }
    pages
}

/// True where every wire is drawn from box to box.
pub(crate) fn are_all_drawn(plan: &Plan, pages: &[Page]) -> bool {
    let drawn: Vec<_> = pages.iter().map(|page| page.strips(plan)).map(|here| (tracks(plan, &here), here)).collect();
    plan.wires.iter().all(|wire| {
        let on = |here: &BTreeMap<usize, f64>| here.contains_key(&wire.from.strip) && here.contains_key(&wire.to.strip);
        wire.is_drawn_for_sure() || drawn.iter().any(|(tracks, here)| on(here) && tracks.contains_key(&wire.wire.to))
    })
}

/// The height of a storey with at most so many strips of each band.
fn storey_height(plan: &Plan, bands: &[Band], most: usize) -> f64 {
    side_height(plan, bands, Side::House, most).max(side_height(plan, bands, Side::Apart, most))
}

/// The height of the bands at a side with at most so many strips of each.
fn side_height(plan: &Plan, bands: &[Band], side: Side, most: usize) -> f64 {
    let of_side = bands.iter().filter(|band| band.side == side);
    let height = |band: &Band| {
        let strips = band.strips.iter().take(most).filter_map(|strip| plan.strips.get(*strip));
        title_height() + strips.map(super::bands::Strip::height).sum::<f64>() + BETWEEN
    };
    of_side.map(height).sum()
}

impl Page {
    /// Takes of a storey's bands, each from one of its strips on, what has room; what is left.
    fn take(&mut self, plan: &Plan, storey: usize, bands: &[(usize, usize)]) -> Vec<(usize, usize)> {
        let (start, room, mut rest) = (self.height, self.room, Vec::new());
        for side in [Side::House, Side::Apart] {
            let (mut top, mut is_full) = (start, false);
            for (band, first) in bands.iter().copied() {
                let of = plan.storeys.get(storey).and_then(|bands| bands.get(band)).filter(|of| of.side == side);
                let Some(strips) = of.and_then(|of| of.strips.get(first..)) else { continue };
                let (mut taken, mut height) = (0, title_height());
                for strip in strips.iter().filter_map(|strip| plan.strips.get(*strip)) {
                    // One strip has room on an empty page.
                    if top + height + strip.height() > room && (top > 0.0 || taken > 0) {
                        break;
                    }
                    (taken, height) = (taken + 1, height + strip.height());
                }
                is_full |= top + height > room && top > 0.0 || taken == 0 && !strips.is_empty();
                if is_full {
                    rest.push((band, first));
                    continue;
                }
                let last = first + taken;
                self.pieces.push(Piece { storey, band, strips: first..last, top, height });
                top += height + BETWEEN;
                self.height = self.height.max(top);
                if taken < strips.len() {
                    is_full = true;
                    rest.push((band, last));
                }
            }
        }
        rest
    }

    /// True where it has boards, and not only what goes to the rooms.
    pub(crate) fn has_boards(&self, plan: &Plan) -> bool {
        let strips = self.strips(plan);
        let mut here = strips.keys().filter_map(|strip| plan.strips.get(*strip));
        here.any(|strip| strip.boxes.iter().any(|one| one.board.is_some()))
    }

    /// The strips of the page, among all, each with its upper edge.
    fn strips(&self, plan: &Plan) -> BTreeMap<usize, f64> {
        let mut found = BTreeMap::new();
        for piece in &self.pieces {
            let band = plan.storeys.get(piece.storey).and_then(|bands| bands.get(piece.band));
            let mut top = INSET + piece.top + title_height();
            for strip in band.and_then(|band| band.strips.get(piece.strips.clone())).into_iter().flatten() {
                found.insert(*strip, top);
                top += plan.strips.get(*strip).map_or(0.0, super::bands::Strip::height);
            }
        }
        found
    }
}

/// Adds a page's bands; the lower edge of the last.
pub(crate) fn add(scene: &mut Scene, plan: &Plan, pages: &[Page], page: &Page) -> f64 {
    let grid = &plan.grid;
    for piece in &page.pieces {
        let Some(band) = plan.storeys.get(piece.storey).and_then(|bands| bands.get(piece.band)) else { continue };
        let (left, right) = grid.edges(band.side);
        let top = INSET + piece.top;
        scene.rectangle(Role::Level, (left, top), (right - left, piece.height));
        let on = if piece.strips.start > 0 { ", continued" } else { "" };
        let title = wrap(&format!("{}{on}", band.title), Role::Heading.style().text, right - left - 2.0 * PAD, 1);
        scene.text(Role::Heading, (left + PAD, top + PAD / 2.0), Anchor::Start, &title);
    }
    let here = page.strips(plan);
    let part_of =
        |strip: usize| (1..).zip(pages).find(|(_, page)| page.strips(plan).contains_key(&strip)).map(|(part, _)| part);
    let tracks = tracks(plan, &here);
    let told = |wire: &Routed, other: usize| {
        let drawn = wire.lanes.is_some() && (wire.from.strip == wire.to.strip || tracks.contains_key(&wire.wire.to));
        let part = |at: usize| {
            if here.contains_key(&at) { "here".to_owned() } else { format!("part {}", part_of(at).unwrap_or_default()) }
        };
        (!drawn).then(|| part(other))
    };
    let numbers = plan.numbers();
    for (strip, top) in &here {
        let Some(of) = plan.strips.get(*strip) else { continue };
        let side = plan
            .storeys
            .iter()
            .flatten()
            .find(|band| band.strips.contains(strip))
            .map_or(Side::House, |band| band.side);
        let boxes = top + of.above();
        for (column, one) in of.boxes.iter().enumerate() {
            let left = grid.left(side, column);
            one.cell.add(scene, (left, boxes), grid.box_width());
            let Some((board, _)) = one.board else { continue };
            let flags = Flags::of(&plan.wires, board, &numbers, grid, |wire| {
                told(wire, if wire.wire.to == board { wire.from.strip } else { wire.to.strip })
            });
            let link = plan.wires.iter().find(|wire| wire.wire.to == board).and_then(|wire| wire.wire.link.as_ref());
            let y = boxes - of.flags;
            let goes = height(flags.goes.len(), Role::Label);
            scene.linked(link, |scene| {
                scene.text(Role::Label, (left + taken_at_left(), y + goes), Anchor::Start, &flags.comes);
            });
            let right = left + grid.box_width() - taken_at_right(&plan.wires, board);
            scene.text(Role::Label, (right, y), Anchor::End, &flags.goes);
        }
    }
    for wire in &plan.wires {
        let axis = |strip: usize, lane: usize| axis(plan, &here, strip, lane);
        let edge = |strip: usize| Some(here.get(&strip)? + plan.strips.get(strip)?.above());
        let role = wire.wire.role();
        let track = tracks.get(&wire.wire.to).map(|track| grid.track(*track));
        let way = wire.lanes.zip(wire.out).and_then(|((one, other), out)| {
            let (start, end) = (edge(wire.from.strip)?, edge(wire.to.strip)?);
            let (leaves, comes) = (axis(wire.from.strip, one)?, axis(wire.to.strip, other)?);
            let mut way = vec![(out, start), (out, leaves)];
            if wire.from.strip != wire.to.strip {
                way.extend([(track?, leaves), (track?, comes)]);
            }
            way.extend([(wire.into, comes), (wire.into, end)]);
            Some(way)
        });
        if let Some(way) = way {
            scene.line(role, &with_slanted_corners(&way));
            continue;
        }
        let stub = |scene: &mut Scene, strip: usize, x: f64| {
            if let (Some(bottom), Some(of)) = (edge(strip), plan.strips.get(strip)) {
                let top = bottom - of.flags;
                scene.line(role, &[(x, bottom), (x, top + DOT)]);
                scene.circle(Role::Joint, (x, top + DOT), DOT);
            }
        };
        if let Some(out) = wire.out {
            stub(scene, wire.from.strip, out);
        }
        stub(scene, wire.to.strip, wire.into);
    }
    INSET + page.height - BETWEEN
}

/// A way with each of its corners cut.
fn with_slanted_corners(way: &[(f64, f64)]) -> Vec<(f64, f64)> {
    const CUT: f64 = 0.9;
    let toward = |from: (f64, f64), to: (f64, f64)| {
        let length = (to.0 - from.0).abs() + (to.1 - from.1).abs();
        let part = if length > 0.0 { (CUT / length).min(0.5) } else { 0.0 };
        (from.0 + part * (to.0 - from.0), from.1 + part * (to.1 - from.1))
    };
    let corners = way
        .windows(3)
        .filter_map(|three| if let [before, at, after] = three { Some((*before, *at, *after)) } else { None });
    let cut = corners.flat_map(|(before, at, after)| [toward(at, before), toward(at, after)]);
    way.first().copied().into_iter().chain(cut).chain(way.last().copied()).collect()
}
