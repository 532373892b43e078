//! `loopwright lsp`: the language server over the standard streams.
//!
//! A thread reads messages, so that what comes while a site is read waits in memory and is taken all at once.

use std::io::{self, BufRead, ErrorKind, Read, Write};
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
                Ok(Err(fault)) => {
                    // The library repeats the message in its words, and a spec in it may hold a code.
                    let said = match fault.kind() {
                        ErrorKind::InvalidData => {
                            refuse(&mut out, &fault).map_err(failed)?;
                            NO_MESSAGE.to_owned()
                        }
                        _ => fault.to_string(),
                    };
                    screen.complain(&format!("a message that is none: {}\n", said.trim_end()));
                }
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

/// What is said of a body that is no message.
const NO_MESSAGE: &str = "it is no JSON of the protocol";

/// Answers a body that is no message, as JSON-RPC 2.0 wants it: whose answer it is nobody knows, and the library's answers
/// always have an id.
fn refuse(out: &mut impl Write, fault: &io::Error) -> io::Result<()> {
    // JSON that is neither request nor answer, by the words of the library's reader; else no JSON.
    let code = if fault.to_string().contains("did not match any variant") { -32600 } else { -32700 };
    let error = serde_json::json!({ "code": code, "message": NO_MESSAGE });
    let body = serde_json::json!({ "jsonrpc": "2.0", "id": null, "error": error }).to_string();
    write!(out, "Content-Length: {}\r\n\r\n{body}", body.len())?;
    out.flush()
}

/// The messages of the editor, and what was none of them.
fn read() -> Receiver<io::Result<Message>> {
    let (sender, receiver) = mpsc::channel();
    thread::spawn(move || {
        let mut input = Limited(io::stdin().lock());
        loop {
            let next = match Message::read(&mut input) {
                Ok(Some(message)) => Ok(message),
                Ok(None) => break,
                Err(error) => Err(error),
            };
            // Behind one that is none the next may be a message again; not where it cannot be known where it ends.
            let goes_on = next.as_ref().err().is_none_or(|error| error.kind() == ErrorKind::InvalidData);
            if sender.send(next).is_err() || !goes_on {
                break;
            }
        }
    });
    receiver
}

/// The most bytes of a message: some times what a site may have.
const LARGEST: usize = 64 << 20;

/// An input whose headers may not announce more than [`LARGEST`]: the protocol's library takes that much memory at once.
struct Limited<R>(R);

impl<R: Read> Read for Limited<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        self.0.read(into)
    }
}

impl<R: BufRead> BufRead for Limited<R> {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        self.0.fill_buf()
    }

    fn consume(&mut self, amount: usize) {
        self.0.consume(amount);
    }

    /// A line of the header: the library reads what follows by its length.
    fn read_line(&mut self, line: &mut String) -> io::Result<usize> {
        let most = u64::try_from(LARGEST).unwrap_or(u64::MAX);
        let read = (&mut self.0).take(most).read_line(line)?;
        let length = line.to_ascii_lowercase().strip_prefix("content-length:").map(|text| text.trim().to_owned());
        if length.is_some_and(|text| text.parse::<usize>().is_ok_and(|length| length > LARGEST)) {
            return Err(io::Error::other(format!("it is longer than {} MiB", LARGEST >> 20)));
        }
        Ok(read)
    }
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
