//! The ways to the monitoring service when the mains fails.

use serde::Serialize;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::power::path::{self, Lives};
use crate::compiled::Compiled;
use crate::model::Communicator;
use crate::profiles::standby;

/// A way to the service.
#[derive(Debug, Serialize)]
pub(crate) struct Row {
    way: String,
    lasts: String,
    first: String,
    enough: &'static str,
}

/// The ways, by name.
pub(crate) fn rows(compiled: &Compiled) -> Vec<Row> {
    let asked = standby::of_site(&compiled.site).standby.time();
    let site = &compiled.site;
    let row = |(id, line): (Id<Communicator>, &Communicator)| {
        let (lasts, first, enough) = match path::lives(site, id) {
            Lives::Until(hops, time) => {
                let names: Vec<&str> = hops.iter().map(|hop| hop.name.value.as_str()).collect();
                (time.to_string(), list(&names, "and"), if time >= asked { "yes" } else { "no" })
            }
            Lives::AsThePanel => ("as long as the panel".to_owned(), String::new(), "yes"),
            Lives::NotKnown => ("not known: the spec names no powered device on the way".to_owned(), String::new(), ""),
        };
        Row { way: line.title.clone(), lasts, first, enough }
    };
    site.communicators.entries().map(row).collect()
}
