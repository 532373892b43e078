//! What the monitoring service's form wants, and the findings that the site accepts.

use super::item::record;
use crate::model;
use crate::quantity::Seconds;

record! {
    /// What the monitoring service's form wants.
    Monitoring {
        /// What the communicator speaks.
        format: Option<&'static str> => "format",
        /// Characters that the form has for a description.
        description_width: u32 => "description width",
        /// How many zones the form has lines for.
        zones: Option<u32> => "zones on the form",
        /// Interval of the test report in seconds.
        test_every_seconds: Option<Seconds> => "test report every",
        /// True where a code for use under threat is set up.
        duress: bool => "duress",
        /// Expected handling by group of events, as the spec gives it.
        handling: Vec<Handling> => "handling of",
    }

    /// How a group of events is handled.
    Handling by group {
        /// The group.
        group: &'static str,
        /// What the service does.
        action: String => "",
    }

    /// A finding that the site accepts.
    Accepted {
        /// The rule's stable name.
        rule: String => "rule",
        /// Only about this zone or name.
        about: Option<String> => "about",
        /// The reason.
        because: String => "because",
    }
}

impl Monitoring {
    /// What the form wants.
    pub(crate) fn of(monitoring: &model::Monitoring) -> Self {
        let model::Monitoring { format, description_width, zones, test_every, duress, handling } = monitoring;
        Self {
            format: format.as_ref().map(|format| format.value.word()),
            description_width: description_width.value,
            zones: zones.as_ref().map(|zones| zones.value),
            test_every_seconds: *test_every,
            duress: *duress,
            handling: handling
                .iter()
                .map(|(group, action)| Handling { group: group.value.word(), action: action.clone() })
                .collect(),
        }
    }
}

impl Accepted {
    /// An accepted finding.
    pub(crate) fn of(accept: &model::Accept) -> Self {
        let model::Accept { rule, subject, because } = accept;
        Self {
            rule: rule.value.clone(),
            about: subject.as_ref().map(|subject| subject.value.clone()),
            because: because.clone(),
        }
    }
}
