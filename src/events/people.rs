//! What is reported of people and by the clock: arming and disarming, the threat, tests.

use super::{About, Number, Report, Sent};
use crate::model::Site;

/// Reports of every area, then those of the site as one.
pub(super) fn reports(site: &Site) -> Vec<Report> {
    let mut reports = Vec::new();
    for (id, _) in site.areas.entries() {
        let of_area = |code, sent| Report { about: About::Area(id), code, sent, number: Number::User, area: Some(id) };
        reports.extend([
            of_area(401, Sent::Both),
            of_area(441, Sent::Closing),
            of_area(406, Sent::New),
            of_area(459, Sent::New),
        ]);
    }
    let of_site = |code, number| Report { about: About::Site, code, sent: Sent::New, number, area: None };
    let monitoring = site.monitoring.as_ref();
    if monitoring.is_some_and(|monitoring| monitoring.duress) {
        reports.push(of_site(121, Number::User));
    }
    reports.push(of_site(601, Number::Zero));
    if monitoring.is_some_and(|monitoring| monitoring.test_every.is_some()) {
        reports.push(of_site(602, Number::Zero));
    }
    reports
}
