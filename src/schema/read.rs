//! Checks a tree against the table and hands out typed fields.
//!
//! A [`Reading`] is what could be read of a node. What could not is reported here, once, and is then simply
//! absent: later stages treat an absent required field as poison and stay silent about it.

use std::collections::BTreeMap;

use crate::base::wording::is_control;
use crate::base::{Spanned, unseen};
use crate::diag::{Diagnostic, Sink};
use crate::quantity::Resistance;
use crate::syntax::tree::{Argument, Property};
use crate::syntax::{Document, Node, Value};

use super::known::Known;
use super::limits::{MOST_VALUES, Tally};
use super::meant;
use super::nodes::{REGISTER, TOP};
use super::reading::{Datum, Reading};
use super::rules;
use super::spec::{ArgumentSpec, ChildSpec, Kind, NodeSpec, PropertySpec, Times};

/// Reads the top-level nodes of a file of the spec; `tally` counts those of all its files.
pub(crate) fn read_document(document: &Document, tally: &mut Tally, sink: &mut Sink) -> Vec<Reading> {
    read_with(TOP, document, tally, sink)
}

/// Reads the top-level nodes of `register.kdl`.
pub(crate) fn read_register(document: &Document, sink: &mut Sink) -> Vec<Reading> {
    read_with(REGISTER, document, &mut Tally::new(), sink)
}

fn read_with(table: &[&'static NodeSpec], document: &Document, tally: &mut Tally, sink: &mut Sink) -> Vec<Reading> {
    document
        .nodes
        .iter()
        .filter_map(|node| {
            let found = table.iter().find(|spec| spec.name == node.name.value);
            match found {
                Some(spec) => tally.admits(node, spec, sink).then(|| read_node(node, spec, tally, sink)),
                None => {
                    // What it was meant to be is not missing as well.
                    let known = table.iter().map(|spec| spec.name);
                    tally.meant.extend(meant::name(&node.name.value, known));
                    sink.error(|| rules::node_unknown(node, None, table.iter().map(|spec| spec.name)));
                    None
                }
            }
        })
        .collect()
}

fn read_node(node: &Node, spec: &'static NodeSpec, tally: &mut Tally, sink: &mut Sink) -> Reading {
    let mut reading = Reading {
        spec,
        span: node.span,
        name_span: node.name.span,
        whole: true,
        children: Vec::new(),
        fields: Vec::new(),
        properties: Vec::new(),
    };
    if let Some(annotation) = &node.annotation {
        reading.whole = false;
        sink.push(rules::annotation_on_node(node, annotation.span));
    }
    read_arguments(node, spec, &mut reading, &tally.known, sink);
    read_properties(node, spec, &mut reading, &tally.known, sink);
    read_children(node, spec, &mut reading, tally, sink);
    reading
}

fn read_arguments(node: &Node, spec: &'static NodeSpec, reading: &mut Reading, known: &Known, sink: &mut Sink) {
    // Where one has a key that it should not have, that alone is told.
    let keyed = |row: &ArgumentSpec| node.properties.iter().any(|property| property.name.value == row.name);
    let is_property = |row: &ArgumentSpec| spec.properties.iter().any(|property| property.name == row.name);
    let lacks = node.arguments.len() < spec.arguments.len();
    if lacks && spec.arguments.iter().any(|row| keyed(row) && !is_property(row)) {
        reading.whole = false;
        return;
    }
    let mut lacks_unit = false;
    for (position, argument) in node.arguments.iter().enumerate() {
        let row = spec.arguments.get(position).or_else(|| spec.arguments.last().filter(|last| last.many));
        if row.is_some() && position >= MOST_VALUES {
            reading.whole = false;
            sink.push(rules::value_too_many(node, MOST_VALUES, argument.span));
            break;
        }
        let Some(row) = row else {
            reading.whole = false;
            sink.push(rules::argument_surplus(node, spec, position, argument));
            // One report a node: further surplus arguments are the same slip.
            break;
        };
        let written = Written { value: &argument.value, annotation: argument.annotation.as_ref() };
        match read_value(row.name, row.kind, written, node) {
            Ok(datum) => reading.fields.push((row.name, Spanned::new(datum, argument.value.span))),
            Err(diagnostic) => {
                reading.whole = false;
                // Numbers of one node that all lack their unit are one slip.
                let told = lacks_unit;
                lacks_unit |= rules::is_about_a_missing_unit(&diagnostic);
                if told && rules::is_about_a_missing_unit(&diagnostic) {
                    continue;
                }
                let misplaced = if position == 0 { misplaced(node, spec, known) } else { None };
                if let Some(misplaced) = misplaced {
                    sink.push(misplaced);
                    return;
                }
                sink.push(*diagnostic);
            }
        }
    }
    let all_fit = reading.whole;
    if let Some(missing) = spec.arguments.iter().skip(node.arguments.len()).find(|row| row.required) {
        reading.whole = false;
        // Where a value is of a wrong kind, it is probably the one of this place.
        if all_fit && !has_unknown_property(node, spec) {
            sink.push(rules::argument_missing(node, spec, missing, known));
        }
    }
}

/// What is told of a first argument that is what the place behind it asks for: the two are exchanged, or it is missing.
fn misplaced(node: &Node, spec: &'static NodeSpec, known: &Known) -> Option<Diagnostic> {
    match (node.arguments.as_slice(), spec.arguments) {
        ([first, second], [one, other]) if argument_fits(node, one, second) && argument_fits(node, other, first) => {
            Some(rules::arguments_exchanged(node, spec, (first, second)))
        }
        ([first], [one, other, ..]) if other.required && argument_fits(node, other, first) => {
            Some(rules::argument_missing(node, spec, one, known))
        }
        _ => None,
    }
}

/// True where an argument is what a row asks for.
fn argument_fits(node: &Node, row: &ArgumentSpec, argument: &Argument) -> bool {
    fits(node, row.name, row.kind, &argument.value, argument.annotation.as_ref())
}

/// True where a property is told as unknown: what is missing was probably written with that key.
fn has_unknown_property(node: &Node, spec: &NodeSpec) -> bool {
    node.properties.iter().any(|property| !spec.properties.iter().any(|row| row.name == property.name.value))
}

/// True where something that the node should have was probably written in another way, which is told.
fn is_written_otherwise(node: &Node, spec: &NodeSpec, row: &PropertySpec) -> bool {
    let takes_all = spec.arguments.last().is_some_and(|last| last.many);
    let surplus = !takes_all && node.arguments.len() > spec.arguments.len();
    let key = |property: &Property| property.name.value == row.name;
    let within = |child: &Node| child.name.value == row.name || child.properties.iter().any(key);
    let child = node.children.iter().flatten().any(within);
    surplus || child || has_unknown_property(node, spec)
}

/// True where a value is what a row asks for.
pub(crate) fn fits(
    node: &Node,
    field: &'static str,
    kind: Kind,
    value: &Spanned<Value>,
    annotation: Option<&Spanned<String>>,
) -> bool {
    read_value(field, kind, Written { value, annotation }, node).is_ok()
}

fn read_properties(node: &Node, spec: &'static NodeSpec, reading: &mut Reading, known: &Known, sink: &mut Sink) {
    for property in &node.properties {
        let Some(row) = spec.properties.iter().find(|row| row.name == property.name.value) else {
            reading.whole = false;
            sink.error(|| rules::property_unknown(node, spec, property));
            continue;
        };
        if reading.properties.iter().any(|(name, _)| *name == row.name) {
            // Written twice: reported by `syntax`.
            continue;
        }
        reading.properties.push((row.name, property.span));
        let written = Written { value: &property.value, annotation: property.annotation.as_ref() };
        match read_value(row.name, row.kind, written, node) {
            Ok(datum) => reading.fields.push((row.name, Spanned::new(datum, property.value.span))),
            Err(diagnostic) => {
                reading.whole = false;
                sink.push(*diagnostic);
            }
        }
    }
    let wrote = |name: &str| node.properties.iter().any(|property| property.name.value == name);
    let needs = |row: &&PropertySpec| row.required && !row.unless.is_some_and(|spared| spared(node));
    for row in spec.properties.iter().filter(|row| needs(row) || row.with.is_some_and(wrote)) {
        if !node.properties.iter().any(|p| p.name.value == row.name) {
            reading.whole = false;
            let above = known.above.iter().any(|key| key == row.name);
            if !above && !is_written_otherwise(node, spec, row) {
                sink.push(rules::property_missing(node, spec, row, known));
            }
        }
    }
}

fn read_children(node: &Node, spec: &'static NodeSpec, reading: &mut Reading, tally: &mut Tally, sink: &mut Sink) {
    let outer = tally.known.above.len();
    let unknown =
        node.properties.iter().filter(|property| !spec.properties.iter().any(|row| row.name == property.name.value));
    tally.known.above.extend(unknown.map(|property| property.name.value.clone()));
    // By name: the first, and how many there have been.
    let mut met: BTreeMap<&str, (&Node, usize)> = BTreeMap::new();
    for child in node.children.iter().flatten() {
        let Some(row) = spec.children.iter().find(|row| row.node.name == child.name.value) else {
            reading.whole = false;
            sink.error(|| {
                rules::node_unknown(child, Some((node, spec)), spec.children.iter().map(|row| row.node.name))
            });
            continue;
        };
        let (first, count) = met.entry(row.node.name).or_insert((child, 0));
        *count += 1;
        let stands = match row.times {
            Times::Any => tally.admits(child, row.node, sink),
            Times::Once | Times::AtMostOnce => {
                if *count > 1 {
                    sink.push(rules::node_repeated(child, spec, first.name.span));
                }
                *count == 1
            }
            Times::UpTo(most) => {
                if *count == most + 1 {
                    sink.push(rules::node_too_many(
                        child,
                        most,
                        &format!("one `{}`", spec.name),
                        "Take out those that are too many.",
                    ));
                }
                *count <= most
            }
        };
        if stands {
            reading.children.push(read_node(child, row.node, tally, sink));
        } else {
            reading.whole = false;
        }
    }
    tally.known.above.truncate(outer);
    for ChildSpec { node: row, .. } in spec.children.iter().filter(|row| row.times == Times::Once) {
        if !met.contains_key(row.name) {
            reading.whole = false;
            // One that is misspelt is told as unknown.
            let unknown = |child: &Node| !spec.children.iter().any(|known| known.node.name == child.name.value);
            let meant = |child: &Node| meant::name(&child.name.value, std::iter::once(row.name)).is_some();
            if node.children.iter().flatten().any(|child| unknown(child) && meant(child)) {
                continue;
            }
            sink.push(rules::node_missing(node, spec, row));
        }
    }
}

/// A value with its annotation, as it stands in the text.
#[derive(Clone, Copy)]
pub(crate) struct Written<'t> {
    /// The value.
    pub(crate) value: &'t Spanned<Value>,
    /// Its type annotation.
    pub(crate) annotation: Option<&'t Spanned<String>>,
}

type Read = Result<Datum, Box<Diagnostic>>;

fn read_value(field: &'static str, kind: Kind, written: Written<'_>, node: &Node) -> Read {
    let wrong = || Err(Box::new(rules::value_wrong_kind(node, field, kind, written)));
    let takes_unit = matches!(kind, Kind::Quantity(..) | Kind::Resistance);
    if let (Some(annotation), false) = (written.annotation, takes_unit) {
        return Err(Box::new(rules::unit_without_quantity(
            node,
            field,
            annotation.as_ref().map(String::as_str),
            written,
        )));
    }
    match (kind, &written.value.value) {
        (Kind::Name(_), Value::Text(text)) => {
            let plain = |c: char| (c.is_alphanumeric() && !unseen::is_unseen(c)) || matches!(c, '-' | '_' | '.');
            let good = !text.is_empty()
                && text.chars().count() <= 40
                && text.chars().all(plain)
                && !text.starts_with(['-', '.']);
            if good {
                Ok(Datum::Text(text.clone()))
            } else {
                Err(Box::new(rules::name_not_plain(node, field, written)))
            }
        }
        (Kind::Reference(_) | Kind::Slug | Kind::Path, Value::Text(text)) => Ok(Datum::Text(text.clone())),
        (Kind::Text(most), Value::Text(text)) => text_of(text, most, field, written, node),
        (Kind::Label(most), Value::Text(text)) if text.is_empty() || text.trim() != text => {
            let wanted = format!("text of 1 to {most} characters without blanks around it");
            Err(Box::new(rules::value_out_of_range(node, field, wanted, written)))
        }
        (Kind::Label(most), Value::Text(text)) => text_of(text, most, field, written, node),
        (Kind::Terminal, Value::Text(text)) if text.is_empty() => wrong(),
        (Kind::Terminal, Value::Text(text)) => text_of(text, 12, field, written, node),
        (Kind::Word(words), Value::Text(text)) => words
            .iter()
            .find(|w| w.word == text)
            .map(|w| Datum::Word(w.word))
            .ok_or_else(|| Box::new(rules::word_unknown(node, field, words, written))),
        (Kind::Integer(min, max), Value::Number { integer: Some(number), .. }) => {
            if (min..=max).contains(number) {
                Ok(Datum::Integer(*number))
            } else {
                Err(Box::new(rules::value_out_of_range(
                    node,
                    field,
                    format!("a whole number from {min} to {max}"),
                    written,
                )))
            }
        }
        (Kind::Flag, Value::Flag(flag)) => Ok(Datum::Flag(*flag)),
        (Kind::Money, Value::Number { written: digits, .. }) => {
            digits.replace('_', "").parse().map(Datum::Money).map_err(|_| {
                let wanted = "an amount from 0 to 1,000,000,000 with at most four decimals, as 23.40".to_owned();
                Box::new(rules::value_out_of_range(node, field, wanted, written))
            })
        }
        (Kind::Date, Value::Text(text)) => text
            .parse()
            .ok()
            // Some other forms are dates to the parser, as one with a time after it.
            .filter(|date: &jiff::civil::Date| date.to_string() == *text)
            .map(Datum::Date)
            .ok_or_else(|| Box::new(rules::no_day(node, field, text, written))),
        (Kind::Colour, Value::Text(text)) => text
            .parse()
            .map(Datum::Colour)
            .map_err(|fault| Box::new(rules::colour_unknown(node, field, &fault, written))),
        (Kind::Quantity(dimensions, sign), Value::Number { value, .. }) => {
            rules::quantity(node, field, dimensions, sign, *value, written).map(Datum::Quantity)
        }
        (Kind::Resistance, Value::Text(text)) => {
            let annotation = written.annotation.map(|unit| unit.value.as_str());
            match text.parse() {
                Ok(_) if annotation.is_some_and(|unit| unit != "ohm") => {
                    Err(Box::new(rules::marking_with_unit(node, field, written)))
                }
                Ok(resistance) => Ok(Datum::Resistance(resistance)),
                // A number in quotes is of the unit before it, and no marking.
                Err(_) if annotation.is_some() && meant::value(kind, &written.value.value, annotation).is_some() => {
                    wrong()
                }
                Err(fault) => Err(Box::new(rules::marking_unknown(node, field, &fault, written))),
            }
        }
        (Kind::Resistance, Value::Number { value, .. }) => {
            let dimensions: &'static [crate::quantity::Dimension] = &[crate::quantity::Dimension::Resistance];
            rules::quantity(node, field, dimensions, super::spec::Sign::Positive, *value, written)
                .map(|quantity| Datum::Resistance(Resistance::new(crate::quantity::Ohms(quantity.base()))))
        }
        _ => wrong(),
    }
}

fn text_of(text: &str, most: usize, field: &'static str, written: Written<'_>, node: &Node) -> Read {
    if text.chars().any(is_control) {
        return Err(Box::new(rules::text_with_control_characters(node, field, written)));
    }
    if let Some(character) = unseen::misleading(text) {
        return Err(Box::new(rules::text_with_unseen_characters(node, field, character, written)));
    }
    if unseen::is_blank(text) {
        let wanted = format!("text of at most {most} characters, some of which can be seen");
        return Err(Box::new(rules::value_out_of_range(node, field, wanted, written)));
    }
    if text.chars().count() > most {
        let wanted = format!("text of at most {most} characters");
        return Err(Box::new(rules::value_out_of_range(node, field, wanted, written)));
    }
    Ok(Datum::Text(text.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every node and every node in its braces, each once.
    fn all(spec: &'static NodeSpec, found: &mut Vec<&'static NodeSpec>) {
        if !found.iter().any(|other| std::ptr::eq(*other, spec)) {
            found.push(spec);
            spec.children.iter().for_each(|child| all(child.node, found));
        }
    }

    /// The example of every node in the reference is read without a finding, and sets what is required of it.
    #[test]
    fn every_example_is_read() {
        let mut specs = Vec::new();
        TOP.iter().chain(REGISTER).for_each(|spec| all(spec, &mut specs));
        for spec in specs {
            let mut sink = Sink::default();
            let document = crate::syntax::parse(crate::base::FileId::default(), spec.example, &mut sink);
            let readings = read_with(&[spec], &document, &mut Tally::new(), &mut sink);
            let titles: Vec<&str> = sink.found().iter().map(|found| found.title.as_str()).collect();
            assert_eq!(titles, [""; 0], "{}: {}", spec.name, spec.example);
            assert!(!readings.is_empty(), "{}: {}", spec.name, spec.example);
        }
    }
}
