//! `git diff` and `git difftool` through `loopwright textconv`.

use super::repository::{Repository, ZONES};

fn configured() -> Repository {
    let repository = Repository::with_cottage("specs/cottage");
    let hooks = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("specs/hooks/gitattributes");
    repository.write(".gitattributes", &std::fs::read_to_string(hooks).unwrap());
    repository.git(&["config", "diff.loopwright.textconv", "loopwright textconv"]);
    repository.git(&["config", "difftool.loopwright.cmd", "loopwright textconv \"$LOCAL\" \"$REMOTE\""]);
    repository.commit("Attributes");
    repository
}

#[test]
fn git_diff_shows_what_is_said_and_not_how_it_is_laid_out() {
    let repository = configured();
    // Other order, other spacing, other way of writing, a comment: nothing is said otherwise.
    let (one, two) = ZONES.split_once("zone 2").unwrap();
    let other = format!(
        "// turned round\nzone 2{two}\n\n{}",
        one.replace("length=(ft)24", "length = (ft)24.0").replace("    ", "\t")
    );
    repository.write("specs/cottage/zones.kdl", &other.replace("length = ", "length="));
    let diff = repository.git(&["diff", "--", "specs/cottage"]);
    assert_eq!(diff.matches("\n@@").count(), 0, "{diff}");

    repository.edit("specs/cottage/zones.kdl", "length=(ft)30", "length=(ft)36");
    let diff = repository.git(&["diff", "--", "specs/cottage"]);
    assert!(diff.contains("-    run station-2: length 30 ft\n+    run station-2: length 36 ft\n"), "{diff}");
    assert!(diff.contains(" zone 2 “Hall window”: type perimeter, area cottage\n"), "{diff}");
    let log = repository.git(&["log", "-p", "--all", "--", "specs/cottage/zones.kdl"]);
    assert!(log.contains("+zone 1 “Front door”: type entry-exit, area cottage\n"), "{log}");
}

#[test]
fn git_difftool_shows_the_zones_that_differ() {
    let repository = configured();
    repository.edit("specs/cottage/zones.kdl", "length=(ft)30", "length=(ft)36");
    repository.git(&["rm", "--quiet", "--cached", "specs/parts/sounders.kdl"]);
    let shown = repository.git(&["difftool", "--no-prompt", "--tool=loopwright", "--", "specs/cottage"]);
    assert_eq!(shown, "zone 2\n-     run station-2: length 30 ft\n+     run station-2: length 36 ft\n");
    let gone = repository.git(&["difftool", "--cached", "--no-prompt", "--tool=loopwright"]);
    assert!(gone.contains("- part ") && !gone.contains("+ "), "{gone}");
}

#[test]
fn a_broken_or_foreign_file_is_shown_as_far_as_it_goes() {
    let repository = Repository::new();
    let textconv = |bytes: &[u8]| {
        std::fs::write(repository.top().join("x.kdl"), bytes).unwrap();
        let run = repository.run(repository.top(), &["textconv", "x.kdl"]);
        assert_eq!(run.status.code(), Some(0));
        assert_eq!(String::from_utf8_lossy(&run.stderr), "");
        String::from_utf8(run.stdout).unwrap()
    };
    assert_eq!(textconv(b""), "");
    assert_eq!(textconv(b"zone 1 \"A\"\nzone 2 = {\nroom \"r\"\n}\n").lines().next(), Some("zone 1 A"));
    assert!(textconv(b"zone 2 type=\nroom \"r\"\n").contains("not understood: zone 2 type="));
    let wide: Vec<u8> = "site \"x\"\nlevel \"y\"\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
    assert_eq!(textconv(&wide).lines().count(), 1);
    assert!(textconv(&wide).contains("UTF-16"));
    assert!(!textconv(b"note \"the duress code is 4711\"\n").contains("4711"));
    assert!(textconv(&vec![b'\n'; 1024 * 1024 + 1]).contains("larger than 1 MiB"));
    assert!(textconv("zone 1 \"a\u{1b}[2Jb\"\n".as_bytes()).contains('␛'));
    let gone = repository.run(repository.top(), &["textconv", "gone.kdl"]);
    assert_eq!(gone.status.code(), Some(2));
}

#[test]
fn an_unfinished_merge_is_told_first() {
    let text = "site \"x\"\n<<<<<<< ours\nlevel \"a\"\n=======\nlevel \"b\"\n>>>>>>> theirs\n";
    let list = loopwright::session::textconv(text.into());
    assert!(list.starts_with("not understood: the file holds an unfinished merge\n"), "{list}");
    assert_eq!(
        list,
        "not understood: the file holds an unfinished merge\n<<<<<<<\nlevel a\n=======\n>>>>>>>\nsite x\n<<<<<<<\n=======\nlevel b\n>>>>>>>\n"
    );
    // Only what the branches have otherwise stands twice, numbers in their order.
    let zone = |metres| format!("zone 2 \"B\" {{ loop \"x\" {{ run \"y\" length=(m){metres}; }}\n}}\n");
    let text =
        format!("zone 10 \"A\"\n<<<<<<< ours\n{}||||||| old\n{}=======\n{}>>>>>>> theirs\n", zone(3), zone(2), zone(4));
    let list = loopwright::session::textconv(text.into());
    let zone = |metres| format!("zone 2 B\n  loop x\n    run y: length {metres} m\n");
    let both = format!("<<<<<<<\n{}=======\n{}>>>>>>>\nzone 10 A\n", zone(3), zone(4));
    assert_eq!(list, format!("not understood: the file holds an unfinished merge\n{both}"));
}

#[test]
fn lines_that_stand_elsewhere_differ() {
    let text =
        |inside: &str| format!("zone 3 \"Hall\" {{\n    loop \"end-of-line\" {{\n{inside}    }}\n}}\n").into_bytes();
    let (resistor, contact) = ("        resistor \"1k1\"\n", "        contact \"reed\"\n");
    let two = |old: String, new: String| loopwright::session::textconv_two(text(&old), text(&new));
    // One of two that are alike, and two that changed their places.
    let gone = two([resistor, contact, resistor].concat(), [resistor, contact].concat());
    assert_eq!(gone.lines().filter(|line| line.starts_with('-')).count(), 1, "{gone}");
    let turned = two([resistor, contact].concat(), [contact, resistor].concat());
    assert_eq!(turned.lines().filter(|line| line.starts_with(['-', '+'])).count(), 2, "{turned}");
}
