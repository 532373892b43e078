//! What was measured on site: readings are judged against the wall, they are no facts of it.

use super::item::{Printed, record};
use super::number::{Bound, Number};
use crate::base::Spanned;
use crate::model;
use crate::quantity::Volts;

record! {
    /// Readings taken on one day.
    Measured {
        /// The day, as year-month-day.
        date: Printed<jiff::civil::Date>,
        /// Which meter.
        meter: Option<String>,
        /// Readings of loops.
        loops: Vec<MeasuredLoop>,
        /// Volts at devices and boards.
        devices: Vec<MeasuredVolts>,
        /// Volts of batteries, by board.
        batteries: Vec<MeasuredVolts>,
    }

    /// A reading of a loop.
    MeasuredLoop {
        /// The zone's number.
        zone: u32,
        /// What state the loop was in: "rest", "alarm" or "cover".
        state: &'static str,
        /// The opening or device that was in alarm or open.
        of: Option<String>,
        /// Ohms with the leads off: null for no connection; absent where they were not taken.
        ohms: Option<Bound>,
        /// Volts with the leads on; absent where they were not taken.
        volts: Option<Volts>,
    }

    /// Volts at a thing.
    MeasuredVolts {
        /// Its name.
        name: String,
        /// Absent where they were not taken.
        volts: Option<Volts>,
    }
}

impl Measured {
    /// The readings of one day.
    pub(crate) fn of(measured: &model::Measured) -> Self {
        let model::Measured { date, meter, loops, devices, batteries } = measured;
        let volts = |list: &[(Spanned<String>, Option<Spanned<Volts>>)]| {
            list.iter()
                .map(|(name, volts)| MeasuredVolts {
                    name: name.value.clone(),
                    volts: volts.as_ref().map(|volts| volts.value),
                })
                .collect()
        };
        Self {
            date: Printed(date.value),
            meter: meter.clone(),
            loops: loops.iter().map(of_loop).collect(),
            devices: volts(devices),
            batteries: volts(batteries),
        }
    }
}

/// Every reading with its day and meter, as text: two that are alike have the same.
pub(crate) fn lines(site: &model::Site) -> Vec<String> {
    let of_record = |measured: &model::Measured| {
        let Measured { date, meter, loops, devices, batteries } = Measured::of(measured);
        let line = |of: &str, reading: serde_json::Result<String>| {
            format!("{} {meter:?} {of} {}", date.0, reading.unwrap_or_default())
        };
        let loops = loops.iter().map(|one| line("loop", serde_json::to_string(one)));
        let devices = devices.iter().map(|one| line("device", serde_json::to_string(one)));
        let batteries = batteries.iter().map(|one| line("battery", serde_json::to_string(one)));
        loops.chain(devices).chain(batteries).collect::<Vec<_>>()
    };
    site.measured.iter().flat_map(of_record).collect()
}

fn of_loop(reading: &model::MeasuredLoop) -> MeasuredLoop {
    let model::MeasuredLoop { zone, state, of, ohms, open: _, volts } = reading; // open is infinite ohms
    MeasuredLoop {
        zone: zone.value,
        state: state.word(),
        of: of.as_ref().map(|of| of.value.clone()),
        ohms: ohms.as_ref().map(|ohms| Bound(Number::of(ohms.value.0))),
        volts: volts.as_ref().map(|volts| volts.value),
    }
}
