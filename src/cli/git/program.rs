//! Runs the `git` program in a repository that may be a stranger's, so that nothing of it is executed.
//!
//! Only commands that read objects are run; they call no hook, filter, textconv or alias. Besides:
//!
//! - The program is looked for in the absolute folders of the search path: `.` would be the stranger's folder.
//! - Of the variables `GIT_…` only those pass that say where a repository and the user's own settings are.
//! - Nothing is fetched. A partial clone would ask its remote, by a command of its own, for what it lacks: newer versions
//!   of git are told not to, and for older ones no way of transport is allowed.
//! - A bare repository is found only from the folder that the program is called in: one inside a site is somebody's trick.
//! - No pager, no file monitor, no prompt, no lock on the index.

use std::io::{self, BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use crate::cli::{Stop, plain};
use crate::resolve::load::ReadFault;

/// Variables that say where the repository is. A hook has them; where a folder is given, that says which one is meant.
const OF_REPOSITORY: [&str; 7] = [
    "GIT_DIR",
    "GIT_WORK_TREE",
    "GIT_COMMON_DIR",
    "GIT_INDEX_FILE",
    "GIT_PREFIX",
    "GIT_OBJECT_DIRECTORY",
    "GIT_ALTERNATE_OBJECT_DIRECTORIES",
];

/// Variables that say how a repository is looked for, and where the user's settings are.
const OF_USER: [&str; 3] = ["GIT_CEILING_DIRECTORIES", "GIT_DISCOVERY_ACROSS_FILESYSTEM", "GIT_CONFIG"];

/// Why an object cannot be had.
const LACKS: &str = "this clone does not hold it";

/// The program, as called from a folder.
#[derive(Clone, Debug)]
pub(super) struct Git {
    /// `None` for the folder of the process, with the variables of a hook.
    folder: Option<PathBuf>,
}

impl Git {
    pub(super) fn of(folder: Option<&Path>) -> Self {
        Self { folder: folder.map(Path::to_owned) }
    }

    fn command(&self, arguments: &[&str]) -> Result<Command, Stop> {
        let mut command = Command::new(program().ok_or_else(|| {
            Stop::new("cannot run git: it is not installed")
                .help("revisions are read by the git program; two folders are compared without it")
        })?);
        for (name, _) in std::env::vars_os() {
            let name = name.to_string_lossy();
            let passes = OF_USER.iter().any(|known| name.starts_with(known))
                || (self.folder.is_none() && OF_REPOSITORY.contains(&name.as_ref()));
            if name.starts_with("GIT_") && !passes {
                command.env_remove(name.as_ref());
            }
        }
        for (name, value) in [
            ("GIT_OPTIONAL_LOCKS", "0"),
            ("GIT_TERMINAL_PROMPT", "0"),
            ("GIT_NO_LAZY_FETCH", "1"),
            ("GIT_ALLOW_PROTOCOL", ""),
            ("GIT_LITERAL_PATHSPECS", "1"),
            ("LC_ALL", "C"),
        ] {
            command.env(name, value);
        }
        command.args(["-c", "core.fsmonitor=false", "--no-pager"]);
        if let Some(folder) = &self.folder {
            command.current_dir(folder);
            if folder != Path::new(".") {
                command.args(["-c", "safe.bareRepository=explicit"]);
            }
        }
        command.args(arguments);
        Ok(command)
    }

    /// Runs `git` to its end: what it printed, or its complaint in one line.
    pub(super) fn run(&self, arguments: &[&str]) -> Result<Result<Vec<u8>, String>, Stop> {
        let output = self.command(arguments)?.stdin(Stdio::null()).output().map_err(|error| broken(&error))?;
        if output.status.success() {
            return Ok(Ok(output.stdout));
        }
        let complaint = String::from_utf8_lossy(&output.stderr);
        let line = complaint.lines().find(|line| !line.trim().is_empty()).unwrap_or("git failed");
        Ok(Err(line.trim_start_matches("fatal: ").trim_start_matches("error: ").to_owned()))
    }

    /// A reader of objects.
    pub(super) fn reader(&self) -> Reader {
        Reader { git: self.clone(), running: None }
    }
}

fn program() -> Option<PathBuf> {
    let name = format!("git{}", std::env::consts::EXE_SUFFIX);
    let path = std::env::var_os("PATH")?;
    let mut places = std::env::split_paths(&path).filter(|folder| folder.is_absolute());
    places.find_map(|folder| Some(folder.join(&name)).filter(|program| program.is_file()))
}

fn broken(error: &io::Error) -> Stop {
    Stop::new(format!("cannot run git: {}", plain(error)))
}

/// Reads objects one after the other, by a `git cat-file --batch` that is started where one is first asked for.
#[derive(Debug)]
pub(super) struct Reader {
    git: Git,
    /// `None` before the first object and after one that could not be had: what follows in the pipe cannot be told apart.
    running: Option<Running>,
}

impl Reader {
    /// The contents of an object of at most so many bytes.
    pub(super) fn object(&mut self, object: &str, most: u64) -> Result<Vec<u8>, ReadFault> {
        let mut running = match self.running.take() {
            Some(running) => running,
            None => Running::start(&self.git).map_err(|error| failed(&error))?,
        };
        let bytes = running.object(object, most)?;
        self.running = Some(running);
        Ok(bytes)
    }
}

#[derive(Debug)]
struct Running {
    child: Child,
    ask: ChildStdin,
    answer: BufReader<ChildStdout>,
}

impl Running {
    fn start(git: &Git) -> io::Result<Self> {
        let mut command = git.command(&["cat-file", "--batch"]).map_err(|stop| io::Error::other(stop.message))?;
        let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null()).spawn()?;
        match (child.stdin.take(), child.stdout.take()) {
            (Some(ask), Some(answer)) => Ok(Self { child, ask, answer: BufReader::new(answer) }),
            _ => Err(early()),
        }
    }

    fn object(&mut self, object: &str, most: u64) -> Result<Vec<u8>, ReadFault> {
        let mut head = String::new();
        writeln!(self.ask, "{object}")
            .and_then(|()| self.ask.flush())
            .and_then(|()| self.answer.read_line(&mut head))
            .map_err(|error| failed(&error))?;
        // An older git ends, without an answer, where it may not fetch what the clone lacks.
        if head.is_empty() || head.ends_with(" missing\n") {
            return Err(ReadFault::Failed(LACKS.to_owned()));
        }
        let size = head.split_whitespace().nth(2).and_then(|length| length.parse().ok());
        let size: u64 = size.ok_or_else(|| failed(&early()))?;
        if size > most {
            return Err(ReadFault::TooLarge(size));
        }
        let mut bytes = Vec::new();
        // With the newline behind it.
        (&mut self.answer).take(size + 1).read_to_end(&mut bytes).map_err(|error| failed(&error))?;
        if bytes.pop().is_none() || bytes.len() as u64 != size {
            return Err(failed(&early()));
        }
        Ok(bytes)
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn failed(error: &io::Error) -> ReadFault {
    ReadFault::Failed(plain(error))
}

fn early() -> io::Error {
    io::Error::other("git ended early")
}
