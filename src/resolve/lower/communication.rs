//! Communicators and the monitoring service's form.

use std::collections::BTreeSet;

use crate::base::wording::did_you_mean;
use crate::base::{Id, Spanned};
use crate::model::{Board, BoardKind, Communicator, Hop, HopRef, Monitoring, Mounted, Owner, Take};
use crate::quantity::{Seconds, Volts};
use crate::schema::Reading;
use crate::terms::{EventGroup, Format, JackKind, Path, PinOrder, Service};

use super::chains::Chain;
use super::{Lower, Top, sorted, title_of};
use crate::resolve::rules;

/// Characters for a description where the spec does not say: common practice.
const DESCRIPTION_WIDTH: u32 = 24;
/// No service is told sooner that a way is silent: ours.
const LEAST_SUPERVISION: Seconds = Seconds(10.0);
/// No board sends its test report oftener: ours.
const LEAST_TEST: Seconds = Seconds(3600.0);

impl Lower<'_> {
    /// The ways with their hops, so that circuits can feed these.
    pub(super) fn communicator_list(&mut self, tops: &[Top<'_>]) {
        let outputs = self.panel_outputs();
        for (reading, _) in sorted(tops, "communicator", "name") {
            let Some(name) = reading.text("name") else { continue };
            let board = reading.text("board").and_then(|board| {
                let id = self.source_board("line port", &board)?;
                Some(Spanned::new(id, board.span))
            });
            let is_said = reading.text("board").is_some() || reading.text("module").is_some();
            let board =
                board.or_else(|| self.only_panel().filter(|_| !is_said).map(|panel| Spanned::new(panel, name.span)));
            let path = reading.word("type", Path::from_word);
            if let Some(path) = &path {
                self.report_without_effect(reading, path);
            }
            self.check_interval(reading, "supervised-every", LEAST_SUPERVISION);
            // A network or an antenna has a socket and no line port.
            let telephone = path.as_ref().is_none_or(|path| path.value == Path::Telephone);
            let wants_port = telephone || reading.text("port").is_some();
            let module = self.names.refer(&self.boards, reading.text("module"));
            // Where no board is said, the line is on the adapter, if that has a port: one by a mobile network has none.
            let has_port = |board: Id<Board>| self.site.part_of(board).is_some_and(|part| !part.line_ports.is_empty());
            let adapter = module.as_ref().filter(|of| has_port(of.value) || reading.text("port").is_some());
            let port_of = board.as_ref().or(adapter).filter(|_| wants_port);
            let port = port_of.and_then(|board| self.line_port(board, reading.text("port")));
            // A receiver may have the socket of the way beside its antenna.
            let is_module = |board: &Board| matches!(board.kind, BoardKind::Module { .. } | BoardKind::Receiver);
            if let (Some(of), Some(written)) = (&module, reading.text("module"))
                && !is_module(&self.site.boards[of.value])
            {
                self.sink.push(rules::sender_is_no_module(&written, &self.site.boards[of.value]));
            }
            for output in reading.all("hop").filter_map(|hop| hop.text("output")) {
                self.check_hop_output(&output, outputs.as_ref());
            }
            let line = self.site.communicators.next_id();
            self.site.communicators.push(Communicator {
                title: title_of(reading, &name.value),
                name,
                path,
                service: reading.word("service", Service::from_word).map(|service| service.value),
                jack: reading.word("jack", JackKind::from_word).map(|jack| jack.value),
                board: board.as_ref().map(|board| board.value),
                port: port.filter(|_| telephone),
                module,
                pin_order: reading.word("wired", PinOrder::from_word),
                supervised_every: reading.quantity("supervised-every"),
                run: None,
                hops: reading.all("hop").filter_map(hop_of).collect(),
            });
            for (hop, item) in self.site.communicators[line].hops.iter().enumerate() {
                if let Some(name) = &item.reference {
                    self.hops.entry(name.value.clone()).or_insert(HopRef { line, hop });
                }
            }
        }
        if let Some(reading) = super::once(tops, "monitoring") {
            self.check_interval(reading, "test-every", LEAST_TEST);
            self.site.monitoring = Some(monitoring_of(reading));
        }
    }

    /// The panel of a site with one.
    fn only_panel(&self) -> Option<Id<Board>> {
        let mut panels = self.site.boards.entries().filter(|(_, board)| board.kind.is_panel());
        let (id, _) = panels.next()?;
        panels.next().is_none().then_some(id)
    }

    /// Reports each property that a way of this type does not have.
    fn report_without_effect(&mut self, reading: &Reading, path: &Spanned<Path>) {
        let jack = reading.word("jack", JackKind::from_word).map(|jack| jack.span);
        let wired = reading.word("wired", PinOrder::from_word).map(|wired| wired.span);
        let service = reading.word("service", Service::from_word);
        let service = service.filter(|service| !is_service_of(path.value, service.value)).map(|service| service.span);
        let jack = jack.filter(|_| path.value != Path::Telephone);
        let wired = wired.filter(|_| path.value != Path::Internet);
        let found = [
            ("jack", jack, "Only a telephone line has a jack that stands ahead of the house phones or beside them."),
            ("wired", wired, "Only a network cable is wired by a table of pins."),
            (
                "service",
                service,
                "A voice service is no internet connection, and a radio of its own comes in over no other service than a mobile network.",
            ),
        ];
        for (property, place, why) in found {
            if let Some(place) = place {
                self.sink.push(rules::property_without_effect(property, place, path, why));
            }
        }
    }

    fn check_interval(&mut self, reading: &Reading, property: &'static str, least: Seconds) {
        if let Some(written) = reading.quantity::<Seconds>(property).filter(|written| written.value < least) {
            self.sink.push(rules::interval_too_short(property, &written, least));
        }
    }

    /// The cables of the ways, and which hop feeds which.
    pub(super) fn communicator_runs(&mut self, tops: &[Top<'_>]) {
        let named = sorted(tops, "communicator", "name").into_iter().map(|(reading, _)| reading);
        let readings: Vec<&Reading> = named.filter(|reading| reading.text("name").is_some()).collect();
        let lines: Vec<Id<Communicator>> = self.site.communicators.entries().map(|(line, _)| line).collect();
        for (line, reading) in lines.into_iter().zip(readings) {
            let board = self.site.communicators[line].starts_at();
            let runs = self.chain(Chain { owner: Owner::Communicator(line), board }, reading);
            self.site.communicators[line].run = runs.iter().find_map(Mounted::run);
            let whole = reading.all("hop").filter(|hop| hop.text("what").is_some());
            let from = whole.map(|hop| (hop.text("from"), hop.quantity::<Volts>("min")));
            let from: Vec<_> = from.collect();
            for (hop, (from, min)) in from.into_iter().enumerate() {
                let from = from.and_then(|from| self.hop_named(&from));
                if let (Some(from), Some(min)) = (&from, min) {
                    self.sink.push(rules::min_of_a_fed_hop(min.span, from.span));
                }
                if let Some(hop) = self.site.communicators[line].hops.get_mut(hop) {
                    hop.from = from;
                }
            }
        }
    }

    /// The hop of that name; reported where nothing has the name, or no hop.
    fn hop_named(&mut self, name: &Spanned<String>) -> Option<Spanned<HopRef>> {
        if let Some(hop) = self.hops.get(&name.value) {
            return Some(Spanned::new(*hop, name.span));
        }
        let device = self.names.find_or(&self.devices, self.hops.keys().map(String::as_str), name)?;
        self.sink.push(rules::feeder_is_no_hop(name, &self.site.devices[device]));
        None
    }

    /// The names of the panels' outputs; `None` where a panel's part was reported.
    fn panel_outputs(&self) -> Option<BTreeSet<String>> {
        let panels = self.site.boards.entries().filter(|(_, board)| board.kind.is_panel());
        let parts: Option<Vec<_>> = panels.map(|(id, _)| self.site.part_of(id).filter(|part| part.whole)).collect();
        Some(parts?.iter().flat_map(|part| &part.outputs).map(|output| output.name.value.clone()).collect())
    }

    /// Reports an output that no panel has.
    fn check_hop_output(&mut self, written: &Spanned<String>, outputs: Option<&BTreeSet<String>>) {
        let Some(outputs) = outputs.filter(|outputs| !outputs.contains(&written.value)) else { return };
        let names: BTreeSet<&str> = outputs.iter().map(String::as_str).collect();
        let near = if self.names.may_compare(names.len()) {
            did_you_mean(&written.value, names.iter().copied())
        } else {
            None
        };
        self.sink.push(rules::unknown_hop_output(written, near, &names));
    }

    /// The line port that a communicator uses: the one named, else the only one.
    fn line_port(&mut self, board: &Spanned<Id<Board>>, port: Option<Spanned<String>>) -> Option<(Id<Board>, usize)> {
        let part = self.site.part_of(board.value)?;
        let found = match &port {
            Some(port) => part.line_ports.iter().position(|p| p.name.value == port.value),
            None => (part.line_ports.len() == 1).then_some(0),
        };
        if found.is_none() && part.whole {
            let candidates = part.line_ports.iter().map(|p| p.name.value.as_str());
            let written = port.unwrap_or_else(|| Spanned::new("line".into(), board.span));
            let diagnostic =
                rules::unknown_on_board("line port", &written, candidates, &self.site.boards[board.value], part);
            self.sink.push(diagnostic);
        }
        found.map(|port| (board.value, port))
    }
}

/// True where a way of this type may come in over this service. An internet connection may come in on a copper pair.
fn is_service_of(path: Path, service: Service) -> bool {
    match (path, service) {
        (Path::Telephone, _)
        | (Path::Internet, Service::Copper | Service::Broadband | Service::Mobile)
        | (Path::Radio, Service::Mobile) => true,
        (Path::Internet, Service::Voip) | (Path::Radio, Service::Copper | Service::Voip | Service::Broadband) => false,
    }
}

fn hop_of(reading: &Reading) -> Option<Hop> {
    Some(Hop {
        name: reading.text("what")?,
        reference: reading.text("name"),
        output: reading.text("output"),
        fed_by: Vec::new(),
        from: None,
        draw: reading.quantity::<Take>("draw").map(|take| take.value),
        min: reading.quantity::<Volts>("min").map(|volts| volts.value),
        backup: reading.quantity::<Seconds>("backup").map(|time| time.value),
    })
}

fn monitoring_of(reading: &Reading) -> Monitoring {
    Monitoring {
        format: reading.word("format", Format::from_word),
        description_width: reading
            .count("description-width")
            .unwrap_or_else(|| Spanned::new(DESCRIPTION_WIDTH, reading.name_span)),
        zones: reading.count("zones"),
        test_every: reading.quantity("test-every"),
        duress: reading.flag("duress"),
        handling: reading
            .all("handling")
            .filter_map(|h| Some((h.word("group", EventGroup::from_word)?, h.text("action")?.value)))
            .collect(),
    }
}
