//! Resistance of copper conductors by size, length and temperature.
//!
//! ρ20 = 1/58 Ω·mm²/m (IEC 60028: annealed copper, 100 % IACS); R(T) = R20·(1 + 0.00393·(T − 20)) (IEC 60028 and NBS
//! Handbook 100, coefficient from memory); a stranded conductor has 2 % more for its lay (ASTM B8, from memory; NEC
//! chapter 9 table 8 shows 2 to 2.3 %). Diameters by gauge: ASTM B258, in [`WireSize::square_millimetres`]. The most that
//! a conductor may have: its cable's sheet, else the rows of [`conductors`]; a gauge without a sheet has its copper's.

use super::spread::Spread;
use crate::profiles::conductors;
use crate::quantity::{Celsius, Metres, Ohms, OhmsPerMetre, WireSize};
use crate::terms::Metal;

/// Resistivity of annealed copper at 20 °C in Ω·mm²/m.
pub(crate) const RESISTIVITY: f64 = 1.0 / 58.0;

/// Leakage between the conductors of a loop, at the least that a test of new cable lets pass: 1 MΩ (common practice).
pub const LEAKAGE: f64 = 1e6;

/// Temperature coefficient of copper's resistance at 20 °C, per kelvin.
pub(crate) const COEFFICIENT: f64 = 0.003_93;

/// What stranding adds.
pub(crate) const STRANDING: f64 = 0.02;

/// Resistance of a metre of one conductor at 20 °C in ohm: of an ideal one of its metal, and the most that it may have by the cable's
/// sheet, else by the standard of its size. A sheet that promises less than ideal copper of that size has thicker wires.
pub(crate) fn per_metre(size: WireSize, stranded: bool, metal: Metal, sheet: Option<OhmsPerMetre>) -> Spread {
    let copper = resistance(size, stranded, Metres(1.0), Celsius(20.0)).0;
    let [least, nominal, greatest] = conductors::over_copper(metal, size, stranded);
    let standard = || conductors::most(size, stranded).map_or(copper, |(most, _)| most.0).max(copper) * greatest;
    let most = sheet.map_or_else(standard, |most| most.0);
    let greatest = if sheet.is_some() { most } else { most.max(copper * greatest) };
    Spread { least: (copper * least).min(greatest), nominal: (copper * nominal).min(greatest), greatest }
}

/// Gauges between which a conductor is taken whose size nobody knows: common practice for what alarms were wired with.
/// The thickest gives the least ohms, the thinnest the most.
pub(crate) const UNKNOWN_SIZE: [WireSize; 3] = [WireSize::Awg(18), WireSize::Awg(22), WireSize::Awg(26)];

/// As [`per_metre`] of a conductor whose size nobody knows.
pub(crate) fn of_unknown_size(stranded: bool, metal: Metal, sheet: Option<OhmsPerMetre>) -> Spread {
    let [thick, usual, thin] = UNKNOWN_SIZE.map(|size| per_metre(size, stranded, metal, sheet));
    Spread { least: thick.least, nominal: usual.nominal, greatest: thin.greatest }
}

/// Resistance of one conductor of ideal copper.
pub fn resistance(size: WireSize, stranded: bool, length: Metres, temperature: Celsius) -> Ohms {
    let at_20 = RESISTIVITY * length.0 / size.square_millimetres();
    let lay = if stranded { 1.0 + STRANDING } else { 1.0 };
    Ohms(at_20 * lay * factor(temperature))
}

/// Resistance at a temperature over that at 20 °C.
pub(crate) fn factor(temperature: Celsius) -> f64 {
    1.0 + COEFFICIENT * (temperature.0 - 20.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    const KILOFOOT: Metres = Metres(304.8);

    fn per_kilofoot(gauge: i32, temperature: f64) -> f64 {
        resistance(WireSize::Awg(gauge), false, KILOFOOT, Celsius(temperature)).0
    }

    /// ASTM B258 diameters in inches as its table prints them, to 0.0001 in, from 36 to 4/0.
    #[test]
    fn diameters_of_astm_b258() {
        let table = [
            (36, 0.0050),
            (26, 0.0159),
            (24, 0.0201),
            (22, 0.0253),
            (20, 0.0320),
            (18, 0.0403),
            (16, 0.0508),
            (14, 0.0641),
            (12, 0.0808),
            (-3, 0.4600),
        ];
        for (gauge, inches) in table {
            let found = (WireSize::Awg(gauge).square_millimetres() * 4.0 / std::f64::consts::PI).sqrt() / 25.4;
            assert!((found - inches).abs() <= 0.5e-4, "{gauge} AWG: {found} against {inches}");
        }
    }

    /// ASTM B258 diameters with IEC 60028 resistivity, to the figures that handbooks print at 20 °C.
    #[test]
    fn gauges_at_20_degrees() {
        let table =
            [(12, 1.588), (14, 2.525), (16, 4.016), (18, 6.385), (20, 10.15), (22, 16.14), (24, 25.67), (26, 40.81)];
        for (gauge, ohms) in table {
            let found = per_kilofoot(gauge, 20.0);
            assert!((found / ohms - 1.0).abs() < 5e-4, "{gauge} AWG: {found} against {ohms}");
        }
    }

    /// NEC chapter 9 table 8, solid uncoated copper at 75 °C; its areas are rounded, hence 0.2 %.
    #[test]
    fn gauges_of_nec_chapter_9_table_8() {
        for (gauge, ohms) in [(18, 7.77), (16, 4.89), (14, 3.07), (12, 1.93)] {
            let found = per_kilofoot(gauge, 75.0);
            assert!((found / ohms - 1.0).abs() < 2e-3, "{gauge} AWG: {found} against {ohms}");
        }
    }

    /// NEC chapter 9 table 8, stranded (7 wires) uncoated copper at 75 °C. The table has 2 to 2.6 % for the lay where
    /// we have 2 %, so we lie up to 0.5 % below it and never above.
    #[test]
    #[allow(clippy::approx_constant, reason = "3.14 Ω is no π")]
    fn stranded_gauges_of_nec_chapter_9_table_8() {
        for (gauge, ohms) in [(18, 7.95), (16, 4.99), (14, 3.14), (12, 1.98)] {
            let found = resistance(WireSize::Awg(gauge), true, KILOFOOT, Celsius(75.0)).0;
            assert!(found < ohms && found > ohms * 0.995, "{gauge} AWG: {found} against {ohms}");
        }
    }

    /// IEC 60228 maxima at 20 °C (from memory), class 1 solid and class 5 flexible: a nominal area of ideal copper stays
    /// below each, and not by more than the standard gives a maker to spare; the most is the row itself.
    #[test]
    fn metric_sizes_stay_below_the_maxima_of_iec_60228() {
        for row in conductors::ROWS {
            for (stranded, most) in [(false, row.solid), (true, row.flexible)] {
                let found = per_metre(WireSize::SquareMillimetres(row.area), stranded, Metal::Copper, None)
                    .map(|ohms| ohms * 1000.0);
                assert!(found.nominal < most && found.nominal > most * 0.87, "{row:?}: {found:?}");
                assert!((found.greatest - most).abs() < 1e-9, "{row:?}: {found:?}");
            }
        }
    }

    /// A sheet's figure goes before the standard's, and is no less than what the wire has nominally.
    #[test]
    fn a_sheet_says_the_most() {
        let size = WireSize::SquareMillimetres(0.5);
        let found = per_metre(size, false, Metal::Copper, Some(OhmsPerMetre(0.035)));
        assert!((found.greatest - 0.035).abs() < 1e-12 && (found.nominal - 2.0 / 58.0).abs() < 1e-12);
        assert_eq!(per_metre(size, false, Metal::Copper, Some(OhmsPerMetre(0.030))), Spread::exact(0.030));
        let gauge = per_metre(WireSize::Awg(22), false, Metal::Copper, None);
        assert_eq!(gauge, Spread::exact(gauge.nominal));
    }

    /// NEC chapter 9 table 8, 18 AWG solid at 75 °C: coated 8.08, uncoated 7.77 Ω/kft. Copper-clad aluminium has 61 to 68 %
    /// of copper's conductivity by volume (ASTM B566, from memory: 10 % and 15 % copper), so 1.47 to 1.64 times its ohms.
    #[test]
    fn other_metals_have_more() {
        let kilofoot =
            |metal| per_metre(WireSize::Awg(18), false, metal, None).map(|ohms| ohms * 304.8 * factor(Celsius(75.0)));
        let tinned = kilofoot(Metal::Tinned);
        assert!((tinned.greatest / 8.08 - 1.0).abs() < 2e-3 && (tinned.least / 7.77 - 1.0).abs() < 2e-3, "{tinned:?}");
        // Strands, coated, by the same table from memory: 8.45 and 5.29 Ω/kft.
        for (gauge, ohms) in [(18, 8.45), (16, 5.29)] {
            let found = per_metre(WireSize::Awg(gauge), true, Metal::Tinned, None);
            let found = found.map(|one| one * 304.8 * factor(Celsius(75.0)));
            assert!(found.greatest > ohms && (found.nominal / ohms - 1.0).abs() < 6e-3, "{gauge} AWG: {found:?}");
        }
        let clad = kilofoot(Metal::CopperClad);
        assert!(clad.least > 7.77 * 1.47 && clad.greatest > 7.77 * 1.64, "{clad:?}");
        let by_sheet = per_metre(WireSize::Awg(18), false, Metal::CopperClad, Some(OhmsPerMetre(0.034)));
        assert!((by_sheet.greatest - 0.034).abs() < 1e-12 && by_sheet.nominal > 0.033);
    }

    /// Arithmetic on 7 × 0.20 mm, a usual alarm core: 0.2199 mm², 78.4 Ω/km.
    #[test]
    fn a_core_of_seven_wires() {
        let area = 7.0 * std::f64::consts::PI / 4.0 * 0.2 * 0.2;
        let found = resistance(WireSize::SquareMillimetres(area), false, Metres(1000.0), Celsius(20.0)).0;
        assert!((found - 78.4).abs() < 0.05, "{found}");
    }

    /// IEC 60028: 18 AWG from 20 to 75 °C.
    #[test]
    fn temperature_factor() {
        assert!((factor(Celsius(75.0)) - 1.216_15).abs() < 1e-5);
    }
}
