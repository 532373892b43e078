//! What stands in a box, row by row.

use super::{Board, Bundle, Label, Room};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Link, Scene};
use crate::draw::text::{height, width, wrap};

/// Between the outline of a box and its text.
const PAD: f64 = 1.0;
/// Where text stands behind a short piece of cable, and where that ends.
const INDENT: f64 = 5.5;
const PIECE: f64 = 4.5;
/// Between two labels.
const APART: f64 = 1.8;
/// Half the width of an arrow's head.
const HEAD: f64 = 0.9;
/// Rows of one box; what has more goes on in a further box.
const MOST_ROWS: usize = 16;

/// A box.
#[derive(Clone, Debug)]
pub(crate) struct Cell<'r> {
    outline: Role,
    rows: Vec<Row<'r>>,
    link: Option<&'r Link>,
}

/// A label with its place from the left.
type Placed<'r> = (f64, String, Option<&'r Link>);

/// A row of it.
#[derive(Clone, Debug)]
enum Row<'r> {
    /// Number and letter of a board.
    Head(&'r str, &'r str),
    /// Words of some role.
    Words(Role, String),
    /// Behind a short piece of cable: from where, how many of which type, and labels.
    Cables(Role, String, Vec<Placed<'r>>),
    /// More of that.
    More(String, Vec<Placed<'r>>),
    /// Behind an arrow: a way out.
    Exit(String),
}

impl<'r> Cell<'r> {
    /// The boxes of a board: its own, and further ones where not all has room in that.
    pub(crate) fn of_board(board: &'r Board, box_width: f64) -> Vec<Self> {
        let inner = box_width - 2.0 * PAD;
        let mut rows = vec![Row::Head(&board.number, &board.letter)];
        rows.extend(words(Role::Label, &board.title, inner, 4));
        rows.extend(words(Role::Place, &board.room, inner, 2));
        rows.extend(board.lines.iter().flat_map(|line| words(Role::Label, line, inner, 4)));
        rows.extend(board.ends.iter().flat_map(|bundle| of_bundle(bundle, inner)));
        split(board.kind.role(), rows, &board.title, inner, board.link.as_ref())
    }

    /// The boxes of a room.
    pub(crate) fn of_room(room: &'r Room, box_width: f64) -> Vec<Self> {
        let inner = box_width - 2.0 * PAD;
        let mut rows: Vec<Row> = words(Role::Place, &room.title, inner, 3).collect();
        rows.extend(room.ends.iter().flat_map(|bundle| of_bundle(bundle, inner)));
        for exit in &room.exits {
            let lines = wrap(exit, Role::Label.style().text, inner - INDENT, 6).into_iter();
            rows.extend(
                lines.enumerate().map(|(at, line)| if at == 0 { Row::Exit(line) } else { Row::More(line, Vec::new()) }),
            );
        }
        split(Role::Room, rows, &room.title, inner, None)
    }

    /// How high its box must be.
    pub(crate) fn height(&self) -> f64 {
        self.rows.iter().map(Row::height).sum::<f64>() + 2.0 * PAD
    }

    /// Adds it with its upper left corner at a place.
    pub(crate) fn add(&self, scene: &mut Scene, (left, top): (f64, f64), box_width: f64) {
        scene.rectangle(self.outline, (left, top), (box_width, self.height()));
        let mut y = top + PAD;
        for row in &self.rows {
            row.add(scene, (left + PAD, y), left + box_width - PAD, self.link);
            y += row.height();
        }
    }
}

/// Rows in boxes of at most so many; a further box says whose it is.
fn split<'r>(outline: Role, rows: Vec<Row<'r>>, title: &str, inner: f64, link: Option<&'r Link>) -> Vec<Cell<'r>> {
    let mut rows = rows.into_iter().peekable();
    let mut cells = vec![Cell { outline, rows: rows.by_ref().take(MOST_ROWS).collect(), link }];
    while rows.peek().is_some() {
        let head = words(Role::Place, &format!("{title}, further"), inner, 2);
        let rows = head.chain(rows.by_ref().take(MOST_ROWS)).collect();
        cells.push(Cell { outline: Role::Room, rows, link: None });
    }
    cells
}

fn words<'r>(role: Role, text: &str, inner: f64, most: usize) -> impl Iterator<Item = Row<'r>> + use<'r> {
    wrap(text, role.style().text, inner, most).into_iter().map(move |line| Row::Words(role, line))
}

fn of_bundle(bundle: &Bundle, inner: f64) -> Vec<Row<'_>> {
    let size = Role::Label.style().text;
    let role = if bundle.idle { Role::Idle } else { Role::Cable };
    let lines = wrap(&bundle.words, size, inner - INDENT, 4);
    // The first labels stand behind the words, where these leave room.
    let mut x = INDENT + lines.last().map_or(0.0, |line| width(line, size) + APART);
    let mut rows: Vec<(String, Vec<Placed<'_>>)> = lines.into_iter().map(|line| (line, Vec::new())).collect();
    for Label { text, link } in &bundle.labels {
        let text: String = wrap(text, size, inner - INDENT, 1).concat();
        let reach = width(&text, size);
        if rows.is_empty() || (x > INDENT && x + reach > inner) {
            rows.push(Default::default());
            x = INDENT;
        }
        rows.last_mut().into_iter().for_each(|(_, labels)| labels.push((x, text.clone(), link.as_ref())));
        x += reach + APART;
    }
    let row = |(at, (line, labels))| if at == 0 { Row::Cables(role, line, labels) } else { Row::More(line, labels) };
    rows.into_iter().enumerate().map(row).collect()
}

impl Row<'_> {
    fn height(&self) -> f64 {
        match self {
            Self::Head(number, letter) if number.is_empty() && letter.is_empty() => 0.0,
            Self::Head(..) => height(1, Role::Heading),
            Self::Words(..) | Self::Cables(..) | Self::More(..) | Self::Exit(_) => height(1, Role::Label),
        }
    }

    fn add(&self, scene: &mut Scene, (left, top): (f64, f64), right: f64, link: Option<&Link>) {
        let middle = top + height(1, Role::Label) / 2.0;
        let label = |scene: &mut Scene, x: f64, text: &String| {
            scene.text(Role::Label, (x, top), Anchor::Start, std::slice::from_ref(text));
        };
        let words = |scene: &mut Scene, line: &String, labels: &[Placed<'_>]| {
            if !line.is_empty() {
                label(scene, left + INDENT, line);
            }
            for (x, text, link) in labels {
                scene.linked(*link, |scene| label(scene, left + x, text));
            }
        };
        match self {
            Self::Head(number, letter) => {
                let number = if number.is_empty() { String::new() } else { format!("no. {number}") };
                scene.linked(link, |scene| {
                    if !number.is_empty() {
                        label(scene, left, &number);
                    }
                    if !letter.is_empty() {
                        scene.text(Role::Heading, (right, top), Anchor::End, &[(*letter).to_owned()]);
                    }
                });
            }
            Self::Words(role, line) => {
                scene.text(*role, (left, top), Anchor::Start, std::slice::from_ref(line));
            }
            Self::Cables(role, line, labels) => {
                scene.line(*role, &[(left, middle), (left + PIECE, middle)]);
                words(scene, line, labels);
            }
            Self::More(line, labels) => words(scene, line, labels),
            Self::Exit(line) => {
                scene.line(Role::Exit, &[(left, middle), (left + PIECE - HEAD, middle)]);
                let head = left + PIECE - 2.0 * HEAD;
                scene.polygon(Role::Exit, &[(head, middle - HEAD), (left + PIECE, middle), (head, middle + HEAD)]);
                label(scene, left + INDENT, line);
            }
        }
    }
}
