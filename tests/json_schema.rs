//! JSON Schema 2020-12, as much of it as the program's own schemas use. Another keyword panics: what is not understood is
//! not passed over.

use serde_json::Value;

/// What does not fit, with its place in the value; empty where all fits.
pub fn faults(schema: &Value, value: &Value) -> Vec<String> {
    check(schema, schema, value, "")
}

fn check(root: &Value, schema: &Value, value: &Value, at: &str) -> Vec<String> {
    let Some(keywords) = schema.as_object() else {
        return if *schema == Value::Bool(true) { Vec::new() } else { vec![format!("{at}: nothing fits here")] };
    };
    let mut faults = Vec::new();
    for (keyword, wanted) in keywords {
        let fits = |schema: &Value| check(root, schema, value, at).is_empty();
        let good = match keyword.as_str() {
            "$schema" | "$defs" | "title" | "description" | "format" => true,
            "$ref" => {
                let pointer = wanted.as_str().and_then(|text| text.strip_prefix('#')).expect("a place in this schema");
                faults.extend(check(root, root.pointer(pointer).expect("what is referred to"), value, at));
                true
            }
            "type" => match wanted {
                Value::Array(types) => types.iter().any(|one| is(one, value)),
                one => is(one, value),
            },
            "const" => wanted == value,
            "enum" => list(wanted).contains(value),
            "anyOf" => list(wanted).iter().any(fits),
            "oneOf" => list(wanted).iter().filter(|schema| fits(schema)).count() == 1,
            "minimum" => value.as_f64().is_none_or(|number| number >= wanted.as_f64().unwrap()),
            "minItems" => value.as_array().is_none_or(|items| items.len() as u64 >= wanted.as_u64().unwrap()),
            "maxItems" => value.as_array().is_none_or(|items| items.len() as u64 <= wanted.as_u64().unwrap()),
            "items" => {
                for (index, item) in value.as_array().into_iter().flatten().enumerate() {
                    faults.extend(check(root, wanted, item, &format!("{at}/{index}")));
                }
                true
            }
            "required" => {
                let has = |name: &Value| value.get(name.as_str().unwrap()).is_some();
                !value.is_object() || list(wanted).iter().all(has)
            }
            "properties" => {
                for (name, schema) in wanted.as_object().unwrap() {
                    faults.extend(
                        value.get(name).into_iter().flat_map(|v| check(root, schema, v, &format!("{at}/{name}"))),
                    );
                }
                true
            }
            "additionalProperties" => {
                let known = schema.get("properties");
                let others = value.as_object().into_iter().flatten();
                for (name, other) in others.filter(|(name, _)| known.is_none_or(|known| known.get(name).is_none())) {
                    faults.extend(check(root, wanted, other, &format!("{at}/{name}")));
                }
                true
            }
            other => panic!("the keyword {other} is not understood"),
        };
        if !good {
            faults.push(format!("{at}: {value} against {keyword} {wanted}"));
        }
    }
    faults
}

fn is(name: &Value, value: &Value) -> bool {
    match name.as_str().unwrap() {
        "null" => value.is_null(),
        "boolean" => value.is_boolean(),
        "string" => value.is_string(),
        "number" => value.is_number(),
        "integer" => value.as_f64().is_some_and(|number| number.fract() == 0.0),
        "array" => value.is_array(),
        "object" => value.is_object(),
        other => panic!("no type of JSON: {other}"),
    }
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list in the schema")
}

#[test]
fn every_keyword_takes_and_refuses() {
    let schema = |text: &str| serde_json::from_str::<Value>(text).unwrap();
    for (text, good, bad) in [
        ("true", "1", ""),
        ("false", "", "1"),
        (r#"{"type": "integer", "minimum": 0}"#, "3", "-1 0.5 null"),
        (r#"{"type": ["string", "null"]}"#, "\"x\" null", "true 1 [] {}"),
        (r#"{"const": 1}"#, "1", "2"),
        (r#"{"enum": ["a", 2]}"#, "\"a\" 2", "\"b\""),
        (r#"{"anyOf": [{"type": "number"}, {"type": "integer"}]}"#, "1 1.5", "\"1\""),
        (r#"{"oneOf": [{"type": "number"}, {"type": "integer"}]}"#, "1.5", "1 null"),
        (
            r#"{"items": {"type": "boolean"}, "minItems": 1, "maxItems": 2}"#,
            "[true] [true,false]",
            "[] [1] [true,true,true]",
        ),
        (
            r#"{"properties": {"a": {"type": "null"}}, "required": ["a"]}"#,
            r#"{"a":null} {"a":null,"b":1}"#,
            r#"{} {"a":1}"#,
        ),
        (r#"{"properties": {"a": true}, "additionalProperties": false}"#, r#"{} {"a":1}"#, r#"{"b":1}"#),
        (r##"{"items": {"$ref": "#/$defs/x"}, "$defs": {"x": {"type": "string"}}}"##, "[\"x\"]", "[1]"),
    ] {
        for (values, fits) in [(good, true), (bad, false)] {
            for value in values.split_whitespace() {
                assert_eq!(faults(&schema(text), &schema(value)).is_empty(), fits, "{value} against {text}");
            }
        }
    }
    assert!(std::panic::catch_unwind(|| faults(&schema(r#"{"pattern": "x"}"#), &Value::Null)).is_err());
}
