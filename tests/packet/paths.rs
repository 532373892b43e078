//! The cable of a way to the monitoring service prints as what it is.

use super::sites::{FULL, packet, schedule, site};
use crate::packet::sites::full_site;
use loopwright::compiled::Compiled;
use loopwright::register::Function;
use loopwright::views::work_order::{Remarks, Sides, WorkOrder};

const NETWORK: &str = r#"
cable "network" title="Network cable" conductors=8 size=(AWG)24 {
    conductor "WHBU"; conductor "BU"; conductor "WHOG"; conductor "OG"
    conductor "WHGN"; conductor "GN"; conductor "WHBN"; conductor "BN"
}
cable "coax" title="Antenna cable" conductors=2 size=(AWG)20
"#;

/// The full house with a cable in its internet communicator, from the expander that is its adapter.
fn with_network(kind: &str) -> Compiled {
    let way = format!(
        "communicator \"net\" type=\"internet\" module=\"expander\" {{\n    run \"{kind}\" length=(ft)12 room=\"store\""
    );
    site(&(FULL.replace("communicator \"net\" type=\"internet\" {", &way) + NETWORK))
}

fn file(site: &Compiled, name: &str) -> String {
    String::from_utf8(packet(site).files[name].clone()).unwrap()
}

#[test]
fn the_cable_of_an_internet_communicator_is_a_network_cable() {
    let site = with_network("network");
    let schedule = schedule(&site);
    let board =
        "| **network socket, pin 1** | NET-1 | WHBU white/blue | network, pin 1 | router, network socket, pin 1 |";
    assert!(schedule.contains(board), "{schedule}");
    // 3 and 6 are a pair.
    assert!(schedule.contains("| **network socket, pin 6** | NET-1 | OG orange | network, pin 6 |"), "{schedule}");
    let room = schedule.split("## Store, ").nth(1).unwrap();
    assert!(room.contains("| WHBU white/blue | network, pin 1 | router, network socket, pin 1 |"), "{room}");
    assert_eq!(schedule.matches(" | network, pin ").count(), 8 + 8, "{schedule}");
    for (name, wants) in [
        ("terminal-schedule.csv", "network socket"),
        ("wire-labels.csv", "NET-1,to router,from Expander,"),
        ("site.json", "\"function\": \"network\""),
    ] {
        let text = file(&site, name);
        assert!(text.contains(wants), "{wants} in {name}:\n{text}");
        let lines: Vec<&str> = text.lines().filter(|line| line.contains("NET-1")).collect();
        assert!(lines.iter().all(|line| !line.contains("street") && !line.contains("jack")), "{lines:?}");
    }
    let order = WorkOrder::of(&Sides::of(&full_site(), &site), &Remarks::default());
    let steps: Vec<&str> = order.places.iter().flat_map(|place| &place.steps).map(|step| step.text.as_str()).collect();
    let at = "NET-1 at Expander: on Expander, network socket: WHBU on pin 1, BU on pin 2, ";
    assert!(steps.iter().any(|step| step.starts_with(at)), "{steps:#?}");
}

#[test]
fn a_network_cable_of_two_pairs_has_the_pins_that_are_used() {
    let site = with_network("quad");
    let pins: Vec<u8> = site
        .wiring
        .cables
        .iter()
        .flat_map(|cable| &cable.conductors)
        .filter_map(|c| if let Function::Network(pin) = c.function { Some(pin) } else { None })
        .collect();
    assert_eq!(pins, [1, 2, 3, 6]);
}

#[test]
fn a_cable_with_too_few_conductors_for_a_network_is_short_of_them() {
    let site = with_network("pair");
    assert_eq!(site.wiring.too_few.iter().map(|short| (short.needs.len(), short.has)).collect::<Vec<_>>(), [(4, 2)]);
}

#[test]
fn the_cable_of_a_radio_is_that_of_its_antenna() {
    let way =
        "communicator \"far\" type=\"radio\" board=\"main\" {\n    run \"coax\" length=(ft)9 room=\"landing\"\n}\n";
    let schedule = schedule(&site(&(FULL.to_owned() + NETWORK + way)));
    assert!(schedule.contains("| **antenna socket** | FAR-1 | no. 1 | antenna, core | the antenna |"), "{schedule}");
}
