//! Partial clones: what git cannot give is said, and never taken for a file that is not there.

use std::path::{Path, PathBuf};

use super::repository::Repository;

/// A clone without the contents (or the trees) of earlier revisions: `v1` has no zones here, `HEAD` is whole.
fn clone(filter: &str) -> (Repository, PathBuf) {
    let repository = Repository::with_cottage("specs/cottage");
    repository.edit("specs/cottage/zones.kdl", "length=(ft)24", "length=(ft)31");
    repository.commit("A longer cable");
    repository.git(&["config", "uploadpack.allowFilter", "true"]);
    let clone = repository.place().join("partial");
    let from = format!("file://{}", repository.top().display());
    repository.git(&["clone", "--quiet", &format!("--filter={filter}"), &from, clone.to_str().unwrap()]);
    (repository, clone)
}

fn refused(repository: &Repository, folder: &Path, arguments: &[&str]) -> String {
    let run = repository.run(folder, arguments);
    assert_eq!(run.status.code(), Some(2), "{arguments:?}: {}", String::from_utf8_lossy(&run.stdout));
    assert_eq!(String::from_utf8_lossy(&run.stdout), "", "{arguments:?}");
    String::from_utf8(run.stderr).unwrap()
}

const FETCH: &str = "`git archive --output=/dev/null v1` fetches what a partial clone lacks";

#[test]
fn a_file_that_the_clone_lacks_stops_the_comparison() {
    let (repository, clone) = clone("blob:none");
    for arguments in [&["diff", "v1", "specs/cottage"][..], &["diff", "v1..HEAD", "specs/cottage", "--as", "json"]] {
        let complaint = refused(&repository, &clone, arguments);
        let said = "error: cannot read v1:specs/cottage/zones.kdl: this clone does not hold it\n";
        assert!(complaint.starts_with(said) && complaint.contains(FETCH), "{complaint}");
    }
    let since = ["compile", "specs/cottage", "--since", "v1"];
    assert!(refused(&repository, &clone, &since).contains("cannot read v1:specs/cottage/zones.kdl"));
    assert!(!clone.join("out").exists() && !clone.join("specs/cottage/register.kdl").exists());

    // What is there is compared, and the help works.
    assert_eq!(repository.diff_in(&clone, &["specs/cottage"]), "cottage: nothing differs\n");
    repository.git_in(&clone, &["archive", "--output=/dev/null", "v1"]);
    let found = repository.diff_in(&clone, &["v1", "specs/cottage"]);
    assert!(found.ends_with("~ cable Z1: length 24 ft → 31 ft\n"), "{found}");
}

#[test]
fn a_folder_that_the_clone_lacks_stops_the_comparison() {
    let (repository, clone) = clone("tree:0");
    let complaint = refused(&repository, &clone, &["diff", "v1", "specs/cottage"]);
    assert!(
        complaint
            .starts_with("error: v1 cannot be read: it is no commit, or this clone does not hold its list of files\n"),
        "{complaint}"
    );
    assert!(complaint.contains(FETCH), "{complaint}");
    repository.git_in(&clone, &["archive", "--output=/dev/null", "v1"]);
    assert!(repository.diff_in(&clone, &["v1", "specs/cottage"]).contains("24 ft → 31 ft"));
}

/// A site has other files as well: large photos that were left out of the clone are in nobody's way.
#[test]
fn what_no_spec_includes_may_be_absent() {
    let repository = Repository::with_cottage("specs/cottage");
    repository.write("specs/cottage/photo.raw", &"x".repeat(100_000));
    repository.commit("A photo");
    repository.git(&["rm", "--quiet", "specs/cottage/photo.raw"]);
    repository.commit("No photo");
    repository.git(&["config", "uploadpack.allowFilter", "true"]);
    let clone = repository.place().join("partial");
    let from = format!("file://{}", repository.top().display());
    repository.git(&["clone", "--quiet", "--filter=blob:limit=50k", &from, clone.to_str().unwrap()]);
    assert_eq!(repository.diff_in(&clone, &["HEAD~1", "specs/cottage"]), "cottage: nothing differs\n");
}

/// A repository that has lost an object says the same.
#[test]
fn an_object_that_is_gone_is_said() {
    let repository = Repository::with_cottage("specs/cottage");
    repository.edit("specs/cottage/zones.kdl", "length=(ft)24", "length=(ft)31");
    repository.commit("A longer cable");
    let object = repository.git(&["rev-parse", "v1:specs/cottage/zones.kdl"]);
    let (folder, file) = object.trim().split_at(2);
    std::fs::remove_file(repository.top().join(".git/objects").join(folder).join(file)).unwrap();
    let complaint = refused(&repository, repository.top(), &["diff", "v1", "specs/cottage"]);
    assert!(complaint.starts_with("error: cannot read v1:specs/cottage/zones.kdl: "), "{complaint}");
    assert!(complaint.contains("`git fsck` finds damage"), "{complaint}");
}
