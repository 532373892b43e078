//! Battery, charger and transformer of a board: what is asked, what is fitted, how long it lasts.

use serde::Serialize;

use super::bar;
use crate::base::Id;
use crate::calc::ambient;
use crate::calc::power::own_supply::{self, Currents};
use crate::calc::power::standby::{self, Bank, COLDEST, RATED_TEMPERATURE as WARM, Requirement};
use crate::calc::power::transformer::{self, Asked};
use crate::compiled::Compiled;
use crate::model::{Board, Site};
use crate::profiles::battery as published;
use crate::profiles::standby::{self as profile, Standby};
use crate::quantity::{AmpereHours, Amperes, Celsius, Ratio, Seconds, Volts};
use crate::words;

/// One figure.
#[derive(Debug, Serialize)]
pub(crate) struct Line {
    pub(crate) what: &'static str,
    pub(crate) figure: String,
    pub(crate) how: String,
}

/// How long the battery lasts in one state.
#[derive(Debug, Serialize)]
pub(crate) struct Hours {
    pub(crate) state: String,
    pub(crate) time: String,
    pub(crate) enough: &'static str,
    /// The formula with numbers put in.
    pub(crate) how: String,
    bar: String,
}

/// The figures of a board.
pub(crate) fn lines(compiled: &Compiled, board: Id<Board>, currents: Currents) -> Vec<Line> {
    let site = &compiled.site;
    let (row, item) = (profile::of_site(site), &site.boards[board]);
    let requirement = Requirement::from(row);
    let cold = ambient::of_room(site, item.room).cold;
    let (load, asked) = (requirement.load(currents), requirement.asked(currents));
    let bank = Bank::of(site, board);
    let limit = bank.map_or(COLDEST, |bank| bank.coldest);
    let advised = requirement.advised(currents, cold).filter(|_| cold >= limit);
    let line = |what, figure: String, how: String| Line { what, figure, how };
    let mut lines = vec![
        line("time asked for", times(row), sources(row)),
        line(
            "charge that takes",
            load.to_string(),
            format!("{} × {} + {} × {}", currents.idle, requirement.standby, currents.alarm, requirement.alarm),
        ),
        line(
            "battery asked for",
            size(asked),
            format!(
                "with the factor {} ({}){}",
                requirement.margin,
                row.margin.source(),
                by_rate(&requirement, currents)
            ),
        ),
        match advised {
            Some(advised) => line(
                "battery advised",
                size(advised),
                format!(
                    "at {cold} ({} of the capacity at {WARM} left, in the times that the battery lasts too: {}), at the end of its life ({} % left: {}) and at the currents that flow (Peukert {}: {}); the factor counts as ageing, so both are not multiplied",
                    Ratio((standby::temperature_factor(cold).unwrap_or_default() * 1000.0).round() / 1000.0),
                    published::COLD[0].source(),
                    standby::AGED * 100.0,
                    published::AGED.source(),
                    standby::PEUKERT,
                    published::PEUKERT.source()
                ),
            ),
            None => line("battery advised", "not computed".to_owned(), too_cold(cold, limit)),
        },
    ];
    lines.extend(end(compiled, board));
    let fitted = item.battery.as_ref().map_or_else(|| "none".to_owned(), words::battery);
    let together = item.battery.as_ref().zip(bank).filter(|(battery, _)| battery.total() > 1);
    let fitted = match together {
        Some((_, bank)) => format!("{fitted}: {}, {}", words::rated(bank.volts), bank.capacity),
        None => fitted,
    };
    let verdict = verdict(bank.map(|bank| bank.capacity), asked, advised);
    let verdict = if standby::is_counted(site, board) || bank.is_none() {
        verdict
    } else {
        "not known: no sheet says what the board takes"
    };
    lines.push(line("battery fitted", fitted, verdict.to_owned()));
    lines.extend(charger(compiled, board, row));
    lines.extend(transformer_line(compiled, board));
    lines
}

/// Where the times come from, once where both come from one place.
fn sources(row: &Standby) -> String {
    let (standby, alarm) = (row.standby.source(), row.alarm.source());
    if standby == alarm {
        format!("profile figures for {}: {standby}", row.of)
    } else {
        format!("profile figures for {}: at rest {standby}; in alarm {alarm}", row.of)
    }
}

/// Why more is asked than the profile's sum comes to; empty where it is not.
fn by_rate(requirement: &Requirement, currents: Currents) -> String {
    let (summed, asked) = (requirement.summed(currents), requirement.asked(currents));
    if asked <= summed {
        return String::new();
    }
    format!(
        " {}, and to last the time at the currents that flow {} (Peukert {}: {})",
        words::needed_capacity(summed),
        words::needed_capacity(asked),
        standby::PEUKERT,
        published::PEUKERT.source()
    )
}

fn times(row: &Standby) -> String {
    format!("{} at rest, then {} in alarm", row.standby.time(), row.alarm.time())
}

fn size(least: AmpereHours) -> String {
    let size = standby::standard_size(least);
    let size = size.map_or_else(|| "more than one".to_owned(), |size| size.to_string());
    format!("{}: size {size}", words::needed_capacity(least))
}

fn too_cold(cold: Celsius, limit: Celsius) -> String {
    format!("the place gets as cold as {cold}, and the battery is counted on down to {limit}")
}

fn verdict(fitted: Option<AmpereHours>, asked: AmpereHours, advised: Option<AmpereHours>) -> &'static str {
    match fitted {
        None => "the spec names none",
        Some(fitted) if fitted.0 < asked.0 => "less than is asked for",
        Some(_) if advised.is_none() => "as much as is asked for while it is warm",
        Some(fitted) if advised.is_some_and(|advised| fitted.0 < advised.0) => {
            "as much as is asked for, less than is advised"
        }
        Some(_) => "enough, also old and in the cold",
    }
}

/// What the volts at the end of a board's battery rest on.
pub(crate) fn end_of_battery(compiled: &Compiled, board: Id<Board>) -> Option<String> {
    end(compiled, board).map(|line| line.how)
}

/// The volts of the battery at its end, behind what the board loses.
fn end(compiled: &Compiled, board: Id<Board>) -> Option<Line> {
    let part = compiled.site.part_of(board)?;
    let nominal = Volts(own_supply::cells(part) * 2.0);
    let (end, drop) = (own_supply::end_of_battery(part), own_supply::own_drop(part));
    let start = Volts(nominal.0 * published::FIRE_START.value);
    let cut_off = part.charger.as_ref().is_some_and(|charger| charger.cut_off.is_some());
    let whence = if cut_off {
        "where the board lets go of it, by its sheet".to_owned()
    } else {
        format!("end of its cells: {}", published::END_OF_CELL.source())
    };
    let lost = if drop.0 > 0.0 { format!(", less {drop} that the board loses by its sheet") } else { String::new() };
    let listed = if profile::has_fire_zones(&compiled.site) {
        format!("; listed fire equipment is computed from {start} ({})", published::FIRE_START.source())
    } else {
        String::new()
    };
    Some(Line {
        what: "volts at the end of the battery",
        figure: Volts(end.0 - drop.0).to_string(),
        how: whence + &lost + &listed,
    })
}

fn charger(compiled: &Compiled, board: Id<Board>, row: &Standby) -> Option<Line> {
    let charger = compiled.site.part_of(board)?.charger.as_ref()?;
    let capacity = Bank::of(&compiled.site, board)?.capacity;
    let time = Requirement::from(row).recharge_time(capacity, charger.current);
    let share = row.recharge_share.value * 100.0;
    Some(Line {
        what: "charged again",
        figure: format!("at least {}", words::hours_past(time, row.recharge.time())),
        how: format!(
            "from empty to {share} % ({}) at {} all the time, × {} for what is lost ({}); from about {:.0} % on the current falls and the rest takes longer ({}); the profile gives {} ({})",
            row.recharge_share.source(),
            charger.current,
            standby::CHARGE_FACTOR,
            published::CHARGE_FACTOR.source(),
            published::TAPER.value * 100.0,
            published::TAPER.source(),
            hours(row.recharge.time()),
            row.recharge.source()
        ),
    })
}

fn transformer_line(compiled: &Compiled, board: Id<Board>) -> Option<Line> {
    let transformer = compiled.site.boards[board].transformer.as_ref()?;
    let asked = transformer::asked(&compiled.site, &compiled.power, board)?;
    let Asked { direct, drop, at_board, power: needs, .. } = asked;
    let cable = transformer.run.map_or_else(
        || "; its cable is not in the spec, so no drop is counted".to_owned(),
        |run| {
            let label = words::cable(&compiled.wiring, run);
            format!("; cable {label} loses {drop} with hot wire, so {at_board} reach the board")
        },
    );
    let rating = transformer.rating.value;
    let enough = match asked.flat(&compiled.site, board) {
        Some(float) => format!(
            "too few volts to charge, {} behind the bridge ({}) and {float} needed; by its rating {}",
            asked.rectified(),
            transformer::rectified_words(),
            if needs.0 <= rating.0 { "enough" } else { "too small" }
        ),
        None if needs.0 <= rating.0 && !standby::is_counted(&compiled.site, board) => {
            "not known to be enough, for no sheet says what the board takes,".to_owned()
        }
        None if needs.0 <= rating.0 => "enough".to_owned(),
        None => "too small".to_owned(),
    };
    let outlet = transformer.outlet.as_ref().map_or_else(String::new, |outlet| format!("; on: {outlet}"));
    Some(Line {
        what: "transformer",
        figure: format!("{rating} fitted, {} needed", words::power_beside(needs, rating)),
        how: format!(
            "{enough} for alarm and charger at once: {} × {direct} ÷ {} (linear, bridge with capacitor: {}; a switch-mode supply's sheet says its own input){cable}{outlet}",
            transformer.volts.value,
            standby::RECTIFIER,
            published::RECTIFIER.source()
        ),
    })
}

/// The time at rest that is asked for.
pub(crate) fn asked(site: &Site) -> Seconds {
    Requirement::from(profile::of_site(site)).standby
}

/// The fitted battery in one state.
pub(crate) struct State {
    /// "due for replacement, 10 °C".
    pub(crate) title: String,
    /// How long it lasts at rest with the time of alarm after it; `None` in too great a cold.
    pub(crate) time: Option<Seconds>,
    /// How the time is computed, with numbers put in.
    pub(crate) how: String,
    /// How it runs down in that time.
    pub(crate) course: Option<[(f64, f64); 3]>,
}

/// The fitted battery new and old, warm and cold; none without a battery.
pub(crate) fn states(compiled: &Compiled, board: Id<Board>, currents: Currents) -> Vec<State> {
    let Some(Bank { capacity, coldest: limit, .. }) = Bank::of(&compiled.site, board) else { return Vec::new() };
    let requirement = Requirement::from(profile::of_site(&compiled.site));
    let cold = ambient::of_room(&compiled.site, compiled.site.boards[board].room).cold;
    let state = |(age, temperature, aged)| State {
        title: format!("{age}, {temperature}"),
        time: requirement.gives(capacity, currents, temperature, aged).filter(|_| temperature >= limit),
        how: how(&requirement, capacity, currents, (temperature, aged)),
        course: requirement.course(capacity, currents, temperature, aged).filter(|_| temperature >= limit),
    };
    let old = "due for replacement";
    [("new", WARM, false), ("new", cold, false), (old, WARM, true), (old, cold, true)].map(state).into()
}

/// How the time at rest is computed: what the alarm leaves of the time that the charge lasts at the current at rest.
fn how(requirement: &Requirement, capacity: AmpereHours, currents: Currents, at: (Celsius, bool)) -> String {
    let (temperature, aged) = at;
    let Some(share) = standby::share(temperature, aged) else { return String::new() };
    let left = AmpereHours(capacity.0 * share);
    let [rest, alarm] = [currents.idle, currents.alarm].map(|current| standby::lasts(left, current, standby::PEUKERT));
    let age =
        if aged { format!(", {} of it for age ({})", standby::AGED, published::AGED.source()) } else { String::new() };
    format!(
        "(1 − {:.3} h ÷ {alarm:.2} h) × {rest:.2} h; {alarm:.2} h in alarm: {}; {rest:.2} h at rest: {}; exponent: {}; C = {capacity} × {share:.3} at {temperature} ({}){age}",
        requirement.alarm.0 / 3600.0,
        peukert(left, currents.alarm, alarm),
        peukert(left, currents.idle, rest),
        published::PEUKERT.source(),
        published::RATED_TEMPERATURE.source()
    )
}

/// Peukert's formula with numbers put in.
fn peukert(capacity: AmpereHours, current: Amperes, lasts: f64) -> String {
    let rated = published::RATED_HOURS.value;
    // At less than the rated current no more than the rated charge is counted.
    let power = if lasts < rated { format!("^{}", standby::PEUKERT) } else { String::new() };
    format!("{rated} h × ({capacity} ÷ ({current} × {rated} h)){power}")
}

/// How long the fitted battery lasts, new and old, warm and cold, and with everything in alarm; none without a battery.
pub(crate) fn times_given(compiled: &Compiled, board: Id<Board>, currents: Currents) -> Vec<Hours> {
    let Some(Bank { capacity, .. }) = Bank::of(&compiled.site, board) else { return Vec::new() };
    let requirement = Requirement::from(profile::of_site(&compiled.site));
    let asked = requirement.standby.0;
    let given = states(compiled, board, currents);
    let scale =
        given.iter().filter_map(|state| Some(state.time?.0)).filter(|time| time.is_finite()).fold(asked, f64::max);
    let is_counted = standby::is_counted(&compiled.site, board);
    let verdict = |enough: &'static str| if is_counted { enough } else { "not known" };
    let mut rows: Vec<Hours> = given
        .into_iter()
        .map(|State { title, time, how, .. }| Hours {
            state: format!("at rest, then {} in alarm: {title}", requirement.alarm),
            time: time.map_or_else(|| "not computed".to_owned(), about),
            enough: verdict(match time {
                Some(time) if time.0 >= asked => "yes",
                Some(_) => "no",
                None => "too cold",
            }),
            how,
            bar: bar::time(time.unwrap_or_default().0, asked, scale),
        })
        .collect();
    let in_alarm = Seconds(standby::lasts(capacity, currents.alarm, standby::PEUKERT) * 3600.0);
    let enough = if in_alarm.0 >= requirement.alarm.0 { "yes" } else { "no" };
    rows.push(Hours {
        state: format!("everything in alarm from the start: new, {WARM}"),
        time: about(in_alarm),
        enough: verdict(enough),
        how: peukert(capacity, currents.alarm, in_alarm.0 / 3600.0),
        bar: bar::time(in_alarm.0, requirement.alarm.0, scale),
    });
    rows
}

/// How long the fitted battery lasts at rest while it is new and warm: the first of [`times_given`].
pub(crate) fn at_best(compiled: &Compiled, board: Id<Board>, currents: Currents) -> String {
    let given = times_given(compiled, board, currents).into_iter().next();
    given.map_or_else(String::new, |row| format!("{} at rest while new", row.time))
}

/// Hours with one decimal; minutes under one hour.
pub(crate) fn about(time: Seconds) -> String {
    match time.0 {
        time if !time.is_finite() => "without end".to_owned(),
        time if time < 3600.0 => format!("{:.0} min", (time / 60.0).floor()),
        // Rounded down: nobody relies on a tenth that is not there.
        time => format!("{:.1} h", (time / 360.0).floor() / 10.0),
    }
}

fn hours(time: Seconds) -> String {
    format!("{:.0} h", time.0 / 3600.0)
}
