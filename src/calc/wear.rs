//! What wears out and when it is due, what comes due again and again: days of the spec plus lives and intervals of the
//! spec, or of common practice. There is no clock here.
//!
//! Terms: *wear* is a thing with a day and a life. A time of whole months or years is counted by the calendar, any other in
//! days; what falls on a day that its month has not falls on the month's last day.

use jiff::Span;
use jiff::civil::Date;

use crate::base::{Id, Spanned};
use crate::model::{Battery, Board, Device, DeviceKind, Site};
use crate::profiles::source::Figure;
use crate::profiles::upkeep;
use crate::quantity::Seconds;
use crate::quantity::unit::{DAY, MONTH};
use crate::terms::Senses;

/// The longest time that is counted: 200 years. A longer one is a slip.
const MOST_DAYS: f64 = 73_050.0;

/// A time as the calendar counts it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Period {
    /// Whole months, at least one.
    Months(i32),
    /// Whole days, at least one.
    Days(i32),
}

impl Period {
    /// A time of the spec; `None` where it is longer than anything serves.
    pub(crate) fn of(time: Seconds) -> Option<Self> {
        if time.0 > MOST_DAYS * DAY {
            return None;
        }
        let whole = |unit: f64| format!("{:.0}", (time.0 / unit).floor().max(1.0)).parse().ok();
        if time.0 >= MONTH && time.0 % MONTH == 0.0 {
            whole(MONTH).map(Self::Months)
        } else {
            whole(DAY).map(Self::Days)
        }
    }

    /// A row of the profiles in months.
    fn of_row(months: Figure) -> Option<Self> {
        Self::of(Seconds(months.value * MONTH))
    }

    /// The first day behind `past` of those that come again and again since another.
    pub(crate) fn next(self, since: Date, past: Date) -> Option<Date> {
        let many = |times: i32| match self {
            Self::Months(months) => Some(Self::Months(months.checked_mul(times)?)),
            Self::Days(days) => Some(Self::Days(days.checked_mul(times)?)),
        };
        // Counted from the first each time: the last of a month must not creep.
        (1..).map_while(|times| many(times)?.after(since)).find(|day| *day > past)
    }

    /// The day that comes so long after another; `None` past the calendar's end.
    pub(crate) fn after(self, day: Date) -> Option<Date> {
        let span = match self {
            Self::Months(months) => Span::new().try_months(months),
            Self::Days(days) => Span::new().try_days(days),
        };
        day.checked_add(span.ok()?).ok()
    }
}

/// A thing that wears out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Worn {
    /// A board's battery: those of `count=`, or one of the further ones by its position.
    Battery(Id<Board>, Option<usize>),
    /// The battery that a siren, lock or other wired device has of its own.
    OwnBattery(Id<Device>),
    /// The battery of a wireless detector.
    Transmitter(Id<Device>),
    /// A detector, by its day of making.
    Detector(Id<Device>),
}

/// What a life or an interval rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Rests {
    /// The spec, which has it from a sheet, a label or its writer.
    OnSpec,
    /// A row of the profiles.
    OnPractice(Figure),
}

/// A thing, since when it is there and how long it serves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Wear {
    /// The thing.
    pub(crate) worn: Worn,
    /// The day it was put in, of a detector the day it was made.
    pub(crate) since: Option<Date>,
    /// How long it serves; `None` where neither spec nor practice says.
    pub(crate) life: Option<Period>,
    /// What that rests on.
    pub(crate) rests: Rests,
}

impl Wear {
    /// The day on which it is to be replaced.
    pub(crate) fn due(&self) -> Option<Date> {
        self.life?.after(self.since?)
    }
}

/// Everything that wears out: batteries of boards, then devices, each in the order of the site.
pub(crate) fn of_site(site: &Site) -> Vec<Wear> {
    let mut found = Vec::new();
    for (id, board) in site.boards.entries() {
        found.extend(board.battery.iter().flat_map(|battery| batteries(id, battery)));
    }
    for (id, device) in site.devices.entries() {
        if let Some(installed) = device.own_battery() {
            found.push(wear(Worn::OwnBattery(id), Some(installed), None, upkeep::BATTERY));
        }
        let part = site.device_part(id);
        if device.kind == DeviceKind::Wireless {
            let life = part.and_then(|part| part.radio.as_ref()?.battery_life);
            found.push(wear(Worn::Transmitter(id), device.battery, life, upkeep::TRANSMITTER));
        }
        let age = part.and_then(|part| part.replace_after);
        let ages = age.is_some() || device.made.is_some() || part.is_some_and(|part| part.senses.is_some_and(fades));
        if ages && matches!(device.kind, DeviceKind::Detector | DeviceKind::Wireless) {
            let life = age.and_then(Period::of);
            found.push(Wear { worn: Worn::Detector(id), since: device.made, life, rests: Rests::OnSpec });
        }
    }
    found
}

fn batteries(board: Id<Board>, battery: &Battery) -> impl Iterator<Item = Wear> {
    let of = move |nth, installed| wear(Worn::Battery(board, nth), installed, battery.replace_after, upkeep::BATTERY);
    let others = battery.others.iter().enumerate().map(move |(nth, other)| of(Some(nth), other.installed));
    std::iter::once(of(None, battery.installed)).chain(others)
}

fn wear(worn: Worn, since: Option<Date>, life: Option<Seconds>, usual: Figure) -> Wear {
    let (life, rests) = every(life, usual);
    Wear { worn, since, life, rests }
}

/// A time of the spec, or where it gives none a row of the profiles in months.
pub(crate) fn every(written: Option<Seconds>, usual: Figure) -> (Option<Period>, Rests) {
    match written {
        Some(time) => (Period::of(time), Rests::OnSpec),
        None => (Period::of_row(usual), Rests::OnPractice(usual)),
    }
}

/// True for a sense that fades with the years, so that a listing limits its age.
fn fades(senses: Senses) -> bool {
    match senses {
        Senses::Smoke | Senses::CarbonMonoxide | Senses::Gas => true,
        Senses::Opening
        | Senses::Motion
        | Senses::Glass
        | Senses::Vibration
        | Senses::Step
        | Senses::Heat
        | Senses::Water
        | Senses::Temperature
        | Senses::Button
        | Senses::Tamper
        | Senses::Supply => false,
    }
}

/// The latest day that the spec speaks of: that of its revision or of its last readings.
pub(crate) fn latest_day(site: &Site) -> Option<Spanned<Date>> {
    let revision = site.revision.as_ref().and_then(|revision| revision.date);
    let readings = site.measured.last().map(|measured| measured.date);
    revision.into_iter().chain(readings).max_by_key(|day| day.value)
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn months_follow_the_calendar_and_days_are_counted() {
        let year = Period::of(Seconds(31_557_600.0)).unwrap();
        assert_eq!(year, Period::Months(12));
        assert_eq!(year.after(date(2028, 2, 29)), Some(date(2029, 2, 28)));
        assert_eq!(Period::Months(48).after(date(2028, 2, 29)), Some(date(2032, 2, 29)));
        assert_eq!(Period::Months(1).after(date(2027, 1, 31)), Some(date(2027, 2, 28)));
        // 1095 days are a day short of three years with a leap day in them.
        let days = Period::of(Seconds(1095.0 * DAY)).unwrap();
        assert_eq!(days.after(date(2027, 3, 14)), Some(date(2030, 3, 13)));
        assert_eq!(Period::of(Seconds(60.0)), Some(Period::Days(1)));
        assert_eq!(Period::of(Seconds(1e12)), None);
        assert_eq!(year.after(Date::MAX), None);
        // What comes again keeps its day, whenever somebody asks.
        let first = date(2028, 2, 29);
        for (asked, next) in
            [(first, (2029, 2, 28)), (date(2029, 2, 20), (2029, 2, 28)), (date(2031, 3, 2), (2032, 2, 29))]
        {
            assert_eq!(year.next(first, asked), Some(date(next.0, next.1, next.2)));
        }
        assert_eq!(year.next(first, Date::MAX), None);
    }
}
