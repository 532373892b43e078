//! The sketches of devices agree with the terminal schedule, and each device is in one of them.

use std::collections::BTreeMap;

use loopwright::compiled::Compiled;

use super::older;
use super::sites::{empty_site, full_site, of_files, packet, site, unlinked};
use crate::alder_mill::AlderMill;
use crate::demos;

type Files = BTreeMap<String, Vec<u8>>;

fn text(files: &Files, name: &str) -> String {
    String::from_utf8(files[name].clone()).unwrap()
}

/// The sections of the sheet, each with its drawing and how many devices are wired so.
fn kinds(files: &Files) -> Vec<(String, usize)> {
    let sheet = text(files, "device-sketches.md");
    let sections = sheet.split("\n## ").skip(1).filter(|section| !section.starts_with("Without a sketch"));
    let kind = |section: &str| {
        let file = section.split_once("](device-").unwrap().1.split_once(')').unwrap().0;
        let devices = section.lines().filter(|line| line.starts_with("| **")).count();
        (text(files, &format!("device-{file}")), devices)
    };
    sections.map(kind).collect()
}

fn houses() -> Vec<(&'static str, Compiled)> {
    vec![
        ("full", full_site()),
        ("empty", empty_site()),
        ("alder-mill", of_files(&AlderMill::new().files())),
        ("larch-bungalow", of_files(&demos::files("larch-bungalow"))),
        ("garden-flat", of_files(&demos::files("garden-flat"))),
        ("two-wire", site(&older::fed("signal"))),
    ]
}

#[test]
fn every_device_is_in_one_sketch_or_told_to_have_none() {
    for (name, made) in houses() {
        let files = packet(&made).files;
        let sheet = text(&files, "device-sketches.md");
        let without = sheet
            .split_once("## Without a sketch")
            .map_or(0, |(_, rest)| rest.lines().filter(|line| line.starts_with("| ")).count() - 2);
        let drawn: usize = kinds(&files).iter().map(|(_, devices)| devices).sum();
        assert_eq!(drawn + without, made.site.devices.entries().count(), "{name}: {sheet}");
        let wired =
            made.site.devices.entries().filter(|(_, device)| device.part.is_some() && device.receiver.is_none());
        assert!(drawn <= wired.count(), "{name}");
    }
}

/// A resistor that the schedule has at the end of a cable, or across a contact there, is in one sketch, once.
#[test]
fn every_resistor_at_a_device_is_drawn_once() {
    for (name, made) in houses() {
        let files = packet(&made).files;
        let schedule = unlinked(&text(&files, "terminal-schedule.md"));
        let (_, rooms) = schedule.split_once("# At the devices and joints").unwrap();
        let ends = rooms.lines().filter(|line| line.starts_with("| ") && !line.contains(" starts | "));
        let told: usize = ends.map(|line| line.matches("resistor ").count() + line.matches(" across it").count()).sum();
        let diodes = made.site.devices.entries().filter(|(_, device)| device.diode).count();
        let boxes = |drawing: &str| drawing.matches("<rect class=\"resistor\"").count();
        let drawn: usize = kinds(&files).iter().map(|(drawing, devices)| boxes(drawing) * devices).sum();
        assert_eq!(drawn, told + diodes, "{name}");
        assert!(name == "empty" || drawn > 0, "{name}");
    }
}

#[test]
fn contacts_stand_as_they_are_at_rest() {
    let files = packet(&of_files(&AlderMill::new().files())).files;
    let sheet = text(&files, "device-sketches.md");
    let drawing = |device: &str| {
        let section = sheet.split("\n## ").find(|section| section.contains(device)).unwrap();
        text(&files, &format!("device-{}", section.split_once("](device-").unwrap().1.split_once(')').unwrap().0))
    };
    let count = |drawing: &str, class: &str| drawing.matches(&format!("class=\"{class}\"")).count();
    // Cover and alarm contact, closed, with a resistor across the one and another behind.
    let motion = drawing("**Motion, workshop**");
    assert_eq!([count(&motion, "closed"), count(&motion, "open")], [2, 0]);
    for wanted in ["tamper", "alarm", "supply +", "loop, out", "loop, back", "2.2 kΩ"] {
        assert!(motion.contains(wanted), "{wanted} in {motion}");
    }
    // A smoke detector by which supply and loop go on: two conductors under each of its four terminals.
    let smoke = drawing("**Smoke, hall (Front hall)**");
    assert_eq!([count(&smoke, "closed"), count(&smoke, "open"), count(&smoke, "terminal")], [0, 1, 4]);
    assert_eq!(smoke.matches("next cable</text>").count(), 4);
    assert!(smoke == drawing("**Smoke, landing**") && motion != drawing("**Motion, hall (Front hall)**"));
}
