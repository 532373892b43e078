//! Views → files: Markdown by handlebars, HTML by pulldown-cmark, CSV, JSON, all in a bundle in memory.
//!
//! Which documents there are stands in [`views::DOCUMENTS`]; nothing here knows any of them. handlebars and
//! pulldown-cmark are used nowhere else.

pub mod bundle;
pub mod escape;
pub mod html;
pub mod markdown;
pub mod table;

pub use bundle::Bundle;

use crate::views::site_data::SiteData;
use crate::views::{self, Document, Head, Material};

use html::Frame;
use markdown::{TemplateFault, Templates};

/// Makes the packet of a site.
pub fn packet(material: &Material<'_>) -> Bundle {
    let templates = Templates::new(views::DOCUMENTS);
    let mut bundle = Bundle::default();
    for document in views::DOCUMENTS {
        let made = templates
            .as_ref()
            .map_err(ToString::to_string)
            .and_then(|templates| text_of(templates, document, material).map_err(|fault| fault.to_string()));
        let text = made.unwrap_or_else(|fault| apology(document, &fault));
        let line = Head::of(material.site, document).line();
        let frame = Frame { name: document.name, title: document.title, site: &line };
        bundle.put(format!("{}.html", document.name), html::page(&text, frame));
        bundle.put(format!("{}.md", document.name), text);
        if let Some(make) = document.table {
            bundle.put(format!("{}.csv", document.name), table::csv(&make(material)));
        }
    }
    bundle.put("site.json", SiteData::json(material));
    bundle.put("site.schema.json", SiteData::schema());
    bundle
}

/// The Markdown of a document: the head that all share, then its own template.
fn text_of(templates: &Templates, document: &Document, material: &Material<'_>) -> Result<String, TemplateFault> {
    let head = templates.render("head", &views::value(&Head::of(material.site, document)))?;
    let body = templates.render(document.name, &(document.view)(material))?;
    Ok(format!("{}\n\n{}\n", head.trim(), body.trim()))
}

/// What stands on a sheet that could not be made: a fault of ours must not look like an empty house.
fn apology(document: &Document, fault: &str) -> String {
    format!(
        "# {}\n\n**This sheet could not be made. That is a fault of the program; please report it:** {}\n",
        escape::markdown(document.title),
        escape::markdown(fault)
    )
}
