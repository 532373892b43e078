//! A repository of its own, with a home of its own.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

/// A cottage of two zones on the shared parts.
pub const COTTAGE: &str = r#"site "cottage" title="Cottage" lengths="ft" {
    revision "A" date="2027-03-14"
}
include "../parts/generic.kdl"
include "zones.kdl"
level "ground" title="Ground floor" ceiling=(ft)8 {
    room "hall" title="Hall" {
        door "front-door" title="Front door"
        window "hall-window" title="Hall window"
    }
    room "closet" title="Closet"
}
panel "main" part="control-16" room="closet" {
    battery capacity=(Ah)7 installed="2027-03-14"
}
area "cottage" title="Cottage" entry=(s)30 exit=(s)60
"#;

/// Its zones.
pub const ZONES: &str = r#"zone 1 "Front door" type="entry-exit" area="cottage" {
    loop "end-of-line" board="main" input=1 {
        run "station-2" length=(ft)24 {
            contact "reed-recessed" on="front-door"
            resistor "2k2"
        }
    }
}
zone 2 "Hall window" type="perimeter" area="cottage" {
    loop "end-of-line" board="main" input=2 {
        run "station-2" length=(ft)30 {
            contact "reed-surface" on="hall-window"
            resistor "2k2"
        }
    }
}
"#;

/// A folder with a repository in it.
pub struct Repository {
    place: TempDir,
    top: PathBuf,
}

impl Repository {
    /// An empty repository.
    pub fn new() -> Self {
        let place = tempfile::tempdir().unwrap();
        let top = place.path().join("repository");
        fs::create_dir_all(&top).unwrap();
        fs::create_dir_all(place.path().join("home")).unwrap();
        let repository = Self { place, top };
        repository.git(&["init", "--quiet", "--initial-branch=main"]);
        repository
    }

    /// A repository with the cottage in the folder `site`, the shared parts beside it, committed and tagged `v1`.
    pub fn with_cottage(site: &str) -> Self {
        let repository = Self::new();
        repository.write(&format!("{site}/site.kdl"), COTTAGE);
        repository.write(&format!("{site}/zones.kdl"), ZONES);
        let parent = site.rsplit_once('/').map_or(String::new(), |(parent, _)| format!("{parent}/"));
        repository.copy_parts(&format!("{parent}parts"));
        repository.commit("The cottage");
        repository.git(&["tag", "v1"]);
        repository
    }

    pub fn top(&self) -> &Path {
        &self.top
    }

    /// The folder that holds the repository, for others beside it.
    pub fn place(&self) -> &Path {
        self.place.path()
    }

    pub fn copy_parts(&self, to: &str) {
        copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("specs/parts"), &self.top.join(to));
    }

    pub fn copy_site(&self, name: &str, to: &str) {
        copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("specs").join(name), &self.top.join(to));
    }

    pub fn write(&self, path: &str, text: &str) {
        let path = self.top.join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    /// Replaces the one place where `old` stands in a file.
    pub fn edit(&self, path: &str, old: &str, new: &str) {
        let text = fs::read_to_string(self.top.join(path)).unwrap();
        assert_eq!(text.matches(old).count(), 1, "{old}");
        fs::write(self.top.join(path), text.replace(old, new)).unwrap();
    }

    pub fn commit(&self, message: &str) {
        self.git(&["add", "--all"]);
        self.git(&["commit", "--quiet", "--allow-empty", "-m", message]);
    }

    /// Runs git at the top; it must succeed. What it prints.
    pub fn git(&self, arguments: &[&str]) -> String {
        self.git_in(&self.top, arguments)
    }

    /// Runs git in a folder; it must succeed.
    pub fn git_in(&self, folder: &Path, arguments: &[&str]) -> String {
        let output = self.try_git(folder, arguments);
        assert!(output.status.success(), "git {arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    }

    pub fn try_git(&self, folder: &Path, arguments: &[&str]) -> Output {
        let mut command = Command::new("git");
        command.args(["-c", "protocol.file.allow=always"]).args(arguments).current_dir(folder);
        isolate(&mut command, self.place()).output().expect("git is installed")
    }

    /// Runs the program in a folder.
    pub fn run(&self, folder: &Path, arguments: &[&str]) -> Output {
        let mut command = Command::new(env!("CARGO_BIN_EXE_loopwright"));
        command.args(arguments).current_dir(folder);
        isolate(&mut command, self.place()).output().unwrap()
    }

    /// Compares at the top, expects an answer without faults, and gives it.
    pub fn diff(&self, arguments: &[&str]) -> String {
        self.diff_in(&self.top, arguments)
    }

    pub fn diff_in(&self, folder: &Path, arguments: &[&str]) -> String {
        let output = self.run(folder, &[&["diff"], arguments].concat());
        let complaint = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {complaint}");
        assert_eq!(complaint, "");
        String::from_utf8(output.stdout).unwrap()
    }

    /// Expects that nothing can be compared, and gives the complaint.
    pub fn complaint(&self, folder: &Path, arguments: &[&str]) -> String {
        let output = self.run(folder, &[&["diff"], arguments].concat());
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert_eq!(String::from_utf8_lossy(&output.stdout), "");
        String::from_utf8(output.stderr).unwrap()
    }

    /// Runs a script of `specs/hooks` at the top, with the program in its path.
    pub fn script(&self, name: &str, arguments: &[&str]) -> Output {
        self.script_with(name, arguments, &[])
    }

    /// The same, with variables of the environment.
    pub fn script_with(&self, name: &str, arguments: &[&str], variables: &[(&str, &str)]) -> Output {
        let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs/hooks").join(name);
        let mut command = Command::new("sh");
        command.arg(script).args(arguments).current_dir(&self.top).envs(variables.iter().copied());
        isolate(&mut command, self.place()).output().unwrap()
    }
}

/// A command that sees nothing of the user's settings, whose home is in `place`, and that finds the program in its path.
pub fn isolate<'c>(command: &'c mut Command, place: &Path) -> &'c mut Command {
    for (name, _) in std::env::vars_os().filter(|(name, _)| name.to_string_lossy().starts_with("GIT_")) {
        command.env_remove(name);
    }
    let program = Path::new(env!("CARGO_BIN_EXE_loopwright")).parent().unwrap().to_owned();
    let path = std::env::var_os("PATH").unwrap_or_default();
    let path = std::env::join_paths(std::iter::once(program).chain(std::env::split_paths(&path))).unwrap();
    let home = place.join("home");
    command
        .env("HOME", &home)
        .env("XDG_CONFIG_HOME", &home)
        .env("PATH", path)
        .env("GIT_CONFIG_NOSYSTEM", "1")
        .env("GIT_CEILING_DIRECTORIES", place.parent().unwrap())
        .env("GIT_AUTHOR_NAME", "Owner")
        .env("GIT_AUTHOR_EMAIL", "owner@example.org")
        .env("GIT_COMMITTER_NAME", "Owner")
        .env("GIT_COMMITTER_EMAIL", "owner@example.org")
        .env("GIT_AUTHOR_DATE", "2027-03-14T12:00:00Z")
        .env("GIT_COMMITTER_DATE", "2027-03-14T12:00:00Z")
        .stdin(Stdio::null())
}

fn copy(from: &Path, to: &Path) {
    for entry in walkdir::WalkDir::new(from) {
        let entry = entry.unwrap();
        let target = to.join(entry.path().strip_prefix(from).unwrap());
        if entry.file_type().is_dir() {
            fs::create_dir_all(target).unwrap();
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}
