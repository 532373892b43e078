//! What is bought, and which powered devices are one: by what they are, not by what they are called.

use crate::packet::sites::{markdown, site};
use crate::pages::HEADER;

/// Two different parts of one title are two lines of the shopping list.
#[test]
fn two_parts_of_one_title_are_two_lines() {
    let part = |name: &str| {
        format!(
            "part \"{name}\" title=\"Flush contact\" senses=\"opening\" {{ basis \"sheet\"; contact form=\"NC\"; }}\n"
        )
    };
    let zone = |number: u32, name: &str| {
        format!(
            "zone {number} \"Zone {number}\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"{name}\"; resistor \"2k2\"; }}; }}; }}\n"
        )
    };
    let spec =
        format!("{HEADER}{}{}{}{}{}", part("thin"), part("thick"), zone(1, "thin"), zone(2, "thick"), zone(3, "thick"));
    let sheet = markdown(&site(&spec), "materials");
    let lines: Vec<&str> = sheet.lines().filter(|line| line.contains("Flush contact")).collect();
    assert_eq!(lines.len(), 2, "{sheet}");
    assert!(
        lines.iter().any(|line| line.contains("thin")) && lines.iter().any(|line| line.contains("thick")),
        "{lines:?}"
    );
}

fn ways(first: &str, second: &str) -> String {
    format!(
        "{HEADER}communicator \"one\" type=\"internet\" service=\"broadband\" board=\"board-a\" {{ {first} }}
communicator \"two\" type=\"radio\" board=\"board-a\" {{ {second} }}
monitoring description-width=20\n"
    )
}

/// What a hop feeds is bought as that hop is: the alarm feeds both.
#[test]
fn a_hop_behind_a_hop_is_bought_with_it() {
    let spec = ways(
        "hop \"network switch\" name=\"switch\" output=\"aux\" draw=(mA)200; hop \"bridge\" name=\"bridge\" from=\"switch\" draw=(mA)100;",
        "hop \"house router\" draw=(mA)100;",
    );
    let sheet = markdown(&site(&spec), "materials");
    assert!(sheet.contains("Network switch") && sheet.contains("Bridge"), "{sheet}");
    assert!(!sheet.contains("House router"), "the house has it: {sheet}");
}

/// Two devices of one kind, each with a name, are two; one without a name is the same on two ways.
#[test]
fn two_hops_of_one_kind_are_two_where_they_have_names() {
    let sheet = |first: &str, second: &str| markdown(&site(&ways(first, second)), "zone-descriptions");
    let apart = sheet(
        "hop \"power pack\" name=\"left\" draw=(mA)100 output=\"aux\";",
        "hop \"power pack\" name=\"right\" draw=(mA)100 output=\"aux\";",
    );
    assert!(apart.contains("power pack (left) off or unplugged"), "{apart}");
    assert!(apart.contains("power pack (right) off or unplugged"), "{apart}");
    let one = sheet("hop \"power pack\" draw=(mA)100;", "hop \"power pack\" draw=(mA)100;");
    assert_eq!(one.matches("power pack off or unplugged").count(), 1, "{one}");
}
