//! Published lists and limits as data. Every row says where it stands, in which edition, and how we know it ([`source`]).
//!
//! A figure that is printed is printed with its source, by [`source::Source::cited`] and nothing else. None is legal advice:
//! local amendments, the authority having jurisdiction and the equipment's own instructions prevail.

pub mod battery;
pub mod bus;
pub mod cited;
pub mod conductors;
pub mod connectors;
pub mod detectors;
pub mod events;
pub mod framing;
pub mod guards;
pub mod handling;
pub mod holes;
pub mod jackets;
pub mod letters;
pub mod limits;
pub mod raceway;
pub mod source;
pub mod standby;
pub mod stock;
pub mod supervision;
pub mod timing;
pub mod upkeep;

use source::Source;

/// A row of this folder: what it is about, and its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What it is about, in the row's own words where it has some.
    pub what: String,
    /// Where it stands.
    pub source: Source,
}

/// Every row of this folder.
pub fn rows() -> Vec<Row> {
    let row = |what: &str, source: Source| Row { what: what.to_owned(), source };
    let limits = limits::all().map(|limit| row(&limit.figure(), limit.source));
    let standby = standby::STANDBY.iter().flat_map(|one| {
        let figures = [
            ("at rest", one.standby),
            ("in alarm", one.alarm),
            ("factor", one.margin),
            ("recharge", one.recharge),
            ("recharged share", one.recharge_share),
        ];
        figures.map(|(what, figure)| Row { what: format!("{}: {what}", one.of), source: figure.source })
    });
    let figures = bus::ROWS
        .iter()
        .chain(battery::ROWS)
        .chain(timing::ROWS)
        .chain(upkeep::ROWS)
        .chain(raceway::ROWS)
        .map(|(what, figure)| row(what, figure.source));
    let guards = guards::GUARDS.iter().map(|guard| Row { what: format!("{} AWG", guard.gauge), source: guard.source });
    let jackets = jackets::SUBSTITUTIONS.iter().map(|jacket| row(jacket.wanted, jacket.source()));
    let supervision = supervision::ROWS.iter().map(|one| row(one.what, one.figure.source));
    let others = [
        row("event codes", events::SOURCE),
        row("usual event codes", events::USUAL),
        row("usual handling of events", handling::SOURCE),
        row("letters of events", letters::SOURCE),
        row("resistance of metric sizes", conductors::SOURCE),
        row("tinned conductors", conductors::TINNED),
        row("tinned strands", conductors::TINNED_STRANDS),
        row("copper-clad aluminium", conductors::COPPER_CLAD),
        row("sources on power-limited cable", jackets::CLASS_2_SOURCE),
        row("jackets for plenums", jackets::PLENUM_SOURCE),
        row("jackets for risers", jackets::RISER_SOURCE),
        row("series jack of a line", connectors::SERIES_JACK),
        row("tip of the series jack", connectors::SERIES_TIP),
        row("bridged jack of a line", connectors::BRIDGED_JACK),
        row("pins of a network plug", connectors::PINS),
    ];
    let cited = cited::ROWS.iter().chain(stock::ROWS).chain(holes::ROWS).map(|(what, source)| row(what, *source));
    limits
        .chain(cited)
        .chain(standby)
        .chain(figures)
        .chain(guards)
        .chain(jackets)
        .chain(supervision)
        .chain(others)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::rows;
    use super::source::Known;

    #[test]
    fn every_row_says_where_it_stands_in_which_edition_and_how_sure_it_is() {
        for row in rows() {
            let source = row.source;
            let dated = |text: &str| text.chars().any(|letter| letter.is_ascii_digit());
            match source.known {
                Known::Practice => {
                    assert!(source.edition.is_empty() && source.clause.is_empty(), "practice has no clause: {row:?}");
                }
                Known::Quoted | Known::Summary | Known::InPart | Known::FromMemory | Known::Unsure => {
                    assert!(!source.document.is_empty(), "no document: {row:?}");
                    assert!(!source.edition.is_empty() || dated(source.document), "no edition: {row:?}");
                }
            }
            assert!(source.known.was_read() || source.clause.is_empty(), "a clause from memory: {row:?}");
            assert!(source.cited().contains(source.known.words()), "{row:?}");
        }
    }
}
