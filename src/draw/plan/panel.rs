//! Rooms in lists, many to a page: each panel is as large as what is in it, whatever its level.

use super::key::{self, Key, Sample};
use super::schematic::Listed;
use crate::draw::placing::{Edges, Spot};
use crate::draw::scene::{Scene, Size};

/// A room in a frame.
#[derive(Clone, Debug)]
pub(crate) struct Panel {
    pub(crate) scene: Scene,
    /// What the key is to tell.
    pub(crate) occurring: Vec<Sample>,
}

/// Between panels.
const APART: f64 = 3.0;
/// A panel stands on one of so many pages that are not yet full.
const OPEN_PAGES: usize = 3;

/// Lists on pages, each page with a key of what occurs on it, and its lower edge. The first page has less height by `head`.
pub(crate) fn pages(lists: &[Listed], inside: &Edges, head: f64) -> Vec<(Scene, f64)> {
    let columns = key::columns_in(inside.size().width);
    let every: Vec<Sample> = lists.iter().flat_map(|list| key::in_list(&list.items)).collect();
    let reserved = Key::of(&every).lowest(columns) + APART;
    let most = Edges { bottom: inside.bottom - reserved, ..*inside };
    let page = |placed: Vec<(Spot, Panel)>| {
        let mut scene = Scene::default();
        let mut occurring = Vec::new();
        let mut bottom = inside.top;
        for (at, panel) in placed {
            bottom = bottom.max(at.1 + panel.scene.size.height);
            scene.add(panel.scene, at);
            occurring.extend(panel.occurring);
        }
        let key = Key::of(&occurring);
        let top = bottom + APART;
        let bottom = key.add(&mut scene, &Edges { top, bottom: top + key.lowest(columns), ..*inside });
        (scene, bottom)
    };
    let panels = lists.iter().flat_map(|list| list.panels(most.size().height - head)).collect();
    packed(panels, &most, head).into_iter().map(page).collect()
}

/// Each panel, the highest first, as far up and then as far left as it is free on a page.
fn packed(mut panels: Vec<Panel>, inside: &Edges, head: f64) -> Vec<Vec<(Spot, Panel)>> {
    let size = |panel: &Panel| panel.scene.size;
    panels.sort_by(|one, other| {
        let (one, other) = (size(one), size(other));
        other.height.total_cmp(&one.height).then(other.width.total_cmp(&one.width))
    });
    let mut pages: Vec<Vec<(Spot, Panel)>> = Vec::new();
    for panel in panels {
        let closed = pages.len().saturating_sub(OPEN_PAGES);
        let found = (closed..).zip(pages.iter().skip(closed)).find_map(|(nth, page)| {
            let edges: Vec<Edges> = page.iter().map(|(at, panel)| Edges::at(*at, size(panel))).collect();
            let lower = if nth == 0 { head } else { 0.0 };
            Some((nth, free(&edges, size(&panel), &Edges { bottom: inside.bottom - lower, ..*inside })?))
        });
        match found.and_then(|(nth, at)| Some((pages.get_mut(nth)?, at))) {
            Some((page, at)) => page.push((at, panel)),
            None => pages.push(vec![((inside.left, inside.top), panel)]),
        }
    }
    pages
}

/// The uppermost free corner for a panel, below and beside others.
fn free(taken: &[Edges], size: Size, inside: &Edges) -> Option<Spot> {
    let sorted = |first: f64, others: &dyn Fn(&Edges) -> f64| {
        let mut all: Vec<f64> = std::iter::once(first).chain(taken.iter().map(|edges| others(edges) + APART)).collect();
        all.sort_by(f64::total_cmp);
        // Panels of one size share their edges.
        all.dedup_by(|one, other| (*one - *other).abs() < 0.01);
        all
    };
    let (lefts, tops) = (sorted(inside.left, &|edges| edges.right), sorted(inside.top, &|edges| edges.bottom));
    let corners = tops.iter().flat_map(|top| lefts.iter().map(move |left| (*left, *top)));
    corners.into_iter().find(|corner| {
        let edges = Edges::at(*corner, size);
        let around = edges.inside(0.01 - APART);
        edges.right <= inside.right && edges.bottom <= inside.bottom && !taken.iter().any(|other| other.meets(&around))
    })
}
