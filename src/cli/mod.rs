//! The command line: the only place that touches disk, clock, environment and terminal.
//!
//! One file per command; [`sites`] finds the sites that a path means, [`disk`] reads them, [`write`] writes their
//! registers and packets, [`screen`] knows the terminal. Exit codes: 0 clean, 1 faults in a spec, 2 could not run.

// The bans of `.clippy.toml` keep input and output out of every other module; here is where it belongs.
#![allow(clippy::disallowed_methods)]
#![allow(clippy::wildcard_enum_match_arm, reason = "errors and paths of the system")]

mod arguments;
mod check;
mod compile;
mod diagnose;
mod diff;
mod disk;
mod event;
mod examples;
mod explain;
mod fmt;
mod git;
mod list;
mod lsp;
mod manual;
mod new;
mod pdf;
mod portfolio;
mod prose;
mod question;
mod readings;
mod reference;
mod report;
mod revision;
mod screen;
mod since;
mod sites;
mod textconv;
mod watch;
mod why;
mod write;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::{CommandFactory, FromArgMatches};

pub(crate) use arguments::Arguments;
use arguments::Command;
use screen::Screen;

use crate::session;

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Exit {
    /// No error was found.
    Clean = 0,
    /// A spec has errors.
    Faults = 1,
    /// The program could not do what was asked.
    CouldNotRun = 2,
}

/// Why the program could not do what was asked: one line, and what to do about it.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
struct Stop {
    message: String,
    help: Option<String>,
}

impl Stop {
    fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), help: None }
    }

    fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

/// Runs the program with the arguments of the process.
pub fn main() -> ExitCode {
    let arguments = match asked() {
        Ok(arguments) => arguments,
        Err(message) => {
            // Help and version come this way too. A reader that has left is no fault.
            let printed = message.print().map_err(|error| error.kind());
            let is_told = matches!(printed, Ok(()) | Err(std::io::ErrorKind::BrokenPipe));
            return ExitCode::from(u8::try_from(message.exit_code()).ok().filter(|_| is_told).unwrap_or(2));
        }
    };
    start_threads();
    // The second stream is not locked: threads show there how far they are.
    let (mut out, mut err) = (std::io::stdout().lock(), std::io::stderr());
    let mut screen = Screen::of_process(arguments.format, arguments.color, &mut out, &mut err);
    ExitCode::from(run(&arguments.command, &mut screen) as u8)
}

/// The arguments. Help, and what is told of wrong ones, have the colours that they ask for.
fn asked() -> Result<Arguments, clap::Error> {
    let written: Vec<OsString> = std::env::args_os().collect();
    let behind = |at: usize| written.get(at + 1).and_then(|next| next.to_str());
    let mut colours = written.iter().enumerate().filter_map(|(at, one)| match one.to_str()? {
        "--color" => behind(at),
        one => one.strip_prefix("--color="),
    });
    let colour = match colours.next_back() {
        Some("always") => clap::ColorChoice::Always,
        Some("never") => clap::ColorChoice::Never,
        _ => clap::ColorChoice::Auto,
    };
    let mut command = Arguments::command().color(colour);
    let matches = command.try_get_matches_from_mut(&written)?;
    Arguments::from_arg_matches(&matches).map_err(|error| error.format(&mut command))
}

/// How much a thread may keep for calls within calls, in bytes: as much as the first thread of a process has.
const STACK: usize = 8 * 1024 * 1024;

/// Sets up the threads on which files are read and sheets are made. Where the system gives none, one has to do.
fn start_threads() {
    let is_alone = std::thread::Builder::new().spawn(|| ()).map(std::thread::JoinHandle::join).is_err();
    let threads = rayon::ThreadPoolBuilder::new().stack_size(STACK);
    let threads = if is_alone { threads.num_threads(1).use_current_thread() } else { threads };
    // It can fail only where threads have been set up before.
    let _ = threads.build_global();
}

fn run(command: &Command, screen: &mut Screen) -> Exit {
    let done = match command {
        Command::Check { paths, how } => check::run(screen, paths, *how, &session::check),
        Command::Compile { paths, out, least, since, frozen, readers, pdf } => {
            screen.least = least.map(arguments::Least::severity);
            let readers = arguments::readers(readers);
            let target = compile::Target { out, pdf: *pdf };
            match since {
                Some(since) => since::run(screen, paths, target, &readers, since),
                None if *frozen => {
                    compile::run(screen, paths, target, &|files| session::compile_frozen(&readers, files))
                }
                None => compile::run(screen, paths, target, &|files| session::compile(&readers, files)),
            }
        }
        Command::Watch { path, port } => watch::run(screen, path, *port),
        Command::Diff { sides, form, wiring } => diff::run(screen, sides, *form, *wiring),
        Command::New { folder, from } => new::run(screen, folder, from.as_deref()),
        Command::Fmt { paths, check } => fmt::run(screen, paths, *check),
        Command::Textconv { file, other } => textconv::run(screen, file, other.as_deref()),
        Command::List { table, path, wanted, columns, csv } => list::run(screen, *table, path, wanted, columns, *csv),
        Command::Portfolio(asked) => portfolio::run(screen, asked),
        Command::Completions { shell } => manual::completions(screen, *shell),
        Command::Man => manual::page(screen),
        Command::Why { path, of } => why::run(screen, path, of),
        Command::Diagnose { path, zone, ohms, volts } => diagnose::run(screen, path, *zone, *ohms, *volts),
        Command::Event { code: Some(code), area, number, restored, site, .. } => {
            let wanted = event::Wanted { code: *code, area: *area, number: *number, restored: *restored };
            event::write(screen, wanted, site.as_deref())
        }
        Command::Event { line, site, .. } => event::read(screen, &line.join(" "), site.as_deref()),
        Command::Readings { path, date: Some(date), from: Some(from), .. } => readings::from(screen, path, *date, from),
        Command::Readings { path, date, csv, .. } => readings::run(screen, path, date.filter(|_| !csv)),
        Command::Explain { list: true, .. } => explain::list(screen, &session::rules()),
        Command::Explain { schema: true, .. } => explain::schema(screen),
        Command::Explain { rule: Some(rule), path: Some(path), .. } => {
            explain::on_site(screen, &session::rules(), rule, path)
        }
        Command::Explain { rule, .. } => explain::run(screen, &session::rules(), rule.as_deref().unwrap_or_default()),
        Command::Lsp { .. } => lsp::run(screen),
        Command::Reference { node: Some(node), .. } => reference::node(screen, node),
        Command::Reference { grammar: true, .. } => reference::grammar(screen),
        Command::Reference { tour, html, .. } => reference::run(screen, *tour, *html),
    };
    done.unwrap_or_else(|stop| {
        screen.stop(&stop);
        Exit::CouldNotRun
    })
}

/// An operating system's answer in words, without its number.
fn plain(error: &std::io::Error) -> String {
    let text = error.to_string();
    let text = text.split(" (os error ").next().unwrap_or_default();
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
