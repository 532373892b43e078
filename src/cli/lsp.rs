//! `loopwright lsp`: the language server over the standard streams.
//!
//! A thread reads messages, so that what comes while a site is read waits in memory and is taken all at once.

use std::io::{self, BufRead, Read, Write};
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
                    if let Fault::NoMessage(code) = fault {
                        refuse(&mut out, code).map_err(failed)?;
                    }
                    screen.complain(&format!("a message that is none: {fault}\n"));
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

/// Why nothing was taken from the editor. What it wrote is not repeated: a spec in it may hold a code.
#[derive(Debug, thiserror::Error)]
enum Fault {
    /// With the error code of JSON-RPC 2.0. The next may be a message again.
    #[error("{NO_MESSAGE}")]
    NoMessage(i32),
    /// Where it ends cannot be known.
    #[error("it is longer than {} MiB", LARGEST >> 20)]
    TooLong,
    #[error("{0}")]
    Unread(#[from] io::Error),
}

/// What is said of a body that is no message.
const NO_MESSAGE: &str = "it is no JSON of the protocol";
/// No JSON, in the codes of JSON-RPC 2.0.
const NO_JSON: i32 = -32700;
/// JSON that is neither request nor answer.
const NO_REQUEST: i32 = -32600;

/// Answers a body that is no message, as JSON-RPC 2.0 wants it: whose answer it is nobody knows, and the library's answers
/// always have an id.
fn refuse(out: &mut impl Write, code: i32) -> io::Result<()> {
    let error = serde_json::json!({ "code": code, "message": NO_MESSAGE });
    let body = serde_json::json!({ "jsonrpc": "2.0", "id": null, "error": error }).to_string();
    write!(out, "Content-Length: {}\r\n\r\n{body}", body.len())?;
    out.flush()
}

/// The messages of the editor, and what was none of them.
fn read() -> Receiver<Result<Message, Fault>> {
    let (sender, receiver) = mpsc::channel();
    thread::spawn(move || {
        let mut input = io::stdin().lock();
        loop {
            let next = match body(&mut input) {
                Ok(Some(body)) => message(&body),
                Ok(None) => break,
                Err(fault) => Err(fault),
            };
            let goes_on = matches!(next, Ok(_) | Err(Fault::NoMessage(_)));
            if sender.send(next).is_err() || !goes_on {
                break;
            }
        }
    });
    receiver
}

/// The most bytes of a message: some times what a site may have. That much memory may be taken on the word of a header.
const LARGEST: usize = 64 << 20;

/// The body of the next message; `None` where there is no more.
fn body(input: &mut impl BufRead) -> Result<Option<Vec<u8>>, Fault> {
    let most = u64::try_from(LARGEST).unwrap_or(u64::MAX);
    let mut length = None;
    loop {
        let mut line = Vec::new();
        if input.by_ref().take(most).read_until(b'\n', &mut line)? == 0 {
            return Ok(None);
        }
        let line = String::from_utf8_lossy(&line);
        let line = line.strip_suffix("\r\n").ok_or(Fault::NoMessage(NO_JSON))?;
        if line.is_empty() {
            break;
        }
        let (name, value) = line.split_once(':').ok_or(Fault::NoMessage(NO_JSON))?;
        if name.eq_ignore_ascii_case("content-length") {
            length = value.trim().parse::<usize>().ok();
        }
    }
    let length = length.ok_or(Fault::NoMessage(NO_JSON))?;
    if length > LARGEST {
        return Err(Fault::TooLong);
    }
    let mut body = vec![0; length];
    input.read_exact(&mut body)?;
    Ok(Some(body))
}

/// A body as a message.
fn message(body: &[u8]) -> Result<Message, Fault> {
    let json: serde_json::Value = serde_json::from_slice(body).map_err(|_| Fault::NoMessage(NO_JSON))?;
    // The library would take a request with an id of another kind for a notice, and its sender would wait for ever.
    let number = |id: &serde_json::Value| id.as_i64().is_some_and(|id| i32::try_from(id).is_ok());
    if json.get("id").is_some_and(|id| !id.is_string() && !number(id)) {
        return Err(Fault::NoMessage(NO_REQUEST));
    }
    serde_json::from_value(json).map_err(|_| Fault::NoMessage(NO_REQUEST))
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
