//! A zone whose event code is handled as something else than its type.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::events::{self, Event, Subject};
use crate::profiles::handling;
use crate::terms::{EventGroup, ZoneType};

check!(
    "event-code-of-other-kind",
    Basis::Mismatch,
    "a zone with an event code that is handled as something else than its type"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for zone in site.zones.iter().filter(|zone| zone.reserved.is_none()) {
        let (Some(kind), Some(written)) = (&zone.kind, &zone.event) else { continue };
        // A code of no list, and one about a user, are other rules'.
        let Some(event) = events::find(written.value).filter(|event| event.subject == Subject::Zone) else { continue };
        let usual = events::usual(kind.value);
        let (sent, meant) = (events::group(written.value), events::group(usual));
        let exchanged = is_exchanged(kind.value, event);
        if !(exchanged || is_handled_otherwise(kind.value, written.value)) {
            continue;
        }
        let (number, code, word) = (zone.number.value, event.code, kind.value.word());
        let action = |group: EventGroup| site.handling_of(group).unwrap_or_else(|| handling::usual(group).to_owned());
        let usual_meaning = events::find(usual).map_or("", |event| event.meaning);
        let figures = if exchanged {
            vec![format!("for {}: {}", sent.word(), action(sent))]
        } else {
            vec![format!("by event code {code}: {}", action(sent)), format!("by the type: {}", action(meant))]
        };
        let finding = Diagnostic::new(
            &RULE,
            written.span,
            format!(
                "zone {number} is of type {word} and would be handled as {}",
                if exchanged { event.meaning } else { sent.word() }
            ),
        )
        .here(format!("{code}: {}", event.meaning))
        .also(kind.span, format!("handled as {}", if exchanged { usual_meaning } else { meant.word() }))
        .why(
            "The service goes by the code alone. It never sees the type, and does what is agreed for the code's group.",
        )
        .help(format!(
            "Leave event= out for the type's usual {usual} ({usual_meaning}), or give the zone the type that it is."
        ))
        .about(number);
        sink.push(figures.into_iter().fold(finding, Diagnostic::figure));
    }
}

/// True for a silent panic zone with the code of an audible one, or the reverse: the service calls the premises of the one and not
/// of the other. Code 120 is neither.
fn is_exchanged(kind: ZoneType, event: &Event) -> bool {
    let is_panic = matches!(kind, ZoneType::PanicAudible | ZoneType::PanicSilent);
    is_panic && matches!(event.code, 122 | 123) && event.code != events::usual(kind)
}

/// True where a zone's code is handled in another group than its type, and not in one that is usual for it too.
pub(crate) fn is_handled_otherwise(kind: ZoneType, code: u32) -> bool {
    let sent = events::group(code);
    sent != events::group(events::usual(kind)) && !is_usual_beside(kind, sent)
}

/// A 24-hour zone may watch anything that is not life safety; a technical fault and a trouble both send nobody.
fn is_usual_beside(kind: ZoneType, sent: EventGroup) -> bool {
    match kind {
        ZoneType::TwentyFourHour | ZoneType::Trouble | ZoneType::Water | ZoneType::LowTemperature => {
            matches!(sent, EventGroup::Technical | EventGroup::Trouble)
        }
        // Of these the two codes that are exchanged are told.
        ZoneType::PanicAudible | ZoneType::PanicSilent => matches!(sent, EventGroup::Panic | EventGroup::PanicSilent),
        ZoneType::EntryExit
        | ZoneType::Perimeter
        | ZoneType::Interior
        | ZoneType::DayNight
        | ZoneType::Fire
        | ZoneType::Smoke
        | ZoneType::Heat
        | ZoneType::CarbonMonoxide
        | ZoneType::Medical
        | ZoneType::Gas
        | ZoneType::Tamper
        | ZoneType::Keyswitch => false,
    }
}
