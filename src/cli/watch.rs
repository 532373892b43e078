//! `loopwright watch`: compiles a site again whenever one of its files changes, and serves the packet to this machine's browsers.
//!
//! Nothing is written: register and packet stay in memory. While the spec is broken the last whole packet stays, with what was
//! found above it. Served are the files of the packet and nothing else, on the loopback address alone; a request that names
//! another host is refused, or a page of a stranger could have a browser read the packet for it.

use std::collections::BTreeMap;
use std::io::Cursor;
use std::net::{Ipv4Addr, TcpListener};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use tiny_http::{Header, Method, Request, Response, Server};
use walkdir::WalkDir;

use super::disk::DiskFiles;
use super::screen::Screen;
use super::{Exit, Stop, plain, question};
use crate::diag::counts::Counts;
use crate::diag::{Format, render};
use crate::emit::{live, without_packet};
use crate::session::{self, Outcome, Reader};

/// How often the files are looked at.
const PAUSE: Duration = Duration::from_millis(150);

/// How many findings a page shows.
const SHOWN: usize = 50;

/// The address that a page asks for the state.
const STATE: &str = "/-/state";

/// Watches the site at `path` and serves its packet on a port; 0 is any that is free.
pub(super) fn run(screen: &mut Screen, path: &Path, port: u16) -> Result<Exit, Stop> {
    let folder = question::one_site(path)?;
    let cannot = |error: &dyn std::fmt::Display| {
        Stop::new(format!("cannot serve on port {port}: {error}")).help("name another port, or 0 for one that is free")
    };
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port)).map_err(|error| cannot(&plain(&error)))?;
    let port = listener.local_addr().map_err(|error| cannot(&plain(&error)))?.port();
    let mut server = None;
    screen.print(&format!("http://127.0.0.1:{port}/ shows {}; Ctrl-C ends it\n", folder.display()))?;
    let mut packet = Packet::default();
    let mut seen = None;
    loop {
        let now = stamps(&folder);
        if seen.as_ref() != Some(&now) {
            match compiled(&folder) {
                Ok(outcome) => packet.take(outcome),
                // A folder may be away for a moment, as when git changes to another branch.
                Err(stop) if packet.state > 0 => packet.lose(&stop),
                Err(stop) => return Err(stop),
            }
            seen = Some(now);
            screen.print(&format!("{}\n", packet.summary))?;
        }
        // With too many connections open at once the server gives up: it is begun again, and answers when some are closed.
        let begun = server.get_or_insert_with(|| Server::from_listener(listener.try_clone()?, None));
        match begun.as_ref().map(|server| server.recv_timeout(PAUSE)) {
            Ok(Ok(Some(request))) => {
                let answer = packet.answer(request.method(), request.url(), host(&request), port);
                // A browser that has left is no fault.
                let _ = request.respond(answer);
            }
            Ok(Ok(None)) => {}
            Ok(Err(_)) | Err(_) => {
                server = None;
                std::thread::sleep(PAUSE);
            }
        }
    }
}

fn compiled(folder: &Path) -> Result<Outcome, Stop> {
    let files = DiskFiles::open(folder)?;
    Ok(session::compile(&Reader::ALL, &files))
}

/// When the files of a site and those beside it were changed, and how long they are.
fn stamps(folder: &Path) -> BTreeMap<PathBuf, (Option<SystemTime>, u64)> {
    let beside = folder.join("../parts");
    let files = [folder, &beside].into_iter().flat_map(|folder| WalkDir::new(folder).max_depth(4));
    let stamp = |entry: walkdir::Result<walkdir::DirEntry>| {
        let entry = entry.ok().filter(|entry| entry.file_type().is_file())?;
        let about = entry.metadata().ok()?;
        Some((entry.into_path(), (about.modified().ok(), about.len())))
    };
    files.filter_map(stamp).collect()
}

fn host(request: &Request) -> &str {
    let header = request.headers().iter().find(|header| header.field.equiv("Host"));
    header.map_or("", |header| header.value.as_str())
}

type Answer = Response<Cursor<Vec<u8>>>;

/// What is served.
#[derive(Debug, Default)]
struct Packet {
    /// The files of the last whole packet.
    files: BTreeMap<String, Vec<u8>>,
    /// How many compilations there were.
    state: u64,
    summary: String,
    findings: String,
    /// True once there was a spec without errors.
    is_whole: bool,
}

impl Packet {
    /// Takes the outcome of a compilation over; the last whole packet stays where it gave none.
    fn take(&mut self, outcome: Outcome) {
        let counts = Counts::of(&outcome.diagnostics).to_string();
        let stays = match (&outcome.bundle, self.is_whole) {
            (Some(_), _) => "",
            (None, true) => "; the packet below is of the last spec without errors",
            (None, false) => "; no packet yet",
        };
        self.state += 1;
        self.summary = format!("{counts}{stays}");
        self.findings = render(Format::Short, &outcome.sources, &outcome.diagnostics, SHOWN);
        if let Some(bundle) = outcome.bundle {
            self.files = bundle.files;
            self.is_whole = true;
        } else if self.files.is_empty() {
            self.files.insert("index.html".to_owned(), without_packet().into_bytes());
        }
    }

    /// Keeps the last packet where the site cannot be read.
    fn lose(&mut self, stop: &Stop) {
        self.state += 1;
        self.summary = format!("{}; the packet below is of before", stop.message);
        self.findings.clear();
    }

    fn answer(&self, method: &Method, url: &str, host: &str, port: u16) -> Answer {
        let ours = [format!("127.0.0.1:{port}"), format!("localhost:{port}")];
        if !ours.iter().any(|name| name.eq_ignore_ascii_case(host)) {
            return plain_answer(403, "This address is served to this machine alone.\n");
        }
        if !matches!(method, Method::Get | Method::Head) {
            return plain_answer(405, "There is nothing to change here.\n");
        }
        let path = url.split(['?', '#']).next().unwrap_or_default();
        if path == STATE {
            return plain_answer(200, &self.state.to_string());
        }
        let name = path.strip_prefix('/').unwrap_or(path);
        let name = if name.is_empty() { "index.html" } else { name };
        match self.files.get(name) {
            None => plain_answer(404, "The packet has no such file.\n"),
            Some(bytes) if name.ends_with(".html") => {
                let page = live(&String::from_utf8_lossy(bytes), self.state, &self.summary, &self.findings);
                answer(200, page.into_bytes(), "text/html; charset=utf-8")
            }
            Some(bytes) => answer(200, bytes.clone(), kind(name)),
        }
    }
}

fn kind(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "svg" => "image/svg+xml",
        "csv" => "text/csv; charset=utf-8",
        "json" => "application/json",
        "ics" => "text/calendar; charset=utf-8",
        _ => "text/plain; charset=utf-8",
    }
}

fn plain_answer(status: u16, text: &str) -> Answer {
    answer(status, text.as_bytes().to_vec(), "text/plain; charset=utf-8")
}

fn answer(status: u16, bytes: Vec<u8>, kind: &str) -> Answer {
    let headers = [("Content-Type", kind), ("Cache-Control", "no-store"), ("X-Content-Type-Options", "nosniff")];
    let made = headers.iter().filter_map(|(name, value)| Header::from_bytes(name.as_bytes(), value.as_bytes()).ok());
    let response = Response::from_data(bytes).with_status_code(status);
    made.fold(response, |mut response, header| {
        response.add_header(header);
        response
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn packet() -> Packet {
        let files = [("index.html", "<body>\ncover</body>"), ("bus-1.svg", "<svg/>")];
        Packet {
            files: files.map(|(name, text)| (name.to_owned(), text.into())).into(),
            state: 3,
            summary: "1 error".into(),
            findings: "a <b>".into(),
            is_whole: true,
        }
    }

    fn asked(method: &Method, url: &str, host: &str) -> (u16, String) {
        let answer = packet().answer(method, url, host, 4100);
        let status = answer.status_code().0;
        (status, String::from_utf8(answer.into_reader().into_inner()).unwrap())
    }

    #[test]
    fn the_packet_is_served_and_nothing_else() {
        let here = "127.0.0.1:4100";
        assert!(asked(&Method::Get, "/", here).1.contains("cover"));
        assert!(asked(&Method::Get, "/index.html?a", "localhost:4100").1.contains("a &lt;b&gt;"));
        assert_eq!(asked(&Method::Get, "/bus-1.svg", here), (200, "<svg/>".into()));
        assert_eq!(asked(&Method::Get, STATE, here), (200, "3".into()));
        for url in ["/../site.kdl", "/%2e%2e/site.kdl", "//etc/passwd", "/bus-1.svg/", "site.kdl", "/register.kdl"] {
            assert_eq!(asked(&Method::Get, url, here).0, 404, "{url}");
        }
        for host in ["", "example.org", "127.0.0.1", "127.0.0.1:4101", "127.0.0.1:4100.example.org", "example.org:4100"]
        {
            assert_eq!(asked(&Method::Get, "/", host).0, 403, "{host}");
        }
        assert_eq!(asked(&Method::Post, "/", here).0, 405);
    }

    #[test]
    fn the_last_whole_packet_stays_while_the_spec_is_broken() {
        let mut packet = packet();
        packet.take(Outcome::default());
        assert_eq!(packet.state, 4);
        assert!(packet.files.contains_key("bus-1.svg") && packet.summary.contains("last spec without errors"));
        let mut first = Packet::default();
        first.take(Outcome::default());
        assert!(first.files.contains_key("index.html"));
    }
}
