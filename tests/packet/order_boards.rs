//! What a work order says of boards: their resistors and terminators, and boards that are only called otherwise.

use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, WorkOrder};

use super::sites::{FULL, site_after};
use crate::pages::HEADER;

/// The work order from one text to the next, the second after the first one's register.
fn kept(old: &str, new: &str) -> WorkOrder {
    let (old, register) = site_after(old, &Register::default());
    WorkOrder::of(&Sides::of(&old, &site_after(new, &register).0), &Remarks::default())
}

/// "remove: …", of all places.
fn steps(order: &WorkOrder) -> Vec<String> {
    let all = order.places.iter().flat_map(|place| &place.steps);
    all.map(|step| format!("{}: {}", step.kind, step.text)).collect()
}

/// The end of one bus is the head of another: its terminator lies across the port by which the repeater is on the first.
#[test]
fn a_terminator_lies_across_the_port_of_its_own_bus() {
    let spec = |ohms: u32| {
        format!(
            "{HEADER}part \"rep\" title=\"Repeater\" {{
    basis \"sheet\" ref=\"invented\"
    bus-port \"in\" plus=\"P+\" minus=\"P-\" a=\"PA\" b=\"PB\"
    bus-port \"out\" plus=\"Q+\" minus=\"Q-\" a=\"QA\" b=\"QB\" bias=(ohm)470 bias-supply=(V)5 limit=(mA)300 volts=(V)13 first-address=1 last-address=16
    draw idle=(mA)10 min=(V)9
}}
bus \"data\" board=\"board-a\" rate=(baud)9600 {{ run \"bus-cable\" length=(ft)20 room=\"lobby\" {{ module \"rep\" part=\"rep\" address=1; terminator (ohm){ohms} }} }}
bus \"more\" board=\"rep\" port=\"out\" rate=(baud)9600 {{ terminator (ohm)120; run \"bus-cable\" length=(ft)20 room=\"lobby\" {{ keypad \"k\" part=\"keypad-a\" address=1; terminator (ohm)120 }} }}
"
        )
    };
    let said = steps(&kept(&spec(120), &spec(150)));
    for wanted in ["remove: Terminator 120 Ω", "fit: Terminator 150 Ω"] {
        let step = said.iter().find(|step| step.starts_with(wanted)).unwrap_or_else(|| panic!("{wanted} in {said:#?}"));
        assert!(step.contains("across PA and PB"), "{step}");
    }
}

/// A loop's resistor that is fitted at the board goes with the loop to other terminals.
#[test]
fn a_resistor_at_the_board_moves_with_its_input() {
    let spec = |input: u32| {
        format!(
            "{HEADER}zone 1 \"Lobby\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" input={input} {{ resistor \"2k2\"; run \"pair\" length=(ft)20 room=\"lobby\" existing=#true {{ contact \"reed\" }} }} }}\n"
        )
    };
    let said = steps(&kept(&spec(1), &spec(3)));
    let of = |kind: &str| said.iter().any(|step| step.starts_with(&format!("{kind}: Resistor 2.2 kΩ")));
    assert!(of("remove") && of("fit"), "{said:#?}");
}

/// A title is for people: nothing is programmed, wired or tried for it.
#[test]
fn a_board_that_is_only_called_otherwise_is_programmed_as_before() {
    assert!(FULL.contains("title=\"Main panel\""));
    let order = kept(FULL, &FULL.replace("title=\"Main panel\"", "title=\"Hall box\""));
    assert!(order.program.is_empty(), "{:#?}", order.program);
    assert!(!order.walk.iter().any(|step| step.text.contains("does what drives it asks")), "{:#?}", order.walk);
    assert!(steps(&order).iter().all(|step| step.starts_with("label: ")), "{:#?}", steps(&order));
}
