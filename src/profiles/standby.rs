//! How long a site must live on its battery, by profile: value, document, edition, clause, how sure.
//!
//! Profile figures, printed as such; never legal advice. Where a document says nothing of a figure that the arithmetic
//! needs, common practice stands in and says so. Out of scope: the arithmetic (`calc::power::standby`).

use crate::model::Site;
use crate::terms::{Profile, Senses, ZoneType};

use super::source::{Figure, Known, NOT_NAMED, Source};

/// What a profile asks of the standby supply.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standby {
    /// The profile.
    pub profile: Profile,
    /// What it holds for.
    pub of: &'static str,
    /// Seconds at rest.
    pub standby: Figure,
    /// Seconds in alarm after that.
    pub alarm: Figure,
    /// Factor on the sum of current and time.
    pub margin: Figure,
    /// Seconds to charge again.
    pub recharge: Figure,
    /// Share of the capacity that must then be back.
    pub recharge_share: Figure,
}

const HOUR: f64 = 3600.0;
const MINUTE: f64 = 60.0;

const fn published(
    value: f64,
    document: &'static str,
    edition: &'static str,
    clause: &'static str,
    known: Known,
) -> Figure {
    Figure::new(value, Source::new(document, edition, clause, known))
}

const fn borrowed(value: f64, from: &'static str) -> Figure {
    Figure::new(value, Source::borrowed(from))
}

const fn practice(value: f64) -> Figure {
    Figure::practice(value)
}

const UL_985: &str = "UL 985, 6th edition";
const UL_1023: &str = "UL 1023";
const EN_50131: &str = "EN 50131-1 and EN 50131-6";

const HOUSEHOLD_FIRE: Standby = Standby {
    profile: Profile::UsHousehold,
    of: "a household with fire zones",
    standby: published(24.0 * HOUR, "NFPA 72", NOT_NAMED, "", Known::InPart),
    alarm: published(4.0 * MINUTE, "NFPA 72", NOT_NAMED, "", Known::InPart),
    margin: borrowed(
        1.25,
        "taken from NFPA 72, 2022 edition, chapter 10, which the household chapter does not call in",
    ),
    recharge: published(48.0 * HOUR, UL_985, "", "", Known::FromMemory),
    recharge_share: practice(1.0),
};

/// As far as the edition of 2019.
const HOUSEHOLD_FIRE_EARLIER: Standby = Standby {
    margin: borrowed(
        1.2,
        "taken from NFPA 72, 2010 to 2019 editions, chapter 10, which the household chapter does not call in",
    ),
    ..HOUSEHOLD_FIRE
};

/// Carbon monoxide systems were asked for 24 h first by NFPA 720, 2015 edition; NFPA 72 took that over. How long the alarm
/// must last after that is not sure, so practice stands in.
const HOUSEHOLD_CARBON_MONOXIDE: Standby = Standby {
    profile: Profile::UsHousehold,
    of: "a household with carbon monoxide detectors and no fire zones",
    standby: published(24.0 * HOUR, "NFPA 720", "2015 edition, since then in NFPA 72", "", Known::Summary),
    alarm: borrowed(4.0 * MINUTE, "as for fire: what is asked for carbon monoxide is not sure"),
    margin: HOUSEHOLD_FIRE.margin,
    recharge: practice(48.0 * HOUR),
    recharge_share: practice(1.0),
};

/// As far as the edition of 2019.
const HOUSEHOLD_CARBON_MONOXIDE_EARLIER: Standby =
    Standby { margin: HOUSEHOLD_FIRE_EARLIER.margin, ..HOUSEHOLD_CARBON_MONOXIDE };

/// The first edition with the larger factor.
const LARGER_FACTOR: u32 = 2022;

const HOUSEHOLD: Standby = Standby {
    profile: Profile::UsHousehold,
    of: "a household without fire zones and carbon monoxide detectors",
    standby: published(4.0 * HOUR, UL_1023, NOT_NAMED, "", Known::InPart),
    alarm: published(4.0 * MINUTE, UL_1023, NOT_NAMED, "", Known::FromMemory),
    margin: practice(1.25),
    recharge: practice(48.0 * HOUR),
    recharge_share: practice(1.0),
};

const fn grade(profile: Profile, of: &'static str, hours: f64, recharge: f64, known: Known) -> Standby {
    Standby {
        profile,
        of,
        standby: published(hours * HOUR, EN_50131, NOT_NAMED, "", known),
        alarm: published(15.0 * MINUTE, "EN 50131-1", NOT_NAMED, "", Known::FromMemory),
        margin: practice(1.0),
        recharge: published(recharge * HOUR, EN_50131, NOT_NAMED, "", Known::FromMemory),
        recharge_share: published(0.8, EN_50131, NOT_NAMED, "", Known::FromMemory),
    }
}

const PRACTICE: Standby = Standby {
    profile: Profile::Practice,
    of: "any house",
    standby: practice(24.0 * HOUR),
    alarm: practice(5.0 * MINUTE),
    margin: practice(1.25),
    recharge: practice(48.0 * HOUR),
    recharge_share: practice(1.0),
};

/// Every row, by profile.
pub static STANDBY: &[Standby] = &[
    HOUSEHOLD_FIRE,
    HOUSEHOLD_FIRE_EARLIER,
    HOUSEHOLD_CARBON_MONOXIDE,
    HOUSEHOLD_CARBON_MONOXIDE_EARLIER,
    HOUSEHOLD,
    grade(Profile::EuGrade1, "grade 1, battery charged by the system", 12.0, 72.0, Known::FromMemory),
    grade(Profile::EuGrade2, "grade 2, battery charged by the system", 12.0, 72.0, Known::FromMemory),
    grade(
        Profile::EuGrade3,
        "grade 3, battery charged by the system; 30 hours at rest are enough where a mains failure is reported to a receiving centre",
        60.0,
        24.0,
        Known::Unsure,
    ),
    PRACTICE,
];

/// True where a zone is for fire, smoke or heat, by its type or by what a detector in it senses.
pub fn has_fire_zones(site: &Site) -> bool {
    detects(site, &[ZoneType::Fire, ZoneType::Smoke, ZoneType::Heat], &[Senses::Smoke, Senses::Heat])
}

fn senses_carbon_monoxide(site: &Site) -> bool {
    detects(site, &[ZoneType::CarbonMonoxide], &[Senses::CarbonMonoxide])
}

/// True where a zone in use is of one of the types, or has a detector that senses one of these whatever its type.
fn detects(site: &Site, kinds: &[ZoneType], senses: &[Senses]) -> bool {
    site.zones_in_use().any(|(id, zone)| {
        zone.kind.as_ref().is_some_and(|kind| kinds.contains(&kind.value))
            || site.devices_of(id).any(|(device, _)| site.senses(device).is_some_and(|what| senses.contains(&what)))
    })
}

/// The row for a site: that of its profile, common practice where it names none.
pub fn of_site(site: &Site) -> &'static Standby {
    let profile = site.profile.unwrap_or(Profile::Practice);
    let earlier = site.edition.is_some_and(|year| year < LARGER_FACTOR);
    match profile {
        Profile::UsHousehold => match (has_fire_zones(site), senses_carbon_monoxide(site)) {
            (true, _) if earlier => &HOUSEHOLD_FIRE_EARLIER,
            (true, _) => &HOUSEHOLD_FIRE,
            (false, true) if earlier => &HOUSEHOLD_CARBON_MONOXIDE_EARLIER,
            (false, true) => &HOUSEHOLD_CARBON_MONOXIDE,
            (false, false) => &HOUSEHOLD,
        },
        other @ (Profile::EuGrade1 | Profile::EuGrade2 | Profile::EuGrade3 | Profile::Practice) => {
            STANDBY.iter().find(|row| row.profile == other).unwrap_or(&PRACTICE)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_profile_has_a_row_with_figures_above_nothing() {
        for profile in Profile::ALL {
            assert!(STANDBY.iter().any(|row| row.profile == *profile), "{profile:?}");
        }
        for row in STANDBY {
            for figure in [row.standby, row.alarm, row.margin, row.recharge, row.recharge_share] {
                assert!(figure.value > 0.0, "{row:?}");
            }
        }
    }
}
