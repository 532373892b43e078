//! The two letters by which SIA DC-03 says what a code of DC-05 says: from memory of its appendix.
//!
//! One pair for what happens (or an opening), one for its end (or a closing). Where the code is for any kind of zone, the
//! letters are those of an untyped one. Codes that no site here sends are left out.

use super::source::{Known, Source};

/// Where the letters are from.
pub const SOURCE: Source = Source::new("SIA DC-03", "1990.01 (R2000.11)", "", Known::FromMemory);

/// The letters of a code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Letters {
    /// When it happens, or of an opening.
    pub(crate) new: Option<&'static str>,
    /// When it is over, or of a closing.
    pub(crate) restore: Option<&'static str>,
}

/// The letters of a code; `None` where we know none.
pub(crate) fn find(code: impl Into<u32>) -> Option<Letters> {
    let both = |new, restore| Some(Letters { new: Some(new), restore: Some(restore) });
    let new = |new| Some(Letters { new: Some(new), restore: None });
    match code.into() {
        100..=102 => both("MA", "MH"),
        110..=112 | 115..=117 => both("FA", "FH"),
        113 => both("SA", "SH"),
        114 => both("KA", "KH"),
        120 | 123 => both("PA", "PH"),
        121 | 122 => both("HA", "HH"),
        130..=136 | 146 => both("BA", "BH"),
        137 => both("TA", "TR"),
        139 => both("BV", "BH"),
        140 | 150 => both("UA", "UH"),
        144 | 383 => both("TT", "TR"),
        145 | 341 => both("ES", "EJ"),
        151 | 162 => both("GA", "GH"),
        154 => both("WA", "WH"),
        159 => both("ZA", "ZH"),
        301 | 342 => both("AT", "AR"),
        302 | 338 => both("YT", "YR"),
        311 => both("YM", "YR"),
        312 => both("YI", "YJ"),
        337 => both("YP", "YQ"),
        320..=322 | 326 | 327 => both("YA", "YH"),
        330 => both("IA", "IR"),
        143 | 331..=333 => both("ET", "ER"),
        344 => both("XQ", "XH"),
        350 | 353 => both("YS", "YK"),
        351 | 352 => both("LT", "LR"),
        354 => both("YC", "YK"),
        373 => both("FT", "FJ"),
        374 | 457 => new("EE"),
        375 => both("PT", "PJ"),
        376 => both("HT", "HJ"),
        370..=372 | 380 => both("UT", "UJ"),
        381 => both("BZ", "BR"),
        384 => both("XT", "XR"),
        400 | 401 | 408 => both("OP", "CL"),
        403 => both("OA", "CA"),
        406 => new("BC"),
        409 => both("OS", "CS"),
        441 => Some(Letters { new: None, restore: Some("NL") }),
        459 => new("CR"),
        570 | 572 => both("UB", "UU"),
        571 => both("FB", "FU"),
        573 => both("BB", "BU"),
        601 => new("RX"),
        602 => new("RP"),
        608 => new("RY"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::profiles::events;

    /// The pattern of the appendix: the first letter is the class, a second A an alarm, T a trouble, B a bypass; H, J and U
    /// are their ends.
    #[test]
    fn an_alarm_a_trouble_and_a_bypass_end_with_their_own_letter() {
        let listed = (100..700_u32).filter_map(|code| Some((code, find(code)?)));
        let mut seen = 0;
        for (code, letters) in listed {
            assert!(events::find(code).is_some(), "{code} is in the list");
            let (Some(new), Some(end)) = (letters.new, letters.restore) else { continue };
            for (second, ends) in [("B", "U")].into_iter().chain([("A", "H")]) {
                // Those of classes that the pattern has, but for equipment's own.
                if "BFGHKMPQSUWZ".contains(&new[..1]) && new.ends_with(second) && new != "TA" {
                    assert_eq!(end, format!("{}{ends}", &new[..1]), "{code}");
                    seen += 1;
                }
            }
        }
        assert!(seen > 20, "{seen}");
        // A trouble of any loop, of fire and water as well, is none of burglary.
        assert_eq!(find(370_u32), find(380_u32));
    }
}
