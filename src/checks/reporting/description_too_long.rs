//! A zone's description that the service's form cuts.

use super::cuts;
use crate::checks::Context;
use crate::diag::{Basis, Sink};

check!("description-too-long", Basis::Mismatch, "a description that the service's form cuts");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // Those that are cut to the same words, or lose their room, are other rules'.
    for id in cuts::of_site(site).alone().filter(|id| cuts::lost_room(site, *id).is_none()) {
        let title = format!("the description of zone {} is cut by the service's form", site.zones[id].number.value);
        let why = "The dispatcher reads what is left, and has only that to send somebody to the right door.";
        if let Some(finding) = cuts::finding(site, id, &RULE, (title, String::new(), why, "place")) {
            sink.push(finding);
        }
    }
}
