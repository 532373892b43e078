//! The language server: what an editor asks while a spec is written, and the answers.
//!
//! A [`Server`] is a state of open texts. Messages go in by [`Server::receive`], and answers come out of
//! [`Server::step`], one message at a time in the order in which they came. Findings come out of [`Server::settle`], which
//! is called when nothing is waiting: a burst of changes is read once. Nothing here does input or output; what is on the
//! disk comes through [`Disk`]. What is said of a site is asked of those who know it (`session`, `views`, `schema`).
//!
//! Terms: the *key* of a text is its path, or its address where it has none; a *study* is all that is known of a site.
//! Out of scope: how messages travel (`cli`).

#![allow(
    clippy::wildcard_enum_match_arm,
    reason = "what the protocol sends grows with its versions; of tokens and values a place names those that it wants"
)]

mod actions;
mod colours;
mod completion;
mod findings;
mod hover;
mod inlay;
mod layout;
mod names;
mod outline;
mod place;
mod rename;
mod requests;
mod sites;
#[cfg(test)]
mod tests;
mod text;
pub(crate) mod uri;

use std::collections::{BTreeMap, VecDeque};
use std::panic::{AssertUnwindSafe, catch_unwind};

pub use lsp_server::Message;
use lsp_server::{ErrorCode, Notification, Request, RequestId, Response, ResponseError};
use lsp_types::notification::Notification as _;
use lsp_types::request::Request as _;
use lsp_types::{
    CancelParams, DidChangeTextDocumentParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams, InitializeParams,
    InitializeResult, NumberOrString, ServerInfo, notification, request,
};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

pub use sites::Disk;
use sites::{Open, Sites};
use text::Encoding;

/// Where the conversation is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Phase {
    /// Nothing may be asked yet.
    New,
    /// Everything may be asked.
    Running,
    /// The editor is about to leave.
    ShutDown,
    /// It has left; true where it said so before.
    Ended(bool),
}

/// See the module's head.
pub struct Server {
    phase: Phase,
    sites: Sites,
    waiting: VecDeque<Message>,
    /// True where findings may have changed.
    unsettled: bool,
    /// The findings that the editor has, by path.
    told: BTreeMap<String, (Option<i32>, Vec<lsp_types::Diagnostic>)>,
}

/// What a request gives: a value, or what the editor is told instead.
type Answer = Result<Value, ResponseError>;

impl Server {
    /// A server that nobody has spoken to yet.
    pub fn new(disk: Box<dyn Disk>) -> Self {
        let (waiting, told) = (VecDeque::new(), BTreeMap::new());
        Self { phase: Phase::New, sites: Sites::new(disk), waiting, unsettled: false, told }
    }

    /// Takes a message; what is to be said at once comes back.
    pub fn receive(&mut self, message: Message) -> Option<Message> {
        match message {
            Message::Notification(found) if found.method == notification::Cancel::METHOD => self.cancel(found.params),
            message => {
                self.waiting.push_back(message);
                None
            }
        }
    }

    /// True where nothing waits.
    pub fn is_idle(&self) -> bool {
        self.waiting.is_empty()
    }

    /// Once the editor has left: whether it said so before.
    pub fn ended(&self) -> Option<bool> {
        if let Phase::Ended(properly) = self.phase { Some(properly) } else { None }
    }

    /// Does what the next message says. Whatever goes wrong in it, the texts stay and the next one is answered.
    pub fn step(&mut self) -> Option<Message> {
        match self.waiting.pop_front()? {
            Message::Request(Request { id, method, params }) => {
                let answer = catch_unwind(AssertUnwindSafe(|| self.answer(&method, params)));
                let fault = |_| {
                    Err(refusal(ErrorCode::InternalError, format!("the server met a fault of its own in {method}")))
                };
                let answer = answer.unwrap_or_else(fault);
                Some(Response { id, response_result: answer }.into())
            }
            Message::Notification(Notification { method, params }) => {
                // What was understood until then stays; the fault is on the error stream.
                let _ = catch_unwind(AssertUnwindSafe(|| self.notice(&method, params)));
                None
            }
            // The server asks nothing, so this answers nothing.
            Message::Response(_) => None,
        }
    }

    /// Tells what has changed in the findings. To be called when nothing waits.
    pub fn settle(&mut self) -> Vec<Message> {
        if self.phase != Phase::Running || !std::mem::take(&mut self.unsettled) {
            return Vec::new();
        }
        let found = catch_unwind(AssertUnwindSafe(|| {
            self.sites.refresh();
            findings::by_file(&self.sites)
        }));
        // What was told stays: the fault is on the error stream.
        let Ok(mut found) = found else { return Vec::new() };
        for path in self.told.keys().chain(self.sites.open_texts().map(|(key, _)| key)) {
            if !found.contains_key(path) {
                found.insert(path.clone(), Vec::new());
            }
        }
        let mut messages = Vec::new();
        for (path, diagnostics) in found {
            let now = (self.sites.text(&path).map(|open| open.version), diagnostics);
            if self.told.get(&path) == Some(&now) {
                continue;
            }
            let params = findings::published(&self.sites, &path, now.1.clone());
            messages.extend(params.map(notify::<notification::PublishDiagnostics>));
            // A file that is closed and clean is forgotten.
            if now == (None, Vec::new()) {
                self.told.remove(&path)
            } else {
                self.told.insert(path, now)
            };
        }
        messages
    }

    fn cancel(&mut self, params: Value) -> Option<Message> {
        let params: CancelParams = serde_json::from_value(params).ok()?;
        let id = match params.id {
            NumberOrString::Number(number) => RequestId::from(number),
            NumberOrString::String(text) => RequestId::from(text),
        };
        let is_it = |message: &Message| matches!(message, Message::Request(request) if request.id == id);
        let position = self.waiting.iter().position(is_it)?;
        self.waiting.remove(position);
        let refused = refusal(ErrorCode::RequestCanceled, "cancelled".to_owned());
        Some(Response { id, response_result: Err(refused) }.into())
    }

    fn notice(&mut self, method: &str, params: Value) {
        if method == notification::Exit::METHOD {
            self.phase = Phase::Ended(self.phase == Phase::ShutDown);
            return;
        }
        if self.phase != Phase::Running {
            return;
        }
        self.unsettled |= match method {
            notification::DidOpenTextDocument::METHOD => with(params, |params: DidOpenTextDocumentParams| {
                let item = params.text_document;
                let key = Sites::key(&item.uri);
                self.sites.open(key, Open { uri: item.uri, version: item.version, text: item.text });
                true
            }),
            notification::DidChangeTextDocument::METHOD => with(params, |params: DidChangeTextDocumentParams| {
                let key = Sites::key(&params.text_document.uri);
                self.sites.edit(&key, |open, encoding| {
                    open.version = params.text_document.version;
                    params
                        .content_changes
                        .into_iter()
                        .for_each(|change| text::change(&mut open.text, change, encoding));
                })
            }),
            notification::DidCloseTextDocument::METHOD => with(params, |params: DidCloseTextDocumentParams| {
                self.sites.close(&Sites::key(&params.text_document.uri));
                true
            }),
            // Other files of the site may have changed on the disk, by a compile or a change of the branch.
            notification::DidSaveTextDocument::METHOD | notification::DidChangeWatchedFiles::METHOD => {
                self.sites.forget_all();
                true
            }
            _ => false,
        };
    }

    fn answer(&mut self, method: &str, params: Value) -> Answer {
        match (self.phase, method) {
            (Phase::New, request::Initialize::METHOD) => {
                let answer = asked(params, |params: InitializeParams| self.initialise(params))?;
                self.phase = Phase::Running;
                return Ok(answer);
            }
            (Phase::New, _) => {
                let message = "nothing can be asked before initialize".to_owned();
                return Err(refusal(ErrorCode::ServerNotInitialized, message));
            }
            (Phase::Running, request::Initialize::METHOD) => {
                return Err(refusal(ErrorCode::InvalidRequest, "initialize was asked before".to_owned()));
            }
            (Phase::Running, request::Shutdown::METHOD) => {
                self.phase = Phase::ShutDown;
                return Ok(Value::Null);
            }
            (Phase::Running, _) => {}
            (Phase::ShutDown | Phase::Ended(_), _) => {
                return Err(refusal(ErrorCode::InvalidRequest, "nothing can be asked after shutdown".to_owned()));
            }
        }
        requests::answer(&mut self.sites, method, params)
    }

    fn initialise(&mut self, params: InitializeParams) -> InitializeResult {
        let offered = params.capabilities.general.and_then(|general| general.position_encodings).unwrap_or_default();
        self.sites.encoding = Encoding::of_offer(&offered);
        InitializeResult {
            capabilities: requests::capabilities(self.sites.encoding),
            server_info: Some(ServerInfo {
                name: "loopwright".to_owned(),
                version: Some(env!("CARGO_PKG_VERSION").to_owned()),
            }),
        }
    }
}

/// Answers a request from its parameters.
fn asked<P: DeserializeOwned, R: Serialize>(params: Value, answer: impl FnOnce(P) -> R) -> Answer {
    let invalid = |error: serde_json::Error| refusal(ErrorCode::InvalidParams, error.to_string());
    let params = serde_json::from_value(params).map_err(invalid)?;
    serde_json::to_value(answer(params)).map_err(invalid)
}

/// Takes notice of parameters; of such as cannot be read, none is taken.
fn with<P: DeserializeOwned>(params: Value, take: impl FnOnce(P) -> bool) -> bool {
    serde_json::from_value(params).is_ok_and(take)
}

fn refusal(code: ErrorCode, message: String) -> ResponseError {
    ResponseError { code: code as i32, message, data: None }
}

fn notify<N: notification::Notification>(params: N::Params) -> Message {
    // Strings, numbers and lists only: there is nothing that JSON could refuse.
    let params = serde_json::to_value(params).unwrap_or_default();
    Notification { method: N::METHOD.to_owned(), params }.into()
}
