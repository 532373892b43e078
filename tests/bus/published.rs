//! Figures that others have printed.

use loopwright::calc::bus::formulas::{across, fastest, longest};
use loopwright::calc::bus::idle;
use loopwright::calc::bus::layout::{Fitting, Layout, Place, Terminator};
use loopwright::quantity::{BitsPerSecond, Metres, Ohms, Volts};

use super::ngspice::figures;
use super::plan::{Dice, Plan};

fn close(found: f64, printed: f64, digits: f64) {
    assert!((found - printed).abs() <= digits / 2.0 + 1e-9, "{found} against {printed}");
}

/// Volts between A and B of a bus without length: one biased board, terminators and unit loads side by side.
fn idle_bias(supply: f64, leg: f64, terminators: &[f64], unit_load: f64) -> f64 {
    let layout = figures(&[Plan::random(&mut Dice(1), false)]).remove(0).layout;
    let board = layout.ports[0].board;
    let mut layout = Layout {
        places: vec![Place { boards: vec![board], ..layout.places[0].clone() }],
        ports: vec![layout.ports[0]],
        trunk: vec![0],
        ..layout
    };
    layout.ports[0].unit_load = unit_load;
    layout.ports[0].bias = Some((Ohms(leg), Volts(supply)));
    let terminator = |ohms: &f64| Terminator { place: 0, ohms: Ohms(*ohms), fitting: Fitting::BuiltIn(board) };
    layout.terminators = terminators.iter().map(terminator).collect();
    idle::of(&layout).unwrap().volts[0].nominal
}

/// An application note on RS-485: 5 V, two terminators of 120 Ω, 720 Ω in each leg for 200 mV.
#[test]
fn five_volts_and_720_ohms_give_200_millivolts() {
    close(idle_bias(5.0, 720.0, &[120.0, 120.0], 0.0), 0.2, 1e-12);
}

/// A public engineering note that uses makers' data: 3.3 V, 60 Ω; its corner is 3.0 V, legs +1 %, terminators −1 %.
#[test]
fn a_table_of_bias_resistors_at_3_3_volts() {
    for (ohms, usual, corner, milliamperes) in [
        (680.0, 139.0, 124.0, 2.32),
        (470.0, 198.0, 177.0, 3.30),
        (390.0, 236.0, 210.0, 3.93),
        (330.0, 275.0, 245.0, 4.58),
    ] {
        let found = idle_bias(3.3, ohms, &[60.0], 0.0);
        close(found * 1e3, usual, 1.0);
        close(found / 60.0 * 1e3, milliamperes, 0.01);
        close(idle_bias(3.0, ohms * 1.01, &[60.0 * 0.99], 0.0) * 1e3, corner, 1.0);
    }
}

/// An application note of a transceiver's maker (TB509): 3.3 V, 0.3 V; Rb = (Vs/Vab + 1) / 0.036 and the terminator
/// beside the bias. The form of the first is the note's own, with a rounded divisor: our network has 297 mV.
#[test]
fn a_terminator_beside_the_bias_is_larger() {
    let leg = (3.3 / 0.3 + 1.0) / 0.036;
    close(leg, 333.33, 0.01);
    let beside = leg * 120.0 / (leg - 60.0);
    close(beside, 146.34, 0.01);
    close(across(&[Ohms(beside), Ohms(2.0 * leg)], 0.0).0, 120.0, 1e-9);
    close(idle_bias(3.3, leg, &[120.0, beside], 0.0), 0.297, 0.001);
}

/// Another maker's form (from memory): Rb = V / (Vab·(1/375 + 4/Z0)), which is 528 Ω for 4.75 V, 0.25 V and 120 Ω. Its
/// 375 Ω stand from each conductor to ground: 750 Ω across, as 16 unit loads. The terminator at the biased end is the
/// larger one, and then our network has exactly those volts.
#[test]
fn the_form_of_a_makers_note_is_our_network() {
    let leg = 4.75 / (0.25 * (1.0 / 375.0 + 4.0 / 120.0));
    close(leg, 528.0, 1.0);
    let beside = leg * 120.0 / (leg - 60.0);
    close(idle_bias(4.75, leg, &[120.0, beside], 16.0), 0.25, 1e-9);
}

/// A handbook's example: 10 receivers and two terminators, 200 mV of 5 V. It prints 685 Ω; the arithmetic gives 685.7.
#[test]
fn ten_receivers_lower_the_bias_resistors() {
    let load = across(&[Ohms(120.0), Ohms(120.0)], 10.0);
    close(load.0, 57.14, 0.01);
    close(idle_bias(5.0, 685.7, &[120.0, 120.0], 10.0), 0.2, 1e-4);
}

/// 32 unit loads are 375 Ω (TIA-485-A); beside two terminators they leave 51.7 Ω.
#[test]
fn all_unit_loads_together() {
    close(across(&[], 32.0).0, 375.0, 1e-9);
    close(across(&[Ohms(120.0), Ohms(120.0)], 32.0).0, 51.7, 0.1);
}

/// The rule of thumb in the annex of TIA/EIA-422-B: 100 kbit/s over 1000 m, 19.2 kbit/s over 1200 m.
#[test]
fn length_times_rate() {
    close(longest(BitsPerSecond(100e3)).0, 1000.0, 1e-9);
    close(longest(BitsPerSecond(19.2e3)).0, 1200.0, 1e-9);
    close(fastest(Metres(1000.0)).unwrap().0, 100e3, 1e-6);
    assert_eq!(fastest(Metres(1200.1)), None);
}
