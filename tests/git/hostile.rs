//! A repository from a stranger: whatever it configures, holds or names, nothing of it is executed, and no name in it or
//! on the command line is taken for something else.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use super::repository::{Repository, isolate};

/// Every command that reads revisions.
const COMMANDS: [&[&str]; 6] = [
    &["diff", "v1", "specs/cottage"],
    &["diff", "v1..HEAD", "specs/cottage", "--as", "html"],
    &["diff", "specs/cottage"],
    &["diff", "v1:specs/cottage", "HEAD:specs/cottage"],
    &["compile", "specs/cottage", "--since", "v1"],
    &["textconv", "specs/cottage/zones.kdl"],
];

/// A cottage whose repository would run `trap`, which leaves a mark, wherever git can be told to run anything.
struct Trapped {
    repository: Repository,
    trap: PathBuf,
    mark: PathBuf,
}

impl Trapped {
    fn new() -> Self {
        let repository = Repository::with_cottage("specs/cottage");
        repository.write(".gitattributes", "* filter=trap diff=trap\n");
        repository.edit("specs/cottage/zones.kdl", "length=(ft)24", "length=(ft)31");
        repository.commit("A longer cable");
        let (trap, mark) = (repository.place().join("trap"), repository.place().join("mark"));
        script(&trap, &format!("touch '{}'", mark.display()));
        let command = trap.to_str().unwrap();
        for key in [
            "core.fsmonitor",
            "core.pager",
            "core.editor",
            "core.sshCommand",
            "core.askPass",
            "core.gitProxy",
            "core.alternateRefsCommand",
            "pager.rev-parse",
            "pager.ls-tree",
            "pager.cat-file",
            "filter.trap.clean",
            "filter.trap.smudge",
            "filter.trap.process",
            "diff.trap.textconv",
            "diff.trap.command",
            "diff.external",
            "gpg.program",
            "uploadpack.packObjectsHook",
            "remote.origin.uploadpack",
        ] {
            repository.git(&["config", key, command]);
        }
        for name in ["rev-parse", "ls-tree", "cat-file", "config"] {
            repository.git(&["config", &format!("alias.{name}"), &format!("!{command}")]);
        }
        repository.git(&["config", "credential.helper", &format!("!{command}")]);
        for hook in ["post-index-change", "reference-transaction", "pre-auto-gc", "post-checkout", "fsmonitor-watchman"]
        {
            fs::copy(&trap, repository.top().join(".git/hooks").join(hook)).unwrap();
        }
        let trapped = Self { repository, trap, mark };
        // The traps do spring: else this test would prove nothing.
        for arguments in [&["diff", "v1"][..], &["-p", "ls-tree", "HEAD"], &["status"]] {
            trapped.repository.try_git(trapped.repository.top(), arguments);
            if arguments[0] != "-p" {
                assert!(trapped.sprung(), "{arguments:?}");
            }
        }
        trapped
    }

    /// A revision of which an object is absent, and a remote that git would ask for it by a command of its own.
    fn with_promise(self) -> Self {
        let repository = &self.repository;
        repository.git(&["config", "extensions.partialClone", "origin"]);
        repository.git(&["config", "remote.origin.promisor", "true"]);
        repository.git(&["config", "remote.origin.url", &format!("ext::{}", self.trap.display())]);
        repository.git(&["config", "protocol.ext.allow", "always"]);
        let object = repository.git(&["rev-parse", "v1:specs/cottage/zones.kdl"]);
        let (folder, file) = object.trim().split_at(2);
        fs::remove_file(repository.top().join(".git/objects").join(folder).join(file)).unwrap();
        repository.try_git(repository.top(), &["cat-file", "-p", object.trim()]);
        assert!(self.sprung(), "git itself fetches");
        self
    }

    /// True where the trap was run since the last time.
    fn sprung(&self) -> bool {
        fs::remove_file(&self.mark).is_ok()
    }

    fn run(&self, folder: &Path, arguments: &[&str], set: impl Fn(&mut Command)) -> Output {
        let mut command = Command::new(env!("CARGO_BIN_EXE_loopwright"));
        isolate(command.args(arguments).current_dir(folder), self.repository.place());
        set(&mut command);
        let output = command.output().unwrap();
        assert!(!self.sprung(), "{arguments:?} ran the trap");
        output
    }
}

fn script(path: &Path, line: &str) {
    use std::os::unix::fs::PermissionsExt;
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, format!("#!/bin/sh\n{line}\n")).unwrap();
    fs::set_permissions(path, fs::Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn no_setting_and_no_hook_is_executed() {
    let trapped = Trapped::new();
    for arguments in COMMANDS {
        let output = trapped.run(trapped.repository.top(), arguments, |_| ());
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    }
}

#[test]
fn no_variable_is_executed() {
    let trapped = Trapped::new();
    let tools = trapped.repository.place().join("tools");
    for name in ["git", "git-ls-tree", "git-cat-file", "git-rev-parse", "git-remote-ext", "git-fetch"] {
        script(&tools.join(name), trapped.trap.to_str().unwrap());
    }
    for arguments in COMMANDS {
        let output = trapped.run(trapped.repository.top(), arguments, |command| {
            for name in ["PAGER", "SSH", "SSH_COMMAND", "ASKPASS", "EDITOR", "EXTERNAL_DIFF", "PROXY_COMMAND"] {
                command.env(format!("GIT_{name}"), &trapped.trap);
            }
            command.env("PAGER", &trapped.trap).env("GIT_EXEC_PATH", &tools).env("GIT_TRACE", &trapped.mark);
            // These contradict each other, and git refuses to run with both.
            command.env("GIT_ICASE_PATHSPECS", "1").env("GIT_GLOB_PATHSPECS", "1").env("GIT_NOGLOB_PATHSPECS", "1");
        });
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    }
}

/// `.` in the search path is whatever folder the program is called in: the stranger's.
#[test]
fn no_program_of_the_repository_is_taken_for_git() {
    let trapped = Trapped::new();
    let top = trapped.repository.top();
    for folder in ["", "specs/cottage", "bin"] {
        script(&top.join(folder).join("git"), trapped.trap.to_str().unwrap());
    }
    let usual = std::env::var("PATH").unwrap();
    for before in [".", "", "bin", "./bin"] {
        for arguments in COMMANDS {
            let output = trapped.run(top, arguments, |command| {
                command.env("PATH", format!("{before}:{usual}"));
            });
            assert_eq!(output.status.code(), Some(0), "{before} {arguments:?}");
        }
    }
}

/// Also with a git that does not know how to be told not to fetch.
#[test]
fn nothing_is_fetched() {
    let trapped = Trapped::new().with_promise();
    let older = trapped.repository.place().join("older/git");
    script(&older, "unset GIT_NO_LAZY_FETCH; PATH=${PATH#*:} exec git \"$@\"");
    let usual = std::env::var("PATH").unwrap();
    for arguments in COMMANDS.iter().filter(|arguments| arguments.iter().any(|argument| argument.contains("v1"))) {
        for path in [usual.clone(), format!("{}:{usual}", older.parent().unwrap().display())] {
            let output = trapped.run(trapped.repository.top(), arguments, |command| {
                command.env("PATH", &path);
            });
            let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
            assert_eq!(output.status.code(), Some(2), "{arguments:?}: {complaint}");
            let said = complaint.contains("this clone does not hold") || complaint.contains("'ext' not allowed");
            assert!(said && complaint.contains("git archive"), "{complaint}");
        }
    }
}

/// A folder of the site that looks like a bare repository would be found before the real one.
#[test]
fn a_repository_inside_the_site_is_not_asked() {
    let trapped = Trapped::new();
    let site = trapped.repository.top().join("specs/cottage");
    trapped.repository.git(&["init", "--quiet", "--bare", "false"]);
    for name in ["HEAD", "config", "objects", "refs"] {
        fs::rename(trapped.repository.top().join("false").join(name), site.join(name)).unwrap();
    }
    let output = trapped.run(trapped.repository.top(), &["diff", "v1", "specs/cottage"], |_| ());
    let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(2));
    assert!(complaint.contains("is in no git repository that can be read"), "{complaint}");
}

#[test]
fn what_looks_like_an_option_is_none() {
    let repository = Repository::with_cottage("-specs/--output=x");
    repository.edit("-specs/--output=x/zones.kdl", "length=(ft)24", "length=(ft)31");
    repository.commit("A longer cable");
    let found = repository.diff(&["v1", "--", "-specs/--output=x"]);
    assert!(found.contains("24 ft → 31 ft"), "{found}");
    assert_eq!(repository.diff(&["--", "v1:-specs/--output=x", "HEAD:-specs/--output=x"]), found);
    repository.git(&["update-ref", "refs/heads/-evil", "HEAD"]);
    for revision in ["-evil", "--help", "-", "--all"] {
        let complaint = repository.complaint(repository.top(), &["--", revision, "-specs/--output=x"]);
        assert!(complaint.starts_with(&format!("error: \"{revision}\" is no revision: it begins with a hyphen")));
    }
    assert!(repository.diff(&["refs/heads/-evil", "--", "-specs/--output=x"]).contains("nothing differs"));
}

#[test]
fn a_link_in_a_tree_that_is_a_large_file_is_refused() {
    let repository = Repository::with_cottage("specs/cottage");
    let long = repository.place().join("long");
    fs::write(&long, "x".repeat(20_000_000)).unwrap();
    let object = repository.git(&["hash-object", "-w", long.to_str().unwrap()]);
    let entry = format!("120000,{},specs/cottage/zones.kdl", object.trim());
    repository.git(&["update-index", "--cacheinfo", &entry]);
    repository.git(&["commit", "--quiet", "-m", "A long link"]);
    let run = repository.run(repository.top(), &["diff", "v1", "HEAD", "specs/cottage"]);
    let said = [run.stdout, run.stderr].concat();
    let said = String::from_utf8_lossy(&said);
    assert_eq!(run.status.code(), Some(1), "{said}");
    assert!(said.contains("cannot read zones.kdl") || said.contains("not whole"), "{said}");
}
