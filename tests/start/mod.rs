//! `loopwright new`: the folder as a newcomer gets it, from nothing and from a spreadsheet.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn run(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_loopwright"));
    let Output { status, stdout, stderr } =
        command.args(arguments).current_dir(folder).stdin(Stdio::null()).output().unwrap();
    (status.code().unwrap(), String::from_utf8(stdout).unwrap(), String::from_utf8(stderr).unwrap())
}

/// Every file below a folder, hidden ones too.
fn files(folder: &Path) -> BTreeMap<String, String> {
    let files =
        walkdir::WalkDir::new(folder).into_iter().map(Result::unwrap).filter(|entry| entry.file_type().is_file());
    let name = |path: &Path| path.strip_prefix(folder).unwrap().to_str().unwrap().to_owned();
    files
        .map(|entry| (name(entry.path()), String::from_utf8_lossy(&fs::read(entry.path()).unwrap()).into_owned()))
        .collect()
}

/// The findings of a check, each as its severity and rule.
fn findings(folder: &Path, site: &str) -> Vec<(String, String)> {
    let (_, out, _) = run(folder, &["check", site, "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    let word = |found: &serde_json::Value, what: &str| found[what].as_str().unwrap().to_owned();
    let found =
        json["sites"].as_array().unwrap().iter().flat_map(|site| site["diagnostics"].as_array().unwrap().clone());
    found.map(|found| (word(&found, "severity"), word(&found, "rule"))).collect()
}

#[test]
fn a_new_site_compiles_and_says_little() {
    let root = tempfile::tempdir().unwrap();
    let root = root.path();
    let (code, out, err) = run(root, &["new", "River Cottage"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(
        out.starts_with("River Cottage: 12 files\n\nNext:\n  cd \"River Cottage\"\n  loopwright check specs "),
        "{out}"
    );
    let folder = root.join("River Cottage");
    let made = files(&folder);
    let site = &made["specs/river-cottage/site.kdl"];
    assert!(site.contains("site \"river-cottage\" title=\"River Cottage\""), "{site}");
    let specs = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    assert_eq!(files(&folder.join("specs/parts")), files(&specs.join("parts")));
    for found in findings(&folder, "specs") {
        assert_eq!(found.0, "note", "{found:?}");
    }
    assert_eq!(run(&folder, &["fmt", "--check", "."]).0, 0);
    assert_eq!(run(&folder, &["compile", "specs"]).0, 0);
    assert!(
        folder.join("out/river-cottage/index.html").exists()
            && folder.join("specs/river-cottage/register.kdl").exists()
    );
    assert!(made[".gitignore"].lines().any(|line| line == "/out/"));
    let attributes =
        |text: &str| text.lines().filter(|line| !line.starts_with('#')).map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(
        attributes(&made[".gitattributes"]),
        attributes(&fs::read_to_string(specs.join("hooks/gitattributes")).unwrap())
    );
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(fs::metadata(folder.join("ci.sh")).unwrap().permissions().mode() & 0o111, 0o111);
    }

    // One more site beside the parts is its own folder and nothing else.
    assert_eq!(run(&folder, &["new", "specs/barn"]).0, 0);
    assert_eq!(files(&folder.join("specs/barn")).keys().collect::<Vec<_>>(), ["site.kdl"]);
    assert!(findings(&folder, "specs/barn").iter().all(|found| found.0 == "note"));
}

#[test]
fn what_is_there_is_never_touched() {
    let root = tempfile::tempdir().unwrap();
    let root = root.path();
    fs::create_dir(root.join("empty")).unwrap();
    fs::write(root.join("file"), "mine").unwrap();
    for (name, says) in [
        ("empty", "error: empty is there already\n"),
        ("file", "error: file is there already\n"),
        ("file/below", "error: cannot write "),
        ("..", "names no new folder"),
        ("---", "\"---\" cannot be the name of a site"),
    ] {
        let (code, out, err) = run(root, &["new", "--", name]);
        assert_eq!((code, out.as_str()), (2, ""), "{name}");
        assert!(err.contains(says), "{name}: {err}");
    }
    assert_eq!(files(root), [("file".to_owned(), "mine".to_owned())].into());
    assert_eq!(fs::read_dir(root.join("empty")).unwrap().count(), 0);
}

/// Twenty openings as a spreadsheet has them: names that need quotes, columns in another order, one that nobody asked for.
#[test]
fn a_table_becomes_a_site_with_findings_to_work_off() {
    let root = tempfile::tempdir().unwrap();
    let root = root.path();
    let long = "very ".repeat(40).trim_end().to_owned() + "!";
    let table = format!(
        "\u{feff}Kind ;Opening; Remarks;ZONE;Room\r\n\
         door;\"Front \"\"oak\"\" door\";old;1;Hall\r\n\
         Door;Back door, kitchen;;2;Küche\r\n\
         window;Window;;3 Kitchen windows;Küche\r\n\
         window;Window;;zone 3;Küche\r\n\
         windows;Window;;Z3;Küche\r\n\
         window;Fenster Ost;;Upstairs;Größe & Ähnliches\r\n\
         window;{long};;upstairs;Bath \\ WC\r\n\
         skylight;Roof light;;;Attic\r\n\
         roller-door;Roller door;;9;Garage\r\n\
         motion;Motion, hall;;4;Hall\r\n\
         PIR;;;10;Garage\r\n\
         glass break;Glass, kitchen;;11;Küche\r\n\
         smoke;Smoke, hall;;12;Hall\r\n\
         smoke;Smoke, attic;;12;Attic\r\n\
         heat;Heat, garage;;13;Garage\r\n\
         CO;Boiler;;14;Küche\r\n\
         water;Under the sink;;15;Küche\r\n\
         panic button;Bedside;;16;Bedroom\r\n\
         ;;;;\r\n\
         door;Cellar door;;17;Cellar\r\n\
         window;=1+1;;18;Cellar\r\n"
    );
    fs::write(root.join("openings.csv"), table).unwrap();
    let (code, out, err) = run(root, &["new", "mill", "--from", "openings.csv"]);
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    let folder = root.join("mill");
    assert_eq!(
        run(&folder, &["fmt", "--check", "."]),
        (0, "nothing to change, 12 as they should be\n".into(), String::new())
    );
    let made = files(&folder.join("specs/mill"));
    assert_eq!(made.keys().collect::<Vec<_>>(), ["boards.kdl", "places.kdl", "site.kdl", "zones.kdl"]);
    for piece in [
        "door \"front-oak-door\" title=\"Front \\\"oak\\\" door\"",
        "window \"window-3\" title=\"Window\"",
        "room \"bath-wc\" title=\"Bath \\\\ WC\"",
        &long,
    ] {
        assert!(made["places.kdl"].contains(piece), "{piece}:\n{}", made["places.kdl"]);
    }
    for piece in [
        "zone 3 \"Kitchen windows\" type=\"perimeter\"",
        "zone 5 \"Upstairs\"",
        "zone 1 \"Front \\\"oak\\\" door\" type=\"entry-exit\"",
    ] {
        assert!(made["zones.kdl"].contains(piece), "{piece}:\n{}", made["zones.kdl"]);
    }
    // The only errors: each run asks for its length.
    let runs = made["zones.kdl"].matches("run \"").count() + made["boards.kdl"].matches("run \"").count();
    let errors: Vec<_> = findings(&folder, "specs").into_iter().filter(|found| found.0 == "error").collect();
    assert_eq!(errors, vec![("error".to_owned(), "property-missing".to_owned()); runs]);
    assert_eq!(made["places.kdl"].matches("\n        ").count(), 11, "openings");
    assert!(made["site.kdl"].contains("site \"mill\" title=\"Mill\""), "{}", made["site.kdl"]);

    // With the lengths it compiles, and what is left is advice: the opening without a zone among it.
    measure(&folder.join("specs/mill"));
    let left = findings(&folder, "specs");
    assert!(left.iter().all(|found| found.0 != "error"), "{left:?}");
    assert!(left.iter().any(|found| found.1 == "opening-unwatched"), "{left:?}");
    assert_eq!(run(&folder, &["compile", "specs"]).0, 0);
}

/// Gives every run that a table left without one a length.
fn measure(site: &Path) {
    for (path, text) in files(site) {
        let measured = |line: &str| match line.trim_start().strip_prefix("run \"") {
            Some(_) => line.replace(" {\n", " length=(ft)30 {\n"),
            None => line.to_owned(),
        };
        fs::write(site.join(path), text.split_inclusive('\n').map(measured).collect::<String>()).unwrap();
    }
}

/// A house that has its alarm already: the table goes by the panel's inputs, and says more than is read.
#[test]
fn zones_keep_their_inputs_and_get_their_rooms_and_other_columns_are_named() {
    let root = tempfile::tempdir().unwrap();
    let table = "Zone;Room;Opening;Kind;Length;Remark;Resistor\n1;Hall;Front door;door;24;;end\n3;Kitchen;Window;window;31;;end\n\
                 3;Kitchen;Window;window;9;;\n8;Lounge;Left;window;9;;\n12;Study;Left;window;9;;\n17;attic;Roof light, attic;hatch;9;;\n\
                 17;ATTIC;Loft hatch;hatch;9;;\n";
    fs::write(root.path().join("t.csv"), table).unwrap();
    let (code, out, err) = run(root.path(), &["new", "mill", "--from", "t.csv"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("\nNot read from the table: length and resistor. "), "{out}");
    // With a unit in the heading or behind each number the lengths are read, and so is what is there already.
    let told = table.replace("Length;Remark", "Length (m);Existing").replace("door;24;;", "door;24,5 ft;x;");
    fs::write(root.path().join("told.csv"), told).unwrap();
    let (_, out, _) = run(root.path(), &["new", "told", "--from", "told.csv"]);
    assert!(out.contains("\nNot read from the table: resistor. "), "{out}");
    let zones = &files(&root.path().join("told/specs/told"))["zones.kdl"];
    for wanted in ["run \"station-2\" length=(ft)24.5 existing=#true {", "run \"station-2\" length=(m)31 {"] {
        assert!(zones.contains(wanted), "{zones}");
    }
    // So are resistors and inputs, one of each to a loop.
    let wired = "zone,room,opening,kind,resistor,input\n1,Hall,Front door,door,4k7,3\n2,Hall,Window,window,2.2 k,\n3,Hall,Left,window,,1\n";
    fs::write(root.path().join("wired.csv"), wired).unwrap();
    let (_, out, _) = run(root.path(), &["new", "wired", "--from", "wired.csv"]);
    assert!(!out.contains("Not read"), "{out}");
    let zones = &files(&root.path().join("wired/specs/wired"))["zones.kdl"];
    for wanted in ["\"main\" input=3 {", "\"main\" input=1 {", "\"main\" {", "resistor \"4k7\"", "(ohm)2200", "\"2k2\""]
    {
        assert_eq!(zones.matches(wanted).count(), 1, "{wanted}: {zones}");
    }
    fs::write(root.path().join("twice.csv"), wired.replace(",,1", ",,3")).unwrap();
    let (code, _, err) = run(root.path(), &["new", "twice", "--from", "twice.csv"]);
    assert!(code == 2 && err.contains("zones 1 and 3 are both on input 3"), "{err}");
    let site = root.path().join("mill/specs/mill");
    let zones = &files(&site)["zones.kdl"];
    // "attic" and "ATTIC" are one room.
    assert_eq!(files(&site)["places.kdl"].matches("room \"attic").count(), 1);
    for (zone, input) in [
        ("zone 1 \"Front door\"", " input=1"),
        ("zone 3 \"Kitchen window and 1 more\"", " input=3"),
        ("zone 8 \"Left, Lounge\"", " input=8"),
        ("zone 12 \"Left, Study\"", " input=12"),
        ("zone 17 \"Roof light, attic and 1 more\"", ""),
    ] {
        let at = zones.find(zone).unwrap_or_else(|| panic!("{zone}:\n{zones}"));
        let line = zones[at..].lines().nth(1).unwrap();
        assert_eq!(line, format!("    loop \"end-of-line\" board=\"main\"{input} {{"));
    }
    measure(&site);
    let found = findings(root.path(), "mill");
    assert!(found.iter().all(|found| found.0 != "error"), "{found:?}");
    assert_eq!(run(root.path(), &["fmt", "--check", "mill"]).0, 0);
}

/// More zones than the panel has inputs.
/// Two windows of one room that nobody named are two zones, and no two lines of the service's form read alike.
#[test]
fn zones_that_are_called_alike_are_numbered() {
    let root = tempfile::tempdir().unwrap();
    let table = "zone,room,opening,kind\n1,Living,window,window\n2,Living,window,window\n3,Hall,Front door,door\n";
    fs::write(root.path().join("t.csv"), table).unwrap();
    assert_eq!(run(root.path(), &["new", "mill", "--from", "t.csv"]).0, 0);
    let site = root.path().join("mill/specs/mill");
    let zones = files(&site)["zones.kdl"].clone();
    assert!(zones.contains("\"Living window\"") && zones.contains("\"Living window 2\""), "{zones}");
    measure(&site);
    assert!(findings(root.path(), "mill").iter().all(|found| found.0 != "error"));
}

#[test]
fn a_long_table_gets_expanders() {
    let root = tempfile::tempdir().unwrap();
    let kind = |zone| if zone > 33 { "motion" } else { "window" };
    let rows: String = (1..=41).map(|zone| format!("{zone},Room {},Thing {zone},{}\n", zone % 5, kind(zone))).collect();
    fs::write(root.path().join("t.csv"), format!("zone,room,opening,kind\n{rows}")).unwrap();
    assert_eq!(run(root.path(), &["new", "mill", "--from", "t.csv"]).0, 0);
    let site = root.path().join("mill/specs/mill");
    measure(&site);
    assert_eq!(files(&site)["boards.kdl"].matches("module ").count(), 3);
    let found = findings(root.path(), "mill");
    assert!(found.iter().all(|found| found.0 != "error"), "{found:?}");
    assert_eq!(run(root.path(), &["fmt", "--check", "mill"]).0, 0);
}

#[test]
fn a_bad_table_is_told_by_lines_and_nothing_is_written() {
    let root = tempfile::tempdir().unwrap();
    let root = root.path();
    let cases: [(&[u8], &[&str]); 14] = [
        (b"", &["t.csv:1: no column is headed zone, room, opening or kind"]),
        (b"zone,room,kind\n1,Hall,door\n", &["t.csv:1: no column is headed opening; the first line must have"]),
        // A comma in a cell that is in no quotes would put what follows into a wrong column.
        (
            b"zone,room,opening,kind\n1,Hall, by the stair,Door,door\n2,Hall,Window,window\n,,,,,,\n",
            &["t.csv:2: it has 5 cells and the first line has 4: put a cell in quotes that holds a comma"],
        ),
        // Its last cell is empty, and the length is not 3 and the resistor not 5.
        (
            b"zone,room,opening,kind,length (m),resistor\n1,Hall,Door,door,3,5,\n",
            &["t.csv:2: it has 7 cells and the first line has 6: put a cell in quotes that holds a comma"],
        ),
        (
            b"zone,room,opening,kind\n1,Hall,Door,door\n2,\"Hall,Door,door\n3,Hall,Door,door\n",
            &["t.csv:3: a cell begins with a quotation mark, and no other one closes it"],
        ),
        // Line ends of old, a blank first line, and a line that says what parts the cells.
        (
            b"\rsep=;\rzone;room;opening;kind\r1;Hall;Door;door\r2;;Door;door\r",
            &["t.csv:5: the room is empty"],
        ),
        (b"zone;room;zone;opening;kind\n1;Hall;2;Door;door\n", &["t.csv:1: two columns are headed zone"]),
        (b"zone,room,opening,kind\n", &["t.csv: nothing stands below its headings"]),
        (b"PK\x03\x04\xff\xfe", &["t.csv: it is not UTF-8 text: save it as CSV"]),
        (
            b"zone,room,opening,kind\n1,,Door,door\n1,Hall,,door\n1,Hall,Door,portcullis\n1,Hall,Door\n",
            &[
                "t.csv:2: the room is empty",
                "t.csv:3: the opening is empty",
                "t.csv:4: \"portcullis\" is no kind that is known: write door, window, hatch,",
                "t.csv:5: the kind is empty: write door,",
            ],
        ),
        (b"zone,room,opening,kind\n0,Hall,Door,door\n1000,Hall,Door,door\n", &["t.csv:2: 0 is no number of a zone", "t.csv:3: 1000 is"]),
        (
            b"zone,room,opening,kind\n1,Hall,Door,door\n\n1,Hall,Smoke,smoke\n",
            &["t.csv:4: a zone reports one thing, and zone 1 has \"door\" in line 2 and \"smoke\" here: give each its own"],
        ),
        (b"zone,room,opening,kind\n1,Hall,\"Do\x07or\",door\n", &["t.csv:2: a cell holds a character that cannot be seen"]),
        (b"zone,room,opening,kind\n\"a zone whose description has far more characters than the form of the service\",Hall,Door,door\n", &["t.csv:2: the zone's description has"]),
    ];
    for (bytes, says) in cases {
        fs::write(root.join("t.csv"), bytes).unwrap();
        let (code, out, err) = run(root, &["new", "mill", "--from", "t.csv"]);
        assert_eq!((code, out.as_str()), (2, ""), "{err}");
        for line in says {
            assert!(err.contains(&format!("error: {line}")), "{line}: {err}");
        }
        assert_eq!(err.matches("error: ").count(), says.len(), "{err}");
        assert!(err.ends_with("nothing has been written\n"), "{err}");
        assert_eq!(files(root).keys().collect::<Vec<_>>(), ["t.csv"]);
    }
    let long = format!("zone,room,opening,kind\n1,Hall,{},door\n", "x".repeat(201));
    fs::write(root.join("t.csv"), long).unwrap();
    assert!(
        run(root, &["new", "mill", "--from", "t.csv"])
            .2
            .contains("the opening has 201 characters, and at most 200 fit")
    );
    assert!(
        run(root, &["new", "mill", "--from", "gone.csv"]).2.starts_with("error: cannot read gone.csv: no such file")
    );
}
