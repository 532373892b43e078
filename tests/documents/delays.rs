//! The delays of doors on the review of false alarms.

use super::{packet, text};

/// From door to keypad 70 ft by the plan: the entry delay is too short for that, the exit delay is not.
#[test]
fn only_the_delay_that_is_too_short_stands_out() {
    let house = "level \"ground\" title=\"Ground floor\" {
    room \"porch\" title=\"Porch\" { rect (ft)0 (ft)0 (ft)8 (ft)8; door \"front\" title=\"Front door\" wall=\"south\"; }
    room \"study\" title=\"Study\" { rect (ft)0 (ft)70 (ft)12 (ft)12; }
}
panel \"board-a\" part=\"control-a\" room=\"study\"
area \"house\" title=\"House\" entry=(s)30 exit=(s)90
zone 1 \"Front door\" type=\"entry-exit\" area=\"house\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)80 room=\"porch\" { contact \"reed\" on=\"front\"; resistor \"2k2\" }
    }
}
bus \"data\" board=\"board-a\" rate=(baud)19200 {
    run \"bus-cable\" length=(ft)30 room=\"study\" { keypad \"keys\" title=\"Keypad\" part=\"keypad-a\" address=1; terminator (ohm)120 }
}
";
    let review = text(&packet("", house), "false-alarm-review.md");
    let row = review.lines().find(|line| line.starts_with("| Front door | 1 |")).unwrap_or_else(|| panic!("{review}"));
    let cells: Vec<&str> = row.split('|').map(str::trim).collect();
    assert_eq!(
        (cells[7], cells[8].starts_with("**-"), cells[9], cells[10].contains('*')),
        ("30 s", true, "90 s", false),
        "{row}"
    );
}

/// Shop and flat with a keypad each: nobody walks through the wall to that of the other. Where only the other's is there, the way
/// is not known.
#[test]
fn a_way_leads_to_a_keypad_of_its_own_area() {
    let house = |own: &str| {
        format!(
            "level \"ground\" title=\"Ground floor\" {{
    room \"lobby\" title=\"Lobby\" {{ rect (m)8 (m)0 (m)2 (m)10; door \"flat-door\" title=\"Flat door\" wall=\"south\" at=(m)1; }}
    room \"shop\" title=\"Shop\" {{ rect (m)0 (m)0 (m)8 (m)10; door \"shop-door\" title=\"Shop door\" wall=\"south\" at=(m)6; }}
}}
panel \"board-a\" part=\"control-a\" room=\"shop\"
area \"flat\" title=\"Flat\" entry=(s)30 exit=(s)60
area \"shop\" title=\"Shop\" entry=(s)30 exit=(s)60
zone 1 \"Shop door\" type=\"entry-exit\" area=\"shop\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(m)9 {{ contact \"reed\" on=\"shop-door\"; resistor \"2k2\" }} }} }}
zone 2 \"Flat door\" type=\"entry-exit\" area=\"flat\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(m)9 {{ contact \"reed\" on=\"flat-door\"; resistor \"2k2\" }} }} }}
bus \"data\" board=\"board-a\" rate=(baud)19200 {{
    run \"bus-cable\" length=(m)10 room=\"lobby\" {{ keypad \"kf\" title=\"Flat keypad\" part=\"keypad-a\" address=1; }}
    {own}
}}
"
        )
    };
    let row = |own: &str| {
        let review = text(&packet("", &house(own)), "false-alarm-review.md");
        review
            .lines()
            .find(|line| line.starts_with("| Shop door | 1 |"))
            .unwrap_or_else(|| panic!("{review}"))
            .to_owned()
    };
    let with = row(
        "run \"bus-cable\" length=(m)10 room=\"shop\" { keypad \"ks\" title=\"Shop keypad\" part=\"keypad-a\" address=2 { spot (m)0.5 (m)9.5; }; terminator (ohm)120 }",
    );
    assert!(with.contains("| Shop keypad | about "), "{with}");
    let without = row("terminator (ohm)120");
    assert!(without.contains("| Flat keypad | not measured: walk it with a watch |"), "{without}");
}
