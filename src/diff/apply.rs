//! A diff applied to facts, and a diff seen from the other side.

use std::collections::BTreeMap;

use super::facts::{Facts, Thing};
use super::{Atom, Change, Diff, FieldChange, Subject, Value};

/// The facts of the new site, from those of the old one and the diff alone.
pub fn apply(old: &Facts, diff: &Diff) -> Facts {
    let mut facts = Facts::new();
    for (subject, thing) in old {
        let fields = thing.fields.iter().map(|(name, value)| (name.clone(), renamed(value, &diff.renamed))).collect();
        let subject = diff.renamed.get(subject).unwrap_or(subject).clone();
        facts.insert(subject, Thing { fields, ..thing.clone() });
    }
    for change in &diff.changes {
        match (&change.old, &change.new) {
            (Some((subject, _)), None) => {
                facts.remove(subject);
            }
            (None, Some((subject, thing))) => {
                facts.insert(subject.clone(), thing.clone());
            }
            (_, Some((subject, _))) => {
                let Some(thing) = facts.get_mut(subject) else { continue };
                for FieldChange { field, old: _, new } in &change.fields {
                    match new {
                        Some(value) => thing.fields.insert(field.clone(), value.clone()),
                        None => thing.fields.remove(field),
                    };
                }
            }
            (None, None) => {}
        }
    }
    facts
}

/// The diff from the new site to the old one.
#[must_use]
pub fn mirrored(diff: &Diff) -> Diff {
    let changes = diff.changes.iter().map(|change| Change {
        old: change.new.clone(),
        new: change.old.clone(),
        fields: change
            .fields
            .iter()
            .map(|field| FieldChange { field: field.field.clone(), old: field.new.clone(), new: field.old.clone() })
            .collect(),
    });
    let renamed = diff.renamed.iter().map(|(old, new)| (new.clone(), old.clone())).collect();
    Diff { changes: super::sorted(changes.collect()), renamed }
}

/// A value with its references under their new names.
pub fn renamed(value: &Value, names: &BTreeMap<Subject, Subject>) -> Value {
    let atom = |atom: &Atom| match atom {
        Atom::Thing(subject) => Atom::Thing(names.get(subject).unwrap_or(subject).clone()),
        other => other.clone(),
    };
    value.iter().map(atom).collect()
}
