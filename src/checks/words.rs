//! How the things of a site are named in diagnostics, and by which words an `accept` names them.

use crate::base::wording::list;
use crate::diag::Diagnostic;
use crate::model::{Board, Device, Owner, Site};
use crate::quantity::{LengthUnit, Metres, Volts};

/// A device: its own name where it has one, else its title.
pub fn device(device: &Device) -> String {
    device.name.as_ref().map_or_else(|| format!("“{}”", device.title), |name| format!("`{}`", name.value))
}

/// The chain that a run belongs to, as "zone 7" or "circuit `sounders`".
pub fn owner(site: &Site, owner: Owner) -> String {
    match owner {
        Owner::Zone(zone) => format!("zone {}", site.zones[zone].number.value),
        Owner::Bus(bus) => format!("bus `{}`", site.buses[bus].name.value),
        Owner::Circuit(circuit) => format!("circuit `{}`", site.circuits[circuit].name.value),
        Owner::Communicator(line) => format!("communicator `{}`", site.communicators[line].name.value),
    }
}

/// A board, as "panel `main`".
pub fn board(board: &Board) -> String {
    format!("{} `{}`", board.kind.noun(), board.name.value)
}

/// Numbers in order, with runs of them drawn together: "1 to 4, 7 and 9".
pub fn numbers(numbers: &[u32]) -> String {
    let mut spans: Vec<(u32, u32)> = Vec::new();
    for number in numbers {
        match spans.last_mut() {
            Some((_, last)) if *last + 1 == *number => *last = *number,
            _ => spans.push((*number, *number)),
        }
    }
    let words: Vec<String> = spans
        .into_iter()
        .flat_map(|(first, last)| match last - first {
            0 => vec![first.to_string()],
            1 => vec![first.to_string(), last.to_string()],
            _ => vec![format!("{first} to {last}")],
        })
        .collect();
    list(&words, "and")
}

/// Two voltages as printed, with a third decimal where two do not tell them apart.
pub fn apart(one: Volts, other: Volts) -> (String, String) {
    let (first, second) = (one.to_string(), other.to_string());
    if first == second { (format!("{:.3} V", one.0), format!("{:.3} V", other.0)) } else { (first, second) }
}

/// Rounded down to a whole foot or a tenth of a metre, so that what is printed still works.
pub fn rounded_down(length: Metres, unit: LengthUnit) -> Metres {
    match unit {
        LengthUnit::Feet => Metres((length.0 / 0.3048).floor() * 0.3048),
        LengthUnit::Metres => Metres((length.0 * 10.0).floor() / 10.0),
    }
}

/// A finding that is about a device: by its zone and by its name.
#[must_use]
pub fn about_device(site: &Site, device: &Device, finding: Diagnostic) -> Diagnostic {
    let finding = match device.zone {
        Some(zone) => finding.about(site.zones[zone].number.value),
        None => finding,
    };
    match &device.name {
        Some(name) => finding.about(&name.value),
        None => finding,
    }
}

/// A finding that is about what a run belongs to.
#[must_use]
pub fn about_owner(site: &Site, owner: Owner, finding: Diagnostic) -> Diagnostic {
    match owner {
        Owner::Zone(zone) => finding.about(site.zones[zone].number.value),
        Owner::Bus(bus) => finding.about(&site.buses[bus].name.value),
        Owner::Circuit(circuit) => finding.about(&site.circuits[circuit].name.value),
        Owner::Communicator(line) => finding.about(&site.communicators[line].name.value),
    }
}

#[cfg(test)]
mod tests {
    use super::numbers;

    #[test]
    fn numbers_are_drawn_together() {
        assert_eq!(numbers(&[]), "");
        assert_eq!(numbers(&[3]), "3");
        assert_eq!(numbers(&[1, 2]), "1 and 2");
        assert_eq!(numbers(&[1, 2, 3, 4, 7, 9]), "1 to 4, 7 and 9");
    }
}
