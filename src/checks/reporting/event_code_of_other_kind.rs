//! A zone whose event code is handled as something else than its type.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::events::{self, Subject};
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
        if sent == meant || is_usual_beside(kind.value, sent) {
            continue;
        }
        let (number, code, word) = (zone.number.value, event.code, kind.value.word());
        let action = |group: EventGroup| site.handling_of(group).unwrap_or_else(|| handling::usual(group).to_owned());
        let usual_meaning = events::find(usual).map_or("", |event| event.meaning);
        sink.push(
            Diagnostic::new(
                &RULE,
                written.span,
                format!("zone {number} is of type {word} and would be handled as {}", sent.word()),
            )
            .here(format!("{code}: {}", event.meaning))
            .also(kind.span, format!("handled as {}", meant.word()))
            .why("The service goes by the code alone. It never sees the type, and does what is agreed for the code's group.")
            .figure(format!("by event code {code}: {}", action(sent)))
            .figure(format!("by the type: {}", action(meant)))
            .help(format!(
                "Leave event= out for the type's usual {usual} ({usual_meaning}), or give the zone the type that it is."
            ))
            .about(number),
        );
    }
}

/// A 24-hour zone may watch anything that is not life safety; a technical fault and a trouble both send nobody.
fn is_usual_beside(kind: ZoneType, sent: EventGroup) -> bool {
    match kind {
        ZoneType::TwentyFourHour | ZoneType::Trouble | ZoneType::Water | ZoneType::LowTemperature => {
            matches!(sent, EventGroup::Technical | EventGroup::Trouble)
        }
        ZoneType::EntryExit
        | ZoneType::Perimeter
        | ZoneType::Interior
        | ZoneType::DayNight
        | ZoneType::Fire
        | ZoneType::Smoke
        | ZoneType::Heat
        | ZoneType::CarbonMonoxide
        | ZoneType::PanicAudible
        | ZoneType::PanicSilent
        | ZoneType::Medical
        | ZoneType::Gas
        | ZoneType::Tamper
        | ZoneType::Keyswitch => false,
    }
}
