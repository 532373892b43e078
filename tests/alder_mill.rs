//! The demo site in memory, with edits: what happens when one thing in it is wrong.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use loopwright::diag::Diagnostic;
use loopwright::resolve::load::MemoryFiles;
use loopwright::session;

use crate::demos;

/// The files of alder-mill and of the shared parts.
#[derive(Clone)]
pub struct AlderMill(BTreeMap<String, String>);

impl AlderMill {
    /// As it stands in `specs`, but with nothing in the wall yet: without its register, so that an edit moves nothing.
    pub fn new() -> Self {
        let mut files = demos::texts("alder-mill");
        files.retain(|path, _| path.ends_with(".kdl") && path != "register.kdl");
        Self(files)
    }

    /// With the one place where `old` stands in a file replaced.
    #[must_use]
    pub fn edited(mut self, file: &str, old: &str, new: &str) -> Self {
        let text = self.0.get_mut(file).unwrap();
        assert_eq!(text.matches(old).count(), 1, "{old:?} in {file}");
        *text = text.replacen(old, new, 1);
        self
    }

    /// With the first place where `old` stands in a file replaced.
    #[must_use]
    pub fn edited_first(mut self, file: &str, old: &str, new: &str) -> Self {
        let text = self.0.get_mut(file).unwrap();
        assert!(text.contains(old), "{old:?} in {file}");
        *text = text.replacen(old, new, 1);
        self
    }

    /// With text put behind a file's own.
    #[must_use]
    pub fn appended(mut self, file: &str, text: &str) -> Self {
        self.0.get_mut(file).unwrap().push_str(text);
        self
    }

    /// The files as a compilation gets them.
    pub fn files(&self) -> MemoryFiles {
        MemoryFiles(self.0.iter().map(|(name, text)| (name.clone(), text.clone().into_bytes())).collect())
    }

    /// What is found now and is not found in the demo as it stands.
    pub fn new_findings(&self) -> Vec<Diagnostic> {
        let found = |site: &Self| session::check(&site.files()).diagnostics;
        static KNOWN: OnceLock<Vec<(&str, String)>> = OnceLock::new();
        let known = KNOWN.get_or_init(|| found(&Self::new()).into_iter().map(|d| (d.rule.slug, d.title)).collect());
        found(self).into_iter().filter(|d| !known.contains(&(d.rule.slug, d.title.clone()))).collect()
    }

    /// The one new finding.
    pub fn only(&self, slug: &str) -> Diagnostic {
        let mut found = self.new_findings();
        let shown: Vec<String> = found.iter().map(|f| format!("{}: {}", f.rule.slug, f.title)).collect();
        assert_eq!(shown.len(), 1, "{shown:#?}");
        assert_eq!(found[0].rule.slug, slug, "{shown:#?}");
        found.remove(0)
    }
}
