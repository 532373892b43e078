//! What is not broken across lines: a value and its unit, a label, a short cell of a table.

use std::collections::VecDeque;

use pulldown_cmark::{CowStr, Event, Tag, TagEnd};

use crate::quantity::unit::is_unit_of;

/// A table cell of at most this many characters is never broken: marks, labels and codes. Neither is a label.
const UNBROKEN: usize = 18;

/// Keeps a number and its unit on one line: the blank between them becomes one that does not break.
pub(super) fn tie_units(events: &mut [Event<'_>]) {
    for event in events {
        if let Event::Text(text) = event
            && text.contains(' ')
        {
            let mut tied = String::with_capacity(text.len());
            for word in text.split_inclusive(' ') {
                if tied.ends_with(' ') && is_unit_of(word, tied.trim_end_matches(' ')) {
                    tied.pop();
                    tied.push('\u{a0}');
                }
                tied.push_str(word);
            }
            *text = tied.into();
        }
    }
}

/// Marks what looks like a label with a hyphen in it: `SUPPLY-UP-1` is one word, and half of it may be another cable's label.
pub(super) fn labels<'m>(events: impl Iterator<Item = Event<'m>>) -> impl Iterator<Item = Event<'m>> {
    events.flat_map(|event| match event {
        Event::Text(text) if text.contains('-') => marked(&text),
        other => vec![other],
    })
}

fn marked<'m>(text: &str) -> Vec<Event<'m>> {
    let piece = |text: &str| Event::Text(CowStr::from(text.to_owned()));
    let (mut events, mut plain) = (Vec::new(), String::new());
    for word in text.split_inclusive(|c: char| !is_of_label(c)) {
        let label = word.trim_end_matches(|c: char| !is_of_label(c));
        if is_label(label) {
            if !plain.is_empty() {
                events.push(piece(&std::mem::take(&mut plain)));
            }
            events.extend([
                Event::InlineHtml("<span class=\"word\">".into()),
                piece(label),
                Event::InlineHtml("</span>".into()),
            ]);
            plain.push_str(word.get(label.len()..).unwrap_or_default());
        } else {
            plain.push_str(word);
        }
    }
    if !plain.is_empty() {
        events.push(piece(&plain));
    }
    events
}

fn is_of_label(c: char) -> bool {
    c.is_alphanumeric() || c == '-'
}

fn is_label(word: &str) -> bool {
    word.trim_matches('-').contains('-')
        && word.chars().count() <= UNBROKEN
        && !word.chars().any(|c| c.is_alphabetic() && !c.is_uppercase())
}

/// Marks the text of short table cells so that the style keeps it on one line. Event by event: those of a large house are many.
pub(super) fn short_cells<'m>(mut events: impl Iterator<Item = Event<'m>>) -> impl Iterator<Item = Event<'m>> {
    let mut next: VecDeque<Event<'m>> = VecDeque::new();
    std::iter::from_fn(move || {
        if next.is_empty() {
            let first = events.next()?;
            if first == Event::Start(Tag::TableCell) {
                let end = Event::End(TagEnd::TableCell);
                next.extend(events.by_ref().take_while(|event| *event != end));
                let length: usize =
                    next.iter().map(|e| if let Event::Text(text) = e { text.chars().count() } else { 0 }).sum();
                if (1..=UNBROKEN).contains(&length) {
                    next.push_front(Event::InlineHtml("<span class=\"whole\">".into()));
                    next.push_back(Event::InlineHtml("</span>".into()));
                }
                next.push_back(end);
            }
            next.push_front(first);
        }
        next.pop_front()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_is_one_word() {
        let html = |text: &'static str| {
            let mut html = String::new();
            pulldown_cmark::html::push_html(&mut html, labels([Event::Text(text.into())].into_iter()));
            html
        };
        assert_eq!(html("with Z6-2, on"), "with <span class=\"word\">Z6-2</span>, on");
        assert_eq!(
            html("SUPPLY-UP-1;2027-03-14"),
            "<span class=\"word\">SUPPLY-UP-1</span>;<span class=\"word\">2027-03-14</span>"
        );
        for other in ["a four-wire end-of-line 4-wire", "- A - B -", "9-", "-3 V", "THE-LONGEST-OF-ALL-LABELS-1"] {
            assert_eq!(html(other), other);
        }
    }
}
