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
