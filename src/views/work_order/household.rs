//! What the people of the house are told: what they see, hear or press that is other now.

use super::super::programming_sheet::lines::{AREAS, KEYS, ZONES};
use super::super::sheet_lines::Difference;
use super::program::altered;
use crate::base::wording::{list, numbers};

/// The columns of the programming sheet that people notice.
const NOTICED: [&str; 8] =
    ["number", "name", "description", "area", "entry delay", "exit delay", "abort window", "sounders stop after"];

/// The step that says what is other, and hands the guide over where it `is_new`; none where nobody notices anything.
pub(super) fn to_hand_over(programmed: &[Difference], is_new: bool) -> Option<String> {
    let of_list = |wanted: &'static str| {
        programmed
            .iter()
            .filter(move |found| found.line().is_some_and(|line| line.list == wanted))
            .filter(|found| is_noticed(found))
    };
    let mut told: Vec<String> = of_list(AREAS).filter_map(area).collect();
    told.extend(of_list(KEYS).filter_map(|found| Some(format!("{}{}", found.line()?.said, became(found)))));
    let zones: Vec<u32> = of_list(ZONES).filter_map(|found| found.line()?.key.parse().ok()).collect();
    if !zones.is_empty() {
        let noun = if zones.len() == 1 { "zone" } else { "zones" };
        told.push(format!("{noun} {} (new, gone, or with another number, name or area)", numbers(&zones)));
    }
    let guide = if is_new { "Hand the new guide for the household over, and tell" } else { "Tell" };
    (!told.is_empty())
        .then(|| format!("{guide} everybody who has a code what is different now: {}", list(&told, "and")))
}

fn is_noticed(found: &Difference) -> bool {
    let one_side = found.old.is_none() || found.new.is_none();
    one_side || found.columns().iter().any(|(head, ..)| NOTICED.contains(head))
}

fn became(found: &Difference) -> &'static str {
    match (&found.old, &found.new) {
        (None, _) => " is new",
        (_, None) => " is gone",
        (Some(_), Some(_)) => "",
    }
}

/// "area House (entry delay 30 s → 45 s)".
fn area(found: &Difference) -> Option<String> {
    let said = &found.line()?.said;
    let columns = found.columns().into_iter().filter(|(head, ..)| NOTICED.contains(head));
    let columns: Vec<String> = columns.map(altered).collect();
    let columns = if columns.is_empty() { String::new() } else { format!(" ({})", columns.join(", ")) };
    Some(format!("{said}{columns}{}", became(found)))
}
