//! Every command in every form, over specs with a code in all kinds of places: nothing of it comes out.

use std::fs;
use std::path::Path;

use crate::git::repository::{COTTAGE, Repository, ZONES};

const SITE: &str = "specs/cottage";
const CODE: &str = "73915826";
const WORD: &str = "marzipan";

/// The cottage with the code and the word wherever somebody might write them. Two labels hold it, and one is there twice.
fn leaking() -> Vec<(String, String)> {
    let site = COTTAGE
        .replace(
            "site \"cottage\" title=\"Cottage\"",
            &format!("site \"cottage-code-{CODE}\" title=\"Cottage, code {CODE}\""),
        )
        .replace("revision \"A\"", &format!("revision \"A\" note=\"the alarm code is now {CODE}\""))
        .replace("title=\"Ground floor\"", &format!("title=\"Ground floor, PIN {CODE}\""))
        .replace("room \"hall\" title=\"Hall\"", &format!("room \"hall\" title=\"Hall, {CODE} is the code\""))
        .replace(
            "room \"closet\" title=\"Closet\"",
            &format!("room \"closet\" title=\"Closet, user codes {CODE} and 5826\""),
        )
        .replace(
            "door \"front-door\" title=\"Front door\"",
            "door \"front-door\" title=\"Front door, co\\u{64}e 7391\\u{35}826\"",
        )
        .replace(
            "include \"zones.kdl\"",
            &format!("include \"zones.kdl\"\ninclude \"code-{CODE}.kdl\"\ninclude \"gone-code-{CODE}.kdl\""),
        )
        .replace("area \"cottage\" title=\"Cottage\"", &format!("area \"cottage\" title=\"Account no. {CODE}\""))
        + &format!("accept \"part-unconfirmed\" because=\"our password is \\\"{WORD}\\\"\"\n")
        + &format!("user \"ann\" code={CODE} // installer code:\n// {CODE}\n")
        + &format!("monitoring passphrase=\"{WORD}\" account={CODE}\n/* PIN\n   {CODE} */\n");
    let zones = ZONES
        .replace("\"Front door\"", &format!("\"Front door, code {CODE}\""))
        .replace("run \"station-2\" length", &format!("run \"station-2\" label=\"PIN {CODE}\" length"))
        .replace("\"Hall window\" ", &format!("\"Hall window\" note=\"duress 7 3 9 1 5 8 2 6, password: {WORD}\" "));
    let extra = format!("room \"code-{CODE}\" title=\"Shed\"\n");
    vec![
        (format!("{SITE}/site.kdl"), site),
        (format!("{SITE}/zones.kdl"), zones),
        (format!("{SITE}/code-{CODE}.kdl"), extra),
        (format!("{SITE}/register.kdl"), format!("register version=1\n// the alarm code is {CODE}\n")),
    ]
}

/// Four characters in a row of what must not come out are too many.
fn check(what: &str, text: &str) {
    for secret in [CODE, WORD] {
        for start in 0..=secret.len() - 4 {
            let piece = &secret[start..start + 4];
            if let Some(line) = text.lines().find(|line| line.to_lowercase().contains(piece)) {
                panic!("{what} tells \"{piece}\":\n{line}");
            }
        }
    }
}

struct Runs(Repository);

impl Runs {
    /// Runs the program, checks what it prints, and gives its exit code.
    fn run(&self, arguments: &[&str]) -> i32 {
        let output = self.0.run(self.0.top(), arguments);
        let text = String::from_utf8_lossy(&output.stdout) + String::from_utf8_lossy(&output.stderr);
        assert!(!text.is_empty(), "{arguments:?} prints nothing");
        check(&format!("{arguments:?}"), &text);
        output.status.code().unwrap()
    }

    /// Runs every command that prints something of the site on disk.
    fn run_all(&self) {
        for form in ["human", "short", "json"] {
            for command in [&["check", SITE][..], &["check", ".", "--color", "always"]] {
                self.run(&[command, &["--format", form]].concat());
            }
            for zone in ["zone=1", "zone=2", "zone=9"] {
                self.run(&["why", SITE, zone, "--format", form]);
                self.run(&["diagnose", SITE, zone, "--ohms", "1960", "--format", form]);
                self.run(&["diagnose", SITE, zone, "--volts", "2.3", "--format", form]);
            }
            self.run(&["readings", SITE, "--date", "2027-04-02", "--format", form]);
        }
        for file in self.files(SITE) {
            self.run(&["textconv", &file]);
        }
        self.run(&["fmt", "--check", SITE]);
        self.run(&["reference"]);
        self.run(&["explain", "secret-in-spec"]);
        self.run(&["explain", "--list"]);
    }

    fn diff_all(&self, sides: &[&str]) {
        for form in ["text", "markdown", "html", "json"] {
            self.run(&[&["diff"], sides, &["--as", form]].concat());
        }
        self.run(&[&["diff"], sides, &["--format", "json"]].concat());
    }

    /// The files below a folder.
    fn files(&self, folder: &str) -> Vec<String> {
        let entries = walkdir::WalkDir::new(self.0.top().join(folder)).into_iter().filter_map(Result::ok);
        let files = entries.map(walkdir::DirEntry::into_path);
        let name = |path: &Path| path.strip_prefix(self.0.top()).unwrap().to_str().unwrap().to_owned();
        files.filter(|path| path.is_file()).map(|path| name(&path)).collect()
    }

    /// Checks what was written to the disk.
    fn check_files(&self, folder: &str) -> usize {
        let files = self.files(folder);
        for file in &files {
            let text = String::from_utf8_lossy(&fs::read(self.0.top().join(file)).unwrap()).into_owned();
            // Digests of files may hold any four digits by chance.
            let of_name = |line: &str| line.rsplit(' ').next().unwrap_or_default().to_owned();
            let is_manifest = file.ends_with(".loopwright-manifest");
            let text = if is_manifest { text.lines().map(of_name).collect::<Vec<_>>().join("\n") } else { text };
            check(file, &text);
            check("a file's name", file);
        }
        files.len()
    }
}

#[test]
fn a_code_that_is_in_the_spec_comes_out_nowhere() {
    let repository = Repository::with_cottage(SITE);
    leaking().iter().for_each(|(path, text)| repository.write(path, text));
    repository.commit("With a code");
    let runs = Runs(repository);
    runs.run_all();
    assert_eq!(runs.run(&["check", SITE]), 1);
    assert_eq!(runs.run(&["compile", SITE]), 1);
    assert_eq!(runs.run(&["compile", SITE, "--frozen"]), 1);
    assert_eq!(runs.run(&["compile", SITE, "--since", "v1"]), 1);
    assert_eq!(runs.check_files("out"), 0, "a packet was written");
    runs.diff_all(&["v1", SITE]);
    runs.diff_all(&["HEAD", SITE]);
}

#[test]
fn a_code_that_was_taken_out_comes_back_nowhere() {
    let repository = Repository::new();
    leaking().iter().for_each(|(path, text)| repository.write(path, text));
    repository.copy_parts("specs/parts");
    repository.write(".gitattributes", "*.kdl diff=loopwright\n");
    repository.git(&["config", "diff.loopwright.textconv", "loopwright textconv"]);
    repository.git(&["config", "difftool.loopwright.cmd", "loopwright textconv \"$LOCAL\" \"$REMOTE\""]);
    repository.commit("With a code");
    for (path, _) in leaking() {
        let old = fs::read_to_string(repository.top().join(&path)).unwrap();
        fs::remove_file(repository.top().join(&path)).unwrap();
        repository.write(&format!("old/{}", path.rsplit_once('/').unwrap().1), &old);
    }
    repository.write(&format!("{SITE}/site.kdl"), COTTAGE);
    repository.write(&format!("{SITE}/zones.kdl"), ZONES);
    let runs = Runs(repository);
    runs.run_all();
    runs.diff_all(&["HEAD", SITE]);
    runs.diff_all(&[SITE, "HEAD"]);
    runs.run(&["textconv", "old/site.kdl", &format!("{SITE}/site.kdl")]);
    runs.run(&["textconv", &format!("{SITE}/zones.kdl"), "old/zones.kdl"]);
    assert_eq!(runs.run(&["compile", SITE, "--since", "HEAD"]), 0);
    assert!(runs.check_files("out") > 20);
    runs.check_files(SITE);

    // git's own lines name the files; the rest is ours.
    let ours = |text: String| {
        let git = ["diff ", "index ", "--- ", "+++ ", "deleted ", "new ", "similarity ", "rename "];
        text.lines().filter(|line| !git.iter().any(|start| line.starts_with(start))).collect::<Vec<_>>().join("\n")
    };
    for arguments in [
        &["diff", "HEAD", "--", SITE][..],
        &["log", "-p"],
        &["difftool", "--no-prompt", "--tool=loopwright", "--", SITE],
    ] {
        let text = ours(runs.0.git(arguments));
        assert!(text.contains("***"), "{text}");
        check("git through textconv", &text);
    }
}

#[test]
fn what_is_suspected_is_masked_also_where_it_is_accepted() {
    let repository = Repository::with_cottage(SITE);
    repository.edit(&format!("{SITE}/site.kdl"), "title=\"Hall\"", &format!("title=\"Hall, stairs code {CODE}\""));
    repository.edit(&format!("{SITE}/site.kdl"), "area \"cottage\"", &format!("// user 3: {CODE}\narea \"cottage\""));
    let runs = Runs(repository);
    assert_eq!(runs.run(&["check", SITE]), 0);
    let accept = "accept \"secret-suspected\" name=\"site.kdl\" because=\"drums\"\n";
    runs.0.edit(&format!("{SITE}/site.kdl"), "area \"cottage\"", &format!("{accept}area \"cottage\""));
    assert_eq!(runs.run(&["compile", SITE]), 0);
    assert!(runs.check_files("out") > 20);
    check("register.kdl", &fs::read_to_string(runs.0.top().join(SITE).join("register.kdl")).unwrap());
    let index = fs::read_to_string(runs.0.top().join("out/cottage/terminals.html")).unwrap_or_default();
    check("a sheet", &index);
    runs.run_all();
}

#[test]
fn a_code_in_a_text_that_is_no_spec_comes_out_nowhere() {
    let repository = Repository::with_cottage(SITE);
    let runs = Runs(repository);
    let broken: [&[u8]; 6] = [
        b"zone 3 \"Door code 73915826",
        b"zone 3 \"Door\" = { code=73915826\n",
        b"room \"hall\" title=\"code 73915826 \xff\"\n",
        b"/* the code is 73915826\n",
        b"code=73915826=73915826 \"PIN 73915826\\q\"\n",
        b"note r\"PIN 73915826\"\n\0",
    ];
    for text in broken {
        fs::write(runs.0.top().join(SITE).join("zones.kdl"), text).unwrap();
        runs.run_all();
        assert_eq!(runs.run(&["check", SITE]), 1, "{}", String::from_utf8_lossy(text));
    }
}
