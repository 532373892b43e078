//! The work order as a sheet: its template, its page, its JSON.

use handlebars::template::Template;
use loopwright::diff::What;
use loopwright::emit;
use loopwright::views::value;
use loopwright::views::work_order::{DOCUMENT, Remarks, Sides, WorkOrder};

use super::sites::{FULL, Made, empty_site, full_site, hostile_site, site};
use super::template_check::{faults, reserved};

fn order(old: &Made, new: &Made) -> WorkOrder {
    let remarks = Remarks { doubts: vec!["a doubt".into()], sheets: vec!["Loop sheet".into()], ..Remarks::default() };
    WorkOrder::of(&Sides::of(&old.material(), &new.material()), &remarks)
}

/// The full house with something of every kind gone, come and moved.
fn other() -> Made {
    let (before, after) = FULL.split_once("zone 5").unwrap();
    let after = after.split_once("bus \"data\"").unwrap().1;
    let text = format!("{before}bus \"data\"{after}")
        .replace("length=(ft)38", "length=(ft)60")
        .replace("input=2", "input=4")
        .replace("entry=(s)30", "entry=(s)45")
        .replace("part=\"keypad-a\" address=1", "part=\"receiver-a\" address=7")
        .replace("resistor \"2k2\"", "resistor \"4k7\"")
        .replace("sounder \"sounder\";", "sounder \"sounder\"; sounder \"sounder\" title=\"Second\";");
    site(&text)
}

#[test]
fn the_template_fits_the_view() {
    let orders = [order(&full_site(), &other()), order(&other(), &full_site())];
    let views: Vec<_> = orders.iter().map(value).collect();
    let template = Template::compile(DOCUMENT.template).unwrap();
    assert_eq!(faults(&template, &views), Vec::<String>::new());
    assert_eq!(views.iter().flat_map(reserved).collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn every_kind_of_step_is_given() {
    let order = order(&full_site(), &other());
    let kinds: Vec<&str> = order.places.iter().flat_map(|place| &place.steps).map(|step| step.kind).collect();
    for kind in ["remove", "pull", "label", "mount", "land", "fit", "address"] {
        assert!(kinds.contains(&kind), "{kind} in {kinds:?}");
    }
    let texts = |steps: &[loopwright::views::work_order::Step]| -> String {
        steps.iter().map(|step| format!("{}\n", step.text)).collect()
    };
    assert!(texts(&order.before).contains("unplug the transformer"));
    assert!(texts(&order.before).contains("zone 4"), "the smoke loop is out of service");
    assert!(texts(&order.program).contains("entry delay 30 s → 45 s"), "{}", texts(&order.program));
    assert!(texts(&order.program).contains("Delete zone 5 Shed door"));
    assert!(texts(&order.walk).contains("Second sounds"), "{}", texts(&order.walk));
    let one = order.measure.iter().find(|line| line.zone == "1").unwrap();
    assert!(one.ohms.starts_with("4.7") && one.was.starts_with("2.2"), "{one:?}");
    let gone: Vec<&str> = order.service.iter().map(|line| line.what).collect();
    assert_eq!(gone, ["gone"], "only the lines that differ");
    assert!(order.changes.iter().any(|change| change.what == "reads"));
}

#[test]
fn no_text_leaves_its_place_on_the_page() {
    for (old, new) in [(empty_site(), hostile_site()), (hostile_site(), empty_site()), (hostile_site(), full_site())] {
        let order = order(&old, &new);
        let (markdown, page) = emit::work_order(&order);
        assert!(!page.contains("<script") && !page.contains("href=\"javascript"), "{page}");
        assert_eq!(page.matches("</style>").count(), 1);
        let ticks = order.before.len() + order.after.len() + order.walk.len() + order.program.len() + order.paper.len();
        let ticks = ticks + order.places.iter().map(|place| place.steps.len()).sum::<usize>();
        assert_eq!(page.matches("<span class=\"tick\">").count(), ticks, "one box a step");
        assert_eq!(markdown.matches("- [ ] ").count(), ticks);
    }
}

#[test]
fn the_json_fits_its_schema() {
    let schema = serde_json::from_str(&WorkOrder::schema()).unwrap();
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    for (old, new) in [(full_site(), other()), (empty_site(), empty_site()), (empty_site(), full_site())] {
        let mut json: serde_json::Value = serde_json::from_str(&order(&old, &new).json()).unwrap();
        let faults: Vec<String> = validator.iter_errors(&json).map(|fault| fault.to_string()).collect();
        assert!(faults.is_empty(), "{faults:?}");
        json["version"] = 2.into();
        assert!(!validator.is_valid(&json));
    }
}

#[test]
fn nothing_to_do_is_no_work() {
    let order = order(&full_site(), &full_site());
    assert!(!order.steps && order.places.is_empty() && order.changes.is_empty());
    assert_eq!(order.summary, "nothing differs");
    let made = full_site();
    let changed = other();
    let sides = Sides::of(&made.material(), &changed.material());
    assert!(sides.found.diff.changes.iter().any(|change| change.what() == What::Removed));
}
