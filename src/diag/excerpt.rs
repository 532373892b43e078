//! The lines of one file that a diagnostic points at, prepared for miette's drawing.
//!
//! An excerpt holds only the lines around the labels, with control characters replaced, with lines that are wider than
//! the terminal cut around the label, and with what the labels say broken into lines. It gives the labels' places in
//! that text. It stands in for miette's own source, which scans the file from
//! its start for every label: with the line index of [`SourceFile`] the cost follows the lines shown, not the file.

use std::collections::BTreeSet;

use miette::{LabeledSpan, MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use super::Label;
use super::neutral::{shown, source_character, words};
use super::wrap::wrap;
use crate::base::SourceFile;

/// Lines shown before and after a label.
pub(super) const CONTEXT: usize = 1;
/// A line wider than this is cut even where there is no terminal that it would have to fit.
const LONG: usize = 300;
/// The columns of a tab, as miette draws it.
const TAB: usize = 4;
/// The columns between a label's middle and its words.
const LEAD: usize = 4;
/// What a label says gets at least so many columns, if need be beyond the edge.
const LEAST_WORDS: usize = 16;
/// A label over more lines than this is drawn at its first line only.
const MOST_LINES: usize = 6;
/// What marks a cut.
const CUT: char = '…';

/// See the module's head.
#[derive(Debug)]
pub(super) struct Excerpt {
    name: String,
    text: String,
    lines: Vec<Line>,
    labels: Vec<Drawn>,
}

/// One line of the excerpt.
#[derive(Debug)]
struct Line {
    /// Its number in the file, from 0.
    number: usize,
    /// The bytes of the file that are shown.
    from: usize,
    to: usize,
    /// True where something was cut off in front.
    cut: bool,
    /// The bytes in the excerpt, line end included.
    start: usize,
    end: usize,
}

/// A label at its place in the excerpt.
#[derive(Debug)]
struct Drawn {
    start: usize,
    end: usize,
    /// Column in the file, in characters from 0.
    column: usize,
    text: Option<String>,
    primary: bool,
}

/// A label at its place in the file: on character borders, without the line end that it may have run into.
struct Place {
    start: usize,
    end: usize,
    first: usize,
    last: usize,
}

impl Excerpt {
    /// Takes the lines around `labels` out of `file`, for a terminal of so many columns; the first label is drawn as
    /// the place itself where `primary`.
    pub(super) fn new(file: &SourceFile, labels: &[&Label], primary: bool, columns: Option<usize>) -> Self {
        let places: Vec<Place> = labels.iter().map(|label| place(file, label)).collect();
        let mut excerpt = Self { name: shown(&file.path), text: String::new(), lines: Vec::new(), labels: Vec::new() };
        let numbers = line_numbers(file, &places);
        let room = columns.map_or(LONG, |columns| columns.saturating_sub(gutter(&numbers, &places)));
        for number in numbers {
            let labelled = |(_, place): &(_, &Place)| (place.first..=place.last).contains(&number);
            let focus = labels.iter().zip(&places).find(labelled);
            excerpt.take_line(file, number, room, focus.map(|(label, place)| (place.start, label.text.width())));
        }
        for (index, (label, place)) in labels.iter().zip(&places).enumerate() {
            let (_, column) = file.line_column(place.start);
            let start = excerpt.start_in(file, place);
            let end = excerpt.end_in(file, place).max(start);
            let text = words(&label.text);
            let text = columns.map_or_else(|| text.clone(), |_| wrap(&text, "", excerpt.words_room(start, end, room)));
            excerpt.labels.push(Drawn {
                start,
                end,
                column: column - 1,
                text: (!text.is_empty()).then(|| text.trim_end().to_owned()),
                primary: primary && index == 0,
            });
        }
        excerpt
    }

    /// The columns left for what a label says, behind its middle.
    fn words_room(&self, start: usize, end: usize, room: usize) -> usize {
        let before = |at: usize| {
            let line = self.lines.get(self.line_at(at)).map_or(0, |line| line.start);
            columns(self.text.get(line..at).unwrap_or_default(), room)
        };
        let middle =
            if self.line_at(start) == self.line_at(end) { usize::midpoint(before(start), before(end)) } else { 0 };
        room.saturating_sub(middle + LEAD).max(LEAST_WORDS)
    }

    /// The labels for miette.
    pub(super) fn labels(&self) -> impl Iterator<Item = LabeledSpan> + '_ {
        self.labels.iter().map(|label| {
            let span = (label.start, label.end - label.start);
            let make = if label.primary { LabeledSpan::new_primary_with_span } else { LabeledSpan::new_with_span };
            make(label.text.clone(), span)
        })
    }

    /// Takes a line, or what of it fits into `room`. The focus is the start of its label, and how wide its words are.
    fn take_line(&mut self, file: &SourceFile, number: usize, room: usize, focus: Option<(usize, usize)>) {
        let (from, to) = content(file, number);
        let (mut shown_from, mut shown_to) = (from, to);
        let (focus, words) = focus.map_or((from, 0), |(start, words)| (start.clamp(from, to), words));
        // A line may be the whole file: nothing is measured beyond the room.
        let before = columns(file.slice(from, focus), room);
        let is_wide = columns(file.slice(from, to), room) > room;
        if is_wide && before > room / 2 || before + LEAD + words.min(LEAST_WORDS) > room {
            shown_from = focus - within(file.slice(from, focus).chars().rev(), room / 3);
        }
        // Two columns for the marks of a cut on either side.
        if columns(file.slice(shown_from, to), room) + usize::from(shown_from > from) > room {
            shown_to = shown_from + within(file.slice(shown_from, to).chars(), room.saturating_sub(2));
        }
        let start = self.text.len();
        if shown_from > from {
            self.text.push(CUT);
        }
        self.text.extend(file.slice(shown_from, shown_to).chars().map(source_character));
        if shown_to < to {
            self.text.push(CUT);
        }
        // Every line gets an end, also the last of the file: an empty label there then stands on a character.
        self.text.push('\n');
        let end = self.text.len();
        self.lines.push(Line { number, from: shown_from, to: shown_to, cut: shown_from > from, start, end });
    }

    fn start_in(&self, file: &SourceFile, place: &Place) -> usize {
        self.line(place.first).map_or(0, |line| {
            if place.start < line.from { line.start } else { line.offset(file, place.start.min(line.to)) }
        })
    }

    fn end_in(&self, file: &SourceFile, place: &Place) -> usize {
        self.line(place.last).map_or(0, |line| {
            if place.end > line.to { line.end - 1 } else { line.offset(file, place.end.max(line.from)) }
        })
    }

    fn line(&self, number: usize) -> Option<&Line> {
        self.lines.binary_search_by_key(&number, |line| line.number).ok().and_then(|index| self.lines.get(index))
    }

    /// Rank of the line that holds a byte of the excerpt.
    fn line_at(&self, offset: usize) -> usize {
        self.lines.partition_point(|line| line.end <= offset).min(self.lines.len().saturating_sub(1))
    }
}

impl Line {
    /// Where a shown byte of the file stands in the excerpt.
    fn offset(&self, file: &SourceFile, byte: usize) -> usize {
        let lead = if self.cut { CUT.len_utf8() } else { 0 };
        let before: usize = file.slice(self.from, byte).chars().map(|c| source_character(c).len_utf8()).sum();
        self.start + lead + before
    }
}

/// The columns in front of the source: a blank, the number, a blank, the line, a blank, and one for each label that
/// goes over several lines.
fn gutter(numbers: &BTreeSet<usize>, places: &[Place]) -> usize {
    let digits = numbers.last().map_or(1, |number| (number + 1).to_string().len());
    let arms = places.iter().filter(|place| place.last > place.first).count();
    digits + 4 + if arms > 0 { arms + 3 } else { 0 }
}

/// The columns of a text; of one that is wider than `room`, some number above it.
fn columns(text: &str, room: usize) -> usize {
    let mut used = 0;
    for character in text.chars() {
        used += width_of(character);
        if used > room {
            break;
        }
    }
    used
}

fn width_of(character: char) -> usize {
    if character == '\t' { TAB } else { source_character(character).width().unwrap_or(1) }
}

/// The bytes of as many characters as fit into some columns.
fn within(characters: impl Iterator<Item = char>, room: usize) -> usize {
    let mut used = 0;
    let fits = |character: &char| {
        used += width_of(*character);
        used <= room
    };
    characters.take_while(fits).map(char::len_utf8).sum()
}

fn place(file: &SourceFile, label: &Label) -> Place {
    let text = &file.text;
    let start = text.floor_char_boundary(label.span.start);
    let covered = file.slice(start, text.ceil_char_boundary(label.span.end));
    let end = start + covered.trim_end_matches(['\n', '\r']).len();
    let first = file.line_of(start);
    let last = if end > start { file.line_of(end - 1) } else { first };
    if last - first < MOST_LINES {
        Place { start, end, first, last }
    } else {
        Place { start, end: content(file, first).1.max(start), first, last: first }
    }
}

/// The bytes of a line without its end, which may be a line feed or both characters.
fn content(file: &SourceFile, number: usize) -> (usize, usize) {
    let start = file.line_start(number);
    let line = file.slice(start, file.line_start(number + 1));
    let line = line.strip_suffix('\n').unwrap_or(line);
    (start, start + line.strip_suffix('\r').unwrap_or(line).len())
}

fn line_numbers(file: &SourceFile, places: &[Place]) -> BTreeSet<usize> {
    // What follows the last line end is a line only where a label stands on it.
    let count = file.line_count();
    let full = if file.line_start(count - 1) == file.text.len() { count - 1 } else { count };
    places
        .iter()
        .flat_map(|place| {
            let after = (place.last + 1..=place.last + CONTEXT).filter(|number| *number < full);
            (place.first.saturating_sub(CONTEXT)..=place.last).chain(after)
        })
        .collect()
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let (mut first, mut last) = (self.line_at(span.offset()), self.line_at(span.offset() + span.len()));
        let number = |rank: usize| self.lines.get(rank).map(|line| line.number);
        for _ in 0..before {
            if first > 0 && number(first - 1).map(|n| n + 1) == number(first) {
                first -= 1;
            }
        }
        for _ in 0..after {
            if number(last + 1).is_some_and(|next| Some(next) == number(last).map(|n| n + 1)) {
                last += 1;
            }
        }
        let (Some(from), Some(to)) = (self.lines.get(first), self.lines.get(last)) else {
            return Err(MietteError::OutOfBounds);
        };
        // miette asks without context for the place in the heading, and with it for the lines to draw.
        let label = self.labels.iter().find(|label| label.start == span.offset());
        let column = if before == 0 { label.map_or(0, |label| label.column) } else { 0 };
        let data = self.text.get(from.start..to.end).unwrap_or_default();
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            data.as_bytes(),
            (from.start, data.len()).into(),
            from.number,
            column,
            last - first + 1,
        )))
    }
}
