//! The way to the monitoring service.

use crate::base::{Id, Spanned};
use crate::quantity::Seconds;
use crate::terms::{EventGroup, Format, JackKind, Path, Service};

use super::board::Board;
use super::part::Take;
use super::run::Run;

/// A way of reaching the monitoring service.
#[derive(Clone, Debug, PartialEq)]
pub struct Communicator {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// What it goes over; `None` where that was reported.
    pub path: Option<Spanned<Path>>,
    /// What kind of service comes in.
    pub service: Option<Service>,
    /// How the board is put in the telephone line.
    pub jack: Option<JackKind>,
    /// The board that reports, where it is not the adapter.
    pub board: Option<Id<Board>>,
    /// The board whose line port it uses, and the port's position in the part; of a telephone line only.
    pub port: Option<(Id<Board>, usize)>,
    /// The bus module that is the adapter.
    pub module: Option<Spanned<Id<Board>>>,
    /// The cable of this way: to the line's jack, to the first powered device, to the antenna.
    pub run: Option<Id<Run>>,
    /// Powered devices on the way, in order.
    pub hops: Vec<Hop>,
}

impl Communicator {
    /// The board at which its cable starts: that of the line port, else the adapter, else the board that reports.
    pub fn starts_at(&self) -> Option<Id<Board>> {
        let module = self.module.as_ref().map(|module| module.value);
        self.port.map(|(board, _)| board).or(module).or(self.board)
    }
}

/// A powered device on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct Hop {
    /// What it is.
    pub name: Spanned<String>,
    /// The panel's output that feeds it.
    pub output: Option<String>,
    /// What it takes from that output.
    pub draw: Option<Take>,
    /// How long its own backup lasts.
    pub backup: Option<Seconds>,
}

/// What the monitoring service's form wants.
#[derive(Clone, Debug, PartialEq)]
pub struct Monitoring {
    /// What the communicator speaks.
    pub format: Option<Format>,
    /// Characters that the form has for a description.
    pub description_width: Spanned<u32>,
    /// Interval of the test report.
    pub test_every: Option<Seconds>,
    /// Expected handling by group, as the spec gives it.
    pub handling: Vec<(Spanned<EventGroup>, String)>,
}
