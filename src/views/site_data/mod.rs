//! The site as versioned JSON, for whatever the owner connects next.
//!
//! The names here are those of the format, not of the model: the model may change, version 1 may not. Fields may be
//! added within a version, none is renamed or removed. Units: metre, ohm, volt, ampere, ampere-hour, volt-ampere,
//! second. References are by the names of the spec, by zone number and by label, so they outlive a reordering.
//!
//! What is calculated stands with what it is of: `zones[].loop.states` has the expected readings in each state,
//! `power` what every supply gives, `buses[].figures` the order along each bus with its volts.
//! Out of scope: secrets and personal data. The spec holds none, so none can come out.

pub mod boards;
pub mod buses;
pub mod cables;
pub mod circuits;
pub mod devices;
pub mod findings;
pub mod number;
pub mod parts;
pub mod places;
pub mod power;
pub mod states;
pub mod zones;

use schemars::JsonSchema;
use serde::Serialize;

use crate::compiled::Compiled;
use crate::terms::{Framing, Profile};

use boards::Board;
use cables::{Cable, CableType};
use circuits::{Bus, Circuit, Communicator};
use findings::Finding;
use parts::Part;
use places::Level;
use power::BoardPower;
use zones::{Area, Zone};

/// The value of `format`.
pub const FORMAT: &str = "loopwright-site";
/// The value of `version`.
pub const VERSION: u32 = 1;

/// A house's alarm wiring, as written by loopwright.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SiteData {
    /// Always "loopwright-site".
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// Version of the format. Fields may be added within a version; a reader ignores those that it does not know.
    #[schemars(extend("const" = VERSION))]
    pub version: u32,
    /// Short name of the site.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// The state of the spec that this belongs to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub revision: Option<Revision>,
    /// The set of published limits that the site is held against.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub profile: Option<&'static str>,
    /// Facts of the house.
    pub building: Building,
    /// Levels with their rooms and openings, by name.
    pub levels: Vec<Level>,
    /// Parts in use, by name.
    pub parts: Vec<Part>,
    /// Types of cable in use, by name.
    pub cable_types: Vec<CableType>,
    /// Panels, keypads, modules, receivers and strips, by name.
    pub boards: Vec<Board>,
    /// Cables as pulled.
    pub cables: Vec<Cable>,
    /// Areas, by name.
    pub areas: Vec<Area>,
    /// Zones, by number.
    pub zones: Vec<Zone>,
    /// Data buses, by name.
    pub buses: Vec<Bus>,
    /// Powered circuits, by name.
    pub circuits: Vec<Circuit>,
    /// Ways to the monitoring service, by name.
    pub communicators: Vec<Communicator>,
    /// Boards with a supply of their own, by name: what they give, what arrives, how long they last.
    pub power: Vec<BoardPower>,
    /// What the compiler found, in the order of the source.
    pub findings: Vec<Finding>,
}

/// The state of the spec.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Revision {
    /// Letter or number.
    pub mark: String,
    /// Its day, as year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// What changed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// Facts of the house.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Building {
    /// Year of the oldest part.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub built: Option<i64>,
    /// What walls and floors are made of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub framing: Option<&'static str>,
}

impl SiteData {
    /// The data of a site.
    pub fn of(compiled: &Compiled) -> Self {
        let (site, wiring) = (&compiled.site, &compiled.wiring);
        Self {
            format: FORMAT,
            version: VERSION,
            name: site.name.value.clone(),
            title: site.title.clone(),
            revision: site.revision.as_ref().map(|revision| Revision {
                mark: revision.mark.clone(),
                date: revision.date.map(|date| date.to_string()),
                note: revision.note.clone(),
            }),
            profile: site.profile.map(Profile::word),
            building: Building { built: site.building.built, framing: site.building.framing.map(Framing::word) },
            levels: places::levels(site),
            parts: parts::parts(site),
            cable_types: cables::types(site, wiring),
            boards: boards::boards(site, wiring),
            cables: cables::cables(site, wiring),
            areas: zones::areas(site),
            zones: zones::zones(compiled),
            buses: circuits::buses(compiled),
            circuits: circuits::circuits(site, wiring),
            communicators: circuits::communicators(site, wiring),
            power: power::power(compiled),
            findings: findings::findings(&compiled.findings),
        }
    }

    /// The data as text, indented, with a newline at the end.
    pub fn json(compiled: &Compiled) -> String {
        text(&Self::of(compiled))
    }

    /// The schema of the format (JSON Schema 2020-12) as text.
    pub fn schema() -> String {
        text(&schemars::schema_for!(Self))
    }
}

/// Plain structures of text and finite numbers: their serialising cannot fail.
fn text(value: &impl Serialize) -> String {
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}
