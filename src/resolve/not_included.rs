//! Spec files of the site's folder that nothing includes.

use std::collections::BTreeSet;

use crate::base::FileId;
use crate::schema::nodes::TOP;

use super::load::{FileSource, SITE_FILE};
use super::path::normalise;
use super::secrets;
use super::text::Text;

/// How many files of the site's folder are looked into that nothing includes.
pub(crate) const MOST_LOOKED_INTO: usize = 20;

/// True for a path that nothing includes, that may be shown, and that an include may name.
pub(crate) fn is_new(path: &str, included: &BTreeSet<String>) -> bool {
    !included.contains(path) && secrets::hide(path) == path && normalise(path).is_ok_and(|normal| normal == path)
}

/// The spec files of the site's folder that nothing includes, though something of a site stands in them. A folder with a site.kdl of
/// its own is another site's.
pub(crate) fn left_out(files: &dyn FileSource, included: &BTreeSet<String>) -> Vec<String> {
    let listed = files.spec_files();
    let sites: Vec<String> = listed.iter().filter_map(|path| path.strip_suffix(SITE_FILE)).map(str::to_owned).collect();
    let is_own = |path: &&String| sites.iter().all(|site| site.is_empty() || !path.starts_with(site.as_str()));
    let left = listed.iter().filter(is_own).filter(|path| is_new(path, included));
    let says = |path: &&String| {
        let Ok(bytes) = files.read(path) else { return false };
        let Ok(text) = String::from_utf8(bytes) else { return false };
        let read = Text::read(FileId::default(), (path, path), &text, None);
        read.document.nodes.iter().any(|node| TOP.iter().any(|spec| spec.name == node.name.value))
    };
    left.take(MOST_LOOKED_INTO).filter(says).cloned().collect()
}
