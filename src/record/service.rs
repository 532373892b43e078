//! What the monitoring service's form wants, what things cost, and the findings that the site accepts.

use super::item::{Printed, record};
use crate::base::Spanned;
use crate::model;
use crate::quantity::{Money, Seconds};

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

    /// What things cost.
    Prices {
        /// The currency as printed.
        currency: Option<String> => "currency",
        /// The prices, in the order of the text.
        list: Vec<Price> => "price of",
    }

    /// What one of a thing costs.
    Price by what {
        /// The name of a part or a type of cable (of which it is the price of a box), or what the list of materials calls it.
        what: String,
        /// The amount.
        each: Printed<Money> => "",
    }

    /// A finding that the site accepts.
    Accepted {
        /// The rule's stable name.
        rule: String => "rule",
        /// Only about this zone, or this name where no zone is given.
        about: Option<String> => "about",
        /// And only about this name, where a zone is given as well.
        about_name: Option<String> => "about the name",
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
            test_every_seconds: test_every.as_ref().map(|every| every.value),
            duress: *duress,
            handling: handling
                .iter()
                .map(|(group, action)| Handling { group: group.value.word(), action: action.clone() })
                .collect(),
        }
    }
}

impl Prices {
    /// What things cost.
    pub(crate) fn of(prices: &model::Prices) -> Self {
        let model::Prices { currency, of } = prices;
        let price =
            |model::Price { what, each }: &model::Price| Price { what: what.value.clone(), each: Printed(*each) };
        Self { currency: currency.clone(), list: of.iter().map(price).collect() }
    }
}

impl Accepted {
    /// An accepted finding.
    pub(crate) fn of(accept: &model::Accept) -> Self {
        let model::Accept { rule, zone, name, because } = accept;
        let said = |subject: &Option<Spanned<String>>| subject.as_ref().map(|subject| subject.value.clone());
        Self {
            rule: rule.value.clone(),
            about: said(zone).or_else(|| said(name)),
            about_name: zone.as_ref().and_then(|_| said(name)),
            because: because.clone(),
        }
    }
}
