//! Power sheet: what every supply gives and can, what arrives at every device, and how long the battery lasts.
//!
//! For the installer with a meter, who compares volts at a device with those of the sheet, and for the buyer of battery
//! and transformer. Boards with a supply of their own come one after the other; a module that is fed by its bus stands
//! with the board that feeds it. Out of scope: verdicts, which are findings.

mod bar;
pub(crate) mod battery;
mod budget;
mod devices;
mod drawing;
pub(crate) mod paths;
mod way_drawing;

pub(super) use battery::{end_of_battery, lines as battery_lines, times_given};
pub(super) use budget::{of_outlet, rows as budget_rows};
pub(super) use devices::{margin, worst};

use serde::Serialize;
use serde_json::Value;

use super::{Document, Drawings, Orientation, Shown, View, copper, value};
use crate::base::Id;
use crate::calc::power::trees::heads;
use crate::calc::power::{Feeding, standby};
use crate::compiled::Compiled;
use crate::model::{Board, Site, Source};
use crate::profiles::standby as profile;
use crate::quantity::Volts;
use crate::terms::Profile;
use crate::words::{self, Paper};

/// The power sheet.
pub(crate) static DOCUMENT: Document = Document {
    name: "power-sheet",
    title: "Power sheet",
    about: "current of every supply, volts at every device, battery, charger and transformer, ways to the service",
    orientation: Orientation::Portrait,
    template: crate::template!("power-sheet"),
    view: View::Drawn(view),
    table: Some(devices::table),
};

#[derive(Serialize)]
struct Sheet {
    profile: String,
    temperatures: String,
    copper: String,
    boards: Vec<BoardSheet>,
    ways: Vec<paths::Row>,
}

#[derive(Serialize)]
struct BoardSheet {
    title: String,
    room: String,
    rows: Vec<budget::Row>,
    total: budget::Row,
    lines: Vec<battery::Line>,
    hours: Vec<battery::Hours>,
    /// How the battery runs down.
    discharge: Vec<Shown>,
    supplies: Vec<SupplySheet>,
    unknown: Vec<String>,
}

#[derive(Serialize)]
struct SupplySheet {
    title: String,
    volts: String,
    /// What it feeds.
    drawings: Vec<Shown>,
    rows: Vec<devices::Row>,
}

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    let site = &compiled.site;
    let row = profile::of_site(site);
    value(&Sheet {
        profile: match row.profile {
            Profile::Practice => "common practice".to_owned(),
            Profile::UsHousehold | Profile::EuGrade1 | Profile::EuGrade2 | Profile::EuGrade3 => {
                format!("{}, {}", Profile::word(row.profile), row.of)
            }
        },
        temperatures: words::temperatures(),
        copper: copper::of(site),
        boards: heads(site).map(|board| of_board(compiled, board, drawings)).collect(),
        ways: paths::rows(compiled, drawings),
    })
}

/// What the board loses on battery on the way to a supply, where its sheet says so or where that matters and it does not.
fn drop(compiled: &Compiled, source: Source) -> String {
    let site = &compiled.site;
    let charger = site.part_of(source.board()).and_then(|part| part.charger.as_ref());
    let output = match source {
        Source::Output(output) => site.output(output),
        Source::Port(..) => None,
    };
    if output.is_some_and(|output| output.least.is_some()) {
        return ", by its sheet".to_owned();
    }
    let own = output.map(|output| output.drop).filter(|drop| drop.0 > 0.0);
    match (charger.and_then(|charger| charger.drop), own) {
        (None, None) => ", nothing counted for the board's own fuse and switch".to_owned(),
        (board, own) => {
            let lost = Volts(board.unwrap_or_default().0 + own.unwrap_or_default().0);
            format!(", with {lost} lost in the board")
        }
    }
}

/// What an output's own tolerance makes of its volts on mains; empty where its sheet gives none.
fn tolerance(feeding: &Feeding) -> String {
    let most = feeding.tree.nodes.first().and_then(|root| root.most).filter(|most| most.greatest > most.least);
    most.map_or_else(String::new, |most| {
        let (least, greatest) = (Volts(most.least), Volts(most.greatest));
        format!(" ({least} to {greatest} by its tolerance: below the least with hot wire, the greatest with cold)")
    })
}

fn of_board(compiled: &Compiled, board: Id<Board>, drawings: &mut Drawings) -> BoardSheet {
    let site = &compiled.site;
    let currents = standby::currents(site, &compiled.power, board);
    let feedings = || compiled.power.of_board(board);
    BoardSheet {
        title: Paper.board(site, board),
        room: words::room(site, site.boards[board].room),
        rows: budget::rows(compiled, board),
        total: budget::total(currents),
        lines: battery::lines(compiled, board, currents),
        hours: battery::times_given(compiled, board, currents),
        discharge: drawings.show(drawing::of_battery(compiled, board)),
        supplies: supplies(compiled, board)
            .map(|feeding| SupplySheet {
                title: Paper.outlet(site, feeding.tree.source),
                volts: match (feeding.tree.volts, feeding.battery_volts) {
                    (Some(mains), Some(battery)) => {
                        format!(
                            "{mains} on mains{}, {battery} at the end of the battery{}",
                            tolerance(feeding),
                            drop(compiled, feeding.tree.source)
                        )
                    }
                    (Some(mains), None) => format!("{mains} on mains{}, no battery", tolerance(feeding)),
                    (None, _) => "volts not given".to_owned(),
                },
                drawings: drawings.show(drawing::of_supply(compiled, feeding)),
                rows: devices::rows(compiled, feeding),
            })
            .collect(),
        unknown: feedings()
            .flat_map(|feeding| feeding.tree.unknown.iter())
            .map(|consumer| Paper.consumer(site, *consumer))
            .chain(takes_unknown(site, board).then(|| Paper.board(site, board)))
            .collect(),
    }
}

/// True where no sheet says what a board takes itself.
fn takes_unknown(site: &Site, board: Id<Board>) -> bool {
    site.part_of(board).is_some_and(|part| part.draw.is_none())
}

/// The supplies of a board that feed something.
fn supplies(compiled: &Compiled, board: Id<Board>) -> impl Iterator<Item = &Feeding> {
    compiled.power.of_board(board).filter(|feeding| feeding.tree.loads().next().is_some())
}
