//! The hook and the CI job that ship, in a real repository.

use std::fs;
use std::path::Path;

use super::repository::Repository;

#[test]
fn the_hook_looks_at_what_is_staged() {
    let repository = Repository::with_cottage("specs/cottage");
    let hook = repository.top().join(".git/hooks/pre-commit");
    fs::create_dir_all(hook.parent().unwrap()).unwrap();
    fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join("specs/hooks/pre-commit"), &hook).unwrap();
    let commit = || repository.try_git(repository.top(), &["commit", "--quiet", "-m", "try"]);

    repository.edit("specs/cottage/zones.kdl", "input=2", "input=1");
    repository.git(&["add", "specs"]);
    let refused = commit();
    assert!(!refused.status.success());
    let said = [refused.stdout, refused.stderr].concat();
    let said = String::from_utf8_lossy(&said);
    assert!(said.contains("specs/cottage/zones.kdl:") && said.contains("[input-used-twice]"), "{said}");

    // Remedied on the disk only: what is staged is still wrong.
    repository.edit(
        "specs/cottage/zones.kdl",
        "input=1 {\n        run \"station-2\" length=(ft)30",
        "input=2 {\n        run \"station-2\" length=(ft)30",
    );
    assert!(!commit().status.success());
    repository.edit("specs/cottage/zones.kdl", "length=(ft)30", "length=(ft)36");
    repository.git(&["add", "specs"]);
    // Broken on the disk only: what is staged is right.
    repository.edit("specs/cottage/zones.kdl", "length=(ft)36", "length=36");
    let accepted = commit();
    assert!(accepted.status.success(), "{}", String::from_utf8_lossy(&accepted.stderr));

    repository.edit("specs/cottage/zones.kdl", "length=36", "length=(ft)36");
    repository.edit("specs/cottage/zones.kdl", "zone 2 ", "zone  2 ");
    repository.git(&["add", "specs"]);
    let refused = commit();
    let said = String::from_utf8_lossy(&[refused.stdout, refused.stderr].concat()).into_owned();
    assert!(
        !refused.status.success() && said.contains("specs/cottage/zones.kdl") && said.contains("zone  2"),
        "{said}"
    );
    // With the driver of the README such a change shows nowhere.
    repository.write(".gitattributes", "*.kdl diff=loopwright\n");
    repository.git(&["config", "diff.loopwright.textconv", "true"]);
    assert!(!commit().status.success(), "white space shows in no list");
    repository.git(&["config", "--unset", "diff.loopwright.textconv"]);
    repository.run(repository.top(), &["fmt", "specs"]);
    assert!(!commit().status.success(), "laid out on the disk only");
    repository.git(&["add", "specs"]);
    repository.edit("specs/cottage/zones.kdl", "zone 2 ", "zone  2 ");
    repository.git(&["reset", "--quiet", "--", "specs/cottage/zones.kdl"]);

    repository.write("notes.txt", "no spec");
    repository.git(&["add", "notes.txt"]);
    assert!(commit().status.success(), "a commit without specs is none of its business");

    repository.git(&["rm", "--quiet", "--force", "-r", "specs/cottage"]);
    let accepted = commit();
    assert!(accepted.status.success(), "the last site may go: {}", String::from_utf8_lossy(&accepted.stderr));
}

#[test]
fn the_job_prints_what_a_branch_does() {
    let repository = Repository::with_cottage("specs/cottage");
    repository.git(&["switch", "--quiet", "-c", "remodel"]);
    repository.edit("specs/cottage/zones.kdl", "length=(ft)24", "length=(ft)31");
    repository.write("specs/shed/site.kdl", "site \"shed\"\n");
    repository.commit("Longer");
    let job = repository.script("ci.sh", &["main"]);
    assert_eq!(job.status.code(), Some(1), "the register is not committed");
    assert!(String::from_utf8_lossy(&job.stdout).contains("[register-not-current]"));
    repository.run(repository.top(), &["compile", "specs", "--out", "packet"]);
    repository.git(&["add", "specs"]);
    repository.git(&["commit", "--quiet", "-m", "Register"]);
    let job = repository.script("ci.sh", &["main"]);
    let said = String::from_utf8_lossy(&job.stdout).into_owned();
    assert!(job.status.success(), "{said}{}", String::from_utf8_lossy(&job.stderr));
    assert!(said.contains("~ cable Z1: length 24 ft → 31 ft") && said.contains("specs/shed: new"), "{said}");

    repository.edit("specs/cottage/zones.kdl", "zone 2 ", "zone  2 ");
    repository.git(&["commit", "--quiet", "--all", "-m", "Loose"]);
    let job = repository.script("ci.sh", &["main"]);
    assert_eq!(job.status.code(), Some(1), "it is not laid out");
    assert!(String::from_utf8_lossy(&job.stdout).contains("zone  2"));

    repository.edit("specs/cottage/zones.kdl", "zone  2 ", "zone 2 ");
    repository.edit("specs/cottage/zones.kdl", "input=2", "input=1");
    repository.git(&["commit", "--quiet", "--all", "-m", "Wrong"]);
    assert_eq!(repository.script("ci.sh", &["main"]).status.code(), Some(1));

    repository.git(&["rm", "--quiet", "-r", "specs/cottage", "specs/shed"]);
    repository.git(&["commit", "--quiet", "-m", "Sold"]);
    let job = repository.script("ci.sh", &["main"]);
    // The shed is of this branch alone.
    let said = "specs/cottage: removed\nspecs: no sites\n";
    assert_eq!((job.status.code(), job.stdout.as_slice()), (Some(0), said.as_bytes()));
}

#[test]
fn the_shares_of_a_job_are_joined_in_one_table() {
    let repository = Repository::with_cottage("specs/cottage");
    for site in ["barn", "mill", "shed"] {
        repository.write(&format!("specs/{site}/site.kdl"), &format!("site \"{site}\" title=\"{site}, old\"\n"));
    }
    let share = |number: &str| repository.script_with("ci-share.sh", &[], &[("SHARE", number), ("SHARES", "3")]);
    let join = || repository.script_with("ci-join.sh", &[], &[("SHARES", "3")]);
    for number in ["1", "2", "3"] {
        let run = share(number);
        assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
        assert_eq!(join().status.success(), number == "3", "all shares must be there");
    }
    let whole = repository.run(repository.top(), &["portfolio", "specs", "--csv"]);
    let lines = |bytes: &[u8]| String::from_utf8_lossy(bytes).lines().map(str::to_owned).collect::<Vec<_>>();
    let (mut whole, mut joined) = (lines(&whole.stdout), lines(&join().stdout));
    assert_eq!((whole.len(), &whole[0]), (5, &joined[0]));
    whole.sort();
    joined.sort();
    assert_eq!(whole, joined);

    repository.write("specs/shed/site.kdl", "site {{{\n");
    assert_eq!(["1", "2", "3"].map(|number| share(number).status.code()), [Some(1), Some(0), Some(0)]);
    assert!(join().status.success(), "a site with errors has its line");
    for other in ["", "folder,site\r\n"] {
        repository.write("shares/2.csv", other);
        let run = join();
        assert_eq!((run.status.code(), run.stdout.as_slice()), (Some(1), b"".as_slice()));
        assert_eq!(String::from_utf8_lossy(&run.stderr), "shares/2.csv is not the table of a share\n");
    }
    let run = repository.script("ci-share.sh", &[]);
    assert!(!run.status.success() && String::from_utf8_lossy(&run.stderr).contains("the number of this share"));
}
