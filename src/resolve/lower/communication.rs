//! Communicators and the monitoring service's form.

use std::collections::BTreeSet;

use crate::base::wording::did_you_mean;
use crate::base::{Id, Spanned};
use crate::model::{Board, Communicator, Hop, Monitoring, Mounted, Owner, Take};
use crate::quantity::Seconds;
use crate::schema::Reading;
use crate::terms::{EventGroup, Format, JackKind, Path, Service};

use super::chains::Chain;
use super::{Lower, Top, sorted, title_of};
use crate::resolve::rules;

/// Characters for a description where the spec does not say: common practice.
const DESCRIPTION_WIDTH: u32 = 24;

impl Lower<'_> {
    pub(super) fn communicator_list(&mut self, tops: &[Top<'_>]) {
        for (reading, _) in sorted(tops, "communicator", "name") {
            let Some(name) = reading.text("name") else { continue };
            let board = reading.text("board").and_then(|board| {
                let id = self.source_board("line port", &board)?;
                Some(Spanned::new(id, board.span))
            });
            let path = reading.word("type", Path::from_word);
            // A network or an antenna has a socket and no line port.
            let telephone = path.as_ref().is_none_or(|path| path.value == Path::Telephone);
            let wants_port = telephone || reading.text("port").is_some();
            let port =
                board.as_ref().filter(|_| wants_port).and_then(|board| self.line_port(board, reading.text("port")));
            let module = reading.text("module").and_then(|module| {
                let id = self.names.find(&self.boards, &module)?;
                Some(Spanned::new(id, module.span))
            });
            for output in reading.all("hop").filter_map(|hop| hop.text("output")) {
                self.check_hop_output(&output);
            }
            let owner = Owner::Communicator(self.site.communicators.next_id());
            let communicator = self.site.communicators.push(Communicator {
                title: title_of(reading, &name.value),
                name,
                path,
                service: reading.word("service", Service::from_word).map(|service| service.value),
                jack: reading.word("jack", JackKind::from_word).map(|jack| jack.value),
                board: board.as_ref().map(|board| board.value),
                port: port.filter(|_| telephone),
                module,
                run: None,
                hops: reading.all("hop").filter_map(hop_of).collect(),
            });
            let board = self.site.communicators[communicator].starts_at();
            let runs = self.chain(Chain { owner, board }, reading);
            self.site.communicators[communicator].run = runs.iter().find_map(Mounted::run);
        }
        if let Some((reading, _)) = tops.iter().find(|(reading, _)| reading.spec.name == "monitoring") {
            self.site.monitoring = Some(monitoring_of(reading));
        }
    }

    /// Reports an output that no panel has, unless a panel's part was reported.
    fn check_hop_output(&mut self, written: &Spanned<String>) {
        let site = &self.site;
        let panels = site.boards.entries().filter(|(_, board)| board.kind.is_panel());
        let parts: Option<Vec<_>> = panels.map(|(id, _)| site.part_of(id).filter(|part| part.whole)).collect();
        let Some(parts) = parts else { return };
        let names = parts.iter().flat_map(|part| &part.outputs).map(|output| output.name.value.as_str());
        let names: BTreeSet<&str> = names.collect();
        if !names.contains(written.value.as_str()) {
            let near = if self.names.may_compare(names.len()) {
                did_you_mean(&written.value, names.iter().copied())
            } else {
                None
            };
            self.sink.push(rules::unknown_hop_output(written, near, &names));
        }
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

fn hop_of(reading: &Reading) -> Option<Hop> {
    Some(Hop {
        name: reading.text("name")?,
        output: reading.text("output").map(|output| output.value),
        draw: reading.quantity::<Take>("draw").map(|take| take.value),
        backup: reading.quantity::<Seconds>("backup").map(|time| time.value),
    })
}

fn monitoring_of(reading: &Reading) -> Monitoring {
    Monitoring {
        format: reading.word("format", Format::from_word).map(|format| format.value),
        description_width: reading
            .count("description-width")
            .unwrap_or_else(|| Spanned::new(DESCRIPTION_WIDTH, reading.name_span)),
        test_every: reading.quantity::<Seconds>("test-every").map(|time| time.value),
        handling: reading
            .all("handling")
            .filter_map(|h| Some((h.word("group", EventGroup::from_word)?, h.text("action")?.value)))
            .collect(),
    }
}
