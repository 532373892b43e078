//! Batteries in series that are not alike.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::Bank;
use crate::words::Screen;

check!("batteries-unlike", Basis::Practice, "batteries in series of unlike capacity or age");

/// Days by which the ages of batteries in series may differ: those of one purchase.
const DAYS: i64 = 60;

fn run(context: Context<'_>, sink: &mut Sink) {
    for (id, board) in context.site.boards.entries() {
        let Some(battery) = &board.battery else { continue };
        let in_series = battery.wired.as_ref().is_some_and(|wired| match wired.value {
            Bank::Series | Bank::SeriesPairs => true,
            Bank::Parallel => false,
        });
        let unlike = battery.others.iter().enumerate().filter_map(|(at, other)| {
            let before = battery.others.iter().take(at).map(|before| before.installed);
            let days =
                std::iter::once(battery.installed).chain(before).flatten().zip(std::iter::repeat(other.installed));
            let days = days.filter_map(|(one, other)| Some((days_between(one, other?), one)));
            let older = days.max().filter(|(days, _)| *days > DAYS);
            let older = older.map(|(days, one)| format!("{days} days apart from that of {one}"));
            let capacity = (other.capacity.value.0 - battery.capacity.value.0).abs() > 1e-9;
            let size = capacity.then(|| format!("{} beside {}", other.capacity.value, battery.capacity.value));
            let said: Vec<String> = size.into_iter().chain(older).collect();
            (!said.is_empty()).then(|| (other.capacity.span, said.join(", ")))
        });
        let unlike: Vec<_> = unlike.filter(|_| in_series).collect();
        if unlike.is_empty() {
            continue;
        }
        let title = format!("{} has batteries in series that are not alike", Screen.board(context.site, id));
        let finding = Diagnostic::new(&RULE, battery.capacity.span, title).here("in series with");
        let finding = unlike.into_iter().fold(finding, |finding, (span, said)| finding.also(span, said));
        sink.push(
            finding
                .why("One current passes all of a string. The weakest is empty first, is then charged backwards by the others, and is overcharged on mains.")
                .help("Put in batteries of one make, one capacity and one day, and write count= with wired=\"series\" instead of `another`.")
                .about(&board.name.value),
        );
    }
}

fn days_between(one: jiff::civil::Date, other: jiff::civil::Date) -> i64 {
    one.duration_until(other).as_hours().abs() / 24
}
