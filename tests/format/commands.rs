//! The command: files, folders and input; what it writes, what it leaves alone, and how it says so.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn run(folder: &Path, arguments: &[&str], input: &[u8]) -> (i32, String, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_loopwright"))
        .args(arguments)
        .current_dir(folder)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(input).unwrap();
    let Output { status, stdout, stderr } = child.wait_with_output().unwrap();
    (status.code().unwrap(), String::from_utf8(stdout).unwrap(), String::from_utf8(stderr).unwrap())
}

fn fmt(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    run(folder, &[&["fmt"], arguments].concat(), b"")
}

/// A site with includes, its own and shared, and a file that belongs to nothing.
fn site() -> tempfile::TempDir {
    let root = tempfile::tempdir().unwrap();
    for (path, text) in [
        ("specs/mill/site.kdl", "site  \"mill\"\ninclude \"a.kdl\"\ninclude \"../parts/p.kdl\"\n"),
        ("specs/mill/a.kdl", "area  \"a\"\n"),
        ("specs/mill/register.kdl", "// kept\nregister   version=1\n"),
        ("specs/mill/not-included.kdl", "area  \"b\"\n"),
        ("specs/parts/p.kdl", "part  \"p\"\n"),
    ] {
        let path = root.path().join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    root
}

fn read(root: &Path, path: &str) -> String {
    fs::read_to_string(root.join(path)).unwrap()
}

#[test]
fn a_folder_means_its_sites_with_all_they_are_made_of() {
    let root = site();
    let root = root.path();
    let (code, out, _) = fmt(root, &["--check", "specs", "specs/mill/a.kdl"]);
    assert_eq!(code, 1);
    assert!(out.contains("specs/mill/a.kdl\n    1 - area  \"a\"\n    1 + area \"a\"\n"), "{out}");
    assert!(out.ends_with("4 files would change\n"), "{out}");
    assert_eq!(read(root, "specs/mill/a.kdl"), "area  \"a\"\n", "--check has written");

    let (code, out, err) = fmt(root, &["specs"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let named = "specs/parts/p.kdl\nspecs/mill/a.kdl\nspecs/mill/site.kdl\nspecs/mill/register.kdl\n4 files laid out\n";
    assert_eq!(out, named);
    assert_eq!(read(root, "specs/mill/a.kdl"), "area \"a\"\n");
    assert_eq!(read(root, "specs/mill/not-included.kdl"), "area  \"b\"\n");
    assert_eq!(read(root, "specs/mill/register.kdl"), "// kept\nregister version=1\n");
    assert_eq!(fmt(root, &["--check", "specs"]), (0, "nothing to change, 4 as they should be\n".into(), String::new()));
    let left: Vec<_> = fs::read_dir(root.join("specs/mill")).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(left.len(), 4, "{left:?}");
}

#[test]
fn the_input_goes_to_the_output() {
    let root = tempfile::tempdir().unwrap();
    let input = "\u{feff}a   1\r\n\t b  38\"\r\nc {\rd }";
    let (code, out, err) = run(root.path(), &["fmt", "-"], input.as_bytes());
    assert_eq!((code, out.as_str()), (0, "a 1\n\t b  38\"\r\nc {\n    d\n}\n"));
    assert_eq!(err, "the input:2: not understood, so its lines stay as they are\n");
    let (code, out, _) = run(root.path(), &["fmt", "--check", "-"], "\u{feff}a 1\n".as_bytes());
    assert_eq!((code, out.as_str()), (1, "the input\n      the byte-order mark at its start would go\n"));
    assert_eq!(run(root.path(), &["fmt", "--check", "-"], b"a 1\n"), (0, String::new(), String::new()));
    assert_eq!(run(root.path(), &["fmt", "-", "x"], b"").0, 2);
    assert_eq!(run(root.path(), &["fmt"], b"").0, 2);
}

#[test]
fn what_cannot_be_laid_out_is_left_alone_and_named() {
    let root = tempfile::tempdir().unwrap();
    let root = root.path();
    fs::write(root.join("latin.kdl"), b"a \"\xe9\"\n").unwrap();
    fs::write(root.join("good.kdl"), "a  1").unwrap();
    let (code, out, err) = fmt(root, &["latin.kdl", "missing.kdl", "good.kdl"]);
    assert_eq!(code, 2);
    assert_eq!(out, "good.kdl\n1 file laid out, 2 left alone\n");
    assert!(err.contains("cannot read missing.kdl: no such file"), "{err}");
    assert!(err.contains("latin.kdl is left alone: byte 3 (line 1) is not UTF-8 text\n  help: "), "{err}");
    assert_eq!(fs::read(root.join("latin.kdl")).unwrap(), b"a \"\xe9\"\n");
    assert_eq!(fmt(root, &["latin.kdl"]).0, 1);
    assert!(fmt(root, &["."]).2.starts_with("error: no site in ."));
}

#[cfg(unix)]
#[test]
fn rights_and_links_stay() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let root = tempfile::tempdir().unwrap();
    let (root, file) = (root.path(), root.path().join("a.kdl"));
    fs::write(&file, "a  1").unwrap();
    fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).unwrap();
    symlink("a.kdl", root.join("link.kdl")).unwrap();
    assert_eq!(fmt(root, &["link.kdl", "a.kdl"]).1, "link.kdl\n1 file laid out\n");
    assert_eq!(read(root, "a.kdl"), "a 1\n");
    assert!(fs::symlink_metadata(root.join("link.kdl")).unwrap().is_symlink());
    assert_eq!(fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o640);

    fs::write(&file, "a  1").unwrap();
    fs::set_permissions(&file, fs::Permissions::from_mode(0o440)).unwrap();
    let (code, _, err) = fmt(root, &["a.kdl"]);
    assert_eq!((code, err.ends_with("a.kdl is read-only\n")), (2, true), "{err}");

    // A site whose include leads out of it: nothing there is written.
    fs::create_dir(root.join("mill")).unwrap();
    fs::write(root.join("mill/site.kdl"), "include \"out.kdl\"\n").unwrap();
    fs::write(root.join("secret.kdl"), "a  1").unwrap();
    symlink(root.join("secret.kdl"), root.join("mill/out.kdl")).unwrap();
    let (code, _, err) = fmt(root, &["mill"]);
    assert_eq!((code, read(root, "secret.kdl").as_str()), (2, "a  1"), "{err}");
    assert!(err.contains("a link in its path leads out of the site's folder"), "{err}");
}

/// A register that somebody has laid out otherwise is accepted, and `compile` keeps its bytes.
#[test]
fn a_register_that_was_laid_out_is_kept() {
    let root = tempfile::tempdir().unwrap();
    let root = root.path();
    for folder in ["garden-flat", "parts"] {
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs").join(folder);
        fs::create_dir(root.join(folder)).unwrap();
        for entry in fs::read_dir(from).unwrap().map(Result::unwrap) {
            fs::copy(entry.path(), root.join(folder).join(entry.file_name())).unwrap();
        }
    }
    let register = root.join("garden-flat/register.kdl");
    let neat = fs::read_to_string(&register).unwrap();
    // By hand: columns, remarks, steps of a tab.
    let by_hand = neat.replace("\n    wire ", "\n\twire  ").replacen("\nlabel", "\n\n\n// pulled by two\nlabel", 1);
    let by_hand = by_hand.replacen("near=", "near =   ", 1);
    fs::write(&register, &by_hand).unwrap();
    assert_eq!(run(root, &["compile", "garden-flat", "--frozen", "--format", "short"], b"").0, 0);
    assert_eq!(fmt(root, &["garden-flat/register.kdl"]).0, 0);
    let formatted = fs::read_to_string(&register).unwrap();
    assert_eq!(formatted, neat.replacen("\nlabel", "\n// pulled by two\nlabel", 1));
    assert_eq!(run(root, &["compile", "garden-flat", "--format", "short"], b"").0, 0);
    assert_eq!(fs::read_to_string(&register).unwrap(), formatted);
    // One more zone: only its lines are new, and all is still as it would be laid out.
    let site = root.join("garden-flat/site.kdl");
    let zone = "\nzone 7 \"Bedroom window\" type=\"perimeter\" area=\"flat\" {\n    loop \"end-of-line\" board=\"main\" {\n        run \"station-2\" length=(m)7 room=\"bedroom\" {\n            contact \"panic-button\" title=\"Second button\"\n            resistor \"2k2\"\n        }\n    }\n}\n";
    let text = fs::read_to_string(&site).unwrap() + zone;
    fs::write(&site, text).unwrap();
    assert_eq!(run(root, &["compile", "garden-flat", "--format", "short"], b"").0, 0);
    let after = fs::read_to_string(&register).unwrap();
    assert!(after != formatted && formatted.lines().all(|line| after.contains(line)));
    assert_eq!(fmt(root, &["--check", "garden-flat"]).0, 0);
}

/// What the program itself writes needs no laying out.
#[test]
fn a_fresh_record_of_readings_is_laid_out() {
    let specs = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let (code, readings, _) = run(&specs, &["readings", "larch-bungalow", "--date", "2027-04-20"], b"");
    assert_eq!(code, 0);
    assert_eq!(run(&specs, &["fmt", "--check", "-"], readings.as_bytes()).0, 0);
}

/// What another text says by its indentation would be lost.
#[test]
fn a_file_that_is_no_spec_is_left_alone() {
    let root = tempfile::tempdir().unwrap();
    let text = "def f(x):\n    if x:\n        return 1\n";
    fs::write(root.path().join("f.py"), text).unwrap();
    let (code, _, err) = fmt(root.path(), &["f.py"]);
    assert_eq!((code, err.as_str()), (2, "error: f.py is left alone: it is no .kdl file\n"));
    assert_eq!(fs::read_to_string(root.path().join("f.py")).unwrap(), text);
}

/// Memory for a message is not taken on the word of its header.
#[test]
fn the_language_server_refuses_a_message_of_any_length() {
    let root = tempfile::tempdir().unwrap();
    let (code, out, err) = run(root.path(), &["lsp"], b"Content-Length: 99999999999999\r\n\r\nx");
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.starts_with("a message that is none: it is longer than 64 MiB\n"), "{err}");
    // What is no JSON, and what is none of the protocol's.
    let numbered = "{\"jsonrpc\":\"2.0\",\"id\":3,\"method\":5}";
    let halved = "{\"jsonrpc\":\"2.0\",\"id\":1.5,\"method\":\"shutdown\"}";
    let refused =
        [("no JSON", "-32700"), ("[]", "-32600"), ("[1]", "-32600"), (numbered, "-32600"), (halved, "-32600")];
    for (body, code) in refused {
        let said = format!("Content-Length: {}\r\n\r\n{body}", body.len());
        let (_, out, _) = run(root.path(), &["lsp"], said.as_bytes());
        assert!(out.contains(&format!("\"code\":{code},")) && out.contains("\"id\":null"), "{out}");
    }
}
