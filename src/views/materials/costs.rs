//! What the lines of the list cost, where the spec has prices.

use std::collections::BTreeMap;

use serde::Serialize;

use super::list::Line;
use crate::base::wording::count;
use crate::materials::goods::Kind;
use crate::model::Prices;
use crate::quantity::Money;

/// What is printed for a line without a price.
const NONE: &str = "no price";

/// The price of one, and of all with their spares.
pub(super) struct Cost {
    each: Option<Money>,
    pub(super) sum: Money,
}

impl Cost {
    pub(super) fn of(prices: &Prices, line: &Line) -> Self {
        let each = prices.of.iter().find(|price| is_of(&price.what.value, line)).map(|price| price.each);
        Self { each, sum: each.unwrap_or_default().times(line.count + line.spare) }
    }

    /// Price and sum as printed.
    pub(super) fn printed(&self) -> [String; 2] {
        match self.each {
            Some(each) => [each.to_string(), self.sum.to_string()],
            None => [NONE.to_owned(), String::new()],
        }
    }
}

fn is_of(what: &str, line: &Line) -> bool {
    line.name.as_deref() == Some(what) || line.what == what
}

/// The sums, at the end of the list.
#[derive(Serialize)]
pub(super) struct Sums {
    currency: String,
    kinds: Vec<Sum>,
    all: String,
    /// How many lines have no price; empty where all have one.
    without: String,
    /// Prices that are of nothing on the list.
    unused: String,
}

#[derive(Serialize)]
struct Sum {
    kind: &'static str,
    sum: String,
}

/// The sums of the lines; `None` where the spec has no prices.
pub(super) fn sums(prices: &Prices, lines: &[Line]) -> Option<Sums> {
    if prices.of.is_empty() {
        return None;
    }
    let mut kinds: BTreeMap<Kind, Money> = BTreeMap::new();
    let costs: Vec<Cost> = lines.iter().map(|line| Cost::of(prices, line)).collect();
    for (line, cost) in lines.iter().zip(&costs).filter(|(_, cost)| cost.each.is_some()) {
        let kind = kinds.entry(line.kind).or_default();
        *kind = [*kind, cost.sum].into_iter().sum();
    }
    let without = costs.iter().filter(|cost| cost.each.is_none()).count();
    let unused = prices.of.iter().filter(|price| !lines.iter().any(|line| is_of(&price.what.value, line)));
    Some(Sums {
        currency: prices.currency.clone().unwrap_or_default(),
        all: kinds.values().copied().sum::<Money>().to_string(),
        kinds: kinds.into_iter().map(|(kind, sum)| Sum { kind: kind.word(), sum: sum.to_string() }).collect(),
        without: if without == 0 { String::new() } else { count(without, "line", None) },
        unused: unused.map(|price| price.what.value.clone()).collect::<Vec<_>>().join(", "),
    })
}
