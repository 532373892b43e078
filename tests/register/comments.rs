//! The text of a register: comments stay, and what has not changed stays byte for byte.

use super::{House, zone};

fn three() -> String {
    (1..=3).map(|number| zone(number, "", "", &format!("Button {number}"))).collect()
}

fn without(number: u32) -> String {
    (1..=3).filter(|n| *n != number).map(|n| zone(n, "", "", &format!("Button {n}"))).collect()
}

#[test]
fn comments_stay_where_people_put_them() {
    let mut house = House::new(&three());
    house.good();
    house.edit("register.kdl", "label \"Z1\"", "// pulled in March, behind the panelling\nlabel \"Z1\"");
    house.edit("register.kdl", "near=\"board-a I1\"", "near=\"board-a I1\" // ferrule");
    house.edit("register.kdl", "input 2", "/* checked */ input 2");
    house.edit("register.kdl", "zone=3\n", "zone=3 // spare pair behind\n");
    let before = house.register().to_owned();
    assert!(house.good().register.is_none());
    house.spec(&(without(2) + &zone(4, "", "", "Button 4")));
    house.good();
    let after = house.register();
    for kept in [
        "// pulled in March, behind the panelling\nlabel \"Z1\" of",
        "near=\"board-a I1\" // ferrule\n    wire 2",
        "zone=3 // spare pair behind\n",
        "/* checked */",
    ] {
        assert!(after.contains(kept), "{kept} in\n{after}");
    }
    let same = |label: &str| {
        let mut old = house.clone();
        old.files.insert("register.kdl".into(), before.clone());
        assert_eq!(old.label(label), house.label(label));
    };
    same("Z1");
    same("Z3");
}

#[test]
fn only_what_has_changed_is_touched() {
    let mut house = House::new(&three());
    house.good();
    let before: Vec<String> = house.register().lines().map(str::to_owned).collect();
    house.spec(&(without(2) + &zone(4, "", "", "Button 4")));
    house.good();
    let after: Vec<&str> = house.register().lines().collect();
    let gone: Vec<&String> = before.iter().filter(|line| !after.contains(&line.as_str())).collect();
    let new: Vec<&&str> = after.iter().filter(|line| !before.iter().any(|old| old == *line)).collect();
    assert_eq!(gone.len(), 2, "{gone:?}");
    assert_eq!(new.len(), 5, "{new:?}");
    let blocks = house.register().matches("\n\nlabel ").count();
    assert_eq!(blocks, 4, "{}", house.register());
}

#[test]
fn a_register_in_another_layout_is_changed_in_that_layout() {
    let mut house = House::new(&three());
    house.good();
    let text = house.register().replace("{\n    ", "{ ").replace("\"\n    ", "\"; ").replace("\"\n}", "\" }");
    house.files.insert("register.kdl".into(), text.replace('\n', "\r\n"));
    assert!(house.good().register.is_none());
    house.spec(&(without(2) + &zone(4, " input=4", "", "Button 4")));
    house.good();
    assert!(house.register().contains("label \"Z1\" of=\"zone 1\" cable=\"pair\" room=\"lobby\" { mounted"));
    assert!(!house.register().replace("\r\n", "").contains('\n'));
    assert!(house.good().register.is_none());
}

#[test]
fn a_comment_inside_what_is_replaced_stands_above_it() {
    let mut house = House::new(&three());
    house.good();
    house.edit("register.kdl", "wire 1 \"loop-out\"", "wire 1 /* tinned */ \"loop-out\"");
    house.spec(&(without(1) + &zone(1, " input=4", "", "Button 1")));
    house.good();
    assert!(house.label("Z1").contains("    /* tinned */\n    wire 1 \"loop-out\""), "{}", house.label("Z1"));
}

#[test]
fn a_last_line_without_an_end_gets_the_one_of_the_others() {
    for newline in ["\n", "\r\n"] {
        let mut house = House::new(&three());
        house.good();
        let text = house.register().trim_end().replace('\n', newline);
        house.files.insert("register.kdl".into(), text);
        house.spec(&without(2));
        house.good();
        assert!(house.register().ends_with(&format!("}}{newline}")), "{:?}", house.register());
    }
}

/// The blank line below the head stays where the first node below it goes.
#[test]
fn a_blank_line_stays_before_what_follows() {
    let mut house = House::new(&three());
    house.good();
    house.spec(&without(1));
    house.good();
    assert!(house.register().contains("register version=1\n\ninput 2"), "{}", house.register());
    assert!(!house.register().contains("\n\n\n"), "{}", house.register());
}
