//! Views → files: Markdown by handlebars, HTML by pulldown-cmark, CSV, JSON, all in a bundle in memory.

pub mod bundle;

pub use bundle::Bundle;

use crate::diag::Diagnostic;
use crate::model::Site;
use crate::register::Wiring;

/// Makes the packet of a site.
pub fn packet(_site: &Site, _wiring: &Wiring, _diagnostics: &[Diagnostic]) -> Bundle {
    Bundle::default()
}
