//! What was measured, by date.

use super::{Lower, Top};
use crate::base::Spanned;
use crate::model::{Measured, MeasuredLoop};
use crate::quantity::{Ohms, Volts};
use crate::schema::Reading;
use crate::terms::Seen;

impl Lower<'_> {
    pub(super) fn measured_list(&mut self, tops: &[Top<'_>]) {
        let mut found: Vec<Measured> = tops
            .iter()
            .filter(|(reading, _)| reading.spec.name == "measured")
            .filter_map(|(reading, _)| measured_of(reading))
            .collect();
        found.sort_by_key(|measured| (measured.date.value, measured.date.span));
        self.site.measured = found;
    }
}

fn measured_of(reading: &Reading) -> Option<Measured> {
    let volts = |child: &Reading, name: &str| Some((child.text(name)?, child.quantity::<Volts>("volts")));
    Some(Measured {
        date: reading.date("date")?,
        meter: reading.text("meter").map(|meter| meter.value),
        loops: reading.all("loop").filter_map(loop_of).collect(),
        devices: reading.all("device").filter_map(|child| volts(child, "name")).collect(),
        batteries: reading.all("battery").filter_map(|child| volts(child, "board")).collect(),
    })
}

fn loop_of(reading: &Reading) -> Option<MeasuredLoop> {
    let open = reading.flag("open").then_some(reading.name_span);
    Some(MeasuredLoop {
        zone: reading.count("zone")?,
        state: reading.word("state", Seen::from_word)?.value,
        of: reading.text("of"),
        ohms: reading.quantity::<Ohms>("ohms").or(open.map(|span| Spanned::new(Ohms(f64::INFINITY), span))),
        open,
        volts: reading.quantity::<Volts>("volts"),
    })
}
