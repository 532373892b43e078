"""Reads the JSON of the demo's packet by the PyPI library `jsonschema`: each `X.json` must fit `X.schema.json` beside it, and
that must be a schema of JSON Schema 2020-12."""

import json
import pathlib

import jsonschema

checked = 0
for path in sorted(pathlib.Path("out").rglob("*.schema.json")):
    schema = json.loads(path.read_text())
    document = json.loads(path.with_name(path.name.replace(".schema.json", ".json")).read_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(document)
    checked += 1
assert checked, "there is no schema in out/"
print(f"{checked} documents fit their schemas")
