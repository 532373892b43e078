//! Costs: what the lines of the list of materials cost, where the spec has prices.
//!
//! For whoever pays for the goods: what they are bought for is nobody else's business.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::super::{Document, Orientation, Table, View, value};
use super::list::{self, Line};
use crate::base::wording::count;
use crate::compiled::Compiled;
use crate::materials::cable::lots;
use crate::materials::goods::Kind;
use crate::model::{Price, Prices};
use crate::quantity::Money;

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "costs",
    title: "Costs",
    about: "what the materials cost, where the spec has prices",
    orientation: Orientation::Portrait,
    template: crate::template!("costs"),
    view: View::Plain(view),
    table: Some(table),
};

#[derive(Serialize)]
struct Sheet {
    rows: Vec<Row>,
    /// One, or none where there are no prices.
    sums: Vec<Sums>,
}

/// A line of the list.
#[derive(Serialize)]
struct Row {
    /// Its kind, in the first row of that kind.
    kind: &'static str,
    what: String,
    /// With the spares.
    count: String,
    unit: String,
    price: String,
    sum: String,
}

fn view(compiled: &Compiled) -> Value {
    let (rows, sums) = of(compiled).unzip();
    let mut last = None;
    let first_of_kind = |row: Row| {
        let repeated = last.replace(row.kind) == Some(row.kind);
        if repeated { Row { kind: "", ..row } } else { row }
    };
    value(&Sheet { rows: rows.into_iter().flatten().map(first_of_kind).collect(), sums: sums.into_iter().collect() })
}

fn table(compiled: &Compiled) -> Table {
    let columns = vec!["kind", "what", "how many", "unit", "price each", "sum"];
    let rows = of(compiled).into_iter().flat_map(|(rows, _)| rows);
    let cells = |row: Row| vec![row.kind.to_owned(), row.what, row.count, row.unit, row.price, row.sum];
    Table { columns, rows: rows.map(cells).collect() }
}

/// The lines with what they cost, and the sums; `None` where the spec has no prices.
fn of(compiled: &Compiled) -> Option<(Vec<Row>, Sums)> {
    let prices = &compiled.site.prices;
    if prices.of.is_empty() {
        return None;
    }
    let lines = list::lines(compiled, &lots(&compiled.site, &compiled.wiring));
    let costs = costs(prices, &lines);
    let sums = sums(prices, &lines, &costs);
    let row = |(line, cost): (Line, Cost)| {
        let [price, sum] = cost.printed();
        let count = (line.count + line.spare).to_string();
        Row { kind: line.kind.word(), what: line.what, count, unit: line.unit, price, sum }
    };
    Some((lines.into_iter().zip(costs).map(row).collect(), sums))
}

/// What is printed for a line without a price.
const NONE: &str = "no price";

/// The price of one, and of all with their spares.
struct Cost {
    each: Option<Money>,
    sum: Money,
}

impl Cost {
    /// Price and sum as printed.
    fn printed(&self) -> [String; 2] {
        match self.each {
            Some(each) => [each.to_string(), self.sum.to_string()],
            None => [NONE.to_owned(), String::new()],
        }
    }
}

/// What each line costs. A price that is of two lines is of neither: which of them it was written for is not known.
fn costs(prices: &Prices, lines: &[Line]) -> Vec<Cost> {
    let of_one = |price: &Price| if let [only] = lines_of(price, lines)[..] { Some((only, price.each)) } else { None };
    let of_one: Vec<(usize, Money)> = prices.of.iter().filter_map(of_one).collect();
    let cost = |(at, line): (usize, &Line)| {
        let each = of_one.iter().find(|(of, _)| *of == at).map(|(_, each)| *each);
        Cost { each, sum: each.unwrap_or_default().times(line.count + line.spare) }
    };
    lines.iter().enumerate().map(cost).collect()
}

/// The lines that a price is of, by its name in the spec or by what the list calls it.
fn lines_of(price: &Price, lines: &[Line]) -> Vec<usize> {
    let what = &price.what.value;
    let is_of = |line: &Line| line.name.as_ref() == Some(what) || line.what == *what;
    lines.iter().enumerate().filter(|(_, line)| is_of(line)).map(|(at, _)| at).collect()
}

/// The sums, at the end of the list.
#[derive(Serialize)]
struct Sums {
    currency: String,
    kinds: Vec<Sum>,
    all: String,
    /// How many lines have no price; empty where all have one.
    without: String,
    /// Prices that are of nothing on the list.
    unused: String,
    /// Prices that are of two lines, and so of neither.
    shared: String,
}

#[derive(Serialize)]
struct Sum {
    kind: &'static str,
    sum: String,
}

/// The sums of the lines.
fn sums(prices: &Prices, lines: &[Line], costs: &[Cost]) -> Sums {
    let mut kinds: BTreeMap<Kind, Money> = BTreeMap::new();
    for (line, cost) in lines.iter().zip(costs).filter(|(_, cost)| cost.each.is_some()) {
        let kind = kinds.entry(line.kind).or_default();
        *kind = [*kind, cost.sum].into_iter().sum();
    }
    let without = costs.iter().filter(|cost| cost.each.is_none()).count();
    let of = |wanted: fn(usize) -> bool| {
        let fitting = prices.of.iter().filter(|price| wanted(lines_of(price, lines).len()));
        fitting.map(|price| price.what.value.clone()).collect::<Vec<_>>().join(", ")
    };
    Sums {
        currency: prices.currency.clone().unwrap_or_default(),
        all: kinds.values().copied().sum::<Money>().to_string(),
        kinds: kinds.into_iter().map(|(kind, sum)| Sum { kind: kind.word(), sum: sum.to_string() }).collect(),
        without: if without == 0 { String::new() } else { count(without, "line", None) },
        unused: of(|lines| lines == 0),
        shared: of(|lines| lines > 1),
    }
}
