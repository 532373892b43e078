//! A diff applied to facts, and a diff seen from the other side.

use loopwright::diff::facts::{Facts, Thing};
use loopwright::diff::{Change, Diff, FieldChange, Subject, renamed};

/// The facts of the new site, from those of the old one and the diff alone.
pub fn apply(old: &Facts, diff: &Diff) -> Facts {
    let mut facts = Facts::new();
    // What goes is gone before another thing has its key.
    let goes = |subject| diff.changes.iter().any(|change| change.new.is_none() && is_of(&change.old, subject));
    for (subject, thing) in old.iter().filter(|(subject, _)| !goes(subject)) {
        let fields = thing.fields.iter().map(|(name, value)| (name.clone(), renamed(value, &diff.renamed))).collect();
        let subject = diff.renamed.get(subject).unwrap_or(subject).clone();
        facts.insert(subject, Thing { fields, ..thing.clone() });
    }
    for change in &diff.changes {
        match (&change.old, &change.new) {
            (_, None) => {}
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
        }
    }
    facts
}

fn is_of(side: &Option<(Subject, Thing)>, subject: &Subject) -> bool {
    side.as_ref().is_some_and(|(of, _)| of == subject)
}

/// The diff from the new site to the old one; its changes are in the order of the old one.
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
    Diff { changes: changes.collect(), renamed }
}
