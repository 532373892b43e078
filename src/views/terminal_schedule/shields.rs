//! The rows of cables' shields at a board: under its screws, joined there, cut back.

use super::nets::Key;
use super::row::{At, Row, Thing};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::Board;
use crate::register::{Cable, End, Place, ShieldLanding};
use crate::words;

/// The shield of a cable under a screw, with where it goes on and what becomes of it at the other end.
pub(super) fn under(compiled: &Compiled, cable: &Cable, board: Id<Board>, mark: &str) -> Option<Row> {
    let Compiled { site, wiring, .. } = compiled;
    let here = ShieldLanding::Terminal(board, mark.to_owned());
    let is_here = |end: &End| cable.shield_at(*end).is_some_and(|at| at.landed.as_ref() == Some(&here));
    let end = [End::Near, End::Far].into_iter().find(is_here)?;
    Some(Row {
        mark: mark.to_owned(),
        thing: Thing::Conductor(None),
        end: Some(end),
        cable: cable.label.clone(),
        conductor: words::shield(site, cable).to_owned(),
        function: "shield".to_owned(),
        goes: format!("other end: {}", words::shield_end(site, wiring, cable, end.other())),
        ..Row::default()
    })
}

/// Shields that end at this board under no screw of it.
pub(super) fn off_screws(compiled: &Compiled, board: Id<Board>) -> Vec<Row> {
    let Compiled { site, wiring, .. } = compiled;
    let ends = wiring.cables.iter().flat_map(|cable| [End::Near, End::Far].map(|end| (cable, end)));
    let row = |(cable, end): (&Cable, End)| {
        let at = cable.shield_at(end).filter(|_| cable.place(site, end) == Place::Board(board))?;
        let (at, mark) = match (&at.landed, at.joined.as_slice()) {
            (Some(ShieldLanding::Terminal(..)), _) => return None,
            (Some(ShieldLanding::Unnamed), _) => (At::Unknown, "no terminal"),
            (None, []) => (At::Capped, "cut back"),
            (None, _) => (At::Joint(0), "joint"),
        };
        Some(Row {
            mark: mark.to_owned(),
            first: true,
            at,
            thing: Thing::Conductor(None),
            key: Some(Key { run: cable.run, function: None, end }),
            end: Some(end),
            cable: cable.label.clone(),
            conductor: words::shield(site, cable).to_owned(),
            function: "shield".to_owned(),
            goes: words::shield_end(site, wiring, cable, end),
            ..Row::default()
        })
    };
    ends.filter_map(row).collect()
}
