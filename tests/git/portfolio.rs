//! Many sites held against a revision.

use serde_json::Value;

use super::repository::{COTTAGE, Repository};

/// What is told of each site: its folder, and what changed.
fn changed(repository: &Repository, since: &str) -> Vec<(String, String)> {
    let run = repository.run(repository.top(), &["portfolio", "specs", "--since", since, "--format", "json"]);
    let rows: Value = serde_json::from_slice(&run.stdout).unwrap_or_else(|error| panic!("{error}: {run:?}"));
    let text = |row: &Value, column: &str| row[column].as_str().unwrap().to_owned();
    rows.as_array().unwrap().iter().map(|row| (text(row, "folder"), text(row, "changed"))).collect()
}

#[test]
fn what_changed_is_counted_as_a_comparison_tells_it() {
    let repository = Repository::with_cottage("specs/cottage");
    repository.write("specs/shed/site.kdl", "site \"shed\"\n");
    repository.write("specs/sold/site.kdl", "site \"sold\"\n");
    repository.write("specs/sold/below/site.kdl", "site \"below\"\n");
    repository.write("specs/.hidden/site.kdl", "site \"hidden\"\n");
    repository.run(repository.top(), &["compile", "specs", "--out", "out"]);
    repository.commit("Two more");
    repository.git(&["tag", "v2"]);
    let told = |cottage: &str, shed: &str| {
        vec![("specs/cottage".to_owned(), cottage.to_owned()), ("specs/shed".to_owned(), shed.to_owned())]
    };
    repository.git(&["rm", "--quiet", "-r", "specs/sold", "specs/.hidden"]);
    assert_eq!(changed(&repository, "v2"), told("no change", "no change"));
    assert_eq!(changed(&repository, "v1"), told("no change", "new"));

    // Other text, the same site.
    repository.write("specs/shed/site.kdl", "site   \"shed\"   // for tools\n");
    repository.edit("specs/cottage/zones.kdl", "length=(ft)24", "length=(ft)31");
    repository.edit(
        "specs/cottage/site.kdl",
        "    room \"closet\"",
        "    room \"attic\" title=\"Attic\"\n    room \"closet\"",
    );
    repository.edit("specs/cottage/site.kdl", "        window \"hall-window\" title=\"Hall window\"\n", "");
    repository.edit("specs/cottage/zones.kdl", " on=\"hall-window\"", "");
    let compared = repository.run(repository.top(), &["diff", "v2", "specs/cottage"]);
    let compared = String::from_utf8(compared.stdout).unwrap();
    let marks = ["+ ", "- ", "~ "].map(|mark| compared.lines().filter(|line| line.starts_with(mark)).count());
    assert!(marks.iter().all(|number| *number > 0), "{compared}");
    let [added, removed, altered] = marks;
    let cottage = format!("{added} added, {removed} removed, {altered} altered");
    assert_eq!(changed(&repository, "v2"), told(&cottage, "no change"));

    repository.write("specs/shed/site.kdl", "site {{{\n");
    assert_eq!(changed(&repository, "v2"), told(&cottage, "cannot be compared"));
    let run = repository.run(repository.top(), &["portfolio", "specs", "--since", "v2"]);
    let said = String::from_utf8(run.stdout).unwrap();
    assert!(said.ends_with("\n1 site is gone since then: specs/sold.\n"), "{said}");
    // Where a program reads the lines it is told beside them, of shares in the first alone.
    let beside = |more: &[&str]| {
        let run = repository.run(repository.top(), &[&["portfolio", "specs", "--since", "v2"], more].concat());
        String::from_utf8(run.stderr).unwrap()
    };
    let told = "note: 1 site is gone since then: specs/sold.\n";
    assert_eq!(beside(&["--csv"]), told);
    assert_eq!(beside(&["--format", "json"]), told);
    assert_eq!(beside(&["--csv", "--shard", "1/2"]), told);
    assert_eq!(beside(&["--csv", "--shard", "2/2"]), "");
    let page = repository.run(repository.top(), &["portfolio", "specs", "--since", "v2", "--html"]);
    let page = String::from_utf8(page.stdout).unwrap();
    assert!(page.contains("1 site is gone since then: specs/sold.") && page.contains(&cottage), "{page}");
}

#[test]
fn a_revision_that_is_none_is_told() {
    let repository = Repository::with_cottage("cottage");
    repository.write("cottage/site.kdl", &COTTAGE.replace("Cottage", "House"));
    for (since, expected) in [
        ("v9", "error: there is no revision v9 in the repository"),
        ("HEAD:cottage", "error: HEAD:cottage names a path"),
        ("v1..HEAD", "error: v1..HEAD names two revisions"),
    ] {
        let run = repository.run(repository.top(), &["portfolio", ".", "--since", since]);
        let said = String::from_utf8(run.stderr).unwrap();
        assert!(run.status.code() == Some(2) && run.stdout.is_empty() && said.starts_with(expected), "{since}: {said}");
    }
}
