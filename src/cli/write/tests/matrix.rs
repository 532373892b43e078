//! Every step of the protocol let fail, and every one made the last: what remains, and what the next run makes of it.
//!
//! `tests/kills.md` is the table of what a kill at each step leaves. `UPDATE=1` writes it again.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::io::ErrorKind;

use super::faults::{Fault, on_disk};
use super::*;

/// The packet before, with a file that the next one has no more and one that its owner has written on.
const OLD: [(&str, &str); 4] =
    [("csv/gone.csv", "old"), ("csv/labels.csv", "old"), ("index.html", "old"), ("notes.md", "old")];
const NEW: [(&str, &str); 3] = [("csv/labels.csv", "new"), ("index.html", "new"), ("site.json", "new")];
/// What others have put there, or made of it.
const OTHERS: [(&str, &str); 3] =
    [("csv/mine.csv", "mine"), ("notes.md", "old, with a note"), ("photos/panel.txt", "photo")];

/// A site and its packet.
struct House {
    root: tempfile::TempDir,
    first: bool,
}

impl House {
    /// As it is before; `first` where nothing was ever compiled.
    fn new(first: bool) -> Self {
        let house = Self { root: tempfile::tempdir().unwrap(), first };
        fs::create_dir_all(house.site()).unwrap();
        if !first {
            house.write(None, Some("old"), &bundle(&OLD)).unwrap();
            for (path, text) in OTHERS {
                let at = house.target().join(path);
                fs::create_dir_all(at.parent().unwrap()).unwrap();
                fs::write(at, text).unwrap();
            }
        }
        house
    }

    fn site(&self) -> PathBuf {
        self.root.path().join("specs/mill")
    }

    fn target(&self) -> PathBuf {
        self.root.path().join("out/mill")
    }

    fn write(&self, register: Option<&str>, text: Option<&str>, bundle: &Bundle) -> Result<Written, Refusal> {
        let (site, target, register) = (self.site(), self.target(), register.map(str::as_bytes));
        let job = Job { site: &site, register, text, target: &target, bundle };
        super::super::write(&job)
    }

    /// Compiles the new spec, by the register as it stands.
    fn compile(&self) -> Result<Written, Refusal> {
        let register = self.register();
        let text = (register.as_deref() != Some("new")).then_some("new");
        self.write(register.as_deref(), text, &bundle(&NEW))
    }

    fn register(&self) -> Option<String> {
        fs::read_to_string(self.site().join("register.kdl")).ok()
    }

    /// What remains: the register, the packet, and the names in the workspaces; fails where one of them is not whole, or
    /// where a file of others is lost.
    fn remains(&self) -> (&'static str, &'static str, Vec<String>) {
        let all = contents(self.root.path());
        let register = match self.register().as_deref() {
            None if self.first => "none",
            Some("old") if !self.first => "old",
            Some("new") => "new",
            other => panic!("the register is {other:?}"),
        };
        let own = |folder: &str, files: &[(&str, &str)]| {
            files
                .iter()
                .filter(|(path, _)| *path != "notes.md")
                .all(|(path, text)| all.get(&format!("{folder}/{path}")).is_some_and(|found| found == text))
        };
        let has = |path: &str| all.contains_key(&format!("out/mill/{path}"));
        let packet = match (has("index.html"), own("out/mill", &OLD), own("out/mill", &NEW)) {
            (true, true, false) if !has("site.json") => "old",
            (true, false, true) if !has("csv/gone.csv") => "new",
            (false, false, false) if !all.contains_key("out/mill/") => "none",
            _ => panic!("the packet is mixed: {all:#?}"),
        };
        assert!(packet != "none" || self.first || own("out/.loopwright-mill/old", &OLD), "the old packet is gone");
        assert!(packet != "new" || register == "new", "paper without a register");
        for (path, text) in OTHERS.iter().filter(|_| !self.first) {
            let places = ["out/mill", "out/.loopwright-mill/swap", "out/.loopwright-mill/old"];
            let found =
                places.iter().filter(|folder| all.get(&format!("{folder}/{path}")).is_some_and(|found| found == text));
            assert_eq!(found.count(), 1, "{path} in {all:#?}");
        }
        let workspaces = [("packet", "out/.loopwright-mill/"), ("register", "specs/mill/.loopwright-register.kdl/")];
        let mut left = Vec::new();
        for (of, workspace) in workspaces.into_iter().filter(|(_, workspace)| all.contains_key(*workspace)) {
            let below = all.keys().filter_map(|path| path.strip_prefix(workspace)?.split('/').next());
            let names: BTreeSet<&str> = below.filter(|name| !name.is_empty()).collect();
            let names = names.into_iter().collect::<Vec<_>>().join(", ");
            left.push(format!("{of}: {}", if names.is_empty() { "empty" } else { &names }));
        }
        (register, packet, left)
    }

    /// The next run, on a good disk, completes whatever was begun, and leaves nothing.
    fn next_run_completes(&self, context: &str) {
        self.compile().unwrap_or_else(|refusal| panic!("{context}: {refusal}"));
        assert_eq!(self.remains(), ("new", "new", Vec::new()), "{context}");
        for (path, text) in OTHERS.iter().filter(|_| !self.first) {
            assert_eq!(contents(&self.target())[*path], *text, "{context}");
        }
        let files = contents(&self.target()).into_keys().filter(|path| !path.ends_with('/')).count();
        assert_eq!(files, NEW.len() + 1 + if self.first { 0 } else { OTHERS.len() }, "{context}");
    }

    /// A step of a run, without the folder that this house happens to be in.
    fn shown(&self, step: &str) -> String {
        step.replace(&format!("{}/", self.root.path().display()), "")
    }
}

/// With a packet before and without; on a system that exchanges folders and on one that does not.
const HOUSES: [(&str, bool, bool); 3] = [
    ("The first compile", true, false),
    ("A later compile", false, false),
    ("A later compile, where the system cannot exchange folders", false, true),
];

fn steps_of(first: bool, without_exchange: bool) -> Vec<String> {
    let house = House::new(first);
    let (done, steps) = on_disk(None, without_exchange, || house.compile());
    done.unwrap();
    assert_eq!(house.remains(), ("new", "new", Vec::new()));
    steps.iter().map(|step| house.shown(step)).collect()
}

#[test]
fn killed_at_any_step_the_old_or_the_new_is_there_and_the_next_run_completes() {
    let mut table = String::from(
        "What a run leaves that is killed at a step: the step is not done, and of a file that is being written half is there.\n\
         The next run has always completed the work.\n",
    );
    for (title, first, without_exchange) in HOUSES {
        let _ = write!(
            table,
            "\n## {title}\n\n| killed at | register | packet | left in the workspaces |\n| --- | --- | --- | --- |\n"
        );
        for (nth, step) in steps_of(first, without_exchange).iter().enumerate() {
            let house = House::new(first);
            let (done, _) = on_disk(Some((nth + 1, Fault::Killed)), without_exchange, || house.compile());
            let (register, packet, left) = house.remains();
            let left = if left.is_empty() { "nothing".to_owned() } else { left.join("; ") };
            let _ = writeln!(table, "| {} {step} | {register} | {packet} | {left} |", nth + 1);
            assert!(done.is_err() || packet == "new");
            house.next_run_completes(&format!("{title}, killed at {step}"));
        }
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/kills.md");
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, &table).unwrap();
    }
    assert!(
        fs::read_to_string(&path).unwrap_or_default() == table,
        "tests/kills.md is out of step: UPDATE=1 writes it again"
    );
}

/// The second run has to clear what the first has left, and is killed at that as well. Of first kills that leave alike, one
/// is enough.
#[test]
fn killed_twice_is_no_worse() {
    for (title, first, without_exchange) in HOUSES {
        let mut seen = BTreeSet::new();
        for nth in 1..=steps_of(first, without_exchange).len() {
            for again in 1.. {
                let house = House::new(first);
                let _ = on_disk(Some((nth, Fault::Killed)), without_exchange, || house.compile());
                if again == 1 && !seen.insert(house.remains()) {
                    break;
                }
                let (_, steps) = on_disk(Some((again, Fault::Killed)), without_exchange, || house.compile());
                house.remains();
                house.next_run_completes(&format!("{title}, killed at {nth} and at {again}"));
                if steps.len() < again {
                    break;
                }
            }
        }
    }
}

/// Where the next spec has errors, nothing is written, but what others put into the packet's folder is back in its place.
#[test]
fn a_run_without_a_packet_completes_as_well() {
    for (title, first, without_exchange) in HOUSES {
        for nth in 1..=steps_of(first, without_exchange).len() {
            let house = House::new(first);
            let _ = on_disk(Some((nth, Fault::Killed)), without_exchange, || house.compile());
            let (register, packet, _) = house.remains();
            tidy(&house.site(), Some(&house.target()));
            let stands = if packet == "none" && !first { "old" } else { packet };
            assert_eq!(house.remains(), (register, stands, Vec::new()), "{title}, killed at {nth}");
            for (path, text) in OTHERS.iter().filter(|_| !first) {
                assert_eq!(contents(&house.target())[*path], *text, "{title}, killed at {nth}");
            }
        }
    }
}

/// A run that goes on after a fault leaves all as it was, or says that it has written all.
#[test]
fn where_a_step_fails_nothing_has_happened() {
    let faults = [Fault::Fails(ErrorKind::StorageFull), Fault::Fails(ErrorKind::PermissionDenied), Fault::Full];
    for (title, first, without_exchange) in HOUSES {
        let steps = steps_of(first, without_exchange);
        for fault in faults {
            for (nth, step) in steps.iter().enumerate() {
                let context = format!("{title}, {fault:?} at {step}");
                let house = House::new(first);
                let before = contents(house.root.path());
                let (done, _) = on_disk(Some((nth + 1, fault)), without_exchange, || house.compile());
                let (register, packet, _) = house.remains();
                match done {
                    Ok(_) => assert_eq!((register, packet), ("new", "new"), "{context}"),
                    Err(Refusal::Uncleared { .. }) => {
                        assert_eq!((register, packet), ("new", "new"), "{context}");
                    }
                    Err(refusal) => {
                        assert_eq!(contents(house.root.path()), before, "{context}: {refusal}");
                        assert!(
                            refusal.help().contains("nothing has been changed") || refusal.help().contains("see to")
                        );
                    }
                }
                house.next_run_completes(&context);
            }
        }
    }
}

/// Where putting back fails as well, what is there is whole, and the message says what has happened.
#[test]
fn two_faults_in_one_run_are_told() {
    // The packet cannot be put in its place, and then the old register cannot be put back.
    let swap = |steps: &[String]| steps.iter().position(|step| step.starts_with("exchange")).unwrap() + 1;
    let at = swap(&steps_of(false, false));
    let house = House::new(false);
    let (done, steps) = on_disk(Some((at, Fault::Killed)), false, || house.compile());
    let refusal = done.unwrap_err();
    assert!(matches!(refusal, Refusal::RegisterChanged { .. }), "{refusal}");
    assert!(refusal.to_string().contains("the register has been changed, and the old one cannot be put back"));
    assert!(steps.len() > at);
    assert_eq!((house.remains().0, house.remains().1), ("new", "old"));
}
