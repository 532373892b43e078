//! Views → files: Markdown by handlebars, HTML by pulldown-cmark, CSV, JSON, all in a bundle in memory.

pub mod bundle;

pub use bundle::Bundle;
