//! What a work order has told, programmed and tried, held against the sheets of both revisions.

use loopwright::compiled::Compiled;
use loopwright::emit;
use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, Step, WorkOrder};

use super::sites::{FULL, markdown, site, site_after};

/// The work order from one text to the next, the second after the first one's register.
fn kept(old: &str, new: &str) -> WorkOrder {
    let (old, register) = site_after(old, &Register::default());
    order(&old, &site_after(new, &register).0)
}

fn order(old: &Compiled, new: &Compiled) -> WorkOrder {
    WorkOrder::of(&Sides::of(old, new), &Remarks::default())
}

fn texts(steps: &[Step]) -> String {
    steps.iter().map(|step| format!("{}\n", step.text)).collect()
}

/// The full house with something else in it.
fn with(old: &str, new: &str) -> String {
    assert!(FULL.contains(old), "{old}");
    FULL.replace(old, new)
}

#[test]
fn firm_and_note_stand_on_a_work_order() {
    let order = kept(FULL, &with("length=(ft)38", "length=(ft)40"));
    for (text, page) in [emit::work_order(&order), emit::work_order_of_wiring(&order)] {
        for said in [&text, &page] {
            assert!(said.contains("Weir and Daughter") && said.contains("Ask us before a wall is closed."), "{text}");
        }
        assert!(page.contains("--accent: #1f3d5c"), "the colour of the firm");
    }
}

#[test]
fn a_loop_has_one_range_on_every_sheet() {
    let order = kept(FULL, &with("length=(ft)38", "length=(ft)40"));
    let line = order.measure.iter().find(|line| line.zone == "1").unwrap();
    let (_, range) = line.ohms.split_once(" (").unwrap();
    let range = range.trim_end_matches(')');
    let sheet = markdown(&site(&with("length=(ft)38", "length=(ft)40")), "commissioning-sheet");
    let row = sheet.lines().find(|line| line.starts_with("| **1** | Front door |")).unwrap();
    assert!(row.contains(&format!("| {range} |")), "{range} in {row}");
}

#[test]
fn every_detector_that_was_out_of_service_is_tried() {
    let gas = with("zone 5 \"Shed door\" type=\"perimeter\"", "zone 5 \"Gas by radio\" type=\"gas\"");
    let order = kept(&gas, &gas.replace("length=(ft)38", "length=(ft)40"));
    assert!(texts(&order.off).contains("zones 4 and 5"), "{}", texts(&order.off));
    for zone in ["Zone 4 ", "Zone 5 "] {
        assert!(texts(&order.walk).contains(zone), "{zone} in {}", texts(&order.walk));
    }
}
