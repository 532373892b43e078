//! Test help: every name in a template must be a name of its view.
//!
//! handlebars' strict mode does not report an unknown name in `{{#if …}}`, `{{#unless …}}` and `{{#each …}}`, so the
//! paths are walked here against the view of a site that has some of everything.

use std::collections::BTreeSet;

use handlebars::template::{HelperTemplate, Parameter, Template, TemplateElement};
use loopwright::emit::markdown::PARTIALS;
use loopwright::views::{DOCUMENTS, Head, value};
use serde_json::{Value, json};

use super::sites::{FULL, full_site, of_files, site};
use crate::alder_mill::AlderMill;

/// Names that handlebars takes for its own: a field called so would not be printed.
const RESERVED: [&str; 17] = [
    "len", "eq", "ne", "gt", "gte", "lt", "lte", "and", "or", "not", "lookup", "with", "each", "if", "unless", "log",
    "this",
];

/// Every fault of a template against a document's views of several sites: names that one of them lacks, lists that
/// are empty in all of them, forms that are not allowed.
pub fn faults(template: &Template, views: &[Value]) -> Vec<String> {
    let mut walk = Walk { faults: BTreeSet::new() };
    walk.template(template, &[views.iter().collect()]);
    walk.faults.into_iter().collect()
}

/// Keys of a view that collide with handlebars' own names.
pub fn reserved(view: &Value) -> Vec<String> {
    match view {
        Value::Object(map) => map
            .iter()
            .flat_map(|(key, value)| {
                let own = RESERVED.contains(&key.as_str()).then(|| key.clone());
                own.into_iter().chain(reserved(value))
            })
            .collect(),
        Value::Array(items) => items.iter().flat_map(reserved).collect(),
        _ => Vec::new(),
    }
}

struct Walk {
    faults: BTreeSet<String>,
}

impl Walk {
    /// `scopes`: for every level, all values that `this` may be there; the innermost last.
    fn template(&mut self, template: &Template, scopes: &[Vec<&Value>]) {
        for element in &template.elements {
            match element {
                TemplateElement::RawString(_) | TemplateElement::Comment(_) => {}
                TemplateElement::Expression(expression) if expression.params.is_empty() => {
                    for value in self.values(&expression.name, scopes) {
                        if !matches!(value, Value::String(_)) {
                            self.faults.insert(format!("{:?} prints something that is no text", expression.name));
                        }
                    }
                }
                TemplateElement::HelperBlock(block) => self.block(block, scopes),
                TemplateElement::PartialExpression(partial) => {
                    let shared = PARTIALS.iter().find(|(name, _)| partial.name.as_name() == Some(name));
                    match shared.map(|(_, text)| Template::compile(text).unwrap()) {
                        Some(shared) => self.template(&shared, scopes),
                        None => drop(self.faults.insert(format!("no such piece: {:?}", partial.name))),
                    }
                }
                other => {
                    self.faults.insert(format!("not allowed: {other:?}"));
                }
            }
        }
    }

    fn block(&mut self, block: &HelperTemplate, scopes: &[Vec<&Value>]) {
        let name = block.name.as_name().unwrap_or_default().to_owned();
        let Some(subject) = block.params.first() else {
            self.faults.insert(format!("{name} without a subject"));
            return;
        };
        let values = self.values(subject, scopes);
        let mut inside = scopes.to_vec();
        match name.as_str() {
            "if" | "unless" => {}
            "each" => {
                let items: Vec<&Value> = values.iter().filter_map(|value| value.as_array()).flatten().collect();
                if items.is_empty() {
                    self.faults.insert(format!("{subject:?} has no entry anywhere"));
                    return;
                }
                inside.push(items);
            }
            _ => {
                self.faults.insert(format!("not allowed: {name}"));
            }
        }
        if let Some(body) = &block.template {
            self.template(body, &inside);
        }
        if let Some(inverse) = &block.inverse {
            self.template(inverse, scopes);
        }
    }

    /// What a path may stand for.
    fn values<'v>(&mut self, path: &Parameter, scopes: &[Vec<&'v Value>]) -> Vec<&'v Value> {
        let written = path.as_name().unwrap_or_default();
        if written.starts_with('@') {
            return Vec::new();
        }
        let ups = written.matches("../").count();
        let rest = written.trim_start_matches("../");
        let Some(scope) = scopes.len().checked_sub(1 + ups).and_then(|level| scopes.get(level)) else {
            self.faults.insert(format!("`{written}` goes up too far"));
            return Vec::new();
        };
        let mut values = scope.clone();
        for name in rest.split('.').filter(|name| *name != "this" && !name.is_empty()) {
            let found: Vec<&Value> = values.iter().filter_map(|value| value.get(name)).collect();
            if found.len() != values.len() {
                self.faults.insert(format!("`{written}` is not in the view"));
            }
            values = found;
        }
        values
    }
}

/// Every fault of a template's text against a view.
fn check(text: &str) -> Vec<String> {
    let view = json!({ "title": "t", "rows": [{ "cell": "c", "free": false }], "none": [] });
    faults(&Template::compile(text).unwrap(), &[view])
}

#[test]
fn right_names_pass_and_wrong_ones_are_found() {
    let good = "{{title}}{{#each rows}}{{cell}}{{../title}}{{#if free}}{{this.cell}}{{else}}x{{/if}}{{/each}}";
    assert_eq!(check(good), Vec::<String>::new());
    let bad = [
        "{{typo}}",
        "{{#if typo}}{{/if}}",
        "{{#each rows}}{{title}}{{/each}}",
        "{{#each none}}x{{/each}}",
        "{{#each rows}}{{#unless typo}}{{/unless}}{{/each}}",
        "{{{title}}}",
        "{{rows}}",
        "{{#with rows}}{{/with}}",
    ];
    for bad in bad {
        assert!(!check(bad).is_empty(), "{bad}");
    }
    assert_eq!(reserved(&json!({ "a": [{ "len": 1 }] })), ["len"]);
}

#[test]
fn every_template_fits_its_view() {
    // One that tells nearly everything, one that leaves the house's facts open and has little room on its labels, one with
    // shields, one whose loop feeds its detectors, and one with leads of a transformer that are no cable.
    let given = "label-sheet grid=\"3x10-letter\" top=(mm)12.7 used=2 code=#true";
    assert!(FULL.contains(given));
    let small = "label-sheet grid=\"3x10-letter\" columns=5 width=(mm)14 across=(mm)40";
    let open = FULL.replace("building built=1950 framing=\"timber-stud\"", "").replace(given, small);
    // What feeds it was there before.
    let open = site(&open.replace("transformer volts", "transformer existing=#true volts"));
    let fed = site(&super::older::fed("signal"));
    let leads = site(&format!("{}{}", crate::pages::HEADER, super::materials::BARE));
    let sites = [full_site(), open, of_files(&AlderMill::new().files()), fed, leads];
    for document in DOCUMENTS {
        let views: Vec<Value> = sites.iter().map(|made| document.view(made)).collect();
        let template = Template::compile(document.template).unwrap();
        assert_eq!(faults(&template, &views), Vec::<String>::new(), "{}", document.name);
        assert_eq!(views.iter().flat_map(reserved).collect::<Vec<_>>(), Vec::<String>::new(), "{}", document.name);
    }
    let head = [value(&Head::of(&sites[0].site, DOCUMENTS[0]))];
    // The others are walked where they stand.
    for (name, text) in PARTIALS.iter().filter(|(name, _)| *name == "head") {
        assert_eq!(faults(&Template::compile(text).unwrap(), &head), Vec::<String>::new(), "{name}");
    }
}
