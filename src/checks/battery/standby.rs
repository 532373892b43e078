//! The boards with a supply of their own, with what their batteries must carry, for the rules on battery, charger and
//! transformer.

use crate::base::Id;
use crate::calc::ambient;
use crate::calc::power::own_supply::{self, Currents};
use crate::calc::power::standby::{self, Requirement};
use crate::calc::power::{Demand, Supply, trees};
use crate::checks::Context;
use crate::checks::supply::power_verdict::out_of_range;
use crate::diag::Diagnostic;
use crate::model::{Battery, Board, Part, Site};
use crate::profiles::battery as published;
use crate::profiles::standby::{Standby, of_site};
use crate::quantity::{AmpereHours, Amperes, Celsius, Seconds};
use crate::terms::Bank;
use crate::words::{self, Screen};

/// A board with a supply of its own.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Head<'s> {
    /// Which.
    pub(crate) id: Id<Board>,
    /// The board.
    pub(crate) board: &'s Board,
    /// Its part.
    pub(crate) part: &'s Part,
    /// What it stands in.
    pub(super) context: Context<'s>,
}

/// The boards with a supply of their own of whose parts nothing was reported.
pub(crate) fn heads(context: Context<'_>) -> impl Iterator<Item = Head<'_>> {
    let site = context.site;
    trees::heads(site).filter_map(move |id| {
        let part = site.part_of(id).filter(|part| part.whole)?;
        Some(Head { id, board: &site.boards[id], part, context })
    })
}

/// Those of which the load is known: a device that takes many times what its supply gives is a finding of its own.
pub(crate) fn loaded(context: Context<'_>) -> impl Iterator<Item = Head<'_>> {
    heads(context).filter(move |head| context.power.of_board(head.id).all(|feeding| out_of_range(feeding).is_none()))
}

impl Head<'_> {
    /// Its battery, alone and with those beside it; `None` where it has none.
    pub(crate) fn battery(&self, site: &Site) -> Option<(&Battery, standby::Bank)> {
        Some((self.board.battery.as_ref()?, standby::Bank::of(site, self.id)?))
    }

    /// What its battery must carry. Many rules need it of few boards, so it is computed when it is asked.
    pub(crate) fn currents(&self) -> Currents {
        standby::currents(self.context.site, self.context.power, self.id)
    }

    /// The profile's row.
    pub(crate) fn row(&self) -> &'static Standby {
        of_site(self.context.site)
    }

    /// What the profile asks.
    pub(crate) fn requirement(&self) -> Requirement {
        Requirement::from(self.row())
    }

    /// The greatest capacity that its charger fills in the time that is allowed, where that is less than this one; `None` where
    /// it fills this one, and where it has no charger.
    pub(crate) fn fills_only(&self, capacity: AmpereHours) -> Option<AmpereHours> {
        let (requirement, charger) = (self.requirement(), self.part.charger.as_ref()?);
        let hour = requirement.recharge_time(AmpereHours(1.0), charger.current);
        let most = AmpereHours(requirement.recharge.0 / hour.0);
        // What prints as the time that is allowed is that time.
        (capacity.0 > most.0 * (1.0 + 1e-9)).then_some(most)
    }

    /// "24 hours at rest and 4 minutes of alarm".
    pub(crate) fn times(&self) -> String {
        let Requirement { standby, alarm, .. } = self.requirement();
        format!("{} at rest and {} of alarm", Seconds(standby.0), Seconds(alarm.0))
    }

    /// The sum of current and time with the figures put in, and where they come from.
    pub(crate) fn figures(&self, context: Context<'_>, finding: Diagnostic) -> Diagnostic {
        let Currents { idle, alarm } = self.currents();
        let requirement = self.requirement();
        let mut finding = finding;
        for (what, idle, alarm) in items(context, self) {
            finding = finding.figure(format!("{what}: {idle} at rest, {alarm} in alarm"));
        }
        let (summed, asked) = (requirement.summed(self.currents()), requirement.asked(self.currents()));
        let finding = finding
            .figure(format!(
                "{idle} × {} + {alarm} × {} = {}; × {} = {}",
                requirement.standby,
                requirement.alarm,
                ampere_hours(requirement.load(self.currents())),
                requirement.margin,
                words::needed_capacity(summed)
            ))
            .figure(format!("profile {}, {}: {}", self.row().profile.word(), self.row().of, sources(self.row())));
        if asked <= summed {
            return finding;
        }
        finding.figure(format!(
            "a battery that is discharged in this time gives less than at its {} h rate: {} to last it, new and warm (Peukert with exponent {}: {})",
            published::RATED_HOURS.value,
            words::needed_capacity(asked),
            standby::PEUKERT,
            published::PEUKERT.source()
        ))
    }
}

/// Where the times and the factor of a profile's row come from.
fn sources(row: &Standby) -> String {
    [("at rest", row.standby), ("alarm", row.alarm), ("factor", row.margin)]
        .map(|(what, figure)| format!("{what} {}", figure.source()))
        .join("; ")
}

/// Rounded down to what [`ampere_hours`] prints, so that what is printed as the most is no more than that.
pub(crate) fn down_to_tenths(capacity: AmpereHours) -> AmpereHours {
    AmpereHours((capacity.0 * 10.0).floor() / 10.0)
}

/// Ampere-hours to a tenth: sums, not ratings.
pub(crate) fn ampere_hours(capacity: AmpereHours) -> String {
    format!("{:.1} Ah", capacity.0)
}

/// What draws on a board's battery: itself, its outputs, its bus ports, its two-wire loops, each with its currents in words.
fn items(context: Context<'_>, head: &Head<'_>) -> Vec<(String, Amperes, Amperes)> {
    let Context { site, power, .. } = context;
    let mut items = Vec::new();
    if let Some(draw) = &head.part.draw {
        let volts = own_supply::end_of_battery(head.part);
        items.push(("the board itself".to_owned(), draw.idle.at(volts), draw.alarm.at(volts)));
    }
    for feeding in power.of_board(head.id) {
        let [idle, alarm] = [Demand::Idle, Demand::Alarm].map(|demand| feeding.current_on(Supply::Battery, demand));
        if alarm.0 > 0.0 || idle.0 > 0.0 {
            let raising = words::raising(&feeding.tree).map_or_else(String::new, |raising| format!(" ({raising})"));
            items.push((format!("{}{raising}", Screen.outlet(site, feeding.tree.source)), idle, alarm));
        }
    }
    let loops = own_supply::loops(site, head.id, Supply::Battery);
    if loops.idle.0 > 0.0 {
        items.push((words::two_wire_loops(site, head.id), loops.idle, loops.alarm));
    }
    items
}

/// "18 Ah", "2 × 7 Ah side by side", "2 × 7 Ah in series".
pub(crate) fn fitted(battery: &Battery, bank: standby::Bank) -> String {
    match (battery.count, bank.in_series) {
        _ if battery.wired.is_some() || !battery.others.is_empty() => words::battery(battery),
        (1, _) => battery.capacity.value.to_string(),
        (count, 1) => format!("{count} × {} side by side", battery.capacity.value),
        (2, _) => format!("2 × {} in series", battery.capacity.value),
        (count, series) => format!("{count} × {}, {series} and {series} in series", battery.capacity.value),
    }
}

/// The `battery` to write and what it has: one, or as many in series as the board needs, or several of those. `None` where
/// the trade has none that is enough.
fn battery(needed: AmpereHours, in_series: u32) -> Option<(String, AmpereHours)> {
    (1..=MOST_BATTERIES / in_series).find_map(|beside| {
        let size = standby::standard_size(needed * (1.0 / f64::from(beside)))?;
        let count = match beside * in_series {
            1 => String::new(),
            count => format!(" count={count} wired=\"{}\"", wired(count, in_series).word()),
        };
        Some((format!("battery capacity=(Ah){}{count}", size.0), size * f64::from(beside)))
    })
}

/// The `battery` that is enough when it is old and cold as well, so that nobody buys twice; `None` where the trade has none,
/// it is too cold there, or the board's charger does not fill it in time.
pub(crate) fn with_reserve(context: Context<'_>, head: &Head<'_>, in_series: u32, coldest: Celsius) -> Option<String> {
    let (requirement, currents) = (head.requirement(), head.currents());
    let cold = ambient::of_room(context.site, head.board.room).cold;
    let advised = requirement.advised(currents, cold).filter(|_| cold >= coldest)?;
    let needed = AmpereHours(advised.0.max(requirement.asked(currents).0));
    let (text, has) = battery(needed, in_series)?;
    head.fills_only(has).is_none().then_some(text)
}

/// How several batteries are wired of which so many stand in series.
fn wired(count: u32, in_series: u32) -> Bank {
    match in_series {
        1 => Bank::Parallel,
        series if series == count => Bank::Series,
        _ => Bank::SeriesPairs,
    }
}

/// The most batteries that are advised for one board.
const MOST_BATTERIES: u32 = 4;

/// What to do so that a board has the capacity that it needs; `say` puts the `battery` to write into a sentence. A need
/// that no battery of the trade meets is no need but a figure that is out of range, and that is said instead.
pub(crate) fn advice(
    context: Context<'_>,
    head: &Head<'_>,
    needed: AmpereHours,
    in_series: u32,
    say: impl FnOnce(String) -> String,
) -> String {
    if let Some((battery, has)) = battery(needed, in_series) {
        let least = AmpereHours((needed.0 * 10.0).ceil() / 10.0);
        return match head.fills_only(has).map(down_to_tenths) {
            Some(most) if least <= most => format!(
                "Take one of {} to {}: the charger does not fill more in the time that is allowed.",
                ampere_hours(least),
                ampere_hours(most)
            ),
            Some(most) => format!(
                "{}. The charger fills {} at most in the time that is allowed, so a stronger charger is needed as well.",
                say(battery).trim_end_matches('.'),
                ampere_hours(most)
            ),
            None => say(battery),
        };
    }
    let greatest = standby::STANDARD_SIZES.into_iter().fold(0.0, f64::max) * f64::from(MOST_BATTERIES / in_series);
    let most = items(context, head).into_iter().max_by(|(_, one, _), (_, other, _)| one.0.total_cmp(&other.0));
    let most = most.map_or_else(String::new, |(what, idle, _)| {
        format!(" Most of it goes to {what}, {idle} at rest: hold that figure against the sheet.")
    });
    format!(
        "{} is out of range for a house: {MOST_BATTERIES} batteries of the trade have {greatest:.0} Ah at most.{most} If it is right, feed it from a supply of its own.",
        words::needed_capacity(needed)
    )
}

/// Says which board a finding is about.
pub(crate) fn about(head: &Head<'_>, finding: Diagnostic) -> Diagnostic {
    finding.about(&head.board.name.value)
}
