//! `loopwright list`: a table of the packet on the screen, whole or in part.
//!
//! The rows are those of the CSV beside the sheet, so that screen and paper cannot differ.

use std::fmt::Write;
use std::path::Path;

use clap::ValueEnum;
use unicode_width::UnicodeWidthStr;

use super::disk::DiskFiles;
use super::report;
use super::screen::Screen;
use super::{Exit, Stop, question};
use crate::base::wording::list;
use crate::diag::neutral::words;
use crate::diag::wrap;
use crate::diag::{Format, json};
use crate::session::{self, Table};

/// Between two columns.
const GAP: &str = "  ";

/// A column is not wider than this on a screen.
const WIDEST: usize = 30;

/// A table that can be listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Listed {
    /// Zones as the monitoring service has them
    Zones,
    /// Every state and fault of every loop: ohms, volts, what the board reads
    Loops,
    /// Cables with type, length, ends and way
    Cables,
    /// What each supply feeds, with current and volts
    Loads,
    /// Places along each data bus
    Buses,
    /// What is under every screw
    Terminals,
    /// What hangs where
    Things,
    /// Cables that go one way, and their holes
    Bundles,
    /// What is bought
    Materials,
    /// What that costs, where the spec has prices
    Costs,
    /// What was measured
    Readings,
}

impl Listed {
    /// The sheet whose table it is.
    pub(super) fn sheet(self) -> &'static str {
        match self {
            Self::Zones => "zone-descriptions",
            Self::Loops => "loop-sheet",
            Self::Cables => "wire-labels",
            Self::Loads => "power-sheet",
            Self::Buses => "bus-sheet",
            Self::Terminals => "terminal-schedule",
            Self::Things => "rough-in",
            Self::Bundles => "bundles",
            Self::Materials => "materials",
            Self::Costs => "costs",
            Self::Readings => "as-built",
        }
    }

    /// The columns that are asked for most, the first ones first: a narrow screen shows these.
    fn first(self) -> &'static [&'static str] {
        match self {
            Self::Zones => &["zone", "description", "event code", "area title", "meaning"],
            Self::Loops => &["zone", "state", "board reads", "ohms usual", "volts usual", "description"],
            Self::Cables => &["label", "near end", "far end", "length", "cable type", "ends at"],
            Self::Loads => &["device", "supply", "margin V", "idle", "alarm", "board", "min V"],
            Self::Buses => &[
                "board",
                "bus",
                "address",
                "position",
                "terminator",
                "idle V usual",
                "supply V battery alarm",
                "cable",
            ],
            Self::Terminals => &["terminal", "board", "cable", "conductor", "function", "goes to"],
            Self::Things => &["called", "room", "zone", "height", "cables", "box or hole"],
            Self::Bundles => &["from", "way", "hole", "bundle", "cables"],
            Self::Materials => &["what", "how many", "unit", "kind", "spare"],
            Self::Costs => &["what", "sum", "price each", "how many", "unit", "kind"],
            Self::Readings => &["what", "state", "measured", "expected", "verdict", "date"],
        }
    }
}

/// Which rows are printed.
struct Wanted<'a> {
    /// The column in which it stands; none for any.
    column: Option<usize>,
    /// In small letters.
    text: &'a str,
}

/// Prints the table, as CSV where that is asked for.
pub(super) fn run(
    screen: &mut Screen,
    listed: Listed,
    path: &Path,
    wanted: &[String],
    columns: &[String],
    csv: bool,
) -> Result<Exit, Stop> {
    let folder = question::one_site(path)?;
    let files = DiskFiles::open(&folder)?;
    let (outcome, table) = session::table(&files, listed.sheet());
    let Some(table) = table.filter(|_| !outcome.failed()) else {
        return report::unanswered(screen, folder, outcome);
    };
    print(screen, table, (wanted, columns), listed.first(), csv)?;
    Ok(Exit::Clean)
}

/// Prints the rows and columns of a table that are wanted; all of them where none is named.
pub(super) fn print(
    screen: &mut Screen,
    Table { columns: known, mut rows }: Table,
    (wanted, columns): (&[String], &[String]),
    first: &[&str],
    csv: bool,
) -> Result<(), Stop> {
    if csv && screen.format == Format::Json {
        return Err(Stop::new("--csv and --format json ask for two forms of one table").help("leave one of them out"));
    }
    let lower: Vec<String> = wanted.iter().map(|wanted| wanted.to_lowercase()).collect();
    let wanted = lower.iter().map(|wanted| parsed(wanted, &known)).collect::<Result<Vec<_>, _>>()?;
    rows.retain(|row| wanted.iter().all(|wanted| fits(wanted, row)));
    let table = chosen(Table { columns: known, rows }, columns)?;
    screen.print(&match screen.format {
        _ if csv => session::csv(&table),
        Format::Human(look) => aligned(&table, look.width, first),
        Format::Short => parted_by_tabs(&table),
        Format::Json => json::print(&objects(&table)),
    })
}

/// "board=panel": in that column; anything else: in some column.
fn parsed<'a>(wanted: &'a str, columns: &[&str]) -> Result<Wanted<'a>, Stop> {
    let Some((column, text)) = wanted.split_once('=') else { return Ok(Wanted { column: None, text: wanted }) };
    Ok(Wanted { column: Some(self::column(columns, column)?), text: text.trim() })
}

/// The place of a column.
fn column(columns: &[&str], name: &str) -> Result<usize, Stop> {
    let wanted = name.trim().to_lowercase();
    columns.iter().position(|known| known.to_lowercase() == wanted).ok_or_else(|| {
        Stop::new(format!("there is no column \"{name}\"")).help(format!("the columns are {}", quoted(columns)))
    })
}

/// `"label", "near end" and "far end"`.
fn quoted(columns: &[&str]) -> String {
    let quoted: Vec<String> = columns.iter().map(|column| format!("\"{column}\"")).collect();
    list(&quoted, "and")
}

/// A number stands for itself: "zone=1" is not zone 10, and "length=2 ft" is not 32 ft.
fn fits(wanted: &Wanted<'_>, row: &[String]) -> bool {
    let number = wanted.column.and_then(|_| measured(wanted.text));
    let has = |cell: &String| {
        let cell = cell.to_lowercase();
        match (number, measured(&cell)) {
            // "34" is the length "34 ft" too.
            (Some((wanted, unit)), Some((value, of))) => {
                wanted.total_cmp(&value).is_eq() && (unit.is_empty() || unit == of)
            }
            (Some((_, "")), None) => cell == wanted.text,
            (Some(_) | None, _) => cell.contains(wanted.text),
        }
    };
    match wanted.column {
        Some(column) => row.get(column).is_some_and(has),
        None => row.iter().any(has),
    }
}

/// A number and the unit behind it, which may be empty; `None` for all other words.
fn measured(text: &str) -> Option<(f64, &str)> {
    let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
    let is_number = number.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.') && !unit.contains([' ', ',', ';']);
    Some((number.parse().ok().filter(|_| is_number)?, unit))
}

/// Aligned columns, those left out that are empty in every row. On a screen that is too narrow those that say one thing in
/// every row are told below the table, and so are those for which there is no room: the columns of `first` have it first.
fn aligned(table: &Table, width: Option<usize>, first: &[&str]) -> String {
    let Table { columns, rows } = table;
    let rows: Vec<Vec<String>> = rows.iter().map(|row| row.iter().map(|cell| words(cell)).collect()).collect();
    let Fitted { shown, same, others } = fitted(columns, &rows, width, first);
    if shown.is_empty() {
        return "no rows\n".to_owned();
    }
    let heading: Vec<String> = columns.iter().map(|column| (*column).to_owned()).collect();
    let mut text = String::new();
    for row in std::iter::once(&heading).chain(&rows) {
        let cells: Vec<String> = shown.iter().map(|(at, width)| padded(cell(row, *at), *width)).collect();
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{}", cells.join(GAP).trim_end());
    }
    let first = |at: &usize| {
        let (column, cell) =
            (columns.get(*at).copied().unwrap_or_default(), rows.first().map_or("", |row| cell(row, *at)));
        format!("{column}: {cell}")
    };
    let others: Vec<&str> = others.iter().filter_map(|at| columns.get(*at).copied()).collect();
    let below = [
        (!same.is_empty()).then(|| format!("in every row: {}", same.iter().map(first).collect::<Vec<_>>().join("; "))),
        (!others.is_empty())
            .then(|| format!("no room for {}: --columns chooses, separated by commas", quoted(&others))),
    ];
    for told in below.into_iter().flatten() {
        let told = format!("\n{told}\n");
        text.push_str(&width.map_or(told.clone(), |width| wrap::fit(&told, width)));
    }
    text
}

/// Which columns a screen has room for.
struct Fitted {
    /// Those shown, each with its width.
    shown: Vec<(usize, usize)>,
    /// Those that say one thing in every row.
    same: Vec<usize>,
    /// Those for which there is no room.
    others: Vec<usize>,
}

/// The columns that fit: those of `first`, in that order, before the others.
fn fitted(columns: &[&str], rows: &[Vec<String>], width: Option<usize>, first: &[&str]) -> Fitted {
    let widest = |at: usize| rows.iter().map(|row| cell(row, at).width()).max().unwrap_or(0);
    let wants = |at: usize| widest(at).max(columns.get(at).map_or(0, |column| column.width()));
    let filled: Vec<usize> = (0..columns.len()).filter(|at| widest(*at) > 0).collect();
    let Some(width) = width else {
        return Fitted {
            shown: filled.into_iter().map(|at| (at, wants(at))).collect(),
            same: Vec::new(),
            others: Vec::new(),
        };
    };
    let taken_at = |columns: &[usize], widest: usize| {
        let all = columns.iter().map(|at| wants(*at).min(widest).min(width) + GAP.len()).sum::<usize>();
        all.saturating_sub(GAP.len())
    };
    let too_wide = taken_at(&filled, WIDEST) > width;
    // What names the row stays.
    let is_same = |at: &usize| {
        columns.get(*at) != first.first()
            && rows.len() > 1
            && rows.windows(2).all(|pair| matches!(pair, [one, other] if cell(one, *at) == cell(other, *at)))
    };
    let (same, told): (Vec<usize>, Vec<usize>) = filled.iter().partition(|at| too_wide && is_same(at));
    // Those that are asked for most, then the others in their order.
    let rank = |at: &usize| columns.get(*at).and_then(|column| first.iter().position(|one| one == column));
    let place = |at: &usize| (rank(at).unwrap_or(usize::MAX), *at);
    let repeats = |at: &usize| {
        let before = told.iter().filter(|other| place(other) < place(at));
        let alike = |other: &usize| rows.iter().all(|row| cell(row, *other) == cell(row, *at));
        too_wide && before.into_iter().any(alike)
    };
    let (repeated, told): (Vec<usize>, Vec<usize>) = told.iter().partition(|at| repeats(at));
    let (mut ranked, rest): (Vec<usize>, Vec<usize>) = told.iter().partition(|at| rank(at).is_some());
    ranked.sort_by_key(rank);
    // Their cells are cut before one of them is left out.
    let cap = [WIDEST, WIDEST * 2 / 3].into_iter().find(|widest| taken_at(&ranked, *widest) <= width);
    let cap = cap.unwrap_or(WIDEST / 2);
    // What tells the rows of one name apart is cut the last.
    let own = |at: usize| wants(at).min(if rank(&at) == Some(1) { WIDEST } else { cap }).min(width);
    let taken =
        |columns: &[usize]| columns.iter().map(|at| own(*at) + GAP.len()).sum::<usize>().saturating_sub(GAP.len());
    let mut shown: Vec<usize> = Vec::new();
    for at in ranked.into_iter().chain(rest) {
        if shown.is_empty() || taken(&[shown.as_slice(), &[at]].concat()) <= width {
            shown.push(at);
        }
    }
    shown.sort_unstable();
    let mut others: Vec<usize> = told.iter().chain(&repeated).copied().filter(|at| !shown.contains(at)).collect();
    others.sort_unstable();
    // What room is left goes to the columns that would be cut.
    let mut left = width.saturating_sub(taken(&shown));
    let grown = shown.into_iter().map(|at| {
        let more = wants(at).saturating_sub(own(at)).min(left);
        left -= more;
        (at, own(at) + more)
    });
    Fitted { shown: grown.collect(), same, others }
}

fn cell(row: &[String], at: usize) -> &str {
    row.get(at).map_or("", String::as_str)
}

/// The table with these columns alone, in this order.
fn chosen(table: Table, names: &[String]) -> Result<Table, Stop> {
    if names.is_empty() {
        return Ok(table);
    }
    let at = names.iter().map(|name| column(&table.columns, name)).collect::<Result<Vec<usize>, _>>()?;
    let columns = at.iter().filter_map(|at| table.columns.get(*at).copied()).collect();
    let row = |row: &Vec<String>| at.iter().map(|at| row.get(*at).cloned().unwrap_or_default()).collect();
    Ok(Table { columns, rows: table.rows.iter().map(row).collect() })
}

/// Text in so many columns, cut with a mark or filled with blanks.
fn padded(text: &str, width: usize) -> String {
    let mut cut = text.to_owned();
    if cut.width() > width {
        while cut.width() >= width && cut.pop().is_some() {}
        cut.truncate(cut.trim_end().len());
        cut.push('…');
    }
    let blanks = width.saturating_sub(cut.width());
    cut + &" ".repeat(blanks)
}

fn parted_by_tabs(table: &Table) -> String {
    let heading: Vec<String> = table.columns.iter().map(|column| (*column).to_owned()).collect();
    let line = |row: &Vec<String>| row.iter().map(|cell| words(cell)).collect::<Vec<_>>().join("\t") + "\n";
    std::iter::once(&heading).chain(&table.rows).map(line).collect()
}

/// A row as an object, its columns by their names.
fn objects(table: &Table) -> Vec<serde_json::Map<String, serde_json::Value>> {
    let object = |row: &Vec<String>| {
        let pairs = table.columns.iter().zip(row);
        pairs.map(|(column, cell)| ((*column).to_owned(), serde_json::Value::from(cell.as_str()))).collect()
    };
    table.rows.iter().map(object).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> Table {
        let row = |cells: [&str; 3]| cells.map(str::to_owned).to_vec();
        Table {
            columns: vec!["zone", "what", "empty"],
            rows: vec![row(["1", "Küche 扉", ""]), row(["10", "Hall", ""])],
        }
    }

    #[test]
    fn columns_are_aligned_and_those_told_for_which_there_is_no_room() {
        assert_eq!(aligned(&table(), None, &[]), "zone  what\n1     Küche 扉\n10    Hall\n");
        let narrow = aligned(&table(), Some(12), &[]);
        assert!(narrow.starts_with("zone\n1\n10\n\nno room for\n"), "{narrow}");
        assert!(narrow.contains("\"what\"") && !narrow.contains("empty"), "{narrow}");
        let one = chosen(table(), &["What".to_owned()]).unwrap();
        assert_eq!(aligned(&one, Some(7), &[]), "what\nKüche…\nHall\n");
        assert!(chosen(table(), &["colour".to_owned()]).is_err());
    }

    #[test]
    fn what_tells_rows_apart_has_room_before_what_is_the_same() {
        let row = |state: &str| ["7", "Garden door, kitchen", "Panel", "I7", state].map(str::to_owned).to_vec();
        let columns = vec!["zone", "description", "board", "terminal", "state"];
        let table = Table { columns, rows: vec![row("at rest"), row("open")] };
        let narrow = aligned(&table, Some(30), &["zone", "state"]);
        assert_eq!(narrow.lines().take(3).collect::<Vec<_>>(), ["zone  state", "7     at rest", "7     open"]);
        assert!(narrow.contains("in every row: description:"), "{narrow}");
        // Of two columns that say the same, the one that is asked for more is shown.
        let row = |text: &str| ["1", text, text, "a rather long text"].map(str::to_owned).to_vec();
        let columns = vec!["zone", "text on the form", "text", "more"];
        let twice = aligned(&Table { columns, rows: vec![row("Hall"), row("Attic")] }, Some(24), &["zone", "text"]);
        assert!(twice.starts_with("zone  text\n1     Hall"), "{twice}");
        // A cell is cut for the sake of another only.
        let long = Table { columns: vec!["what"], rows: vec![vec!["word ".repeat(12)]] };
        assert!(!aligned(&long, Some(80), &[]).contains('…'), "{}", aligned(&long, Some(80), &[]));
    }

    #[test]
    fn a_number_is_that_number_and_text_is_part_of_a_cell() {
        let rows = |wanted: &str| {
            let wanted = parsed(wanted, &["zone", "what", "empty"]).unwrap();
            table().rows.iter().filter(|row| fits(&wanted, row)).count()
        };
        assert_eq!([rows("zone=1"), rows("1"), rows("what=ha"), rows("hall"), rows("garden")], [1, 2, 1, 1, 0]);
        assert!(parsed("colour=red", &["zone"]).is_err());
    }
}
