//! The safety notes and the cautions about the alarm: what this site's own facts call for, each with its basis.
//!
//! Terms: a *fact* is something in the spec that calls for a note. Out of scope: verdicts on the wiring (`checks`);
//! nothing here is legal advice, and the paper says so.

pub(crate) mod facts;
pub(crate) mod scope;
pub(crate) mod table;

use serde::Serialize;

use super::{Document, Orientation, View, procedure, value};
use crate::model::Site;
use crate::profiles;
use crate::profiles::limits::Limit;
use crate::profiles::source::{Known, Source};
use crate::profiles::{jackets, limits};
use crate::quantity::LengthUnit;
use crate::register::Wiring;
use crate::terms::Profile;

pub(crate) use scope::{Facts, Touched};
use table::Told;
pub use table::{Concerns, NOTES, Note};

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "safety-notes",
    title: "Safety notes",
    about: "the cautions that this site's own facts call for, each with its basis; read before the ladder",
    orientation: Orientation::Portrait,
    template: crate::template!("safety-notes"),
    view: View::Plain(|compiled| value(&SafetyNotes::of(&compiled.site, &compiled.wiring, Concerns::Work))),
    table: None,
};

/// What the alarm can and cannot do: cautions that name its weak places, and tests that somebody owes it.
pub(crate) static OF_ALARM: Document = Document {
    name: "cautions-of-the-alarm",
    title: "Cautions about the alarm",
    about: "what the alarm can and cannot do: fire, carbon monoxide, wireless, the telephone line, and what to try",
    orientation: Orientation::Portrait,
    template: crate::template!("cautions-of-the-alarm"),
    view: View::Plain(|compiled| value(&SafetyNotes::of(&compiled.site, &compiled.wiring, Concerns::Alarm))),
    table: None,
};

/// What the sheet says.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SafetyNotes {
    /// The notes that apply, in the order of the table.
    pub notes: Vec<NoteView>,
    /// True where the site's profile is not that of the country whose documents the figures are from.
    pub(crate) foreign: bool,
    /// Jackets that may stand in for others, for the types that this site's plenums and risers call for.
    pub(crate) jackets: Vec<JacketView>,
    /// The documents that the printed figures are from, with their full names.
    pub(crate) documents: Vec<DocumentView>,
    /// How sure a figure may be, in words.
    pub(crate) known: Vec<KnownView>,
    /// What the spec does not say.
    pub(crate) unknown: Vec<String>,
}

/// A note with the facts that called for it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NoteView {
    /// Stable name.
    pub slug: &'static str,
    /// Its heading.
    pub(crate) title: &'static str,
    /// The facts that called for it, in one line.
    pub(crate) here: String,
    /// What to do.
    pub(crate) cautions: Vec<String>,
    /// Figures with their sources.
    pub(crate) figures: Vec<FigureView>,
    /// What the cautions rest on.
    pub basis: String,
}

/// A figure with its source.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct FigureView {
    /// What is limited and how far.
    pub(crate) figure: String,
    /// Document, clause, and how we know it.
    pub(crate) source: String,
}

/// A document that figures are from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct DocumentView {
    /// The name at the figures.
    pub(crate) short: &'static str,
    /// Its full name.
    pub(crate) full: &'static str,
}

/// A jacket type and its substitutes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct JacketView {
    /// The type called for.
    pub(crate) wanted: &'static str,
    /// Types that may replace it.
    pub replaced_by: String,
    /// Where it is from and how we know it.
    pub source: String,
}

/// A degree of sureness and what it means.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct KnownView {
    /// In a few words, as behind the figures.
    pub(crate) words: &'static str,
    /// What the words mean.
    pub(crate) meaning: &'static str,
}

impl SafetyNotes {
    /// The notes for a site that concern the work, or the alarm.
    pub fn of(site: &Site, wiring: &Wiring, concerns: Concerns) -> Self {
        let facts = Facts::of(site, wiring);
        let jacket = |row: &jackets::Substitution| JacketView {
            wanted: row.wanted,
            replaced_by: row.replaced_by.join(", "),
            source: row.source().cited(),
        };
        let work = concerns == Concerns::Work;
        let concerning = || NOTES.iter().filter(|note| note.concerns == concerns);
        let applying = || concerning().filter(|note| !(note.trigger)(facts).is_empty());
        let jackets = if work { facts::jackets_of_interest(facts) } else { Vec::new() };
        let jackets: Vec<JacketView> = jackets.into_iter().map(jacket).collect();
        let printed = |short: &str| {
            applying().flat_map(|note| note.figures).any(|limit| limit.source.document == short)
                || (short == jackets::DOCUMENT && !jackets.is_empty())
        };
        let documents = limits::DOCUMENTS.iter().filter(|(short, _)| printed(short));
        Self {
            documents: documents.map(|(short, full)| DocumentView { short, full }).collect(),
            known: degrees(),
            notes: concerning().filter_map(|note| applied(note, facts)).collect(),
            foreign: site.profile != Some(Profile::UsHousehold),
            jackets,
            unknown: if work { facts::unknown(facts) } else { Vec::new() },
        }
    }
}

/// The first caution of every note on what comes into the house by some work, or on what leaves it, with what calls for it.
pub(crate) fn of_work(comes: Facts<'_>, goes: Facts<'_>) -> Vec<String> {
    let told = |note: &Note, facts: Facts<'_>| {
        let found = (note.trigger)(facts);
        let caution = note.cautions.first().filter(|_| !found.is_empty())?;
        Some(format!("{} ({}): {}", note.title, found.join("; "), procedure::told(facts.site, caution)))
    };
    let of = |note: &Note| match note.work_order {
        Told::Never => None,
        Told::Fitting => told(note, comes),
        Told::Working => told(note, comes).or_else(|| told(note, goes)),
    };
    NOTES.iter().filter_map(of).collect()
}

/// The degrees of sureness that figures have, on this sheet and on the others.
fn degrees() -> Vec<KnownView> {
    let rows = profiles::rows();
    let met = Known::ALL.into_iter().filter(|known| rows.iter().any(|row| row.source.known == *known));
    met.map(|known| KnownView { words: known.words(), meaning: known.meaning() }).collect()
}

/// "places: IRC R315.3, edition not named, quoted"; the source alone where it is that of all cautions.
fn based(what: &str, source: Source) -> String {
    match what {
        "" => source.cited(),
        what if what.ends_with("; else") => format!("{what} {}", source.cited()),
        what => format!("{what}: {}", source.cited()),
    }
}

fn applied(note: &Note, facts: Facts<'_>) -> Option<NoteView> {
    let found = (note.trigger)(facts);
    if found.is_empty() {
        return None;
    }
    let in_feet = facts.site.lengths == LengthUnit::Feet;
    let figure = |limit: &Limit| if in_feet { limit.figure() } else { limit.figure_in_metres() };
    let figures =
        note.figures.iter().map(|limit| FigureView { figure: figure(limit), source: limit.source() }).collect();
    Some(NoteView {
        slug: note.slug,
        title: note.title,
        here: found.join(" · "),
        cautions: note.cautions.iter().map(|caution| procedure::told(facts.site, caution)).collect(),
        figures,
        basis: note.basis.iter().map(|(what, source)| based(what, *source)).collect::<Vec<_>>().join("; ") + ".",
    })
}
