//! Rooms without measures, and what found no place on a plan: a box a room, in the order given, not to scale.

use super::label::{Form, Item};
use crate::draw::placing::Edges;
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Scene};
use crate::draw::text;

/// A room as a list.
#[derive(Clone, Debug)]
pub(crate) struct Listed {
    pub(crate) title: String,
    pub(crate) outdoors: bool,
    pub(crate) items: Vec<Item>,
}

/// The least width of a column, what is between columns, and from a box to what is in it.
const COLUMN: f64 = 78.0;
const BETWEEN: f64 = 4.0;
const PAD: f64 = 2.0;

/// A part of a room that stands in one column.
struct Piece<'l> {
    room: &'l Listed,
    title: String,
    items: &'l [Item],
    column: u32,
    top: f64,
    height: f64,
}

/// The rooms in boxes, in as many scenes as are needed, each with its lower edge. A room that goes on in a further column says so there.
pub(crate) fn pages(rooms: &[Listed], area: &Edges) -> Vec<(Scene, f64)> {
    let columns: u32 = match (area.right - area.left + BETWEEN) / (COLUMN + BETWEEN) {
        many if many >= 3.0 => 3,
        two if two >= 2.0 => 2,
        _ => 1,
    };
    let width = (area.right - area.left - f64::from(columns - 1) * BETWEEN) / f64::from(columns);
    let pages = balanced(rooms, area, columns);
    let scene = |pieces: Vec<Piece>| {
        let mut scene = Scene::default();
        for piece in &pieces {
            let left = area.left + f64::from(piece.column) * (width + BETWEEN);
            piece.add(&mut scene, left, width);
        }
        (scene, pieces.iter().map(|piece| piece.top + piece.height).fold(area.top, f64::max))
    };
    pages.into_iter().filter(|pieces| !pieces.is_empty()).map(scene).collect()
}

/// The rooms in columns; where one page holds them, in columns that are as low as can be without another room parted.
fn balanced<'l>(rooms: &'l [Listed], area: &Edges, columns: u32) -> Vec<Vec<Piece<'l>>> {
    const STEP: f64 = 5.0;
    let whole = placed(rooms, area, columns);
    let pieces = |pages: &[Vec<Piece>]| pages.iter().map(Vec::len).sum::<usize>();
    if whole.len() > 1 {
        return whole;
    }
    let lower = std::iter::successors(Some(area.top + STEP), |bottom| Some(bottom + STEP))
        .take_while(|bottom| *bottom < area.bottom)
        .map(|bottom| placed(rooms, &Edges { bottom, ..*area }, columns))
        .find(|lower| lower.len() == 1 && pieces(lower) <= pieces(&whole));
    lower.unwrap_or(whole)
}

/// The rooms in some columns of an area, page by page.
fn placed<'l>(rooms: &'l [Listed], area: &Edges, columns: u32) -> Vec<Vec<Piece<'l>>> {
    let mut pages: Vec<Vec<Piece>> = vec![Vec::new()];
    let (mut column, mut top) = (0, area.top);
    for room in rooms {
        let mut rest = room.items.as_slice();
        let mut title = room.title.clone();
        loop {
            let fitting = fitting(rest, area.bottom - top);
            // A box is begun only where something of it fits, or where the column is empty.
            if fitting == 0 && !(rest.is_empty() && head() <= area.bottom - top) && top > area.top {
                (column, top) = (column + 1, area.top);
                if column == columns {
                    column = 0;
                    pages.push(Vec::new());
                }
                continue;
            }
            // One item always fits into a column.
            let (items, further) = rest.split_at(fitting.max(1).min(rest.len()));
            let height = head() + heights(items);
            if let Some(page) = pages.last_mut() {
                page.push(Piece { room, title, items, column, top, height });
            }
            top += height + BETWEEN;
            if further.is_empty() {
                break;
            }
            rest = further;
            title = format!("continued: {}", room.title);
        }
    }
    pages
}

/// Height of a box with its heading and nothing else.
fn head() -> f64 {
    text::height(1, Role::Heading) + 2.0 * PAD
}

fn heights(items: &[Item]) -> f64 {
    items.iter().map(|item| item.size(Form::Stacked).height).sum()
}

/// How many items fit into a box of some height.
fn fitting(items: &[Item], room: f64) -> usize {
    let mut left = room - head();
    items
        .iter()
        .take_while(|item| {
            left -= item.size(Form::Stacked).height;
            left >= 0.0
        })
        .count()
}

impl Piece<'_> {
    fn add(&self, scene: &mut Scene, left: f64, width: f64) {
        let role = if self.room.outdoors { Role::OpenAir } else { Role::Wall };
        scene.rectangle(role, (left, self.top), (width, self.height));
        let title = super::label::cut(&self.title, width - 2.0 * PAD, Role::Heading);
        let mut y = scene.text(Role::Heading, (left + PAD, self.top + PAD), Anchor::Start, &[title]);
        for item in self.items {
            item.add(scene, (left + PAD, y), Form::Stacked);
            y += item.size(Form::Stacked).height;
        }
    }
}
