//! Revisions read by `loopwright diff`: every way of naming them, and every kind of repository.

use std::fs;
use std::path::Path;
use std::process::Command;

use super::repository::{COTTAGE, Repository, ZONES};

/// The cottage in `site` with a longer cable in a second commit, tagged `v2`.
fn two(site: &str) -> Repository {
    let repository = Repository::with_cottage(site);
    repository.edit(&format!("{site}/zones.kdl"), "length=(ft)24", "length=(ft)31");
    repository.commit("A longer cable");
    repository.git(&["tag", "-a", "v2", "-m", "second"]);
    repository
}

const LONGER: &str = "~ cable Z1: length 24 ft → 31 ft\n";

#[test]
fn every_spelling_names_the_same_two_revisions() {
    let repository = two("häuser alt/mühle eins");
    let site = "häuser alt/mühle eins";
    let wanted = repository.diff(&["v1", "v2", site]);
    assert!(wanted.ends_with(LONGER), "{wanted}");
    let (old, new) = (format!("v1:{site}"), format!("HEAD:{site}/site.kdl"));
    for arguments in [
        &["v1..v2", site][..],
        &["v1..", site],
        &["HEAD~1", site],
        &["HEAD^", "HEAD", site],
        &["main~1..main", site],
        &["v1", &format!("{site}/site.kdl")],
        &[&old, &new],
        &[&old],
    ] {
        assert_eq!(repository.diff(arguments), wanted, "{arguments:?}");
    }
    let folder = repository.top().join(site);
    for arguments in [&["v1"][..], &["v1..v2"], &["v1", "v2"], &["v1:./", "v2:./"], &["v1", "."]] {
        assert_eq!(repository.diff_in(&folder, arguments), wanted, "{arguments:?}");
    }
    assert_eq!(repository.diff(&[site]), "cottage: nothing differs\n", "the last commit against the disk");
}

#[test]
fn the_disk_is_compared_with_the_last_commit_and_left_alone() {
    let repository = two("specs/cottage");
    repository.edit("specs/cottage/zones.kdl", "length=(ft)31", "length=(ft)40");
    let before = (repository.git(&["status", "--porcelain"]), fs::read(repository.top().join(".git/index")).unwrap());
    assert!(repository.diff(&["specs/cottage"]).ends_with("~ cable Z1: length 31 ft → 40 ft\n"));
    assert!(repository.diff(&["v1", "v2", "specs/cottage"]).ends_with(LONGER), "uncommitted changes do not count");
    let after = (repository.git(&["status", "--porcelain"]), fs::read(repository.top().join(".git/index")).unwrap());
    assert_eq!(before, after);
}

#[test]
fn the_shared_parts_are_those_of_the_revision() {
    let repository = Repository::with_cottage("specs/cottage");
    repository.edit("specs/parts/contacts.kdl", "part \"reed-recessed\"", "// asked the maker\npart \"reed-recessed\"");
    repository.commit("A comment");
    assert_eq!(repository.diff(&["v1", "specs/cottage"]), "cottage: nothing differs\n");
    let text = fs::read_to_string(repository.top().join("specs/parts/contacts.kdl")).unwrap();
    fs::write(
        repository.top().join("specs/parts/contacts.kdl"),
        text.replacen("resistance=(ohm)0.", "resistance=(ohm)7.", 1),
    )
    .unwrap();
    let found = repository.diff(&["v1", "specs/cottage"]);
    assert!(found.contains("contact 1 resistance"), "{found}");
    assert_eq!(repository.diff(&["v1", "HEAD", "specs/cottage"]), "cottage: nothing differs\n");
}

#[test]
fn a_site_that_was_moved_is_compared_by_its_two_paths() {
    let repository = two("specs/cottage");
    repository.git(&["mv", "specs/cottage", "specs/seaside"]);
    repository.commit("Another name");
    let complaint = repository.complaint(repository.top(), &["v1", "specs/seaside"]);
    assert_eq!(
        complaint,
        "error: v1 has no site in specs/seaside\n  help: where the folder was called otherwise then, write REV:PATH, as HEAD~3:specs/old-name\n"
    );
    assert!(repository.diff(&["v1:specs/cottage", "HEAD:specs/seaside"]).ends_with(LONGER));
    let gone = repository.diff(&["v1:specs/cottage", "v2:specs/cottage"]);
    assert!(gone.ends_with(LONGER), "also where the folder is gone from the disk");
}

#[test]
fn branches_and_merges_are_revisions_like_others() {
    let repository = Repository::with_cottage("specs/cottage");
    repository.git(&["switch", "--quiet", "-c", "remodel"]);
    repository.edit("specs/cottage/zones.kdl", "length=(ft)24", "length=(ft)31");
    repository.commit("Longer");
    repository.git(&["switch", "--quiet", "main"]);
    repository.edit("specs/cottage/zones.kdl", "\"Hall window\"", "\"Window of the hall\"");
    repository.commit("Another description");
    let both = repository.diff(&["main..remodel", "specs/cottage"]);
    assert!(both.contains("Window of the hall → Hall window") && both.contains(LONGER.trim()), "{both}");
    repository.git(&["merge", "--quiet", "-m", "Merge", "remodel"]);
    assert!(repository.diff(&["HEAD^1", "HEAD", "specs/cottage"]).ends_with(LONGER));
    let other = repository.diff(&["HEAD^2", "HEAD", "specs/cottage"]);
    assert!(other.contains("Window of the hall") && !other.contains("length"), "{other}");
}

#[test]
fn a_linked_worktree_and_a_bare_repository_are_read() {
    let repository = two("specs/cottage");
    let linked = repository.place().join("linked tree");
    repository.git(&["worktree", "add", "--quiet", linked.to_str().unwrap(), "v1"]);
    assert!(repository.diff_in(&linked, &["v1", "v2", "specs/cottage"]).ends_with(LONGER));
    assert_eq!(repository.diff_in(&linked, &["specs/cottage"]), "cottage: nothing differs\n", "HEAD is v1 here");

    let bare = repository.place().join("bare.git");
    repository.git(&["clone", "--quiet", "--bare", ".", bare.to_str().unwrap()]);
    assert!(repository.diff_in(&bare, &["v1:specs/cottage", "v2:specs/cottage"]).ends_with(LONGER));
    assert!(repository.complaint(&bare, &["v1", "v2"]).starts_with("error: v1 has no site at the top\n"));
}

#[test]
fn a_shallow_clone_says_what_it_lacks() {
    let repository = two("specs/cottage");
    let clone = repository.place().join("shallow");
    let from = format!("file://{}", repository.top().display());
    repository.git(&["clone", "--quiet", "--depth=1", &from, clone.to_str().unwrap()]);
    assert_eq!(repository.diff_in(&clone, &["specs/cottage"]), "cottage: nothing differs\n");
    let complaint = repository.complaint(&clone, &["HEAD~1", "specs/cottage"]);
    assert!(
        complaint.contains("there is no revision HEAD~1") && complaint.contains("the clone is shallow"),
        "{complaint}"
    );
}

#[test]
fn what_cannot_be_compared_is_said() {
    let repository = two("specs/cottage");
    let complaint = |arguments: &[&str]| repository.complaint(repository.top(), arguments);
    assert!(
        complaint(&["v9", "specs/cottage"])
            .starts_with("error: there is no revision v9 in the repository, and no such path")
    );
    assert!(complaint(&[]).contains("no site at the top\n  help: name the site's folder"), "{}", complaint(&[]));
    assert!(complaint(&["HEAD~1", "specs/gone"]).starts_with("error: "));
    assert!(complaint(&["v1..v2", "v1", "specs/cottage"]).starts_with("error: two revisions or two paths"));
    assert!(complaint(&["--", "--output=stolen", "specs/cottage"]).contains("begins with a hyphen"));
    assert!(!repository.top().join("stolen").exists());

    let outside = tempfile::tempdir().unwrap();
    fs::write(outside.path().join("site.kdl"), "site \"bare\"\n").unwrap();
    let complaint = repository.complaint(outside.path(), &[]);
    assert!(complaint.contains("is in no git repository"), "{complaint}");
    assert_eq!(
        repository.diff_in(outside.path(), &[".", "."]),
        "bare: nothing differs\n",
        "two folders need no repository"
    );
}

#[test]
fn without_git_two_folders_are_still_compared() {
    let repository = two("specs/cottage");
    let run = |arguments: &[&str]| {
        Command::new(env!("CARGO_BIN_EXE_loopwright"))
            .args(arguments)
            .current_dir(repository.top())
            .env("PATH", repository.place())
            .output()
            .unwrap()
    };
    let refused = run(&["diff", "specs/cottage"]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&refused.stderr).starts_with("error: cannot run git: it is not installed"));
    assert_eq!(run(&["diff", "specs/cottage", "specs/cottage"]).status.code(), Some(0));
}

#[cfg(unix)]
#[test]
fn links_in_a_tree_stay_in_the_site() {
    let repository = Repository::with_cottage("specs/cottage");
    let zones = repository.top().join("specs/cottage/zones.kdl");
    fs::create_dir_all(repository.top().join("specs/cottage/wiring")).unwrap();
    fs::rename(&zones, repository.top().join("specs/cottage/wiring/ground.kdl")).unwrap();
    std::os::unix::fs::symlink("wiring/ground.kdl", &zones).unwrap();
    repository.commit("A link");
    assert_eq!(repository.diff(&["v1", "HEAD", "specs/cottage"]), "cottage: nothing differs\n");

    repository.write("secret.kdl", ZONES);
    fs::remove_file(&zones).unwrap();
    std::os::unix::fs::symlink("../../secret.kdl", &zones).unwrap();
    repository.commit("A link that leads out");
    let found = repository.run(repository.top(), &["diff", "v1", "HEAD", "specs/cottage"]);
    assert_eq!(found.status.code(), Some(1));
    let text = String::from_utf8(found.stdout).unwrap();
    assert!(text.contains("cannot read zones.kdl") || text.contains("not whole"), "{text}");
    assert!(text.contains("- zone 1 Front door"), "{text}");
}

#[test]
fn an_old_revision_with_errors_is_compared_as_far_as_it_goes() {
    let repository = Repository::with_cottage("specs/cottage");
    repository.edit("specs/cottage/zones.kdl", "on=\"hall-window\"", "on=\"hall-windw\"");
    repository.edit(
        "specs/cottage/zones.kdl",
        "zone 1 \"Front door\" type=\"entry-exit\"",
        "zone 1 \"Front door\" type=",
    );
    repository.commit("Broken");
    repository.write("specs/cottage/zones.kdl", ZONES);
    repository.commit("Remedied");
    let run = repository.run(repository.top(), &["diff", "HEAD~1", "HEAD", "specs/cottage"]);
    assert_eq!(run.status.code(), Some(1));
    let text = String::from_utf8(run.stdout).unwrap();
    assert!(text.contains("! The old revision (HEAD~1) is not whole"), "{text}");
    assert!(text.contains("! The old revision (HEAD~1) has an error: "), "{text}");
    assert!(text.contains("+ zone 1 Front door"), "{text}");
    // The other way round there is nothing to build from.
    let run = repository.run(repository.top(), &["diff", "HEAD", "HEAD~1", "specs/cottage", "--as", "markdown"]);
    let text = String::from_utf8(run.stdout).unwrap();
    assert!(text.contains("There are no steps") && !text.contains("- [ ]"), "{text}");

    repository.write("specs/cottage/site.kdl", "// nothing left\n");
    repository.commit("Emptied");
    let complaint = repository.complaint(repository.top(), &["HEAD", "HEAD~1", "specs/cottage"]);
    assert!(complaint.contains("HEAD cannot be compared: there is no site to be read in it"), "{complaint}");
}

#[test]
fn compile_since_marks_the_rows_and_adds_the_work_order() {
    let repository = two("specs/cottage");
    repository.edit("specs/cottage/site.kdl", "revision \"A\"", "revision \"B\"");
    let run = repository.run(repository.top(), &["compile", "specs/cottage", "--since", "v1"]);
    assert_eq!(run.status.code(), Some(0), "{}", String::from_utf8_lossy(&run.stderr));
    let read = |name: &str| fs::read_to_string(repository.top().join("out/cottage").join(name)).unwrap();
    let labels = read("wire-labels.md");
    assert!(labels.contains("*Bars: changed since revision A of 2027-03-14.*"), "{labels}");
    let marked: Vec<&str> = labels.lines().filter(|line| line.contains("**▌**")).collect();
    assert_eq!(marked.len(), 1, "{labels}");
    assert!(
        marked[0].starts_with("| **▌** ") && marked[0].contains("**Z1**") && marked[0].contains("31 ft"),
        "{labels}"
    );
    assert!(read("wire-labels.html").contains("<span class=\"changed\">▌</span>"));
    assert!(read("work-order.md").contains("Z1: 22 AWG"), "{}", read("work-order.md"));
    // The work orders are the last sheets of a packet that has them: all of it, and the wiring alone.
    let of = loopwright::views::DOCUMENTS.len() + 2;
    for (name, number, reader) in [("work-order", of - 1, "installer"), ("work-order-wiring", of, "electrician")] {
        let (page, text) = (read(&format!("{name}.html")), read(&format!("{name}.md")));
        assert!(page.contains(&format!("sheet {number} of {of}")), "{page}");
        assert!(text.contains(&format!(" · for: {reader}\n")), "{text}");
        assert!(text.contains("Z1: 22 AWG"), "{text}");
        assert_eq!(text.contains("# For the installer"), name == "work-order", "{text}");
    }
    assert!(read("index.html").contains(&format!("sheet 1 of {of}")), "{}", read("index.html"));
    let schema = serde_json::from_str(&read("work-order.schema.json")).unwrap();
    let order: serde_json::Value = serde_json::from_str(&read("work-order.json")).unwrap();
    assert_eq!(crate::json_schema::faults(&schema, &order), [""; 0]);
    assert_eq!(order["format"], "loopwright-diff");

    assert!(read("index.html").contains("<a href=\"work-order.html\">"));

    // Against itself nothing is marked, and without a mark nothing is said of bars.
    repository.commit("B");
    repository.run(repository.top(), &["compile", "specs/cottage", "--since", "HEAD", "--out", "same"]);
    let labels = fs::read_to_string(repository.top().join("same/cottage/wire-labels.md")).unwrap();
    assert!(!labels.contains("**▌**"), "{labels}");
    assert!(Path::new(&repository.top().join("same/cottage/work-order.md")).exists());
}

#[test]
fn a_site_at_the_top_of_its_repository_is_read() {
    let repository = Repository::new();
    repository.write("site.kdl", &COTTAGE.replace("include \"../parts/generic.kdl\"\ninclude \"zones.kdl\"\n", "").replace(
        "panel \"main\" part=\"control-16\" room=\"closet\" {\n    battery capacity=(Ah)7 installed=\"2027-03-14\"\n}\n",
        "",
    ));
    repository.commit("Top");
    repository.edit("site.kdl", "title=\"Closet\"", "title=\"Cupboard\"");
    assert!(repository.diff(&[]).ends_with("~ room Cupboard: title Closet → Cupboard\n"));
}

#[test]
fn a_register_with_a_fault_moves_nothing() {
    let repository = Repository::with_cottage("specs/cottage");
    repository.run(repository.top(), &["compile", "specs/cottage", "--out", "packet"]);
    // Proposed afresh, the two cables would have each other's labels.
    let register = "specs/cottage/register.kdl";
    let text = fs::read_to_string(repository.top().join(register)).unwrap();
    let swapped = text.replace("\"Z1\"", "\"ZX\"").replace("\"Z2\"", "\"Z1\"").replace("\"ZX\"", "\"Z2\"");
    repository.write(register, &swapped);
    repository.git(&["add", "specs"]);
    repository.git(&["commit", "--quiet", "-m", "Labels as they are in the wall"]);
    repository.write(register, &format!("{swapped}\nlabel \"Z2\""));
    let run = repository.run(repository.top(), &["diff", "specs/cottage"]);
    let text = String::from_utf8(run.stdout).unwrap();
    assert_eq!(run.status.code(), Some(1));
    assert!(
        text.starts_with("cottage: nothing differs\n\n! The new revision (specs/cottage) has an error: "),
        "{text}"
    );
}

#[test]
fn unusual_spellings_mean_what_they_mean_to_git_or_are_named() {
    let repository = two("specs/cottage");
    let wanted = repository.diff(&["v1", "v2", "specs/cottage"]);
    let folder = repository.top().join("specs/cottage");
    for arguments in [
        &[":/The cottage", "specs/cottage"][..],
        &["HEAD^{/The cottage}", "specs/cottage"],
        &["v1:specs//cottage/", "HEAD:./specs/./cottage//site.kdl"],
        &["v1:/specs/cottage", "HEAD:specs/parts/../cottage"],
    ] {
        assert_eq!(repository.diff(arguments), wanted, "{arguments:?}");
    }
    assert_eq!(repository.diff_in(&folder, &["v1:../cottage", "v2:./../cottage"]), wanted);

    let complaint = |arguments: &[&str]| repository.complaint(repository.top(), arguments);
    let left_out = complaint(&["^HEAD", "specs/cottage"]);
    assert!(left_out.starts_with("error: ^HEAD says what to leave out, and is no revision\n  help: "), "{left_out}");
    let out = complaint(&["v1:../elsewhere"]);
    assert!(out.starts_with("error: v1:../elsewhere leads out of the repository\n"), "{out}");
    let none = complaint(&[":/no such message", "specs/cottage"]);
    assert!(none.starts_with("error: there is no revision :/no such message in the repository"), "{none}");
    repository.write("specs/mysite.kdl", "// no site\n");
    repository.commit("Another file");
    let file = complaint(&["v1:specs/cottage", "HEAD:specs/mysite.kdl"]);
    assert!(file.starts_with("error: HEAD has no site in specs/mysite.kdl\n"), "{file}");
    let tree = complaint(&["HEAD^{blob}", "specs/cottage"]);
    assert!(tree.starts_with("error: there is no revision HEAD^{blob} in the repository"), "{tree}");
}

#[test]
fn a_register_that_is_gone_from_the_disk_is_told() {
    let repository = Repository::with_cottage("specs/cottage");
    let compile = |more: &[&str]| {
        let run = repository.run(repository.top(), &[&["compile", "specs/cottage", "--out", "packet"], more].concat());
        String::from_utf8(run.stderr).unwrap()
    };
    assert_eq!(compile(&[]), "", "there was none before");
    repository.commit("The register");
    let register = repository.top().join("specs/cottage/register.kdl");
    for more in [&["--frozen"][..], &[]] {
        fs::remove_file(&register).ok();
        let told = compile(more);
        assert!(told.contains("register.kdl was not there, and the last commit has it"), "{told}");
        assert!(told.contains("`git checkout HEAD -- specs/cottage/register.kdl` takes it back"), "{told}");
    }
    repository.git(&["checkout", "HEAD", "--", "specs/cottage/register.kdl"]);
    assert_eq!(compile(&[]), "");
}

#[test]
fn a_site_that_is_new_since_then_is_compiled_without_marks() {
    let repository = two("specs/cottage");
    repository.copy_site("alder-mill", "specs/new");
    let run = |since: &str| repository.run(repository.top(), &["compile", "specs/new", "--since", since]);
    let new = run("v1");
    assert_eq!(new.status.code(), Some(0), "{}", String::from_utf8_lossy(&new.stderr));
    assert!(String::from_utf8_lossy(&new.stderr).contains("specs/new is new since v1, so nothing is marked"));
    let range = run("v1..v2");
    assert_eq!(range.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&range.stderr).contains("v1..v2 names two revisions"));
}
