//! What a monitoring service is usually asked to do, by group of events: common practice, printed as a proposal.

use super::source::Source;
use crate::terms::EventGroup;

/// Nobody asks for these: they are to be agreed with the service.
pub const SOURCE: Source = Source::practice();

/// The usual handling of a group.
pub(crate) fn usual(group: EventGroup) -> &'static str {
    match group {
        EventGroup::Intrusion => {
            "call the premises, then a second number; without the passphrase send the police and call the keyholders"
        }
        EventGroup::Fire => "send the fire service first, then call the premises and the keyholders",
        EventGroup::Gas => {
            "send the fire service first; call the premises and have everybody leave; then the keyholders"
        }
        EventGroup::Panic => "call the premises, then send the police",
        EventGroup::PanicSilent => "send the police and do not call the premises",
        EventGroup::Medical => "call the premises; without an answer send medical help; then call the keyholders",
        EventGroup::Technical => "call the premises, then the keyholders; send nobody",
        EventGroup::Arming => {
            "record it and call nobody; a cancel ends the response to a burglary alarm only, never to fire, gas, panic, duress or medical; where opening hours are agreed, call the keyholders when they are missed"
        }
        EventGroup::Trouble => "call the owner, then the installer; send nobody",
        EventGroup::Test => {
            "record it and call nobody; where a test report does not come, call the owner, then the installer"
        }
    }
}
