//! Event codes of ANSI/SIA DC-05-1999, and the code that a type of zone usually reports with.
//!
//! Numbers, and whether the third field is a zone or a user, are those of the standard; the meanings are in our own
//! short words. A few codes are additions made after the edition of 1999.

use super::source::{Known, Source};
use crate::terms::{EmergencyKey, EventGroup, ZoneType};

/// Where the codes are from.
pub const SOURCE: Source = Source::new("ANSI/SIA DC-05-1999", "", "", Known::Quoted);
/// Where the usual code of a type of zone is from.
pub const USUAL: Source = Source::borrowed("by the names in the list of ANSI/SIA DC-05-1999");

/// What the third field of a report means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Subject {
    /// A zone number.
    Zone,
    /// A user number.
    User,
}

/// An event code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Event {
    /// The three digits that are sent.
    pub(crate) code: u16,
    /// What happened, in a few words.
    pub(crate) meaning: &'static str,
    /// What the number behind it is.
    pub(crate) subject: Subject,
}

/// The event of a code; `None` where the list has none.
pub(crate) fn find(code: impl Into<u32>) -> Option<&'static Event> {
    let code = code.into();
    EVENTS.binary_search_by_key(&code, |event| u32::from(event.code)).ok().and_then(|at| EVENTS.get(at))
}

/// The code that a type of zone is usually reported with: common practice, by the names in the standard's list.
pub(crate) fn usual(kind: ZoneType) -> u16 {
    match kind {
        ZoneType::EntryExit => 134,
        ZoneType::Perimeter => 131,
        ZoneType::Interior => 132,
        ZoneType::DayNight => 135,
        ZoneType::TwentyFourHour => 133,
        ZoneType::Fire => 110,
        ZoneType::Smoke => 111,
        ZoneType::Heat => 114,
        ZoneType::CarbonMonoxide => 162,
        ZoneType::PanicAudible => 123,
        ZoneType::PanicSilent => 122,
        ZoneType::Medical => 100,
        ZoneType::Water => 154,
        ZoneType::LowTemperature => 159,
        ZoneType::Gas => 151,
        ZoneType::Tamper => 137,
        ZoneType::Trouble => 330,
        ZoneType::Keyswitch => 409,
    }
}

/// The code that an emergency key is usually reported with: common practice, by the names in the standard's list.
pub(crate) fn of_key(key: EmergencyKey) -> u16 {
    match key {
        EmergencyKey::Fire => 110,
        EmergencyKey::Medical => 100,
        EmergencyKey::PanicAudible => 123,
        EmergencyKey::PanicSilent => 122,
    }
}

/// The group that a code is handled with; whatever is no alarm of another group is technical. A trouble or supervisory
/// code is never handled as the alarm beside which it stands in the list: the grouping is ours, over the names of the list.
pub(crate) fn group(code: impl Into<u32>) -> EventGroup {
    match code.into() {
        100..=109 | 641 | 654 => EventGroup::Medical,
        110..=119 => EventGroup::Fire,
        121 | 122 | 124 | 125 => EventGroup::PanicSilent,
        120..=129 => EventGroup::Panic,
        141..=143 | 145 | 147 | 156 | 200..=206 | 300..=399 | 426..=428 | 432 | 500..=569 | 616 => EventGroup::Trouble,
        // A door that was forced stands among what is told of access; nobody records it and leaves it at that.
        130..=149 | 155 | 423 => EventGroup::Intrusion,
        151 | 157 | 162 => EventGroup::Gas,
        400..=499 | 570..=577 => EventGroup::Arming,
        600..=699 => EventGroup::Test,
        _ => EventGroup::Technical,
    }
}

/// True where the qualifier tells an opening from a closing, and not an event from its end.
pub(crate) fn is_opening(code: impl Into<u32>) -> bool {
    matches!(code.into(), 400..=405 | 407..=409 | 441 | 442 | 450..=452 | 456)
}

/// True where the number behind a code counts zones or users. Of what equipment tells of itself (a supply, a module, a
/// sounder, the log), the board gives the number, and 000 where there is only one: ours, over the names of the list.
pub(crate) fn is_numbered_by_the_spec(code: impl Into<u32>) -> bool {
    let code = code.into();
    let by_user = find(code).is_some_and(|event| event.subject == Subject::User);
    by_user || !matches!(code, 141..=143 | 145 | 300..=369 | 500..=569 | 600..=610 | 616..=639)
}

const fn zone(code: u16, meaning: &'static str) -> Event {
    Event { code, meaning, subject: Subject::Zone }
}

const fn user(code: u16, meaning: &'static str) -> Event {
    Event { code, meaning, subject: Subject::User }
}

/// The list, by code. Reserved codes are left out.
pub(crate) static EVENTS: &[Event] = &[
    zone(100, "medical"),
    zone(101, "personal emergency"),
    zone(102, "failed to check in"),
    zone(110, "fire"),
    zone(111, "smoke"),
    zone(112, "combustion"),
    zone(113, "water flow"),
    zone(114, "heat"),
    zone(115, "pull station"),
    zone(116, "duct smoke"),
    zone(117, "flame"),
    zone(118, "fire, near alarm"),
    zone(120, "panic"),
    user(121, "duress"),
    zone(122, "silent panic"),
    zone(123, "audible panic"),
    zone(124, "duress, access granted"),
    zone(125, "duress, egress granted"),
    zone(130, "burglary"),
    zone(131, "perimeter"),
    zone(132, "interior"),
    zone(133, "24-hour"),
    zone(134, "entry or exit"),
    zone(135, "day or night"),
    zone(136, "outdoor"),
    zone(137, "tamper"),
    zone(138, "intrusion, near alarm"),
    zone(139, "verified intrusion"),
    zone(140, "general alarm"),
    zone(141, "polling loop open"),
    zone(142, "polling loop short"),
    zone(143, "expansion module failure"),
    zone(144, "sensor tamper"),
    zone(145, "module tamper"),
    zone(146, "silent burglary"),
    zone(147, "sensor supervision failure"),
    zone(150, "24-hour, not burglary"),
    zone(151, "gas"),
    zone(152, "refrigeration"),
    zone(153, "loss of heat"),
    zone(154, "water leak"),
    zone(155, "foil break"),
    zone(156, "day trouble"),
    zone(157, "low bottled gas"),
    zone(158, "high temperature"),
    zone(159, "low temperature"),
    zone(161, "loss of air flow"),
    zone(162, "carbon monoxide"),
    zone(163, "tank level"),
    zone(200, "fire supervisory"),
    zone(201, "low water pressure"),
    zone(202, "low carbon dioxide"),
    zone(203, "gate valve moved"),
    zone(204, "low water level"),
    zone(205, "pump on"),
    zone(206, "pump failure"),
    zone(300, "system trouble"),
    zone(301, "mains lost"),
    zone(302, "low battery"),
    zone(303, "memory checksum wrong"),
    zone(304, "program checksum wrong"),
    zone(305, "system reset"),
    zone(306, "programming changed"),
    zone(307, "self-test failed"),
    zone(308, "shutdown"),
    zone(309, "battery test failed"),
    zone(310, "ground fault"),
    zone(311, "battery missing or dead"),
    zone(312, "supply over-current"),
    user(313, "engineer reset"),
    zone(320, "sounder or relay trouble"),
    zone(321, "bell 1 trouble"),
    zone(322, "bell 2 trouble"),
    zone(323, "alarm relay trouble"),
    zone(324, "trouble relay trouble"),
    zone(325, "reversing relay trouble"),
    zone(326, "notification circuit 3 trouble"),
    zone(327, "notification circuit 4 trouble"),
    zone(330, "peripheral trouble"),
    zone(331, "polling loop open"),
    zone(332, "polling loop short"),
    zone(333, "module failure"),
    zone(334, "repeater failure"),
    zone(335, "printer out of paper"),
    zone(336, "printer failure"),
    zone(337, "module supply lost"),
    zone(338, "module low battery"),
    zone(339, "module reset"),
    zone(341, "module tamper"),
    zone(342, "module mains lost"),
    zone(343, "module self-test"),
    zone(344, "radio interference"),
    zone(350, "communication trouble"),
    zone(351, "telephone line 1 fault"),
    zone(352, "telephone line 2 fault"),
    zone(353, "long-range radio fault"),
    zone(354, "failed to communicate"),
    zone(355, "radio supervision lost"),
    zone(356, "central polling lost"),
    zone(357, "radio antenna mismatch"),
    zone(370, "protection loop trouble"),
    zone(371, "loop open"),
    zone(372, "loop short"),
    zone(373, "fire trouble"),
    zone(374, "exit error by zone"),
    zone(375, "panic zone trouble"),
    zone(376, "hold-up zone trouble"),
    zone(377, "swinger trouble"),
    zone(378, "cross-zone trouble"),
    zone(380, "sensor trouble"),
    zone(381, "radio supervision lost"),
    zone(382, "wired-point supervision lost"),
    zone(383, "sensor tamper"),
    zone(384, "transmitter battery low"),
    zone(385, "smoke detector sensitivity high"),
    zone(386, "smoke detector sensitivity low"),
    zone(387, "intrusion detector sensitivity high"),
    zone(388, "intrusion detector sensitivity low"),
    zone(389, "sensor self-test"),
    zone(391, "sensor watch failed"),
    zone(392, "drift beyond limits"),
    zone(393, "maintenance due"),
    user(400, "opening or closing"),
    user(401, "opening or closing by user"),
    user(402, "opening or closing by group"),
    user(403, "automatic opening or closing"),
    user(404, "late opening or closing"),
    user(405, "deferred opening or closing"),
    user(406, "cancelled"),
    user(407, "armed or disarmed remotely"),
    user(408, "quick arming"),
    user(409, "opening or closing by keyswitch"),
    user(411, "callback requested"),
    user(412, "download done"),
    user(413, "failed access"),
    user(414, "shutdown command"),
    user(415, "communicator shut down"),
    zone(416, "upload done"),
    user(421, "access denied"),
    user(422, "access by user"),
    zone(423, "forced access"),
    user(424, "egress denied"),
    user(425, "egress granted"),
    zone(426, "door propped"),
    zone(427, "door monitor trouble"),
    zone(428, "request-to-exit trouble"),
    user(429, "access programming entered"),
    user(430, "access programming left"),
    user(431, "threat level changed"),
    zone(432, "access relay failed"),
    zone(433, "request-to-exit shunted"),
    zone(434, "door monitor shunted"),
    user(441, "armed staying in"),
    user(442, "armed staying in by keyswitch"),
    user(450, "exception opening or closing"),
    user(451, "early opening or closing"),
    user(452, "late opening or closing"),
    user(453, "failed to open"),
    user(454, "failed to close"),
    user(455, "automatic arming failed"),
    user(456, "partial arming"),
    user(457, "exit error by user"),
    user(458, "user on premises"),
    user(459, "recent closing"),
    zone(461, "wrong code entered"),
    user(462, "legal code entered"),
    user(463, "re-arm after alarm"),
    user(464, "automatic arming extended"),
    zone(465, "panic reset"),
    user(466, "service on or off premises"),
    zone(501, "reader disabled"),
    zone(520, "sounder or relay disabled"),
    zone(521, "bell 1 disabled"),
    zone(522, "bell 2 disabled"),
    zone(523, "alarm relay disabled"),
    zone(524, "trouble relay disabled"),
    zone(525, "reversing relay disabled"),
    zone(526, "notification circuit 3 disabled"),
    zone(527, "notification circuit 4 disabled"),
    zone(531, "module added"),
    zone(532, "module removed"),
    zone(551, "communicator disabled"),
    zone(552, "radio disabled"),
    zone(553, "remote upload and download disabled"),
    zone(570, "zone bypassed"),
    zone(571, "fire zone bypassed"),
    zone(572, "24-hour zone bypassed"),
    zone(573, "burglary bypassed"),
    user(574, "group bypassed"),
    zone(575, "swinger bypassed"),
    zone(576, "access shunted"),
    zone(577, "access point bypassed"),
    zone(601, "manual test"),
    zone(602, "periodic test"),
    zone(603, "periodic radio test"),
    user(604, "fire test"),
    zone(605, "status report follows"),
    zone(606, "listen-in follows"),
    user(607, "walk test"),
    zone(608, "periodic test with trouble"),
    zone(609, "video active"),
    zone(611, "point tested"),
    zone(612, "point not tested"),
    zone(613, "intrusion zone walk-tested"),
    zone(614, "fire zone walk-tested"),
    zone(615, "panic zone walk-tested"),
    zone(616, "service request"),
    zone(621, "event log reset"),
    zone(622, "event log half full"),
    zone(623, "event log 90 percent full"),
    zone(624, "event log overflow"),
    user(625, "time or date reset"),
    zone(626, "time inaccurate"),
    zone(627, "programming entered"),
    zone(628, "programming left"),
    zone(629, "32-hour event log marker"),
    zone(630, "schedule changed"),
    zone(631, "exception schedule changed"),
    zone(632, "access schedule changed"),
    zone(641, "senior watch trouble"),
    user(642, "latch key"),
    zone(654, "inactivity"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_is_in_order_and_each_code_is_found() {
        assert!(EVENTS.is_sorted_by(|a, b| a.code < b.code));
        assert!(EVENTS.iter().all(|event| find(event.code) == Some(event)));
        assert_eq!(find(999_u32), None);
    }

    #[test]
    fn every_type_of_zone_has_a_code_in_its_group() {
        for kind in ZoneType::ALL {
            let event = find(usual(*kind)).expect("usual codes are listed");
            // Arming is reported with the number of whoever did it.
            let subject = if *kind == ZoneType::Keyswitch { Subject::User } else { Subject::Zone };
            assert_eq!(event.subject, subject, "{kind:?}");
        }
        assert_eq!(group(usual(ZoneType::Smoke)), EventGroup::Fire);
        assert_eq!(group(usual(ZoneType::Tamper)), EventGroup::Intrusion);
        assert_eq!(group(usual(ZoneType::CarbonMonoxide)), EventGroup::Gas);
        assert_eq!(group(usual(ZoneType::Water)), EventGroup::Technical);
        assert_eq!(group(usual(ZoneType::Keyswitch)), EventGroup::Arming);
    }

    /// The list of ANSI/SIA DC-05, group by group, as three public transcriptions have it: codes behind which stands a zone,
    /// codes behind which stands a user.
    const PUBLISHED: &[(&str, &str, &str)] = &[
        ("medical", "100-102", ""),
        ("fire", "110-118", ""),
        ("panic", "120 122-125", "121"),
        ("burglary", "130-139", ""),
        ("general", "140-147", ""),
        ("24-hour", "150-159 161-163", ""),
        ("supervisory", "200-206", ""),
        ("system", "300-312", "313"),
        ("sounder", "320-327", ""),
        ("peripheral", "330-339 341-344", ""),
        ("communication", "350-357", ""),
        ("loop", "370-378", ""),
        ("sensor", "380-389 391-393", ""),
        ("open and close", "", "400-409 441 442 450-459"),
        ("remote", "416", "411-415"),
        ("access", "423 426-428 432-434", "421 422 424 425 429-431"),
        ("codes", "461 465", "462-464 466"),
        ("disabled", "501 520-527 531 532 551-553", ""),
        ("bypass", "570-573 575-577", "574"),
        ("test", "601-603 605 606 608 609 611-616", "604 607"),
        ("log", "621-624 626-632 641 654", "625 642"),
    ];

    #[test]
    fn the_list_has_the_published_codes_and_no_other() {
        let codes = |text: &str| -> Vec<u16> {
            let ranges = text.split_whitespace().map(|range| range.split_once('-').unwrap_or((range, range)));
            ranges.flat_map(|(from, to)| from.parse::<u16>().unwrap()..=to.parse().unwrap()).collect()
        };
        let mut published: Vec<(u16, Subject)> = Vec::new();
        for (_, zones, users) in PUBLISHED {
            published.extend(codes(zones).into_iter().map(|code| (code, Subject::Zone)));
            published.extend(codes(users).into_iter().map(|code| (code, Subject::User)));
        }
        published.sort_unstable();
        let ours: Vec<(u16, Subject)> = EVENTS.iter().map(|event| (event.code, event.subject)).collect();
        assert_eq!(ours, published);
    }

    #[test]
    fn bypasses_tests_and_what_is_disabled_send_nobody() {
        for (codes, expected) in
            [(570..=577_u32, EventGroup::Arming), (601..=632, EventGroup::Test), (501..=553, EventGroup::Trouble)]
        {
            for code in codes.filter(|code| *code != 616) {
                assert_eq!(group(code), expected, "{code}");
            }
        }
        assert_eq!(group(616_u32), EventGroup::Trouble);
    }

    /// By the names in the list: a door forced open is no arming, nor is a door that stands open or a relay that has failed.
    #[test]
    fn what_is_told_of_a_door_is_handled_by_its_name() {
        assert_eq!(group(423_u32), EventGroup::Intrusion);
        for code in [426, 427, 428, 432_u32] {
            assert_eq!(group(code), EventGroup::Trouble, "{code}");
        }
        for code in [421, 422, 424, 425, 429, 430, 431, 433, 434_u32] {
            assert_eq!(group(code), EventGroup::Arming, "{code}");
        }
    }

    /// Users are never the board's own count.
    #[test]
    fn what_has_a_user_behind_it_is_numbered_by_the_spec() {
        for event in EVENTS.iter().filter(|event| event.subject == Subject::User) {
            assert!(is_numbered_by_the_spec(event.code), "{}", event.code);
        }
        assert!(!is_numbered_by_the_spec(302_u32) && !is_numbered_by_the_spec(602_u32));
    }

    /// The pairs of the table "Typical zone type → code mapping": practice over the numbers of ANSI/SIA DC-05-1999.
    #[test]
    fn every_type_has_its_usual_code_and_the_group_that_fits_it() {
        use EventGroup::{Arming, Fire, Gas, Intrusion, Medical, Panic, PanicSilent, Technical, Trouble};
        for (kind, code, expected) in [
            (ZoneType::EntryExit, 134, Intrusion),
            (ZoneType::Perimeter, 131, Intrusion),
            (ZoneType::Interior, 132, Intrusion),
            (ZoneType::DayNight, 135, Intrusion),
            (ZoneType::TwentyFourHour, 133, Intrusion),
            (ZoneType::Fire, 110, Fire),
            (ZoneType::Smoke, 111, Fire),
            (ZoneType::Heat, 114, Fire),
            (ZoneType::CarbonMonoxide, 162, Gas),
            (ZoneType::PanicAudible, 123, Panic),
            (ZoneType::PanicSilent, 122, PanicSilent),
            (ZoneType::Medical, 100, Medical),
            (ZoneType::Water, 154, Technical),
            (ZoneType::LowTemperature, 159, Technical),
            (ZoneType::Gas, 151, Gas),
            (ZoneType::Tamper, 137, Intrusion),
            (ZoneType::Trouble, 330, Trouble),
            (ZoneType::Keyswitch, 409, Arming),
        ] {
            assert_eq!((usual(kind), group(usual(kind))), (code, expected), "{kind:?}");
        }
    }

    /// By the names in the list of ANSI/SIA DC-05-1999: medical, fire, audible and silent panic.
    #[test]
    fn every_emergency_key_has_its_code_and_the_group_that_fits_it() {
        for (key, code, expected) in [
            (EmergencyKey::Fire, 110, EventGroup::Fire),
            (EmergencyKey::Medical, 100, EventGroup::Medical),
            (EmergencyKey::PanicAudible, 123, EventGroup::Panic),
            (EmergencyKey::PanicSilent, 122, EventGroup::PanicSilent),
        ] {
            assert_eq!((of_key(key), group(of_key(key))), (code, expected), "{key:?}");
        }
    }

    /// Troubles and supervisory signals of the list of ANSI/SIA DC-05-1999: nobody is sent to a fire that is a broken wire.
    #[test]
    fn a_trouble_is_not_handled_as_an_alarm() {
        for code in (141..=143_u32).chain([145, 147]).chain(200..=206).chain(300..400) {
            assert_eq!(group(code), EventGroup::Trouble, "{code}");
        }
    }

    /// Three public transcriptions of the list agree: behind 573 stands a zone, behind 574 a user.
    #[test]
    fn a_bypassed_zone_is_reported_by_its_number_and_a_group_by_who_did_it() {
        assert_eq!(find(573_u32).map(|event| event.subject), Some(Subject::Zone));
        assert_eq!(find(574_u32).map(|event| event.subject), Some(Subject::User));
    }
}
