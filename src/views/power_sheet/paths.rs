//! The ways to the monitoring service when the mains fails.

use serde::Serialize;

use crate::base::Id;
use crate::calc::power::path;
use crate::compiled::Compiled;
use crate::model::Communicator;
use crate::profiles::standby;
use crate::terms::Service;

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
        let (lasts, first, enough) = match path::weakest(site, id) {
            Some((hop, time)) => (time.to_string(), hop.name.value.clone(), if time >= asked { "yes" } else { "no" }),
            None if !line.hops.is_empty() => ("as long as the panel".to_owned(), String::new(), "yes"),
            None if line.service == Some(Service::Copper) => ("the line feeds itself".to_owned(), String::new(), "yes"),
            None => ("not known: the spec names no powered device on the way".to_owned(), String::new(), ""),
        };
        Row { way: line.title.clone(), lasts, first, enough }
    };
    site.communicators.entries().map(row).collect()
}
