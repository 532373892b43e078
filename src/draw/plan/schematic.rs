//! Rooms in lists: those without measures, and what found no place for its words on a plan. A box a room, not to scale.

use super::key;
use super::label::{self, Form, Item};
use super::panel::Panel;
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

/// From a box to what is in it, and the width of a heading.
const PAD: f64 = 2.0;
const HEADING: f64 = 74.0;

impl Listed {
    /// The room in a box, or in more that are no higher than a page; each says there what it goes on with.
    pub(crate) fn panels(&self, most: f64) -> Vec<Panel> {
        let mut rest = self.items.as_slice();
        let mut panels = Vec::new();
        while panels.is_empty() || !rest.is_empty() {
            // One item always fits on a page.
            let before = if panels.is_empty() { "" } else { "continued: " };
            let title = format!("{before}{}", self.title);
            let (items, further) = rest.split_at(fitting(rest, most - head(&title)).max(1).min(rest.len()));
            panels.push(self.panel(&title, items));
            rest = further;
        }
        panels
    }

    fn panel(&self, title: &str, items: &[Item]) -> Panel {
        let mut scene = Scene::default();
        let title = heading(title);
        let mut width = text::size(&title, Role::Heading).width;
        let mut y = scene.text(Role::Heading, (PAD, PAD), Anchor::Start, &title);
        let numbers = items.iter().filter_map(|item| item.number);
        let before = numbers.map(|number| label::number_size(&number.to_string()).width).fold(0.0, f64::max);
        for item in items {
            let high = height(item);
            if let Some(number) = item.number {
                label::add_number(&mut scene, (PAD + before / 2.0, y + high / 2.0), &number.to_string());
            }
            let size = item.size(Form::Stacked);
            item.add(&mut scene, (PAD + before, y + (high - size.height) / 2.0), Form::Stacked);
            width = width.max(before + size.width);
            y += high;
        }
        let role = if self.outdoors { Role::OpenAir } else { Role::Wall };
        scene.rectangle(role, (0.0, 0.0), (width + 2.0 * PAD, y + PAD));
        Panel { scene: scene.cropped(0.0), occurring: key::in_list(items) }
    }
}

/// A heading in as many lines as its words need.
fn heading(title: &str) -> Vec<String> {
    text::wrap(title, Role::Heading.style().text, HEADING, 6)
}

/// Height of a box with its heading and nothing else.
fn head(title: &str) -> f64 {
    text::height(heading(title).len(), Role::Heading) + 2.0 * PAD
}

/// Height of an item with its number.
fn height(item: &Item) -> f64 {
    let number = item.number.map_or(0.0, |number| label::number_size(&number.to_string()).height);
    item.size(Form::Stacked).height.max(number)
}

/// How many items fit below one another into some height.
fn fitting(items: &[Item], room: f64) -> usize {
    let mut left = room;
    items
        .iter()
        .take_while(|item| {
            left -= height(item);
            left >= 0.0
        })
        .count()
}
