//! A zone's description of which the service's form cuts off the room.

use super::cuts;
use crate::checks::Context;
use crate::diag::{Basis, Sink};

check!("description-loses-room", Basis::Mismatch, "a description of which the service's form cuts off the room");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for id in cuts::of_site(site).alone() {
        let Some(word) = cuts::lost_room(site, id) else { continue };
        let number = site.zones[id].number.value;
        let title = format!("the service's form cuts the room off the description of zone {number}");
        let lost = format!(", and “{}” is lost", word.to_lowercase());
        let why = "The dispatcher tells the police or the fire service which room it is. What is left names another, or none.";
        if let Some(finding) = cuts::finding(site, id, &RULE, (title, lost, why, "room")) {
            sink.push(finding);
        }
    }
}
