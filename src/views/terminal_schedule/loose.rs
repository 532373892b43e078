//! The rows of what is at a board and under none of its screws: in sockets and joints, parked, capped.

use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::Board;
use crate::register::{Cable, ConductorUse, DeadCable, End, Function, Place, Point};
use crate::terms::WireUse;
use crate::views::ends::{meets, socket};
use crate::views::natural::natural;
use crate::words;

use super::row::{At, Row, State, Thing, conductor, in_use};

/// Every end of a used conductor that is at a board.
fn ends_at(compiled: &Compiled, board: Id<Board>) -> impl Iterator<Item = (&Cable, &ConductorUse, End)> {
    let Compiled { site, wiring, .. } = compiled;
    let used = wiring.cables.iter().flat_map(|cable| cable.conductors.iter().map(move |used| (cable, used)));
    used.flat_map(|(cable, used)| [End::Near, End::Far].map(|end| (cable, used, end)))
        .filter(move |(cable, used, end)| used.place(site, cable, *end) == Place::Board(board))
}

/// Conductors that end in a socket of the board, and those for which it has no terminal.
pub(super) fn off_screws(compiled: &Compiled, board: Id<Board>) -> Vec<Row> {
    let row = |(cable, used, end): (&Cable, &ConductorUse, End)| {
        if used.joined_in(&compiled.site, end).is_some() {
            return None;
        }
        let (points, unused) = (used.points(end), used.unused_at(&compiled.site, end).is_some());
        let held = |point: &Point| matches!(point, Point::Terminal(..) | Point::Joint(..));
        let (at, mark) = match points {
            points if points.iter().any(held) => return None,
            [Point::Socket(_)] => (At::Socket, socket(used.function)),
            _ if used.function.wire_use() == WireUse::Reserved || unused => (At::Capped, "parked".to_owned()),
            _ => (At::Unknown, "no terminal".to_owned()),
        };
        let row = Row { at, first: true, ..in_use(compiled, cable, used, end, mark) };
        let parked = matches!(row.at, At::Capped) && row.goes.is_empty();
        let goes = match (unused, parked) {
            (true, _) => format!("{}; other end: {}", words::UNUSED, row.goes),
            (false, true) => "park it, marked".to_owned(),
            (false, false) => row.goes,
        };
        Some(Row { goes, ..row })
    };
    ends_at(compiled, board).filter_map(row).collect()
}

/// Conductors of dead cables that end at this board under no screw of it, of cables that are on others still.
pub(super) fn dead_off_screws(compiled: &Compiled, board: Id<Board>) -> Vec<Row> {
    let ends = compiled.wiring.dead.iter().flat_map(|cable| [End::Near, End::Far].map(|end| (cable, end)));
    let here = ends.filter(|(cable, end)| !cable.off && cable.place(*end) == Place::Board(board));
    let rows = here.flat_map(|(cable, end)| {
        let loose = cable.conductors.iter().filter(move |conductor| match end {
            End::Near => conductor.near.is_none(),
            End::Far => conductor.far.is_none(),
        });
        loose.map(move |conductor| Row {
            mark: "no screw".to_owned(),
            first: true,
            state: State::Dead,
            at: At::Unknown,
            thing: Thing::Conductor(conductor.colour),
            end: Some(end),
            cable: cable.label.clone(),
            conductor: words::dead_conductor(&compiled.site, cable, conductor),
            function: format!("dead: {}", cable.because),
            goes: "out of its joint or socket, and cap it".to_owned(),
            ..Row::default()
        })
    });
    rows.collect()
}

/// A joint of a series loop's cables that all start at this board: the back of one, the way out of the next.
pub(super) type Pair<'c> = [(&'c Cable, &'c ConductorUse); 2];

/// The joints of series loops in a board's enclosure.
pub(super) fn pairs(compiled: &Compiled, board: Id<Board>) -> Vec<Pair<'_>> {
    let Compiled { wiring, .. } = compiled;
    let mut pairs = Vec::new();
    for cable in &wiring.cables {
        for used in &cable.conductors {
            for point in &used.near {
                let (Point::Joint(at, run), Function::LoopBack(zone)) = (point, used.function) else { continue };
                let partner = wiring.conductor_for(*run, Function::LoopOut(zone)).filter(|_| *at == board);
                pairs.extend(partner.map(|partner| [(cable, used), partner]));
            }
        }
    }
    pairs
}

/// The conductors in such joints, each with what it is joined to, and its joint by position in [`pairs`].
pub(super) fn joined(compiled: &Compiled, board: Id<Board>) -> Vec<(Option<usize>, Row)> {
    let Compiled { site, wiring, .. } = compiled;
    let pairs = pairs(compiled, board);
    let mut found = Vec::new();
    for (cable, used, end) in ends_at(compiled, board) {
        let joints = used.points(end).iter().filter(|point| matches!(point, Point::Joint(..)));
        let here: Vec<Point> = joints.cloned().collect();
        if here.is_empty() {
            continue;
        }
        let row = Row {
            mark: "joint".to_owned(),
            at: At::Joint(0),
            end: Some(end),
            cable: cable.label.clone(),
            goes: meets(site, wiring, used, &here),
            ..conductor(site, cable, used, end)
        };
        found.push((pairs.iter().position(|pair| pair.iter().any(|(_, other)| std::ptr::eq(*other, used))), row));
    }
    found
}

/// Cables with conductors that end at this board with nothing to do, by label.
pub(super) fn spare_at(compiled: &Compiled, board: Id<Board>) -> Vec<(&Cable, End)> {
    let Compiled { site, wiring, .. } = compiled;
    let cables = wiring.cables.iter().filter(|cable| !cable.spare.is_empty());
    let ends = cables.flat_map(|cable| [End::Near, End::Far].map(|end| (cable, end)));
    let mut here: Vec<(&Cable, End)> =
        ends.filter(|(cable, end)| cable.place(site, *end) == Place::Board(board)).collect();
    here.sort_by(|(a, _), (b, _)| natural(&a.label, &b.label));
    here
}

/// The conductors of such a cable.
pub(super) fn spare(compiled: &Compiled, (cable, end): (&Cable, End)) -> Vec<Row> {
    let site = &compiled.site;
    let row = |position: &usize| Row {
        state: State::Spare,
        at: At::Capped,
        thing: Thing::Conductor(words::colour(site, cable, *position)),
        end: Some(end),
        cable: cable.label.clone(),
        conductor: words::conductor(site, cable, *position),
        function: "spare".to_owned(),
        goes: "park it, marked".to_owned(),
        ..Row::default()
    };
    cable.spare.iter().map(row).collect()
}

/// Dead cables with an end at this board that is off the terminals.
pub(super) fn capped_at(compiled: &Compiled, board: Id<Board>) -> Vec<(&DeadCable, End)> {
    let ends = compiled.wiring.dead.iter().flat_map(|cable| [End::Near, End::Far].map(|end| (cable, end)));
    ends.filter(|(cable, end)| cable.off && cable.place(*end) == Place::Board(board)).collect()
}

/// All conductors of such a cable.
pub(super) fn capped((cable, end): (&DeadCable, End)) -> Row {
    Row {
        state: State::Dead,
        at: At::Capped,
        thing: Thing::Conductor(None),
        end: Some(end),
        cable: cable.label.clone(),
        conductor: "all".to_owned(),
        function: "dead".to_owned(),
        goes: format!("{}: {}", words::dead_end(cable), cable.because),
        ..Row::default()
    }
}
