//! Work order: what has to be done to turn the house of one revision into that of the next, as steps with boxes to tick.
//!
//! The first part is for whoever does the wiring, grouped by place in the house, and holds no delays and nothing of
//! arming. The second is for the installer: programming, the service's list, paper, and the plain list of changes.
//! The same structure is printed as JSON. Out of scope: what differs (`diff`), and whether it is right (`checks`).

mod alone;
mod aside;
mod boards;
mod buses;
mod cables;
mod cautions;
pub(crate) mod changes;
mod colours;
mod cut;
mod devices;
mod exchanged;
mod fittings;
mod found;
mod heard;
mod household;
mod isolating;
mod joints;
mod kept;
mod landings;
mod measure;
mod moved;
mod network;
mod opened;
mod other_ends;
mod place;
mod program;
mod renamed;
mod resistors;
mod service;
mod strips;
mod supplies;
mod switching;
pub(crate) mod text;
mod touched;
mod tried;
mod undone;
mod ways;

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;

use super::{Document, Orientation, View, owners_guide, upkeep, value, wire_labels};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::diag::json;
use crate::diff::{self, Change, Comparison, Kind, Subject};
use crate::labels::Labels;
use crate::model::{Board, Device, HouseStyle, Run, Site};
use crate::quantity::LengthUnit;
use crate::record::Names;
use crate::register::Cable;
use crate::template;

pub use buses::BusMeasurement;
pub(crate) use changes::{ChangeLine, counted};
pub(crate) use measure::Measurement;
pub use place::{Place, Step};
pub(crate) use service::ServiceLine;
pub use supplies::SupplyMeasurement;

/// The value of `format`.
pub(crate) const FORMAT: &str = "loopwright-diff";
/// The value of `version`.
pub(crate) const VERSION: u32 = 1;

/// All of it. It is made of two revisions, so it stands in no packet's list; its view is that of a site against itself.
pub static DOCUMENT: Document = Document {
    name: "work-order",
    title: "Work order",
    about: "what to do, place by place, to come from the last revision to this one; programming, tests and paper behind it",
    orientation: Orientation::Portrait,
    template: template!("work-order"),
    view: View::Plain(itself),
    table: None,
};

/// The part of it for whoever does the wiring, who is to know nothing of what is programmed and reported.
pub static WIRING: Document = Document {
    name: "work-order-wiring",
    title: "Work order: wiring",
    about: "what to do, place by place, to come from the last revision to this one",
    orientation: Orientation::Portrait,
    template: template!("work-order-wiring"),
    view: View::Plain(itself),
    table: None,
};

fn itself(compiled: &Compiled) -> Value {
    value(&WorkOrder::of(&Sides::of(compiled, compiled), &Remarks::default()))
}

/// What changed between two revisions of a site, and the work that it takes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct WorkOrder {
    /// Always "loopwright-diff".
    #[schemars(extend("const" = FORMAT))]
    pub(crate) format: &'static str,
    /// Version of the format. Fields may be added within a version; a reader ignores those that it does not know.
    #[schemars(extend("const" = VERSION))]
    pub(crate) version: u32,
    /// Short name of the site.
    pub(crate) site: String,
    /// Name of the site for people.
    pub(crate) title: String,
    /// The old revision in words: its mark and date, else how the user named it.
    pub(crate) old: String,
    /// The new revision.
    pub(crate) new: String,
    /// What the firm adds to the paper.
    #[serde(skip)]
    pub(crate) house: HouseStyle,
    /// How much differs, in one line.
    pub summary: String,
    /// What could not be compared, and why.
    pub(crate) doubts: Vec<String>,
    /// True where the new revision has no error, so that there are steps.
    pub steps: bool,
    /// Cautions before the work.
    pub(crate) cautions: Vec<String>,
    /// What to buy.
    pub buy: Vec<Item>,
    /// What comes back.
    pub back: Vec<Item>,
    /// Before anything is opened.
    pub before: Vec<Step>,
    /// Cables to pull, before anything else is done and while the boards are still on.
    pub pull: Vec<Step>,
    /// Switching off, before the first conductor is moved.
    pub off: Vec<Step>,
    /// The other work, place by place.
    pub places: Vec<Place>,
    /// Cables that come out of the wall, once both their ends are off.
    pub out: Vec<Step>,
    /// Putting the supply back.
    pub after: Vec<Step>,
    /// How the ohms of the loops are read: before the supply is put back; empty where none is read then.
    pub(crate) method: String,
    /// What to measure.
    pub measure: Vec<Measurement>,
    /// How the ohms of a bus are read; empty where none is.
    pub(crate) probes: String,
    /// Ohms to measure across buses that were touched.
    pub buses: Vec<BusMeasurement>,
    /// Volts to measure at boards and devices that are new, exchanged or moved.
    pub supplies: Vec<SupplyMeasurement>,
    /// What to walk-test.
    pub walk: Vec<Step>,
    /// What to program.
    pub program: Vec<Step>,
    /// The changed lines of the service's list.
    pub service: Vec<ServiceLine>,
    /// The paper.
    pub paper: Vec<Step>,
    /// Every change.
    pub changes: Vec<ChangeLine>,
    /// The unit of the house's lengths, by which the paper is chosen.
    #[serde(skip)]
    pub(crate) lengths: LengthUnit,
}

/// So much of one thing.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Item {
    /// How many, or how long.
    pub count: String,
    /// What.
    pub what: String,
}

/// Both revisions with their comparison.
#[derive(Debug)]
pub struct Sides<'s> {
    /// The old one.
    pub(crate) old: &'s Compiled,
    /// The new one.
    pub(crate) new: &'s Compiled,
    /// What differs.
    pub found: Comparison,
    /// What things are called in the old one.
    old_names: Names<'s>,
    /// The same of the new one.
    new_names: Names<'s>,
    /// The runs and devices of the old one by their keys.
    old_keys: Keys,
    /// The same of the new one.
    new_keys: Keys,
    /// What stands on the ends of the old one's cables.
    old_labels: Labels,
    /// The same of the new one.
    pub(super) new_labels: Labels,
    /// The runs of cables that stay at whose ends one step tells all that stands there.
    told: BTreeSet<Id<Run>>,
    /// The boards that are switched on alone first.
    alone: alone::Alone,
    /// The boards that are exchanged in their places.
    exchanged: exchanged::Exchanged,
}

/// What stands behind the names of the facts.
#[derive(Debug)]
struct Keys {
    runs: BTreeMap<String, Id<Run>>,
    devices: BTreeMap<String, Id<Device>>,
    /// The place of each label in the wiring's list of cables.
    cables: BTreeMap<String, usize>,
    /// The cable of a conductor in the wiring's list, and its position in it.
    conductors: BTreeMap<String, (usize, usize)>,
}

impl Keys {
    fn of(compiled: &Compiled, names: &Names<'_>) -> Self {
        let conductors = compiled.wiring.cables.iter().enumerate().flat_map(|(at, cable)| {
            let key = move |position| (diff::facts::conductor_key(&cable.label, position), (at, position));
            cable.conductors.iter().map(move |used| key(used.position))
        });
        let labels = compiled.wiring.cables.iter().enumerate().rev().map(|(at, cable)| (cable.label.clone(), at));
        Self {
            devices: names.device_keys(),
            runs: names.run_keys(),
            cables: labels.collect(),
            conductors: conductors.collect(),
        }
    }

    /// The cable of a label, in the revision that these keys are of.
    fn cable<'c>(&self, compiled: &'c Compiled, label: &str) -> Option<&'c Cable> {
        compiled.wiring.cables.get(*self.cables.get(label)?)
    }
}

impl<'s> Sides<'s> {
    /// Compares two revisions.
    pub fn of(old: &'s Compiled, new: &'s Compiled) -> Self {
        let found = diff::compare(old, new);
        let labels = |side: &Compiled| Labels::of(&side.site, &side.wiring);
        let [old_names, new_names] = [old, new].map(|side| Names::of(&side.site, &side.wiring));
        let mut sides = Self {
            old,
            new,
            found,
            old_keys: Keys::of(old, &old_names),
            new_keys: Keys::of(new, &new_names),
            old_names,
            new_names,
            old_labels: labels(old),
            new_labels: labels(new),
            told: BTreeSet::new(),
            alone: alone::Alone::default(),
            exchanged: exchanged::Exchanged::default(),
        };
        sides.exchanged = exchanged::Exchanged::of(&sides);
        sides.told = landings::told(&sides);
        sides.alone = alone::Alone::of(&sides);
        sides
    }

    /// A thing of the old revision (`is_old`) or of the new one, by its name in the new one.
    fn called(&self, subject: Subject, is_old: bool) -> Subject {
        if is_old { self.found.diff.now(subject) } else { subject }
    }

    /// The name that a thing of the new revision had in the old one, if it was there.
    fn name_before(&self, kind: Kind, name: &str) -> String {
        let now = Subject::new(kind, name);
        let renamed = self.found.diff.renamed.iter().find(|(_, is)| **is == now).map(|(was, _)| was);
        renamed.unwrap_or(&now).key.clone()
    }

    /// The old board that a board of the new revision is, whatever it is called now.
    fn board_before(&self, is: Id<Board>) -> Option<Id<Board>> {
        let was = self.name_before(Kind::Board, &self.new.site.boards[is].name.value);
        self.old.site.board_named(&was).map(|(was, _)| was)
    }

    /// Whether a day comes after that of the old revision: what was there by then cannot be of that day.
    fn is_since(&self, day: Date) -> bool {
        let revision = self.old.site.revision.as_ref().and_then(|revision| revision.date.as_ref());
        revision.is_some_and(|date| date.value < day)
    }

    /// The changes of one kind of thing.
    fn changes(&self, kind: Kind) -> impl Iterator<Item = &Change> {
        self.found
            .diff
            .changes
            .iter()
            .filter(move |change| change.subject().is_some_and(|subject| subject.kind == kind))
    }
}

/// What the comparison itself cannot know.
#[derive(Clone, Debug, Default)]
pub struct Remarks {
    /// How the user named the old revision.
    pub old: String,
    /// How the user named the new one.
    pub new: String,
    /// What could not be compared, and why.
    pub doubts: Vec<String>,
    /// True where the new revision has errors: a house is not built from it.
    pub broken: bool,
    /// Titles of the sheets that differ.
    pub sheets: Vec<String>,
}

impl WorkOrder {
    /// The work order of two revisions.
    pub fn of(sides: &Sides<'_>, remarks: &Remarks) -> Self {
        let changes = changes::lines(sides);
        let whole = Self {
            format: FORMAT,
            version: VERSION,
            site: sides.new.site.name.value.clone(),
            title: sides.new.site.title.clone(),
            old: revision(&sides.old.site, &remarks.old),
            new: revision(&sides.new.site, &remarks.new),
            house: sides.new.site.house_style.clone(),
            summary: changes::summary(sides, &changes),
            doubts: remarks.doubts.clone(),
            steps: false,
            cautions: Vec::new(),
            buy: Vec::new(),
            back: Vec::new(),
            before: Vec::new(),
            pull: Vec::new(),
            off: Vec::new(),
            places: Vec::new(),
            out: Vec::new(),
            after: Vec::new(),
            method: String::new(),
            measure: Vec::new(),
            probes: String::new(),
            buses: Vec::new(),
            supplies: Vec::new(),
            walk: Vec::new(),
            program: Vec::new(),
            service: Vec::new(),
            paper: Vec::new(),
            changes,
            lengths: sides.new.site.lengths,
        };
        if remarks.broken || whole.changes.is_empty() { whole } else { whole.with_steps(sides, remarks) }
    }

    fn with_steps(mut self, sides: &Sides<'_>, remarks: &Remarks) -> Self {
        let (pull, out, places) = wiring(sides, false);
        (self.pull, self.out, self.places) = (pull, out, places);
        let steps = || self.places.iter().flat_map(|place| &place.steps);
        // Another label, or another length on paper, moves no conductor.
        // What was in use before the spec knew of it is opened to be looked at.
        let wired = steps().any(|step| !step.by_radio && !matches!(step.kind, "label" | "check" | "inspect"))
            || !isolating::found(sides).is_empty();
        let (programmed, reported) = (program::differences(sides), service::differences(sides));
        let (measured, walk) = measure::of(sides, wired, (&programmed, &reported));
        self.steps = true;
        let labels = steps().filter(|step| matches!(step.kind, "label" | "find")).count();
        self.buy = boards::to_buy(sides, labels);
        self.back = boards::to_return(sides);
        if wired {
            self.cautions = cautions::cautions(sides);
            self.after = isolating::on(sides);
        }
        if measured.iter().any(|line| line.cold) {
            self.method = measure::of_ohms(&sides.new.site, wired);
        }
        self.measure = measured;
        self.buses = buses::to_measure(sides);
        if !self.buses.is_empty() {
            self.probes = buses::method(&sides.new.site, wired);
        }
        self.supplies = supplies::of(sides);
        self.walk = walk.into_iter().chain(tried::to_try(sides)).collect();
        self.walk.extend(heard::rows(sides, &programmed, &reported));
        self.walk.extend(heard::ways(sides, &programmed));
        self.program = program::steps(sides, &programmed);
        self.program.extend(program::remarks(sides));
        self.service = service::lines(sides, &reported);
        if service::is_kept(sides) && !(self.places.is_empty() && self.walk.is_empty() && self.service.is_empty()) {
            self.before.push(service::on_test());
            // The list of changed lines ends with the same.
            if self.service.is_empty() {
                self.walk.push(service::off_test());
            }
        }
        if wired {
            self.off = isolating::off(sides);
        }
        let guide = remarks.sheets.iter().any(|sheet| sheet == owners_guide::DOCUMENT.title);
        self.paper = paper(&self, sides, remarks, household::to_hand_over(&programmed, guide));
        self
    }

    /// The data as JSON text, indented, with a newline at the end.
    pub fn json(&self) -> String {
        json::print(self)
    }

    /// The schema of the JSON (JSON Schema 2020-12) as text.
    pub fn schema() -> String {
        json::print(&schemars::schema_for!(Self))
    }
}

/// What is switched off first in a house that has no spec yet: what of the site was there before.
pub(crate) fn in_use(sides: &Sides<'_>) -> Vec<Step> {
    isolating::found(sides).into_iter().map(|(_, step)| step).collect()
}

/// What is pulled, in the order of the wire-label list, what is pulled out, and the other work on wires and things, place by
/// place. Where `heights_are_told` by another sheet, no step says how high something is mounted.
pub(crate) fn wiring(sides: &Sides<'_>, heights_are_told: bool) -> (Vec<Step>, Vec<Step>, Vec<Place>) {
    let mut places = place::Places::default();
    places.heights_are_told = heights_are_told;
    cables::steps(sides, &mut places);
    boards::steps(sides, &mut places);
    switching::steps(sides, &mut places);
    devices::steps(sides, &mut places);
    ways::steps(sides, &mut places);
    buses::terminators(sides, &mut places);
    joints::steps(sides, &mut places);
    network::steps(sides, &mut places);
    kept::steps(sides, &mut places);
    boards::take_down(sides, &mut places);
    for (from, to) in &sides.found.materials.resistors {
        places.follows((&sides.old.site, *from), (&sides.new.site, *to));
    }
    let order = wire_labels::in_order_of_pulling(sides.new, &sides.new_labels);
    let labels: Vec<&str> = order.iter().map(|cable| cable.label.as_str()).collect();
    (places.pulled(&labels), places.pulled_out(), places.done())
}

/// "B of 2027-03-14", with how the user named it where it has no mark.
fn revision(site: &Site, named: &str) -> String {
    match &site.revision {
        Some(revision) => {
            let date = revision.date.map(|date| format!(" of {}", date.value)).unwrap_or_default();
            format!("{}{date}", revision.mark)
        }
        None if named.is_empty() => "without a mark".to_owned(),
        None => named.to_owned(),
    }
}

fn paper(order: &WorkOrder, sides: &Sides<'_>, remarks: &Remarks, told: Option<String>) -> Vec<Step> {
    let step = |text: String| Step::new("paper", text);
    let mut steps = Vec::new();
    if !remarks.sheets.is_empty() {
        steps.push(step(format!("File the new sheets: {}", remarks.sheets.join(", "))));
        steps.push(step(format!(
            "Shred the same sheets of revision {}: an old sheet in the enclosure misleads",
            order.old
        )));
    }
    steps.extend(told.map(step));
    steps.extend(cables::to_register(sides).into_iter().chain(network::to_register(sides)).map(step));
    steps.extend(upkeep::to_import(sides.old, sides.new).map(|text| step(text.to_owned())));
    steps.extend(measure::outdated(sides, &order.measure).map(step));
    if sides.new.site.revision == sides.old.site.revision {
        steps.push(step("Give the spec a new revision mark: both revisions carry the same".to_owned()));
    }
    steps.push(step("Write day and initials on this sheet and file it with the others".to_owned()));
    steps
}
