//! Two branches that both added cables, merged by git: a conflict that is seen, or a finding that names both.

use std::fs;
use std::path::Path;
use std::process::Command;

use super::{House, findings, zone};

fn git(folder: &Path, arguments: &[&str]) -> bool {
    let mut command = Command::new("git");
    command.args(["-c", "user.name=test", "-c", "user.email=test@example.org", "-c", "commit.gpgsign=false"]);
    let run = command.args(arguments).current_dir(folder).output().expect("git is installed");
    run.status.success()
}

/// A repository with a house of 2 zones; each branch adds its zone in a file of its own, and compiles.
fn branches(two: &str, five: &str, ours: &str, theirs: &str) -> (House, bool) {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    let base = "include \"ours.kdl\"\ninclude \"theirs.kdl\"\n".to_owned()
        + &zone(2, two, "", "Two")
        + &zone(5, five, "", "Five");
    let mut house = House::new(&base);
    house.files.insert("ours.kdl".into(), "// nothing yet\n".into());
    house.files.insert("theirs.kdl".into(), "// nothing yet\n".into());
    house.good();
    let write = |house: &House| house.files.iter().for_each(|(path, text)| fs::write(root.join(path), text).unwrap());
    let commit = |name: &str| assert!(git(root, &["add", "."]) && git(root, &["commit", "-qm", name]));
    assert!(git(root, &["init", "-q", "-b", "main"]));
    write(&house);
    commit("base");
    assert!(git(root, &["checkout", "-q", "-b", "other"]));
    let mut other = house.clone();
    other.files.insert("theirs.kdl".into(), theirs.into());
    other.good();
    write(&other);
    commit("theirs");
    assert!(git(root, &["checkout", "-q", "main"]));
    house.files.insert("ours.kdl".into(), ours.into());
    house.good();
    write(&house);
    commit("ours");
    let clean = git(root, &["merge", "-q", "--no-edit", "other"]);
    let paths: Vec<String> = house.files.keys().cloned().collect();
    for path in paths {
        house.files.insert(path.clone(), fs::read_to_string(root.join(&path)).unwrap());
    }
    (house, clean)
}

#[test]
fn two_new_zones_on_one_input_are_a_conflict_in_git_and_a_finding_here() {
    let (mut house, clean) = branches("", "", &zone(1, "", "", "One"), &zone(9, "", "", "Nine"));
    assert!(!clean, "{}", house.register());
    let text = house.register().to_owned();
    let outcome = house.compile();
    let found: Vec<&str> = outcome.diagnostics.iter().map(|d| d.rule.slug).collect();
    assert_eq!(found, ["register-conflict"]);
    assert!(house.is_refused());

    // Both sides kept, as a hasty hand would: both zones are named.
    let both: String = text
        .lines()
        .filter(|l| !["<<<<<<<", "=======", ">>>>>>>"].iter().any(|m| l.starts_with(m)))
        .map(|l| format!("{l}\n"))
        .collect();
    house.files.insert("register.kdl".into(), both);
    let outcome = house.compile();
    assert_eq!(
        findings(&outcome),
        ["error register-used-twice: input 3 of `board-a` is given to zone 1 and to zone 9"]
    );

    // What the help says: the entries of the cable that is not pulled yet go, and it gets free ones.
    house.edit("register.kdl", "input 3 board=\"board-a\" zone=9\n", "");
    let entry = house.label("Z9");
    house.edit("register.kdl", &entry, "");
    house.good();
    assert!(house.register().contains("input 3 board=\"board-a\" zone=1\ninput 4 board=\"board-a\" zone=9\n"));
}

#[test]
fn entries_that_do_not_touch_merge_by_themselves() {
    let (mut house, clean) =
        branches(" input=2", " input=3", &zone(1, " input=1", "", "One"), &zone(9, " input=4", "", "Nine"));
    assert!(clean, "{}", house.register());
    assert!(house.good().register.is_none());
    let labels: Vec<&str> =
        house.register().lines().filter(|line| line.starts_with("label")).map(|l| &l[7..9]).collect();
    assert_eq!(labels, ["Z1", "Z2", "Z5", "Z9"]);
}

#[test]
fn labels_inputs_and_conductors_that_two_entries_have_are_named() {
    let spec = zone(1, "", "", "One") + &zone(2, "", "", "Two");
    let mut house = House::new(&spec);
    house.good();
    let good = house.register().to_owned();
    for (from, to, title) in [
        ("label \"Z2\"", "label \"Z1\"", "the label `Z1` is given twice"),
        ("label \"Z2\"", "spent \"Z1\"\nlabel \"Z2\"", "the label `Z1` is given twice"),
        ("wire 2", "wire 1", "conductor 1 of cable `Z1` does two things"),
        (
            "input 2 board=\"board-a\" zone=2",
            "input 2 board=\"board-a\" zone=2\ninput 2 board=\"board-a\" zone=2",
            "input 2 of `board-a` is given to zone 2 twice",
        ),
        (
            "input 2 board=\"board-a\" zone=2",
            "input 2 board=\"board-a\" zone=1",
            "zone 1 is given input 1 of `board-a` and input 2 of `board-a`",
        ),
    ] {
        house.files.insert("register.kdl".into(), good.replacen(from, to, 1));
        let outcome = house.compile();
        assert_eq!(findings(&outcome), [format!("error register-used-twice: {title}")]);
        assert!(outcome.diagnostics[0].labels.len() == 2 && house.is_refused());
    }
}

/// A motion detector that an output feeds.
const MOTION: &str = "{ detector \"motion\" supply=\"aux\"; resistor \"2k2\" }";

#[test]
fn a_way_of_a_strip_that_two_conductors_have_is_named() {
    let motion = |number: u32| {
        format!(
            "zone {number} \"Motion {number}\" type=\"interior\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 room=\"lobby\" {MOTION} }} }}\n"
        )
    };
    let strip = "strip \"strip-a\" board=\"board-a\" output=\"aux\" ways=4\n";
    let mut house = House::new(&format!("{strip}{}{}", motion(1), motion(2)));
    house.good();
    house.edit("register.kdl", "near=\"strip-a 2+\"", "near=\"strip-a 1+\"");
    let outcome = house.compile();
    let title = "terminal 1+ of `strip-a` is given to cable `Z1` and to cable `Z2`";
    assert_eq!(findings(&outcome), [format!("error register-used-twice: {title}")]);
    assert!(house.is_refused());
}

/// The marks of a supply's terminals may be those that the ways of a strip have.
#[test]
fn a_terminal_that_takes_two_conductors_is_read_back() {
    let supply = "part \"supply-b\" {
    basis \"sheet\" ref=\"sheet\"
    ac-port a=\"AC1\" b=\"AC2\" min=(V)16
    battery-port positive=\"BT+\" negative=\"BT-\"
    output \"out\" positive=\"1+\" negative=\"1-\" volts=(V)13.8 tolerance=(percent)1 limit=(mA)900
    draw idle=(mA)30
    screw wires=2
}
power-supply \"yard\" part=\"supply-b\" room=\"lobby\" {
    battery capacity=(Ah)7 installed=\"2027-01-01\"
    transformer volts=(V)16.5 rating=(VA)40 outlet=\"lobby\"
}
";
    let fed = |name: &str| {
        format!(
            "circuit \"{name}\" board=\"yard\" output=\"out\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ load \"lamp\" title=\"Lamp {name}\" }} }}\n"
        )
    };
    let mut house = House::new(&format!("{supply}{}{}", fed("a"), fed("b")));
    house.good();
    assert_eq!(house.register().matches("near=\"yard 1+\"").count(), 2, "{}", house.register());
    let register = house.register().to_owned();
    house.good();
    assert_eq!(house.register(), register);
}

#[test]
fn nonsense_is_reported_and_never_written_over() {
    let spec = zone(1, "", "", "One");
    for (text, slug) in [
        ("", "register-unreadable"),
        ("register version=1\nregister version=1\n", "register-unreadable"),
        ("register version=2\nlabels \"new\"\n", "register-newer"),
        ("register version=1\nlabel \"Z1\" {\n", "brace-unclosed"),
        ("register version=1\nzone 1 \"Front\"\n", "node-unknown"),
        ("register version=1\nlabel \"Z1\" of=\"zone one\" cable=\"pair\"\n", "register-entry-unclear"),
        (
            "register version=1\nlabel \"Z1\" of=\"zone 1\" cable=\"pair\" { wire 1 \"loop-out\" near=\"I1\" }\n",
            "register-entry-unclear",
        ),
        ("register version=1\nlabel \"Z1\" of=\"zone 1\" cable=\"pair\" { wire 1 \"loop\" }\n", "word-unknown"),
        ("register version=1\n// the user code is 4711\n", "secret-in-spec"),
        ("register version=1\nlabel \"\" of=\"zone 1\" cable=\"pair\"\n", "value-out-of-range"),
        ("register version=1\nspent \" Z1\"\n", "value-out-of-range"),
        ("<<<<<<< HEAD\nregister version=1\n", "register-conflict"),
        ("regi\0ster", "file-not-text"),
    ] {
        let mut house = House::new(&spec);
        house.files.insert("register.kdl".into(), text.into());
        let outcome = house.compile();
        let found: Vec<&str> = outcome.diagnostics.iter().map(|d| d.rule.slug).collect();
        assert_eq!(found, [slug], "{text}");
        assert!(house.is_refused(), "{text}");
    }
}

#[test]
fn an_entry_that_is_there_twice_is_one_finding() {
    let motion = "zone 1 \"Motion\" type=\"interior\" { loop \"end-of-line\" board=\"board-a\" { run \"quad\" length=(ft)20 room=\"lobby\" { detector \"motion\" supply=\"aux\"; resistor \"2k2\" } } }\n";
    let mut house = House::new(&("strip \"strip-a\" board=\"board-a\" output=\"aux\" ways=4\n".to_owned() + motion));
    house.good();
    let entry = house.label("Z1");
    assert!(entry.contains("near=\"strip-a 1+\""), "{entry}");
    let twice = format!("{}\n{entry}\n", house.register());
    house.files.insert("register.kdl".into(), twice);
    assert_eq!(findings(&house.compile()), ["error register-used-twice: the label `Z1` is given twice"]);
}

/// What the program has written it must be able to read.
#[test]
fn a_register_may_be_longer_than_a_spec_file() {
    let mut house = House::new(&zone(1, "", "", "One"));
    house.good();
    let long = house.register().to_owned() + &"// a line that somebody has added\n".repeat(40_000);
    assert!(long.len() > 1024 * 1024);
    house.files.insert("register.kdl".into(), long.clone());
    house.good();
    assert_eq!(house.register(), long);
}
