//! Facts of parts and cable types: what their data sheets say.

use super::field::{Atom, Gather, figure};
use super::site::metres;
use super::{Facts, Names, Thing, own_title};
use crate::model::{
    Band, BandEdges, BusPort, CableType, Charger, Conductor, ContactData, Draw, Input, LinePort, Output, Part,
    RadioData, Sensing, SupplyNeed,
};
use crate::terms::{Basis, Radio, Senses, Use};

pub fn tell(names: &Names<'_>, facts: &mut Facts) {
    for (id, part) in names.site.parts.entries() {
        let thing = Thing { fields: of_part(part).done(), said: format!("part {}", part.title), named: true, of: None };
        facts.insert(names.part(id), thing);
    }
    for (id, kind) in names.site.cables.entries() {
        let CableType { name, title, count, size, jacket, stranded, box_length, conductors, shared: _ } = kind;
        let mut gather = Gather::default()
            .text("title", own_title(title, &name.value))
            .figure("conductors", Some(count.value))
            .figure("size", Some(*size))
            .text("jacket", jacket.as_ref().map(|jacket| jacket.value.as_str()))
            .flag("stranded", *stranded)
            .atom("in a box", metres(names, *box_length));
        for (nth, Conductor { colour, purpose }) in (1..).zip(conductors) {
            let purpose = purpose.map(|purpose| Atom::Text(Use::word(purpose).into()));
            let value = std::iter::once(Atom::Text(colour.value.code())).chain(purpose).collect();
            gather = gather.value(format!("conductor {nth}"), value);
        }
        let thing = Thing { fields: gather.done(), said: format!("cable type {title}"), named: true, of: None };
        facts.insert(names.cable_type(id), thing);
    }
}

fn of_part(part: &Part) -> Gather {
    let Part {
        name,
        title,
        senses,
        basis,
        reference,
        shared: _,
        whole: _,
        contacts,
        tamper,
        supply,
        terminals,
        inputs,
        sensing,
        outputs,
        bus_ports,
        line_ports,
        draw,
        charger,
        wires_per_terminal,
        radio,
    } = part;
    let mut gather = Gather::default()
        .text("title", own_title(title, &name.value))
        .text("senses", senses.map(Senses::word))
        .text("basis", basis.map(Basis::word))
        .text("sheet", reference.as_deref())
        .value("terminals", terminals.iter().map(|mark| Atom::Text(mark.value.clone())).collect())
        .figure("conductors a terminal", *wires_per_terminal);
    for (nth, data) in (1..).zip(contacts) {
        gather = contact(gather, &format!("contact {nth}"), data);
    }
    if let Some(data) = tamper {
        gather = contact(gather, "cover contact", data);
    }
    if let Some(SupplyNeed { min, max, idle, alarm, positive, negative }) = supply {
        gather = gather
            .figure("least supply", Some(*min))
            .figure("most supply", *max)
            .figure("current at rest", Some(*idle))
            .figure("current in alarm", Some(*alarm))
            .text("supply + terminal", Some(positive))
            .text("supply − terminal", Some(negative));
    }
    for Input { number, signal, back } in inputs {
        let marks = [signal, back].map(|mark| Atom::Text(mark.clone())).to_vec();
        gather = gather.value(format!("input {}", number.value), marks);
    }
    if let Some(sensing) = sensing {
        gather = of_sensing(gather, sensing);
    }
    for output in outputs {
        gather = of_output(gather, output);
    }
    for port in bus_ports {
        gather = of_bus_port(gather, port);
    }
    for LinePort { name, in_tip, in_ring, out_tip, out_ring } in line_ports {
        let line = |field: &str| format!("line port {} {field}", name.value);
        gather = gather
            .text(line("in, tip"), Some(in_tip))
            .text(line("in, ring"), Some(in_ring))
            .text(line("out, tip"), out_tip.as_deref())
            .text(line("out, ring"), out_ring.as_deref());
    }
    if let Some(Draw { idle, alarm, min }) = draw {
        gather = gather
            .figure("draws at rest", Some(*idle))
            .figure("draws in alarm", Some(*alarm))
            .figure("works from", *min);
    }
    if let Some(Charger { current, cut_off }) = charger {
        gather = gather.figure("charger", Some(*current)).figure("lets the battery go at", *cut_off);
    }
    if let Some(RadioData { role, capacity, battery_life }) = radio {
        gather = gather
            .text("radio", Some(Radio::word(*role)))
            .figure("learns", *capacity)
            .figure("battery lasts", *battery_life);
    }
    gather
}

fn contact(gather: Gather, called: &str, data: &ContactData) -> Gather {
    let ContactData { form, resistance, mark } = data;
    gather
        .text(format!("{called} form"), Some(form.word()))
        .figure(format!("{called} resistance"), Some(*resistance))
        .text(format!("{called} terminals"), Some(mark))
}

fn of_sensing(gather: Gather, sensing: &Sensing) -> Gather {
    let Sensing { place: _, supply, pull_up, tolerance, supply_tolerance, bands } = sensing;
    let mut gather = gather
        .figure("sensing supply", *supply)
        .figure("pull-up", *pull_up)
        .figure("pull-up tolerance", Some(*tolerance))
        .figure("sensing supply tolerance", Some(*supply_tolerance));
    for Band { reads, edges } in bands {
        let (low, high) = match edges {
            BandEdges::Volts(low, high) => (low.map(figure), high.map(figure)),
            BandEdges::Ohms(low, high) => (low.map(figure), high.map(figure)),
        };
        let none = || Atom::Text("no edge".into());
        let value = vec![low.unwrap_or_else(none), high.unwrap_or_else(none)];
        gather = gather.more(format!("band {}", reads.value.word()), value);
    }
    gather
}

fn of_output(gather: Gather, output: &Output) -> Gather {
    let Output { name, positive, negative, volts, limit, switched, when } = output;
    let field = |field: &str| format!("output {} {field}", name.value);
    gather
        .text(field("+ terminal"), Some(positive))
        .text(field("− terminal"), Some(negative))
        .figure(field("volts"), Some(*volts))
        .figure(field("limit"), Some(*limit))
        .flag(field("switched"), *switched)
        .text(field("on"), Some(when.word()))
}

fn of_bus_port(gather: Gather, port: &BusPort) -> Gather {
    let BusPort { name, plus, minus, a, b, terminator, bias, bias_supply, unit_load, limit, volts, addresses } = port;
    let field = |field: &str| format!("bus port {} {field}", name.value);
    gather
        .value(field("terminals"), [plus, minus, a, b].map(|mark| Atom::Text(mark.clone())).to_vec())
        .figure(field("terminator"), *terminator)
        .figure(field("bias"), *bias)
        .figure(field("bias supply"), *bias_supply)
        .figure(field("unit load"), Some(*unit_load))
        .figure(field("limit"), *limit)
        .figure(field("volts"), *volts)
        .value(field("addresses"), addresses.map(|(first, last)| vec![figure(first), figure(last)]).unwrap_or_default())
}
