//! Which position of a jack and which pin of a plug a conductor is on, held against the tables as others print them.

use loopwright::profiles::connectors::{pin, position};
use loopwright::terms::{JackKind, PinOrder, WireUse};

/// 47 CFR part 68, configuration RJ31X, and ANSI/TIA-1096-A after it: the line comes in at 4 and 5 and goes on at 1 and 8;
/// bars short 1 to 4 and 5 to 8 while no plug is in, so each bar joins the two ends of one wire.
#[test]
fn the_series_jack_has_the_positions_of_part_68() {
    let at = |does| position(JackKind::LineSeizure, does).unwrap();
    let line = [at(WireUse::LineInTip), at(WireUse::LineInRing)];
    let house = [at(WireUse::LineOutTip), at(WireUse::LineOutRing)];
    assert_eq!(line, [5, 4]);
    assert_eq!(house, [8, 1]);
    let bars = [[1, 4], [5, 8]];
    for (one, other) in line.into_iter().zip(house) {
        assert!(bars.iter().any(|bar| bar.contains(&one) && bar.contains(&other)), "{one} {other}");
    }
}

/// 47 CFR 68.502 of 1986, configuration RJ11: "3 ring, 4 tip", and no way on to the house.
#[test]
fn the_bridged_jack_has_the_positions_of_part_68() {
    let at = |does| position(JackKind::Bridged, does);
    assert_eq!([at(WireUse::LineInRing), at(WireUse::LineInTip)], [Some(3), Some(4)]);
    assert_eq!([at(WireUse::LineOutRing), at(WireUse::LineOutTip)], [None, None]);
}

/// TIA-568, the two tables as manuals of network devices print them: pin, pair in T568A, colour, pair in T568B, colour.
const TIA_568: &str = "\
    1 3 white/green  2 white/orange
    2 3 green        2 orange
    3 2 white/orange 3 white/green
    4 1 blue         1 blue
    5 1 white/blue   1 white/blue
    6 2 orange       3 green
    7 4 white/brown  4 white/brown
    8 4 brown        4 brown";

#[test]
fn pins_have_the_pairs_and_colours_of_tia_568() {
    let code = |colour: &str| -> String {
        colour
            .split('/')
            .map(|word| match word {
                "white" => "WH",
                "green" => "GN",
                "orange" => "OG",
                "blue" => "BU",
                "brown" => "BN",
                other => panic!("{other}"),
            })
            .collect()
    };
    let mut rows = 0;
    for line in TIA_568.lines() {
        let cells: Vec<&str> = line.split_whitespace().collect();
        let [number, a, a_colour, b, b_colour] = cells[..] else { panic!("{line}") };
        for (order, pair, colour) in [(PinOrder::T568a, a, a_colour), (PinOrder::T568b, b, b_colour)] {
            let (found, is) = pin(order, number.parse().unwrap()).unwrap();
            assert_eq!((found.to_string().as_str(), is), (pair, code(colour).as_str()), "{line}");
        }
        rows += 1;
    }
    assert_eq!(rows, 8);
    assert_eq!(pin(PinOrder::T568a, 0).or(pin(PinOrder::T568b, 9)), None);
}
