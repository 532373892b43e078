//! Nodes, properties and arguments that are missing or stand where they have no meaning, and where they belong.

use crate::base::Span;
use crate::base::wording::{a, list};
use crate::diag::{Certainty, Diagnostic};
use crate::quantity::{Dimension, unit};
use crate::schema::known::Known;
use crate::schema::meant;
use crate::schema::nodes::TOP;
use crate::schema::read::fits;
use crate::schema::spec::{ArgumentSpec, Kind, Names, NodeSpec, PropertySpec};
use crate::syntax::tree::{Argument, Property};
use crate::syntax::{Node, Value, unit_of};

use super::{
    ARGUMENT_MISSING, ARGUMENT_SURPLUS, NODE_MISSING, NODE_UNKNOWN, PROPERTY_MISSING, PROPERTY_UNKNOWN,
    VALUE_WRONG_KIND, quoted, sample, written,
};

/// Where a node of that name may stand: its parents with the top-level node that each is in; empty at the top.
fn homes(name: &str) -> Vec<(&'static str, &'static str)> {
    fn walk(
        spec: &'static NodeSpec,
        top: &'static str,
        name: &str,
        seen: &mut Vec<*const NodeSpec>,
        found: &mut Vec<(&'static str, &'static str)>,
    ) {
        if seen.contains(&std::ptr::from_ref(spec)) {
            return;
        }
        seen.push(spec);
        for child in spec.children {
            if child.node.name == name && !found.contains(&(spec.name, top)) {
                found.push((spec.name, top));
            }
            walk(child.node, top, name, seen, found);
        }
    }
    let mut found = Vec::new();
    for spec in TOP {
        walk(spec, spec.name, name, &mut Vec::new(), &mut found);
    }
    found
}

/// "`run` of a `bus`", "`room`".
fn said((parent, top): &(&str, &str)) -> String {
    if parent == top { format!("`{parent}`") } else { format!("`{parent}` of {} `{top}`", article(top)) }
}

/// "an `area`".
fn named(noun: &str) -> String {
    format!("{} `{noun}`", article(noun))
}

fn article(noun: &str) -> &'static str {
    if a(noun).starts_with("an ") { "an" } else { "a" }
}

/// A node that may not stand in `parent` (at the top of a file without one).
pub(crate) fn node_unknown(
    node: &Node,
    parent: Option<(&Node, &NodeSpec)>,
    known: impl Iterator<Item = &'static str>,
) -> Diagnostic {
    let (above, parent) = (parent.map(|(above, _)| above), parent.map(|(_, parent)| parent));
    let name = &node.name.value;
    let place = parent.map_or("the top of a file".to_owned(), |p| format!("`{}`", p.name));
    let known: Vec<&str> = known.collect();
    let homes = homes(name);
    let top = TOP.iter().any(|spec| spec.name == name);
    let diagnostic = Diagnostic::new(&NODE_UNKNOWN, node.name.span, format!("`{name}` has no meaning in {place}"))
        .here("not known here")
        .why("Every node says one thing about the house. One that is not understood would be left out of the paper without a word, so it is refused.");
    let is_property = parent.is_some_and(|parent| parent.properties.iter().any(|row| row.name == name));
    let near = meant::name(name, known.iter().copied());
    // A node in one of its own kind was forgotten to be closed.
    let nested = parent.is_some_and(|parent| parent.name == name);
    let near = near.filter(|_| !nested).filter(|near| (!top && homes.is_empty()) || meant::is_synonym(name, near));
    // One that says more than its name is a definition, and stays whole.
    let is_bare = node.properties.is_empty() && node.children.as_ref().is_none_or(Vec::is_empty);
    let has_it = above.is_some_and(|above| above.properties.iter().any(|property| property.name.value == *name));
    // Then the node that it stands in only names it.
    let name_it = node.arguments.first().filter(|_| is_property && !has_it).zip(parent).map(|(value, parent)| {
        let value = written(value.annotation.as_ref(), &value.value.value);
        format!(", and write {name}={value} on the line of `{}`", parent.name)
    });
    let name_it = name_it.unwrap_or_default();
    let is_property = is_property && is_bare && !has_it;
    if let (Some(parent), true, [value]) = (parent, is_property, node.arguments.as_slice()) {
        let value = written(value.annotation.as_ref(), &value.value.value);
        let found =
            diagnostic.help(format!("`{name}` is a property: write {name}={value} on the line of `{}`.", parent.name));
        let Some(above) = above else { return found };
        let last = last_entry(above);
        found.edit(Certainty::Likely, last.behind(), format!(" {name}={value}")).edit(
            Certainty::Likely,
            node.with_its_end(),
            "",
        )
    } else if let Some(near) = near {
        diagnostic.help(format!("Did you mean `{near}`?")).edit(Certainty::Likely, node.name.span, near)
    } else if top && parent.is_some() {
        diagnostic.help(format!("`{name}` stands at the top of a file: move it out of the braces{name_it}."))
    } else if let Some(holder) = parent.and_then(|parent| {
        parent.children.iter().map(|row| row.node).find(|child| child.children.iter().any(|row| row.node.name == name))
    }) {
        let holds = |inner: &&NodeSpec| inner.name != name && inner.children.iter().any(|row| row.node.name == name);
        let within = holder.children.iter().map(|row| row.node).find(holds);
        let within = within.map_or_else(String::new, |inner| format!("a `{}` in ", inner.name));
        diagnostic.help(format!("`{name}` stands in the braces of {within}a `{}`: put one around it.", holder.name))
    } else if !homes.is_empty() {
        let mut homes: Vec<String> = homes.iter().map(said).collect();
        let more = homes.len() > MOST_HOMES;
        homes.truncate(MOST_HOMES);
        let more = if more { ", or elsewhere" } else { "" };
        diagnostic.help(format!("`{name}` stands in the braces of {}{more}.", list(&homes, "or")))
    } else if known.is_empty() {
        diagnostic.help("Nothing may stand in these braces: remove them.")
    } else {
        diagnostic.help(format!("What may stand here: {}.", quoted(known)))
    }
}

/// So many places are named where a node may stand.
const MOST_HOMES: usize = 4;

/// A child that must be there.
pub(crate) fn node_missing(node: &Node, spec: &NodeSpec, missing: &NodeSpec) -> Diagnostic {
    Diagnostic::new(&NODE_MISSING, node.name.span, format!("`{}` needs a `{}`", spec.name, missing.name))
        .here(format!("without `{}`", missing.name))
        .why(missing.doc)
        .help(format!("Put it in the braces, for example: {}", missing.example.lines().next().unwrap_or_default()))
}

/// A property that the node does not have.
pub(crate) fn property_unknown(node: &Node, spec: &'static NodeSpec, property: &Property) -> Diagnostic {
    let key = &property.name;
    let known = || spec.properties.iter().map(|row| row.name);
    let diagnostic =
        Diagnostic::new(&PROPERTY_UNKNOWN, key.span, format!("`{}` has no property `{}`", spec.name, key.value))
            .here("not known here")
            .also(node.name.span, "")
            .why("A property that is not understood would have no effect, so it is refused.");
    let value = written(property.annotation.as_ref(), &property.value.value);
    let free = |row: &&PropertySpec| !node.properties.iter().any(|other| other.name.value == row.name);
    let as_missing = || missing(node, spec, property).map(|row| row.name);
    let near = meant::name(&key.value, spec.properties.iter().filter(free).map(|row| row.name)).or_else(as_missing);
    if let Some(near) = near {
        return diagnostic.help(format!("Did you mean `{near}`?")).edit(Certainty::Likely, key.span, near);
    }
    // An argument with a key: its own place is known by its name, else it is the one that is missing.
    let named = spec.arguments.iter().position(|row| row.name == key.value);
    let next = spec.arguments.get(node.arguments.len()).filter(|row| row.required).map(|_| node.arguments.len());
    if let Some((at, row)) = named.or(next).and_then(|at| Some((at, spec.arguments.get(at)?))) {
        let mut values: Vec<String> =
            node.arguments.iter().map(|value| written(value.annotation.as_ref(), &value.value.value)).collect();
        let place = at.checked_sub(1).and_then(|before| node.arguments.get(before));
        let place = place.map_or(node.name.span, |before| before.span).behind();
        // "ohm=2200" has its unit in the key.
        let dimensions: &[Dimension] = match row.kind {
            Kind::Resistance => &[Dimension::Resistance],
            Kind::Quantity(dimensions, _) => dimensions,
            Kind::Name(_)
            | Kind::Reference(_)
            | Kind::Text(_)
            | Kind::Label(_)
            | Kind::Word(_)
            | Kind::Integer(..)
            | Kind::Flag
            | Kind::Money
            | Kind::Date
            | Kind::Colour
            | Kind::Terminal
            | Kind::Slug
            | Kind::Path => &[],
        };
        let bare = property.annotation.is_none() && matches!(property.value.value, Value::Number { .. });
        let unit = unit_of(&key.value).and_then(unit::find).filter(|unit| bare && dimensions.contains(&unit.dimension));
        let value = unit.map_or(value.clone(), |unit| format!("({}){value}", unit.name));
        values.insert(at.min(values.len()), value.clone());
        return diagnostic
            .help(format!("The {} stands without a key: {} {}", row.name, spec.name, values.join(" ")))
            .edit(Certainty::Likely, place, format!(" {value}"))
            .edit(Certainty::Likely, property.span, "");
    }
    if let Some(child) = spec.children.iter().map(|row| row.node).find(|child| child.name == key.value) {
        return diagnostic.help(format!(
            "`{}` is a node of its own: write {} in the braces.",
            key.value,
            as_node(child, property)
        ));
    }
    if (spec.name, key.value.as_str()) == ("run", "ohms") {
        return diagnostic.help(OHMS_OF_A_RUN);
    }
    diagnostic.help(elsewhere(node, spec, property).unwrap_or_else(|| {
        if spec.properties.is_empty() {
            format!("`{}` has no properties: remove it.", spec.name)
        } else {
            format!("It has {}.", quoted(known()).replace(" or ", " and "))
        }
    }))
}

/// Copper at 20 °C, out and back: 106 Ω a kilometre of 22 AWG, 42 Ω of 18 AWG.
const OHMS_OF_A_RUN: &str = "The ohms of a cable go in as its length=. A pair that is joined at its far end reads 1 Ω for every 9.4 m (31 ft) of 22 AWG, and for every 24 m (78 ft) of 18 AWG: multiply by what the meter shows, less what it shows with its leads together. What a whole loop reads stands in `measured`.";

/// The one required property that a node lacks, where the value of an unknown one fits it.
fn missing(node: &Node, spec: &NodeSpec, property: &Property) -> Option<&'static PropertySpec> {
    let is_there = |row: &PropertySpec| node.properties.iter().any(|other| other.name.value == row.name);
    let mut rows = spec.properties.iter().filter(|row| row.required && !is_there(row));
    let row = rows.next().filter(|_| rows.next().is_none())?;
    fits(node, row.name, row.kind, &property.value, property.annotation.as_ref()).then_some(row)
}

/// A property written as a node of its own: "battery capacity=(Ah)7".
fn as_node(child: &NodeSpec, property: &Property) -> String {
    let value = written(property.annotation.as_ref(), &property.value.value);
    let row = child.properties.iter().find(|row| row.required);
    match (child.arguments.first(), row) {
        (None, Some(row)) => format!("`{} {}={value}`", child.name, row.name),
        _ => format!("`{} {value}`", child.name),
    }
}

/// Where a property belongs that its node does not have: a node in the node's braces, one around it, or one beside it.
fn elsewhere(node: &Node, spec: &'static NodeSpec, property: &Property) -> Option<String> {
    let key = property.name.value.as_str();
    let has = |spec: &NodeSpec| spec.properties.iter().any(|row| row.name == key);
    let as_written = written(property.annotation.as_ref(), &property.value.value);
    // "yes" where a flag is wanted.
    let value_in = |other: &NodeSpec| {
        let row = other.properties.iter().find(|row| row.name == key);
        let annotation = property.annotation.as_ref().map(|annotation| annotation.value.as_str());
        let right = row.and_then(|row| crate::schema::meant::value(row.kind, &property.value.value, annotation));
        right.map_or_else(|| as_written.clone(), |(right, _)| right)
    };
    let value = &as_written;
    let within = spec.children.iter().map(|row| row.node).find(|child| has(child));
    let homes = homes(spec.name);
    let around = || {
        TOP.iter()
            .flat_map(|top| all(top))
            .find(|other| has(other) && homes.iter().any(|(home, _)| *home == other.name))
    };
    if let Some(other) = within.or_else(around) {
        return Some(format!("`{key}` belongs to `{}`: write {key}={} there.", other.name, value_in(other)));
    }
    if homes.iter().any(|(home, _)| *home == key)
        || TOP.iter().any(|top| top.name == key && top.children.iter().any(|row| row.node.name == spec.name))
    {
        return Some(format!("`{}` stands in the braces of its `{key}`.", spec.name));
    }
    let parents = || {
        TOP.iter()
            .flat_map(|top| all(top))
            .filter(|other| other.children.iter().any(|row| std::ptr::eq(row.node, spec)))
    };
    let sibling = parents().flat_map(|parent| parent.children).map(|row| row.node).find(|other| has(other));
    if let Some(other) = sibling {
        return Some(format!("`{key}` is a property of `{}`, which stands in the same place: is it one?", other.name));
    }
    let beside = || {
        TOP.iter().flat_map(|top| all(top)).find(|other| {
            other.children.iter().any(|row| row.node.name == spec.name)
                && other.children.iter().any(|row| row.node.name == key)
        })
    };
    if let Some(parent) = beside() {
        return Some(format!(
            "`{key}` is a node of its own: write `{key} {value}` beside `{}`, in the braces of `{}`.",
            node.name.value, parent.name
        ));
    }
    let other = TOP.iter().flat_map(|top| all(top)).find(|other| has(other))?;
    if other.name == spec.name {
        // Two nodes of one name: which is meant is told by where it stands.
        let holds = |parent: &&NodeSpec| parent.children.iter().any(|row| std::ptr::eq(row.node, other));
        let parent = TOP.iter().flat_map(|top| all(top)).find(holds)?;
        return Some(format!("`{key}` belongs to the `{}` of a `{}`, and this one has none.", other.name, parent.name));
    }
    Some(format!("`{key}` belongs to `{}`, and `{}` has none.", other.name, spec.name))
}

/// A node of the language with every one that may stand in its braces, each once.
fn all(top: &'static NodeSpec) -> Vec<&'static NodeSpec> {
    let mut found: Vec<&'static NodeSpec> = vec![top];
    let mut at = 0;
    while let Some(spec) = found.get(at).copied() {
        for child in spec.children {
            if !found.iter().any(|known| std::ptr::eq(*known, child.node)) {
                found.push(child.node);
            }
        }
        at += 1;
    }
    found
}

/// A property that must be there.
pub(crate) fn property_missing(node: &Node, spec: &NodeSpec, row: &PropertySpec, known: &Known) -> Diagnostic {
    let found = Diagnostic::new(&PROPERTY_MISSING, node.name.span, format!("`{}` needs `{}=`", spec.name, row.name))
        .here(format!("without `{}=`", row.name))
        .why(format!("`{}=`: {}. Nothing sensible can be assumed in its place.", row.name, row.doc));
    let names = candidates(spec, row.kind, known);
    match names.as_slice() {
        [] => found.help(if matches!(row.kind, Kind::Text(_) | Kind::Label(_)) {
            format!("Write `{}={}`.", row.name, sample(row.kind))
        } else if row.name == "address" {
            // So would an address that another board has.
            format!(
                "Write `{}=` with the number that is set at the board, which no other board of this bus has.",
                row.name
            )
        } else if matches!(row.kind, Kind::Terminal) {
            // A mark taken from an example would be landed on.
            format!("Write `{}=` with the mark that stands at the terminal, in quotes.", row.name)
        } else {
            format!("Write what is right here, for example `{}={}`.", row.name, known.sample(row.kind))
        }),
        [only] if matches!(row.kind, Kind::Reference(_)) => {
            let text = format!("{}={only}", row.name);
            let edit = format!(" {text}");
            found.help(format!("Write `{text}`.")).edit(Certainty::Likely, last_entry(node).behind(), edit)
        }
        _ => {
            let all: Vec<String> = names.iter().map(|name| format!("`{}={name}`", row.name)).collect();
            found.help(format!("Write the one that is meant: {}.", list(&all, "or")))
        }
    }
}

/// The names of the site, or the words of the list, that a value of a node may be, in quotes.
fn candidates(spec: &NodeSpec, kind: Kind, known: &Known) -> Vec<String> {
    let quoted = |names: &[String]| names.iter().map(|name| format!("\"{name}\"")).collect();
    match kind {
        Kind::Reference(Names::Part) => quoted(&known.parts_for(spec.name)),
        Kind::Reference(names) => quoted(known.names(names)),
        Kind::Word(words) => words.iter().map(|word| format!("\"{}\"", word.word)).collect(),
        Kind::Name(_)
        | Kind::Text(_)
        | Kind::Label(_)
        | Kind::Integer(..)
        | Kind::Quantity(..)
        | Kind::Resistance
        | Kind::Flag
        | Kind::Money
        | Kind::Date
        | Kind::Colour
        | Kind::Terminal
        | Kind::Slug
        | Kind::Path => Vec::new(),
    }
}

/// The last argument or property of a node, or its name.
fn last_entry(node: &Node) -> Span {
    let entries = node.arguments.iter().map(|one| one.span).chain(node.properties.iter().map(|one| one.span));
    entries.max_by_key(|span| span.end).unwrap_or(node.name.span)
}

/// An argument that must be there.
pub(crate) fn argument_missing(node: &Node, spec: &NodeSpec, row: &ArgumentSpec, known: &Known) -> Diagnostic {
    let names = candidates(spec, row.kind, known);
    let example = format!("For example: {}", spec.example.lines().next().unwrap_or_default());
    Diagnostic::new(&ARGUMENT_MISSING, node.name.span, format!("`{}` lacks its `{}`", spec.name, row.name))
        .here(format!("without {}", row.name))
        .why(format!("The `{}` of {}: {}.", row.name, named(spec.name), row.doc))
        .help(if names.is_empty() {
            example
        } else {
            format!("Write it behind `{}`, as {}.", spec.name, list(&names, "or"))
        })
}

/// Two arguments of which each is what the other's place asks for.
pub(crate) fn arguments_exchanged(node: &Node, spec: &NodeSpec, (first, second): (&Argument, &Argument)) -> Diagnostic {
    let text = |argument: &Argument| written(argument.annotation.as_ref(), &argument.value.value);
    let right = format!("{} {}", text(second), text(first));
    let whole = Span::new(first.span.file, first.span.start, second.span.end);
    let takes: Vec<&str> = spec.arguments.iter().map(|row| row.name).collect();
    Diagnostic::new(&VALUE_WRONG_KIND, first.value.span, format!("the arguments of `{}` are exchanged", spec.name))
        .here(format!("the {} stands first", takes.first().copied().unwrap_or_default()))
        .also(node.name.span, format!("takes its {}", list(&takes, "and then its")))
        .why("Arguments are known by their order.")
        .help(format!("Write {} {right}", spec.name))
        .edit(Certainty::Certain, whole, right)
}

/// More arguments than the node takes; `at` is the position of the first.
pub(crate) fn argument_surplus(node: &Node, spec: &NodeSpec, at: usize, argument: &Argument) -> Diagnostic {
    let takes: Vec<&str> = spec.arguments.iter().map(|a| a.name).collect();
    let takes = if takes.is_empty() { "no argument".to_owned() } else { format!("only its {}", list(&takes, "and")) };
    let found =
        Diagnostic::new(&ARGUMENT_SURPLUS, argument.value.span, format!("one argument too many for `{}`", spec.name))
            .here("not expected")
            .also(node.name.span, format!("takes {takes}"))
            .why("Arguments are known by their order. One more than the node takes has no meaning.");
    if let Some(name) = node_behind(spec, argument) {
        let before = Span::new(argument.span.file, argument.span.start, argument.span.start);
        return found
            .help(format!("`{name}` is a node of its own: put it on a line of its own, or a `;` before it."))
            .edit(Certainty::Likely, before, "; ");
    }
    match surplus_meant(node, spec, at, argument) {
        Some((right, last)) => {
            let whole = Span::new(argument.span.file, argument.span.start, last.end);
            found.help(format!("Did you mean {right}?")).edit(Certainty::Likely, whole, right)
        }
        None => match description_in_two(node, spec, at, argument) {
            Some((right, first)) => {
                let whole = Span::new(first.file, first.start, argument.span.end);
                found.help(format!("Did you mean {right}?")).edit(Certainty::Likely, whole, right)
            }
            None => found.help("Remove it, or give it a key: `key=value`."),
        },
    }
}

/// The name of a node that stands on the line of another which may stand beside it.
fn node_behind<'a>(spec: &NodeSpec, argument: &'a Argument) -> Option<&'a str> {
    let Value::Text(text) = &argument.value.value else { return None };
    let stands = |parent: &&NodeSpec, name: &str| parent.children.iter().any(|row| row.node.name == name);
    let bare = argument.span.end - argument.span.start == text.len();
    let property = spec.properties.iter().any(|row| row.name == text);
    let mut parents = TOP.iter().flat_map(|top| all(top));
    let both = parents.any(|parent| stands(&parent, spec.name) && stands(&parent, text));
    (bare && !property && both).then_some(text)
}

/// What an argument too many was meant to be, and the last place of the text that it takes.
fn surplus_meant(node: &Node, spec: &NodeSpec, at: usize, argument: &Argument) -> Option<(String, Span)> {
    let free = |row: &&PropertySpec| !node.properties.iter().any(|other| other.name.value == row.name);
    // The equals sign left out: `on "front-door"`, or a flag without its value.
    if let Value::Text(text) = &argument.value.value
        && let Some(row) = spec.properties.iter().filter(free).find(|row| row.name == text)
    {
        if matches!(row.kind, Kind::Flag) {
            return Some((format!("{text}=#true"), argument.span));
        }
        let next = node.arguments.get(at + 1)?;
        let value = written(next.annotation.as_ref(), &next.value.value);
        return Some((format!("{text}={value}"), next.span));
    }
    let takes = |row: &&PropertySpec| fits(node, row.name, row.kind, &argument.value, argument.annotation.as_ref());
    let value = written(argument.annotation.as_ref(), &argument.value.value);
    let required = spec.properties.iter().filter(|row| row.required).filter(free).find(takes);
    let title = || spec.properties.iter().filter(free).find(|row| row.name == "title" && takes(row));
    let row = required.or_else(title)?;
    Some((format!("{}={value}", row.name), argument.span))
}

/// A text without quotes that a blank has made two: both, in quotes, and where the first begins.
fn description_in_two(node: &Node, spec: &NodeSpec, at: usize, argument: &Argument) -> Option<(String, Span)> {
    let before = node.arguments.get(at.checked_sub(1)?)?;
    let is_text = spec.arguments.last().is_some_and(|row| matches!(row.kind, Kind::Text(_) | Kind::Label(_)));
    let bare = |argument: &Argument| match &argument.value.value {
        Value::Text(text) => (argument.span.end - argument.span.start == text.len()).then(|| text.clone()),
        Value::Number { .. } | Value::Flag(_) | Value::Null => None,
    };
    let words = [bare(before)?, bare(argument)?].join(" ");
    is_text.then(|| (format!("\"{words}\""), before.span))
}
