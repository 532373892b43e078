//! The reference chapter of the language as Markdown: a tour that is written, and a list that is generated from the table.

use std::fmt::Write as _;

use super::limits;
use super::nodes::{REGISTER, TOP};
use super::rules::{describe, sample};
use super::spec::{ArgumentSpec, Kind, NodeSpec, PropertySpec, Times};
use crate::base::wording::thousands;
use crate::quantity::resistor::TOLERANCE_LETTERS;
use crate::quantity::unit;

const HEAD: &str = "\
# The spec language

A spec is written in KDL 2. Every node below is shown with what it takes; a name in *italics* is a new name, a value
after `=` shows the form. The order of nodes is not significant, except in two places: among runs, whose order is the
order in which the cable passes, and inside one place of a loop (below). What stands in a run's braces is mounted at its
far end; a run inside a run is a branch.

Inside one place of a loop what stands first is nearer to the board. Follow the sensed conductor from the board: a
resistor and a contact that is closed at rest stand in it, one behind the other; a contact that is open at rest bridges
from its place in it over to the return, with everything that comes behind it.

```text
contact \"button\"; resistor \"2k2\"        resistor \"2k2\"; contact \"button\"

out ----+---- 2k2 ----+                  out ---- 2k2 ----+--------+
        |             |                                   |        |
      button          |                                 button     |
        |             |                                   |        |
back ---+-------------+                  back ------------+--------+
```

On the left the button bridges the resistor, and its alarm reads short. On the right, where nothing more follows, the
loop ends behind the button in a piece of wire: it bridges that, and its alarm changes nothing. Where all alarm contacts
of a loop are open at rest, everything lies side by side across the pair, the resistor too, and the order means nothing.

One site holds at most 64 files of 1 MiB, 2 MiB together, beside its register of 8 MiB. One loop, bus or circuit holds at
most 600 runs and 1,000 contacts, detectors, resistors, sounders, boards and feeds together. What else is limited is told
with each node. All of that is far past any house.

A quantity always carries its unit, before the number: `(ft)38`. A resistor may also be written by its marking code
(IEC 60062): `\"2k2\"`. Conductor colours are the letter codes of IEC 60757: `\"RD\"`, `\"RDBU\"`.

";

const TOLERANCES_HEAD: &str = "\
A resistor has a tolerance, and the bounds of every reading are reckoned with it. A letter behind the marking says which
(IEC 60062):

";

const TOLERANCES_FOOT: &str = "
Without a letter it is the usual one of such a marking, by common practice: ±5 % where at most two significant digits
are written and the series E24 has the value, ±1 % otherwise. So `\"2k2\"` is ±5 % and `\"2k20\"` ±1 %, as are
`\"3k74\"` and `\"23k\"`; `\"2k2F\"` says ±1 % in so many words. A quantity has no digits to count: `(ohm)2200` is ±5 %
because E24 has it, `(ohm)3740` ±1 %. Zeros that only place the point do not count: `\"120R\"` and `\"10k\"` are ±5 %.

";

const REGISTER_HEAD: &str = "\
# The register

The nodes of `register.kdl`, which stands beside `site.kdl` and is written by `loopwright compile`: what is in the wall.
Nobody needs to write it. Two properties are for people to add to a `label` that is dead: `off=#true` when its
conductors have been taken off the terminals, `out=#true` when the cable has been pulled out.

";

/// The tour: one small house, piece by piece, with the words that it takes.
pub const TOUR: &str = include_str!("tour.md");

/// The tour, and the list of all nodes behind it.
pub fn markdown() -> String {
    format!("{TOUR}\n{}", list())
}

/// Every node with what it takes.
fn list() -> String {
    let mut out = HEAD.to_owned();
    units(&mut out);
    out.push_str(TOLERANCES_HEAD);
    let _ = writeln!(out, "| letter | tolerance |\n| --- | --- |");
    for (letter, percent) in TOLERANCE_LETTERS {
        let _ = writeln!(out, "| `{letter}` | ±{percent} % |");
    }
    out.push_str(TOLERANCES_FOOT);
    let mut done: Vec<*const NodeSpec> = Vec::new();
    for spec in TOP {
        node(&mut out, spec, None, &mut done);
    }
    out.push_str(REGISTER_HEAD);
    for spec in REGISTER {
        node(&mut out, spec, None, &mut done);
    }
    while out.ends_with("\n\n") {
        out.pop();
    }
    out
}

/// What the chapter says of the nodes of one name; `None` where there is none.
pub(crate) fn of(name: &str) -> Option<String> {
    let whole = list();
    let wanted: Vec<&str> = whole
        .split("\n#")
        .filter(|section| {
            let title = section.trim_start_matches('#').lines().next().unwrap_or_default();
            title.trim_start().starts_with(&format!("`{name}`"))
        })
        .collect();
    (!wanted.is_empty())
        .then(|| wanted.iter().map(|section| format!("#{}\n", section.trim_end())).collect::<Vec<_>>().join("\n"))
}

/// Every node of the language, once; several may have one name (`run`).
pub(crate) fn all() -> Vec<&'static NodeSpec> {
    fn walk(spec: &'static NodeSpec, found: &mut Vec<&'static NodeSpec>) {
        if !found.iter().any(|known| std::ptr::eq(*known, spec)) {
            found.push(spec);
            spec.children.iter().for_each(|child| walk(child.node, found));
        }
    }
    let mut found = Vec::new();
    TOP.iter().chain(REGISTER).for_each(|spec| walk(spec, &mut found));
    found
}

/// Every node name of the language, once.
pub(crate) fn names() -> Vec<&'static str> {
    let mut names: Vec<&str> = all().into_iter().map(|spec| spec.name).collect();
    names.sort_unstable();
    names.dedup();
    names
}

fn units(out: &mut String) {
    out.push_str("| measures | units |\n| --- | --- |\n");
    for dimension in crate::quantity::Dimension::ALL {
        let names: Vec<String> = unit::of(dimension).map(|unit| format!("`({})`", unit.name)).collect();
        line(out, &format!("| {} | {} |", dimension.noun(), names.join(" ")));
    }
    out.push('\n');
}

/// A node with all below it; a node that stands in several others is told at the first.
fn node(out: &mut String, spec: &'static NodeSpec, parent: Option<&'static NodeSpec>, done: &mut Vec<*const NodeSpec>) {
    if done.contains(&std::ptr::from_ref(spec)) {
        return;
    }
    done.push(spec);
    match parent {
        None => line(out, &format!("## `{}`\n", spec.name)),
        Some(parent) => line(out, &format!("### `{}` in `{}`\n", spec.name, parent.name)),
    }
    body(out, spec);
    for child in spec.children {
        node(out, child.node, Some(spec), done);
    }
}

/// What is said of a node itself.
fn body(out: &mut String, spec: &'static NodeSpec) {
    line(out, &format!("{}\n", spec.doc));
    line(out, &format!("```kdl\n{}\n```\n", spec.example));
    if !spec.arguments.is_empty() || !spec.properties.is_empty() {
        out.push_str("| takes | form | meaning |\n| --- | --- | --- |\n");
        spec.arguments.iter().for_each(|row| argument(out, row));
        spec.properties.iter().for_each(|row| property(out, row));
        out.push('\n');
    }
    words(out, spec);
    if !spec.children.is_empty() {
        let names: Vec<String> = spec
            .children
            .iter()
            .map(|child| match child.times {
                Times::Once => format!("`{}` (once)", child.node.name),
                Times::AtMostOnce => format!("`{}` (at most once)", child.node.name),
                Times::UpTo(most) => format!("`{}` (at most {} times)", child.node.name, thousands(most)),
                Times::Any => format!("`{}`", child.node.name),
            })
            .collect();
        line(out, &format!("In its braces: {}.\n", names.join(", ")));
    }
    if let Some(most) = limits::most(spec) {
        line(out, &format!("At most {} in one site.\n", thousands(most)));
    }
}

/// What the chapter says of one node, without what may stand in it.
pub(crate) fn of_node(spec: &'static NodeSpec) -> String {
    let mut out = String::new();
    body(&mut out, spec);
    out
}

/// What the chapter says of one argument or property of a node: its row, and its words.
pub(crate) fn of_field(spec: &NodeSpec, name: &str) -> Option<String> {
    let argument = spec.arguments.iter().find(|row| row.name == name);
    let property = spec.properties.iter().find(|row| row.name == name);
    let (kind, doc, required) = argument
        .map(|row| (row.kind, row.doc, row.required))
        .or_else(|| property.map(|row| (row.kind, row.doc, row.required)))?;
    let mark = if property.is_some() { format!("`{name}=`") } else { format!("*{name}*") };
    let need = if required { "needed" } else { "optional" };
    let mut out = format!("{mark} of `{}`, {need}: {doc}\n\nForm: {}\n\n", spec.name, form(kind));
    words_of(&mut out, name, kind);
    if let Kind::Quantity(dimensions, _) = kind {
        for dimension in dimensions {
            let names: Vec<String> = unit::of(*dimension).map(|unit| format!("`({})`", unit.name)).collect();
            line(&mut out, &format!("Units of {}: {}", dimension.noun(), names.join(" ")));
        }
    }
    Some(out)
}

fn argument(out: &mut String, row: &ArgumentSpec) {
    let name = if matches!(row.kind, Kind::Name(_)) { format!("*{}*", row.name) } else { row.name.to_owned() };
    let many = if row.many { format!(", 1 to {}", thousands(limits::MOST_VALUES)) } else { String::new() };
    let need = if row.required { "" } else { " (optional)" };
    line(out, &format!("| {name}{many}{need} | {} | {} |", form(row.kind), row.doc));
}

fn property(out: &mut String, row: &PropertySpec) {
    let need = match row.with {
        Some(other) => format!(" (with `{other}=`)"),
        None if row.required => " (needed)".to_owned(),
        None => String::new(),
    };
    line(out, &format!("| `{}=`{need} | {} | {} |", row.name, form(row.kind), row.doc));
}

fn form(kind: Kind) -> String {
    match kind {
        Kind::Text(most) | Kind::Label(most) => format!("text, at most {most} characters"),
        Kind::Word(_) => "a word, see below".into(),
        Kind::Integer(..) => describe(kind),
        Kind::Name(_)
        | Kind::Reference(_)
        | Kind::Quantity(..)
        | Kind::Resistance
        | Kind::Flag
        | Kind::Money
        | Kind::Date
        | Kind::Colour
        | Kind::Terminal
        | Kind::Slug
        | Kind::Path => format!("{}, as `{}`", describe(kind), sample(kind)),
    }
}

fn words(out: &mut String, spec: &NodeSpec) {
    let arguments = spec.arguments.iter().map(|row| (row.name, row.kind));
    let properties = spec.properties.iter().map(|row| (row.name, row.kind));
    for (name, kind) in arguments.chain(properties) {
        words_of(out, name, kind);
    }
}

fn words_of(out: &mut String, name: &str, kind: Kind) {
    if let Kind::Word(words) = kind {
        line(out, &format!("Words for {name}:\n"));
        for word in words {
            line(out, &format!("- `{}`: {}", word.word, word.doc));
        }
        out.push('\n');
    }
}

fn line(out: &mut String, text: &str) {
    // Writing to a String cannot fail.
    let _ = writeln!(out, "{text}");
}
