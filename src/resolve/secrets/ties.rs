//! What ties a number to a word: the way from one to the other, and how far it is to be trusted.

use std::ops::Range;

use super::items::{Gap, Item};
use super::names::{Name, Weight};
use super::numbers::{is_time, is_year};

/// The values that a word is tied to.
#[derive(Debug)]
pub(crate) struct Tie {
    /// Item indexes of each value; never empty.
    pub(crate) values: Vec<Range<usize>>,
    pub(crate) certain: bool,
}

impl Tie {
    /// To one value, which begins at one item and ends before another.
    pub(crate) fn new(start: usize, end: usize, certain: bool) -> Self {
        Self { values: std::iter::once(start..end).collect(), certain }
    }
}

/// What was met on the way from a word to a number.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Way {
    /// Words that say nothing about it.
    pub(crate) others: usize,
    /// True where "is", a colon or an equals sign says that the value follows, or went before.
    pub(crate) said: bool,
    /// True where a line ended.
    pub(crate) line: bool,
    /// True past a small number, as in "user 2: 4417".
    pub(crate) counted: bool,
}

impl Way {
    /// Over a gap; `None` where nothing is tied across it.
    pub(crate) fn over(mut self, gap: Gap, may_end_line: bool) -> Option<Self> {
        match gap {
            Gap::Far => return None,
            Gap::Line if self.line || !may_end_line => return None,
            Gap::Line => self.line = true,
            Gap::None | Gap::Blank => {}
        }
        Some(self)
    }
}

/// Whether a value behind a word is a secret, and for certain.
pub(crate) fn judge_behind(items: &[Item<'_>], name: &Name, value: &Range<usize>, way: Way) -> Option<bool> {
    let (first, last_of_name) = (items.get(value.start)?, items.get(name.items.end - 1)?);
    let after = items.get(value.end).map_or("", |item| item.text.as_ref());
    let doubtful = is_year(first) && !way.said;
    let direct = way.others == 0;
    // In a node, one value says little about the next.
    let next_value = first.piece != last_of_name.piece && !way.said && !way.line && !name.key;
    let several = name.items.len() > 1;
    match name.weight {
        Weight::Personal if next_value && !several => None,
        Weight::Personal if direct => {
            let pin = name.first.starts_with("pin") && way.counted;
            Some((way.said || !(doubtful || way.line)) && !pin)
        }
        Weight::Personal if way.said => Some(!way.line),
        Weight::Personal => (!doubtful && !is_time(first)).then_some(false),
        Weight::Plain if direct => Some(!doubtful && !way.line && !next_value),
        Weight::Plain => (way.said || (way.others < 3 && !doubtful)).then_some(false),
        Weight::Vague => (direct && !doubtful).then_some(false),
        Weight::Role => {
            let near = direct || (way.others < 2 && name.first == "user");
            (near && !way.line && !doubtful && (way.said || !is_time(first))).then_some(false)
        }
        Weight::Thing => (direct && way.said && !way.line).then_some(false),
        Weight::Use => {
            let goes_on =
                matches!(after, "" | "." | "," | "#" | "and" | "at" | "into" | "on" | "then" | "to" | "twice");
            let typed = match name.first.as_str() {
                "type" if !several => goes_on && !after.is_empty(),
                "enter" | "press" => goes_on,
                _ => true,
            };
            // "disarm in 2020", but "disarm with 2020".
            let with =
                items.get(value.start - 1).is_some_and(|before| matches!(before.text.as_ref(), "with" | "using"));
            (direct && typed && !way.line && (with || !doubtful)).then_some(false)
        }
    }
}

/// Whether a value before a word is a secret, and for certain.
pub(crate) fn judge_before(items: &[Item<'_>], name: &Name, value: &Range<usize>, way: Way) -> Option<bool> {
    let first = items.get(value.start)?;
    let direct = way.others == 0;
    let doubtful = is_year(first) && !way.said;
    match name.weight {
        Weight::Personal | Weight::Plain if doubtful => None,
        Weight::Personal | Weight::Plain if direct => Some(way.said && !way.line),
        Weight::Personal => (!is_time(first)).then_some(false),
        Weight::Plain => way.said.then_some(false),
        Weight::Vague => (direct && way.said).then_some(false),
        Weight::Role => (direct && way.said && !way.line && !is_time(first)).then_some(false),
        Weight::Thing => None,
        Weight::Use => {
            let disarms = name.first.starts_with("disarm") || name.first.starts_with("unset");
            (direct && disarms && !doubtful && !is_time(first)).then_some(false)
        }
    }
}
