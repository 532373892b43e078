//! Facts of the site itself, of areas, of the ways to the monitoring service and of accepted findings.

use std::collections::BTreeMap;

use super::field::{Atom, Gather, figure, length};
use super::{Facts, Kind, Names, Subject, Thing, number, own_title};
use crate::model::{Accept, Area, Building, Communicator, Hop, Monitoring, Revision, Site};
use crate::quantity::Metres;
use crate::terms::{Format, Framing, JackKind, Path, Profile, Service};

pub fn tell(names: &Names<'_>, facts: &mut Facts) {
    let site = names.site;
    let Site {
        name,
        title,
        lengths,
        revision,
        profile,
        edition,
        building: Building { built, framing },
        levels: _,
        rooms: _,
        openings: _,
        parts: _,
        cables: _,
        boards: _,
        areas,
        zones: _,
        buses: _,
        circuits: _,
        communicators,
        devices: _,
        runs: _,
        monitoring,
        accepts,
        measured: _, // readings are judged against the wall, they are not in it
        complete: _,
        sound: _,
    } = site;
    let mut fields = Gather::default()
        .text("name", Some(&name.value))
        .text("title", own_title(title, &name.value))
        .text("printed lengths", Some(lengths.symbol()))
        .text("profile", profile.map(Profile::word))
        .figure("edition", *edition)
        .figure("built", *built)
        .text("framing", framing.map(Framing::word));
    if let Some(Revision { mark, date, note }) = revision {
        fields = fields.text("revision", Some(mark)).figure("date", *date).text("note", note.as_deref());
    }
    let said = format!("site {title}");
    let thing = Thing { fields: fields.done(), said, named: false, of: None };
    facts.insert(Subject { kind: Kind::Site, key: "site".into() }, thing);

    for Area { name, title, number, entry, exit, abort } in areas {
        let fields = Gather::default()
            .text("title", own_title(title, &name.value))
            .figure("number", Some(*number))
            .figure("entry delay", entry.as_ref().map(|delay| delay.value))
            .figure("exit delay", exit.as_ref().map(|delay| delay.value))
            .figure("abort window", abort.as_ref().map(|window| window.value))
            .done();
        let thing = Thing { fields, said: format!("area {title}"), named: true, of: None };
        facts.insert(Subject { kind: Kind::Area, key: name.value.clone() }, thing);
    }
    for communicator in communicators {
        tell_communicator(names, communicator, facts);
    }
    if let Some(monitoring) = monitoring {
        tell_monitoring(monitoring, facts);
    }
    tell_accepts(accepts, facts);
}

fn tell_communicator(names: &Names<'_>, communicator: &Communicator, facts: &mut Facts) {
    let Communicator { name, title, path, service, jack, port, module, run, hops } = communicator;
    let port = port.map(|(board, port)| {
        let marks = names.site.part_of(board).and_then(|part| part.line_ports.get(port));
        let name = marks.map(|port| port.name.value.clone()).unwrap_or_default();
        vec![Atom::Thing(names.board(board)), Atom::Text(name)]
    });
    let mut fields = Gather::default()
        .text("title", own_title(title, &name.value))
        .text("goes over", path.as_ref().map(|path| Path::word(path.value)))
        .text("service", service.map(Service::word))
        .text("jack", jack.map(JackKind::word))
        .value("board", port.unwrap_or_default())
        .thing("adapter", module.as_ref().map(|module| names.board(module.value)))
        .thing("cable", run.map(|run| names.run(run)));
    for (nth, Hop { name, output, backup, draw }) in (1..).zip(hops) {
        let mut value = vec![Atom::Text(name.value.clone())];
        value.extend(output.as_ref().map(|output| Atom::Text(format!("from output {output}"))));
        value.extend(backup.map(figure));
        value.extend(draw.map(figure));
        fields = fields.value(format!("hop {nth}"), value);
    }
    let said = format!("communicator {title}");
    let thing = Thing { fields: fields.done(), said, named: true, of: None };
    facts.insert(Subject { kind: Kind::Communicator, key: name.value.clone() }, thing);
}

fn tell_monitoring(monitoring: &Monitoring, facts: &mut Facts) {
    let Monitoring { format, description_width, test_every, handling } = monitoring;
    let mut fields = Gather::default()
        .text("format", format.map(Format::word))
        .figure("description width", Some(description_width.value))
        .figure("test report every", *test_every);
    let mut seen = BTreeMap::new();
    for (group, action) in handling {
        let mut field = format!("handling of {}", group.value.word());
        number(&mut field, &mut seen);
        fields = fields.text(field, Some(action));
    }
    let thing = Thing { fields: fields.done(), said: "what the service's form wants".into(), named: false, of: None };
    facts.insert(Subject { kind: Kind::Monitoring, key: "monitoring".into() }, thing);
}

/// Accepted findings, known by rule and subject; their order in the source is not significant.
fn tell_accepts(accepts: &[Accept], facts: &mut Facts) {
    let mut accepts: Vec<&Accept> = accepts.iter().collect();
    let key = |accept: &Accept| {
        let subject = accept.subject.as_ref().map(|subject| format!(" for {}", subject.value)).unwrap_or_default();
        format!("{}{subject}", accept.rule.value)
    };
    accepts.sort_by(|a, b| key(a).cmp(&key(b)).then_with(|| a.because.cmp(&b.because)));
    let mut seen = BTreeMap::new();
    for accept in accepts {
        let Accept { rule, subject, because } = accept;
        let mut key = key(accept);
        number(&mut key, &mut seen);
        let fields = Gather::default()
            .text("rule", Some(&rule.value))
            .text("about", subject.as_ref().map(|subject| subject.value.as_str()))
            .text("because", Some(because))
            .done();
        let said = format!("accepted finding {key}");
        facts.insert(Subject { kind: Kind::Accept, key }, Thing { fields, said, named: false, of: None });
    }
}

/// A length in the unit that the site prints.
pub fn metres(names: &Names<'_>, value: Option<Metres>) -> Option<Atom> {
    value.map(|value| length(value, names.site.lengths))
}
