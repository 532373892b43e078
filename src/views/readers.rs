//! Who gets which sheets: the one table of what each reader may see.
//!
//! A sheet says at its head for whom it is, and stands in the joined packet of each of them, in the order given here: sheets
//! that lie alike follow one another, for they go on behind one another on the same paper. What is looked up now and then, or says what
//! another sheet says in another form, is printed by itself, on request.
//! The electrician is told nothing of arming, of delays, of what is weak or whom the alarm calls; the monitoring
//! service nothing of the wiring; what the materials cost, the installer alone. What a sheet says in words of the spec is the spec's.

use super::{
    Document, as_built, bundles, bus_sheet, commissioning_sheet, cover, coverage_plan, detection_sheet,
    device_sketches, enclosures, false_alarm_review, findings, floor_plan, installation_order, label_sheets,
    loop_figures, loop_sheet, materials, overview, owners_guide, power_sheet, programming_sheet, riser, rough_in,
    safety_notes, terminal_schedule, upkeep, wire_labels, work_order, zone_descriptions,
};
use crate::base::wording::list;

/// Somebody who gets a part of the packet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reader {
    /// Who pulls cables and lands conductors, and is to know nothing of arming.
    Electrician,
    /// Who connects, programs, measures and signs.
    Installer,
    /// Who is called by the alarm.
    MonitoringService,
    /// Who lives with the alarm and keeps it.
    Owner,
}

/// What one reader gets.
#[derive(Debug)]
pub struct Share {
    /// Whose it is.
    pub reader: Reader,
    /// Name of the joined file, without `.html`.
    pub file: &'static str,
    /// What the joined file is called.
    pub(crate) title: &'static str,
    /// The sheets of the joined file, in order, behind its contents.
    pub sheets: &'static [&'static Document],
    /// Sheets that are printed by themselves, on request.
    pub appendix: &'static [&'static Document],
}

/// The table.
pub static SHARES: [Share; 4] = [
    Share {
        reader: Reader::Electrician,
        file: "for-electrician",
        title: "Packet for the electrician",
        sheets: &[
            &safety_notes::DOCUMENT,
            &installation_order::DOCUMENT,
            &bundles::DOCUMENT,
            &materials::DOCUMENT,
            &rough_in::DOCUMENT,
            &wire_labels::DOCUMENT,
            &floor_plan::DOCUMENT,
            &riser::DOCUMENT,
        ],
        appendix: &[&label_sheets::DOCUMENT, &work_order::WIRING],
    },
    Share {
        reader: Reader::Installer,
        file: "for-installer",
        title: "Packet for the installer",
        sheets: &[
            &overview::DOCUMENT,
            &safety_notes::DOCUMENT,
            &safety_notes::OF_ALARM,
            &installation_order::DOCUMENT,
            &bundles::DOCUMENT,
            &materials::DOCUMENT,
            &rough_in::DOCUMENT,
            &floor_plan::DOCUMENT,
            &coverage_plan::DOCUMENT,
            &riser::DOCUMENT,
            &wire_labels::DOCUMENT,
            &terminal_schedule::DOCUMENT,
            &device_sketches::DOCUMENT,
            &power_sheet::DOCUMENT,
            &bus_sheet::DOCUMENT,
            &programming_sheet::DOCUMENT,
            &zone_descriptions::DOCUMENT,
            &detection_sheet::DOCUMENT,
            &false_alarm_review::DOCUMENT,
            &commissioning_sheet::DOCUMENT,
            &as_built::DOCUMENT,
            &upkeep::DOCUMENT,
            &owners_guide::DOCUMENT,
        ],
        appendix: &[
            &enclosures::DOCUMENT,
            &loop_sheet::DOCUMENT,
            &loop_figures::DOCUMENT,
            &findings::DOCUMENT,
            &materials::costs::DOCUMENT,
            &label_sheets::DOCUMENT,
            &work_order::DOCUMENT,
        ],
    },
    Share {
        reader: Reader::MonitoringService,
        file: "for-monitoring-service",
        title: "Packet for the monitoring service",
        sheets: &[&zone_descriptions::DOCUMENT],
        appendix: &[],
    },
    Share {
        reader: Reader::Owner,
        file: "for-owner",
        title: "Packet for the owner",
        sheets: &[
            &owners_guide::DOCUMENT,
            &overview::DOCUMENT,
            &rough_in::DOCUMENT,
            &floor_plan::DOCUMENT,
            &coverage_plan::DOCUMENT,
            &detection_sheet::DOCUMENT,
            &false_alarm_review::DOCUMENT,
            &as_built::DOCUMENT,
            &materials::DOCUMENT,
            &upkeep::DOCUMENT,
            &safety_notes::DOCUMENT,
            &safety_notes::OF_ALARM,
        ],
        appendix: &[],
    },
];

impl Reader {
    /// Every reader, in the order of the table.
    pub const ALL: [Self; 4] = [Self::Electrician, Self::Installer, Self::MonitoringService, Self::Owner];

    /// The reader in a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Electrician => "electrician",
            Self::Installer => "installer",
            Self::MonitoringService => "monitoring service",
            Self::Owner => "owner",
        }
    }
}

/// "electrician and installer": who a sheet is for. The cover stands before every packet.
pub(crate) fn of(document: &Document) -> String {
    let gets = |share: &&Share| {
        let mut sheets = share.sheets.iter().chain(share.appendix);
        document.name == cover::DOCUMENT.name || sheets.any(|sheet| sheet.name == document.name)
    };
    let words: Vec<String> = SHARES.iter().filter(gets).map(|share| share.reader.word().to_owned()).collect();
    if words.len() == SHARES.len() { "everyone".to_owned() } else { list(&words, "and") }
}
