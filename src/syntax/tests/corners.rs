//! Corners of the KDL 2 grammar, and the exact places of everything in the tree.

use super::*;
use crate::base::Span;

fn sound(text: &str) -> Vec<Node> {
    let (document, found) = parsed(text);
    assert!(found.is_empty() && document.broken.is_empty(), "{text:?}: {found:?}");
    document.nodes
}

/// `name(argument,…;key=value,…;children)` of each node.
fn shape(nodes: &[Node]) -> String {
    let value = |v: &Value| match v {
        Value::Text(text) => format!("{text:?}"),
        Value::Number { written, .. } => written.clone(),
        Value::Flag(flag) => format!("#{flag}"),
        Value::Null => "#null".into(),
    };
    let annotated = |a: &Option<crate::base::Spanned<String>>, v: &Value| match a {
        Some(a) => format!("({}){}", a.value, value(v)),
        None => value(v),
    };
    let one = |n: &Node| {
        let mut parts: Vec<String> = n.arguments.iter().map(|a| annotated(&a.annotation, &a.value.value)).collect();
        parts.extend(
            n.properties.iter().map(|p| format!("{}={}", p.name.value, annotated(&p.annotation, &p.value.value))),
        );
        parts.extend(n.children.as_ref().map(|c| format!("{{{}}}", shape(c))));
        let annotation = n.annotation.as_ref().map_or(String::new(), |a| format!("({})", a.value));
        format!("{annotation}{}[{}]", n.name.value, parts.join(" "))
    };
    nodes.iter().map(one).collect::<Vec<_>>().join(" ")
}

#[test]
fn grammar_corners() {
    for (text, expected) in [
        ("", ""),
        (" \n\t\n", ""),
        ("a", "a[]"),
        ("a;b", "a[] b[]"),
        ("a; b // c\nd", "a[] b[] d[]"),
        ("a {}", "a[{}]"),
        ("a{}", "a[{}]"),
        ("a 1{b}", "a[1 {b[]}]"),
        ("a { b; c }", "a[{b[] c[]}]"),
        ("a {\nb\n}\nc", "a[{b[]}] c[]"),
        ("\"a b\" 1", "a b[1]"),
        ("#\"a\"# 1", "a[1]"),
        ("(t)a (u)1 k=(v)\"x\"", "(t)a[(u)1 k=(v)\"x\"]"),
        ("( t )a", "(t)a[]"),
        ("a (t) 1", "a[(t)1]"),
        ("a k = 1", "a[k=1]"),
        ("a \"k\"=1 #\"l\"#=2", "a[k=1 l=2]"),
        ("a \\\n  1", "a[1]"),
        ("a \\ // why\n  1 \\\n\n b", "a[1] b[]"),
        ("a \\", "a[]"),
        ("\\\na", "a[]"),
        ("/- a 1\nb", "b[]"),
        ("/-a { x }\nb", "b[]"),
        ("/- a; b", "b[]"),
        ("/-\na\nb", "b[]"),
        ("/- // why\n\na 1\nb", "b[]"),
        ("a /-1 2", "a[2]"),
        ("a 1 /-k=2", "a[1]"),
        ("a /- k = (t)2 3", "a[3]"),
        ("a 1 /-\n2 3", "a[1 3]"),
        ("a /-{ x } { y }", "a[{y[]}]"),
        ("a 1 /-{ x }", "a[1]"),
        ("a { x } /-{ y }\nb", "a[{x[]}] b[]"),
        ("a { /- x; y }", "a[{y[]}]"),
        ("a { y; /- x }", "a[{y[]}]"),
        ("a /-{ /- x; y /-{ z } }\n", "a[]"),
        ("a /* b */ 1 /* c\n d */ 2", "a[1 2]"),
        ("/* a /* b */ c */ d", "d[]"),
        ("a /***** b // c *****/ 1", "a[1]"),
        ("a//b", "a[]"),
        ("a/**/1", "a[1]"),
        ("a \"\"", "a[\"\"]"),
        ("a \"\\n\\t\\\\\\\"\\s\\u{e9}\"", "a[\"\\n\\t\\\\\\\" é\"]"),
        ("a \"x \\\n   y\"", "a[\"x y\"]"),
        ("a \"\"\"\n  x\n    y\n  \"\"\" 1", "a[\"x\\n  y\" 1]"),
        ("a #\"\\d \"x\"#", "a[\"\\\\d \\\"x\"]"),
        ("a #\"\"\"\n \"\"\" x\n \"\"\"#", "a[\"\\\"\\\"\\\" x\"]"),
        ("a ##\"x\"# y\"##", "a[\"x\\\"# y\"]"),
        ("a 0x1F 0o17 0b11 1_000 -1.5 +2 1e3 1.5E-2", "a[0x1F 0o17 0b11 1_000 -1.5 +2 1e3 1.5E-2]"),
        ("a #true #false #null", "a[#true #false #null]"),
        (
            "a b-c d.e f+g .h - -- + a,b a:b q'",
            "a[\"b-c\" \"d.e\" \"f+g\" \".h\" \"-\" \"--\" \"+\" \"a,b\" \"a:b\" \"q'\"]",
        ),
        ("é ü=ö", "é[ü=\"ö\"]"),
        ("a\r\nb\rc\u{2028}d", "a[] b[] c[] d[]"),
        ("a\u{3000}1\u{a0}2", "a[1 2]"),
        ("r 1\nreed \"r\"", "r[1] reed[\"r\"]"),
        ("true-blue 1", "true-blue[1]"),
    ] {
        assert_eq!(shape(&sound(text)), expected, "{text:?}");
    }
}

#[test]
fn spans_are_exact() {
    let text = "é 1\r\n(t)nöde \"wört\" (ft) 38.0 /-9 k = (m)\"x\" { /* é */ c #true }  // e\r\n";
    let nodes = sound(text);
    let node = &nodes[1];
    let at = |span: Span| &text[span.start..span.end];
    assert_eq!(at(node.name.span), "nöde");
    assert_eq!(at(node.annotation.as_ref().unwrap().span), "t");
    assert_eq!(at(node.arguments[0].value.span), "\"wört\"");
    assert_eq!(at(node.arguments[1].value.span), "38.0");
    assert_eq!(at(node.arguments[1].annotation.as_ref().unwrap().span), "ft");
    assert_eq!(at(node.arguments[1].span), "(ft) 38.0");
    assert_eq!(at(node.properties[0].name.span), "k");
    assert_eq!(at(node.properties[0].value.span), "\"x\"");
    assert_eq!(at(node.properties[0].span), "k = (m)\"x\"");
    assert_eq!(at(node.span), &text[6..text.find("  // e").unwrap()]);
    let child = &node.children.as_ref().unwrap()[0];
    assert_eq!(at(child.span), "c #true");
}

#[test]
fn values_are_kept_as_written() {
    let nodes = sound("a 0x1F 4.70 7");
    let numbers: Vec<&Value> = nodes[0].arguments.iter().map(|a| &a.value.value).collect();
    assert_eq!(*numbers[0], Value::Number { written: "0x1F".into(), value: 31.0, integer: Some(31) });
    assert_eq!(*numbers[1], Value::Number { written: "4.70".into(), value: 4.7, integer: None });
    assert_eq!(*numbers[2], Value::Number { written: "7".into(), value: 7.0, integer: Some(7) });
}

#[test]
fn includes_are_found_without_reading_the_rest() {
    let text = "include \"a.kdl\"\nlevel { include \"no.kdl\" }\nx 4k7\n/- include \"no.kdl\"\n\"include\" b 1 // c\ninclude \"c.kdl\"; include \"d";
    assert_eq!(include_targets(text), ["a.kdl", "b", "c.kdl"]);
}
