//! `loopwright lsp`: the language server over the standard streams.
//!
//! A thread reads messages, so that what comes while a site is read waits in memory and is taken all at once.

use std::io::{self, ErrorKind, Write};
use std::path::Path;
use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

use super::disk::DiskFiles;
use super::screen::Screen;
use super::{Exit, Stop, plain};
use crate::resolve::load::FileSource;
use crate::server::{Disk, Message, Server};

/// Serves one editor until it leaves.
pub(super) fn run(screen: &mut Screen) -> Result<Exit, Stop> {
    let messages = read();
    let mut server = Server::new(Box::new(System));
    let mut out = io::stdout();
    let failed = |error: io::Error| Stop::new(format!("cannot write to the editor: {}", plain(&error)));
    loop {
        // Everything that has come is taken before anything is done: a burst of changes is read once.
        loop {
            let next = if server.is_idle() {
                messages.recv().map_err(|_| TryRecvError::Disconnected)
            } else {
                messages.try_recv()
            };
            match next {
                Ok(Ok(message)) => send(&mut out, server.receive(message)).map_err(failed)?,
                Ok(Err(fault)) => screen.complain(&format!("a message that is none: {fault}")),
                Err(TryRecvError::Empty) => break,
                Err(TryRecvError::Disconnected) if server.is_idle() => {
                    return Err(Stop::new("the editor has gone without saying so"));
                }
                Err(TryRecvError::Disconnected) => break,
            }
        }
        send(&mut out, server.step()).map_err(failed)?;
        if let Some(properly) = server.ended() {
            return Ok(if properly { Exit::Clean } else { Exit::Faults });
        }
        if server.is_idle() {
            send(&mut out, server.settle()).map_err(failed)?;
        }
    }
}

fn send(out: &mut impl Write, messages: impl IntoIterator<Item = Message>) -> io::Result<()> {
    messages.into_iter().try_for_each(|message| message.write(out))
}

/// The messages of the editor, and what was none of them.
fn read() -> Receiver<io::Result<Message>> {
    let (sender, receiver) = mpsc::channel();
    thread::spawn(move || {
        let mut input = io::stdin().lock();
        loop {
            let next = match Message::read(&mut input) {
                Ok(Some(message)) => Ok(message),
                Ok(None) => break,
                // The next message may be one again.
                Err(error) if error.kind() == ErrorKind::InvalidData => Err(error),
                Err(_) => break,
            };
            if sender.send(next).is_err() {
                break;
            }
        }
    });
    receiver
}

/// The disk of this machine.
struct System;

impl Disk for System {
    fn has_file(&self, path: &str) -> bool {
        Path::new(path).is_file()
    }

    fn site(&self, folder: &str) -> Option<Box<dyn FileSource + '_>> {
        Some(Box::new(DiskFiles::open(Path::new(folder)).ok()?))
    }
}
