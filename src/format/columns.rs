//! Columns: comments at the ends of neighbouring lines, and tables that somebody has made of neighbouring nodes.
//!
//! Comments at the ends of lines that follow each other stand in one column: that in which they stood, or else the first
//! that has room for all. Entries of nodes of one name that follow each other line by line stay in columns where they
//! stood in columns, by their starts or, for numbers, by their ends; a node that was added to such a table is fitted in.
//! Whatever is decided here must be decided again for the result.

use std::collections::BTreeMap;
use std::ops::Range;

use super::line::{Cell, Line};

/// By how much the lengths of lines may differ for their comments to be brought into one column.
const MOST_DIFFERENT: usize = 24;

/// How many columns a table has at most.
const MOST_COLUMNS: usize = 32;

/// Sets the gaps of cells and comments.
pub(super) fn align(lines: &mut [Line]) {
    for block in blocks(lines, |before, line| {
        line.entries > 1 && name(before) == name(line) && before.depth == line.depth && !line.ragged && !before.ragged
    }) {
        table(lines.get_mut(block).unwrap_or_default());
    }
    for block in blocks(lines, |before, line| {
        let plain = |line: &Line| line.comment.is_some() && !line.ragged && !line.opens();
        plain(before) && plain(line) && before.depth == line.depth
    }) {
        comments(lines.get_mut(block).unwrap_or_default());
    }
}

/// Runs of two lines or more, no blank line between, each of which goes with the one before.
fn blocks(lines: &[Line], together: impl Fn(&Line, &Line) -> bool) -> Vec<Range<usize>> {
    let mut blocks: Vec<Range<usize>> = Vec::new();
    for (at, pair) in lines.windows(2).enumerate() {
        let [before, line] = pair else { continue };
        if line.apart || !together(before, line) {
            continue;
        }
        match blocks.last_mut().filter(|last| last.end == at + 1) {
            Some(last) => last.end = at + 2,
            None => blocks.push(at..at + 2),
        }
    }
    blocks
}

fn name(line: &Line) -> Option<&str> {
    line.cells.first().filter(|_| line.entries > 0).map(|cell| cell.text.as_str())
}

/// A line that has a cell in the column that is looked at.
struct Row<'a> {
    line: &'a mut Line,
    /// The columns that the cells before it take.
    before: usize,
}

/// How a column is aligned.
#[derive(Clone, Copy)]
enum Side {
    Start,
    End,
}

/// Aligns the columns of a table, as far as the same thing stands in each line.
fn table(lines: &mut [Line]) {
    let most = lines.iter().map(|line| line.entries).max().unwrap_or_default();
    for nth in 1..most.min(MOST_COLUMNS) {
        let mut rows: Vec<Row> = lines
            .iter_mut()
            .filter(|line| nth < line.entries)
            .map(|line| Row { before: line.width_of(nth), line })
            .collect();
        let keys = |row: &Row| {
            row.line.cells.get(nth).map(|cell| cell.key.and_then(|end| cell.text.get(..end)).map(str::to_owned))
        };
        if rows.windows(2).any(|pair| matches!(pair, [one, other] if keys(one) != keys(other))) {
            return;
        }
        let Some(side) = side(&rows, nth) else { continue };
        let reach = |row: &Row| row.before + row.cell(nth).map_or(0, |cell| side.part(cell.width));
        let furthest = rows.iter().map(reach).max().unwrap_or_default();
        for row in &mut rows {
            let gap = 1 + furthest - reach(row);
            if let Some(cell) = row.line.cells.get_mut(nth) {
                cell.gap = gap;
            }
        }
    }
}

impl Side {
    /// What of a width counts for the alignment.
    fn part(self, width: usize) -> usize {
        match self {
            Self::Start => 0,
            Self::End => width,
        }
    }
}

impl Row<'_> {
    fn cell(&self, nth: usize) -> Option<&Cell> {
        self.line.cells.get(nth)
    }
}

/// Where a cell is, and was.
struct Place {
    /// The columns up to the side that is looked at, if it is not moved.
    reach: usize,
    /// The column of that side in the old text.
    was: Option<usize>,
    /// True where more than one space was made before it.
    made: bool,
}

/// By which side the cells of a column stood in line: all of them, or at least half of those that had to be moved for it.
fn side(rows: &[Row], nth: usize) -> Option<Side> {
    let number = |cell: &Cell| cell.text.get(cell.key.map_or(0, |key| key + 1)..).is_some_and(is_number);
    let numbers = rows.iter().filter_map(|row| row.cell(nth)).all(number);
    let sides: &[Side] = if numbers { &[Side::Start, Side::End] } else { &[Side::Start] };
    let places = |side: Side| -> Vec<Place> {
        let place = |row: &Row| {
            let cell = row.cell(nth)?;
            let part = side.part(cell.width);
            let made = cell.was_apart > 1;
            Some(Place { reach: row.before + part, was: cell.was_at.map(|at| at + part), made })
        };
        rows.iter().filter_map(place).collect()
    };
    let all = |side: &&Side| {
        let places = places(**side);
        let (reach, was) = places.first().map(|place| (place.reach, place.was)).unwrap_or_default();
        was.is_some()
            && places.iter().all(|place| place.was == was)
            && places.iter().any(|place| place.reach != reach)
            && places.iter().any(|place| place.made)
    };
    let many = |side: &&Side| {
        let places = places(**side);
        let furthest = places.iter().map(|place| place.reach).max().unwrap_or_default();
        let moved: Vec<&Place> = places.iter().filter(|place| place.reach < furthest).collect();
        let made = moved.iter().filter(|place| place.made).filter_map(|place| place.was);
        !moved.is_empty() && most_common(made).is_some_and(|(_, times)| 2 * times >= moved.len())
    };
    sides.iter().find(all).or_else(|| sides.iter().find(many)).copied()
}

/// A value with or without its unit.
fn is_number(value: &str) -> bool {
    let number = value.strip_prefix('(').and_then(|rest| rest.split_once(')')).map_or(value, |(_, number)| number);
    number.trim_start_matches(['-', '+']).starts_with(|c: char| c.is_ascii_digit())
}

/// The value that comes most often, the largest of them, and how often it comes.
fn most_common(values: impl Iterator<Item = usize>) -> Option<(usize, usize)> {
    let mut times: BTreeMap<usize, usize> = BTreeMap::new();
    values.for_each(|value| *times.entry(value).or_default() += 1);
    times.into_iter().max_by_key(|(value, times)| (*times, *value))
}

/// Brings the comments of neighbouring lines into one column.
fn comments(lines: &mut [Line]) {
    let widths = lines.iter().map(Line::width);
    let (shortest, longest) = (widths.clone().min().unwrap_or_default(), widths.max().unwrap_or_default());
    let places = || {
        lines.iter().filter_map(|line| line.comment.as_ref()).filter_map(|cell| Some((cell.was_at?, cell.was_apart)))
    };
    let common = most_common(places().map(|(was, _)| was)).filter(|(column, times)| {
        let made = places().any(|(was, apart)| was == *column && apart > 1);
        made && *column > longest && 2 * times > lines.len()
    });
    let column = match common {
        Some((column, _)) => column,
        None if longest - shortest <= MOST_DIFFERENT => longest + 1,
        None => return,
    };
    for line in lines {
        let width = line.width();
        if let Some(comment) = &mut line.comment {
            comment.gap = column - width;
        }
    }
}
